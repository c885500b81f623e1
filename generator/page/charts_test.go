package page

import (
	"math/big"
	"slices"
	"testing"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A value is not drawn on the other side of its limits than it was found.
func TestNothingIsDrawnOnTheWrongSide(t *testing.T) {
	both := benchtest.Band{Low: 10, HasLow: true, High: 20, HasHigh: true}
	for _, tc := range []struct {
		value   float64
		band    benchtest.Band
		verdict quantity.Verdict
		wrong   bool
	}{
		{15, both, quantity.Inside, false}, {10, both, quantity.Inside, false}, {20, both, quantity.Inside, false},
		{9, both, quantity.Inside, true}, {21, both, quantity.Inside, true},
		{9, both, quantity.Outside, false}, {21, both, quantity.Outside, false}, {20, both, quantity.Outside, false}, {10, both, quantity.Outside, false},
		{15, both, quantity.Outside, true}, {9, both, quantity.TooClose, false}, {15, both, quantity.NotLimited, false},
		{15, benchtest.Band{Low: 10, HasLow: true}, quantity.Outside, true}, {9, benchtest.Band{High: 10, HasHigh: true}, quantity.Outside, true},
		{9, benchtest.Band{}, quantity.Outside, false}, {9, benchtest.Band{}, quantity.Inside, false},
		{20.000000001, both, quantity.Inside, false}, {9.9999999999, both, quantity.Inside, false},
	} {
		if got := onWrongSide(benchtest.Point{Value: tc.value, Band: tc.band}, tc.verdict); got != tc.wrong {
			t.Errorf("%+v: %t", tc, got)
		}
	}
	// Of two cords, each reading is inside its own limit, and one outside the other's.
	ohms := func(n int64, verdict quantity.Verdict) condition.Value {
		q := quantity.New(big.NewRat(n, 100), 2, quantity.Ohm)
		return condition.Value{Value: q, Shown: q.String(), Verdict: verdict, Date: "2026-03-01"}
	}
	s := &Site{Words: catalog.English}
	for second, drawn := range map[int64]bool{9: true, 25: false} {
		m := &condition.Measurement{What: "ground path resistance", Values: []condition.Value{ohms(8, quantity.Inside), ohms(second, quantity.Inside)},
			Limits: []benchtest.Sourced{{Limit: "<= 0.1 ohm"}, {Limit: "<= 0.3 ohm"}}}
		if got := s.readingChart("x", m); (got != "") != drawn {
			t.Errorf("%d: %q", second, got)
		}
	}
}

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
