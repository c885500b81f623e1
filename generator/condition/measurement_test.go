package condition

import (
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
