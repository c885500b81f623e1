// Piston and connecting rod out of a ride-on mower's engine: skirt scored, on a grey cloth.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 32, 1.0, 0.65)
Phone(<5, 22, -24>, <2.2, 1.6, 0.2>, 44, <-1, 5, -3>)

plane { y, -0.2 T_Plywood(24) }
object { Rag(46, 34, 2.0, 8.4) T_Cloth(srgb <0.50, 0.50, 0.48>, 34) rotate y * -9 translate <1, -0.2, 0> }

#declare R = 4.1;
#declare Alloy = texture {
  pigment { bozo turbulence 0.5 color_map { [0 srgb <0.56, 0.55, 0.53>] [1 srgb <0.68, 0.67, 0.65>] } scale 2 }
  normal { gradient y 0.05 scallop_wave scale 0.09 }
  finish { F_Dull }
}
// piston about y, crown up; skirt bottom at 0, wrist pin along z at y = 3.3
#declare Piston = union {
  difference {
    union {
      cylinder { 0, y * 7.6, R }
      cone { y * 7.6, R, y * 7.75, R - 0.15 }
    }
    // inside
    cylinder { y * -1, y * 6.6, R - 0.5 }
    // ring grooves
    #declare K = 0;
    #while (K < 3)
      difference { cylinder { y * (5.0 + K * 0.78), y * (5.34 + K * 0.78), R + 1 } cylinder { y * 4, y * 8, R - 0.42 } }
      #declare K = K + 1;
    #end
    // skirt cut-aways at the pin ends
    cylinder { <0, -0.6, -9> <0, -0.6, 9> 2.0 }
    // pin hole
    cylinder { <0, 3.3, -9> <0, 3.3, 9> 1.0 }
    texture { Alloy }
    // soot on the crown and top land
    texture {
      pigment { gradient y turbulence 0.12 color_map { [0 srgbt 1] [0.78 srgbt <0.3, 0.2, 0.12, 1>] [0.86 srgbt <0.20, 0.14, 0.09, 0.45>] [0.96 srgbt <0.10, 0.08, 0.06, 0.12>] [1 srgbt <0.10, 0.08, 0.06, 0.1>] } scale 7.9 }
      normal { granite 0.2 scale 0.6 }
      finish { diffuse 0.65 specular 0.1 roughness 0.05 }
    }
  }
  // pin bosses and pin
  difference {
    union { cylinder { <0, 3.3, -3.6> <0, 3.3, -1.5> 1.5 } cylinder { <0, 3.3, 1.5> <0, 3.3, 3.6> 1.5 } }
    cylinder { <0, 3.3, -9> <0, 3.3, 9> 1.0 }
    texture { Alloy }
  }
  difference {
    cylinder { <0, 3.3, -3.55> <0, 3.3, 3.55> 1.0 }
    cylinder { <0, 3.3, -9> <0, 3.3, 9> 0.6 }
    texture { T_Polished }
  }
  torus { 0.93, 0.06 rotate x * 90 translate <0, 3.3, -3.62> texture { T_Steel } }
  // two rings left in their grooves, the third is out
  #declare K = 0;
  #while (K < 2)
    difference {
      cylinder { y * (5.06 + K * 0.78), y * (5.29 + K * 0.78), R + 0.03 }
      cylinder { y * 4, y * 8, R - 0.35 }
      box { <-0.14, 4, -9> <0.14, 9, 0> rotate y * (K * 140 - 35) }
      texture { pigment { srgb <0.25, 0.24, 0.23> } finish { F_Bare } }
    }
    #declare K = K + 1;
  #end
}
// scores down the skirt: bright and dark streaks on the side toward the phone
#declare S = seed(42);
#declare Scores = union {
  #declare K = 0;
  #while (K < 64)
    #declare A = (rand(S) + rand(S) + rand(S) - 1.5) * 42;
    #declare Y0 = 0.15 + 0.9 * rand(S);
    #declare Y1 = Y0 + 1.4 + 2.6 * rand(S);
    cone { <0, Y0, -R - 0.004>, 0.02 + 0.04 * rand(S), <0.05 * (rand(S) - 0.5), min(Y1, 4.85), -R - 0.004>, 0.012
      rotate y * A
      texture {
        #if (mod(K, 3)) pigment { srgb <0.10, 0.09, 0.08> } finish { F_Matte }
        #else pigment { srgb <0.80, 0.80, 0.79> } finish { F_Bare } #end
      } }
    #declare K = K + 1;
  #end
}
#declare Gouges = union {
  #declare K = 0;
  #while (K < 9)
    cylinder { <0, -0.5, -R - 0.06> <0, 4.0 + 0.8 * sin(K * 3), -R - 0.06> 0.13 + 0.05 * sin(K * 5) rotate y * ((K - 4) * 5.5 + 2 * sin(K * 7)) }
    #declare K = K + 1;
  #end
}
#declare Rod_Len = 13.2;
// rod along -y from the pin at the origin; I-beam, big end split with cap and two bolts
#declare Rod = union {
  difference {
    union {
      cylinder { z * -1.15, z * 1.15, 1.65 }
      prism { linear_sweep linear_spline -0.85, 0.85, 5 <-1.15, -1> <1.15, -1> <1.7, -Rod_Len + 2.5> <-1.7, -Rod_Len + 2.5> <-1.15, -1> rotate x * -90 }
      cylinder { <0, -Rod_Len, -1.2> <0, -Rod_Len, 1.2> 3.0 }
      object { Soft_Box(<-3.9, -Rod_Len - 1.5, -0.9>, <3.9, -Rod_Len + 1.5, 0.9>, 0.25) }
    }
    prism { linear_sweep linear_spline -3, -0.3, 5 <-0.62, -2.3> <0.62, -2.3> <1.1, -Rod_Len + 3.6> <-1.1, -Rod_Len + 3.6> <-0.62, -2.3> rotate x * -90 }
    prism { linear_sweep linear_spline 0.3, 3, 5 <-0.62, -2.3> <0.62, -2.3> <1.1, -Rod_Len + 3.6> <-1.1, -Rod_Len + 3.6> <-0.62, -2.3> rotate x * -90 }
    cylinder { z * -3, z * 3, 1.0 }
    cylinder { <0, -Rod_Len, -3> <0, -Rod_Len, 3> 2.15 }
    // parting line of the cap
    box { <-5, -Rod_Len - 0.03, -3> <5, -Rod_Len + 0.03, 3> }
    texture { T_Aluminium } Grime(0.55, 3)
  }
  // bearing surface: smeared
  difference {
    cylinder { <0, -Rod_Len, -1.15> <0, -Rod_Len, 1.15> 2.2 }
    cylinder { <0, -Rod_Len, -3> <0, -Rod_Len, 3> 2.1 }
    texture { T_Steel } Grime(0.8, 1)
  }
  object { Hex_Head(0.85) rotate x * 180 translate <-3.1, -Rod_Len - 1.5, 0> texture { T_GreySteel } }
  object { Hex_Head(0.85) rotate x * 180 translate <3.1, -Rod_Len - 1.5, 0> texture { T_GreySteel } }
}
// the piston lies on its side, crown to the left and back; the rod to the right
union {
  difference { object { Piston } object { Gouges rotate y * -90 texture { pigment { srgb <0.42, 0.41, 0.40> } normal { wrinkles 0.5 scale <0.05, 1, 0.05> } finish { F_Bare } } } }
  object { Scores rotate y * -90 }
  object { Rod rotate z * -3 translate <0, 3.3, 0> }
  rotate z * 90          // crown to -x, scored side up
  rotate x * -12         // and a little toward the phone
  rotate y * 20
  translate <-1.6, 4.4, 1.6>
}
// the ring that came out
difference {
  cylinder { y * -0.13, y * 0.13, 4.2 }
  cylinder { y * -1, y * 1, 3.82 }
  box { <-0.35, -1, -9> <0.35, 1, 0> rotate y * -50 }
  texture { pigment { srgb <0.28, 0.27, 0.26> } finish { F_Bare } }
  rotate <2, 0, -1> translate <-3.2, 1.0, -7.0>
}
