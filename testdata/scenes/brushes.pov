// Rotor of a small generator: copper slip rings with the track of the brushes, and the two
// carbon brushes beside it, one worn short.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 26, 0.95, 0.6)
Phone(<2.5, 13.5, -19>, <1.2, 0.6, -1.6>, 45, <1, 2.6, -2.5>)

plane { y, -3.0 T_Plywood(20) }

// rotor along x, windings to the left
union {
  // shaft
  cylinder { x * -25, x * 8.6, 1.0 texture { T_Steel } Rust_Spots(0.15, 1) Grime(0.4, 2) }
  // bearing
  difference { cylinder { x * 8.0, x * 10.0, 2.4 } torus { 1.95, 0.25 rotate z * 90 translate x * 10.0 } texture { T_Steel } Grime(0.4, 2) }
  torus { 1.95, 0.2 rotate z * 90 translate x * 9.95 texture { T_Rubber } }
  cylinder { x * 8.6, x * 11.6, 0.98 texture { T_Turned rotate z * 90 } }
  // phenolic sleeve carrying the rings
  cylinder { x * -1.2, x * 6.9, 2.05
    texture { pigment { bozo turbulence 0.4 color_map { [0 srgb <0.24, 0.12, 0.07>] [1 srgb <0.34, 0.18, 0.10>] } } finish { F_Satin } } }
  #macro Ring(X)
    difference {
      union {
        cylinder { x * X, x * (X + 2.2), 2.55 }
      }
      torus { 2.68, 0.16 rotate z * 90 translate x * X }
      torus { 2.68, 0.16 rotate z * 90 translate x * (X + 2.2) }
      // worn track
      difference {
        cylinder { x * (X + 0.45), x * (X + 1.75), 3 }
        cylinder { x * (X + 0.40), x * (X + 1.80), 2.47 }
      }
      texture { T_Copper }
      texture {
        pigment {
          gradient x turbulence 0.03
          color_map {
            [0.00 srgbt <0.2, 0.1, 0.06, 1>] [0.18 srgbt <0.2, 0.1, 0.06, 0.9>] [0.24 srgbt <0.09, 0.06, 0.05, 0.25>]
            [0.50 srgbt <0.14, 0.08, 0.06, 0.45>] [0.76 srgbt <0.09, 0.06, 0.05, 0.25>] [0.82 srgbt <0.2, 0.1, 0.06, 0.9>] [1 srgbt <0.2, 0.1, 0.06, 1>]
          }
          scale 2.2 translate x * X
        }
        normal { gradient x 0.3 scallop_wave scale 0.09 }
        finish { F_Dull }
      }
    }
  #end
  Ring(0.2)
  Ring(3.7)
  // leads from the winding
  #declare P1 = array[4] { <-3.4, 2.4, -1.6>, <-2.0, 2.6, -1.0>, <-0.8, 2.15, -0.9>, <0.3, 2.1, -1.0> }
  object { Cable(P1, 0.17) texture { pigment { srgb <0.55, 0.12, 0.08> } finish { F_Satin } } }
  #declare P2 = array[4] { <-3.4, 2.2, 1.4>, <-2.0, 2.5, 0.8>, <-0.8, 2.2, 0.5>, <0.3, 2.1, 0.4> }
  object { Cable(P2, 0.17) texture { pigment { srgb <0.80, 0.78, 0.70> } finish { F_Satin } } }
  // fan-side end of the winding: varnished copper turns over the pole
  #declare K = 0;
  #while (K < 2)
    union {
      #declare J = 0;
      #while (J < 7)
        #declare I = 0;
        #while (I < 5)
          object {
            Soft_Ring(4.6 - J * 0.30, 2.3 + I * 0.0, 0.16)
            translate x * (-3.2 - I * 0.30)
          }
          #declare I = I + 1;
        #end
        #declare J = J + 1;
      #end
      rotate x * (K * 180 + 30)
      texture { T_Copper }
      texture { pigment { bozo color_map { [0 srgbt <0.30, 0.12, 0.04, 0.15>] [1 srgbt <0.42, 0.2, 0.07, 0.45>] } scale 1 } finish { F_Satin } }
    }
    #declare K = K + 1;
  #end
  // laminated core
  union {
    #declare K = 0;
    #while (K < 34)
      intersection {
        cylinder { x * (-5.0 - K * 0.5), x * (-5.42 - K * 0.5), 5.6 }
        union {
          box { <-50, -9, -3.0> <0, 9, 3.0> }
          cylinder { x * -50, x * 0, 3.2 }
        }
      }
      #declare K = K + 1;
    #end
    cylinder { x * -25, x * -5, 3.0 }
    rotate x * 30
    texture { T_GreySteel } Rust_Spots(0.6, 1) Grime(0.5, 3)
  }
  translate <0, 0.2, 3.2>
}

// A brush: carbon block with a curved, worn face, spring behind, braided tail and tab.
#macro Brush(L, Seed)
  union {
    difference {
      box { <-0.65, 0, -L> <0.65, 1.1, 0> }
      cylinder { <0, -1, -L - 2.38> <0, 3, -L - 2.38> 2.5 }
      #local S = seed(Seed);
      #local K = 0;
      #while (K < 12)
        sphere { <(rand(S) > 0.5 ? 0.66 : -0.66), rand(S) * 1.1, -L * rand(S)>, 0.06 + 0.06 * rand(S) }
        #local K = K + 1;
      #end
      texture { T_Carbon }
    }
    object { Spring(0.42, 0.055, 2.6, 8) rotate x * 90 translate <0, 0.55, 0.05> texture { T_Steel } }
    #local P = array[6] { <0, 0.6, -0.1>, <0.1, 0.8, 1.0>, <-0.15, 0.5, 2.2>, <0.5, 0.75, 3.4>, <1.2, 0.35, 4.2>, <2.2, 0.15, 4.4> }
    object { Cable(P, 0.15) texture { T_Copper normal { wrinkles 1.2 scale 0.12 } } }
    difference {
      object { Soft_Box(<2.0, 0.02, 4.0> <3.9, 0.16, 4.8>, 0.06) }
      cylinder { <3.3, -1, 4.4> <3.3, 1, 4.4> 0.22 }
      texture { T_Brass }
    }
  }
#end
object { Brush(3.1, 4) rotate y * 14 translate <-1.6, -3.0, -3.6> }
object { Brush(1.05, 9) rotate y * -8 translate <4.1, -3.0, -5.4> }
// carbon dust
#declare S = seed(77);
#declare K = 0;
#while (K < 220)
  sphere { 0, 0.015 + 0.04 * pow(rand(S), 3) translate <4.2 + (rand(S) + rand(S) - 1) * 7, -2.99, -6.5 + (rand(S) + rand(S) - 1) * 4> pigment { srgb 0.06 } }
  #declare K = K + 1;
#end
