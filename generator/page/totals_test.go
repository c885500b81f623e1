package page

import (
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// TestUnwrittenWorkIsNotZero: where nobody wrote how long they worked, the front page does
// not say that it was no time at all.
func TestUnwrittenWorkIsNotZero(t *testing.T) {
	for _, tc := range []struct {
		work logbook.Minutes
		want string
	}{{0, ""}, {90, "1 h 30 min"}} {
		s := &Site{Shop: &logbook.Shop{}, Words: catalog.English, outlines: []Outline{{Work: tc.work}}}
		s.Shop.Show.Hours = true
		facts, err := s.shopTotals()
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, f := range facts {
			if f.Label == "Work" {
				got = f.Value
			}
		}
		if got != tc.want {
			t.Errorf("%d minutes are told as %q, want %q", tc.work, got, tc.want)
		}
	}
}
