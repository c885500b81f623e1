package condition

import (
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// answers tells whether a name under answered_by: is that of what was measured there, or
// of a test that found it; or has the place before it: "crankshaft runout" is the runout
// of "crankshaft, at the blade".
func answers(name, what, where string, tests ...string) bool {
	if place, is := strings.CutSuffix(logbook.Folded(name), " "+logbook.Folded(what)); is && logbook.SameNumber(thingAt(where), place) {
		return true
	}
	return sameThing(name, what) || slices.ContainsFunc(tests, func(t string) bool { return logbook.Same(t, name) })
}

// thingAt is the thing in a place: "crankshaft" of "crankshaft, blade end" and of "the
// crankshaft at the blade end". Other words beside it may make it another thing.
func thingAt(where string) string {
	where = strings.ToLower(where)
	for _, end := range []string{",", "(", " at ", " on ", " near "} {
		where, _, _ = strings.Cut(where, end)
	}
	return strings.TrimPrefix(strings.ReplaceAll(where, " the ", " "), "the ")
}

// LeftOutMeasured are the problems of points that a machine's list leaves out and that a
// reading of the log answered.
func LeftOutMeasured(m *logbook.Machine, tests []*benchtest.Outcome, words *catalog.Catalog) []logbook.Problem {
	var all []logbook.Problem
	for _, l := range m.LeaveOut {
		if what := measuredOf(m, tests, answersOf(m, l.Item)); what != "" {
			all = append(all, logbook.ProblemAt(words, l.In("item"), "problem.leave-out-measured", "read", l.Item, "what", what))
		}
	}
	return all
}

// answersOf is what answers a point of the machine's sheets.
func answersOf(m *logbook.Machine, item string) []string {
	var by []string
	for _, s := range m.Sheets {
		if it := s.ItemNamed(item); it != nil {
			by = append(by, it.AnsweredBy...)
		}
	}
	return by
}

// measuredOf is the first thing in the log that goes by one of the names; empty where
// none does.
func measuredOf(m *logbook.Machine, tests []*benchtest.Outcome, names []string) string {
	by := func(what, where string, tests ...string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return answers(n, what, where, tests...) })
	}
	for _, e := range m.Entries {
		for _, r := range e.Measured {
			if by(r.What, r.Where) {
				return r.What
			}
		}
	}
	for _, t := range tests {
		for _, r := range t.Results {
			if (r.Main || r.Limit != "") && by(r.What, r.Where, t.Test) {
				return r.What
			}
		}
	}
	return ""
}
