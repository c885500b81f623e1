package desk

import "testing"

// The ways to write a day, an hour and an amount are common practice, no source.
func TestSpelled(t *testing.T) {
	for _, c := range []struct {
		ask         asking
		typed, want string
	}{
		{money, "$40", "40"}, {money, "$ 1,200.50", "1200.50"}, {money, "12,50", "12,50"}, {money, "40 USD", "40 USD"}, {money, "$", "$"}, {money, "1,20", "1,20"},
		{clock, "7 pm", "19:00"}, {clock, "7:30 PM", "19:30"}, {clock, "12 am", "00:00"}, {clock, "12:15 p.m.", "12:15"}, {clock, "19 pm", "19 pm"}, {clock, "18:30", "18:30"}, {clock, "7", "7"},
		{length, "20 minutes", "0:20"}, {length, "90 min", "1:30"}, {length, "1 h 20 min", "1:20"}, {length, "1 hour and 5 minutes", "1:05"}, {length, "1.5 hours", "1.5"}, {length, "1.5 h", "1.5 h"}, {length, "1 h 75 min", "1 h 75 min"}, {length, "a while", "a while"},
		{date, "March 2, 2026", "2026-03-02"}, {date, "2 Mar 2026", "2026-03-02"}, {date, "3/25/2026", "2026-03-25"}, {date, "25.3.2026", "2026-03-25"}, {date, "3/3/2026", "2026-03-03"},
		{date, "3/2/2026", "3/2/2026"}, {date, "2/31/2026", "2/31/2026"}, {date, "about 2012", "about 2012"}, {date, "2026-03-02", "2026-03-02"},
		{line, "$40", "$40"},
	} {
		if got := spelled(c.ask, "x", c.typed); got != c.want {
			t.Errorf("%q gives %q, want %q", c.typed, got, c.want)
		}
	}
	if got := spelled(line, "tests.where", "7 pm"); got != "7 pm" {
		t.Errorf("a test's field gives %q", got)
	}
}
