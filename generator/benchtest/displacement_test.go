package benchtest

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// FAA-H-8083-32, Aviation Maintenance Technician Handbook - Powerplant, from
// memory: 14 cylinders of 5.5 in by 5.5 in sweep 1829.4 cu in. The other
// figures are pi/4 d^2 L n worked out by hand.
func TestDisplacement(t *testing.T) {
	for _, tc := range []struct {
		test  string
		want  float64
		shown string
	}{
		{"bore: 5.5 in, stroke: 5.5 in, cylinders: 14", 1829.389, "1829 cu in (29978 cc)"},
		{"bore: 68 mm, stroke: 54 mm, cylinders: 1", 196.111, "196.1 cc (11.97 cu in)"},
	} {
		r := sound(t, plainMachine, "{test: displacement, "+tc.test+"}").result(t, "displacement")
		if math.Abs(r.number()-tc.want) > 0.001 || r.Value != tc.shown {
			t.Errorf("%s: got %v, %s; want %v, %s", tc.test, r.number(), r.Value, tc.want, tc.shown)
		}
	}
	o := sound(t, "engine: {strokes: 4, cylinders: 2, bore: 68 mm, stroke: 54 mm}\n", "{test: displacement}")
	if r := o.result(t, "displacement"); r.Value != "392.2 cc (23.93 cu in)" || o.Given[0] != (Given{"bore, as the maker built it", "68 mm"}) {
		t.Errorf("got %s of %v", r.Value, o.Given)
	}
}

func TestSweptGrowsWithBoreAndStroke(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := big.NewRat(rapid.Int64Range(1, 10_000).Draw(t, "a"), 10_000)
		b := big.NewRat(rapid.Int64Range(1, 10_000).Draw(t, "b"), 10_000)
		more := new(big.Rat).Add(a, big.NewRat(1, 10_000))
		if swept(more, b).Cmp(swept(a, b)) <= 0 || swept(b, more).Cmp(swept(b, a)) <= 0 {
			t.Fatalf("%v, %v", a, b)
		}
	})
}

// The volumes are worked examples of textbooks: 50 and 5 cu in are 10 to 1; 20
// and 1 are 20 to 1 (an oilfield glossary's definition); 140 and 20 are 7 to 1
// (FAA-H-8083-32, from memory).
func TestRatioOfVolumes(t *testing.T) {
	for _, tc := range []struct{ bottom, top, want int64 }{{50, 5, 10}, {20, 1, 20}, {140, 20, 7}} {
		got := ratioOf(big.NewRat(tc.bottom-tc.top, 1), big.NewRat(tc.top, 1))
		if got.Cmp(big.NewRat(tc.want, 1)) != 0 {
			t.Errorf("%d over %d: got %v, want %d", tc.bottom, tc.top, got, tc.want)
		}
	}
}

// The whole test against the same sum in another form: of a cylinder of unit
// section, heights in mm add up, each volume in cc being height x section.
func TestCompressionRatioAgainstHeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := rapid.IntRange(30, 120).Draw(t, "bore")
		stroke := rapid.IntRange(20, 120).Draw(t, "stroke")
		chamber := rapid.IntRange(10, 200).Draw(t, "chamber")
		gasket := rapid.IntRange(0, 20).Draw(t, "gasket")
		deck := rapid.IntRange(-5, 10).Draw(t, "deck")
		dome := rapid.IntRange(-50, 5).Draw(t, "dome")
		section := math.Pi * float64(bore*bore) / 4 / 100                                                     // cm2
		left := float64(chamber)/section + float64(gasket)/100 + float64(deck)/100 - float64(dome)/10/section // cm
		if left <= 0.05 {
			t.Skip("no room over the piston")
		}
		test := fmt.Sprintf("{test: compression ratio, bore: %d mm, stroke: %d mm, chamber: %d cc, gasket_thickness: %d.%d mm, deck: %s mm, dome: %s cc}",
			bore, stroke, chamber, gasket/10, gasket%10, tenths(deck), tenths(dome))
		r := sound(t, plainMachine, test).result(t, "compression ratio")
		want := (float64(stroke)/10 + left) / left
		if got := r.number() / 100; math.Abs(got-want)/want > 1e-9 {
			t.Fatalf("%s: got %v, want %v", test, got, want)
		}
	})
}

// tenths writes a number of tenths.
func tenths(n int) string {
	if n < 0 {
		return fmt.Sprintf("-%d.%d", -n/10, -n%10)
	}
	return fmt.Sprintf("%d.%d", n/10, n%10)
}

// Common practice, no source: in the inch form the mean piston speed in ft/min
// is stroke (in) x rpm/6. A 3 in stroke at 4000 rpm is 2000 ft/min; 2000 ft/min
// is 10.16 m/s by the definition of the foot.
func TestPistonSpeed(t *testing.T) {
	for test, want := range map[string]string{
		"stroke: 3 in, rpm: 4000 rpm":    "2000 ft/min (10.16 m/s)",
		"stroke: 76.2 mm, rpm: 4000 rpm": "10.16 m/s (2000 ft/min)",
		"stroke: 54 mm, rpm: 3600 rpm":   "6.480 m/s (1276 ft/min)",
	} {
		if r := sound(t, plainMachine, "{test: piston speed, "+test+"}").result(t, "mean piston speed"); r.Value != want || r.Verdict != quantity.NotLimited {
			t.Errorf("%s: got %s, want %s", test, r.Value, want)
		}
	}
}

// What was left out of a compression ratio is told, and how the strokes count.
func TestCompressionRatioSaysWhatItLeftOut(t *testing.T) {
	const bare = "{test: compression ratio, bore: 68 mm, stroke: 54 mm, chamber: 24.5 cc"
	for test, want := range map[string][3]bool{
		bare + "}": {true, true, true}, bare + ", gasket_thickness: 1 mm}": {false, true, true},
		bare + ", deck: 0 mm}": {true, false, true}, bare + ", dome: 0 cc}": {true, true, false},
		bare + ", gasket_thickness: 1 mm, deck: -0.1 mm, dome: 1 cc}": {false, false, false},
	} {
		o := sound(t, "", test)
		got := [3]bool{o.says("head gasket was left out"), o.says("Where the piston stops was left out"), o.says("piston top was left out")}
		if got != want {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
	for strokes, says := range map[string]string{"2": "For a two-stroke some makers", "4": "The ratio comes to", "": "over the whole stroke"} {
		machine := ""
		if strokes != "" {
			machine = "engine: {strokes: " + strokes + ", cylinders: 1}\n"
		}
		if o := sound(t, machine, bare+"}"); !o.says(says) || o.says("two-stroke") != (strokes == "2") {
			t.Errorf("%q: %q", strokes, o.Says)
		}
	}
}
