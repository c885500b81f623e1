package benchtest

import (
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// FAA AC 43.13-1B, paragraph 8-14: a loss in excess of 25 percent of the input
// pressure makes a cylinder suspect; 60/80 is just 25 % and not in excess.
func TestLeakDownAgainstTheFAA(t *testing.T) {
	for _, tc := range []struct {
		test, value string
		verdict     quantity.Verdict
	}{
		{"regulated: 80 psi, cylinder: 80 psi", "0 %", quantity.Inside},
		{"regulated: 80 psi, cylinder: 76 psi", "5.00 %", quantity.Inside},
		{"regulated: 80 psi, cylinder: 60 psi", "25.0 %", quantity.Inside},
		{"regulated: 80 psi, cylinder: 59 psi", "26.2 %", quantity.Outside}, // 26.25 %, a final 5 to the even digit
		{"regulated: 80 psi, cylinder: 0 psi", "100 %", quantity.Outside},
		{"regulated: 80 psi, cylinder: 59 psi, gauge: 1 psi", "26.2 %", quantity.TooClose},
		{"regulated: 100 psi, cylinder: 75 psi", "25.0 %", quantity.Inside},
		{"regulated: 5 bar, cylinder: 300 kPa", "40.0 %", quantity.Outside},
		{"loss: 26 %", "26 %", quantity.Outside},
		{"loss: 100 %", "100 %", quantity.Outside},
		{"loss: 26 %, gauge: 2 %", "26 %", quantity.TooClose},
	} {
		r := sound(t, single, "{test: leak-down, "+tc.test+"}").result(t, "leak-down, cylinder 1")
		if r.Value != tc.value || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s, %s; want %s, %s", tc.test, r.Value, r.Verdict, tc.value, tc.verdict)
		}
	}
}

// The losses that 80 and 72 psi allow at 1 psi go from (79-73)/79, 7.59 %, to
// (81-71)/81, 12.35 %; the wider departure from 10 % is the lower one.
func TestLeakDownCarriesTheGaugeOver(t *testing.T) {
	r := sound(t, single, "{test: leak-down, regulated: 80 psi, cylinder: 72 psi, gauge: 1 psi}").result(t, "leak-down, cylinder 1")
	want := 10 - 100.0*(79-73)/79
	if got := r.Gauge.Size().Float(); got-want > 1e-12 || want-got > 1e-12 {
		t.Errorf("got %v points, want %v", got, want)
	}
}

func TestWhereTheAirIsHeard(t *testing.T) {
	for _, word := range heardWords {
		o := sound(t, single, "{test: leak-down, regulated: 80 psi, cylinder: 50 psi, heard: "+word+", gauge: 1 psi}")
		if len(o.Says) != 2 || o.says("does not say where") || !o.says("cylinder 1") {
			t.Errorf("%s: says %q", word, o.Says)
		}
	}
	if o := sound(t, single, "{test: leak-down, loss: 12 %}"); !o.says("does not say where the air was heard") {
		t.Errorf("says %q", o.Says)
	}
}

func TestLossFallsAsTheCylinderHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.IntRange(10, 150).Draw(t, "in")
		low := rapid.IntRange(0, in-1).Draw(t, "low")
		high := rapid.IntRange(low+1, in).Draw(t, "high")
		a, b := fallBelow(whole(low, quantity.Psi).Base(), whole(in, quantity.Psi).Base()), fallBelow(whole(high, quantity.Psi).Base(), whole(in, quantity.Psi).Base())
		if a.Cmp(b) <= 0 || b.Sign() < 0 {
			t.Fatalf("in %d, cylinder %d: %v, %d: %v", in, low, a, high, b)
		}
	})
}
