package benchtest

import (
	"math"
	"testing"

	"asleft/generator/quantity"
)

// TM 9-8000: 300 lb on a Prony brake of 2 ft at 3000 rpm are 342.55 hp with 6.28 for 2
// pi, 342.72 without rounding. hp = lbf-ft x rpm/5252 (5252.113).
func TestShaftPower(t *testing.T) {
	numbers(t, "shaft power, force: 300 lbf, arm: 2 ft, rpm: 3000 rpm", map[string]float64{"shaft power": 342.72}, 1e-5)
	numbers(t, "shaft power, torque: 600 lbf-ft, rpm: 3000 rpm", map[string]float64{"shaft power": 600 * 3000 / 5252.113}, 1e-6)
	limit := "limits: [{what: shaft power, limit: \">= 5 hp\", source: plate}]\n"
	verdicts(t, limit, []verdictCase{
		{"shaft power, torque: 10 lbf-ft, rpm: 2627 rpm", "shaft power", "", "", quantity.Inside, "within the limit"},
		{"shaft power, torque: 10 lbf-ft, rpm: 2626 rpm", "shaft power", "", "", quantity.Outside, "less than the limit"},
		{"shaft power, torque: 10 lbf-ft, rpm: 2627 rpm, gauge: 1 %", "shaft power", "", "", quantity.TooClose, ""},
	})
	for _, wrong := range []string{"rpm: 3000 rpm", "torque: 10 lbf-ft, force: 3 lbf, rpm: 3000 rpm", "force: 3 lbf, rpm: 3000 rpm"} {
		if _, problems := judge(t, "", "{test: shaft power, "+wrong+"}"); len(problems) == 0 {
			t.Errorf("%s is no test", wrong)
		}
	}
}

// About 7 psi watched for 10 s, and 0.5 bar of vacuum for 20 s, are common practice; by
// hand, 0.5 psi in 10 s are 3 psi in a minute.
func TestCrankcaseLeak(t *testing.T) {
	verdicts(t, "engine: {strokes: 2, cylinders: 1}\n", []verdictCase{
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 6.5 psi, time: 10 s", "crankcase leak by pressure", "0.5 psi", "", quantity.NotLimited, "No figure was found"},
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 6.5 psi, time: 10 s", "leak in a minute", "3.0 psi", "", quantity.NotLimited, "test with both"},
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 0 psi, time: 3 s", "crankcase leak by pressure", "7.0 psi", "", quantity.NotLimited, "points to a seal"},
		{"crankcase leak, with: vacuum, start: 0.5 bar, end: 0.5 bar, time: 20 s", "crankcase leak by vacuum", "0.0 bar", "", quantity.NotLimited, "Nothing was seen to leak in 20 s"},
		{"crankcase leak, with: vacuum, start: 7.0 psi, end: 6.9 psi, time: 20 s, gauge: 0.1 psi", "crankcase leak by vacuum", "", "", quantity.NotLimited, "Nothing was seen"},
	})
	limit := "limits: [{what: crankcase leak by pressure, limit: <= 0.5 psi, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 6.5 psi, time: 10 s", "crankcase leak by pressure", "", "", quantity.Inside, "within the limit"},
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 6.4 psi, time: 10 s", "crankcase leak by pressure", "", "", quantity.Outside, "points to a seal"},
	})
	if _, problems := judge(t, "", "{test: crankcase leak, with: vacuum, start: 7 psi, end: 8 psi, time: 9 s}"); len(problems) != 1 {
		t.Errorf("%v", problems)
	}
	for strokes, odd := range map[string]bool{"4": true, "2": false} {
		machine := "engine: {strokes: " + strokes + ", cylinders: 1}\n"
		leak := sound(t, machine, "{test: crankcase leak, with: vacuum, start: 7 psi, end: 6 psi, time: 9 s}")
		valves := sound(t, machine, "{test: valve clearance, state: hot, intake: 0.1 mm}")
		if leak.says("Check which is right") != odd || valves.says("no valves to set") == odd {
			t.Errorf("%s strokes: %q, %q", strokes, leak.Says, valves.Says)
		}
	}
}

// 62.0 to 60.0 Hz at 60 Hz is a droop of 3.33 % of the rated (TM 9-6115-464-34, 4-14) and
// of the full-load value (TM 55-1930-209-14&P-9-2); so are 3720 to 3600 rpm.
func TestGovernor(t *testing.T) {
	numbers(t, "governor, no_load: 3720 rpm, full_load: 3600 rpm, rated: 3600 rpm", map[string]float64{
		"speed droop": 100.0 / 30, "speed droop, of the full-load speed": 100.0 / 30, "governed speed": 3720,
	}, 1e-9)
	numbers(t, "governor, no_load: 3720 rpm, full_load: 3500 rpm, rated: 3600 rpm", map[string]float64{
		"speed droop": 100 * 220.0 / 3600, "speed droop, of the full-load speed": 100 * 220.0 / 3500,
	}, 1e-9)
	limits := "limits:\n  - {what: governed speed, limit: 3600 rpm +- 100 rpm, source: plate}\n  - {what: hunting, limit: <= 30 rpm, source: maker's book}\n  - {what: speed droop, limit: <= 5 %, source: maker's book}\n"
	verdicts(t, limits, []verdictCase{
		{"governor, no_load: 3700 rpm", "governed speed", "", "", quantity.Inside, "The governor holds"},
		{"governor, no_load: 3701 rpm", "governed speed", "", "", quantity.Outside, "above the limit. Do not run it"},
		{"governor, no_load: 3499 rpm", "governed speed", "", "", quantity.Outside, "below the limit"},
		{"governor, no_load: 3699 rpm, gauge: 2 rpm", "governed speed", "", "", quantity.TooClose, "too close"},
		{"governor, no_load: 3600 rpm, high: 3615 rpm, low: 3585 rpm", "hunting", "30 rpm", "", quantity.Inside, "swings by 30 rpm"},
		{"governor, no_load: 3600 rpm, high: 3616 rpm, low: 3585 rpm", "hunting", "", "", quantity.Outside, "a lean mix"},
		{"governor, no_load: 3600 rpm, high: 3610 rpm, low: 3600 rpm, gauge: 5 rpm", "hunting", "", "", quantity.Inside, "less than this tool"},
		{"governor, no_load: 3680 rpm, full_load: 3500 rpm, rated: 3600 rpm", "speed droop", "5.00 %", "", quantity.Inside, "falls by 5.00 %"},
		{"governor, no_load: 3681 rpm, full_load: 3500 rpm, rated: 3600 rpm", "speed droop", "", "", quantity.Outside, "setting of the governor"},
		{"governor, no_load: 3600 rpm, full_load: 3650 rpm", "speed change under load", "", "", quantity.NotLimited, "rose under load"},
	})
	for _, wrong := range []string{"no_load: 3600 rpm, high: 3700 rpm", "no_load: 3600 rpm, high: 3500 rpm, low: 3600 rpm"} {
		if _, problems := judge(t, "", "{test: governor, "+wrong+"}"); len(problems) != 1 {
			t.Errorf("%s: %v", wrong, problems)
		}
	}
}

// SAE J1349 (June 1990) as three texts quote it: 1.0470 at 960 mbar dry and 30 degC,
// 1.0000 at 990 mbar and 25 degC, worked out from it.
func TestStandardAir(t *testing.T) {
	numbers(t, "standard air, power: 10 hp, pressure: 960 mbar, temperature: 30 degC", map[string]float64{"air factor": 104.70, "power in standard air": 10.470}, 5e-5)
	numbers(t, "standard air, power: 10 hp, pressure: 99 kPa, temperature: 77 degF", map[string]float64{"air factor": 100, "power in standard air": 10}, 5e-5)
	if _, problems := judge(t, "", "{test: standard air, power: 10 hp, pressure: 99 psi, temperature: 30 degC}"); len(problems) != 1 {
		t.Errorf("%v", problems)
	}
	limit := "limits: [{what: power in standard air, limit: \">= 10 hp\", source: plate}]\n"
	verdicts(t, limit, []verdictCase{
		{"standard air, power: 9.6 hp, pressure: 960 mbar, temperature: 30 degC", "power in standard air", "", "", quantity.Inside, ""},
		{"standard air, power: 9.5 hp, pressure: 960 mbar, temperature: 30 degC", "power in standard air", "", "", quantity.Outside, "less than the limit"},
	})
}

// TM 1-1500-204-23-9, fig. 8-16: 300 x 10/14 = 214 lbf-in; TM 9-254, fig. 45: 60 lbf-in
// with 12 in and 2 in give 70. At 90 degrees nothing changes; backward the extension
// counts the other way (NAVEDTRA 14008): 135 x 10/8.5 = 158.82, forward 117.39.
func TestTorqueWithAnExtension(t *testing.T) {
	const set, gives = "wrench setting", "torque with an extension"
	for _, tc := range []struct {
		test, result string
		want         float64
	}{
		{"torque: 300 lbf-in, wrench: 10 in, extension: 4 in", set, 3000.0 / 14},
		{"set: 60 lbf-in, wrench: 12 in, extension: 2 in", gives, 70},
		{"torque: 300 lbf-in, wrench: 10 in, extension: 4 in, angle: 90 deg", set, 300},
		{"torque: 135 lbf-in, wrench: 10 in, extension: 1.5 in, angle: 180 deg", set, 158.8235},
		{"torque: 135 lbf-in, wrench: 10 in, extension: 1.5 in", set, 117.3913},
		{"set: 60 lbf-in, wrench: 12 in, extension: 2 in, angle: 60 deg", gives, 65},
	} {
		numbers(t, "torque with an extension, "+tc.test, map[string]float64{tc.result: tc.want}, 1e-5)
	}
	limit := "limits: [{what: torque with an extension, limit: 60 lbf-in to 70 lbf-in, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"torque with an extension, set: 60 lbf-in, wrench: 12 in, extension: 2 in", gives, "", "", quantity.Inside, "The bolt got"},
		{"torque with an extension, set: 60.1 lbf-in, wrench: 12 in, extension: 2 in", gives, "", "", quantity.Outside, "may stretch"},
		{"torque with an extension, set: 51 lbf-in, wrench: 12 in, extension: 2 in", gives, "", "", quantity.Outside, "may come loose"},
		{"torque with an extension, set: 59 lbf-in, wrench: 12 in, extension: 2 in, gauge: 4 %", gives, "", "", quantity.TooClose, ""},
	})
	for _, wrong := range []string{"wrench: 10 in, extension: 4 in", "torque: 9 N·m, set: 9 N·m, wrench: 10 in, extension: 4 in", "torque: 9 N·m, wrench: 1 in, extension: 4 in, angle: 180 deg"} {
		if _, problems := judge(t, "", "{test: torque with an extension, "+wrong+"}"); len(problems) != 1 {
			t.Errorf("%s: %v", wrong, problems)
		}
	}
}

// Pages of calculators (common practice, no source): M16, 50 kN and 0.2 are 160 N·m, M12
// and 10 kN 24 N·m, 3/8 in and 4940 lbf 30.875 lbf-ft, and with 0.15 23.156.
func TestBoltPreload(t *testing.T) {
	for test, want := range map[string]float64{
		"preload: 50000 N, diameter: 16 mm": 160, "preload: 10000 N, diameter: 12 mm, nut_factor: 0.2": 24,
		"preload: 4940 lbf, diameter: 3/8 in": 30.875, "preload: 4940 lbf, diameter: 0.375 in, nut_factor: 0.15": 23.15625,
	} {
		numbers(t, "bolt preload, "+test, map[string]float64{"torque for the preload": want}, 1e-9)
	}
	if o := sound(t, "", "{test: bolt preload, preload: 50000 N, diameter: 16 mm}"); !o.says("30 % harder") {
		t.Errorf("%q", o.Says)
	}
	if _, problems := judge(t, "", "{test: bolt preload, preload: 5 N, diameter: 16 mm, nut_factor: 1}"); len(problems) != 1 {
		t.Errorf("%v", problems)
	}
}

// Two makers of chain, after ANSI B29.1: ten pitches of 1/2 in are at 3 % 5.150 in; 3 %
// to 66 teeth, 200/N % above, 1.5 % on fixed shafts.
func TestRollerChain(t *testing.T) {
	const what = "roller chain wear"
	verdicts(t, "", []verdictCase{
		{what + ", length: 5.150 in, pitches: 10, pitch: 0.5 in", what, "3.00 %", "<= 3 %", quantity.Inside, "within the limit"},
		{what + ", length: 5.151 in, pitches: 10, pitch: 0.5 in", what, "3.02 %", "<= 3 %", quantity.Outside, "Replace it"},
		{what + ", length: 5.145 in, pitches: 10, pitch: 0.5 in, gauge: 0.01 in", what, "", "", quantity.TooClose, ""},
		{what + ", length: 5.150 in, pitches: 10, pitch: 0.5 in, teeth: 66", what, "", "<= 3 %", quantity.Inside, ""},
		{what + ", length: 5.125 in, pitches: 10, pitch: 0.5 in, teeth: 80", what, "", "<= 2.5 %", quantity.Inside, ""},
		{what + ", length: 5.126 in, pitches: 10, pitch: 0.5 in, teeth: 80", what, "", "<= 2.5 %", quantity.Outside, ""},
		{what + ", length: 5.075 in, pitches: 10, pitch: 0.5 in, fixed: yes", what, "", "<= 1.5 %", quantity.Inside, ""},
		{what + ", length: 5.076 in, pitches: 10, pitch: 0.5 in, fixed: yes, teeth: 80", what, "", "<= 1.5 %", quantity.Outside, ""},
		{what + ", length: 4.5 in, pitches: 10, pitch: 0.5 in", what, "", "", quantity.Inside, "shorter than new"},
	})
}

// Half the span of three rivets: 3/4 in is the chain of 3/8 in.
func TestSawChain(t *testing.T) {
	numbers(t, "saw chain, span: 3/4 in", map[string]float64{"saw chain pitch": 0.375}, 1e-12)
	limit := "limits: [{what: depth gauge height, limit: 0.020 in to 0.030 in, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"saw chain, span: 0.75 in, depth: [0.030 in, 0.031 in]", "depth gauge height, cutter 2", "", "", quantity.Outside, "may grab and kick back"},
		{"saw chain, span: 0.75 in, depth: [0.030 in, 0.019 in]", "depth gauge height, cutter 2", "", "", quantity.Outside, "cut slowly"},
		{"saw chain, span: 0.75 in, depth: 0.029 in, gauge: 0.002 in", "depth gauge height, cutter 1", "", "", quantity.TooClose, ""},
	})
}

// By geometry the tool strayed by half the difference of the diameters.
func TestTwoCollars(t *testing.T) {
	numbers(t, "two-collar test, near: 1.2500 in, far: 1.2508 in, apart: 6 in", map[string]float64{"two-collar error": 0.0004, "two-collar error for each length": 0.04 / 6}, 1e-9)
	limit := "limits: [{what: two-collar error, limit: <= 0.0004 in, source: maker's sheet}]\n"
	verdicts(t, limit, []verdictCase{
		{"two-collar test, near: 1.2500 in, far: 1.2508 in, apart: 6 in", "two-collar error", "", "", quantity.Inside, "the free end came out larger"},
		{"two-collar test, near: 1.2509 in, far: 1.2500 in, apart: 6 in", "two-collar error", "", "", quantity.Outside, "the free end came out smaller"},
		{"two-collar test, near: 1.2500 in, far: 1.2507 in, apart: 6 in, gauge: 0.0001 in", "two-collar error", "", "", quantity.TooClose, ""},
		{"two-collar test, near: 1.2500 in, far: 1.2500 in, apart: 6 in", "two-collar error", "", "", quantity.Inside, "alike as far as this tool can tell"},
	})
	verdicts(t, "", []verdictCase{
		{"spindle taper, as_found: 0.03 mm, as_left: 0.02 mm, limit: <= 0.02 mm, source: sheet", "spindle taper, as left", "", "", quantity.Inside, "It was left at"},
		{"tailstock height, as_found: 0.041 mm, limit: <= 0.04 mm, source: sheet", "tailstock height, as found", "", "", quantity.Outside, "As found it was"},
	})
}

// Jones, Turning and Boring, 1914: 60 ft/min on 5 in are 46 rpm (45.84). The spindle is
// not faster than the wheel (WAC 296-806-40512), the rest at most 1/8 in off (30 CFR
// 56.14115).
func TestSurfaceSpeed(t *testing.T) {
	numbers(t, "surface speed, diameter: 5 in, rpm: 45.8366 rpm", map[string]float64{"surface speed": 60}, 1e-6)
	numbers(t, "surface speed, diameter: 6 in, rpm: 3450 rpm", map[string]float64{"surface speed": math.Pi * 0.5 * 3450}, 1e-9)
	verdicts(t, "", []verdictCase{
		{"surface speed, diameter: 6 in, rpm: 4140 rpm, marked: 4140 rpm", "speed against its marking", "", "<= 4140 rpm", quantity.Inside, "no faster than"},
		{"surface speed, diameter: 6 in, rpm: 4141 rpm, marked: 4140 rpm", "speed against its marking", "", "", quantity.Outside, "Do not run it"},
		{"surface speed, diameter: 6 in, rpm: 4139 rpm, marked: 4140 rpm, gauge: 2 rpm", "speed against its marking", "", "", quantity.TooClose, ""},
		{"surface speed, diameter: 6 in, rpm: 3450 rpm", "surface speed", "", "", quantity.NotLimited, "was not written down"},
		{"surface speed, diameter: 6 in, rpm: 3450 rpm, rest: 1/8 in", "rest gap", "", "<= 0.125 in", quantity.Inside, ""},
		{"surface speed, diameter: 6 in, rpm: 3450 rpm, rest: 0.126 in", "rest gap", "", "", quantity.Outside, "Work can be pulled in"},
		{"surface speed, diameter: 6 in, rpm: 3450 rpm, rest: 0.12 in, length_gauge: 0.01 in", "rest gap", "", "", quantity.TooClose, ""},
	})
}

// A booklet of tool makers: 5/16 in for 3/8-16 and 8.5 mm for M10 x 1.5 both leave 77.0 %
// of a full thread.
func TestTapDrill(t *testing.T) {
	numbers(t, "tap drill, diameter: 3/8 in, threads: 16 TPI, drill: 0.3125 in", map[string]float64{"drill for the thread": 0.3125, "share of full thread": 77.0}, 5e-4)
	numbers(t, "tap drill, diameter: 10 mm, pitch: 1.5 mm, drill: 8.5 mm", map[string]float64{"drill for the thread": 8.5, "share of full thread": 77.0}, 5e-4)
	numbers(t, "tap drill, diameter: 3/8 in, threads: 16 TPI, drill: 0.3125 in", map[string]float64{"share of full thread": 16 * 0.0625 / 0.01299}, 5e-4)
	for _, wrong := range []string{"diameter: 3/8 in", "diameter: 3/8 in, threads: 16 TPI, pitch: 1 mm", "diameter: 3/8 in, threads: 16 TPI, drill: 3/8 in", "diameter: 1 mm, pitch: 1 mm"} {
		if _, problems := judge(t, "", "{test: tap drill, "+wrong+"}"); len(problems) != 1 {
			t.Errorf("%s: %v", wrong, problems)
		}
	}
}

// gpm x psi/1714: 10 gpm at 1500 psi are 8.75 hp (8.7515), 20 gpm 17.5 hp.
func TestHydraulicPower(t *testing.T) {
	numbers(t, "hydraulic power, flow: 10 gpm, pressure: 1500 psi", map[string]float64{"hydraulic power": 8.7500}, 2e-4)
	numbers(t, "hydraulic power, flow: 20 gpm, pressure: 1500 psi", map[string]float64{"hydraulic power": 17.500}, 2e-4)
	limits := "limits:\n  - {what: relief pressure, limit: 2100 psi to 2300 psi, source: maker's book}\n  - {what: pump flow, limit: \">= 9 gpm\", source: maker's book}\n"
	verdicts(t, limits, []verdictCase{
		{"hydraulic power, flow: 9 gpm, pressure: 1500 psi, relief: 2300 psi", "relief pressure", "", "", quantity.Inside, "The relief valve opens"},
		{"hydraulic power, flow: 9 gpm, pressure: 1500 psi, relief: 2301 psi", "relief pressure", "", "", quantity.Outside, "A hose can burst"},
		{"hydraulic power, flow: 9 gpm, pressure: 1500 psi, relief: 2099 psi", "relief pressure", "", "", quantity.Outside, "below the limit"},
		{"hydraulic power, flow: 9 gpm, pressure: 1500 psi, relief: 2290 psi, gauge: 20 psi", "relief pressure", "", "", quantity.TooClose, ""},
		{"hydraulic power, flow: 8.9 gpm, pressure: 1500 psi", "pump flow", "", "", quantity.Outside, "a worn pump"},
	})
}

// Pages of calculators (common practice): 24 in, 6000 rpm and 2 to 1 are 68.18 mph, and
// 60 mph is 12 % short; 19 in, 3000 rpm and 2 to 1 are 23.45 knots (26.99 mph), and 22
// knots 6.2 % short.
func TestPropellerSlip(t *testing.T) {
	numbers(t, "propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 60 mph", map[string]float64{"speed without slip": 68.18, "propeller slip": 12}, 1e-4)
	const knot = 1852 / 1609.344
	numbers(t, "propeller slip, pitch: 19 in, rpm: 3000 rpm, reduction: 2, speed: 25.31716 mph", map[string]float64{"speed without slip": 23.45 * knot, "propeller slip": 6.2}, 5e-3)
	if o := sound(t, "", "{test: propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 70 mph}"); !o.says("faster than the propeller allows") {
		t.Errorf("%q", o.Says)
	}
	limit := "limits: [{what: propeller slip, limit: <= 12 %, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 60 mph", "propeller slip", "", "", quantity.Inside, ""},
		{"propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 59.9 mph", "propeller slip", "", "", quantity.Outside, "a bent blade"},
	})
}
