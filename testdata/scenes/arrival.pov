// The walk-behind tiller as it came: engine with cooling fins, handlebars, dirty tines, two
// lugged wheels, on the shop floor in front of a plank wall.
#include "shop-light.inc"
#include "metals.inc"
#include "hardware.inc"

Shop_Lights(<0, 30, -30>, 190, 1.35, 1.0)
Phone(<135, 118, -190>, <-26, 50, 0>, 34, <0, 50, -30>)

plane { y, 0 T_Floor(90) }
// plank wall
#declare K = -22;
#while (K < 9)
  box { <K * 24 + 0.25, 0, 118> <K * 24 + 23.75, 300, 121>
    texture {
      pigment { wood turbulence 0.08 octaves 4 color_map { [0 srgb <0.40, 0.33, 0.25>] [0.6 srgb <0.48, 0.40, 0.31>] [1 srgb <0.34, 0.27, 0.20>] }
        rotate x * 88 scale <3, 60, 3> translate <K * 31, K * 17, 0> }
      normal { wrinkles 0.2 scale <1, 30, 1> }
      finish { F_Matte }
    }
    Grime(0.6, 60)
  }
  #declare K = K + 1;
#end
plane { -z, -122 pigment { srgb 0.03 } }
// shelf and a can
box { <-190, 128, 100> <-30, 131, 119> T_Plywood(60) }
cylinder { <-128, 131, 108> <-128, 150, 108> 8 texture { T_GreySteel } Rust_Spots(0.5, 4) }
object { Soft_Box(<-106, 131, 102>, <-82, 155, 116>, 2) T_Paint(srgb <0.46, 0.12, 0.08>, 0.3) }

// The tiller: front is +x, tines and handlebars behind at -x; wheels on an axle along z.
#declare Red = srgb <0.60, 0.17, 0.09>;
#declare Cream = srgb <0.66, 0.62, 0.50>;
#declare Machine_Dirt = texture {
  pigment {
    gradient y turbulence 0.25 octaves 5
    color_map { [0 srgbt <0.36, 0.27, 0.18, 0.0>] [0.12 srgbt <0.38, 0.29, 0.2, 0.15>] [0.24 srgbt <0.4, 0.31, 0.22, 0.7>] [0.4 srgbt <0.4, 0.32, 0.24, 1>] [1 srgbt <0.4, 0.32, 0.24, 1>] }
    scale 100
  }
  normal { granite 0.4 scale 6 }
  finish { F_Matte }
}
#macro Wheel()   // about z, centre at the origin, radius 21
  union {
    difference {
      union {
        torus { 15.2, 5.8 rotate x * 90 scale <1, 1, 0.95> }
        // chevron lugs
        #local K = 0;
        #while (K < 15)
          union {
            box { <-1.1, 18.6, -0.2> <1.1, 22.2, 6.4> matrix <1, 0, 0, 0, 1, 0, 0.55, 0, 1, 0, 0, 0> }
            box { <-1.1, 18.6, -6.4> <1.1, 22.2, 0.2> matrix <1, 0, 0, 0, 1, 0, -0.55, 0, 1, 0, 0, 0> }
            box { <-1.2, 14.4, -0.6> <1.2, 19.6, 0.6> matrix <1, 0, 0, 0, 1, 0, 0, 0, 1, 3.4, 0, 5.4> }
            box { <-1.2, 14.4, -0.6> <1.2, 19.6, 0.6> matrix <1, 0, 0, 0, 1, 0, 0, 0, 1, 3.4, 0, -5.4> }
            rotate z * K * 24
          }
          #local K = K + 1;
        #end
      }
      cylinder { z * -9, z * 9, 10.4 }
      texture { T_Rubber }
      texture {
        pigment { bozo turbulence 0.7 octaves 5 color_map { [0 srgbt <0.40, 0.31, 0.21, 0.0>] [0.4 srgbt <0.40, 0.31, 0.21, 0.3>] [0.6 srgbt <0.42, 0.33, 0.24, 0.75>] [1 srgbt <0.42, 0.33, 0.24, 0.92>] } scale 6 }
        normal { granite 0.5 scale 3 } finish { F_Matte }
      }
    }
    difference {
      union {
        cylinder { z * -4.6, z * 4.6, 11 }
        torus { 10.8, 0.8 rotate x * 90 translate z * -4.6 }
        torus { 10.8, 0.8 rotate x * 90 translate z * 4.6 }
      }
      cone { z * -6, 11, z * -1.5, 7.5 }
      cone { z * 6, 11, z * 1.5, 7.5 }
      #local K = 0;
      #while (K < 5) cylinder { <0, 6.2, -9> <0, 6.2, 9> 1.2 rotate z * K * 72 } #local K = K + 1; #end
      T_Paint(Cream, 0.5)
    }
    cylinder { z * -6.5, z * 6.5, 2.6 texture { T_GreySteel } Rust_Spots(0.8, 1.5) }
  }
#end
object { Wheel() rotate z * 7 translate <12, 21.5, -25> }
object { Wheel() rotate z * 19 translate <12, 21.5, 25> }
cylinder { <12, 21.5, -25> <12, 21.5, 25> 2 texture { T_GreySteel } Rust_Spots(0.8, 2) }

// gear case: cast body from under the engine back to the tines
union {
  object { Soft_Box(<-14, 14, -8>, <24, 36, 8>, 3) }
  object { Soft_Box(<-46, 16, -5.5>, <-8, 30, 5.5>, 2.5) }
  cylinder { <-46, 20, -6> <-46, 20, 6> 9 }
  cylinder { <12, 21.5, -11> <12, 21.5, 11> 6 }
  texture { T_CastIron }
  texture { Machine_Dirt }
}
#declare K = 0;
#while (K < 4)
  object { Hex_Head(1.6) rotate x * -90 translate <-8 + K * 9, 33, -8> texture { T_GreySteel } Rust_Spots(0.7, 1) }
  #declare K = K + 1;
#end

// engine: bed plate, crankcase, finned cylinder with the head up, shroud, tank, muffler
union {
  object { Soft_Box(<-12, 36, -16>, <28, 38.5, 16>, 0.6) T_Paint(Red, 0.4) }
  // crankcase
  union {
    object { Soft_Box(<-8, 38, -11>, <22, 52, 11>, 2) }
    cylinder { <7, 47, -15> <7, 47, -10> 9 }
    texture { T_Aluminium } Grime(0.8, 8)
  }
  // cylinder block with fins (upright, a little back)
  union {
    cylinder { <6, 50, 2> <6, 74, 2> 6.6 }
    #declare K = 0;
    #while (K < 10)
      object { Soft_Box(<-5.5, 53 + K * 1.75, -9.5>, <17.5, 53.65 + K * 1.75, 12>, 0.3) }
      #declare K = K + 1;
    #end
    // head with upright fins
    object { Soft_Box(<-5, 71, -9>, <17, 74.5, 11.5>, 0.6) }
    #declare K = 0;
    #while (K < 9)
      object { Soft_Box(<-4.2 + K * 2.5, 74, -8>, <-3.5 + K * 2.5, 78.5, 10.5>, 0.25) }
      #declare K = K + 1;
    #end
    texture { T_Aluminium } Grime(0.7, 7)
    Rust_Spots(0.1, 2)
  }
  #declare K = 0;
  #while (K < 4)
    object { Hex_Head(1.5) translate <-3 + 18 * mod(K, 2), 74.5, -7.6 + 17.5 * int(K / 2)> texture { T_GreySteel } Rust_Spots(0.6, 1) }
    #declare K = K + 1;
  #end
  // spark plug and lead, toward the phone
  union {
    cylinder { 0, z * -3, 1.1 texture { T_GreySteel } }
    cylinder { z * -3, z * -6, 0.8 texture { pigment { srgb 0.85 } finish { F_Satin } } }
    cylinder { z * -5, z * -9, 1.2 texture { T_Rubber } }
    rotate x * 25 translate <6, 76, -8.5>
  }
  #declare Lead = array[5] { <6, 79.8, -16.5>, <8, 80, -20>, <15, 74, -21>, <21, 62, -19>, <23, 56, -14> }
  object { Cable(Lead, 0.55) texture { T_Rubber } }
  // recoil starter and fan shroud at the front (+x)
  union {
    difference {
      object { Soft_Box(<17.5, 40, -13>, <28, 74, 13>, 3.5) }
      cylinder { <24, 55, 0> <40, 55, 0> 10.3 }
      T_Paint(Red, 0.3)
    }
    difference {
      union { cylinder { <24, 55, 0> <30.5, 55, 0> 10.2 } torus { 9.4, 0.8 rotate z * 90 translate <30.5, 55, 0> } }
      #declare K = 0;
      #while (K < 14)
        box { <29.5, 4.2, -0.55> <33, 8.4, 0.55> rotate x * K * 360 / 14 translate <0, 55, 0> }
        #declare K = K + 1;
      #end
      T_Paint(srgb <0.17, 0.17, 0.17>, 0.3)
    }
    cylinder { <30, 55, 0> <31.4, 55, 0> 2.8 texture { T_Steel } Grime(0.5, 2) }
    // pull handle on its cord
    object { Bar(<30, 66.5, -4.5>, <30, 66.5, 2.5>, 1.0) texture { T_Rubber } }
  }
  // fuel tank behind, on its brackets
  union {
    object { Soft_Box(<-24, 58, -13>, <-8, 74, 15>, 4) T_Paint(Red, 0.45) }
    cylinder { <-16, 73, 0> <-16, 76, 0> 3.2 texture { T_GreySteel } }
    cylinder { <-16, 75.5, 0> <-16, 77.6, 0> 4.0 texture { T_BlackPlastic } Grime(0.5, 3) }
    box { <-20, 38, -9> <-18, 60, -7> texture { T_GreySteel } Rust_Spots(0.8, 2) }
    box { <-14, 38, -9> <-9, 60, -8.5> texture { T_GreySteel } Rust_Spots(0.8, 2) }
  }
  // carburetor and air cleaner facing the phone
  union {
    object { Soft_Box(<-3, 55, -17>, <3, 61, -9>, 1) texture { T_Aluminium } Grime(0.7, 2) }
    cylinder { <0, 51.5, -13.5> <0, 56, -13.5> 2.6 texture { T_Brass } Grime(0.8, 2) }
    cylinder { <-1, 59, -17> <-1, 59, -25> 5.6 T_Paint(srgb <0.13, 0.13, 0.13>, 0.2) }
    torus { 5.3, 0.5 rotate x * 90 translate <-1, 59, -25> T_Paint(srgb <0.13, 0.13, 0.13>, 0.2) }
    cylinder { <-1, 59, -25> <-1, 59, -26.4> 0.9 texture { T_GreySteel } }
  }
  #declare Fuel = array[5] { <-12, 58.5, -10>, <-11, 53, -13>, <-8, 51, -15>, <-4, 52.5, -15>, <-2.4, 54.5, -14> }
  object { Cable(Fuel, 0.6) texture { T_Rubber } }
  // muffler on the right side
  union {
    cylinder { <14, 63, -10> <14, 63, -19> 2 }
    object { Soft_Box(<8, 57, -27>, <22, 69, -18>, 2.4) }
    #declare K = 0;
    #while (K < 12)
      cylinder { <10.5 + mod(K, 4) * 3, 60 + int(K / 4) * 3, -27.2> <10.5 + mod(K, 4) * 3, 60 + int(K / 4) * 3, -27.02> 0.6 pigment { srgb 0.03 } }
      #declare K = K + 1;
    #end
    texture { T_Rust }
  }
}

// tine hood: half drum over the tines, end plates left off
difference {
  cylinder { <-46, 20, -28> <-46, 20, 28> 26.5 }
  cylinder { <-46, 20, -29> <-46, 20, 29> 26 }
  plane { y, 22 }
  plane { -x, 22 }
  T_Paint(Red, 0.55)
  texture { Machine_Dirt scale 1.5 }
}
// drag flap at the back
box { <-73.2, 3, -27> <-72.6, 23, 27> rotate z * -6 translate <0.6, 0, 0> texture { T_Rubber } texture { Machine_Dirt } }

// tines: hubs on the shaft, four bent blades each
#declare Tine = union {
  sphere_sweep { b_spline 7 <0, 0, 0> 1.0 <0, 4, 0> 1.0 <0, 11, 0> 1.0 <0, 16.5, 0.6> 1.0 <1.2, 18.6, 4> 1.0 <3.2, 18.8, 9> 0.9 <5, 18.8, 12> 0.7 tolerance 0.001
    scale <1.9, 1, 1> }
}
cylinder { <-46, 20, -27> <-46, 20, 27> 2 texture { T_Dirt } }
#declare K = 0;
#while (K < 4)
  #declare ZZ = -22 + K * 13 + (K > 1 ? 5 : 0);
  cylinder { <-46, 20, ZZ - 0.9> <-46, 20, ZZ + 0.9> 5 texture { T_Dirt } }
  #declare J = 0;
  #while (J < 4)
    object { Tine scale <1, 1, (K < 2 ? -1 : 1)> rotate z * (J * 90 + K * 22 + 12) translate <-46, 20, ZZ> texture { T_Dirt } }
    #declare J = J + 1;
  #end
  #declare K = K + 1;
#end

// handlebars
#declare K = -1;
#while (K <= 1)
  #declare HB = array[7] { <-6, 36, K * 8>, <-20, 50, K * 11>, <-44, 70, K * 17>, <-70, 87, K * 24>, <-88, 94, K * 27>, <-98, 95, K * 28>, <-106, 94.5, K * 28> }
  object { Cable(HB, 1.5) T_Paint(srgb <0.18, 0.18, 0.18>, 0.55) }
  #declare GR = array[3] { <-95, 95.2, K * 27.7>, <-102, 95, K * 28>, <-108.5, 94.4, K * 28> }
  object { Cable(GR, 2.2) texture { T_Rubber } }
  #declare K = K + 2;
#end
cylinder { <-44, 70, -17> <-44, 70, 17> 1.2 T_Paint(srgb <0.18, 0.18, 0.18>, 0.4) }
// clutch lever and its cable, throttle box
#declare LV = array[4] { <-80, 88.5, -26>, <-90, 88, -27>, <-100, 88.5, -28>, <-107, 89, -28> }
object { Cable(LV, 0.7) texture { T_GreySteel } Rust_Spots(0.7, 2) }
#declare CB = array[6] { <-80, 89, -26>, <-66, 78, -24>, <-50, 62, -20>, <-34, 46, -14>, <-20, 40, -10>, <-12, 36, -9> }
object { Cable(CB, 0.5) texture { T_Rubber } }
object { Soft_Box(<-68, 86.5, 20>, <-58, 92, 24>, 1) texture { T_BlackPlastic } }
// clods dropped on the floor
#declare S = seed(12);
#declare K = 0;
#while (K < 70)
  sphere { 0, 0.5 + 2.2 * pow(rand(S), 3) scale <1.2, 0.7, 1> rotate y * rand(S) * 360 translate <-80 + 110 * rand(S), 0.2, -42 + 75 * rand(S)> texture { T_Dirt } }
  #declare K = K + 1;
#end
