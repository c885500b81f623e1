// Seat switch connector of a ride-on mower as found: the plug is off and a bent bare copper
// wire is pushed across its two terminals, so the engine would run with nobody in the seat.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 18, 0.95, 0.85)
Phone(<3.5, 9.5, -11.5>, <0.2, 0.5, -0.2>, 44, <0, 1.2, -1.6>)

// seat pan: painted sheet with ribs and rust
union {
  plane { y, -0.6 }
  #declare K = 0;
  #while (K < 3)
    sphere_sweep { linear_spline 2 <-12, -0.75, 3.4 + K * 3.2> 0.55 <12, -0.75, 3.4 + K * 3.2> 0.55 }
    #declare K = K + 1;
  #end
  T_Paint(srgb <0.16, 0.17, 0.165>, 0.5)
}
// the connector body, terminals toward the phone (-z)
#declare Nylon = texture {
  pigment { bozo turbulence 0.4 color_map { [0 srgb <0.70, 0.68, 0.60>] [1 srgb <0.80, 0.78, 0.71>] } scale 2 }
  normal { bumps 0.05 scale 0.2 }
  finish { diffuse 0.75 specular 0.25 roughness 0.03 }
}
union {
  difference {
    union {
      object { Soft_Box(<-2.3, 0, -1.6>, <2.3, 1.9, 2.4>, 0.16) }
      // latch and polarizing rib
      object { Soft_Box(<-0.8, 1.8, -1.2>, <0.8, 2.25, 0.6>, 0.1) }
      object { Soft_Box(<-0.55, 1.8, -0.2>, <0.55, 2.5, 0.1>, 0.08) }
      object { Soft_Box(<-2.5, 0.5, -1.0>, <2.5, 1.3, 2.0>, 0.1) }
    }
    box { <-1.95, 0.42, -3> <-0.35, 1.5, 1.2> }
    box { <0.35, 0.42, -3> <1.95, 1.5, 1.2> }
    texture { Nylon } Grime(0.55, 1.5)
  }
  box { <-1.95, 0.42, 0.9> <1.95, 1.5, 1.3> pigment { srgb 0.05 } }
  // blade terminals, tin over brass
  #declare K = -1;
  #while (K <= 1)
    union {
      box { <-0.55, 0.82, -2.3> <0.55, 0.98, 1.2> }
      intersection { box { <-0.55, 0.82, -2.7> <0.55, 0.98, -2.3> } cylinder { <0, 0, -2.15> <0, 2, -2.15> 0.62 } }
      translate x * K * 1.15
      texture { T_Brass } Grime(0.5, 0.8)
    }
    #declare K = K + 2;
  #end
  // the jumper: bent copper wire from one cavity to the other
  #declare J = array[13] {
    <-1.15, 1.14, 0.6>, <-1.15, 1.14, -0.6>, <-1.14, 1.13, -1.8>, <-1.18, 1.2, -2.9>, <-1.15, 1.62, -3.65>,
    <-0.70, 2.2, -4.05>, <0.05, 2.42, -4.2>, <0.75, 2.10, -4.0>, <1.12, 1.55, -3.55>, <1.22, 1.18, -2.8>, <1.12, 1.13, -1.8>, <1.15, 1.14, -0.6>, <1.15, 1.14, 0.6>
  }
  object { Cable(J, 0.145) texture { T_Copper } Grime(0.25, 0.7) }
  // wires out of the back
  #declare W1 = array[6] { <-1.1, 1.0, 2.0>, <-1.2, 1.0, 3.4>, <-1.9, 0.8, 5.2>, <-3.6, 0.5, 7.0>, <-6.0, 0.5, 8.2>, <-11, 0.4, 9.0> }
  #declare W2 = array[6] { <1.1, 1.0, 2.0>, <1.15, 1.05, 3.4>, <0.5, 1.1, 5.0>, <-1.4, 0.9, 7.2>, <-5.0, 0.7, 9.2>, <-11, 0.6, 9.9> }
  object { Cable(W1, 0.34) texture { pigment { srgb <0.60, 0.52, 0.16> } finish { F_Satin } } Grime(0.7, 2) }
  object { Cable(W2, 0.34) texture { pigment { srgb 0.13 } finish { F_Satin } } Grime(0.5, 2) }
  union {
    cylinder { <-1.1, 1.0, 2.2> <-1.1, 1.0, 2.9> 0.5 } cylinder { <1.1, 1.0, 2.2> <1.1, 1.0, 2.9> 0.5 }
    texture { Nylon } Grime(0.6, 1)
  }
  rotate y * -24
  translate <-0.2, -0.5, 0.3>
}
// the seat spring beside it
object { Spring(1.7, 0.28, 5.2, 5) texture { T_GreySteel } Rust_Spots(0.55, 0.8) Grime(0.4, 2) translate <6.0, -0.6, 3.2> }
cylinder { <6, -0.6, 3.2> <6, -0.2, 3.2> 2.2 texture { T_GreySteel } Rust_Spots(0.7, 1) }
// a bolt and the slot where the switch sat
difference {
  cylinder { <-6.4, -0.62, -0.5> <-6.4, -0.35, -0.5> 2.3 }
  cylinder { <-6.4, -2, -0.5> <-6.4, 2, -0.5> 1.3 }
  texture { T_GreySteel } Rust_Spots(0.6, 0.8)
}
cylinder { <-6.4, -0.62, -0.5> <-6.4, -0.55, -0.5> 1.31 pigment { srgb 0.02 } }
object { Hex_Head(0.9) texture { T_GreySteel } Rust_Spots(0.6, 0.6) rotate y * 10 translate <5.4, -0.6, -3.6> }
// chaff and grit
#declare S = seed(8);
#declare K = 0;
#while (K < 260)
  cylinder { <-0.25 * rand(S), 0, 0> <0.3 * rand(S), 0.03, 0> 0.02 + 0.02 * rand(S)
    rotate y * rand(S) * 360 translate <-10 + 20 * rand(S), -0.57, -5 + 16 * rand(S)>
    pigment { srgb <0.50, 0.44, 0.26> * (0.5 + 0.6 * rand(S)) } finish { F_Matte } }
  #declare K = K + 1;
#end
