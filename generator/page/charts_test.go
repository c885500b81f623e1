package page

import (
	"slices"
	"testing"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// TestChartEndsWhereTheReportStands: the last stretch of a defect's life is what the
// report says of it, whose proof may be a point that passed.
func TestChartEndsWhereTheReportStands(t *testing.T) {
	ev := func(what string, day logbook.Date) condition.Event {
		return condition.Event{What: what, Entry: condition.Evidence{Date: day}}
	}
	found, repaired := ev(condition.Found, "2026-03-01"), ev(condition.Repaired, "2026-03-02")
	proved, around := ev(condition.Proved, "2026-03-02"), ev(condition.Around, "2026-03-02")
	left := ev(condition.Left, "2026-03-04")
	worked := &condition.Touch{Entry: condition.Evidence{Date: "2026-03-05"}}
	there := stretch{"there", "2026-03-01"}
	for name, tc := range map[string]struct {
		history  []condition.Event
		standing condition.Standing
		proven   logbook.Date
		touched  *condition.Touch
		want     []stretch
	}{
		"still so":                     {[]condition.Event{found}, condition.Wrong, "", nil, []stretch{there}},
		"repaired and no more":         {[]condition.Event{found, repaired}, condition.NotProven, "", nil, []stretch{there, {"repaired", "2026-03-02"}}},
		"proven by its own proof":      {[]condition.Event{found, repaired, proved}, condition.InOrder, "2026-03-02", nil, []stretch{there, {"proven", "2026-03-02"}}},
		"proven by a point":            {[]condition.Event{found, repaired}, condition.InOrder, "2026-03-03", nil, []stretch{there, {"repaired", "2026-03-02"}, {"proven", "2026-03-03"}}},
		"by a point of the same day":   {[]condition.Event{found, repaired}, condition.InOrder, "2026-03-02", nil, []stretch{there, {"proven", "2026-03-02"}}},
		"a proof that is none":         {[]condition.Event{found, repaired, proved}, condition.NotProven, "", nil, []stretch{there, {"repaired", "2026-03-02"}}},
		"later work":                   {[]condition.Event{found, repaired, proved}, condition.OutOfDate, "2026-03-02", worked, []stretch{there, {"proven", "2026-03-02"}, {"stale", "2026-03-05"}}},
		"a point, and later work":      {[]condition.Event{found, repaired}, condition.OutOfDate, "2026-03-03", worked, []stretch{there, {"repaired", "2026-03-02"}, {"proven", "2026-03-03"}, {"stale", "2026-03-05"}}},
		"one of two repaired":          {[]condition.Event{found, repaired, proved}, condition.Wrong, "2026-03-02", nil, []stretch{there}},
		"worked around":                {[]condition.Event{found, around}, condition.WorkedAround, "", nil, []stretch{there, {"around", "2026-03-02"}}},
		"worked around, other is not":  {[]condition.Event{found, repaired, proved}, condition.WorkedAround, "", nil, []stretch{there, {"around", "2026-03-02"}}},
		"gone with its part":           {[]condition.Event{found, left}, condition.InOrder, "", nil, []stretch{there, {"gone", "2026-03-04"}}},
		"gone, and no point passes":    {[]condition.Event{found, left}, condition.NotProven, "", nil, []stretch{there, {"gone", "2026-03-04"}}},
		"no turn that the chart knows": {nil, condition.Wrong, "", nil, nil},
	} {
		d := &condition.Subject{Kind: condition.KindDefect, History: tc.history, Standing: tc.standing, Proven: tc.proven, Touched: tc.touched}
		if got := stretchesOf(d); !slices.Equal(got, tc.want) {
			t.Errorf("%s: %v, want %v", name, got, tc.want)
		}
	}
}
