// Change gears of a bench lathe on their slotted arm, the cover swung away.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 0, 0>, 40, 1.4, 1.0)
Phone(<10, 5, -41>, <0.8, -1.6, 0>, 52, <0, 0, -3>)

#declare Iron = texture {
  pigment { bozo turbulence 0.6 color_map { [0 srgb <0.40, 0.39, 0.37>] [1 srgb <0.54, 0.53, 0.50>] } scale 3 }
  normal { granite 0.1 scale 1 }
  finish { F_Dull }
}
#declare M = 0.26;
// A change gear facing -z: rim, web thinner than the rim, keyed hub, optional spokes.
#macro Change_Gear(Z, Phase, Spokes)
  union {
    difference {
      object { Gear_Solid(Z, M, 1.5, 0, Z - 1) }
      difference {
        cylinder { y * 1.15, y * 2, M * Z / 2 - 1.25 * M - 0.65 }
        cylinder { y * 1, y * 3, 1.75 }
      }
      #if (Spokes)
        #local K = 0;
        #while (K < Spokes)
          cylinder { <M * Z * 0.285, -1, 0>, <M * Z * 0.285, 3, 0>, M * Z * 0.095 rotate y * (K * 360 / Spokes + 20) }
          #local K = K + 1;
        #end
      #end
      cylinder { y * -1, y * 3, 0.8 }
    }
    rotate y * Phase
    rotate x * -90
  }
#end
#macro Stud(P)
  union {
    cylinder { z * 1, z * -1.9, 0.78 texture { T_Steel } Grime(0.5, 1) }
    object { Nut(1.1, 0.6) rotate x * -90 translate z * -1.55 texture { T_GreySteel } Grime(0.6, 1) }
    translate P
  }
#end
#macro Mesh_At(P, Z1, Z2, Dir)   // centre of a gear of Z2 in mesh with one of Z1 at P, in direction Dir (degrees)
  (P + vrotate(x * M * (Z1 + Z2) / 2 * 1.012, z * Dir))
#end

// 32 on the spindle, 40 idler, compound 54 + 24, 60 on the lead screw
#declare G1 = <-9.6, 9.0, 0>;
#declare G2 = Mesh_At(G1, 32, 40, -72);
#declare G3 = Mesh_At(G2, 40, 54, -18);
#declare G4 = Mesh_At(G3, 24, 48, -48) + z * -1.7;
#declare G5 = Mesh_At(G1, 32, 28, 8);
#macro Greased()
  Grime(0.6, 3)
  texture {
    pigment { bozo turbulence 0.6 color_map { [0 srgbt <0.35, 0.22, 0.08, 0.3>] [0.28 srgbt <0.35, 0.22, 0.08, 0.6>] [0.4 srgbt 1] [1 srgbt 1] } scale 1.6 }
    finish { F_Wet }
  }
#end
object { Change_Gear(32, 3, 0) texture { Iron } Greased() translate G1 }
object { Change_Gear(40, 5.2, 5) texture { Iron } Greased() translate G2 }
object { Change_Gear(54, 2.2, 6) texture { Iron } Greased() translate G3 }
object { Change_Gear(24, 1.0, 0) texture { Iron } Greased() translate G3 + z * -1.7 }
object { Change_Gear(48, 5.5, 5) texture { Iron } Greased() translate G4 }
object { Change_Gear(28, 4, 0) texture { pigment { srgb <0.45, 0.30, 0.16> } finish { F_Satin } } Greased() translate G5 }
Stud(G1) Stud(G2) Stud(G3 + z * -1.7) Stud(G4) Stud(G5)
// keys and washers
#macro Key_At(P, A) box { <-0.2, 0.55, -1.6> <0.2, 1.05, -1.35> rotate z * A translate P texture { T_Steel } } #end
Key_At(G1, 30) Key_At(G4, -60)

// the slotted arm (quadrant) behind the gears
difference {
  union {
    sphere_sweep { linear_spline 2 <G2.x, G2.y, 0>, 2.4 <G4.x, G4.y, 0>, 2.4 scale <1, 1, 0.5> translate z * 2.2 }
    cylinder { <G4.x, G4.y, 1.4> <G4.x, G4.y, 3.4> 3.6 }
  }
  plane { -z, -1.35 inverse }
  sphere_sweep { linear_spline 2 <G2.x, G2.y, 0>, 0.85 <G3.x, G3.y, 0>, 0.85 scale <1, 1, 5> }
  T_Paint(srgb <0.30, 0.36, 0.38>, 0.2)
}
// end of the headstock casting and the bed
difference {
  object { Soft_Box(<-26, -26, 4>, <26, 22, 30>, 2) }
  object { Soft_Box(<-22, -22, 2>, <21, 18, 5.5>, 1.2) }
  T_Paint(srgb <0.28, 0.34, 0.36>, 0.12)
}
// hinge pins and bolts
object { Hex_Head(1.0) rotate x * -90 translate <14, 11, 5.5> texture { T_GreySteel } Grime(0.5, 1) }
object { Hex_Head(1.0) rotate x * -90 translate <-16, -12, 5.5> texture { T_GreySteel } Grime(0.5, 1) }
object { Hex_Head(1.0) rotate x * -90 translate <15.5, -15, 5.5> texture { T_GreySteel } Grime(0.5, 1) }
plane { -z, -90 texture { pigment { srgb 0.2 } finish { F_Matte } } }
