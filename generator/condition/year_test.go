package condition

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/logbook"
)

// TestYearOfTheDays: a report tells its days without their year only where all entries
// are of one year, and the machine did not leave in another.
func TestYearOfTheDays(t *testing.T) {
	found := on("2026-03-02", check(brake, "fails"))
	for name, tc := range map[string]struct {
		rig
		year int
		says string
	}{
		"all of one year":           {rig{entries: []string{found}}, 2026, "Not so on March 2:"},
		"of two years":              {rig{entries: []string{found, on("2027-01-02")}}, 0, "Not so on March 2, 2026:"},
		"gone in the same year":     {rig{machine: "stage: sold\nsold: {date: 2026-05-01}", entries: []string{found}}, 2026, "Not so on March 2:"},
		"gone in another year":      {rig{machine: "stage: sold\nsold: {date: 2027-05-01}", entries: []string{found}}, 0, "Not so on March 2, 2026:"},
		"gone, and without entries": {rig{machine: "stage: sold\nsold: {date: 2027-05-01}"}, 0, ""},
	} {
		r := tc.judge(t)
		if r.Year != tc.year {
			t.Errorf("%s: the year is %d, want %d", name, r.Year, tc.year)
		}
		if text := r.Section(SectionSafety).Statements[0].Text; !strings.Contains(text, tc.says) {
			t.Errorf("%s: the report lacks %q: %s", name, tc.says, text)
		}
	}
}

// TestDayOfTheProof: a repair knows the day of the proof that it rests on, be it a point
// that passed.
func TestDayOfTheProof(t *testing.T) {
	found := on("2026-03-02", defects("shoe", "the shoe is worn", "brakes", "point: the brake holds"))
	mended := on("2026-03-03", repaired("shoe", "how: new shoe"))
	for name, tc := range map[string]struct {
		rig
		want logbook.Date
	}{
		"none":                          {rig{entries: []string{found, mended}}, ""},
		"by a point":                    {rig{entries: []string{found, mended, on("2026-03-04", check(brake, "works"))}}, "2026-03-04"},
		"by a point, before later work": {rig{entries: []string{found, mended, on("2026-03-04", check(brake, "works")), on("2026-03-05", part("rod", "system: brakes"))}}, "2026-03-04"},
		"proven again":                  {rig{entries: []string{found, mended, on("2026-03-04", check(brake, "works")), on("2026-03-05", part("rod", "system: brakes")), on("2026-03-06", check(brake, "works"))}}, "2026-03-06"},
	} {
		if got := find(t, tc.judge(t), KindDefect, "shoe").Proven; got != tc.want {
			t.Errorf("%s: proven on %q, want %q", name, got, tc.want)
		}
	}
}

// TestAsOf: the day up to which the log goes is its last entry's, unless the machine came
// for certain later.
func TestAsOf(t *testing.T) {
	for _, tc := range []struct {
		arrived, entry string
		want           logbook.Date
	}{
		{"2026", "about 2026-01", "about 2026-01"}, {"2026-02", "about 2026-01", "about 2026-01"},
		{"2026-05-01", "about 2012", "2026-05-01"}, {"2025", "2026-03-02", "2026-03-02"}, {"2026-05-01", "", "2026-05-01"},
	} {
		r := rig{problems: true, machine: "arrived: " + tc.arrived}
		if tc.entry != "" {
			r.entries = []string{on(tc.entry, check(brake, "works"))}
		}
		if got := r.judge(t).AsOf; got != tc.want {
			t.Errorf("arrived %s, entry %s: the log goes to %q, want %q", tc.arrived, tc.entry, got, tc.want)
		}
	}
}

// TestEntriesBeginWithACapital: also one whose day is a guess.
func TestEntriesBeginWithACapital(t *testing.T) {
	r := rig{problems: true, entries: []string{on("about 2012", "title: Repowered")}}.judge(t)
	if got := r.Section(SectionLog).Statements[0].Text; got != "About 2012: Repowered." {
		t.Errorf("the entry is told as %q", got)
	}
}

// TestInOrderByDay: what is as it should be stands in the order of the days on which that
// was seen, whatever the list has first.
func TestInOrderByDay(t *testing.T) {
	r := rig{machine: "limits: [{what: governed speed, limit: \"3500 rpm to 3700 rpm\", source: the manual}]", entries: []string{
		on("2026-03-01", reading("governed speed", "3600 rpm", "gauge: 5 rpm")),
		on("2026-03-02", check(cold, "works")), on("2026-03-03", check(tank, "works")), on("2026-03-04", check(stop, "works")), on("2026-03-05", check(guard, "works")),
	}}.judge(t)
	var days []string
	for _, st := range r.Section(SectionInOrder).Statements {
		days = append(days, st.Lead)
	}
	want := []string{"Looked at on March 2:", "Looked at on March 3:", "Looked at on March 4:", "Looked at on March 5:", ""}
	if !slices.Equal(days, want) {
		t.Errorf("the days are %q, want %q", days, want)
	}
}
