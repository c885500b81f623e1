package benchtest

import (
	"testing"

	"asleft/generator/quantity"
)

// 0.016 in over a bore of 4.000 in is 0.004 in for each inch (arithmetic). No
// rule of thumb is held against it.
func TestRingGapForEachInchOfBoreHasNoLimit(t *testing.T) {
	r := sound(t, plainMachine, "{test: ring end gap, where: top ring, gap: 0.016 in, bore: 101.6 mm}").result(t, "gap for each inch of bore, top ring")
	if r.Value != "0.0040 in" || r.Verdict != quantity.NotLimited || r.Limit != "" {
		t.Errorf("got %s, %s, %q", r.Value, r.Verdict, r.Limit)
	}
}
