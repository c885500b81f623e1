package logbook

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseDate(t *testing.T) {
	for _, c := range []struct {
		read string
		ok   bool
	}{
		{"2026-03-02", true},
		{"2024-02-29", true}, // a leap year
		{"2026-02-29", false},
		{"2000-02-29", true}, // every fourth century is one, ISO 8601 and the Gregorian rule
		{"1900-02-29", false},
		{"2026-02-30", false},
		{"2026-00-10", false},
		{"2026-13-01", false},
		{"2026-3-2", false},
		{"02.03.2026", false},
		{"03/02/2026", false},
		{"2026-03-02 18:30", false},
		{"2026-03-02T00:00:00Z", false},
		{" 2026-03-02", false},
		{"March 2", false},
		{"", false},
	} {
		d, err := ParseDate(c.read)
		if ok := err == nil; ok != c.ok || ok && string(d) != c.read || !ok && d != "" {
			t.Errorf("%q: got %q, %v", c.read, d, err)
		}
	}
	if got := Date("2026-03-02").Time(); !got.Equal(time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)) {
		t.Errorf("got %v", got)
	}
	if got := Date("").Time(); !got.IsZero() {
		t.Errorf("no date is %v", got)
	}
}

func TestParseClock(t *testing.T) {
	for _, c := range []struct {
		read string
		want Clock
		ok   bool
	}{
		{"18:30", 1110, true},
		{"00:00", 0, true},
		{"0:05", 5, true},
		{"23:59", 1439, true},
		{"24:00", 0, false},
		{"23:60", 0, false},
		{"6:30 pm", 0, false},
		{"18.30", 0, false},
		{"1830", 0, false},
		{"18:3", 0, false},
		{"18:30:15", 0, false},
		{"-1:30", 0, false},
		{"", 0, false},
	} {
		got, err := ParseClock(c.read)
		if got != c.want || (err == nil) != c.ok {
			t.Errorf("%q: got %v, %v", c.read, got, err)
		}
	}
	if got := Clock(65).String(); got != "01:05" {
		t.Errorf("got %s", got)
	}
}

func TestParseMinutes(t *testing.T) {
	for _, c := range []struct {
		read string
		want Minutes
		ok   bool
	}{
		{"2.5", 150, true},
		{"2.50", 150, true},
		{"2.5 h", 150, true},
		{"2.5h", 150, true},
		{"2:30", 150, true},
		{"2:30 h", 150, true},
		{"0:45", 45, true},
		{"0.05", 3, true},
		{"0.35", 21, true},
		{"12", 720, true},
		{"0", 0, true},
		{"0:00", 0, true},
		{"30:00", 1800, true}, // a weekend
		{"8784", 366 * 24 * 60, true},
		{"8785", 0, false},
		{"8785:00", 0, false},
		{"0.33", 0, false}, // 19.8 minutes
		{"1.001", 0, false},
		{"1000.0000000000000001", 0, false},
		{"2:60", 0, false},
		{"2:5", 0, false},
		{"2:005", 0, false},
		{"+2:30", 0, false},
		{"2:+5", 0, false},
		{":30", 0, false},
		{"2:", 0, false},
		{"2:30:00", 0, false},
		{"-1", 0, false},
		{"1e3", 0, false},
		{"2,5", 0, false},
		{"2.", 0, false},
		{".5", 0, false},
		{"45 min", 0, false},
		{"99999999999999999999", 0, false},
		{"h", 0, false},
		{"", 0, false},
	} {
		got, err := ParseMinutes(c.read)
		if (err == nil) != c.ok || c.ok && got != c.want {
			t.Errorf("%q: got %d, %v", c.read, got, err)
		}
	}
}

func TestMinutesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Minutes(rapid.IntRange(0, maxMinutes).Draw(t, "minutes"))
		got, err := ParseMinutes(m.String())
		if err != nil || got != m {
			t.Fatalf("%s: got %v, %v", m, got, err)
		}
	})
}

func TestPlainNumber(t *testing.T) {
	for read, want := range map[string]bool{
		"0": true, "007": true, "14.25": true, "1.": false, ".1": false, "1.2.3": false, "+1": false, "-1": false,
		"1e3": false, "1_000": false, "1,000": false, "0x1F": false, "": false, "٣": false, ".inf": false, "NaN": false,
		"1234567890123456789": false, // more digits than a decimal holds
	} {
		if got := plainNumber(read); got != want {
			t.Errorf("%q: got %v", read, got)
		}
	}
}
