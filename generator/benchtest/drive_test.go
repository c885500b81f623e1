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

// A chain that is shorter than new, a motor faster than its field and a belt that drives
// faster than its pulleys are miscounted or misread, so no limit finds them in order: ten
// pitches of 0.5 in that measure 4.725 in may be nine that have grown by 5 %.
func TestWhatIsBelowNothingIsHeldAgainstNoLimit(t *testing.T) {
	const own = "limits: [{what: motor slip, limit: <= 5 %, source: book}, {what: belt slip, limit: <= 3 %, source: book}, {what: propeller slip, limit: <= 15 %, source: book}, {what: wheel slip, limit: <= 10 %, source: book}, {what: voltage regulation, limit: <= 3 %, source: book}]\n"
	const slips = "limits: [{what: motor slip, limit: 2 % to 5 %, source: book}]\n"
	for _, tc := range []struct {
		machine, test, result string
		verdict               quantity.Verdict
	}{
		{"", "roller chain wear, length: 4.725 in, pitches: 10, pitch: 0.5 in", "roller chain wear below nothing", quantity.NotLimited},
		{"", "roller chain wear, length: 4.98 in, pitches: 10, pitch: 0.5 in", "roller chain wear", quantity.Inside},
		{"", "roller chain wear, length: 4.94 in, pitches: 10, pitch: 0.5 in, gauge: 0.02 in", "roller chain wear", quantity.Inside},
		{own, "motor slip, rpm: 1850 rpm, hertz: 60 Hz, poles: 4", "motor slip below nothing", quantity.NotLimited},
		{own, "motor slip, rpm: 1801 rpm, hertz: 60 Hz, poles: 4", "motor slip", quantity.Inside},
		{slips, "motor slip, rpm: 1850 rpm, hertz: 60 Hz, poles: 4", "motor slip", quantity.Outside},
		{own, "belt drive, rpm: 1500 rpm, driver: 4 in, driven: 20 in, driven_rpm: 310 rpm", "belt slip below nothing", quantity.NotLimited},
		{own, "belt drive, rpm: 1500 rpm, driver: 4 in, driven: 20 in, driven_rpm: 301 rpm", "belt slip", quantity.Inside},
		{own, "propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 75 mph", "propeller slip below nothing", quantity.NotLimited},
		{own, "ground speed, axle_rpm: 62 rpm, tire: 20 in, distance: 100 ft, time: 10 s", "wheel slip below nothing", quantity.NotLimited},
		{own, "ground speed, axle_rpm: 62 rpm, tire: 20 in, distance: 100 ft, time: 18.9 s", "wheel slip", quantity.Inside},
		{own, "generator output, volts: 220 V, hertz: 62 Hz, rated_hertz: 60 Hz, loaded_volts: 255 V", "voltage regulation below nothing", quantity.NotLimited},
		{own, "generator output, volts: 240 V, hertz: 62 Hz, rated_hertz: 60 Hz, loaded_volts: 241 V", "voltage regulation", quantity.Inside},
	} {
		o := sound(t, tc.machine, "{test: "+tc.test+"}")
		if r := o.result(t, tc.result); r.Verdict != tc.verdict || r.What != tc.result || (r.Limit == "") != (tc.verdict == quantity.NotLimited) || (r.Limits == nil) != (r.Limit == "") {
			t.Errorf("%s: %+v, want %s", tc.test, r, tc.verdict)
		}
	}
}

// The machine's own limit does not loosen what a wheel is marked with (WAC 296-806-40512),
// nor how far its rest may be off (30 CFR 56.14115), but it may be the narrower one.
func TestAWheelsMarkingIsNotLoosened(t *testing.T) {
	const test = "{test: surface speed, diameter: 6 in, rpm: 5000 rpm, marked: "
	for _, tc := range []struct {
		own, test, result string
		verdict           quantity.Verdict
	}{
		{"speed against its marking, limit: <= 6000 rpm", test + "4140 rpm}", "speed against its marking", quantity.Outside},
		{"speed against its marking, limit: <= 6000 rpm", test + "5000 rpm}", "speed against its marking", quantity.Inside},
		{"speed against its marking, limit: <= 4900 rpm", test + "5000 rpm}", "speed against its marking", quantity.Outside},
		{"rest gap, limit: <= 0.25 in", test + "5000 rpm, rest: 0.2 in}", "rest gap", quantity.Outside},
		{"rest gap, limit: <= 0.1 in", test + "5000 rpm, rest: 0.11 in}", "rest gap", quantity.Outside},
	} {
		if r := sound(t, "limits: [{what: "+tc.own+", source: book}]\n", tc.test).result(t, tc.result); r.Verdict != tc.verdict || len(r.Limits) != 2 {
			t.Errorf("%s, own %s: %+v, want %s", tc.test, tc.own, r, tc.verdict)
		}
	}
}

// A bore that is smaller than when new, or a journal that is larger, by more than the
// figure of its size when new is rounded, has another size when new.
func TestWearBelowNothingIsHeldAgainstNoLimit(t *testing.T) {
	const own = "limits: [{what: journal wear, limit: <= 0.001 in, source: book}]\n"
	for _, tc := range []struct {
		test, result string
		verdict      quantity.Verdict
	}{
		{"bore, standard: 68 mm, top: [67.5 mm, 67.5 mm], bottom: [67.5 mm, 67.5 mm]", "bore wear below nothing", quantity.NotLimited},
		{"bore, standard: 68 mm, top: [67.94 mm, 67.5 mm], bottom: [67.5 mm, 67.5 mm]", "bore wear", quantity.Inside},
		{"bore, standard: 68 mm, top: [67.93 mm, 67.5 mm], bottom: [67.5 mm, 67.5 mm]", "bore wear below nothing", quantity.NotLimited},
		{"bore, standard: 68 mm, top: [67.93 mm, 67.5 mm], bottom: [67.5 mm, 67.5 mm], gauge: 0.01 mm", "bore wear", quantity.Inside},
		{"journal, standard: 1.000 in, front: [1.010 in, 1.010 in], rear: [1.010 in, 1.010 in]", "journal wear below nothing", quantity.NotLimited},
		{"journal, standard: 1.000 in, front: [1.010 in, 1.010 in], rear: [1.010 in, 0.995 in]", "journal wear", quantity.Outside},
	} {
		o := sound(t, own, "{test: "+tc.test+"}")
		if r := o.result(t, tc.result); r.Verdict != tc.verdict || (r.Limit == "") != (tc.verdict == quantity.NotLimited) {
			t.Errorf("%s: %+v, want %s", tc.test, r, tc.verdict)
		}
	}
}

// Two collars that read alike may be apart by twice what the tool may be off, and the
// error is half of that; by hand.
func TestTwoCollarsThatReadAlike(t *testing.T) {
	for _, tc := range []struct {
		far, accuracy string
		verdict       quantity.Verdict
	}{
		{"1.2500 in", "0.0001 in", quantity.TooClose},
		{"1.2501 in", "0.0001 in", quantity.TooClose},
		{"1.2499 in", "0.0001 in", quantity.TooClose},
		{"1.2504 in", "0.0001 in", quantity.Outside},
		{"1.2496 in", "0.0001 in", quantity.Outside},
	} {
		r := sound(t, "limits: [{what: two-collar error, limit: <= 0.00009 in, source: book}]\n",
			"{test: two-collar test, near: 1.2500 in, apart: 6 in, gauge: 0.0001 in, far: "+tc.far+"}").Results[0]
		if r.Verdict != tc.verdict || r.Accuracy != tc.accuracy || r.Quantity.Sign() < 0 {
			t.Errorf("%s: %+v, want %s", tc.far, r, tc.verdict)
		}
	}
}
