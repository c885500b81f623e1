package condition

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// TestNamedWithTheMatter: where only names stand, each says what is the matter, or a part
// that is missing would read as one that is wrong, and a repair as a fault.
func TestNamedWithTheMatter(t *testing.T) {
	rocked := defects("rocked", "chain rocked", "drive", "safety: yes")
	flap, left := defects("flap", "the flap is bent", "guards"), "gone: [{key: flap, with: new flap}]"
	stop := changes("a stop", "key: stop", "system: drive", "safety: yes", "adds: yes")
	for name, tc := range map[string]struct {
		rig
		kind Kind
		of   string
		want string
	}{
		"missing":          {rig{machine: "missing: [{part: bar cover, system: guards}]"}, KindMissing, "bar cover", "bar cover (missing)"},
		"without a limit":  {rig{entries: []string{on("2026-03-02", reading("relief pressure", "2600 psi", "system: engine", "gauge: 50 psi"))}}, KindMeasurement, "relief pressure", "relief pressure (no limit given)"},
		"outside":          {rig{machine: "limits: [{what: play, limit: \"<= 2 mm\", system: brakes}]", entries: []string{on("2026-03-02", reading("play", "3 mm", "gauge: 0.1 mm"))}}, KindMeasurement, "play", "play (outside its limit)"},
		"still so":         {rig{entries: []string{on("2026-03-02", rocked)}}, KindDefect, "rocked", "chain rocked"},
		"not proven":       {rig{entries: []string{on("2026-03-02", rocked), on("2026-03-03", repaired("rocked", "how: new pins"))}}, KindDefect, "rocked", "chain rocked (repaired, not proven)"},
		"in several words": {rig{entries: []string{on("2026-03-02", rocked), on("2026-03-03", defects("rocked", "chain loose", "drive", "safety: yes")), on("2026-03-04", repaired("rocked", "of: chain rocked", "how: new pins")), on("2026-03-05", repaired("rocked", "of: chain loose", "how: shorter chain"))}}, KindDefect, "rocked", "chain rocked, also written as chain loose (repaired, not proven)"},
		"worked around":    {rig{entries: []string{on("2026-03-02", rocked), on("2026-03-03", "worked_around: [{key: rocked, how: run it slow}]")}}, KindDefect, "rocked", "chain rocked (worked around)"},
		"later work":       {rig{entries: []string{on("2026-03-02", rocked), on("2026-03-03", repaired("rocked", "how: new pins", proof)), on("2026-03-04", part("belt", "system: drive"))}}, KindDefect, "rocked", "chain rocked (repaired before later work there)"},
		"changed":          {rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine", "safety: yes"))}}, KindChange, "bigger jet", "bigger jet (changed)"},
		"in order":         {rig{entries: []string{on("2026-03-02", check(brake, "works"))}}, KindPoint, brake, "brake"},
		"not so":           {rig{entries: []string{on("2026-03-02", check(brake, "fails"))}}, KindPoint, brake, brake + " (not so)"},
		"gone, not proven": {rig{entries: []string{on("2026-03-02", flap), on("2026-03-03", part("new flap", "system: guards"), left)}}, KindDefect, "flap", "the flap is bent (gone with its part, not proven)"},
		"gone and proven":  {rig{entries: []string{on("2026-03-02", flap), on("2026-03-03", part("new flap", "system: guards"), left), on("2026-03-04", check(guard, "works"))}}, KindDefect, "flap", "the flap is bent"},
		"added":            {rig{entries: []string{on("2026-03-02", stop)}}, KindChange, "stop", "a stop (added by the shop)"},
		"added, put back":  {rig{entries: []string{on("2026-03-02", stop), on("2026-03-03", "put_back: [{key: stop, how: took it off}]")}}, KindChange, "stop", "a stop"},
		"no list":          {rig{machine: "kind: sled"}, KindList, "no list for this kind of machine", "no list for this kind of machine"},
	} {
		tc.problems = true
		if got := find(t, tc.judge(t), tc.kind, tc.of).Named(catalog.English); got != tc.want {
			t.Errorf("%s: named %q, want %q", name, got, tc.want)
		}
	}
}

// TestWrongBeforeLaterWork: a point that failed before a part went in, or before a
// service for it, stays wrong, and is named with the day of that failure.
func TestWrongBeforeLaterWork(t *testing.T) {
	gone, cold := check(brake, "fails", "note: gone"), check(cold, "fails", "note: slow")
	shoe := part("brake shoe", "system: brakes")
	oil := "service: [{what: oil change, system: engine, answers: [it starts cold]}]"
	for name, tc := range map[string]struct {
		rig
		point, front, named string
	}{
		"no work since":          {rig{entries: []string{on("2026-03-02", gone)}}, brake, "The brake holds: not so (gone).", "the brake holds (not so: gone)"},
		"a part since":           {rig{entries: []string{on("2026-03-02", gone), on("2026-03-03", shoe)}}, brake, "The brake holds: not so on March 2 (gone); the log lists no check since.", "the brake holds (not so on March 2, 2026: gone; no check in the log since)"},
		"a part, and no note":    {rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", shoe)}}, brake, "The brake holds: not so on March 2; the log lists no check since.", "the brake holds (not so on March 2, 2026; no check in the log since)"},
		"a part elsewhere":       {rig{entries: []string{on("2026-03-02", gone), on("2026-03-03", part("belt", "system: drive"))}}, brake, "The brake holds: not so (gone).", "the brake holds (not so: gone)"},
		"a pass of that day":     {rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-02", gone), on("2026-03-03", shoe)}}, brake, "The brake holds: not so (gone).", "the brake holds (not so: gone)"},
		"a service since":        {rig{entries: []string{on("2026-03-02", cold), on("2026-03-03", oil)}}, "it starts cold", "Not so: it starts cold (on March 2: slow; no check in the log since).", "it starts cold (not so on March 2, 2026: slow; no check in the log since)"},
		"a service before":       {rig{entries: []string{on("2026-03-01", oil), on("2026-03-02", cold)}}, "it starts cold", "Not so: it starts cold (slow).", "it starts cold (not so: slow)"},
		"a service, and no note": {rig{entries: []string{on("2026-03-02", "checks: [{item: it starts cold, result: fails}]"), on("2026-03-03", oil)}}, "it starts cold", "Not so: it starts cold (on March 2; no check in the log since).", "it starts cold (not so on March 2, 2026; no check in the log since)"},
	} {
		r := tc.judge(t)
		var lines []string
		for _, l := range slices.Concat(r.Front.Hurt, r.Front.Wrong) {
			lines = append(lines, l.Text)
		}
		if !slices.Contains(lines, tc.front) {
			t.Errorf("%s: the front sheet lacks %q: %s", name, tc.front, strings.Join(lines, "\n"))
		}
		if got := find(t, r, KindPoint, tc.point).Named(catalog.English); got != tc.named {
			t.Errorf("%s: named %q, want %q", name, got, tc.named)
		}
	}
}
