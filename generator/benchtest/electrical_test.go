package benchtest

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/quantity"
)

// 9.6 V at 70 degF is the load test of the trade (verified at second hand); the
// other points are the common trade table, read at second hand. Between them: a
// straight line. Above 70 degF the limit stays; below 10 degF there is none, for
// its sources differ at 0 degF.
func TestCrankingLimitByTemperature(t *testing.T) {
	for at, want := range map[string]string{
		"": ">= 9.60 V", "90 degF": ">= 9.60 V", "70 degF": ">= 9.60 V", "60 degF": ">= 9.50 V", "50 degF": ">= 9.40 V",
		"40 degF": ">= 9.30 V", "30 degF": ">= 9.10 V", "20 degF": ">= 8.90 V", "10 degF": ">= 8.70 V", "0 degF": "", "9 degF": "",
		"65 degF": ">= 9.55 V", "35 degF": ">= 9.20 V", "15 degF": ">= 8.80 V", "10 degC": ">= 9.40 V", "-1 degF": "",
		"50 degF, nominal: 6 V": ">= 4.70 V",
	} {
		volts := "9.0 V"
		if want == ">= 4.70 V" {
			volts = "4.5 V"
		}
		test := "{test: cranking, volts: " + volts + "}"
		if at != "" {
			test = "{test: cranking, volts: " + volts + ", temperature: " + at + "}"
		}
		o := sound(t, plainMachine, test)
		if got := o.result(t, "lowest voltage while cranking").Limit; got != want {
			t.Errorf("%q: got %q, want %q", at, got, want)
		}
		if said := o.says("limit for 70 degF"); said != (at == "") {
			t.Errorf("%q: %q", at, o.Says)
		}
	}
}

func TestCrankingVerdicts(t *testing.T) {
	for _, tc := range []struct {
		test    string
		verdict quantity.Verdict
		says    string
	}{
		{"{test: cranking, volts: 9.6 V, temperature: 70 degF}", quantity.Inside, "The cables and the starter were not measured"},
		{"{test: cranking, volts: 9599 mV, temperature: 70 degF}", quantity.Outside, "points to a weak or flat battery"},
		{"{test: cranking, volts: 9.6 V, temperature: 70 degF, gauge: 0.5 %}", quantity.TooClose, "too close"},
		{"{test: cranking, volts: 9.0 V, temperature: -20 degC}", quantity.NotLimited, "No limit was given"},
	} {
		o := sound(t, plainMachine, tc.test)
		if got := o.Results[0].Verdict; got != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, %q", tc.test, got, o.Says)
		}
	}
	o := sound(t, plainMachine, "{test: cranking, volts: 10.10 V, before: 12.5 V, gauge: 0.05 V}")
	if r := o.result(t, "drop while cranking"); r.Value != "2.40 V" || r.Gauge.Size().Base().Cmp(big.NewRat(1, 10)) != 0 {
		t.Errorf("got %s ± %s, want 2.40 V ± 0.10 V", r.Value, r.Gauge)
	}
}

// 13 to 15.5 V is from U.S. Army TM 5-3805-254-20-1, malfunction 26, and of systems
// with a regulator. A flywheel alternator without one is judged by its amperes; and
// a low voltage of one of which the log does not say is not judged.
func TestChargingRange(t *testing.T) {
	for volts, want := range map[string]struct {
		verdict quantity.Verdict
		says    string
	}{
		"12.99 V, regulator: regulated": {quantity.Outside, "is low. That points to the stator"}, "13 V": {quantity.Inside, "in its range"},
		"12.99 V":  {quantity.NotLimited, "Say in the test which one"},
		"14200 mV": {quantity.Inside, "in its range"}, "15.5 V": {quantity.Inside, "in its range"},
		"15.51 V":                                   {quantity.Outside, "is high. That points to the regulator"},
		"12.9 V, regulator: unregulated":            {quantity.NotLimited, "the amperes count"},
		"15.6 V, regulator: unregulated":            {quantity.NotLimited, "the amperes count"},
		"13.05 V, gauge: 0.1 V":                     {quantity.TooClose, "too close"},
		"13.05 V, gauge: 0.05 V":                    {quantity.Inside, "in its range"},
		"6.5 V, nominal: 6 V":                       {quantity.Inside, "in its range"},
		"6.4 V, nominal: 6 V, regulator: regulated": {quantity.Outside, "is low"}, "7.8 V, nominal: 6 V": {quantity.Outside, "is high"},
	} {
		o := sound(t, plainMachine, "{test: charging, volts: "+volts+"}")
		if got := o.result(t, "charging voltage").Verdict; got != want.verdict || !o.says(want.says) {
			t.Errorf("%s: got %s, %q", volts, got, o.Says)
		}
	}
}

// A maker's figures for an alternator of 3 A without a regulator: 2 A at 2400 rpm.
func TestChargingByAmperes(t *testing.T) {
	limit := "limits: [{what: charging current, limit: \">= 2 A\", source: maker's book}]\n"
	for amps, want := range map[string]struct {
		verdict quantity.Verdict
		says    string
	}{
		"2 A": {quantity.Inside, "the amperes count"}, "1.99 A": {quantity.Outside, "The charging current of 1.99 A is low"},
		"2.05 A, amps_gauge: 0.1 A": {quantity.TooClose, "the amperes count"}, "0 A": {quantity.Outside, "No current flowed"},
	} {
		o := sound(t, limit, "{test: charging, volts: 12.9 V, regulator: unregulated, amps: "+amps+"}")
		if got := o.result(t, "charging current").Verdict; got != want.verdict || !o.says(want.says) {
			t.Errorf("%s: got %s, %q", amps, got, o.Says)
		}
	}
}

// A rise of less than 0.2 V does not show that it charges: common practice, no
// source, and no verdict.
func TestChargingRise(t *testing.T) {
	for test, says := range map[string]string{
		"volts: 13.2 V, before: 13.15 V": "rose by only 0.05 V", "volts: 13.2 V, before: 13.001 V": "rose by only", "volts: 13.2 V, before: 13.0 V": "in its range",
		"volts: 13.2 V, before: 13.2 V": "did not rise", "volts: 6.6 V, before: 6.51 V, nominal: 6 V": "rose by only",
	} {
		o := sound(t, plainMachine, "{test: charging, "+test+"}")
		if small := o.says("rose by only"); !o.says(says) || small != (says != "in its range" && says != "did not rise") {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
}

// Less than 0.5 V AC: common practice, no source.
func TestChargingRippleAndRise(t *testing.T) {
	o := sound(t, plainMachine, "{test: charging, volts: 12.4 V, before: 12.5 V, ripple: 0.5 V, ripple_gauge: 0.001 V}")
	if r := o.result(t, "AC ripple"); r.Verdict != quantity.TooClose {
		t.Errorf("0.5 V ± 0.001 V: %s", r.Verdict)
	}
	if r := o.result(t, "rise over the engine off"); r.Value != "-0.1 V" || !o.says("points to a system that does not charge") {
		t.Errorf("got %s, %q", r.Value, o.Says)
	}
	if at := sound(t, plainMachine, "{test: charging, volts: 14 V, ripple: 0.5 V}"); at.result(t, "AC ripple").Verdict != quantity.Outside {
		t.Error("0.5 V is not less than 0.5 V")
	}
	if bad := sound(t, plainMachine, "{test: charging, volts: 14 V, ripple: 600 mV}"); !bad.says("points to a bad diode") {
		t.Errorf("600 mV: %q", bad.Says)
	}
	if still := sound(t, plainMachine, "{test: charging, volts: 14 V, ripple: 0 V}"); still.result(t, "AC ripple").Verdict != quantity.Inside {
		t.Error("no ripple at all is inside the limit")
	}
}

// 0.20 V per 100 A and 0.4 V on the positive cable while cranking are from U.S.
// Army TM 10-3930-671-24; 0.12 V per 100 A on 6 V is SAE J541, read at second
// hand; 0.2 V on the ground side is common practice, no source.
func TestVoltageDrop(t *testing.T) {
	const whole, per100 = "voltage drop", "voltage drop per 100 A"
	for _, tc := range []struct {
		test, result, value string
		verdict             quantity.Verdict
	}{
		{"volts: 0.40 V, side: positive, load: cranking", whole, "0.40 V", quantity.Inside},
		{"volts: 401 mV, side: positive, load: cranking", whole, "401 mV", quantity.Outside},
		{"volts: 0.20 V, side: ground, load: cranking", whole, "0.20 V", quantity.Inside},
		{"volts: 0.21 V, side: ground, load: cranking", whole, "0.21 V", quantity.Outside},
		{"volts: 0.21 V, side: ground, load: other", whole, "0.21 V", quantity.NotLimited},
		{"volts: 0.21 V, side: ground, load: cranking, nominal: 6 V", whole, "0.21 V", quantity.NotLimited},
		{"volts: 0.30 V, side: positive, load: cranking, current: 150 A", per100, "0.20 V", quantity.Inside},
		{"volts: 0.31 V, side: positive, load: cranking, current: 150 A", per100, "0.21 V", quantity.Outside},
		{"volts: 100 mV, side: ground, load: other, current: 5 A", per100, "2.0 V", quantity.NotLimited}, // of starting circuits only
		{"volts: 1 mV, side: ground, load: other, current: 5 A", per100, "0.020 V", quantity.NotLimited},
		{"volts: 0.30 V, side: positive, load: cranking, current: 150 A, current_gauge: 1 A", per100, "0.20 V", quantity.TooClose},
		{"volts: 0.12 V, side: ground, load: cranking, current: 100 A, nominal: 6 V", per100, "0.12 V", quantity.Inside},
		{"volts: 0.13 V, side: ground, load: cranking, current: 100 A, nominal: 6 V", per100, "0.13 V", quantity.Outside},
	} {
		o := sound(t, plainMachine, "{test: voltage drop, "+tc.test+"}")
		if r := o.result(t, tc.result); r.Value != tc.value || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s, %s", tc.test, r.Value, r.Verdict)
		}
	}
	if o := sound(t, plainMachine, "{test: voltage drop, volts: 0.3 V, side: ground, load: other, current: 5 A}"); !o.says("No limit was found for circuits other") {
		t.Errorf("%q", o.Says)
	}
	// The whole passes, what is lost for the current does not: the worse counts.
	o := sound(t, plainMachine, "{test: voltage drop, volts: 0.3 V, side: positive, load: cranking, current: 100 A}")
	if !o.says("points to a dirty or loose joint") || len(o.Drawing.Points) != 2 {
		t.Errorf("%q, %+v", o.Says, o.Drawing)
	}
	if r := o.result(t, "cable resistance"); r.Value != "3.0 mohm" {
		t.Errorf("0.3 V at 100 A: got %s, want 3.0 mohm", r.Value)
	}
}

// More current for the same drop is never a worse cable, and the gauge takes
// volts up with amperes down: (v + a)/(i - b).
func TestVoltageDropProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		mv, amps := rapid.Int64Range(1, 900).Draw(r, "mV"), rapid.Int64Range(20, 300).Draw(r, "A")
		test := "{test: voltage drop, volts: %d mV, side: positive, load: cranking, current: %d A, gauge: 1 mV, current_gauge: 2 A}"
		got := direct(t, fmt.Sprintf(test, mv, amps)).result(t, "voltage drop per 100 A")
		more := direct(t, fmt.Sprintf(test, mv, amps+10)).result(t, "voltage drop per 100 A")
		if got.Quantity.Base().Cmp(big.NewRat(mv, 10*amps)) != 0 || more.Quantity.Base().Cmp(got.Quantity.Base()) >= 0 {
			r.Fatalf("%d mV, %d A: got %s, at 10 A more %s", mv, amps, got.Value, more.Value)
		}
		off := new(big.Rat).Sub(big.NewRat(mv+1, 10*(amps-2)), big.NewRat(mv, 10*amps))
		if got.Gauge.Size().Base().Cmp(off) != 0 {
			r.Fatalf("%d mV, %d A: gauge %s, want %s", mv, amps, got.Gauge, off.FloatString(4))
		}
	})
}

// Plain arithmetic: 24 A·h at 50 mA last 480 h, which is 20 days; 12 A·h of
// them 10 days.
func TestDaysUntilFlat(t *testing.T) {
	o := sound(t, plainMachine, "{test: parasitic draw, current: 50 mA, amp_hours: 24}")
	if r := o.result(t, "time until flat"); r.Value != "20 days (480 h)" {
		t.Errorf("got %s", r.Value)
	}
	if r := o.result(t, "time until half full"); r.Value != "10 days (240 h)" {
		t.Errorf("got %s", r.Value)
	}
	half := sound(t, plainMachine, "{test: parasitic draw, current: 0.05 A, amp_hours: 24, charge: 50 %}")
	if r := half.result(t, "time until flat"); r.Value != "10 days (240 h)" || len(half.Results) != 2 {
		t.Errorf("from half: got %s of %d results", r.Value, len(half.Results))
	}
	if one := sound(t, plainMachine, "{test: parasitic draw, current: 1 A, amp_hours: 47.9}"); one.result(t, "time until flat").Value != "1 day (48 h)" {
		t.Errorf("a day that is not whole must not be counted: %+v", one.Results)
	}
	for test, says := range map[string]string{
		"current: 0 mA, amp_hours: 24": "no draw", "current: 1 mA, amp_hours: 24, gauge: 1 mA": "too small for this meter",
		"current: 0.1 mA, amp_hours: 99": "more than 10,000 days",
	} {
		if o := sound(t, plainMachine, "{test: parasitic draw, "+test+"}"); !o.says(says) {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
	limit := "limits: [{what: parasitic draw, limit: <= 20 mA, source: maker's book}]\n"
	if o := sound(t, limit, "{test: parasitic draw, current: 0.03 A, amp_hours: 24}"); !o.says("points to a switch that stays on") {
		t.Errorf("over the limit: %q", o.Says)
	}
}
