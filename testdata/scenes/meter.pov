// Hour meter in the dash of a ride-on mower: a new one, standing at zero.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 18, 1.0, 0.75)
Phone(<2.2, 3.2, -16>, <0.9, -0.15, 0>, 42, <0, 0, -0.4>)

// dash: a plastic panel facing -z, leaning back
#declare Dash = texture {
  pigment { bozo turbulence 0.4 color_map { [0 srgb <0.13, 0.13, 0.13>] [1 srgb <0.17, 0.17, 0.165>] } scale 5 }
  normal { bumps 0.35 scale 0.12 }
  finish { diffuse 0.7 specular 0.12 roughness 0.07 }
}
#macro Dust()
  texture {
    pigment { wrinkles turbulence 0.5 color_map { [0 srgbt <0.55, 0.50, 0.42, 0.45>] [0.35 srgbt <0.5, 0.45, 0.38, 0.85>] [0.6 srgbt <0.5, 0.45, 0.38, 1>] [1 srgbt <0.5, 0.45, 0.38, 0.9>] } scale 3.5 }
    finish { diffuse 0.7 }
  }
#end
union {
  difference {
    object { Soft_Box(<-14, -9, 0>, <17, 9, 4>, 1.0) }
    cylinder { <0, 0, -1> <0, 0, 2> 3.3 }
    // empty hole of a lamp that is gone
    cylinder { <-6.6, 3.2, -1> <-6.6, 3.2, 6> 0.55 }
    texture { Dash } Dust()
  }
  // key switch
  union {
    torus { 1.55, 0.16 rotate x * 90 }
    difference { cylinder { z * -0.2, z * 0.4, 1.5 } box { <-0.18, -0.75, -1> <0.18, 0.75, 0> } cylinder { z * -0.3, z * -0.12, 0.95 } }
    texture { T_Steel } Grime(0.6, 1)
    translate <7.6, -1.2, -0.05>
  }
  // tick marks round the key
  #declare K = 0;
  #while (K < 3)
    box { <-0.06, 2.0, -0.03> <0.06, 2.55, 0.1> rotate z * (50 - K * 50) translate <7.6, -1.2, 0> pigment { srgb 0.75 } }
    #declare K = K + 1;
  #end
  // panel screws
  #macro Screw(P, A)
    difference {
      sphere { 0, 0.55 scale <1, 1, 0.5> }
      box { <-0.08, -0.4, -1> <0.08, 0.4, -0.14> }
      box { <-0.4, -0.08, -1> <0.4, 0.08, -0.14> }
      texture { T_Steel } Rust_Spots(0.4, 0.4)
      rotate z * A translate P
    }
  #end
  Screw(<-9.5, 6.2, 0>, 20) Screw(<-9.5, -6.2, 0>, 50) Screw(<12.6, 6.2, 0>, 5)

  // the meter
  // bezel
  lathe { cubic_spline 9
    <3.0, 0.2> <3.02, -0.25> <3.1, -0.42> <3.3, -0.5> <3.55, -0.42> <3.66, -0.2> <3.68, 0.0> <3.6, 0.2> <3.5, 0.3>
    rotate x * 90
    texture { T_Polished }
  }
  // face
  difference {
    cylinder { z * 0.25, z * 0.6, 3.1 }
    box { <-2.15, -0.42, -1> <2.05, 0.62, 2> }
    texture { pigment { srgb <0.055, 0.055, 0.06> } finish { diffuse 0.8 specular 0.05 roughness 0.1 } }
  }
  // minute ring
  #declare K = 0;
  #while (K < 60)
    box { <-0.022, 2.35 + 0.2 * min(1, mod(K, 5)), 0.235> <0.022, 2.8, 0.3> rotate z * K * 6 pigment { srgb 0.82 } }
    #declare K = K + 1;
  #end
  text { internal 2 "HOURS" 0.05, 0 pigment { srgb 0.86 } scale 0.62 translate <-1.0, 1.1, 0.24> }
  text { internal 2 "1/10" 0.05, 0 pigment { srgb <0.86, 0.86, 0.86> } scale 0.36 translate <1.2, -0.85, 0.24> }
  // little running wheel
  difference { cylinder { z * 0.24, z * 0.3, 0.55 } cylinder { z * 0.2, z * 0.4, 0.46 } pigment { srgb 0.82 } translate <0, -1.45, 0> }
  #declare K = 0;
  #while (K < 4) box { <-0.05, 0, 0.24> <0.05, 0.5, 0.3> rotate z * (K * 90 + 22) translate <0, -1.45, 0> pigment { srgb <0.8, 0.3, 0.12> } } #declare K = K + 1; #end
  // drums
  #declare Digits = array[5] { "0", "0", "0", "0", "0" }
  #declare K = 0;
  #while (K < 5)
    #declare Last = (K = 4);
    #declare CX = -1.68 + K * 0.815;
    union {
      cylinder { <-0.365, 0, 0> <0.365, 0, 0> 1.1 translate z * 1.5
        pigment { #if (Last) srgb <0.86, 0.84, 0.78> #else srgb <0.075, 0.075, 0.08> #end }
        finish { diffuse 0.75 specular 0.1 roughness 0.05 }
      }
      text { internal 1 Digits[K] 0.12, 0
        pigment { #if (Last) srgb <0.62, 0.10, 0.08> #else srgb 0.92 #end }
        finish { diffuse 0.85 }
        scale <1.18, 1.02, 1> translate <-0.29, -0.31 - 0.07 * Last, 0.37>
      }
      translate <CX, 0.10, 0>
    }
    #declare K = K + 1;
  #end
  // pointed mark between whole hours and tenths
  sphere { <1.16, -0.25, 0.28>, 0.075 pigment { srgb 0.9 } }
  box { <-2.2, -0.6, 2> <2.2, 0.8, 2.1> pigment { srgb 0.02 } }
  // glass
  intersection {
    sphere { z * 9.4, 9.75 }
    cylinder { z * -1, z * 0.3, 3.05 }
    pigment { srgbt <1, 1, 1, 0.97> }
    finish { diffuse 0.02 specular 0.5 roughness 0.003 reflection { 0.02, 0.14 } }
    no_shadow
  }
  rotate x * 14
}
// steering column shroud and the yard behind
cylinder { <-16, -20, 6> <-16, 20, 12> 7 texture { Dash } Dust() }
plane { -z, -50 texture { pigment { bozo turbulence 0.4 color_map { [0 srgb <0.20, 0.22, 0.17>] [1 srgb <0.42, 0.42, 0.36>] } scale 12 } finish { F_Matte } } }
