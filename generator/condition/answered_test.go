package condition

import (
	"strings"
	"testing"

	"asleft/generator/catalog"
)

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

// What the bench tests find answers the points that ask for it, good or bad.
func TestBenchTestsAnswerTheirPoints(t *testing.T) {
	const output = "tests: [{test: generator output, volts: %, hertz: 62 Hz, rated_volts: 240 V, rated_hertz: 60 Hz, loaded_volts: @, loaded_hertz: #, gauge: 1 V, hertz_gauge: 0.1 Hz}]"
	volts := strings.NewReplacer("%", "247 V", "@", "235 V", "#", "60 Hz")
	const noLoad, loaded, frequency, brake, chain, trip = "output voltage is right with no load", "voltage holds under load", "frequency is right with and without load", "parking brake holds on a slope", "chain brake stops the chain at once", "ground-fault outlets trip on the test button"
	for _, tc := range []struct {
		machine, entry, point string
		want                  Standing
	}{
		{"kind: generator", volts.Replace(output), noLoad, InOrder},
		{"kind: generator", volts.Replace(output), loaded, InOrder},
		{"kind: generator", volts.Replace(output), frequency, InOrder},
		{"kind: inverter generator", volts.Replace(output), frequency, InOrder},
		{"kind: generator", strings.NewReplacer("%", "247 V", "@", "190 V", "#", "60 Hz").Replace(output), loaded, Wrong},
		{"kind: generator", strings.NewReplacer("%", "247 V", "@", "190 V", "#", "60 Hz").Replace(output), noLoad, InOrder}, // the one under load says nothing of it
		{"kind: generator", strings.NewReplacer("%", "300 V", "@", "240 V", "#", "60 Hz").Replace(output), noLoad, Wrong},
		{"kind: inverter generator", strings.NewReplacer("%", "247 V", "@", "235 V", "#", "50 Hz").Replace(output), frequency, Wrong},
		{"kind: generator", "tests: [{test: generator output, volts: 247 V, hertz: 62 Hz, rated_hertz: 60 Hz}]", noLoad, NoLimit},
		{"kind: generator", "tests: [{test: generator output, volts: 247 V, hertz: 62 Hz, rated_hertz: 60 Hz}]", frequency, NotChecked}, // with a load it was not read
		{"kind: generator", "tests: [{test: ground-fault trip time, current: 6 mA, time: 0.03 s, time_gauge: 0.005 s}]", trip, InOrder},
		{"kind: ride-on mower", "tests: [{test: parking brake, creep: 0 in, slope: 10 deg, time: 60 s}]", brake, NoLimit},
		{"kind: ride-on mower\nlimits: [{what: parking brake, limit: \"<= 1 in\", source: maker}]", "tests: [{test: parking brake, creep: 0 in, slope: 10 deg, time: 60 s, gauge: 0.1 in}]", brake, InOrder},
		{"kind: golf cart\nlimits: [{what: parking brake, limit: \"<= 1 in\", source: maker}]", "tests: [{test: parking brake, creep: 3 in, slope: 10 deg, time: 60 s, gauge: 0.1 in}]", brake, Wrong},
		{"kind: chainsaw\nlimits: [{what: chain brake stopping time, limit: \"<= 0.15 s\", source: maker}]", "tests: [{test: chain brake stopping time, time: [0.10 s, 0.11 s], gauge: 0.01 s}]", chain, InOrder},
		{"kind: chainsaw\nlimits: [{what: chain brake stopping time, limit: \"<= 0.15 s\", source: maker}]", "tests: [{test: chain brake stopping time, time: [0.10 s, 0.31 s], gauge: 0.01 s}]", chain, Wrong},
	} {
		r := rig{machine: tc.machine, entries: []string{on("2026-03-02", tc.entry)}}.judge(t)
		if s := find(t, r, KindPoint, tc.point); s.Standing != tc.want {
			t.Errorf("%s, %s: %q is %s, want %s", tc.machine, tc.entry, tc.point, s.Standing, tc.want)
		}
	}
}

// Without an engine nothing of one is asked, and the report says what the shop said.
func TestNoEngineNoPullRope(t *testing.T) {
	r := rig{machine: "kind: hedge trimmer\nhas: {engine: no}"}.judge(t)
	for _, item := range []string{"rope pulls freely and winds back", "starts cold within five pulls", "air cleaner is whole and seals"} {
		if s := find(t, r, KindPoint, item); s.Standing != DoesNotApply || s.Open || s.Item.OnlyIf != "engine" {
			t.Errorf("%s: %s, for want of %q", item, s.Standing, s.Item.OnlyIf)
		}
	}
	if s := find(t, r, KindPoint, "blades stop when the trigger is let go"); s.Standing != NotChecked || !s.Open {
		t.Errorf("%s: %s", s.Name, s.Standing)
	}
	if r := (rig{machine: "kind: any old thing\nhas: {engine: no}", sheet: "sheet: any old thing\nitems: [{item: it has oil, system: engine, safety: no, only_if: engine oil}]"}); find(t, r.judge(t), KindPoint, "it has oil").Standing != DoesNotApply {
		t.Error("engine oil without an engine")
	}
}

// A point that a reading answered stays on the list.
func TestNoMeasuredPointIsLeftOut(t *testing.T) {
	const holds, square, squeeze = "voltage holds under load", "spindle is square to the table", "compression is not under the maker's limit"
	for _, tc := range []struct{ kind, item, entry, what string }{
		{"generator", holds, "tests: [{test: generator output, volts: 240 V, hertz: 60 Hz, rated_hertz: 60 Hz, loaded_volts: 190 V}]", "voltage, loaded"},
		{"generator", holds, "tests: [{test: generator output, volts: 240 V, hertz: 60 Hz, rated_hertz: 60 Hz}]", ""},
		{"drill press", "spindle runout is inside the limit", "tests: [{test: spindle runout, as_found: 0.3 mm}]", "spindle runout"},
		{"drill press", square, "tests: [{test: squareness, where: spindle to table, as_found: 0.3 mm}]", "squareness"},
		{"drill press", square, "tests: [{test: squareness, where: fence, as_found: 0.3 mm}]", ""},
		{"motorcycle", squeeze, "tests: [{test: compression, dry: 30 psi}]", "compression"},
		{"motorcycle", squeeze, "measured: [{what: Compression, where: cylinder 1, value: 30 psi}]", "Compression"},
	} {
		shop, tests := rig{machine: "kind: " + tc.kind + "\nleave_out: [{item: \"" + tc.item + "\", why: we never look at that}]", entries: []string{on("2026-03-02", tc.entry)}}.read(t)
		got := LeftOutMeasured(shop.Machines[0], tests, catalog.English)
		if tc.what == "" && len(got) > 0 || tc.what != "" && (len(got) != 1 || !strings.Contains(got[0].Says, "("+tc.what+")") || got[0].Field != "leave_out[0].item") {
			t.Errorf("%s after %s: %v, want %q", tc.item, tc.entry, got, tc.what)
		}
	}
}
