package condition

import (
	"strings"

	"asleft/generator/logbook"
)

// A touch is which systems one entry worked on. Work whose system nobody wrote
// down may have been anywhere, so it counts as work on every system.
type touch struct {
	systems  map[string]bool
	anywhere bool
}

func (t touch) on(system string) bool {
	return t.anywhere || t.systems[system] || system == "" && len(t.systems) > 0
}

// history is what each entry of a machine worked on, in the entries' order.
type history []touch

// worked reads the history off the entries: an entry works on a system when it
// repairs, works around, changes or fits a part in it.
func worked(m *logbook.Machine) history {
	system := map[string]string{}
	all := make(history, len(m.Entries))
	for i, e := range m.Entries {
		for _, d := range e.Defects {
			system[d.Key] = d.System
		}
		t := touch{systems: map[string]bool{}}
		add := func(s string) {
			if s == "" {
				t.anywhere = true
				return
			}
			t.systems[s] = true
		}
		for _, r := range e.Repaired {
			if r.How != "" { // else it only brings the proof
				add(system[r.Key])
			}
		}
		for _, w := range e.WorkedAround {
			add(system[w.Key])
		}
		for _, c := range e.Changed {
			add(c.System)
		}
		for _, p := range e.Parts {
			add(p.System)
		}
		all[i] = t
	}
	return all
}

// since is the first entry after the given one that worked on the system, so
// that evidence of the given entry is stale; false when there is none. The
// evidence of an entry is not made stale by the same entry's work: the evening
// ends with looking at what was done. Evidence whose system is not known is
// stale after any work.
func (h history) since(entry int, system string) (int, bool) {
	for i := entry + 1; i < len(h); i++ {
		if h[i].on(system) {
			return i, true
		}
	}
	return 0, false
}

// last is the last entry that worked on the system.
func (h history) last(system string) (int, bool) {
	for i := len(h) - 1; i >= 0; i-- {
		if h[i].on(system) {
			return i, true
		}
	}
	return 0, false
}

// measuredSystems file a reading without a system of its own by what was
// measured. Common practice, no source. A reading that none of them knows
// has no system, and any later work makes it stale.
var measuredSystems = []struct{ word, system string }{
	{"cranking", "electrical"}, {"spark", "ignition"}, {"plug gap", "ignition"}, {"coil", "ignition"}, {"armature", "ignition"},
	{"compression", "engine"}, {"leak-down", "engine"}, {"end play", "engine"}, {"bore", "engine"},
	{"piston", "engine"}, {"ring", "engine"}, {"valve", "engine"}, {"journal", "engine"},
	{"crank", "engine"}, {"connecting rod", "engine"}, {"governed speed", "engine"}, {"no-load speed", "engine"}, {"idle speed", "engine"},
	{"battery", "electrical"}, {"charging", "electrical"},
	{"voltage", "electrical"}, {"frequency", "electrical"}, {"insulation", "electrical"}, {"brush", "electrical"},
	{"tire", "tires"}, {"tyre", "tires"}, {"brake", "brakes"}, {"belt", "drive"}, {"clutch", "drive"},
	{"blade", "implement"}, {"tine", "implement"}, {"spindle", "implement"},
}

func readingSystem(r logbook.Reading) string {
	if r.System != "" {
		return r.System
	}
	what := strings.ToLower(r.What)
	for _, m := range measuredSystems {
		if strings.Contains(what, m.word) {
			return m.system
		}
	}
	return ""
}
