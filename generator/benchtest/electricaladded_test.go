package benchtest

import (
	"math"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// numbers holds results against published numbers, to the digits of the source.
func numbers(t *testing.T, test string, want map[string]float64, within float64) {
	t.Helper()
	o := sound(t, "", "{test: "+test+"}")
	for name, n := range want {
		if got := o.result(t, name).number(); math.Abs(got-n) > within*math.Max(1, math.Abs(n)) {
			t.Errorf("%s: %s is %v, want %v", test, name, got, n)
		}
	}
}

// Power factor is real over apparent power: MIL-STD-704F, 3.22; kW = V A pf/1000, and
// the root of three for three phases.
func TestLoadShare(t *testing.T) {
	numbers(t, "load share, volts: 240 V, amps: 10 A, watts: 1920 W, rated_load: 2400 W", map[string]float64{
		"apparent power": 2400, "power factor": 80, "share of the rated load": 80,
	}, 1e-9)
	numbers(t, "load share, volts: 480 V, amps: 10 A, watts: 4 kW, phases: 3", map[string]float64{
		"apparent power": 480 * 10 * math.Sqrt(3), "power factor": 100 * 4000 / (4800 * math.Sqrt(3)),
	}, 1e-9)
	verdicts(t, "", []verdictCase{
		{"load share, volts: 240 V, amps: 10 A, watts: 2000 W, rated_load: 2 kW", "share of the rated load", "100 %", "<= 100 %", quantity.Inside, "what the plate allows"},
		{"load share, volts: 240 V, amps: 10 A, watts: 2001 W, rated_load: 2 kW", "share of the rated load", "100.05 %", "<= 100 %", quantity.Outside, "too much"},
		{"load share, volts: 240 V, amps: 10 A, watts: 2000 W, rated_load: 2 kW, watts_gauge: 1 %", "share of the rated load", "", "", quantity.TooClose, "too close"},
		{"load share, volts: 240 V, amps: 10 A, watts: 1920 W", "power factor", "0.8", "", quantity.NotLimited, ""},
		{"load share, volts: 240 V, amps: 10 A", "apparent power", "2400 VA", "", quantity.NotLimited, "was not read"},
	})
	if _, problems := judge(t, "", "{test: load share, volts: 240 V, amps: 10 A, watts: 2401 W}"); len(problems) != 1 {
		t.Errorf("more than all: %v", problems)
	}
}

// The factors of a table of copper, to 25 degC: 1/1.058 at 40 degC, 1/1.193 at 75 and
// 1/1.289 at 100, printed to three decimals.
func TestWindingResistance(t *testing.T) {
	for at, factor := range map[string]float64{"25 degC": 1, "40 degC": 1.058, "75 degC": 1.193, "100 degC": 1.289, "104 degF": 1.058} {
		o := sound(t, "", "{test: winding resistance, resistance: 10 ohm, temperature: "+at+"}")
		if got := 10 / o.Results[0].number(); math.Abs(got-factor) > 0.0005 {
			t.Errorf("%s: factor %v, want %v", at, got, factor)
		}
	}
	const what = "resistance unbalance"
	verdicts(t, "", []verdictCase{
		{"winding resistance, resistance: [98 ohm, 100 ohm, 102 ohm], temperature: 25 degC, winding: random-wound", what, "2.0 %", "<= 2 %", quantity.Inside, "within the limit"},
		{"winding resistance, resistance: [97.9 ohm, 100 ohm, 102.1 ohm], temperature: 25 degC, winding: random-wound", what, "2.1 %", "", quantity.Outside, "turns that touch"},
		{"winding resistance, resistance: [99 ohm, 100 ohm, 101 ohm], temperature: 25 degC, winding: form-wound", what, "1.0 %", "<= 1 %", quantity.Inside, ""},
		{"winding resistance, resistance: [98.9 ohm, 100 ohm, 101.1 ohm], temperature: 25 degC, winding: form-wound", what, "1.1 %", "", quantity.Outside, ""},
		{"winding resistance, resistance: [98 ohm, 100 ohm, 102 ohm], temperature: 25 degC, winding: random-wound, gauge: 0.1 ohm", what, "", "", quantity.TooClose, ""},
		{"winding resistance, resistance: [50 ohm, 100 ohm], temperature: 25 degC, winding: concentric", what, "", "", quantity.NotLimited, "No limit"},
	})
}

// Of 3600 rpm 3450 is 4.17 %, and so is 1725 of 1800 (textbook answers).
func TestMotorSlip(t *testing.T) {
	verdicts(t, "", []verdictCase{
		{"motor slip, rpm: 3450 rpm, hertz: 60 Hz, poles: 2", "motor slip", "4.17 %", "", quantity.NotLimited, ""},
		{"motor slip, rpm: 1725 rpm, hertz: 60 Hz, poles: 4", "motor slip", "4.17 %", "", quantity.NotLimited, ""},
		{"motor slip, rpm: 3610 rpm, hertz: 60 Hz, poles: 2", "motor slip", "-0.278 %", "", quantity.NotLimited, "faster than its field"},
	})
	limit := "limits: [{what: motor slip, limit: <= 5 %, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"motor slip, rpm: 3420 rpm, hertz: 60 Hz, poles: 2", "motor slip", "5.00 %", "", quantity.Inside, ""},
		{"motor slip, rpm: 3419 rpm, hertz: 60 Hz, poles: 2, rated_rpm: 3450 rpm", "motor slip", "", "", quantity.Outside, "broken bar"},
		{"motor slip, rpm: 3421 rpm, hertz: 60 Hz, poles: 2, gauge: 2 rpm", "motor slip", "", "", quantity.TooClose, ""},
	})
}

// NEMA MG 1, read at second hand: 462, 463 and 455 V are 1.1 % apart (mean 460), 203,
// 210 and 212 V 2.5 % (2.56 without rounding).
func TestVoltageUnbalance(t *testing.T) {
	numbers(t, "voltage unbalance, volts: [462 V, 463 V, 455 V]", map[string]float64{"voltage unbalance": 1.087}, 0.001)
	numbers(t, "voltage unbalance, volts: [203 V, 210 V, 212 V]", map[string]float64{"voltage unbalance": 2.56}, 0.001)
	if _, problems := judge(t, "", "{test: voltage unbalance, volts: [203 V, 210 V]}"); len(problems) != 1 {
		t.Errorf("%v", problems)
	}
	limit := "limits: [{what: voltage unbalance, limit: <= 1 %, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"voltage unbalance, volts: [198 V, 200 V, 202 V]", "voltage unbalance", "1.0 %", "", quantity.Inside, ""},
		{"voltage unbalance, volts: [197.9 V, 200 V, 202.1 V]", "voltage unbalance", "", "", quantity.Outside, "uneven load"},
	})
}

// A trade course, read at second hand: at 60 Hz 8.3 A and 295.4 V are 74.5 uF.
func TestCapacitor(t *testing.T) {
	numbers(t, "capacitor, amps: 8.3 A, volts: 295.4 V, hertz: 60 Hz", map[string]float64{"capacitor": 74.5}, 0.001)
	numbers(t, "capacitor, amps: 1 A, volts: 1 V, hertz: 60 Hz", map[string]float64{"capacitor": 2652.58}, 1e-5)
	numbers(t, "capacitor, amps: 1 A, volts: 1 V, hertz: 50 Hz", map[string]float64{"capacitor": 3183.1}, 1e-5)
	verdicts(t, "", []verdictCase{
		{"capacitor, capacitance: 32.9 uF, rated: 35 uF, tolerance: 6 %", "capacitor", "", "35 uF +- 6 %", quantity.Inside, "label allows"},
		{"capacitor, capacitance: 32.89 uF, rated: 35 uF, tolerance: 6 %", "capacitor", "", "", quantity.Outside, "less than its label"},
		{"capacitor, capacitance: 37.11 uF, rated: 35 uF, tolerance: 6 %", "capacitor", "", "", quantity.Outside, "more than its label"},
		{"capacitor, capacitance: 33 uF, rated: 35 uF, tolerance: 6 %, gauge: 1 %", "capacitor", "", "", quantity.TooClose, ""},
		{"capacitor, capacitance: 20 uF, rated: 35 uF", "capacitor", "", "", quantity.NotLimited, "No limit"},
	})
	for _, wrong := range []string{"capacitance: 20 uF, amps: 2 A", "amps: 2 A, volts: 100 V", "rated: 35 uF"} {
		if _, problems := judge(t, "", "{test: capacitor, "+wrong+"}"); len(problems) == 0 {
			t.Errorf("%s is no test", wrong)
		}
	}
}

// 10 AWG is 0.9989 ohm for 1000 ft (HyperPhysics, from Floyd): 50 ft each way at 20 A
// lose 2.00 V.
func TestCableSize(t *testing.T) {
	numbers(t, "cable size, size: 10 AWG, length: 50 ft, amps: 20 A, volts: 120 V", map[string]float64{"cable drop by size": 1.9978, "share of the voltage lost": 1.66483}, 1e-5)
	numbers(t, "cable size, size: 10 AWG, length: 15.24 m, amps: 20 A, volts: 12 V", map[string]float64{"share of the voltage lost": 16.6483}, 1e-5)
	for _, size := range []string{"11 AWG", "20 AWG", "10.5 AWG"} {
		if _, problems := judge(t, "", "{test: cable size, size: "+size+", length: 50 ft, amps: 20 A, volts: 120 V}"); len(problems) != 1 {
			t.Errorf("%s: %v", size, problems)
		}
	}
	limit := "limits: [{what: share of the voltage lost, limit: <= 3 %, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"cable size, size: 10 AWG, length: 50 ft, amps: 36 A, volts: 120 V", "share of the voltage lost", "2.997 %", "", quantity.Inside, ""},
		{"cable size, size: 10 AWG, length: 50 ft, amps: 37 A, volts: 120 V", "share of the voltage lost", "", "", quantity.Outside, "may run hot"},
	})
}

// TM 9-6115-730-24, 0050: 9.6 V after 15 s at about 70 degF; the table of several
// makers has 9.4 V at 50 degF and 8.7 V at 10 degF.
func TestBatteryLoadTest(t *testing.T) {
	const what = "battery voltage under load"
	verdicts(t, "", []verdictCase{
		{"battery load test, volts: 9.6 V, load: 275 A, rated: 550 CCA, held: 15 s, temperature: 70 degF", what, "", ">= 9.60 V", quantity.Inside, "does not point to the battery"},
		{"battery load test, volts: 9.59 V, load: 275 A, rated: 550 CCA, held: 15 s, temperature: 70 degF", what, "", "", quantity.Outside, "Charge it and test once more"},
		{"battery load test, volts: 9.62 V, load: 275 A, rated: 550 CCA, held: 15 s, temperature: 70 degF, gauge: 0.05 V", what, "", "", quantity.TooClose, ""},
		{"battery load test, volts: 9.4 V, load: 275 A, rated: 550 CCA, held: 15 s, temperature: 50 degF", what, "", ">= 9.40 V", quantity.Inside, ""},
		{"battery load test, volts: 8 V, load: 275 A, rated: 550 CCA, held: 15 s, temperature: 9 degF", what, "", "", quantity.NotLimited, ""},
		{"battery load test, volts: 9.8 V, load: 247 A, rated: 550 CCA, held: 15 s, temperature: 70 degF", what, "", "", quantity.NotLimited, "proves nothing"},
		{"battery load test, volts: 9.8 V, load: 248 A, rated: 550 CCA, held: 15 s, temperature: 70 degF", what, "", "", quantity.Inside, ""},
		{"battery load test, volts: 9.8 V, load: 275 A, rated: 550 CCA, held: 14 s, temperature: 70 degF", what, "", "", quantity.NotLimited, "proves nothing"},
		{"battery load test, volts: 9.0 V, load: 100 A, rated: 550 CCA, held: 5 s, temperature: 70 degF", what, "", ">= 9.60 V", quantity.Outside, "worn out"},
	})
}

// A maker's sheet has 1.250 at 20 degF as 1.226 and 1.235 at 100 degF as 1.243, by the
// rule of TM 5-4210-230-14&P-1.
func TestHydrometer(t *testing.T) {
	verdicts(t, "", []verdictCase{
		{"hydrometer, cells: 1.250, temperature: 20 degF", "specific gravity, cell 1", "1.226", "", quantity.NotLimited, ""},
		{"hydrometer, cells: 1.235, temperature: 100 degF", "specific gravity, cell 1", "1.243", "", quantity.NotLimited, ""},
		{"hydrometer, cells: [1.265, 1.240], temperature: 80 degF, charged: yes", "spread between cells", "0.025", "<= 0.050", quantity.Inside, "within the limit"},
		{"hydrometer, cells: [1.265, 1.239], temperature: 80 degF, charged: yes", "spread between cells", "0.026", "<= 0.050", quantity.TooClose, "manuals differ"},
		{"hydrometer, cells: [1.265, 1.215], temperature: 80 degF, charged: yes", "spread between cells", "0.050", "<= 0.050", quantity.TooClose, "manuals differ"},
		{"hydrometer, cells: [1.265, 1.214], temperature: 80 degF, charged: yes", "spread between cells", "0.051", "<= 0.050", quantity.Outside, "weak cell"},
		{"hydrometer, cells: [1.265, 1.100], temperature: 80 degF", "spread between cells", "0.165", "", quantity.NotLimited, "was not judged"},
	})
	for _, n := range []string{"0.99", "1.41", "1265"} {
		if _, problems := judge(t, "", "{test: hydrometer, cells: "+n+", temperature: 80 degF}"); len(problems) != 1 {
			t.Errorf("%s: %v", n, problems)
		}
	}
}

// U.S. Army IT0335: three cells of 2 V and 2 Ah in series are 6 V and 2 Ah, six of 2 V
// and 1 Ah are 12 V and 1 Ah; cells side by side add their ampere-hours.
func TestBatteryPack(t *testing.T) {
	numbers(t, "battery pack, cells: [2 V, 2 V, 2 V], capacity: 2 Ah", map[string]float64{"pack voltage": 6, "pack capacity": 2, "pack energy": 12, "cell imbalance": 0}, 1e-9)
	numbers(t, "battery pack, cells: [2 V, 2 V, 2 V, 2 V, 2 V, 2 V], capacity: 1 Ah", map[string]float64{"pack voltage": 12, "pack capacity": 1}, 1e-9)
	numbers(t, "battery pack, cells: 1.5 V, capacity: 1 Ah, parallel: 3", map[string]float64{"pack voltage": 1.5, "pack capacity": 3, "pack energy": 4.5}, 1e-9)
	limit := "limits: [{what: cell imbalance, limit: <= 0.05 V, source: maker's book}]\n"
	verdicts(t, limit, []verdictCase{
		{"battery pack, cells: [3.30 V, 3.25 V]", "cell imbalance", "0.05 V", "", quantity.Inside, "Cell 2 is lower than cell 1"},
		{"battery pack, cells: [3.30 V, 3.249 V]", "cell imbalance", "", "", quantity.Outside, "weak cell"},
		{"battery pack, cells: [3.30 V, 3.26 V], gauge: 0.01 V", "cell imbalance", "", "", quantity.TooClose, ""},
	})
}

// A gravity is a plain number, in its drawing and its limit too.
func TestGravityIsAPlainNumber(t *testing.T) {
	o := sound(t, "", "{test: hydrometer, cells: [1.265, 1.240], temperature: 80 degF, charged: yes}")
	if d := o.Drawing; d.Unit != "" || d.Points[0].Value != 1.265 || d.Points[1].Low != 1.24 {
		t.Errorf("drawn as %+v", o.Drawing)
	}
	if said := LimitSaid(catalog.English, o.result(t, "spread between cells").Limit); said != "0.050 or less" {
		t.Errorf("the limit is said as %q", said)
	}
}
