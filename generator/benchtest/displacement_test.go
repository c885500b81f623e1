package benchtest

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

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
		if got := r.number(); math.Abs(got-want)/want > 1e-9 {
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
