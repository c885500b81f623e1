package benchtest

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// 4 in at 1500 rpm drives 20 in at 300 rpm: Milton and Wohlers, 1919. 16 in at
// 180 rpm drives 8 in at 360 rpm: Applied Science for Metal Workers. The drive
// of two belts, 1000 rpm over 100/50 and 110/60 mm to 3667 rpm, is common
// practice, no source (unrounded 3666.67).
func TestPulleySpeeds(t *testing.T) {
	for _, tc := range []struct{ test, want string }{
		{"rpm: 1500 rpm, driver: 4 in, driven: 20 in", "300"},
		{"rpm: 1500 rpm, driver: 101.6 mm, driven: 20 in", "300"},
		{"rpm: 180 rpm, driver: 16 in, driven: 8 in", "360"},
		{"rpm: 1000 rpm, driver: [100 mm, 110 mm], driven: [50 mm, 60 mm]", "11000/3"},
	} {
		want, _ := new(big.Rat).SetString(tc.want)
		got := sound(t, plainMachine, "{test: belt drive, "+tc.test+"}").result(t, "driven speed")
		if got.Quantity.Base().Cmp(want) != 0 {
			t.Errorf("%s: got %s, want %s rpm", tc.test, got.Value, tc.want)
		}
	}
}

// pi x 4 in x 1725 rpm is 1806.4 ft/min, by hand.
func TestBeltSpeed(t *testing.T) {
	for test, unit := range map[string]string{"driver: 4 in, driven: 6 in": "ft/min", "driver: 101.6 mm, driven: 152.4 mm": "m/s"} {
		r := sound(t, plainMachine, "{test: belt drive, rpm: 1725 rpm, "+test+"}").result(t, "belt speed")
		want, _ := quantity.Parse("1806.4 ft/min")
		if got := float(r.Quantity.Base()); math.Abs(got/float(want.Base())-1) > 3e-5 || r.Quantity.Unit().Symbol() != unit {
			t.Errorf("%s: got %s, want %s", test, r.Value, want)
		}
	}
}

// The shop formula L = 2C + pi/2 (D+d) + (D-d)^2/4C gives 63.8744 in for 10 and
// 5 in at 20 in, and 2206.01 mm for 393 and 105 mm at 697 mm (2.2 m); the exact
// lengths are 63.8749 in and 2206.11 mm.
func TestBeltLength(t *testing.T) {
	for _, tc := range []struct {
		d1, d2, c, want, shop float64
		unit                  string
	}{{10, 5, 20, 63.8749, 63.8744, "in"}, {5, 10, 20, 63.8749, 63.8744, "in"}, {393, 105, 697, 2206.11, 2206.01, "mm"}} {
		test := fmt.Sprintf("{test: belt drive, rpm: 100 rpm, driver: %v %s, driven: %v %s, center: %v %s}", tc.d1, tc.unit, tc.d2, tc.unit, tc.c, tc.unit)
		o := sound(t, plainMachine, test)
		got := o.result(t, "belt length").number()
		if math.Abs(got/tc.want-1) > 5e-6 || math.Abs(got/tc.shop-1) > 1e-4 {
			t.Errorf("%s: got %v, want %v", test, got, tc.want)
		}
		wrap := 180 - 2*math.Asin(math.Abs(tc.d1-tc.d2)/2/tc.c)*180/math.Pi
		if r := o.result(t, "wrap on the smaller pulley"); !strings.HasPrefix(r.Value, fmt.Sprintf("%.0f degrees", wrap)) {
			t.Errorf("%s: got %s, want %.0f degrees", test, r.Value, wrap)
		}
	}
}

// The second form goes by the tangents: 2 C cos b + R (pi + 2b) + r (pi - 2b),
// with sin b = (R-r)/C. Equal pulleys give 2C + pi d; the length grows with the
// center distance and never falls short of the shop formula.
func TestBeltLengthProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		d1, d2 := rapid.Float64Range(1, 30).Draw(r, "D"), rapid.Float64Range(1, 30).Draw(r, "d")
		c := (d1+d2)/2 + rapid.Float64Range(0.1, 60).Draw(r, "gap")
		big, small := math.Max(d1, d2)/2, math.Min(d1, d2)/2
		b := math.Asin((big - small) / c)
		want := 2*c*math.Cos(b) + big*(math.Pi+2*b) + small*(math.Pi-2*b)
		got := openBelt(d1, d2, c)
		if math.Abs(got/want-1) > 1e-12 || got != openBelt(d2, d1, c) || got >= openBelt(d1, d2, c+1) {
			r.Fatalf("got %v, want %v", got, want)
		}
		if shop := 2*c + math.Pi/2*(d1+d2) + (d1-d2)*(d1-d2)/4/c; got < shop*(1-1e-12) {
			r.Fatalf("exact %v, shop formula %v", got, shop)
		}
		if equal := openBelt(d1, d1, c); math.Abs(equal/(2*c+math.Pi*d1)-1) > 1e-12 {
			r.Fatalf("equal pulleys: %v", equal)
		}
		if w := leastWrap(d1, d2, c); w <= 0 || w > 0.5 {
			r.Fatalf("wrap %v of a turn", w)
		}
	})
}

func TestBeltSlip(t *testing.T) {
	limit := "limits: [{what: belt slip, limit: <= 3 %, source: belt maker's sheet}, {what: driven speed, limit: 300 rpm +- 10 rpm, source: plate}]\n"
	o := sound(t, limit, "{test: belt drive, rpm: 1500 rpm, driver: 4 in, driven: 20 in, driven_rpm: 285 rpm}")
	if r := o.result(t, "belt slip"); r.Value != "5.0 %" || r.Verdict != quantity.Outside || !o.says("slack, worn or oily") {
		t.Errorf("got %s, %s, %q", r.Value, r.Verdict, o.Says)
	}
	if r := o.result(t, "driven speed"); r.Verdict != quantity.Inside || r.Source != "plate" {
		t.Errorf("got %+v", r)
	}
	if fast := sound(t, plainMachine, "{test: belt drive, rpm: 1500 rpm, driver: 4 in, driven: 20 in, driven_rpm: 330 rpm}"); !fast.says("faster than the pulleys allow") {
		t.Errorf("%q", fast.Says)
	}
}

// The trade's mph = rpm x diameter in inches / 336 (from memory; 336.135 without
// rounding) is the second form. A run of 88 ft in 10 s is 6 mph: 88 ft/s are 60.
func TestGroundSpeed(t *testing.T) {
	o := sound(t, plainMachine, "{test: ground speed, axle_rpm: 100 rpm, tire: 20 in, distance: 88 ft, time: 10 s}")
	if got := o.result(t, "ground speed").number(); math.Abs(got/(100*20/336.135)-1) > 1e-5 {
		t.Errorf("got %v mph", got)
	}
	if r := o.result(t, "timed ground speed"); r.Quantity.Rat().Cmp(big.NewRat(6, 1)) != 0 || r.Value != "6.00 mph" {
		t.Errorf("got %s, want 6.00 mph", r.Value)
	}
	if got := o.result(t, "wheel slip").number(); math.Abs(got-100*(1-6/(2000/336.1352))) > 0.01 {
		t.Errorf("got %v %%", got)
	}
	metric := sound(t, plainMachine, "{test: ground speed, axle_rpm: 100 rpm, tire: 508 mm, distance: 26.8224 m, time: 10 s}")
	if r := metric.result(t, "timed ground speed"); r.Value != "9.66 km/h" {
		t.Errorf("got %s, want 9.66 km/h (6 mph)", r.Value)
	}
	same(t, o, metric)
}

// The rule of gearing handbooks (from memory): the product of the driven over
// the product of the driving teeth. The train is as exact as its counts.
func TestGearReduction(t *testing.T) {
	for _, tc := range []struct{ test, ratio, value, out string }{
		{"driving_teeth: 12, driven_teeth: 40, rpm: 3600 rpm", "40/12", "3.333 to 1", "1080"},
		{"driving_teeth: [12, 14], driven_teeth: [40, 42], rpm: 3600 rpm", "10", "10 to 1", "360"},
		{"driving_teeth: [1], driven_teeth: [20], rpm: 1800 rpm", "20", "20 to 1", "90"},
		{"driving_teeth: [40], driven_teeth: [20], rpm: 900 rpm", "1/2", "0.5 to 1", "1800"},
	} {
		o := sound(t, plainMachine, "{test: gear reduction, "+tc.test+"}")
		ratio, _ := new(big.Rat).SetString(tc.ratio)
		out, _ := new(big.Rat).SetString(tc.out)
		if r := o.result(t, "reduction"); r.Quantity.Base().Cmp(ratio) != 0 || r.Value != tc.value {
			t.Errorf("%s: got %s, want %s", tc.test, r.Value, tc.value)
		}
		if r := o.result(t, "output speed"); r.Quantity.Base().Cmp(out) != 0 {
			t.Errorf("%s: got %s, want %s rpm", tc.test, r.Value, tc.out)
		}
	}
	off := "{test: gear reduction, driving_teeth: 10, driven_teeth: 40, rpm: 1000 rpm, output_rpm: %d rpm, gauge: 1 rpm}"
	if o := sound(t, plainMachine, fmt.Sprintf(off, 270)); !o.says("Gears do not slip") {
		t.Errorf("270 for 250 rpm: %q", o.Says)
	}
	if o := sound(t, plainMachine, fmt.Sprintf(off, 252)); o.says("Gears do not slip") {
		t.Errorf("252 for 250 rpm: %q", o.Says)
	}
}

// Turning a train round and back again changes nothing, whatever the order of
// its pairs.
func TestGearTrainProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := rapid.SliceOfN(rapid.IntRange(1, 120), 1, 4).Draw(r, "driving")
		b := rapid.SliceOfN(rapid.IntRange(1, 120), len(a), len(a)).Draw(r, "driven")
		ratio := func(x, y []int) *big.Rat {
			list := func(n []int) string { return strings.ReplaceAll(fmt.Sprint(n), " ", ", ") }
			return direct(t, "{test: gear reduction, driving_teeth: "+list(x)+", driven_teeth: "+list(y)+"}").
				result(t, "reduction").Quantity.Base()
		}
		there, back := ratio(a, b), ratio(b, a)
		if there.Mul(there, back).Cmp(big.NewRat(1, 1)) != 0 {
			r.Fatalf("%v over %v: there and back is %s", a, b, there)
		}
	})
}
