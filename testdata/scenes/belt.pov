// Drive belt of a ride-on mower on its two pulleys: glazed flanks, cracked across.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, -6>, 32, 1.15, 0.85)
Phone(<-5, 17.5, -15.5>, <0.0, -0.6, -0.4>, 53, <-1, 0.8, -4>)

// V-groove pulley about y, mid-plane of the groove at y = 0. R is the outer radius.
#macro Pulley(R, Bore, Spokes)
  difference {
    union {
      difference {
        lathe { linear_spline 8
          <0.1, -1.25> <R - 0.12, -1.25> <R, -1.1> <R - 2.1, -0.35> <R - 2.1, 0.35> <R, 1.1> <R - 0.12, 1.25> <0.1, 1.25>
        }
        // dished web
        cylinder { y * 0.4, y * 2, R - 2.7 }
        #if (Spokes)
          #local K = 0;
          #while (K < 5) cylinder { <R * 0.52, -3, 0> <R * 0.52, 3, 0> R * 0.17 rotate y * (K * 72 + 20) } #local K = K + 1; #end
        #end
      }
      cylinder { y * -1.15, y * 1.9, Bore * 1.9 }
    }
    cylinder { y * -3, y * 3, Bore * 0.5 }
  }
#end
#declare Pulley_Steel = texture {
  pigment { bozo turbulence 0.6 color_map { [0 srgb <0.42, 0.42, 0.42>] [1 srgb <0.56, 0.56, 0.55>] } scale 4 }
  normal { bumps 0.05 scale 0.6 }
  finish { F_Dull }
}
#declare AX = -8.2; #declare AZ = 1.2; #declare RA = 3.6;   // engine pulley, pitch radius of the belt's outside
#declare BX = 8.4; #declare BZ = 2.2; #declare RB = 6.6;    // gearbox pulley

object { Pulley(RA + 0.1, 1.9, 0) texture { Pulley_Steel } Rust_Spots(0.35, 1.2) Grime(0.7, 3) translate <AX, 0, AZ> }
object { Pulley(RB + 0.1, 2.2, 1) texture { Pulley_Steel } Rust_Spots(0.5, 1.6) Grime(0.8, 4) rotate y * 30 translate <BX, 0, BZ> }
object { Nut(1.6, 0.9) texture { T_GreySteel } Rust_Spots(0.3, 0.7) translate <AX, 1.9, AZ> }
object { Nut(1.9, 1.2) texture { T_GreySteel } Rust_Spots(0.6, 0.7) rotate y * 17 translate <BX, 1.9, BZ> }

// The belt: outside minus inside, with slanting flanks top and bottom.
#declare Top = 0.95; #declare Thick = 1.35;
#declare D = vlength(<BX - AX, 0, BZ - AZ>);
#declare Lean = degrees(atan2(BZ - AZ, BX - AX));
#declare Spread = degrees(asin((RB - RA) / D));
// one straight run in its own frame: along x from 0, outside face at z = 0 looking to -z
#declare Run_Len = sqrt(D * D - pow(RB - RA, 2));
#declare Belt_Glazed = texture {
  pigment { bozo turbulence 0.5 color_map { [0 srgb <0.10, 0.095, 0.09>] [1 srgb <0.19, 0.18, 0.165>] } scale <3, 1, 3> }
  normal { bumps 0.04 scale <1.5, 0.1, 0.3> }
  finish { diffuse 0.55 specular 0.7 roughness 0.012 reflection { 0.02, 0.22 } }
}
#macro Wrap(R)   // ring of belt round a pulley
  lathe { linear_spline 5 <R, -Top> <R, Top> <R - Thick, Top * 0.58> <R - Thick, -Top * 0.58> <R, -Top> }
#end
// front run, nearest the phone, with its cracks
#declare S = seed(5);
difference {
  box { <0, -Top, 0> <Run_Len, Top, Thick> }
  plane { y, 0 rotate x * -18 translate <0, -Top, 0> }
  plane { -y, 0 rotate x * 18 translate <0, Top, 0> }
  #declare K = 0;
  #while (K < 26)
    #declare X = 1 + (Run_Len - 2) * (K + 0.6 * rand(S)) / 26;
    // shallow cracks over the flank that shows, opening inward
    box { <-0.03, 0.1 * rand(S) - 0.2, 0.25 + 0.4 * rand(S)> <0.03, 2, 3> rotate y * (rand(S) - 0.5) * 24 translate x * X }
    #declare K = K + 1;
  #end
  // the deep one, most of the way through
  intersection {
    plane { x, 0.11 rotate z * 12 rotate y * 8 }
    plane { -x, 0.11 rotate z * 6 rotate y * 2 }
    box { <-1, -0.75, -0.5> <1, 2, 3> }
    translate x * Run_Len * 0.50
  }
  intersection {
    plane { x, 0.05 rotate y * -4 }
    plane { -x, 0.05 rotate y * 3 rotate z * 7 }
    box { <-1, -0.4, 0.3> <1, 2, 3> }
    translate x * Run_Len * 0.66
  }
  texture { Belt_Glazed }
  rotate y * Spread
  translate <-RA * sin(radians(Spread)), 0, -RA * cos(radians(Spread))>
  rotate y * -Lean
  translate <AX, 0, AZ>
}
// cords standing in the deep crack
union {
  #declare K = 0;
  #while (K < 7)
    cylinder { <-0.2, -0.55 + K * 0.17, 0.16> <0.25 * rand(S), -0.5 + K * 0.17 + 0.1 * rand(S), 0.1 - 0.25 * rand(S)>, 0.045 }
    #declare K = K + 1;
  #end
  texture { pigment { srgb <0.62, 0.57, 0.46> } finish { F_Matte } }
  translate x * Run_Len * 0.50
  rotate y * Spread
  translate <-RA * sin(radians(Spread)), 0, -RA * cos(radians(Spread))>
  rotate y * -Lean
  translate <AX, 0, AZ>
}
// far run
difference {
  box { <0, -Top, -Thick> <Run_Len, Top, 0> }
  plane { y, 0 rotate x * 18 translate <0, -Top, 0> }
  plane { -y, 0 rotate x * -18 translate <0, Top, 0> }
  texture { Belt_Glazed }
  rotate y * -Spread
  translate <-RA * sin(radians(Spread)), 0, RA * cos(radians(Spread))>
  rotate y * -Lean
  translate <AX, 0, AZ>
}
intersection {
  object { Wrap(RA) }
  union {
    box { <-50, -5, -50> <0, 5, 50> rotate y * Spread translate <-RA * sin(radians(Spread)), 0, 0> }
    box { <-50, -5, -50> <0, 5, 50> rotate y * -Spread translate <-RA * sin(radians(Spread)), 0, 0> }
  }
  texture { Belt_Glazed }
  rotate y * -Lean translate <AX, 0, AZ>
}
intersection {
  object { Wrap(RB) }
  union {
    box { <0, -5, -50> <50, 5, 50> rotate y * Spread translate <-RB * sin(radians(Spread)), 0, 0> }
    box { <0, -5, -50> <50, 5, 50> rotate y * -Spread translate <-RB * sin(radians(Spread)), 0, 0> }
  }
  texture { Belt_Glazed }
  rotate y * -Lean translate <BX, 0, BZ>
}

// frame plate underneath
difference {
  box { <-40, -3.6, -60> <40, -3.0, 60> }
  cylinder { <-1, -5, 7> <-1, 0, 7> 1.5 }
  cylinder { <-3, -5, -8.2> <-3, 0, -8.2> 0.6 }
  T_Paint(srgb <0.34, 0.36, 0.33>, 0.2)
}
object { Hex_Head(1.0) texture { T_GreySteel } Rust_Spots(0.7, 0.6) rotate y * 20 translate <1.5, -3, -9.5> }
object { Hex_Head(1.0) texture { T_GreySteel } Rust_Spots(0.7, 0.6) rotate y * 5 translate <4, -3, 11> }
