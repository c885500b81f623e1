package logbook

import (
	"testing"

	"pgregory.net/rapid"
)

func TestIntervals(t *testing.T) {
	for _, c := range []struct {
		text, running, way string
		months, days       int
	}{
		{"25 h", "25 h", "", 0, 0},
		{"25 hours", "25 h", "", 0, 0},
		{"6 months", "", "", 6, 0},
		{"a year", "", "", 12, 0},
		{"year", "", "", 12, 0},
		{"2 weeks", "", "", 0, 14},
		{"90 days", "", "", 0, 90},
		{"1000 mi", "", "1000 mi", 0, 0},
		{"100 h or 1 year", "100 h", "", 12, 0},
		{"3000 mi or 6 months", "", "3000 mi", 6, 0},
		{"spring", "", "", 0, 0},
		{"100 h or spring", "", "", 0, 0},
		{"25 h or 50 h", "", "", 0, 0},
		{"0 h", "", "", 0, 0},
		{"-5 h", "", "", 0, 0},
		{"25", "", "", 0, 0},
		{"1001 years", "", "", 0, 0},
	} {
		got := parseInterval(c.text)
		if got.Text != c.text || got.Running.String() != c.running || got.Way.String() != c.way || got.Months != c.months || got.Days != c.days {
			t.Errorf("%s: got %+v", c.text, got)
		}
	}
}

// Nothing is due on a day that is more exact than what the log says.
func TestDatesAfter(t *testing.T) {
	for _, c := range []struct {
		date         Date
		months, days int
		want         Date
	}{
		{"2026-03-02", 6, 0, "2026-09-02"},
		{"2026-08-31", 6, 0, "2027-02-28"},
		{"2024-02-29", 12, 0, "2025-02-28"},
		{"2024-02-29", 48, 0, "2028-02-29"},
		{"2026-03-02", 0, 90, "2026-05-31"},
		{"2026-12-31", 0, 1, "2027-01-01"},
		{"about 2026-03-02", 1, 0, "about 2026-04-02"},
		{"2026-11", 3, 0, "2027-02"},
		{"2026-11", 0, 90, ""},
		{"2026", 12, 0, "2027"},
		{"about 2008", 24, 0, "about 2010"},
		{"2026", 6, 0, ""},
		{"9999-12", 1, 0, ""},
		{"", 1, 0, ""},
	} {
		if got := c.date.After(c.months, c.days); got != c.want {
			t.Errorf("%d months and %d days after %q: got %q, want %q", c.months, c.days, c.date, got, c.want)
		}
	}
}

// Once a year is "every year"; more than one, or what is no one span, stays as it is.
func TestEachOf(t *testing.T) {
	for text, want := range map[string]string{
		"1 year": "year", "a year": "year", "One Year": "year", "1 month": "month", "1 months": "month", "1 week": "week", "1 day": "day",
		"2 years": "2 years", "12 months": "12 months", "7 days": "7 days", "100 h or 1 year": "100 h or 1 year", "25 h": "25 h", "each spring": "each spring", "": "",
	} {
		if got := EachOf(text); got != want {
			t.Errorf("every %q: %q, want %q", text, got, want)
		}
	}
}

func TestDatesAfterAreLater(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := Date(rapid.SampledFrom([]string{"2024-01-31", "2026-03-02", "2025-12-31", "1999-02-28"}).Draw(rt, "date"))
		months, days := rapid.IntRange(0, 400).Draw(rt, "months"), rapid.IntRange(0, 400).Draw(rt, "days")
		then := d.After(months, days)
		if _, err := ParseDate(string(then)); err != nil || then.Compare(d) < 0 {
			rt.Fatalf("%s and %d months and %d days: %q, %v", d, months, days, then, err)
		}
		if y, m := then.Time().Year(), int(then.Time().Month()); days == 0 && (y*12+m)-(d.Time().Year()*12+int(d.Time().Month())) != months {
			rt.Fatalf("%s and %d months: %s", d, months, then)
		}
	})
}
