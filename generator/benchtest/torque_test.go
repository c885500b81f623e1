package benchtest

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"asleft/generator/quantity"
)

// T = K D F (common practice, no source) of worked examples: M16 with 50 kN at
// K 0.2 is 160 N·m; M12 with 10 kN is 24 N·m; 3/8 in with 4940 lbf at 0.20 is
// 30.875 lbf-ft, at 0.15 it is 23.156 lbf-ft.
func TestClampForce(t *testing.T) {
	lbfft, lbf := quantity.New(big.NewRat(1, 1), 0, quantity.PoundFoot).Base(), 4.4482216152605
	for _, tc := range []struct {
		t, k, d *big.Rat
		want    float64 // N
	}{
		{big.NewRat(160, 1), big.NewRat(20, 100), big.NewRat(16, 1000), 50_000},
		{big.NewRat(24, 1), big.NewRat(20, 100), big.NewRat(12, 1000), 10_000},
		{times(big.NewRat(30875, 1000), lbfft), big.NewRat(20, 100), big.NewRat(9525, 1_000_000), 4940 * lbf},
		{times(big.NewRat(2315625, 100_000), lbfft), big.NewRat(15, 100), big.NewRat(9525, 1_000_000), 4940 * lbf},
	} {
		if got := float(clampForce(tc.t, tc.k, tc.d)); math.Abs(got-tc.want)/tc.want > 1e-9 {
			t.Errorf("T %v, K %v, D %v: got %v N, want %v", tc.t, tc.k, tc.d, got, tc.want)
		}
	}
}

// NIST SP 811, Appendix B: 1 lbf-ft is 1.355 818 N·m; a foot is 12 inches.
func TestTorqueInOtherUnits(t *testing.T) {
	o := sound(t, plainMachine, "{test: torque, torque: 100 lbf-ft, diameter: 0.375 in, angle: 90, pitch: 1.5 mm}")
	for name, want := range map[string]string{
		"torque": "100 lbf-ft", "torque in lbf-in": "1200 lbf-in", "torque in N·m": "135.6 N·m", "movement along the thread": "0.38 mm", // 0.375, to the even digit
		"clamp load, about": "16000 lbf (71.2 kN)", // 100 x 12/(0.2 x 0.375) lbf
	} {
		if r := o.result(t, name); r.Value != want {
			t.Errorf("%s: got %s, want %s", name, r.Value, want)
		}
	}
	if !o.says("30 %") || !o.says("0.20") {
		t.Errorf("says %q", o.Says)
	}
}

func TestThreeDigits(t *testing.T) {
	for text, want := range map[string]string{"3839.6": "3840", "0.017123": "0.0171", "17.08": "17.1", "999.6": "1000", "123456": "123000", "100": "100"} {
		r, ok := new(big.Rat).SetString(text)
		if got := threeDigits(r); !ok || got != want && strings.TrimRight(got, "0") != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

// What a formula of floating point comes to at its limit is at it, and not beside it by
// the last digit of the computer: the cosine of 60 degrees is a half, so that 60 lbf-in
// with 12 in and 2 in are 65; 320 Mohm at -20 degC are 5 at 40. An extension that is
// turned back past the hand gives no torque.
func TestAtTheLimitByFloatingPoint(t *testing.T) {
	for test, want := range map[string]quantity.Verdict{
		"torque with an extension, set: 60 lbf-in, wrench: 12 in, extension: 2 in, angle: 60 deg":                                   quantity.Inside,
		"torque with an extension, set: 60.1 lbf-in, wrench: 12 in, extension: 2 in, angle: 60 deg":                                 quantity.Outside,
		"insulation resistance, resistance: 320 Mohm, temperature: -4 degF, winding: random-wound, rated_volts: 240 V, power: 1 kW": quantity.Inside,
		"insulation resistance, resistance: 319 Mohm, temperature: -4 degF, winding: random-wound, rated_volts: 240 V, power: 1 kW": quantity.Outside,
	} {
		o := sound(t, "limits: [{what: torque with an extension, limit: <= 65 lbf-in, source: book}]\n", "{test: "+test+"}")
		if got := o.Results[0].Verdict; got != want {
			t.Errorf("%s: %s, %s; want %s", test, o.Results[0].Value, got, want)
		}
	}
	for _, given := range []string{"set", "torque"} {
		if _, problems := judge(t, "", "{test: torque with an extension, "+given+": 60 lbf-in, wrench: 10 in, extension: 12 in, angle: 180 deg}"); len(problems) != 1 {
			t.Errorf("%s: %v", given, problems)
		}
	}
}
