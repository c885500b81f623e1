package benchtest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTipSpeedRisesWithBladeAndSpeed(t *testing.T) {
	speed := func(tenths, rpm int) float64 {
		return direct(t, fmt.Sprintf("{test: blade tip speed, blade: %d.%d in, spindle_rpm: %d rpm}", tenths/10, tenths%10, rpm)).
			result(t, "blade tip speed").number()
	}
	rapid.Check(t, func(r *rapid.T) {
		blade, rpm := rapid.IntRange(80, 300).Draw(r, "tenths of an inch"), rapid.IntRange(500, 5000).Draw(r, "rpm")
		got := speed(blade, rpm)
		if got >= speed(blade+1, rpm) || got >= speed(blade, rpm+1) {
			r.Fatal("the tip speed does not rise")
		}
		if want := math.Pi * float64(blade) / 120 * float64(rpm); math.Abs(got/want-1) > 1e-12 {
			r.Fatalf("got %v, want %v", got, want)
		}
	})
}
