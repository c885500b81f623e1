// The donor: a stripped ride-on mower frame on blocks, its engine block open to the bore, the
// bolt holes empty.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 30, 0>, 180, 1.25, 0.9)
Phone(<78, 124, -172>, <-1, 23, 0>, 46, <20, 40, -20>)

plane { y, 0 T_Floor(80) }
#declare Green = srgb <0.30, 0.36, 0.33>;
#macro Frame_Paint() T_Paint(Green, 0.75) #end

// two pressed channels along x, rails at z = -20 and 20, tops at y = 34
#macro Rail(Z, Dir)
  difference {
    union {
      box { <-88, 24, Z - 0.4> <70, 34, Z + 0.4> }
      box { <-88, 33.3, Z> <70, 34, Z + Dir * 6> }
      box { <-88, 24, Z> <70, 24.7, Z + Dir * 6> }
    }
    // empty holes in the web
    #local K = 0;
    #while (K < 13)
      cylinder { <-82 + K * 12 + 2 * sin(K * 5), 29 + 2.6 * sin(K * 3), Z - 3>, <-82 + K * 12 + 2 * sin(K * 5), 29 + 2.6 * sin(K * 3), Z + 3>, 0.8 + 0.8 * (mod(K, 3) = 0) }
      #local K = K + 1;
    #end
    // and in the top flange
    #local K = 0;
    #while (K < 10)
      cylinder { <-76 + K * 15, 30, Z + Dir * 3.2>, <-76 + K * 15, 40, Z + Dir * 3.2>, 0.75 }
      #local K = K + 1;
    #end
    Frame_Paint()
  }
#end
Rail(-20, 1)
Rail(20, -1)
// cross members
#declare K = 0;
#while (K < 4)
  difference {
    box { <-82 + K * 46, 25, -20> <-73 + K * 46, 26, 20> }
    cylinder { <-77.5 + K * 46, 20, -9> <-77.5 + K * 46, 30, -9> 1.3 }
    cylinder { <-77.5 + K * 46, 20, 9> <-77.5 + K * 46, 30, 9> 1.3 }
    Frame_Paint()
  }
  #declare K = K + 1;
#end
// engine deck plate
difference {
  box { <8, 33.8, -22> <62, 34.8, 22> }
  cylinder { <35, 30, 0> <35, 40, 0> 8 }
  cylinder { <13, 30, -18> <13, 40, -18> 0.9 } cylinder { <57, 30, -18> <57, 40, -18> 0.9 }
  cylinder { <13, 30, 18> <13, 40, 18> 0.9 } cylinder { <57, 30, 18> <57, 40, 18> 0.9 }
  Frame_Paint()
}
// front axle beam with kingpins, wheels gone
union {
  sphere_sweep { cubic_spline 7 <64, 17, -52> 2.6 <64, 18, -44> 2.6 <64, 19, -30> 2.6 <64, 21.5, 0> 3.2 <64, 19, 30> 2.6 <64, 18, 44> 2.6 <64, 17, 52> 2.6 tolerance 0.001 }
  #declare K = -1;
  #while (K <= 1)
    cylinder { <64, 10, K * 44> <64, 26, K * 44> 3.2 }
    cylinder { <64, 11, K * 44> <64, 11, K * 62> 1.7 }
    cylinder { <64, 11, K * 48> <64, 11, K * 49> 2.8 }
    box { <50, 24.5, K * 44 - 1.8> <64, 25.5, K * 44 + 1.8> }
    #declare K = K + 2;
  #end
  texture { T_Rust } Grime(0.6, 8)
}
// transaxle at the back with bare shafts
union {
  object { Soft_Box(<-84, 14, -10>, <-58, 33, 10>, 3) texture { T_Aluminium } Grime(1, 8) }
  cylinder { <-71, 21, -42> <-71, 21, 42> 4.2 texture { T_CastIron } Rust_Spots(0.5, 3) }
  cylinder { <-71, 21, -56> <-71, 21, 56> 1.9 texture { T_Steel } Rust_Spots(0.8, 2) }
}
// steering column, wheel gone
union {
  cylinder { <-6, 30, 0> <-26, 74, 0> 1.6 texture { T_Steel } Rust_Spots(0.7, 2) }
  cylinder { <-4, 26, 0> <-19, 59, 0> 2.6 Frame_Paint() }
  object { Nut(2.0, 1.2) rotate z * 24 translate <-26, 74, 0> texture { T_GreySteel } Rust_Spots(0.6, 1) }
}
// dash hoop
difference {
  box { <-16, 34, -17> <-14.6, 58, 17> }
  cylinder { <-30, 48, -8> <0, 48, -8> 3.4 }
  cylinder { <-30, 50, 7> <0, 50, 7> 1.6 }
  cylinder { <-30, 44, 11> <0, 44, 11> 1.1 }
  Frame_Paint()
}
// loose wiring
#declare L1 = array[7] { <-14, 48, -8>, <-9, 46, -11>, <-4, 38, -14>, <4, 36, -17>, <8, 36, -24>, <10, 26, -27>, <16, 20, -28> }
object { Cable(L1, 0.55) texture { pigment { srgb <0.55, 0.10, 0.08> } finish { F_Satin } } Grime(0.6, 4) }
#declare L2 = array[7] { <-14, 50, 7>, <-8, 50, 2>, <-2, 40, -6>, <3, 36, -19>, <5, 31, -26>, <4, 22, -27>, <8, 16, -29> }
object { Cable(L2, 0.55) texture { T_Rubber } }

// engine block, head off: bore open, stud holes round it, valves in the deck
#declare Block_Metal = texture { T_Aluminium }
union {
  difference {
    union {
      object { Soft_Box(<16, 34.5, -16>, <54, 46, 17>, 2) }
      object { Soft_Box(<20, 44, -13>, <50, 63, 14>, 1) }
      #declare K = 0;
      #while (K < 8)
        object { Soft_Box(<17, 47.5 + K * 1.9, -17>, <53, 48.25 + K * 1.9, 16.5>, 0.35) }
        #declare K = K + 1;
      #end
      object { Soft_Box(<18, 62, -16>, <52, 65, 16>, 0.5) }
    }
    cylinder { <30, 50, 1> <30, 80, 1> 8.4 }
    // valve pocket
    cylinder { <44.5, 63.6, -5.4> <44.5, 70, -5.4> 3.9 }
    cylinder { <44.5, 63.6, 6.4> <44.5, 70, 6.4> 3.4 }
    // empty head-bolt holes
    #declare K = 0;
    #while (K < 8)
      #declare HA = array[8] { <20.4, 0, -12>, <32, 0, -13.6>, <40, 0, -13>, <49.6, 0, -12.4>, <20.4, 0, 13>, <32, 0, 13.8>, <40, 0, 13.2>, <49.6, 0, 12.8> }
      cylinder { HA[K] + y * 56, HA[K] + y * 80, 0.95 }
      cone { HA[K] + y * 64.5, 0.95, HA[K] + y * 65.2, 1.5 }
      #declare K = K + 1;
    #end
    // carburetor port and its two holes; side-cover holes
    cylinder { <44, 56, -30> <44, 56, -8> 2.6 }
    cylinder { <39, 56, -30> <39, 56, -14> 0.8 } cylinder { <49, 56, -30> <49, 56, -14> 0.8 }
    cylinder { <35, 40.5, -30> <35, 40.5, -13> 6.2 }
    #declare K = 0;
    #while (K < 6)
      cylinder { <35, 40.5, -30> + vrotate(<8.4, 0, 0>, z * (K * 60 + 30)) * <1, 0.42, 1>, <35, 40.5, -12> + vrotate(<8.4, 0, 0>, z * (K * 60 + 30)) * <1, 0.42, 1>, 0.7 }
      #declare K = K + 1;
    #end
    texture { Block_Metal } Grime(0.9, 12)
  }
  // machined deck face: bright, with the black print of the gasket
  difference {
    box { <18.6, 64.97, -15.4> <51.4, 65.03, 15.4> }
    cylinder { <30, 50, 1> <30, 80, 1> 8.5 }
    cylinder { <44.5, 60, -5.4> <44.5, 70, -5.4> 3.95 } cylinder { <44.5, 60, 6.4> <44.5, 70, 6.4> 3.45 }
    #declare K = 0;
    #while (K < 8) cylinder { HA[K] + y * 56, HA[K] + y * 80, 1.45 } #declare K = K + 1; #end
    texture { pigment { bozo turbulence 0.7 color_map { [0 srgb <0.22, 0.20, 0.18>] [0.4 srgb <0.45, 0.43, 0.40>] [1 srgb <0.62, 0.61, 0.58>] } scale 5 } finish { F_Dull } }
  }
  // bore wall, piston missing
  difference { cylinder { <30, 50, 1> <30, 64.9, 1> 8.42 } cylinder { <30, 49, 1> <30, 66, 1> 8.1 } texture { T_Steel } Rust_Spots(0.4, 2) }
  cylinder { <30, 49.9, 1> <30, 50.1, 1> 8.4 pigment { srgb 0.03 } }
  // valves
  cone { <44.5, 63.8, -5.4>, 3.4, <44.5, 64.4, -5.4>, 3.6 texture { T_GreySteel } Rust_Spots(0.7, 1) }
  cone { <44.5, 63.8, 6.4>, 2.9, <44.5, 64.4, 6.4>, 3.1 texture { T_GreySteel } Rust_Spots(0.4, 1) }
  // dark behind the holes
  box { <20, 36, -12.9> <50, 45, -12.7> pigment { srgb 0.03 } }
  // rear crank stub
  cylinder { <54, 41, 0> <62, 41, 0> 1.7 texture { T_Steel } Rust_Spots(0.5, 1) }
}
// blocks
box { <-70, 0, -27> <-52, 9, 27> T_Plywood(26) }
box { <-68, 9, -24> <-56, 14, 24> T_Plywood(20) }
box { <46, 0, -26> <58, 12, 26> T_Plywood(26) }
box { <47, 12, -23> <56, 24, -14> T_Plywood(26) }
box { <47, 12, 14> <56, 24, 23> T_Plywood(26) }
// a tray of bolts on the floor
difference {
  object { Soft_Box(<4, 0.2, -66>, <34, 5, -44>, 1) }
  object { Soft_Box(<4.6, 0.8, -65.4>, <33.4, 12, -44.6>, 1) }
  texture { T_GreySteel } Rust_Spots(0.3, 3) Grime(0.5, 5)
}
#declare S = seed(31);
#declare K = 0;
#while (K < 34)
  union {
    object { Hex_Head(1.3) } object { Thread(1.2, 5) rotate x * 180 }
    texture { T_GreySteel } Rust_Spots(0.5 + 0.4 * rand(S), 1)
    rotate x * (70 + 40 * rand(S)) rotate y * rand(S) * 360
    translate <7 + 24 * rand(S), 1.9 + 1.2 * rand(S), -63 + 16 * rand(S)>
  }
  #declare K = K + 1;
#end
// wall
plane { -z, -130
  texture { pigment { brick srgb <0.46, 0.45, 0.43> srgb <0.50, 0.49, 0.465> brick_size <40, 20, 20> mortar 1 } normal { granite 0.3 scale 6 } finish { F_Matte } }
  Grime(0.5, 90)
}
