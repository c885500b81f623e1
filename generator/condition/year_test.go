package condition

import (
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
