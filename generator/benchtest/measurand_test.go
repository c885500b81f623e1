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

// The published safety limits hold for plain readings too, each on the machines that
// it is for.
func TestPublishedForReadings(t *testing.T) {
	for _, tc := range []struct{ kind, what, want string }{
		{"walk-behind mower", "blade stopping time", "<= 3.0 s"}, {"walk-behind mower", "Blade stop", "<= 3.0 s"},
		{"ride-on mower", "blade stopping time", ""}, {"", "blade stopping time", ""},
		{"ride-on mower", "tip speed", "<= 19000 ft/min"}, {"", "blade tip speed", "<= 19000 ft/min"}, {"", "compression", ""}, {"", "soup", ""},
	} {
		m := &logbook.Machine{}
		if tc.kind != "" {
			m.Sheet = &logbook.Sheet{Kind: tc.kind}
		}
		limit, source, ok := Published(m, tc.what, catalog.English)
		if limit.String() != tc.want || ok != (tc.want != "") || (source == "") == ok {
			t.Errorf("%s of %q: %s, %q, %v", tc.what, tc.kind, limit, source, ok)
		}
	}
}
