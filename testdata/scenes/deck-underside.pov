// Mower deck on edge, seen from below: two blades on their spindles, dried grass caked on.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 110, 1.15, 0.9)
Phone(<10, 80, -66>, <2, 0, -1.5>, 52, <0, 6, -10>)

plane { y, -14 T_Floor(80) }

// The deck lies on its back: skin at y = 0, skirt standing up to y = 11.
#declare Skin = texture {
  pigment { bozo turbulence 0.6 color_map { [0 srgb <0.30, 0.29, 0.27>] [0.5 srgb <0.40, 0.39, 0.37>] [1 srgb <0.46, 0.40, 0.34>] } scale 12 }
  normal { granite 0.12 scale 6 }
  finish { F_Satin }
}
#macro Deck_Finish()
  texture { Skin }
  Rust_Spots(0.42, 3)
  texture {
    pigment {
      granite turbulence 0.4
      color_map { [0 srgbt <0.17, 0.14, 0.07, 0>] [0.30 srgbt <0.31, 0.27, 0.15, 0.05>] [0.38 srgbt <0.36, 0.31, 0.19, 0.3>] [0.5 srgbt <0.38, 0.33, 0.22, 0.85>] [1 srgbt <0.4, 0.35, 0.24, 0.95>] }
      scale 34
    }
    normal { granite 0.9 scale 4 }
    finish { diffuse 0.8 }
  }
#end
#declare BX = 21; #declare BR = 22.5;   // spindle offset and blade radius
#macro Shell(Grow, Low, High)
  union {
    cylinder { <-BX, Low, 4> <-BX, High, 4> BR + 2.5 + Grow }
    cylinder { <BX, Low, -4> <BX, High, -4> BR + 2.5 + Grow }
    // front and back walls between the two
    prism { linear_sweep linear_spline Low, High, 5
      <-BX, 4 - BR - 2.5 - Grow> <BX, -4 - BR - 2.5 - Grow> <BX, -4 + BR + 2.5 + Grow> <-BX, 4 + BR + 2.5 + Grow> <-BX, 4 - BR - 2.5 - Grow> }
  }
#end
difference {
  object { Shell(0.25, -0.3, 11) T_Paint(srgb <0.42, 0.24, 0.10>, 0.3) }
  object { Shell(-0.05, 0, 30) Deck_Finish() }
  // discharge opening on the right
  box { <BX + 14, 1.5, -22> <80, 30, 12> texture { Skin } }
}
// rolled lip
difference {
  object { Shell(1.3, 10.6, 11.1) }
  object { Shell(0, 5, 30) }
  box { <BX + 14, 1.5, -22> <80, 30, 12> }
  texture { Skin } Rust_Spots(1, 3)
}
// stamped dishes and baffle
#declare K = -1;
#while (K <= 1)
  union {
    cone { 0, 9.5, y * 2.2, 7.5 }
    cylinder { y * 2.2, y * 5.2, 4.2 }
    cone { y * 5.2, 4.2, y * 6.4, 2.6 }
    #declare J = 0;
    #while (J < 4) object { Hex_Head(1.0) translate <5.9, 2.2, 0> rotate y * (J * 90 + 30) } #declare J = J + 1; #end
    Deck_Finish()
    translate <K * BX, 0, K * -4>
  }
  #declare K = K + 2;
#end
difference {
  sphere_sweep { cubic_spline 7 <-36, 0, -30> 0.5 <-26, 0, -21> 0.5 <-12, 0, -16> 0.5 <0, 0, 3> 0.5 <12, 0, 12> 0.5 <26, 0, 17> 0.5 <40, 0, 20> 0.5 scale <1, 9, 1> }
  plane { y, 0 }
  texture { Skin } Rust_Spots(0.8, 4) Grime(0.8, 10)
}

// Blade along x at y = 0: flat middle, ground edges, lifted tails.
#declare Blade = union {
  difference {
    union {
      box { <-BR, 0, -2.6> <BR, 0.5, 2.6> }
    }
    box { <9, -1, 1.2> <BR + 1, 2, 3> }
    box { <-BR - 1, -1, -3> <-9, 2, -1.2> }
    // worn tips
    cylinder { <BR + 1.0, -1, -3.6> <BR + 1.0, 2, -3.6> 2.0 }
    cylinder { <-BR - 1.0, -1, 3.6> <-BR - 1.0, 2, 3.6> 2.0 }
    cylinder { y * -1, y * 2, 0.9 }
  }
  // lift wings bent away (down, toward the skin)
  box { <9, -0.25, 0> <BR, 0.25, 2.6> rotate x * 32 translate <0, 0.22, 1.1> }
  box { <-BR, -0.25, -2.6> <-9, 0.25, 0> rotate x * -32 translate <0, 0.22, -1.1> }
  texture {
    pigment { bozo turbulence 0.6 color_map { [0 srgb <0.40, 0.39, 0.38>] [1 srgb <0.52, 0.51, 0.50>] } scale 5 }
    normal { bumps 0.2 scale 0.5 }
    finish { F_Dull }
  }
  Rust_Spots(0.4, 1.5)
  texture {
    pigment { bozo turbulence 0.7 octaves 5 color_map { [0 srgbt <0.25, 0.24, 0.10, 0.05>] [0.28 srgbt <0.3, 0.28, 0.13, 0.3>] [0.4 srgbt <0.3, 0.28, 0.13, 1>] [1 srgbt <0.3, 0.28, 0.13, 1>] } scale 7 }
    normal { granite 0.6 scale 1 } finish { diffuse 0.8 }
  }
}
// bright nicks of the edge
#declare Edge = union {
  prism { linear_sweep linear_spline 9.5, BR - 1.5, 4 <0, -2.6> <0.5, -2.6> <0.5, -1.5> <0, -2.6> rotate z * -90 scale <1, -1, 1> }
  texture { T_Steel } Rust_Spots(0.3, 1)
}
#macro Blade_At(P, A)
  union {
    object { Blade }
    object { Edge translate y * 0.06 }
    object { Edge translate y * 0.06 rotate y * 180 }
    cylinder { y * 0.5, y * 0.9, 3.0 texture { T_GreySteel } Rust_Spots(0.6, 1) }
    object { Hex_Head(2.0) rotate y * A * 3 translate y * 0.9 texture { T_GreySteel } Rust_Spots(0.7, 1) }
    rotate y * A
    translate P
  }
#end
object { Blade_At(<-BX, 6.4, 4>, 24) }
object { Blade_At(<BX, 6.4, -4>, -58) }

// grass: clumps of clippings against the skirt and over the skin
#declare S = seed(19);
#declare Straw = array[5] {
  srgb <0.42, 0.39, 0.20>, srgb <0.33, 0.34, 0.14>, srgb <0.50, 0.45, 0.27>, srgb <0.26, 0.26, 0.11>, srgb <0.38, 0.31, 0.17>
}
#macro Clipping(P, Lift)
  cone { 0, 0.10, <0, 0, 1.0 + 2.0 * rand(S)>, 0.03
    scale <1.6, 0.6, 1>
    rotate x * -(Lift * (rand(S) - 0.25)) rotate y * rand(S) * 360
    translate P
    pigment { Straw[int(rand(S) * 4.999)] * (0.7 + 0.5 * rand(S)) } finish { F_Matte } }
#end
#declare K = 0;
#while (K < 9000)
  // around each shell, thick toward the skirt
  #declare Side = (mod(K, 2) ? 1 : -1);
  #declare Q = (BR + 2.2) * (1 - 0.5 * pow(rand(S), 1.6));
  #declare A = rand(S) * 360;
  #declare P = vrotate(<Q, 0, 0>, y * A) + <Side * BX, 0, Side * -4>;
  #declare Clump = f_noise3d(P.x * 0.11, P.z * 0.11, 3);
  #declare Far = vlength(P - <-Side * BX, 0, Side * 4>);
  #if (Clump > 0.42 + 0.2 * rand(S) | (rand(S) < 0.12))
    #if ((abs(P.x) > 16) | (Far < BR + 1))
      Clipping(P + y * (0.2 + max(0, (Clump - 0.42)) * 7 * rand(S) + max(0, (Q - BR) * 1.6 * rand(S))), 60)
    #end
  #end
  #declare K = K + 1;
#end
#declare K = 0;
#while (K < 380)
  #declare P = <-75 + 150 * rand(S), -13.9, -75 + 110 * rand(S)>;
  Clipping(P, 8)
  #declare K = K + 1;
#end
// blocks of wood that carry it
box { <-34, -14, -8> <-22, -0.5, 14> T_Plywood(20) }
box { <22, -14, -16> <34, -0.5, 8> T_Plywood(20) }
