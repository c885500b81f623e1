package benchtest

import (
	"regexp"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Wrong entries: where the problem stands, what it says, what to write instead.
func TestWrongEntries(t *testing.T) {
	for _, tc := range []struct{ machine, test, field, says, mend string }{
		{"", "{test: compresion, dry: 60 psi}", "test", `no bench test called "compresion"`, "write compression ("},
		{"", "{test: soup, dry: 60 psi}", "test", `no bench test called "soup"`, "write one of: "},
		{"", "{test: compression}", "dry", "the test compression needs dry", "add dry: a pressure, such as 62 psi, or a list such as [62 psi, 62 psi]; the whole test looks like this: {test: compression"},
		{"", "{test: compression, wet: 60 psi}", "dry", "needs dry", "add dry:"},
		{"", "{test: compression, dry: [60 psi, 61 psi], wet: 70 psi}", "wet", "1 readings were given here, but 2 under dry", "as many as under dry"},
		{"", "{test: compression, dray: 60 psi, dry: 60 psi}", "dray", "dray is not a field of the test compression", "write dry"},
		{"", "{test: compression, dry: 60 psi, voltage: 12 V}", "voltage", "not a field", "take it out; the fields of this test are dry, wet"},
		{"", "{test: compression, dry: 60}", "dry", `"60" was read instead of a pressure`, "add the unit, such as 60 psi"},
		{"", "{test: compression, dry: 60 pis}", "dry", `"60 pis" was read`, "psi"},
		{"", "{test: compression, dry: 12 V}", "dry", `"12 V" is a voltage`, "write dry: a pressure, such as 62 psi"},
		{"", "{test: compression, dry: [60 psi, 12 V]}", "dry[1]", `"12 V" is a voltage`, "check the unit"},
		{"", "{test: compression, dry: -60 psi}", "dry", "is below zero", "check the sign"},
		{"", "{test: compression, dry: []}", "dry", "the list is empty", "write dry:"},
		{"", "{test: compression, dry: {a: 60 psi}}", "dry", "one value was expected", "write dry:"},
		{"", "{test: compression, dry: [[60 psi]]}", "dry[0]", "one value was expected", "write dry:"},
		{"", "{test: compression, dry: 60 psi, kick_release: maybe}", "kick_release", `"maybe" is neither yes nor no`, "write yes or no"},
		{"", "{test: compression, dry: 60 psi, gauge: 0 psi}", "gauge", "instead of an accuracy above zero", "leave the gauge out"},
		{"", "{test: compression, dry: 60 psi, gauge: good}", "gauge", `"good" was read`, "a pressure, or a percentage of the reading, such as 2 %"},
		{"", "{test: compression, dry: 60 psi, gauge: 0.1 V}", "gauge", "0.1 V cannot be the accuracy", "write gauge: a pressure"},
		{"", "{test: compression, dry: 60 psi, altitude: 60 km/h}", "altitude", "is a speed", "write altitude: a length"},
		{"", "{test: compression, dry: 60 psi, altitude: 20000 m}", "altitude", "out of the range", "from -500 m to 11000 m"},
		{"", "{test: compression, dry: 60 psi, system: motor}", "system", `"motor" is not one of the systems`, "write one of: engine, fuel"},
		{"", "{test: compression, dry: [1 psi, 1 psi], gauge: 1 psi}", "gauge", "the sums have no answer", "a finer tool"},
		{twin, "{test: compression, dry: [60 psi, 61 psi, 62 psi]}", "dry", "3 readings were given, but the engine has 2 cylinders", "one reading for each cylinder"},
		{twin, "{test: compression, dry: 60 psi}", "dry", "one reading was given", "where: cylinder 1"},
		{"limits:\n  - {what: lowest below the average, limit: <= 5 psi, source: s}\n", "{test: compression, dry: [60 psi, 61 psi]}", "limits[0].limit", "cannot be held against", "as a percentage"},
		{"limits:\n  - {what: compression, limit: \">= 60 V\", source: s}\n", "{test: compression, dry: [60 psi, 61 psi]}", "limits[0].limit", "cannot be held against 60 psi", "as a pressure"},

		{"limits:\n  - {what: insulation resistance, limit: \">= 5 Mohm\", source: s}\n  - {what: insulation resistance at 40 degC, limit: <= 1 Mohm, source: s}\n", "{test: insulation resistance, resistance: 80 Mohm, temperature: 68 degF, winding: random-wound, rated_volts: 240 V, power: 0.1 hp}", "limits[0].limit", "and the one on line 6, <= 1 Mohm, allow nothing in common", "for two places"},

		{"", "{test: leak-down, regulated: 80 psi}", "cylinder", "needs cylinder", "add cylinder:"},
		{"", "{test: leak-down, cylinder: 80 psi}", "regulated", "needs regulated", "add regulated:"},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: 81 psi}", "cylinder", "more than the 80 psi let in", "check the two readings"},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: 70 psi, loss: 12 %}", "loss", "and the pressures too", "keep loss:"},
		{"", "{test: leak-down, loss: 100.1 %}", "loss", "more than all the air", "from 0 % to 100 %"},
		{"", "{test: leak-down, loss: 112 %}", "loss", "more than all the air", "from 0 % to 100 %"},
		{"", "{test: leak-down, loss: 12 %, gauge: 1 psi}", "gauge", "accuracy of a reading in %", "in %"},
		{"", "{test: leak-down, loss: 12 %, heard: exaust}", "heard", `"exaust" is not one of the words`, "write exhaust ("},
		{"", "{test: leak-down, loss: 12 %, heard: over there}", "heard", "not one of the words for heard", "write one of: intake"},
		{"", "{test: leak-down, loss: 12 %, heard: exhaust and carter}", "heard", "\"carter\" is not one of the words", "write one of"},
		{"", "{test: leak-down, loss: 12 %, heard: []}", "heard", "the list is empty", "write heard:"},
		{"", "{test: leak-down, loss: 12 %, heard: [[exhaust, crankcase]]}", "heard[0]", "one value was expected", "write heard:"},
		{"", "{test: leak-down, loss: 12 %, heard: {a: exhaust}}", "heard", "one value was expected", "write heard:"},
		{"", "{test: leak-down, loss: [12 %, 13 %, 14 %], heard: [exhaust, crankcase]}", "heard", "2 readings were given here, but 3 under loss", "in the same order"},
		{"", "{test: leak-down, loss: [12 %, 13 %], heard: exhaust}", "heard", "1 readings were given here, but 2 under loss", "in the same order"},

		{"", "{test: bore, top: 2.75 in, bottom: [2.75 in, 2.75 in], standard: 2.75 in, stroke: 2 in}", "top", "along, across were expected", "write top: [0.010 in, 0.010 in]"},
		{"", "{test: bore, top: {along: 2.75 in, over: 2.75 in}, bottom: [2.75 in, 2.75 in], standard: 2.75 in, stroke: 2 in}", "top", "along, across were expected", "each with its name"},
		{"", "{test: bore, top: [2.75 in, 2.75 in], bottom: [2.75 in, 2.75 in], stroke: 2 in}", "standard", "needs standard", "add standard:"},
		{"", "{test: bore, top: [27.5 in, 2.75 in], bottom: [2.75 in, 2.75 in], standard: 2.75 in, stroke: 2 in}", "top", "27.5 in is more than a tenth away from 2.75 in", "decimal point"},
		{"", "{test: bore, top: [2.75 in, 2.75 in], bottom: [2.75 in, 2.75 in], standard: 2.75 in, stroke: 2 in, piston: 2.76 in}", "piston", "does not go into a bore", "check both"},
		{"", "{test: journal, front: [1 in, 1 in], rear: [1 in, 1 in], bearing: 0.999 in}", "bearing", "does not go over a journal", "check both"},
		{"", "{test: journal, front: [1 in, 1 in]}", "rear", "needs rear", "add rear:"},
		{"", "{test: ring end gap, gap: 0.5 in, bore: 2.75 in}", "gap", "more than a tenth of the bore", "decimal point"},
		{"", "{test: ring end gap, gap: 0.012 in}", "bore", "needs bore", "add bore:"},
		{"", "{test: valve clearance, intake: 0.004 in}", "state", "needs state", "add state: one of these words: cold, hot"},
		{"", "{test: valve clearance, state: warm, intake: 0.004 in}", "state", `"warm" is not one of`, "write one of: cold, hot"},
		{"", "{test: valve clearance, state: hot}", "intake", "needs intake", "add intake:"},
		{"", "{test: valve clearance, state: hot, intake: -0.1 mm}", "intake", "below zero", "check the sign"},
		{"", "{test: runout, tir: 0.01 in, high: 0.02 in}", "tir", "and its ends too", "keep tir:"},
		{"", "{test: runout, high: 0.02 in}", "tir", "needs tir", "add tir:"},
		{"", "{test: runout, high: -0.02 in, low: 0.01 in}", "high", "below the low end", "change the two over"},

		{"", "{test: displacement, bore: 68 mm, stroke: 54 mm}", "cylinders", "needs cylinders", "a whole number above zero"},
		{"", "{test: displacement, bore: 68 mm, stroke: 54 mm, cylinders: 1.5}", "cylinders", `"1.5" was read, a whole number above zero was expected`, "digits only"},
		{"", "{test: displacement, bore: 68 mm, stroke: 54 mm, cylinders: 0}", "cylinders", "a whole number above zero was expected", "digits only"},
		{"", "{test: compression ratio, bore: 68 mm, stroke: 54 mm, chamber: 2 cc, dome: 3 cc}", "chamber", "leave no room", "dome: is below zero for a dish"},
		{"", "{test: piston speed, stroke: 54 mm, rpm: 60 Hz}", "rpm", `"60 Hz" is a frequency`, "write rpm:"},
		{"", "{test: cable size, size: 2/0 AWG, length: 50 ft, amps: 20 A, volts: 12 V}", "size", "not in the table of cables", "from 0 AWG to 18 AWG"},
		{"", "{test: battery at rest, volts: 12.6 VAC}", "volts", "\"12.6 VAC\" alternates", "volts DC"},
		{"", "{test: battery at rest, volts: \"> 12.6 VAC\"}", "volts", "alternates", "volts DC"},
		{"", "{test: charging, volts: 14.1 VDC, ripple: 0.08 VDC}", "ripple", "\"0.08 VDC\" does not alternate", "volts AC"},
		{"", "{test: generator output, volts: 240 VDC, hertz: 60 Hz, rated_volts: 240 VAC, rated_hertz: 60 Hz}", "volts", "does not alternate", "volts AC"},
		{"", "{test: compression, dry: [" + strings.Repeat("60 psi, ", 100) + "60 psi]}", "dry", "101 readings were given in one list", "100 at most under dry"},
		{"", "{test: fuel mix, fuel: 1 gal}", "ratio", "needs ratio", "a plain number"},
		{"", "{test: fuel mix, fuel: 1 gal, ratio: 1:50}", "ratio", `"1:50" was read`, "digits only"},
		{"", "{test: fuel mix, fuel: 1 gal, ratio: 0}", "ratio", "a plain number above zero was expected", "digits only"},
		{"", "{test: fuel mix, fuel: 1 gal, ratio: 2 %}", "ratio", `"2 %" was read`, "without a unit"},
		{"", "{test: fuel mix, fuel: 100 mL, oil: 1 L}", "oil", "not less than the 100 mL of fuel", "their units"},
		{"", "{test: oil consumption, start: 600 mL, end: 500 mL, ran: 0 h}", "ran", "not above zero", "check the reading"},
		{"", "{test: torque, torque: 20 N}", "torque", `"20 N" is a force`, "a torque"},
		{"", "{test: torque, torque: 20 N·m, nut_factor: 0.2}", "diameter", "needs diameter", "add diameter:"},
		{"", "{test: torque, torque: 20 N·m, diameter: 8 mm, nut_factor: 20}", "nut_factor", "20 is no nut factor", "such as 0.20"},
		{"", "{test: torque, torque: 20 N·m, angle: 90}", "pitch", "needs pitch", "add pitch:"},
		{"", "{test: torque, torque: 20 N·m, pitch: 1 mm}", "angle", "needs angle", "add angle:"},
		{"", "{test: torque, torque: 20 N·m, pitch: 1 mm, angle: 9000}", "angle", "more than two turns", "such as 90"},
		{"", "{test: coolant}", "glycol", "needs glycol", "add glycol:"},
		{"", "{test: coolant, glycol: 50 %}", "kind", "needs kind", "ethylene, propylene"},
		{"", "{test: coolant, glycol: 50 %, freeze_point: -30 degC}", "freeze_point", "and the mix too", "keep freeze_point:"},
		{"", "{test: coolant, glycol: 80 %, kind: ethylene}", "glycol", "beyond the table", "more ethylene glycol than about 60 %"},
		{"", "{test: coolant, glycol: 60.1 %, kind: propylene}", "glycol", "ends at 60 %", "no figure was found"},
		{"", "{test: coolant, freeze_point: -30}", "freeze_point", `"-30" was read instead of a temperature`, "-30 degF"},
		{"", "{test: pressure at temperature, pressure: 12 psi, temperature: 950 degF, to: 68 degF}", "temperature", "no temperature to work at", "degF or degC"},
		{"", "{test: pressure at temperature, pressure: 12 psi, temperature: 95 degF, to: 68 degF, altitude: 12 km/h}", "altitude", "is a speed", "a length"},
		{"", "{test: pressure at temperature, pressure: 12 psi, temperature: 95 degF, to: 68 degF, altitude: 90000 ft}", "altitude", "out of the range", "write the height"},
		{"", "{test: head temperature, temperature: 300 degF, gauge: 2 %}", "gauge", "cannot be the accuracy", "write gauge: a temperature"},
		{"", "{test: coil resistance}", "primary", "needs primary", "add primary:"},
		{"", "{test: coil resistance, primary: 1 ohm, open: both}", "open", "the primary winding is said to be open, but has a reading", "keep one"},
		{"", "{test: coil resistance, primary: 1 ohm, temperature: 900 degF}", "temperature", "no temperature to work at", "check the number"},
		{"", "{test: plug gap}", "gap", "needs gap", "add gap:"},
	} {
		o, problems := judge(t, tc.machine, tc.test)
		if o != nil || len(problems) != 1 {
			t.Errorf("%s: outcome %v, problems %v", tc.test, o != nil, problems)
			continue
		}
		p := problems[0]
		field := "tests[0]." + tc.field
		if strings.HasPrefix(tc.field, "limits") {
			field = tc.field
		}
		if p.Field != field || p.Line == 0 || p.File == "" || !strings.Contains(p.Says, tc.says) || !strings.Contains(p.Mend, tc.mend) {
			t.Errorf("%s:\n got %s | %s\nwant %s: %s | %s", tc.test, p, p.Mend, field, tc.says, tc.mend)
		}
		if openPlace.MatchString(p.Says+p.Mend) || strings.HasPrefix(p.Says, "[problem") {
			t.Errorf("%s: %s | %s", tc.test, p.Says, p.Mend)
		}
	}
}

// openPlace is a place of a sentence that nothing was put into.
var openPlace = regexp.MustCompile(`\{[a-z]+\}`)

// Both pressures of a leak-down test missing are two problems in one run.
func TestAllProblemsInOneRun(t *testing.T) {
	_, problems := judge(t, "", "{test: leak-down, heard: exhaust, what: ever}")
	if len(problems) != 1 {
		t.Errorf("an unknown field stops the sums: %v", problems)
	}
	_, problems = judge(t, "", "{test: leak-down, heard: exhaust}")
	if len(problems) != 2 {
		t.Errorf("got %v", problems)
	}
	_, problems = judge(t, "", "{test: compression, dry: [60, 12 V, -1 psi], kick_release: perhaps, guage: 2 psi}")
	if len(problems) != 5 {
		t.Errorf("got %d: %v", len(problems), problems)
	}
}

// A test without a name has been reported by the logbook.
func TestNamelessTest(t *testing.T) {
	o, problems := Judge(&logbook.Shop{}, &logbook.Machine{}, &logbook.Entry{}, logbook.Test{}, catalog.English)
	if o != nil || problems != nil {
		t.Errorf("got %v, %v", o, problems)
	}
}

func TestSystem(t *testing.T) {
	for _, tc := range []struct {
		test logbook.Test
		want string
	}{
		{logbook.Test{Test: "compression"}, "engine"},
		{logbook.Test{Test: "Compression Test"}, "engine"},
		{logbook.Test{Test: "torque", Inputs: []logbook.Input{{Name: "system", Text: "implement"}}}, "implement"},
		{logbook.Test{Test: "soup"}, ""},
	} {
		if got := System(nil, tc.test); got != tc.want {
			t.Errorf("%+v: got %q, want %q", tc.test, got, tc.want)
		}
	}
	o := sound(t, plainMachine, "{test: torque, torque: 40 N·m, where: blade bolt, system: implement}")
	if o.System != "implement" || o.Where != "blade bolt" || len(o.Given) != 1 {
		t.Errorf("%+v", o)
	}
}
