package benchtest

import (
	"math/big"
	"testing"

	"asleft/generator/quantity"
)

// Exact: fuel/ratio, the U.S. gallon being 128 fl oz (NIST Handbook 44,
// Appendix C). The usual tables round 2.56 fl oz to 2.6; two gallons are 5.12
// all the same, not 5.2.
func TestFuelMix(t *testing.T) {
	for _, tc := range []struct {
		fuel, ratio string
		want        *big.Rat
		unit        quantity.Unit
	}{
		{"1 gal", "50:1", big.NewRat(256, 100), quantity.FluidOunce},
		{"5 gal", "50", big.NewRat(128, 10), quantity.FluidOunce},
		{"2 gal", "50 : 1", big.NewRat(512, 100), quantity.FluidOunce},
		{"1 gal", "40:1", big.NewRat(32, 10), quantity.FluidOunce},
		{"1 gal", "32:1", big.NewRat(4, 1), quantity.FluidOunce},
		{"1 L", "50:1", big.NewRat(20, 1), quantity.Milliliter},
		{"1 L", "40:1", big.NewRat(25, 1), quantity.Milliliter},
		{"1000 mL", "32:1", big.NewRat(3125, 100), quantity.Milliliter},
	} {
		r := sound(t, plainMachine, "{test: fuel mix, fuel: "+tc.fuel+", ratio: \""+tc.ratio+"\"}").result(t, "oil to add")
		if r.Quantity.Rat().Cmp(tc.want) != 0 || r.Quantity.Unit() != tc.unit {
			t.Errorf("%s at %s: got %v, want %v %s", tc.fuel, tc.ratio, r.Quantity, tc.want, tc.unit)
		}
	}
}

func TestFuelMixAsMade(t *testing.T) {
	for _, tc := range []struct{ test, value, says string }{
		{"fuel: 1 gal, oil: 2.56 fl oz", "50.0 to 1", "makes a mix of 50.0 to 1."},
		{"fuel: 1 gal, oil: 2 fl oz, ratio: 50", "64.0 to 1", "less oil than asked"},
		{"fuel: 1 gal, oil: 4 fl oz, ratio: 50", "32.0 to 1", "more oil than asked"},
		{"fuel: 1 gal, oil: 2.6 fl oz, ratio: 50, gauge: 0.1 fl oz", "49.2 to 1", "what was asked"},
		{"fuel: 5 L, oil: 100 mL, ratio: 50", "50.0 to 1", "what was asked as far"},
		{"fuel: 5 L, oil: 99.6 mL, ratio: 50", "50.2 to 1", "within 5 %"}, // 0.4 % short seizes nothing
		{"fuel: 5 L, oil: 99.6 mL, ratio: 50, gauge: 0.1 mL", "50.2 to 1", "within 5 %"},
		{"fuel: 5.25 L, oil: 100 mL, ratio: 50", "52.5 to 1", "within 5 %"},
		{"fuel: 5.26 L, oil: 100 mL, ratio: 50", "52.6 to 1", "less oil than asked"},
		{"fuel: 5.26 L, oil: 100 mL, ratio: 50, gauge: 1 mL", "52.6 to 1", "within 5 %"},
		{"fuel: 4.75 L, oil: 100 mL, ratio: 50", "47.5 to 1", "within 5 %"},
		{"fuel: 4.74 L, oil: 100 mL, ratio: 50", "47.4 to 1", "more oil than asked"},
	} {
		o := sound(t, plainMachine, "{test: fuel mix, "+tc.test+"}")
		if r := o.result(t, "mix as made"); r.Value != tc.value || !o.says(tc.says) {
			t.Errorf("%s: got %s, says %q", tc.test, r.Value, o.Says)
		}
	}
}

func TestOilConsumption(t *testing.T) {
	machine := "limits:\n  - {what: oil consumption, limit: \"<= 20 mL\", source: maker's sheet}\n"
	for _, tc := range []struct {
		test, value string
		verdict     quantity.Verdict
		says        string
	}{
		{"start: 600 mL, end: 555 mL, ran: 5 h", "9.0 mL an hour", quantity.Inside, "used 9.0 mL an hour"},
		{"start: 600 mL, end: 500 mL, added: 50 mL, ran: 300 min", "30 mL an hour", quantity.Outside, "more than the limit"},
		{"start: 0.6 L, end: 0.5 L, ran: 5 h, gauge: 10 mL", "0.020 L an hour", quantity.TooClose, "used 0.020 L an hour"},
		{"start: 600 mL, end: 600 mL, ran: 2 h, gauge: 10 mL", "0 mL an hour", quantity.Inside, "too little to measure"},
	} {
		o := sound(t, machine, "{test: oil consumption, "+tc.test+"}")
		if r := o.result(t, "oil used per hour"); r.Value != tc.value || r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, %s, says %q", tc.test, r.Value, r.Verdict, o.Says)
		}
	}
}

// A level that rises is no consumption, and lies in no limit for one.
func TestOilLevelThatRises(t *testing.T) {
	machine := "limits:\n  - {what: oil consumption, limit: \"<= 20 mL\", source: maker's sheet}\n"
	for test, rose := range map[string]bool{
		"start: 600 mL, end: 650 mL, ran: 2 h, gauge: 10 mL": true, "start: 600 mL, end: 601 mL, ran: 2 h": true,
		"start: 600 mL, end: 601 mL, ran: 2 h, gauge: 10 mL": false, "start: 600 mL, end: 600 mL, ran: 2 h": false,
		"start: 600 mL, end: 620 mL, ran: 2 h, gauge: 10 mL": false, "start: 600 mL, end: 621 mL, ran: 2 h, gauge: 10 mL": true,
	} {
		o := sound(t, machine, "{test: oil consumption, "+test+"}")
		inside := len(o.Results) == 1 && o.Results[0].Verdict == quantity.Inside
		if o.says("fuel or coolant") != rose || inside == rose {
			t.Errorf("%s: %+v, %q", test, o.Results, o.Says)
		}
	}
	if r := sound(t, machine, "{test: oil consumption, start: 600 mL, end: 650 mL, ran: 2 h}").result(t, "rise of the oil level per hour"); r.Value != "25 mL an hour" {
		t.Errorf("%+v", r)
	}
}

// By hand: 21 fl oz in 45 min are 28 an hour; 1.2 gal are 153.6 fl oz and last
// 153.6/28 h; 900 W over 45 min are 0.675 kWh, so 21/0.675 fl oz for each.
func TestFuelRate(t *testing.T) {
	o := sound(t, plainMachine, "{test: fuel rate, used: 21 fl oz, ran: 45 min, tank: 1.2 gal, load: 0.9 kW}")
	for name, want := range map[string]*big.Rat{
		"fuel used per hour": big.NewRat(28, 1), "run time on a tank": big.NewRat(1536, 280), "fuel for each kWh": big.NewRat(21_000, 675),
	} {
		if r := o.result(t, name); r.Quantity.Rat().Cmp(want) != 0 {
			t.Errorf("%s: got %v, want %v", name, r.Quantity.Rat(), want)
		}
	}
}
