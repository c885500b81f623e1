package benchtest

import (
	"strings"
	"testing"

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
