// A steel pinion off the reverse shaft: two teeth broken out, on a red shop rag.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 22, 0.95, 0.65)
Phone(<1.5, 15, -14>, <0.2, 1.0, 0.2>, 42, <0, 2, -2.2>)

plane { y, 0 T_Plywood(16) }
object { Rag(26, 22, 2.2, 3.1) T_Cloth(srgb <0.55, 0.20, 0.16>, 20) rotate y * 14 translate <0, 0, 0.5> }

#declare Z = 16;
#declare M = 0.5;
#declare W = 2.6;
#declare Fracture = texture {
  pigment { granite color_map { [0 srgb 0.34] [0.6 srgb 0.52] [1 srgb 0.70] } scale 0.6 }
  normal { granite 0.9 scale 0.25 }
  finish { diffuse 0.7 specular 0.5 roughness 0.02 metallic }
}
#declare Rf = M * Z / 2 - 1.25 * M;
// What is left of a tooth: a stub under two or three slanting, grainy breaks.
#macro Stub(K, Low, Tilt)
  intersection {
    object { Tooth(Z, M, W - 0.02) texture { T_Steel } Grime(0.75, 1.6) }
    union {
      box { <-2, -1, -3> <Low, W * 0.50, 3> rotate z * Tilt rotate y * 14 }
      box { <-2, W * 0.3, -3> <Low * 0.45, W + 1, 3> rotate z * Tilt * 1.8 rotate y * -18 }
      box { <-2, W * 0.2, -3> <Low * 0.8, W * 0.7, 3> rotate z * -Tilt rotate y * 24 rotate x * 8 }
      sphere { <-0.25, W * 0.75, 0.12> Low * 1.1 + 0.1 }
      translate x * Rf
      texture { Fracture }
    }
    rotate y * K * 360 / Z
  }
#end
union {
  difference {
    union {
      object { Gear_Solid(Z, M, W, 2, Z - 1) }
      cylinder { y * W, y * (W + 0.9), 2.1 }
      cone { y * (W + 0.9), 2.1, y * (W + 1.02), 1.96 }
    }
    cylinder { y * -1, y * 5, 1.25 }
    cone { y * (W + 0.90), 1.25, y * (W + 1.04), 1.42 }
    // splines
    #declare K = 0;
    #while (K < 6)
      box { <0, -1, -0.26> <1.55, 5, 0.26> rotate y * K * 60 }
      #declare K = K + 1;
    #end
    texture { T_Steel }
    Grime(0.75, 1.6)
    Rust_Spots(0.25, 0.8)
  }
  object { Stub(0, 0.42, 7) }
  object { Stub(1, 0.24, -6) }
  // the root where the teeth tore out
  rotate y * 78
  rotate x * -6
  translate <0, 1.2, 0>
}
// one of the teeth, broken face up
intersection {
  object { Tooth(Z, M, W * 0.66) translate x * -Rf texture { T_Steel } Grime(0.5, 1) }
  union {
    box { <0.30, -1, -3> <3, 0.9, 3> rotate z * 7 rotate y * 12 }
    box { <0.22, 0.6, -3> <3, 5, 3> rotate z * -8 rotate y * -8 }
    texture { Fracture }
  }
  rotate y * -90 rotate x * -60 rotate y * 35 translate <5.0, 1.35, -3.2>
}
