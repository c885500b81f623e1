package condition

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// TestFrontParts: who can still buy it is told to look before paying, and where what was
// changed stands above, the part for changes says so.
func TestFrontParts(t *testing.T) {
	plate := on("2026-03-02", "changed: [{what: reverse blocked, why: two teeth are gone, system: drive}]")
	for _, tc := range []struct {
		name string
		rig
		part, title, empty string
	}{
		{"for sale", rig{machine: "stage: for sale"}, "look", "Look for yourself before you pay", ""},
		{"in the shop", rig{}, "look", "Look for yourself before you use it", ""},
		{"a change that can hurt is told above", rig{entries: []string{plate}}, "changed", "What is not as the maker built it?", "No change is in the log besides what is told above."},
	} {
		for _, p := range tc.rig.judge(t).FrontParts(catalog.English) {
			if p.ID == tc.part && (p.Title != tc.title || tc.empty != "" && p.Empty != tc.empty) {
				t.Errorf("%s: %q, %q", tc.name, p.Title, p.Empty)
			}
		}
	}
}

// TestLacks: what a machine does not have stands once, each thing and each safety point
// that falls away by name; what has an answer stands by itself with its reason.
func TestLacks(t *testing.T) {
	const sheet = `sheet: test rig
items:
  - {item: "the horn sounds", short: horn, system: electrical, safety: yes, only_if: horn}
  - {item: reverse stops, short: reverse stop, system: drive, safety: yes, only_if: reverse}
  - {item: the blade is clear, short: blade, system: guards, safety: yes}
  - {item: reverse is locked out, short: reverse lock, system: drive, safety: yes, only_if: reverse}
  - {item: the button is red, short: button, system: electrical, safety: yes, only_if: horn}
`
	r := rig{sheet: sheet, machine: "has: {reverse: no, horn: no}", entries: []string{
		on("2026-03-02", "checks: [{item: the blade is clear, result: does not apply, note: there is no blade on this one}]"),
	}}.judge(t)
	var lacks []string
	for _, l := range r.Front.Hurt {
		lacks = append(lacks, l.Text)
	}
	want := []string{
		"The shop says this does not apply: the blade is clear. Its reason: there is no blade on this one.",
		"The shop says the machine does not have these: horn; reverse. So these points do not apply: horn; reverse stop; reverse lock; button.",
	}
	if !slices.Equal(lacks, want) {
		t.Errorf("got\n%s", strings.Join(lacks, "\n"))
	}
}
