package benchtest

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// direct judges a test without a shop on any disk, for the property tests: the
// flow mapping holds plain values and lists of them.
func direct(t testing.TB, test string) *Outcome {
	t.Helper()
	shop := &logbook.Shop{Systems: logbook.Systems}
	made := logbook.Test{Place: logbook.Place{File: "log.md", Line: 1}}
	for _, m := range flowField.FindAllStringSubmatch(test, -1) {
		in := logbook.Input{Name: m[1], Text: strings.TrimSpace(m[2])}
		if m[1] == "test" {
			made.Test = in.Text
			continue
		}
		if list, ok := strings.CutPrefix(in.Text, "["); ok {
			in.Text, in.List = "", true
			for _, item := range strings.Split(strings.TrimSuffix(list, "]"), ",") {
				in.Items = append(in.Items, logbook.Input{Text: strings.TrimSpace(item)})
			}
		}
		made.Inputs = append(made.Inputs, in)
	}
	o, problems := Judge(shop, &logbook.Machine{}, nil, made, catalog.English)
	if len(problems) > 0 {
		t.Fatalf("%s: %v", test, problems)
	}
	return o
}

var flowField = regexp.MustCompile(`([a-z_]+): (\[[^]]*\]|[^,}]*)`)

// What is judged without a shop is judged as in one.
func TestDirectIsJudgedAlike(t *testing.T) {
	for _, k := range registered() {
		if strings.Contains(k.example, "where:") {
			continue // the short cut knows no places
		}
		same(t, sound(t, plainMachine, k.example), direct(t, strings.ReplaceAll(k.example, `"`, "")))
	}
}

// Whatever stands at the inputs, a test comes either to an outcome whose
// sentences are whole, or to problems that say how to mend them.
func TestOddEntriesAreEitherJudgedOrReported(t *testing.T) {
	texts := []string{
		"", "0", "1", "12", "0 V", "12.4 V", "1e9 V", "999999999 V", "0.000000001 V", "6 V", "-3 V", "0 in", "999999999 in", "0.000000001 mm", "4 in",
		"0 rpm", "3600 rpm", "60 Hz", "-459.67 degF", "20 degC", "70 degF", "5 s", "0 s", "10 A", "0 A", "1 uohm", "80 Mohm", "750 W", "50 %", "200 %",
		"2 %", "0.1 V", "yes", "no", "ground", "positive", "cranking", "other", "walk-behind rotary", "random-wound", "old or field", "A", "<= 0.003 in", ">= 5",
	}
	judged := 0
	rapid.Check(t, func(r *rapid.T) {
		k := rapid.SampledFrom(registered()).Draw(r, "kind")
		made := logbook.Test{Place: logbook.Place{File: "log.md", Line: 1}, Test: k.name}
		for _, in := range k.takes() {
			from := fair(in)
			if rapid.IntRange(0, 11).Draw(r, "odd") == 0 {
				from = texts
			}
			odd := logbook.Input{Name: in.name, Text: rapid.SampledFrom(from).Draw(r, in.name)}
			if rapid.IntRange(0, 24).Draw(r, "list") == 0 {
				odd = logbook.Input{Name: in.name, List: true, Items: []logbook.Input{{Text: odd.Text}, {Text: odd.Text}}}
			}
			if in.need || rapid.Bool().Draw(r, "there") {
				made.Inputs = append(made.Inputs, odd)
			}
		}
		o, problems := Judge(&logbook.Shop{Systems: logbook.Systems}, &logbook.Machine{}, nil, made, catalog.English)
		if (o == nil) != (len(problems) > 0) {
			r.Fatalf("%+v: outcome %v, problems %v", made, o, problems)
		}
		for _, p := range problems {
			if p.Says == "" || p.Mend == "" || strings.HasPrefix(p.Says, "[problem") || strings.HasPrefix(p.Mend, "[problem") || strings.Contains(p.Says, "cannot be judged") {
				r.Fatalf("%+v: %v (%s)", made, p, p.Mend)
			}
		}
		if o != nil {
			judged++
			for _, s := range o.Says {
				if s == "" || strings.ContainsAny(s, "{}[") {
					r.Fatalf("%+v: %q", made, s)
				}
			}
		}
	})
	if judged == 0 {
		t.Fatal("no entry came to an outcome")
	}
}

// fair is what a mechanic may well write at an input.
func fair(in input) []string {
	switch in.sort {
	case aChoice:
		return in.words
	case aYesNo:
		return []string{"yes", "no"}
	case aNumber, aCount:
		return []string{"2", "4", "24"}
	case aText:
		if in.name == "limit" {
			return []string{"<= 0.003 in", "0.01 mm to 0.02 mm"}
		}
		return []string{"frame"}
	case anAccuracy:
		return []string{"1 %", "2 %"}
	}
	if in.of == quantity.Temperature {
		return []string{"68 degF", "-10 degC"}
	}
	return []string{in.example(), in.example(), strings.Replace(in.example(), " ", "0 ", 1)}
}

// The same readings in other units come to the same values and verdicts.
func TestUnitsChangeNothingOutsideTheEngine(t *testing.T) {
	for _, tc := range [][2]string{
		{"{test: battery at rest, volts: 12.45 V, temperature: 41 degF, gauge: 0.01 V}", "{test: battery at rest, volts: 12450 mV, temperature: 5 degC, gauge: 10 mV}"},
		{"{test: cranking, volts: 9.31 V, temperature: 41 degF}", "{test: cranking, volts: 9310 mV, temperature: 278.15 K}"},
		{"{test: charging, volts: 13 V, ripple: 0.49 V}", "{test: charging, volts: 13000 mV, ripple: 490 mV}"},
		{"{test: voltage drop, volts: 0.3 V, side: ground, load: other, current: 150 A, gauge: 2 %}", "{test: voltage drop, volts: 300 mV, side: ground, load: other, current: 150000 mA, gauge: 2 %}"},
		{"{test: parasitic draw, current: 0.018 A, amp_hours: 24}", "{test: parasitic draw, current: 18 mA, amp_hours: 24}"},
		{"{test: blade tip speed, blade: 21 in, spindle_rpm: 3450 rpm, length_gauge: 0.05 in}", "{test: blade tip speed, blade: 533.4 mm, spindle_rpm: 3450 rpm, length_gauge: 1.27 mm}"},
		{"{test: blade stopping time, time: 3 s, mower: walk-behind rotary, cut: 12 in}", "{test: blade stopping time, time: 0.05 min, mower: walk-behind rotary, cut: 304.8 mm}"},
		{"{test: belt drive, rpm: 1725 rpm, driver: 4 in, driven: 6 in, center: 18 in}", "{test: belt drive, rpm: 1725 rpm, driver: 101.6 mm, driven: 152.4 mm, center: 1.5 ft}"},
		{"{test: ground speed, axle_rpm: 60 rpm, tire: 20 in}", "{test: ground speed, axle_rpm: 60 rpm, tire: 508 mm}"},
		{"{test: generator output, volts: 247 V, hertz: 62 Hz, rated_hertz: 60 Hz, loaded_volts: 234 V}", "{test: generator output, volts: 247000 mV, hertz: 62 Hz, rated_hertz: 60 Hz, loaded_volts: 234000 mV}"},
		{"{test: insulation resistance, resistance: 20 Mohm, temperature: 68 degF, winding: random-wound, rated_volts: 240 V}", "{test: insulation resistance, resistance: 20000 kohm, temperature: 20 degC, winding: random-wound, rated_volts: 240000 mV}"},
		{"{test: backlash, as_found: 0.010 in, as_left: 0.004 in, limit: <= 0.004 in}", "{test: backlash, as_found: 10 thou, as_left: 0.1016 mm, limit: <= 0.1016 mm}"},
	} {
		same(t, sound(t, plainMachine, tc[0]), sound(t, plainMachine, tc[1]))
	}
}

// Each wrong entry is reported at its own field, and the message says what to
// write instead.
func TestWrongEntriesOutsideTheEngine(t *testing.T) {
	for _, tc := range []struct{ test, field, says, mend string }{
		{"{test: battery at rest}", "volts", "needs volts", "volts: 12.31 V"},
		{"{test: battery at rest, volts: 12.4}", "volts", "12.4", "12.4 V"},
		{"{test: battery at rest, volts: 12.4 A}", "volts", "12.4 A", "check the unit"},
		{"{test: battery at rest, volts: -12.4 V}", "volts", "not above zero", "sign"},
		{"{test: battery at rest, volts: 6.3 V}", "volts", "6 V or a 12 V", "nominal: 6 V"},
		{"{test: battery at rest, volts: 25 V}", "volts", "too high for a battery of 12 V", "nominal"},
		{"{test: battery at rest, volts: 25 V, nominal: 24 V}", "nominal", "24 V is no battery", "nominal: 12 V"},
		{"{test: battery at rest, volts: 12.4 V, temperature: 20}", "temperature", "20", "degF"},
		{"{test: battery at rest, volts: 12.4 V, temperature: -500 degF}", "temperature", "no temperature", "degF or degC"},
		{"{test: battery at rest, volt: 12.4 V}", "volt", "not a field", "write volts"},
		{"{test: battery at rest, volts: 12.4 V, surface_charge_off: maybe}", "surface_charge_off", "neither yes nor no", "yes or no"},
		{"{test: battery at rest, volts: 12.4 V, gauge: 5 psi}", "gauge", "accuracy", "gauge"},
		{"{test: battery at rst, volts: 12.4 V}", "test", "battery at rst", "battery at rest"},
		{"{test: battery at rest, volts: [12.4 V, 12.5 V]}", "volts", "one value", "volts"},
		{"{test: cranking, volts: 12 V, before: 11 V}", "before", "less than", "before:"},
		{"{test: cranking, volts: 5 V}", "volts", "6 V or a 12 V", "nominal"},
		{"{test: charging, volts: 28 V}", "volts", "too high", "nominal"},
		{"{test: charging, volts: 14 V, ripple: -1 V}", "ripple", "below zero", "sign"},
		{"{test: voltage drop, volts: 0.2 V, load: cranking}", "side", "needs side", "ground"},
		{"{test: voltage drop, volts: 0.2 V, load: cranking, side: grund}", "side", "grund", "write ground"},
		{"{test: voltage drop, volts: 0.2 V, load: cranking, side: ground, current: 0 A}", "current", "not above zero", "leave current out"},
		{"{test: voltage drop, volts: 0.2 V, load: cranking, side: ground, current: 5 A, current_gauge: 5 A}", "gauge", "sums have no answer", "finer tool"},
		{"{test: voltage drop, volts: 0.2 V, load: cranking, side: ground, nominal: 48 V}", "nominal", "48 V", "nominal: 12 V"},
		{"{test: parasitic draw, current: 10 mA}", "amp_hours", "needs amp_hours", "number above zero"},
		{"{test: parasitic draw, current: 10 mA, amp_hours: 24 h}", "amp_hours", "24 h", "without a unit"},
		{"{test: parasitic draw, current: 10 mA, amp_hours: 24, charge: 120 %}", "charge", "120 %", "100 % at most"},
		{"{test: blade tip speed, blade: 21 in}", "spindle_rpm", "spindle's speed", "engine_rpm"},
		{"{test: blade tip speed, blade: 21 in, engine_rpm: 3100 rpm, engine_pulley: 4 in}", "spindle_pulley", "needs spindle_pulley", "a length"},
		{"{test: blade tip speed, blade: 21 in, spindle_rpm: 3100 rpm, engine_rpm: 3100 rpm}", "spindle_rpm", "is given", "spindle_rpm alone"},
		{"{test: blade tip speed, blade: 21 in, spindle_rpm: 60 Hz}", "spindle_rpm", "a frequency", "rpm"},
		{"{test: blade stopping time, time: 2 s}", "mower", "needs mower", "walk-behind rotary"},
		{"{test: blade stopping time, time: [], mower: other}", "time", "empty", "a time"},
		{"{test: blade stopping time, time: 2 s, mower: walkbehind rotary}", "mower", "not one of the words", "walk-behind rotary"},
		{"{test: belt drive, rpm: 100 rpm, driver: [1 in, 2 in], driven: 3 in}", "driven", "1 values were given here, but 2", "one for each"},
		{"{test: belt drive, rpm: 100 rpm, driver: 4 in, driven: 6 in, center: 5 in}", "center", "would touch", "diameters"},
		{"{test: belt drive, rpm: 100 rpm, driver: [4 in, 4 in], driven: [6 in, 6 in], center: 9 in}", "center", "more than one belt", "test of its own"},
		{"{test: ground speed, axle_rpm: 60 rpm, tire: 20 in, time: 5 s}", "distance", "needs distance", "a length"},
		{"{test: ground speed, axle_rpm: 60 rpm, tire: 20 in, distance: 5 m}", "time", "needs time", "a time"},
		{"{test: gear reduction, driving_teeth: [12, 14], driven_teeth: [40]}", "driven_teeth", "1 values", "one for each"},
		{"{test: gear reduction, driving_teeth: 12.5, driven_teeth: 40}", "driving_teeth", "12.5", "digits only"},
		{"{test: gear reduction, driving_teeth: [12, 0], driven_teeth: [40, 42]}", "driving_teeth[1]", "\"0\"", "digits only"},
		{"{test: gear reduction, driving_teeth: 12, driven_teeth: 40, output_rpm: 100 rpm}", "rpm", "needs rpm", "3600 rpm"},
		{"{test: generator output, volts: 240 V, hertz: 60 Hz}", "rated_hertz", "needs rated_hertz", "a frequency"},
		{"{test: generator output, volts: 240 V, hertz: 60 Hz, rated_hertz: 60 Hz, poles: 3}", "poles", "no 3 poles", "poles: 4"},
		{"{test: generator output, volts: 240 V, hertz: 60 Hz, rated_hertz: 60 Hz, rpm: 3600 rpm}", "poles", "needs poles", "whole number"},
		{"{test: insulation resistance, resistance: 5 mohm, temperature: 20 degC, rated_volts: 240 V}", "winding", "needs winding", "random-wound"},
		{"{test: insulation resistance, resistance: 0 Mohm, temperature: 20 degC, winding: form-wound, rated_volts: 240 V}", "resistance", "not above zero", "reading"},
		{"{test: insulation resistance, resistance: 5 Mohm, temperature: 900 degC, winding: form-wound, rated_volts: 240 V}", "temperature", "no temperature", "degC"},
		{"{test: insulation resistance, resistance: 5 Mohm, temperature: 20 degC, winding: form-wound, rated_volts: 240 V, class: C}", "class", "not one of the words", "A, B, F, H"},
		{"{test: squareness, limit: <= 0.1 mm}", "as_found", "needs as_found", "a length"},
		{"{test: squareness, as_left: 0.1 mm, limit: tight}", "limit", "no limit for a length", "unit of length"},
		{"{test: squareness, as_left: 0.1 mm, limit: <= 5 V}", "limit", "no limit for a length", "unit of length"},
		{"{test: squareness, as_left: 0.1 mm, source: sheet}", "limit", "needs limit", "a few words"},
		{"{test: squareness, as_left: 0.1 mm, limit: <= 0.1 mm, limit_over: 6 in}", "over", "needs over", "a length"},
		{"{test: backlash, as_left: -0.1 mm}", "as_left", "below zero", "sign"},
	} {
		o, problems := judge(t, plainMachine, tc.test)
		if o != nil || len(problems) == 0 {
			t.Errorf("%s: taken without a problem", tc.test)
			continue
		}
		found := false
		for _, p := range problems {
			found = found || strings.HasSuffix(p.Field, tc.field) && strings.Contains(p.Says, tc.says) && strings.Contains(p.Mend, tc.mend)
			if strings.ContainsAny(p.Mend, "{") && !strings.Contains(p.Mend, "{test:") || p.Line == 0 {
				t.Errorf("%s: %v (%s)", tc.test, p, p.Mend)
			}
		}
		if !found {
			t.Errorf("%s: got %v (%s), want %s at %s, mended with %s", tc.test, problems, problems[0].Mend, tc.says, tc.field, tc.mend)
		}
	}
}
