package condition

import (
	"strings"
	"testing"

	"asleft/generator/logbook"
)

// What a limit says of safety holds for each reading that it judges: also where it
// names a place within the test's own, or goes by the name of the test.
func TestALimitsSafetyHoldsForWhatItJudges(t *testing.T) {
	for _, c := range []struct{ limit, test, name string }{
		{"{what: compression, where: cylinder 2, limit: \">= 90 psi\", system: engine, safety: yes}", "{test: compression, where: port, dry: [105 psi, 80 psi]}", "compression, port, cylinder 2"},
		{"{what: battery at rest, limit: \">= 12.4 V\", system: electrical, safety: yes}", "{test: battery at rest, volts: 12.1 V, temperature: 60 degF}", "battery at rest"},
	} {
		r := rig{machine: "engines: [{name: port, cylinders: 2}, {name: starboard, cylinders: 2}]\nlimits: [" + c.limit + "]", entries: []string{on("2026-03-02", "tests: ["+c.test+"]")}}.judge(t)
		s := r.Named(KindMeasurement, c.name)
		if s == nil || s.Safety != logbook.SafetyYes || !s.Open || s.Standing != Wrong {
			t.Errorf("%s: %+v", c.name, s)
		}
	}
}

// A more exact limit neither loosens the general one nor drops it: what both allow is
// used, both are told, and the gravest safety of the two holds.
func TestAMoreExactLimitStandsBesideTheGeneralOne(t *testing.T) {
	const maker = `{what: compression, limit: ">= 60 psi", source: maker, safety: yes}`
	for _, c := range []struct {
		limits, entry, name string
		want                Standing
		open                bool
		told                int
	}{
		{maker + `, {what: compression, where: cylinder 1, limit: ">= 10 psi", source: our own}`, "measured: [{what: compression, where: cylinder 1, value: 20 psi}]", "compression, cylinder 1", Wrong, true, 2},
		{maker + `, {what: compression, where: cylinder 1, limit: ">= 10 psi", source: our own}`, "tests: [{test: compression, where: cylinder 1, dry: 20 psi}]", "compression, cylinder 1", Wrong, true, 2},
		{maker + `, {what: compression, where: cylinder 1, limit: ">= 10 psi", source: our own}`, "measured: [{what: compression, where: cylinder 2, value: 70 psi}]", "compression, cylinder 2", InOrder, false, 1},
		{maker + `, {what: compression, where: cylinder 1, limit: ">= 90 psi", source: our own}`, "measured: [{what: compression, where: cylinder 1, value: 70 psi}]", "compression, cylinder 1", Wrong, true, 2},
		{maker + `, {what: compression, where: cylinder 1, limit: ">= 90 psi", source: our own}`, "tests: [{test: compression, dry: [95 psi, 70 psi], gauge: 1 psi}]", "compression, cylinder 1", InOrder, false, 2},
		{maker + `, {what: compression test, where: cylinder 1, limit: ">= 10 psi", source: our own}`, "tests: [{test: compression, where: cylinder 1, dry: 20 psi}]", "compression, cylinder 1", Wrong, true, 2},
		{`{what: blade stop, limit: "<= 2 s", source: maker}, {what: blade stopping time, where: left, limit: "<= 9 s", source: our own}`, "measured: [{what: blade stopping time, where: left, value: 5 s}]", "blade stopping time, left", Wrong, true, 2},
	} {
		r := rig{machine: "engine: {cylinders: 2}\nlimits: [" + c.limits + "]", entries: []string{on("2026-03-02", c.entry)}}
		if strings.Contains(c.entry, "dry: 20") {
			r.machine = strings.Replace(r.machine, "cylinders: 2", "cylinders: 1", 1)
		}
		s := find(t, r.judge(t), KindMeasurement, c.name)
		if s.Standing != c.want || s.Open != c.open || len(s.Measured.Limits) != c.told {
			t.Errorf("%s, %s: %s, open %v, by %v; want %s, %v, %d limits", c.limits, c.entry, s.Standing, s.Open, s.Measured.Limits, c.want, c.open, c.told)
		}
	}
}
