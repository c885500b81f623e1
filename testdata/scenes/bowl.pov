// Carburetor float bowl of a generator that stood with fuel in it: varnish, rust, and the
// jet and float that came out of it.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 22, 0.98, 0.58)
Phone(<0.5, 15.5, -12.5>, <0.4, 0.6, -0.1>, 47, <0, 2, -1>)

plane { y, 0 T_Plywood(18) }

#declare Zinc = texture {
  pigment { bozo turbulence 0.7 color_map { [0 srgb <0.50, 0.48, 0.43>] [1 srgb <0.64, 0.62, 0.56>] } scale 1.4 }
  normal { bumps 0.05 scale 0.4 }
  finish { F_Dull }
}
#declare Varnished = texture {
  pigment {
    bozo turbulence 0.9 octaves 6
    color_map { [0 srgb <0.16, 0.08, 0.03>] [0.35 srgb <0.36, 0.20, 0.07>] [0.65 srgb <0.48, 0.30, 0.11>] [1 srgb <0.56, 0.42, 0.22>] }
    scale 1.3
  }
  normal { wrinkles 0.3 scale 0.5 }
  finish { diffuse 0.6 specular 0.7 roughness 0.01 reflection { 0.01, 0.14 } }
}
// the bowl: drawn cup with a rolled rim
union {
  difference {
    lathe { cubic_spline 15
      <0.2, -0.1> <0.6, 0.02> <1.8, 0.05> <3.0, 0.10> <3.55, 0.35> <3.75, 0.9> <3.8, 1.8> <3.82, 2.5> <4.1, 2.62> <4.25, 2.75> <4.1, 2.9> <3.72, 2.82> <3.66, 1.6> <3.6, 0.9> <3.3, 0.4>
    }
    plane { y, -1 }
    texture { Zinc } Grime(0.6, 2) Rust_Spots(0.2, 1)
  }
  // wet-stained inside wall
  difference {
    cylinder { y * 0.3, y * 2.55, 3.67 }
    cylinder { y * 0, y * 3, 3.63 }
    texture {
      pigment {
        gradient y turbulence <0.10, 0.35, 0.10> octaves 4
        color_map { [0 srgb <0.15, 0.07, 0.03>] [0.35 srgb <0.36, 0.19, 0.06>] [0.62 srgb <0.50, 0.32, 0.12>] [0.70 srgb <0.22, 0.12, 0.05>] [0.76 srgb <0.58, 0.52, 0.42>] [1 srgb <0.60, 0.57, 0.50>] }
        scale 2.4 translate y * 0.3
      }
      normal { wrinkles 0.2 scale 0.4 }
      finish { diffuse 0.6 specular 0.5 roughness 0.015 reflection { 0.01, 0.12 } }
    }
  }
  // floor: varnish with a crust of rust
  intersection {
    cylinder { y * 0, y * 0.5, 3.66 }
    plane { y, 0.42 }
    texture { Varnished }
    texture {
      pigment { granite turbulence 0.5 color_map { [0 srgbt <0.35, 0.14, 0.05, 0>] [0.3 srgbt <0.52, 0.24, 0.09, 0.05>] [0.42 srgbt <0.5, 0.25, 0.1, 0.5>] [0.5 srgbt <0.5, 0.25, 0.1, 1>] [1 srgbt <0.5, 0.25, 0.1, 1>] } scale 3.2 }
      normal { granite 0.7 scale 0.8 }
      finish { diffuse 0.75 }
    }
  }
  // boss and hole for the bowl bolt
  difference {
    union { cylinder { y * 0.2, y * 0.75, 1.05 } torus { 0.95, 0.1 translate y * 0.72 } }
    cylinder { y * -1, y * 2, 0.55 }
    texture { Zinc } Rust_Spots(0.7, 0.6)
  }
  cylinder { y * -0.1, y * 0.1, 0.6 pigment { srgb 0.05 } }
  // flakes
  #declare S = seed(21);
  #declare K = 0;
  #while (K < 90)
    #declare A = rand(S) * 360; #declare Q = 1.3 + 2.2 * sqrt(rand(S));
    sphere { 0, 0.06 + 0.14 * pow(rand(S), 2) scale <1.3, 0.45, 0.9> rotate y * rand(S) * 360 translate <Q, 0.44, 0> rotate y * A texture { T_Rust scale 0.3 } }
    #declare K = K + 1;
  #end
  rotate x * -4
  translate <-3.4, 0.1, 1.4>
}
// float: a brass doughnut with a soldered seam, its hinge arm and needle
union {
  torus { 1.9, 0.95 scale <1, 0.82, 1> texture { T_Brass } Grime(0.8, 1.4) }
  torus { 1.9, 0.97 scale <1, 0.12, 1> texture { pigment { srgb <0.46, 0.42, 0.34> } normal { bumps 0.4 scale 0.2 } finish { F_Dull } } }
  box { <-0.5, 0.55, -0.4> <3.6, 0.68, 0.4> translate x * 1.4 texture { T_Brass } }
  difference { cylinder { <4.9, 0.62, -0.75> <4.9, 0.62, 0.75> 0.24 } cylinder { <4.9, 0.62, -1> <4.9, 0.62, 1> 0.1 } texture { T_Brass } }
  box { <4.0, 0.6, -0.16> <5.0, 0.66, 0.16> rotate z * 0 texture { T_Brass } }
  rotate z * -3 rotate y * -38
  translate <5.0, 0.85, 3.2>
}
// needle with a rubber tip
union {
  cylinder { 0, x * 1.5, 0.2 texture { T_Aluminium } }
  cone { x * 1.5, 0.2, x * 2.05, 0.02 texture { pigment { srgb <0.30, 0.10, 0.07> } finish { F_Satin } } }
  rotate y * 25 translate <6.4, 0.2, -2.2>
}
// main jet
union {
  difference {
    union {
      cylinder { 0, x * 0.75, 0.62 }
      cone { x * 0.75, 0.62, x * 0.85, 0.52 }
    }
    box { <-0.1, -0.085, -1> <0.28, 0.085, 1> }
    cylinder { x * -1, x * 4, 0.13 }
  }
  object { Thread(0.9, 1.3) rotate z * -90 translate x * 0.85 }
  cylinder { x * 2.1, x * 4.0, 0.33 }
  difference {
    cylinder { x * 3.9, x * 5.0, 0.26 }
    cylinder { x * 3, x * 6, 0.14 }
  }
  #declare K = 0;
  #while (K < 4)
    cylinder { <2.45 + K * 0.42, 0.30, 0> <2.45 + K * 0.42, 0.345, 0> 0.085 pigment { srgb 0.03 } }
    cylinder { <2.45 + K * 0.42, 0.30, 0> <2.45 + K * 0.42, 0.345, 0> 0.085 rotate x * -70 pigment { srgb 0.03 } }
    #declare K = K + 1;
  #end
  texture { T_Brass } 
  texture { pigment { bozo turbulence 0.6 color_map { [0 srgbt <0.25, 0.13, 0.05, 0.15>] [0.4 srgbt <0.3, 0.16, 0.06, 0.6>] [0.6 srgbt <0.3, 0.16, 0.06, 1>] [1 srgbt <0.3, 0.16, 0.06, 1>] } scale 0.9 } finish { F_Satin } }
  rotate y * -28
  translate <0.3, 0.62, -4.9>
}
// bowl gasket, flattened and dry
torus { 2.6, 0.13 scale <1.08, 0.8, 0.9> texture { T_Rubber } translate <-6.2, 0.1, -5.2> }
// bowl bolt
union {
  object { Hex_Head(1.0) rotate z * 90 }
  object { Thread(0.85, 1.8) rotate z * -90 }
  texture { T_GreySteel } Rust_Spots(0.5, 0.5)
  rotate x * 20 rotate y * 140
  translate <5.6, 0.85, -4.4>
}
