package condition

import (
	"strings"
	"testing"
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
