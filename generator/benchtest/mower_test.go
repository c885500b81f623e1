package benchtest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// Worked example of the trade (common practice, no source): a 21 in blade at
// 3100 rpm is at 17,042 ft/min; without rounding the formula gives 17,043.1.
// The second form is the trade's own, L rpm / 3.82, good to one in 5000.
func TestTipSpeed(t *testing.T) {
	o := sound(t, plainMachine, "{test: blade tip speed, blade: 21 in, spindle_rpm: 3100 rpm}")
	r := o.result(t, "blade tip speed")
	if got := r.number(); math.Abs(got-17042) > 1.5 || math.Abs(got-17043.1) > 0.05 || math.Abs(got/(21*3100/3.82)-1) > 1.0/5000 {
		t.Errorf("got %v ft/min", got)
	}
	if r.Verdict != quantity.Inside {
		t.Errorf("got %s", r.Verdict)
	}
	if got := o.result(t, "spindle speed at 19,000 ft/min").number(); math.Abs(got-3455.9) > 0.05 {
		t.Errorf("19,000 ft/min: got %v rpm, want 3455.9", got)
	}
	for rpm, want := range map[string]quantity.Verdict{
		"3455 rpm": quantity.Inside, "3456 rpm": quantity.Outside, "3440 rpm, gauge: 30 rpm": quantity.TooClose, "3600 rpm": quantity.Outside,
	} {
		o := sound(t, plainMachine, "{test: blade tip speed, blade: 21 in, spindle_rpm: "+rpm+"}")
		if got := o.result(t, "blade tip speed").Verdict; got != want {
			t.Errorf("%s: got %s, want %s", rpm, got, want)
		}
		if o.says("Do not run the mower") != (want == quantity.Outside) {
			t.Errorf("%s: %q", rpm, o.Says)
		}
	}
}

// Below a range is not too fast.
func TestTipSpeedBelowItsRange(t *testing.T) {
	limit := "limits: [{what: blade tip speed, limit: 15000 ft/min to 18000 ft/min, source: maker's book}]\n"
	for rpm, says := range map[string]string{"2700 rpm": "below the limit of 15000 ft/min to 18000 ft/min", "3300 rpm": "which is too fast", "3000 rpm": "within the limit"} {
		if o := sound(t, limit, "{test: blade tip speed, blade: 21 in, spindle_rpm: "+rpm+"}"); !o.says(says) || o.says("too fast") != (rpm == "3300 rpm") {
			t.Errorf("%s: %q", rpm, o.Says)
		}
	}
}

func TestTipSpeedThroughPulleys(t *testing.T) {
	a := sound(t, plainMachine, "{test: blade tip speed, blade: 16 in, engine_rpm: 3300 rpm, engine_pulley: 5 in, spindle_pulley: 4 in}")
	if r := a.result(t, "spindle speed"); r.Value != "4125 rpm" {
		t.Errorf("got %s, want 4125 rpm (3300 x 5/4)", r.Value)
	}
	b := sound(t, plainMachine, "{test: blade tip speed, blade: 406.4 mm, spindle_rpm: 4125 rpm}")
	x, y := a.result(t, "blade tip speed"), b.result(t, "blade tip speed")
	if math.Abs(x.number()/y.number()-1) > 1e-12 || x.Verdict != y.Verdict {
		t.Errorf("got %s and %s", x.Value, y.Value)
	}
	limit := "limits: [{what: blade tip speed, limit: <= 80 m/s, source: maker's book}]\n"
	if r := sound(t, limit, "{test: blade tip speed, blade: 21 in, spindle_rpm: 3100 rpm}").result(t, "blade tip speed"); r.Verdict != quantity.Outside {
		t.Errorf("17,043 ft/min is 86.6 m/s: %s", r.Verdict)
	}
}

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

// 3.0 s: 16 CFR 1205.5(a)(1)(iii), for a cut of 12 in or more (1205.1(b)).
func TestStoppingTime(t *testing.T) {
	for _, tc := range []struct {
		test, limit string
		verdict     quantity.Verdict
	}{
		{"time: 3.0 s, mower: walk-behind rotary", "<= 3.0 s", quantity.Inside},
		{"time: 3.01 s, mower: walk-behind rotary", "<= 3.0 s", quantity.Outside},
		{"time: 0.05 min, mower: walk-behind rotary, cut: 12 in", "<= 3.0 s", quantity.Inside},
		{"time: 2.9 s, mower: walk-behind rotary, gauge: 0.3 s", "<= 3.0 s", quantity.TooClose},
		{"time: 5 s, mower: walk-behind rotary, cut: 11.9 in", "", quantity.NotLimited},
		{"time: [2.1 s, 3.4 s, 2.2 s], mower: walk-behind rotary, cut: 530 mm", "<= 3.0 s", quantity.Outside},
		{"time: 9 s, mower: riding rotary", "", quantity.NotLimited}, // the workplace rule of 15 s proves no brake
		{"time: 3.05 s, mower: walk-behind rotary, gauge: 0.04 s", "<= 3.0 s", quantity.Outside},
		{"time: 5 s, mower: other", "", quantity.NotLimited},
	} {
		o := sound(t, plainMachine, "{test: blade stopping time, "+tc.test+"}")
		r := o.result(t, "blade stopping time")
		if r.Limit != tc.limit || r.Verdict != tc.verdict {
			t.Errorf("%s: got %q, %s", tc.test, r.Limit, r.Verdict)
		}
		if o.says("only the maker's figure counts") != (tc.limit == "") || o.says("Do not use the mower") != (tc.verdict == quantity.Outside) {
			t.Errorf("%s: %q", tc.test, o.Says)
		}
	}
}

func TestStoppingTimeOfTheMakerComesFirst(t *testing.T) {
	limit := "limits: [{what: blade stopping time, limit: <= 5 s, source: maker's book}]\n"
	o := sound(t, limit, "{test: blade stopping time, time: [6 s], mower: riding rotary}")
	r := o.result(t, "blade stopping time")
	if r.Verdict != quantity.Outside || r.Source != "maker's book" || o.says("No rule was found") {
		t.Errorf("got %+v, %q", r, o.Says)
	}
	if o.Given[0].Value != "6 s" {
		t.Errorf("a list of one shows as %q", o.Given[0].Value)
	}
}
