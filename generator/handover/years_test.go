package handover

import (
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
)

// yearless is a day of March that is told without its year.
var yearless = regexp.MustCompile(`March \d+[^\d,]|March \d+,? [^2\d]`)

// TestASealOfAnotherYearTellsEachYear: a report that is sealed in the year after the log
// ended tells each day with its year, or a check of a year ago reads as one of weeks ago.
// One of the same year says which year that is.
func TestASealOfAnotherYearTellsEachYear(t *testing.T) {
	const clause = "The log up to March 2, all days in 2026."
	for _, tc := range []struct {
		today    logbook.Date
		yearless bool
	}{{"2026-03-10", true}, {"2027-01-05", false}} {
		fs := shopWith(t, nil)
		r := prepared(t, fs, tc.today)
		facts, err := r.Facts.canonical()
		if err != nil {
			t.Fatal(err)
		}
		if got := yearless.Match(facts); got != tc.yearless {
			t.Errorf("sealed on %s: days without a year: %t, want %t: %q", tc.today, got, tc.yearless, yearless.FindAll(facts, -1))
		}
		made, err := r.Seal(afero.NewMemMapFs(), nil, sheet.Letter)
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(r.asOf(), clause); got != tc.yearless || made.Seal == nil {
			t.Errorf("sealed on %s: its day is %q", tc.today, r.asOf())
		}
		if n := len(Today(siteOf(t, fs), 0, tc.today).Record.Subjects); n != len(r.Facts.Record.Subjects) {
			t.Errorf("sealed on %s: %d subjects, the site has %d", tc.today, len(r.Facts.Record.Subjects), n)
		}
	}
}
