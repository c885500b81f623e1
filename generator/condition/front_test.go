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
		{"what is wrong and can hurt is told above", rig{entries: []string{on("2026-03-02", check(brake, "fails"))}}, "wrong", "What is wrong with it?", catalog.English.Say("front.none.wrong-more")},
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

// TestFrontOpenOrder: where the log leaves open which came first, the front sheet says no
// more than that there was work of about that time, and the report not that nothing came
// since. Work that is certainly later is told rather than work that may be.
func TestFrontOpenOrder(t *testing.T) {
	shoe, horn := part("brake shoe", "system: brakes"), defects("squeal", "it squeals badly", "brakes")
	leak := on("2026-04", defects("leak", "the seal leaks", "drive", "safety: no"))
	mended, belt := repaired("leak", "how: new seal", proof), part("belt", "system: drive")
	const (
		later = "No check in the log since later work there: brakes: brake."
		about = "Work or a fault there of about the time of the check: brakes: brake."
		since = "no check in the log since"
	)
	for _, tc := range []struct {
		name    string
		entries []string
		says    string
		not     string // neither on the front sheet nor in the report
	}{
		{"a month and a day of it", []string{on("2026-05", check(brake, "works")), on("2026-05-09", shoe)}, about, since},
		{"about a day", []string{on("about 2026-05-09", shoe), on("2026-05-09", check(brake, "works"))}, about, since},
		{"one day without times", []string{on("2026-05-09", check(brake, "works")), on("2026-05-09", shoe)}, about, since},
		{"a fault of that month", []string{on("2026-05", check(brake, "works")), on("2026-05-09", horn)}, about, since},
		{"work of a later day", []string{on("2026-05-08", check(brake, "works")), on("2026-05-09", shoe)}, later, about},
		{"a fault of a later day", []string{on("2026-05-08", check(brake, "works")), on("2026-05-09", horn)}, "No check in the log since a fault was found there: brakes: brake.", about},
		{"work that is certainly later counts before that which may be", []string{on("2026-05", check(brake, "works")), on("2026-05-09", shoe), on("2026-06", shoe)}, later, about},
		{"and so does a fault", []string{on("2026-05", check(brake, "works")), on("2026-05-09", shoe), on("2026-06", horn)}, "No check in the log since a fault was found there: brakes: brake.", about},
		{"and work later than a fault that may be", []string{on("2026-05", check(brake, "works")), on("2026-05-09", horn), on("2026-06", shoe)}, later, about},
		{"one of two checks may be later", []string{on("2026", check(brake, "works")), on("2026-03", check(brake, "works")), on("2026-05", shoe)}, about, since},
		{"a proof", []string{leak, on("2026-05", mended), on("2026-05-09", belt)}, "Was wrong, repaired and proven, with work there of about that time: the seal leaks.", "no proof in the log since"},
		{"a proof before later work", []string{leak, on("2026-05", mended), on("2026-06", belt)}, "Was wrong, repaired and proven before later work there: the seal leaks.", "about that time"},
		{"a reading", []string{on("2026-05", "measured: [{what: backlash, value: 1 mm, system: drive}]"), on("2026-05-09", belt)}, "Measured, with work there of about that time: backlash.", "later work"},
		{"a reading before later work", []string{on("2026-05", "measured: [{what: backlash, value: 1 mm, system: drive}]"), on("2026-06", belt)}, "Measured before later work, and not since: backlash.", "about that time"},
	} {
		r := rig{machine: "limits: [{what: backlash, limit: \"<= 2 mm\"}]", entries: tc.entries}.judge(t)
		var front, all []string
		for _, p := range r.FrontParts(catalog.English) {
			for _, l := range p.Lines {
				front, all = append(front, l.Text), append(all, l.Text)
			}
		}
		for _, s := range r.Subjects {
			all = append(all, s.Told)
		}
		if !slices.Contains(front, tc.says) || slices.ContainsFunc(all, func(text string) bool { return strings.Contains(text, tc.not) }) {
			t.Errorf("%s:\n%s", tc.name, strings.Join(all, "\n"))
		}
	}
}

// TestFrontWordings: of several wordings of a defect the front sheet, and where only names
// stand, say which were put right.
func TestFrontWordings(t *testing.T) {
	first := on("2026-03-02", defects("lever", "the lever sticks", "drive", "safety: no"))
	mended := on("2026-03-03", repaired("lever", "how: new spring", proof))
	again := on("2026-03-04", defects("lever", "the cable frays", "controls", "safety: no"))
	for _, tc := range []struct {
		name         string
		entries      []string
		front, named string
	}{
		{"one put right, one there", []string{first, mended, again}, "Still so: the cable frays (also written as the lever sticks, which was repaired with proof).", "the cable frays; the lever sticks, which was repaired with proof"},
		{"one put right, one not proven", []string{first, mended, again, on("2026-03-05", repaired("lever", "how: new cable")), on("2026-03-06", repaired("lever", "of: the lever sticks", proof))}, "Was wrong, repaired, and the log shows no proof: the cable frays (also written as the lever sticks, which was repaired with proof).", "the cable frays, also written as the lever sticks, which was repaired with proof (repaired, not proven)"},
		{"one repaired without proof, one there", []string{first, on("2026-03-03", repaired("lever", "how: new spring")), again}, "Still so: the cable frays (also written as the lever sticks).", "the cable frays; the lever sticks"},
		{"both put right", []string{first, again, on("2026-03-05", "repaired: [{key: lever, of: the lever sticks, how: new spring, "+proof+"}, {key: lever, of: the cable frays, how: new cable, "+proof+"}]")}, "Was wrong, repaired with proof: the lever sticks (also written as the cable frays).", "the lever sticks; the cable frays"},
	} {
		r := rig{problems: true, entries: tc.entries}.judge(t)
		var front []string
		for _, l := range slices.Concat(r.Front.Wrong, r.Front.Repaired) {
			front = append(front, l.Text)
		}
		d := find(t, r, KindDefect, "lever")
		if got := d.Named(catalog.English); !slices.Contains(front, tc.front) || got != tc.named {
			t.Errorf("%s: %q, %q", tc.name, front, got)
		}
	}
}
