package benchtest

import (
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

func TestMeasurand(t *testing.T) {
	for _, tc := range []struct {
		name, system  string
		safety, known bool
	}{
		{"blade tip speed", "implement", true, true},
		{"Blade-tip speed", "implement", true, true},
		{"compression", "engine", false, true},
		{"governed speed", "engine", false, true},
		{"insulation resistance", "electrical", true, true},
		{"compression of hay", "", false, false},
	} {
		system, safety, known := Measurand(tc.name)
		if known != tc.known || safety != tc.safety || known && tc.system != "" && system != tc.system {
			t.Errorf("%s: system %q, safety %v, known %v", tc.name, system, safety, known)
		}
	}
}

// The published limit is 16 CFR 1205.5(a)(1)(iii): the blade of a walk-behind
// rotary mower stops within 3.0 seconds.
func TestASafetyLimitIsNeverLoosened(t *testing.T) {
	const test = "{test: blade stopping time, mower: walk-behind rotary, time: %s, gauge: 0.1 s}"
	for _, tc := range []struct {
		limit, time string
		want        quantity.Verdict
		limits      int
	}{
		{"", "2.5 s", quantity.Inside, 1},
		{"<= 9 s", "5 s", quantity.Outside, 2},
		{"<= 9 s", "3.05 s", quantity.TooClose, 2},
		{"<= 2 s", "2.5 s", quantity.Outside, 2},
		{"<= 2 s", "1.5 s", quantity.Inside, 2},
	} {
		machine := plainMachine
		if tc.limit != "" {
			machine = "limits: [{what: blade stopping time, limit: " + tc.limit + ", source: the maker's book}]\n"
		}
		r := sound(t, machine, strings.Replace(test, "%s", tc.time, 1)).result(t, "blade stopping time")
		if r.Verdict != tc.want || len(r.Limits) != tc.limits {
			t.Errorf("own limit %q, %s: %s against %v, want %s against %d", tc.limit, tc.time, r.Verdict, r.Limits, tc.want, tc.limits)
		}
	}
}

// What a test says of the machine does not take away the limit that its own kind has:
// 16 CFR 1205.5(a)(1)(iii), 3.0 s, and IEEE Std 43, 5 megohm from 1 hp on.
func TestNoInputTakesAPublishedLimitAway(t *testing.T) {
	const own = "limits: [{what: blade stopping time, limit: <= 20 s, source: our own}]\n"
	const stop, megohm = "blade stopping time", "insulation resistance at 40 degC"
	for _, tc := range []struct {
		machine, test, result string
		want                  quantity.Verdict
		limits                int
	}{
		{"kind: walk-behind mower\n" + own, "{test: blade stopping time, time: 8 s, mower: other, gauge: 0.2 s}", stop, quantity.Outside, 2},
		{"kind: lawn mower\n" + own, "{test: blade stop, time: 8 s, mower: riding rotary, gauge: 0.2 s}", stop, quantity.Outside, 2},
		{"kind: walk-behind mower\n" + own, "{test: blade stopping time, time: 8 s, mower: walk-behind rotary, cut: 10 in, gauge: 0.2 s}", stop, quantity.Outside, 2},
		{"kind: walk-behind mower\n", "{test: blade stopping time, time: 8 s, mower: other}", stop, quantity.Outside, 1},
		{"kind: walk-behind mower\n", "{test: blade stopping time, time: 2 s, mower: walk-behind rotary, cut: 21 in}", stop, quantity.Inside, 1},
		{"kind: mowing thing\nsheet: walk-behind mower\n", "{test: blade stopping time, time: 8 s, mower: other}", stop, quantity.Outside, 1},
		{"kind: ride-on mower\n" + own, "{test: blade stopping time, time: 8 s, mower: riding rotary, gauge: 0.2 s}", stop, quantity.Inside, 1},
		{"kind: ride-on mower\n" + own, "{test: blade stopping time, time: 8 s, mower: walk-behind rotary, gauge: 0.2 s}", stop, quantity.Outside, 2},
		{"motor: {power: 5 hp}\n", "{test: insulation resistance, resistance: 0.01 Mohm, temperature: 104 degF, winding: random-wound, rated_volts: 240 V, power: 0.5 hp}", megohm, quantity.Outside, 1},
		{"motor: {power: 0.5 hp}\n", "{test: insulation resistance, resistance: 0.01 Mohm, temperature: 104 degF, winding: random-wound, rated_volts: 240 V, power: 0.5 hp}", megohm, quantity.NotLimited, 0},
	} {
		r := sound(t, tc.machine, tc.test).result(t, tc.result)
		if r.Verdict != tc.want || len(r.Limits) != tc.limits {
			t.Errorf("%s%s: %s against %v, want %s against %d", tc.machine, tc.test, r.Verdict, r.Limits, tc.want, tc.limits)
		}
	}
}

func TestALimitOfAnotherTestComesFirst(t *testing.T) {
	r := sound(t, "limits: [{what: leak-down, limit: <= 35 %, source: the maker's book}]\n", `{test: leak-down, regulated: 80 psi, cylinder: [72 psi, 56 psi], heard: [crankcase, exhaust], gauge: 1 psi}`).Results[0]
	if len(r.Limits) != 1 || r.Limits[0].Source != "the maker's book" {
		t.Errorf("held against %v", r.Limits)
	}
}

// What a test finds that can be held against a limit is known by its name, so
// that a reading of it needs neither system nor safety said.
func TestResultsAreMeasurands(t *testing.T) {
	for _, k := range Kinds() {
		o := sound(t, plainMachine, k.Example)
		for _, r := range o.Results {
			if !r.Main && r.Limit == "" || strings.Contains(r.What, " over ") {
				continue // a length that the log gives is part of that name
			}
			system, safety, known := Measurand(r.What)
			if !known || system != k.System || safety != k.Safety {
				t.Errorf("%s: %q is %q, %v, %v", k.Name, r.What, system, safety, known)
			}
		}
	}
	if system, safety, known := Measurand("spindle speed"); known {
		t.Errorf("a sum on the way is known: %q, %v", system, safety)
	}
}

// No name is of two systems, or a safety matter in one test and none in another.
func TestMeasurandsAreOfOneKind(t *testing.T) {
	seen := map[string]*kind{}
	for _, k := range registered() {
		for _, name := range append(append([]string{k.name}, k.also...), k.results...) {
			if other := seen[logbook.Folded(name)]; other != nil && (other.system != k.system || other.safety != k.safety) {
				t.Errorf("%q is of %s and of %s", name, other.name, k.name)
			}
			seen[logbook.Folded(name)] = k
		}
	}
}

// A test is of a state and of a place; where only a part of the place has a name,
// both are told.
func TestStateAndPlace(t *testing.T) {
	o := sound(t, plainMachine, "{test: compression, where: cylinder 2, dry: 90 psi, state: hot}")
	if o.State != "hot" || o.Results[0].Where != "cylinder 2" || o.Results[0].What != "compression" {
		t.Errorf("%q, %+v", o.State, o.Results[0])
	}
	const bore = "top: [2.7560 in, 2.7540 in], bottom: [2.7530 in, 2.7530 in], standard: 2.7520 in, stroke: 2.5 in, piston: 2.7500 in}"
	for test, want := range map[string]string{"{test: bore, where: cylinder 2, ": "cylinder 2, least", "{test: bore, ": "least"} {
		if got := sound(t, plainMachine, test+bore).result(t, "piston clearance, least").Where; got != want {
			t.Errorf("%s: %q, want %q", test, got, want)
		}
	}
	if o := sound(t, plainMachine, "{test: valve clearance, intake: 0.005 in, state: cold}"); o.State != "cold" {
		t.Errorf("state %q", o.State)
	}
}

// readOf is a plain reading as the log has it.
func readOf(t *testing.T, what, value string) logbook.Reading {
	t.Helper()
	v, err := quantity.ParseReading(value)
	if err != nil {
		t.Fatal(err)
	}
	return logbook.Reading{What: what, Value: v}
}

// The published safety limits hold for plain readings too, each on the machines that
// it is for. One that hangs on what a plain reading does not say makes it no better than
// the most that it can be: DIN VDE 0701-0702 (1 ohm with the longest cord, 3.5 mA in the
// ground wire) and UL 943 ((20/6)^1.43 = 5.59 s), as in the tests of these.
func TestPublishedForReadings(t *testing.T) {
	for _, tc := range []struct {
		kind, what, value string
		limit             string // against which it is held; "" for none
		verdict           quantity.Verdict
	}{
		{"walk-behind mower", "blade stopping time", "3.5 s", "<= 3.0 s", quantity.Outside},
		{"walk-behind mower", "Blade  stop", "2.5 s", "<= 3.0 s", quantity.Inside},
		{"ride-on mower", "blade stopping time", "3.5 s", "", quantity.NotLimited},
		{"", "blade stopping time", "3.5 s", "", quantity.NotLimited},
		{"ride-on mower", "tip speed", "20000 ft/min", "<= 19000 ft/min", quantity.Outside},
		{"", "blade tip speed", "18000 ft/min", "<= 19000 ft/min", quantity.Inside},
		{"", "ground-fault trip current", "7 mA", "4 mA to 6 mA", quantity.Outside},
		{"", "ground-fault trip current", "5 mA", "4 mA to 6 mA", quantity.Inside},
		{"", "ground path resistance", "1.1 ohm", "<= 1.0 ohm", quantity.Outside},
		{"", "grounding continuity", "1.1 ohm", "<= 1.0 ohm", quantity.Outside},
		{"", "ground path resistance", "0.9 ohm", "", quantity.NotLimited},
		{"", "touch current", "3.6 mA", "<= 3.5 mA", quantity.Outside},
		{"", "leakage current", "3.4 mA", "", quantity.NotLimited},
		{"", "GFCI trip time", "5.6 s", "<= 5.59 s", quantity.Outside},
		{"", "ground-fault trip time", "5.5 s", "", quantity.NotLimited},
		{"", "insulation resistance", "0.1 Mohm", "", quantity.NotLimited},
		{"", "compression", "95 psi", "", quantity.NotLimited},
		{"", "soup", "3 qt", "", quantity.NotLimited},
	} {
		m := &logbook.Machine{}
		if tc.kind != "" {
			m.Sheet = &logbook.Sheet{Kind: tc.kind}
		}
		got := JudgePlain(&logbook.Shop{}, m, readOf(t, tc.what, tc.value), nil, catalog.English)
		limit := ""
		for _, l := range got.Limits {
			limit += l.Limit
			if l.Source == "" {
				t.Errorf("%s: the limit %s has no source", tc.what, l.Limit)
			}
		}
		if got.Verdict != tc.verdict || limit != tc.limit {
			t.Errorf("%s of %s on a %q: %s by %q, want %s by %q", tc.what, tc.value, tc.kind, got.Verdict, limit, tc.verdict, tc.limit)
		}
	}
}

// A reading under the name of its test is of what the test finds, where that is the very
// thing that is read.
func TestMeasuredAs(t *testing.T) {
	for name, want := range map[string]string{
		"grounding continuity": "ground path resistance", "Ground  Continuity": "ground path resistance", "ground path resistance": "ground path resistance",
		"touch current": "leakage current", "blade stop": "blade stopping time", "insulation resistance": "insulation resistance", "compression": "compression", "soup": "soup",
		"Full speed": "governed speed", "top speed": "top speed", "governor droop": "governor droop", "governor": "governor",
	} {
		if got := MeasuredAs(name); got != want {
			t.Errorf("%s is measured as %s, want %s", name, got, want)
		}
	}
}

// Compression read above the sea is less than it would be there, by how much sources
// differ: at 6000 ft by 1.19 to 1.25 times (check-values of the standard atmosphere, as
// in the test of compression).
func TestPlainCompressionAtAltitude(t *testing.T) {
	limit, err := quantity.ParseLimit(">= 110 psi")
	if err != nil {
		t.Fatal(err)
	}
	m := &logbook.Machine{Limits: []logbook.Limit{{What: "compression", Limit: limit}, {What: "oil pressure", Limit: limit}}}
	high, err := quantity.Parse("6000 ft")
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		shop        *logbook.Shop
		what, value string
		want        quantity.Verdict
	}{
		{&logbook.Shop{}, "compression", "95 psi", quantity.Outside},
		{&logbook.Shop{Altitude: high}, "compression", "95 psi", quantity.TooClose},
		{&logbook.Shop{Altitude: high}, "compression", "80 psi", quantity.Outside},
		{&logbook.Shop{Altitude: high}, "compression", "115 psi", quantity.Inside},
		{&logbook.Shop{Altitude: high}, "compression", "94 to 96 psi", quantity.TooClose},
		{&logbook.Shop{Altitude: high}, "compression", "< 96 psi", quantity.TooClose},
		{&logbook.Shop{Altitude: high}, "compression", "< 80 psi", quantity.Outside},
		{&logbook.Shop{Altitude: high}, "compression", "about 95 psi", quantity.TooClose},
		{&logbook.Shop{Altitude: high}, "compression", "115 to 120 psi", quantity.Inside},
		{&logbook.Shop{Altitude: high}, "oil pressure", "95 psi", quantity.Outside},
		{&logbook.Shop{Altitude: high}, "oil pressure", "94 to 96 psi", quantity.Outside},
	} {
		if got := JudgePlain(tc.shop, m, readOf(t, tc.what, tc.value), nil, catalog.English).Verdict; got != tc.want {
			t.Errorf("%s %s at %s: %s, want %s", tc.what, tc.value, tc.shop.Altitude, got, tc.want)
		}
	}
}

// What a gauge leaves open grows with the reading: at 6000 ft 86.5 psi are 107.9 psi by
// the air's pressure (1.2478 times), and 1.9 psi either way are 2.4.
func TestPlainCompressionAtAltitudeWithAGauge(t *testing.T) {
	limit, err := quantity.ParseLimit(">= 110 psi")
	if err != nil {
		t.Fatal(err)
	}
	high, err := quantity.Parse("6000 ft")
	if err != nil {
		t.Fatal(err)
	}
	m := &logbook.Machine{Limits: []logbook.Limit{{What: "compression", Limit: limit}}}
	for gauge, want := range map[string]quantity.Verdict{
		"1 psi": quantity.Outside, "1.9 psi": quantity.TooClose, "1 %": quantity.Outside, "2.2 %": quantity.TooClose,
	} {
		r := readOf(t, "compression", "86.5 psi")
		if r.Gauge, err = quantity.ParseGauge(gauge); err != nil {
			t.Fatal(err)
		}
		if got := JudgePlain(&logbook.Shop{Altitude: high}, m, r, nil, catalog.English).Verdict; got != want {
			t.Errorf("86.5 psi, give or take %s: %s, want %s", gauge, got, want)
		}
	}
}
