// Outlet panel of a small generator: round receptacles, a push-to-reset breaker, a voltmeter
// and a ground stud. No lettering.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 34, 1.05, 0.8)
Phone(<6, 6, -30>, <0.2, -0.2, 0>, 51, <0, 0, -0.5>)

#declare Face = texture {
  pigment { bozo turbulence 0.3 color_map { [0 srgb <0.27, 0.28, 0.29>] [1 srgb <0.33, 0.34, 0.34>] } scale 7 }
  normal { bumps 0.12 scale 0.12 }
  finish { F_Satin }
}
#declare Shell = texture {
  pigment { srgb <0.20, 0.19, 0.18> }
  normal { bumps 0.04 scale 0.3 }
  finish { diffuse 0.7 specular 0.3 roughness 0.03 reflection { 0.01, 0.08 } }
}
#declare Ivory = texture {
  pigment { srgb <0.70, 0.66, 0.55> }
  normal { bumps 0.04 scale 0.3 }
  finish { diffuse 0.7 specular 0.3 roughness 0.03 }
}
#macro Dusty(S)
  texture {
    pigment { bozo turbulence 0.8 octaves 6 color_map { [0 srgbt <0.60, 0.54, 0.45, 0.70>] [0.35 srgbt <0.55, 0.5, 0.42, 0.92>] [0.6 srgbt <0.5, 0.45, 0.38, 1>] [1 srgbt <0.5, 0.45, 0.38, 0.94>] } scale S }
    finish { diffuse 0.7 }
  }
#end
#macro Slot_Cut(X, Y, W, H, A)
  box { <-W / 2, -H / 2, -2> <W / 2, H / 2, 0.8> rotate z * A translate <X, Y, 0> }
#end
// Straight-blade round face: two slots and a U-shaped ground hole.
#macro Receptacle(X, Y)
  difference {
    union {
      cylinder { z * -0.35, z * 0.4, 1.72 }
      torus { 1.66, 0.10 rotate x * 90 translate z * -0.33 }
    }
    Slot_Cut(-0.63, 0.42, 0.20, 0.86, 0)
    Slot_Cut(0.63, 0.42, 0.20, 0.70, 0)
    cylinder { <0, -0.75, -2> <0, -0.75, 0.8> 0.28 }
    box { <-0.28, -1.0, -2> <0.28, -0.75, 0.8> }
    texture { Ivory } Dusty(3)
    translate <X, Y, 0>
  }
#end
// Twist-lock round face: three curved slots on a circle.
#macro Twist(X, Y, R)
  union {
    difference {
      cylinder { z * -0.5, z * 0.4, R }
      torus { R * 0.90, R * 0.05 rotate x * 90 translate z * -0.5 }
      #local K = 0;
      #while (K < 3)
        intersection {
          difference { cylinder { z * -2, z * 0.8, R * 0.62 } cylinder { z * -3, z * 1, R * 0.50 } }
          box { <-R * 0.34, 0, -3> <R * 0.34, R, 3> }
          rotate z * K * 120
        }
        #local K = K + 1;
      #end
      // one slot has the key at its end
      box { <R * 0.26, R * 0.40, -2> <R * 0.40, R * 0.52, 0.8> }
      texture { Shell } Dusty(3)
    }
    difference {
      cylinder { z * -0.2, z * 0.3, R * 1.2 }
      cylinder { z * -1, z * 1, R * 1.001 }
      texture { T_Steel } Grime(0.5, 2)
    }
    translate <X, Y, 0>
  }
#end
#macro Small_Screw(X, Y, A)
  difference {
    sphere { 0, 0.42 scale <1, 1, 0.55> }
    box { <-0.055, -1, -1> <0.055, 1, -0.13> }
    texture { T_Steel } Rust_Spots(0.35, 0.4)
    rotate z * A translate <X, Y, 0>
  }
#end

// sheet-metal panel with a lip, cut-outs for the parts
union {
  object { Soft_Box(<-13, -9, 0>, <13, 9, 3>, 0.5) texture { Face } Rust_Spots(0.12, 1.2) Dusty(6) }
  // duplex pair in its plate
  object { Soft_Box(<-10.2, -7.2, -0.22>, <-5.4, 3.6, 0.3>, 0.18) texture { T_Aluminium } Grime(0.5, 3) }
  Receptacle(-7.8, 0.75)
  Receptacle(-7.8, -4.35)
  Small_Screw(-7.8, -1.8, 70)
  // twist-lock
  Twist(0.4, -2.8, 2.5)
  Small_Screw(-2.6, -6.4, 20) Small_Screw(3.4, -6.4, 80) Small_Screw(-2.6, 0.8, 45) Small_Screw(3.4, 0.8, 10)
  // breaker: threaded collar, nut and a white button standing out
  union {
    object { Hex_Prism(1.15, 0.45) rotate x * -90 translate z * 0.0 texture { T_Steel } Grime(0.4, 1) }
    object { Thread(1.6, 1.0) rotate x * -90 texture { T_GreySteel } }
    cylinder { z * -1.9, z * 0, 0.5 texture { Shell } }
    difference { cylinder { z * -1.95, z * -1.2, 0.52 } torus { 0.52, 0.06 rotate x * 90 translate z * -1.95 } texture { pigment { srgb <0.80, 0.78, 0.70> } finish { F_Satin } } Dusty(1) }
    translate <8.3, -1.2, 0>
  }
  // ground stud with a wing nut
  union {
    object { Thread(0.7, 2.2) rotate x * -90 texture { T_Brass } }
    cylinder { z * -0.15, z * 0, 1.0 texture { T_Steel } Rust_Spots(0.3, 0.5) }
    union {
      cylinder { z * -0.9, z * -0.15, 0.62 }
      object { Soft_Box(<0.3, -0.16, -1.7> <1.5, 0.16, -0.4>, 0.14) rotate y * -12 }
      object { Soft_Box(<-1.5, -0.16, -1.7> <-0.3, 0.16, -0.4>, 0.14) rotate y * 12 }
      rotate z * 35
      texture { T_Brass } Grime(0.5, 0.8)
    }
    translate <8.4, -6.0, 0>
  }
  // voltmeter: white scale, red mark, needle lying at rest
  union {
    object { Soft_Box(<-2.9, -1.9, -0.5> <2.9, 2.1, 0.2>, 0.25) texture { Shell } }
    box { <-2.55, -1.05, -0.52> <2.55, 1.85, -0.3> texture { pigment { srgb <0.84, 0.82, 0.74> } finish { F_Matte } } }
    #declare K = 0;
    #while (K <= 30)
      box { <-0.025, 2.25 - 0.2 * (mod(K, 5) = 0), -0.535> <0.025, 2.5, -0.5> rotate z * (40 - K * 80 / 30) translate <0, -1.0, 0> pigment { srgb #if (K > 22 & K < 26) <0.55, 0.08, 0.05> #else <0.05, 0.05, 0.05> #end } }
      #declare K = K + 1;
    #end
    cylinder { <0, 0.1, -0.56> <0, 2.2, -0.56> 0.025 rotate z * 40 translate <0, -1.0, 0> pigment { srgb 0.03 } }
    cylinder { <0, -1.0, -0.6> <0, -1.0, -0.4> 0.5 texture { Shell } }
    Small_Screw(0, -1.5, 30)
    translate <3.2, 5.4, 0>
  }
  // pilot lamp
  union {
    torus { 0.62, 0.12 rotate x * 90 texture { T_Steel } }
    sphere { 0, 0.58 scale <1, 1, 0.6> texture { pigment { srgb <0.50, 0.09, 0.06> } finish { F_Wet } } }
    translate <-7.8, 6.2, 0>
  }
  Small_Screw(-12, 8, 15) Small_Screw(12, 8, 60) Small_Screw(-12, -8, 100) Small_Screw(12, -8, 40)
  rotate x * 3
}
// carrying frame in front and the tank above
union {
  object { Bar(<-17, -14, -1.5>, <-17, 12, -1.5>, 1.1) }
  object { Bar(<17, -14, 0.5>, <17, 12, 0.5>, 1.1) }
  object { Bar(<-17, -12, -1.5>, <17, -12, -1.5>, 1.1) }
  T_Paint(srgb <0.50, 0.16, 0.08>, 0.35)
}
object { Soft_Box(<-16, 10.3, 0>, <16, 20, 16>, 1.5) T_Paint(srgb <0.50, 0.16, 0.08>, 0.2) }
box { <-30, -30, 9> <30, 12, 10> texture { pigment { srgb 0.09 } finish { F_Matte } } }
plane { -z, -55 texture { T_Concrete } }
plane { y, -16 T_Floor(30) }
