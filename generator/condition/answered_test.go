package condition

import "testing"

// A reading answers a point only where it is certainly of the point's own place: by its
// name, or by the place that it names. A good runout of a wheel is not one of the
// crankshaft, and a fence that is parallel says nothing of the blade.
func TestAnAnswerIsOfThePointsOwnPlace(t *testing.T) {
	const crank, blade, fence, tank = "crankshaft runs true at the blade", "blade is parallel to the table slot", "fence is square to the table", "tank holds its pressure overnight"
	const runout, parallel, square, loss = `{what: runout, limit: "<= 2 mm", source: ours}`, `{what: parallelism, limit: "<= 0.005 in", source: ours}`, `{what: squareness, limit: "<= 0.005 in", source: ours}`, `{what: pressure loss, limit: "<= 5 psi", source: ours}`
	for _, tc := range []struct {
		kind, limit, entry, point string
		want                      Standing
	}{
		{"walk-behind mower", runout, "measured: [{what: runout, where: front wheel rim, value: 1 mm}]", crank, NotChecked},
		{"walk-behind mower", runout, "measured: [{what: runout, value: 1 mm}]", crank, NotChecked},
		{"walk-behind mower", runout, "measured: [{what: runout, where: crankshaft pulley, value: 1 mm}]", crank, NotChecked},
		{"walk-behind mower", runout, "measured: [{what: runout, where: wheel near the crankshaft, value: 1 mm}]", crank, NotChecked},
		{"walk-behind mower", runout, "measured: [{what: runout, where: The crankshaft at the blade end, value: 1 mm}]", crank, InOrder},
		{"walk-behind mower", runout, "measured: [{what: Runout, where: \"crankshaft, blade end\", value: 1 mm}]", crank, InOrder},
		{"walk-behind mower", runout, "measured: [{what: runout, where: blade end of the crankshaft, value: 1 mm}]", crank, InOrder},
		{"walk-behind mower", `{what: crankshaft runout, limit: "<= 2 mm", source: ours}`, "measured: [{what: crankshaft runout, value: 1 mm}]", crank, InOrder},
		{"walk-behind mower", runout, "tests: [{test: runout, tir: 1 mm}]", crank, NotChecked},
		{"walk-behind mower", runout, "tests: [{test: runout, tir: 3 mm, where: crankshaft}]", crank, Wrong},
		{"walk-behind mower", runout, "tests: [{test: crankshaft runout, tir: 3 mm}]", crank, Wrong},
		{"walk-behind mower", runout, "tests: [{test: runout, tir: 3 mm, where: front wheel}]", crank, NotChecked},
		{"table saw", parallel, "tests: [{test: parallelism, where: fence to slot, as_found: 0.002 in}]", blade, NotChecked},
		{"table saw", parallel, "tests: [{test: parallelism, where: blade to slot, as_found: 0.002 in}]", blade, InOrder},
		{"table saw", parallel, "tests: [{test: parallelism, where: blade to slot, as_found: 0.009 in}]", blade, Wrong},
		{"jointer", square, "tests: [{test: squareness, where: fence to table, as_found: 0.002 in}]", fence, InOrder},
		{"jointer", square, "tests: [{test: squareness, where: fence to knives, as_found: 0.002 in}]", fence, NotChecked},
		{"air compressor", loss, "measured: [{what: pressure loss, where: tire, value: 1 psi}]", tank, NotChecked},
		{"air compressor", loss, "measured: [{what: pressure loss, where: tank, value: 1 psi}]", tank, InOrder},
	} {
		r := rig{machine: "kind: " + tc.kind + "\nlimits: [" + tc.limit + "]", entries: []string{on("2026-03-02", tc.entry)}}.judge(t)
		if s := find(t, r, KindPoint, tc.point); s.Standing != tc.want {
			t.Errorf("%s on a %s: %q is %s, want %s", tc.entry, tc.kind, tc.point, s.Standing, tc.want)
		}
	}
}
