// Bench lathe: spindle nose with a three-jaw chuck, a dial indicator touching its rim.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 40, 1.1, 0.75)
Phone(<17.5, 12, -35>, <2.6, 1.8, 0>, 37, <3, 4, -6>)

#declare Paint = texture {
  pigment { bozo turbulence 0.5 color_map { [0 srgb <0.27, 0.33, 0.35>] [1 srgb <0.34, 0.40, 0.42>] } scale 9 }
  normal { granite 0.08 scale 2 }
  finish { F_Satin }
}
#declare RC = 7.2;   // chuck radius
// headstock, spindle axis along x at y = 0; chuck faces +x
union {
  object { Soft_Box(<-26, -14, -9>, <-7.5, 9.5, 9>, 1.4) }
  cylinder { x * -9, x * -6.4, 6.2 }
  torus { 6.0, 0.25 rotate z * 90 translate x * -6.4 }
  // oiler boss
  cylinder { <-13, 9, 0> <-13, 10.6, 0> 1.3 }
  texture { Paint } Grime(0.5, 7) Rust_Spots(0.12, 2)
}
union {
  cylinder { <-13, 10.5, 0> <-13, 11.4, 0> 0.8 } sphere { <-13, 11.4, 0> 0.8 }
  texture { T_Brass }
}
// bearing cap bolts
#declare K = 0;
#while (K < 6)
  object { Hex_Head(0.75) rotate z * -90 translate y * 5.0 rotate x * (K * 60 + 30) translate x * -6.4 texture { T_GreySteel } Grime(0.5, 1) }
  #declare K = K + 1;
#end
// spindle nose: collar and thread
cylinder { x * -7, x * -4.6, 3.9 texture { T_Turned rotate z * 90 } }
object { Thread(6.4, 3) rotate z * -90 translate x * -4.9 texture { T_Steel } }
// backplate
cylinder { x * -3.7, x * -2.2, 6.4 texture { T_CastIron } Grime(0.6, 3) }

// chuck body with T-slots for the jaws
#declare Turn = 22;
union {
  difference {
    union {
      cylinder { x * -2.1, x * 3.0, RC }
      cone { x * 3.0, RC, x * 3.3, RC - 0.3 }
      cone { x * -2.1, RC, x * -2.3, RC - 0.2 }
    }
    cylinder { x * -5, x * 6, 1.9 }
    cone { x * 2.9, 1.9, x * 3.35, 2.3 }
    #declare K = 0;
    #while (K < 3)
      union {
        box { <1.9, 0, -0.75> <5, 9, 0.75> }
        box { <1.2, 0, -1.15> <1.9, 9, 1.15> }
        rotate x * K * 120
      }
      // pinion socket between two jaws
      union {
        cylinder { <0.4, 5, 0> <0.4, 9, 0> 0.85 }
        rotate x * (K * 120 + 60)
      }
      #declare K = K + 1;
    #end
    // two grooves turned round the body
    torus { RC + 0.05, 0.13 rotate z * 90 translate x * -1.0 }
    torus { RC + 0.05, 0.13 rotate z * 90 translate x * 2.1 }
    texture {
      pigment { bozo turbulence 0.4 color_map { [0 srgb <0.52, 0.52, 0.52>] [1 srgb <0.62, 0.62, 0.61>] } scale 4 }
      normal { wood 0.10 scallop_wave rotate y * 90 scale 0.12 }
      finish { diffuse 0.55 specular 0.35 roughness 0.04 metallic reflection { 0.05, 0.16 metallic } }
    }
    Grime(0.45, 3)
  }
  #declare K = 0;
  #while (K < 3)
    // socket with a square hole
    difference {
      cylinder { <0.4, 5.4, 0> <0.4, RC - 0.25, 0> 0.84 }
      box { <0.4 - 0.42, 5.6, -0.42> <0.4 + 0.42, 9, 0.42> }
      texture { T_GreySteel }
      rotate x * (K * 120 + 60)
    }
    // stepped jaw
    difference {
      union {
        box { <1.95, 1.15, -0.72> <4.4, 6.9, 0.72> }
        box { <4.3, 1.15, -0.72> <5.5, 5.1, 0.72> }
        box { <5.4, 1.15, -0.72> <6.6, 3.2, 0.72> }
      }
      plane { y, 0 rotate x * 30 translate <0, 1.05, -0.25> }
      plane { y, 0 rotate x * -30 translate <0, 1.05, 0.25> }
      // gripping ridges
      torus { 1.2, 0.08 rotate z * 90 translate x * 5.9 }
      texture { T_Steel } Grime(0.4, 2)
      rotate x * K * 120
    }
    #declare K = K + 1;
  #end
  // test bar held in the jaws
  cylinder { x * 0, x * 13, 1.17 texture { T_Polished rotate z * 90 } }
  cone { x * 13, 1.17, x * 13.25, 0.95 texture { T_Polished } }
  rotate x * Turn
}

// dial indicator, its plunger on the test bar from above and in front
#declare DC = <9.6, 7.0, -4.6>;    // centre of the dial
#declare Tip = <9.6, 0.93, -0.75>; // where the point touches
union {
  // case; face looks to -z in its own frame, stem goes down
  difference {
    cylinder { z * -0.9, z * 1.1, 2.75 }
    cylinder { z * -2, z * -0.55, 2.45 }
    texture { T_Polished }
  }
  torus { 2.62, 0.18 rotate x * 90 translate z * -0.9 texture { T_Steel } }
  // knurled edge of the bezel
  #declare K = 0;
  #while (K < 72)
    cylinder { <2.78, 0, -0.9> <2.78, 0, -0.45> 0.07 rotate z * K * 5 texture { T_Steel } }
    #declare K = K + 1;
  #end
  cylinder { z * -0.58, z * -0.5, 2.46 texture { pigment { srgb <0.88, 0.87, 0.82> } finish { F_Matte } } }
  #declare K = 0;
  #while (K < 100)
    #declare L = 0.22 + 0.13 * (mod(K, 5) = 0) + 0.12 * (mod(K, 10) = 0);
    box { <-0.014, 2.32 - L, -0.6> <0.014, 2.32, -0.57> rotate z * K * 3.6 pigment { srgb 0.05 } }
    #declare K = K + 1;
  #end
  #declare K = 0;
  #while (K < 10)
    #declare Txt = text { internal 2 str(K * 10, 0, 0) 0.03, 0 scale 0.4 }
    #declare Mid = (min_extent(Txt) + max_extent(Txt)) / 2;
    object { Txt translate -Mid translate <1.55 * sin(radians(K * 36)), 1.55 * cos(radians(K * 36)), -0.585> pigment { srgb 0.05 } }
    #declare K = K + 1;
  #end
  // small turns counter
  difference { cylinder { z * -0.6, z * -0.57, 0.5 } cylinder { z * -0.7, z * -0.5, 0.46 } translate <0, -0.75, 0> pigment { srgb 0.05 } }
  box { <-0.025, 0, -0.63> <0.025, 0.4, -0.61> rotate z * -70 translate <0, -0.75, 0> pigment { srgb 0.05 } }
  // needle
  union {
    cone { <0, 2.2, -0.68>, 0.012, <0, -0.3, -0.68>, 0.06 }
    cone { <0, -0.3, -0.68>, 0.06, <0, -0.75, -0.68>, 0.13 }
    rotate z * -47
    pigment { srgb 0.04 }
  }
  cylinder { z * -0.75, z * -0.6, 0.17 texture { T_Brass } }
  // glass
  cylinder { z * -0.86, z * -0.84, 2.46 pigment { srgbt <1, 1, 1, 0.97> } finish { diffuse 0 specular 0.4 roughness 0.004 reflection { 0.015, 0.08 } } no_shadow }
  // stem, plunger, point
  cylinder { <0, -2.5, 0.2> <0, -4.3, 0.2> 0.45 texture { T_Polished } }
  cylinder { <0, -4.2, 0.2> <0, -6.3, 0.2> 0.24 texture { T_Polished } }
  union { cylinder { <0, -6.1, 0.2> <0, -6.9, 0.2> 0.33 } sphere { <0, -6.95, 0.2> 0.22 } texture { T_Steel } }
  cylinder { <0, 2.6, 0.2> <0, 3.3, 0.2> 0.35 texture { T_Polished } } sphere { <0, 3.5, 0.2> 0.42 texture { T_Polished } }
  // lug on the back
  box { <-0.3, -0.8, 1.0> <0.3, 0.8, 2.2> texture { T_GreySteel } }
  translate <0, 7.1, -0.2>   // point at the origin
  rotate x * 18
  rotate y * -10
  translate <9.6, 1.10, -0.36>
}
// rod and magnetic stand behind
#declare Lug = vrotate(vrotate(<0, 7.1, 1.7>, x * 18), y * -10) + <9.6, 1.10, -0.36>;
union {
  object { Bar(Lug + <-1, 0, 0>, Lug + <7.5, 1.6, 1>, 0.42) }
  object { Bar(<15.5, -10.5, 4>, <15.5, 13, 4>, 0.6) }
  texture { T_Polished rotate z * 90 }
}
union {
  object { Soft_Box(<14.3, 8.0, 2.6>, <16.7, 9.8, 5.2>, 0.25) }
  cylinder { <15.5, 8.9, 1.4> <15.5, 8.9, 3> 1.0 }
  cylinder { Lug + <-0.9, 0, 0.2>, Lug + <0.9, 0.2, 0.2>, 0.8 }
  texture { T_BlackPlastic }
}
object { Soft_Box(<12.8, -13.5, 0.8>, <18.4, -9.2, 7.2>, 0.3) texture { T_GreySteel } Grime(0.3, 3) }

// bed: two ways, swarf and oil
difference {
  box { <-30, -30, -8> <60, -13.6, 8> }
  box { <-7, -31, -3.4> <70, -10, 3.4> }
  texture { T_GreySteel } Grime(0.7, 8)
}
intersection { // inverted V on the front way
  box { <-7.5, -14, -8> <60, -12, -4> }
  plane { y, 0 rotate x * -45 translate <0, -12.3, -6> }
  plane { y, 0 rotate x * 45 translate <0, -12.3, -6> }
  texture { T_Steel } Grime(0.4, 5)
}
#declare S = seed(3);
#declare K = 0;
#while (K < 120)
  torus { 0.15 + 0.35 * rand(S), 0.035 rotate <rand(S) * 360, rand(S) * 360, 0> scale <1, 0.6, 1>
    translate <-6 + 26 * rand(S) * rand(S), -13.4, -7.6 + 15 * rand(S)> texture { T_Steel } }
  #declare K = K + 1;
#end
plane { -z, -60 texture { pigment { bozo turbulence 0.3 color_map { [0 srgb <0.26, 0.25, 0.23>] [1 srgb <0.38, 0.36, 0.33>] } scale 30 } finish { F_Matte } } }
plane { y, -34 T_Floor(50) }
