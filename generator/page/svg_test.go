package page

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/logbook"
)

func TestBroken(t *testing.T) {
	for _, tc := range []struct {
		text string
		most float64
		want []string
	}{
		{"does not crank", 290, []string{"does not crank"}},
		{"tines stay engaged when the lever is let go", 290, []string{"tines stay engaged", "when the lever is let go"}},
		{"looking over", 70, []string{"looking", "over"}},
		{"counterclockwise nut", 60, []string{"counter", "clockwi", "se nut"}},
		{"outside the limit (3600 rpm, give or take 100 rpm)", 180, []string{"outside the limit", "(3600 rpm, give", "or take 100 rpm)"}},
		{"", 100, []string{""}},
	} {
		if got := broken(tc.text, tc.most); !slices.Equal(got, tc.want) {
			t.Errorf("%q in %v: %q, want %q", tc.text, tc.most, got, tc.want)
		}
	}
}

// No line is wider than there is room, and no letter is lost.
func TestBrokenKeepsToItsRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-zM0-9é機 .-]{0,80}`).Draw(t, "text")
		most := rapid.Float64Range(20, 300).Draw(t, "most")
		lines := broken(text, most)
		for _, line := range lines {
			if advance(line) > most {
				t.Fatalf("%q is %v wide, more than %v", line, advance(line), most)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(text, " ", ""); got != want {
			t.Fatalf("%q became %q", text, lines)
		}
	})
}

// However little the log knows of when a defect turned, each stretch can be seen, in
// order, between the ends of the axis.
func TestStretchesCanBeSeen(t *testing.T) {
	at := func(d logbook.Date) float64 { return float64(d.Time().Unix()) }
	for _, tc := range []struct {
		from, to logbook.Date
		turns    []logbook.Date
	}{
		{"2026", "2026", []logbook.Date{"2026", "2026", "2026"}},
		{"2026-03-01", "2026-03-20", []logbook.Date{"2026-03-20"}},
		{"2026-03-01", "2026-03-20", []logbook.Date{"2026-03", "2026-03-02", "2026-03-02", "2026-03-20"}},
		{"2026-03-01", "2026-03-20", []logbook.Date{"2025", "2026"}},
		{"2026-03-01", "2026-03-20", slices.Repeat([]logbook.Date{"2026-03-20"}, 50)},
	} {
		var stretches []stretch
		for _, d := range tc.turns {
			stretches = append(stretches, stretch{"there", d})
		}
		ends := endsOf(stretches, scale{at(tc.from), at(tc.to), trackStart, trackEnd})
		if len(ends) != len(tc.turns)+1 || !slices.IsSorted(ends) || ends[0] < trackStart || ends[len(ends)-1] != trackEnd {
			t.Errorf("%v: %v", tc, ends)
		}
		for k := range stretches {
			if ends[k+1]-ends[k] < 5 {
				t.Errorf("%v: stretch %d goes from %v to %v", tc, k, ends[k], ends[k+1])
			}
		}
	}
}
