package condition

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// A list of the shop's own whose words would say that all is well, if they were the
// report's.
const careSheet = `sheet: care
items:
  - {item: every safety point is sound, short: "nothing, all was looked at", system: guards, safety: yes, look: "Every safety point of this mower was tested and is sound."}
  - {item: the lamp shines, short: 'lamp", blade stop, "hood', system: guards, safety: yes, look: "All was \"tested\u201d."}
`

const careMower = "kind: walk-behind mower\nsheet: care\nstage: for sale\n"

// TestOwnWordsAreQuoted: what a list of the shop's own asks a buyer to look at, and what
// it calls its points, is told as the shop's words; and no mark in them ends the quote.
func TestOwnWordsAreQuoted(t *testing.T) {
	all := rig{machine: careMower, sheet: careSheet}
	var checks []string
	for _, s := range all.judge(t).Subjects { // all but the own points are as they should be
		if s.Kind == KindPoint && !s.own {
			checks = append(checks, fmt.Sprintf("{item: %q, result: works}", s.Name))
		}
	}
	all.entries = []string{on("2026-03-02", "checks: ["+strings.Join(checks, ", ")+"]")}
	r := all.judge(t)
	var looks []string
	for _, l := range r.Front.Look {
		looks = append(looks, l.Text)
	}
	for _, want := range []string{`The shop says: "Every safety point of this mower was tested and is sound."`, `The shop says: "All was 'tested'."`} {
		if !slices.Contains(looks, want) {
			t.Errorf("the looks lack %s: %q", want, looks)
		}
	}
	told := []string{r.Section(SectionSafety).Statements[0].Text}
	for _, l := range r.Front.Hurt {
		told = append(told, l.Text)
	}
	for _, want := range []string{`guards: "nothing, all was looked at", "lamp', blade stop, 'hood".`, `"every safety point is sound".`} {
		if text := strings.Join(told, "\n"); !strings.Contains(text, want) {
			t.Errorf("the report lacks %s: %s", want, text)
		}
	}
	if got := find(t, r, KindPoint, "every safety point is sound").Named(catalog.English); got != `"nothing, all was looked at"` {
		t.Errorf("among others it is called %s", got)
	}
	if got := find(t, r, KindList, "list of points").Told; !strings.Contains(got, "care (the shop's own)") {
		t.Errorf("the list is not told as the shop's own: %s", got)
	}
}

// TestLooksBeginWithWhatNobodyChecked: of points that can hurt, one that the log lists no
// check of comes before one that was as it should be until later work, and the program's
// own come before the shop's.
func TestLooksBeginWithWhatNobodyChecked(t *testing.T) {
	r := rig{machine: careMower, sheet: careSheet, entries: []string{
		on("2026-03-02", check("every safety point is sound", "works"), ""),
		on("2026-03-03", part("guard", "system: guards")),
	}}.judge(t)
	if len(r.Front.Look) != 3 {
		t.Fatalf("the looks are %v", r.Front.Look)
	}
	for _, l := range r.Front.Look {
		if l.Subject.own || l.Subject.Standing != NotChecked {
			t.Errorf("among the first looks is %q, a point that is %s", l.Text, l.Subject.Standing)
		}
	}
	r = rig{sheet: sheetOfRig, entries: []string{on("2026-03-02", check(stop, "works")), on("2026-03-03", part("belt", "system: guards"))}}.judge(t)
	if first := r.Front.Look[0]; first.Subject.Name != guard {
		t.Errorf("the first look is at %q, want what the log lists no check of", first.Subject.Name)
	}
}
