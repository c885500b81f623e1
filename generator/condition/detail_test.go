package condition

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/tally"
)

// TestRulesInDetail holds the judge against what the rules say of cases that are
// rare, by their names.
func TestRulesInDetail(t *testing.T) {
	const slow = `{key: slow, defect: slow to full speed, system: engine, safety: no, point: it reaches full speed}`
	oil := func(more ...string) string {
		return defects("leak", "a drop of oil", "drive", append([]string{"safety: no"}, more...)...)
	}
	plain := defects("leak", "the seal leaks", "drive", "safety: no")
	shoe := defects("leak", "the shoe is worn", "brakes")
	fails, works := check(brake, "fails"), check(brake, "works")
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		// Changes.
		{"a change made again without a word of safer is open", rig{entries: []string{on("2026-03-02", changes("stronger guard", "key: guard", "system: guards", "adds: yes")), on("2026-03-03", changes("stronger guard", "key: guard", "system: guards")), on("2026-03-04", check(guard, "works"))}}, want{KindChange, "stronger guard", Changed, true}},
		{"changes without a key are told apart by what they are", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine", "safety: no")), on("2026-03-03", changes("wider seat", "system: frame", "safety: yes"))}}, want{KindChange, "bigger jet", Changed, false}},
		{"and the other is open", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine", "safety: no")), on("2026-03-03", changes("wider seat", "system: frame", "safety: yes"))}}, want{KindChange, "wider seat", Changed, true}},
		{"what was never changed cannot be put back", rig{problems: true, entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no")), on("2026-03-03", "put_back: [{key: other, how: the old jet again}]")}}, want{KindChange, "bigger jet", Changed, false}},

		// Defects.
		{"nobody found what is worked around", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", "worked_around: [{key: other, how: top it up}]")}}, wantDefect("leak", Wrong, false)},
		{"nobody found what is repaired", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", repaired("other", "how: new seal", proof))}}, wantDefect("leak", Wrong, false)},
		{"nobody found what is gone", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: other, with: gear case}]")}}, wantDefect("leak", Wrong, false)},
		{"a work-around is no proof for a point", rig{entries: []string{on("2026-03-02", check(full, "fails"), "defects: ["+slow+"]"), on("2026-03-03", "worked_around: [{key: slow, how: run it slowly}]")}}, wantPoint(full, Wrong, true)},
		{"a repair of one wording leaves the other to its own", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", oil()), on("2026-03-04", repaired("leak", "of: a drop of oil", "how: wiped it", proof)), on("2026-03-05", repaired("leak", "of: the seal leaks", "how: new seal", proof))}}, wantDefect("leak", OutOfDate, false)},
		{"a repair that names no wording is of the one found last", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", oil()), on("2026-03-04", plain), on("2026-03-05", repaired("leak", "how: new seal", proof)), on("2026-03-06", repaired("leak", "of: a drop of oil", "how: wiped it", proof))}}, wantDefect("leak", OutOfDate, false)},
		{"of two wordings in one entry the second was found last", rig{problems: true, entries: []string{on("2026-03-02", "defects: [{key: leak, defect: the seal leaks, system: drive, safety: no}, {key: leak, defect: a drop of oil, system: drive, safety: no}]"), on("2026-03-03", repaired("leak", "how: wiped it", proof)), on("2026-03-04", repaired("leak", "of: the seal leaks", "how: new seal", proof))}}, wantDefect("leak", OutOfDate, false)},
		{"a repair that may have been before the finding does not count", rig{entries: []string{on("2026-02-01", plain), on("2026-02-02", repaired("leak", "how: new seal", proof)), at("2026-03-01", "10:00", plain), at("2026-03-01", "12:00", repaired("leak", "how: another seal", proof)), on("2026-03", repaired("leak", "how: glued it"))}}, wantDefect("leak", OutOfDate, false)},
		{"a proof of a work-around is no repair", rig{problems: true, entries: []string{on("2026-03-02", plain), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-04", repaired("leak", proof))}}, wantDefect("leak", WorkedAround, false)},
		{"a proof after the point does not take the point away", rig{entries: []string{on("2026-03-02", shoe), on("2026-03-03", repaired("leak", "how: new shoe")), on("2026-03-04", works), on("2026-03-05", repaired("leak", proof))}}, wantDefect("leak", InOrder, false)},
		{"outside guards, brakes and steering words are a proof", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: yes")), on("2026-03-03", repaired("leak", "how: new seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"found, repaired and proven in the first entry", rig{entries: []string{on("2026-03-02", plain, repaired("leak", "how: new seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"the same of the brakes, with a point after it", rig{entries: []string{on("2026-03-02", shoe, repaired("leak", "how: new shoe", proof)), on("2026-03-03", works)}}, wantDefect("leak", InOrder, false)},
		{"the last pass is what a repair of the brakes rests on", rig{entries: []string{on("2026-03-02", shoe), on("2026-03-03", repaired("leak", "how: new shoe", proof)), on("2026-03-04", works), on("2026-03-05", part("brake rod", "system: brakes")), on("2026-03-06", works)}}, wantDefect("leak", InOrder, false)},
		{"also where another point of its system passed before that", rig{entries: []string{on("2026-03-02", defects("fell", "the guard fell off", "guards")), on("2026-03-03", repaired("fell", "how: new bolts", proof)), on("2026-03-04", check(guard, "works")), on("2026-03-05", part("bolt", "system: guards")), on("2026-03-06", check(stop, "works"))}}, wantDefect("fell", InOrder, false)},
		{"a fault of the guards counts whatever it says of safety", rig{entries: []string{on("2026-03-02", check(guard, "works")), on("2026-03-03", defects("fell", "the guard fell off", "guards", "safety: no"))}}, wantPoint(guard, OutOfDate, true)},
		{"a repair elsewhere leaves a point alone", rig{entries: []string{on("2026-03-02", "defects: [{key: leak, defect: the seal leaks, system: drive, safety: no}, {key: knock, defect: it knocks, system: engine, safety: no}]"), on("2026-03-03", check(full, "works")), on("2026-03-04", repaired("leak", "how: new seal", proof))}}, wantPoint(full, InOrder, false)},
		{"a change put back elsewhere leaves a point alone", rig{entries: []string{on("2026-03-02", "changed: [{key: jet, what: bigger jet, system: engine, safety: no}, {key: belt, what: wider belt, system: drive, safety: no}]"), on("2026-03-03", check(full, "works")), on("2026-03-04", "put_back: [{key: belt, how: the old belt}]")}}, wantPoint(full, InOrder, false)},
		{"what a work names leaves others alone", rig{entries: []string{on("2026-03-02", works), on("2026-03-03", part("belt", "system: drive", "affects: [full speed]"))}}, wantPoint(brake, InOrder, false)},

		// The order of things.
		{"a failure of a day and a pass at a time of it leave the order open", rig{entries: []string{on("2026-03-02", fails), at("2026-03-02", "18:00", works)}}, wantPoint(brake, Wrong, true)},
		{"a failure of about a day may have come after", rig{problems: true, entries: []string{at("about 2026-03-02", "18:00", fails), on("2026-03-05", works)}}, wantPoint(brake, Wrong, true)},
		{"work of the same minute leaves the order open", rig{entries: []string{at("2026-03-02", "18:00", part("brake shoe", "system: brakes")), at("2026-03-02", "18:00", works)}}, wantPoint(brake, OutOfDate, true)},
		{"a pass in the minute of a failure does not count", rig{entries: []string{at("2026-03-02", "18:00", fails), at("2026-03-02", "18:00", works)}}, wantPoint(brake, Wrong, true)},
		{"a minute later it does", rig{entries: []string{at("2026-03-02", "18:00", fails), at("2026-03-02", "18:01", works)}}, wantPoint(brake, InOrder, false)},

		// Points.
		{"a machine's own list keeps its safety where less is said", rig{problems: true, entries: []string{on("2026-03-02", check(brake, "fails", "safety: no", "system: engine"))}}, wantPoint(brake, Wrong, true)},
		{"and takes in what is graver", rig{problems: true, entries: []string{on("2026-03-02", check(cold, "fails", "safety: yes"))}}, wantPoint(cold, Wrong, true)},
		{"a system of a check too", rig{problems: true, entries: []string{on("2026-03-02", check(cold, "fails", "system: guards"))}}, wantPoint(cold, Wrong, true)},
		{"safety said later counts", rig{entries: []string{on("2026-03-02", check("the bell rings", "fails", "system: controls")), on("2026-03-03", check("the bell rings", "fails", "safety: no"))}}, wantPoint("the bell rings", Wrong, false)},
		{"and is kept where nothing is said after it", rig{entries: []string{on("2026-03-02", check("the bell rings", "fails", "system: controls", "safety: no")), on("2026-03-03", check("the bell rings", "fails"))}}, wantPoint("the bell rings", Wrong, false)},
		{"an answer without a result is none", rig{problems: true, entries: []string{on("2026-03-02", "checks: [{item: the brake holds}]")}}, wantPoint(brake, NotChecked, true)},
		{"not checked before it does not hinder does not apply", rig{entries: []string{on("2026-03-02", check(tank, "not checked")), on("2026-03-03", check(tank, "does not apply", "note: it runs off a line"))}}, wantPoint(tank, DoesNotApply, false)},
		{"nor for what the machine does not have", rig{machine: "has: {reverse: no}", entries: []string{on("2026-03-02", check(backs, "not checked"))}}, wantPoint(backs, DoesNotApply, false)},
		{"does not apply without a reason is no answer", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "does not apply", "note: ok"))}}, wantPoint(tank, NotChecked, true)},
		{"a point of the shop's own is answered by no reading", rig{entries: []string{on("2026-03-02", check("the bell rings", "works", "system: controls", "safety: no"), reading("governed speed", "3600 rpm"))}}, wantPoint("the bell rings", InOrder, false)},
		{"a defect found on the day of the failure may have come after it", rig{entries: []string{on("2026-03-02", check(full, "fails")), on("2026-03-02", "defects: ["+slow+"]"), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, wantPoint(full, Wrong, true)},
		{"does not apply is no pass", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "works")), on("2026-03-03", part("hose", "system: fuel")), on("2026-03-04", check(tank, "does not apply", "note: it runs off a line"))}}, wantPoint(tank, OutOfDate, true)},
		{"the last pass counts", rig{entries: []string{on("2026-03-02", works), on("2026-03-03", part("brake shoe", "system: brakes")), on("2026-03-04", works)}}, wantPoint(brake, InOrder, false)},

		// Measurements.
		{"what answers a point that cannot hurt is no safety matter", rig{sheet: "sheet: test rig\nitems:\n  - {item: it is quiet, system: engine, safety: no, answered_by: [noise]}", entries: []string{on("2026-03-02", reading("noise", "9 mm", "system: engine"))}}, measured("noise", NoLimit, false)},
		{"a test of a safety matter is one without a point that it answers", rig{sheet: oneLine, entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]")}}, measured("blade stopping time", Wrong, true)},
		{"a limit of another unit judges nothing", rig{problems: true, machine: "limits: [{what: pad, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: drive"))}}, measured("pad", NoLimit, false)},
		// A proof that may be older than the finding, and the like.
		{"a proof that may have been before the finding is none", rig{problems: true, entries: []string{on("2026-02-01", plain), on("2026-02-02", repaired("leak", "how: new seal", proof)), at("2026-03-01", "10:00", plain), at("2026-03-01", "12:00", repaired("leak", "how: another seal")), on("2026-03", repaired("leak", proof))}}, wantDefect("leak", NotProven, false)},
		{"a blade makes only governed speed a safety matter", rig{sheet: "sheet: test rig\nblade: yes\nitems:\n  - {item: it cuts, system: implement, safety: no}", entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: drive"))}}, measured("pad", NoLimit, false)},
		{"a test of no safety matter that is outside is none", rig{sheet: oneLine, machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", "tests: [{test: compression, dry: 47 psi}]")}}, measured("compression, cylinder 1", Wrong, false)},
		{"every result of a safety test is a safety matter", rig{sheet: oneLine, machine: "limits: [{what: insulation resistance at 40 degC, limit: \">= 900 Mohm\"}]", entries: []string{on("2026-03-02", "tests: [{test: insulation resistance, resistance: 20 Mohm, temperature: 40 degC, winding: random-wound, rated_volts: 240 V}]")}}, measured("insulation resistance at 40 degC", Wrong, true)},
		{"a test answers a point by its own name", rig{sheet: "sheet: test rig\nitems:\n  - {item: it goes fast, system: drive, safety: yes, answered_by: [belt drive]}", entries: []string{on("2026-03-02", "tests: [{test: belt drive, rpm: 3600 rpm, driver: 3 in, driven: 6 in}]")}}, wantPoint("it goes fast", NoLimit, true)},
		{"a test of no safety matter is none", rig{sheet: oneLine, entries: []string{on("2026-03-02", "tests: [{test: leak-down, regulated: 80 psi, cylinder: [72 psi, 56 psi], heard: [crankcase, exhaust], gauge: 1 psi}]")}}, measured("leak-down, cylinder 1", InOrder, false)},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

// lived is a subject's history, one text for each turn of it.
func lived(s *Subject) []string {
	var all []string
	for _, e := range s.History {
		text := fmt.Sprintf("%s %s: %s", e.Entry.Date, e.What, e.Said)
		if e.By != "" {
			text += " by " + e.By
		}
		if e.Photo != "" {
			text += " in " + e.Photo
		}
		all = append(all, text)
	}
	return all
}

// TestHistories: each thing that the log says of a subject is a turn of its
// history, with who wrote it and the photo that shows it.
func TestHistories(t *testing.T) {
	photos := []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg"}
	leaks := defects("leak", "the seal leaks", "drive", "safety: no")
	shows := func(list string) string { return "photos: [" + list + "]" }
	const a, b, c, d = "{file: a.jpg, alt: one, shows: leak}", "{file: b.jpg, alt: two, shows: leak}", "{file: c.jpg, alt: three}", "{file: d.jpg, alt: four, shows: leak, private: yes}"
	for _, tc := range []struct {
		rule string
		rig
		kind Kind
		name string
		want []string
	}{
		{"a defect", rig{entries: []string{on("2026-03-02", leaks, "by: JM"), on("2026-03-03", repaired("leak", "how: new seal"), "by: EP"), on("2026-03-04", repaired("leak", proof), "by: JM")}}, KindDefect, "leak", []string{
			"2026-03-02 found: the seal leaks by JM", "2026-03-03 repaired: new seal by EP", "2026-03-04 proved: ran an hour and held by JM"}},
		{"a defect worked around and gone", rig{entries: []string{on("2026-03-02", leaks), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]", "by: JM"), on("2026-03-04", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]", "by: EP")}}, KindDefect, "leak", []string{
			"2026-03-02 found: the seal leaks", "2026-03-03 worked around: top it up by JM", "2026-03-04 gone: gear case by EP"}},
		{"a missing part", rig{machine: "missing: [knob]", entries: []string{on("2026-03-02", part("knob", "system: controls"), "by: JM")}}, KindMissing, "knob", []string{"2026-01-01 missing: knob", "2026-03-02 replaced: knob by JM"}},
		{"a missing part taken out again", rig{machine: "missing: [knob]", entries: []string{on("2026-03-02", part("knob", "system: controls")), on("2026-03-03", part("knob", "system: controls", "fate: taken out again"), "by: EP")}}, KindMissing, "knob", []string{"2026-01-01 missing: knob", "2026-03-02 replaced: knob", "2026-03-03 taken out again: knob by EP"}},
		{"a defect with what it does", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no", "effect: a puddle"), "by: JM")}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks by JM", "2026-03-02 effect: a puddle by JM"}},
		{"a change with all that is said of it", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: for the hills here", "caution: it runs hot", "affects: [fuel]"), "by: JM")}}, KindChange, "bigger jet", []string{"2026-03-02 changed: bigger jet by JM", "2026-03-02 why: for the hills here by JM", "2026-03-02 caution: it runs hot by JM", "2026-03-02 affects: fuel by JM"}},
		{"a reading with its limits", rig{machine: "limits: [{what: pad, limit: \">= 1 mm\", source: a sheet}, {what: pin, limit: \">= 2 mm\"}]", entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: drive"))}}, KindMeasurement, "pad", []string{"2026-03-02 read: 2 mm", "2026-01-01 limit: >= 1 mm, a sheet"}},
		{"one without a source", rig{machine: "limits: [{what: pin, limit: \">= 2 mm\"}]", entries: []string{on("2026-03-02", reading("pin", "2 mm", "system: drive"))}}, KindMeasurement, "pin", []string{"2026-03-02 read: 2 mm", "2026-01-01 limit: >= 2 mm"}},
		{"a list", rig{machine: "leave_out: [{item: the paint is whole, why: it never had any paint}]"}, KindList, "list of points", []string{"2026-01-01 left out: the paint is whole: it never had any paint"}},
		{"a meter", rig{machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 412.6 h", "by: JM"), on("2026-03-03", "meter: broken"), on("2026-03-04", "meter_replaced: {old: 413 h, new: 0 h}", "by: EP")}}, KindMeter, "hour meter", []string{
			"2026-03-02 meter: 412.6 h by JM", "2026-03-03 meter: broken", "2026-03-04 meter replaced: 413 h / 0 h by EP", "2026-01-01 shop says: yes"}},
		{"a meter of which the shop says nothing", rig{}, KindMeter, "hour meter", nil},
		{"a reading", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"), "by: JM")}}, KindMeasurement, "compression", []string{"2026-03-02 read: 70 psi by JM"}},
		{"an answer without a result", rig{problems: true, entries: []string{on("2026-03-02", "checks: [{item: the brake holds, note: no ramp here}]")}}, KindPoint, brake, []string{"2026-03-02 not checked: no ramp here"}},
		{"a part that is no consumable answers nothing", rig{problems: true, entries: []string{on("2026-03-02", part("rope", "system: engine", "answers: [it starts cold]"))}}, KindPoint, cold, nil},
		{"a change", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no"), "by: JM"), on("2026-03-03", "put_back: [{key: jet, how: the old jet}]", "by: EP")}}, KindChange, "bigger jet", []string{"2026-03-02 changed: bigger jet by JM", "2026-03-03 put back: the old jet by EP"}},

		{"what was found has the first photo that shows it", rig{photos: photos, entries: []string{on("2026-03-02", leaks, shows(c+", "+a+", "+b))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks in machines/rig/photos/a.jpg"}},
		{"what was done has the last one", rig{photos: photos, entries: []string{on("2026-03-02", leaks), on("2026-03-03", repaired("leak", "how: new seal"), shows(a+", "+b+", "+c))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks", "2026-03-03 repaired: new seal in machines/rig/photos/b.jpg"}},
		{"so has a work-around", rig{photos: photos, entries: []string{on("2026-03-02", leaks), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]", shows(a+", "+b))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks", "2026-03-03 worked around: top it up in machines/rig/photos/b.jpg"}},
		{"and a proof", rig{photos: photos, entries: []string{on("2026-03-02", leaks), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", repaired("leak", proof), shows(a+", "+b))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks", "2026-03-03 repaired: new seal", "2026-03-04 proved: ran an hour and held in machines/rig/photos/b.jpg"}},
		{"one photo does not stand for both", rig{photos: photos, entries: []string{on("2026-03-02", leaks, repaired("leak", "how: new seal"), shows(a))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks in machines/rig/photos/a.jpg", "2026-03-02 repaired: new seal"}},
		{"of two each has its own", rig{photos: photos, entries: []string{on("2026-03-02", leaks, repaired("leak", "how: new seal"), shows(a+", "+b))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks in machines/rig/photos/a.jpg", "2026-03-02 repaired: new seal in machines/rig/photos/b.jpg"}},
		{"a private photo shows nothing", rig{photos: photos, entries: []string{on("2026-03-02", leaks, shows(d))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks"}},
		{"a photo that is named comes before one that shows it", rig{photos: photos, entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no", "photo: c.jpg"), shows(a+", "+c))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks in machines/rig/photos/c.jpg"}},
		{"a private one that is named is not shown", rig{problems: true, photos: photos, entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no", "photo: d.jpg"), shows(c+", "+d))}}, KindDefect, "leak", []string{"2026-03-02 found: the seal leaks"}},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			if got := lived(find(t, tc.rig.judge(t), tc.kind, tc.name)); !slices.Equal(got, tc.want) {
				t.Errorf("the history is %q, want %q", got, tc.want)
			}
		})
	}
}

// TestSystemsOfASubject: each system of a subject is named once, and one that the
// log does not say is no system.
func TestSystemsOfASubject(t *testing.T) {
	for _, tc := range []struct {
		rule string
		rig
		kind Kind
		name string
		want []string
	}{
		{"a defect", rig{problems: true, entries: []string{on("2026-03-02", defects("leak", "it leaks", "drive", "safety: no")), on("2026-03-03", defects("leak", "it leaks more", "drive", "safety: no")), on("2026-03-04", defects("leak", "it pours", "engine", "safety: no"))}}, KindDefect, "leak", []string{"drive", "engine"}},
		{"a change", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no")), on("2026-03-03", changes("bigger jet", "key: jet", "system: engine", "safety: no"))}}, KindChange, "bigger jet", []string{"engine"}},
		{"a change without one", rig{entries: []string{on("2026-03-02", changes("bigger jet", "safety: no"))}}, KindChange, "bigger jet", nil},
		{"a missing part", rig{machine: "missing: [{part: knob, system: controls, safety: no}]"}, KindMissing, "knob", []string{"controls"}},
		{"a missing part without one", rig{machine: "missing: [knob]"}, KindMissing, "knob", nil},
		{"a point of the shop's own", rig{entries: []string{on("2026-03-02", check("the bell rings", "works", "system: controls", "safety: no")), on("2026-03-03", check("the bell rings", "works", "system: controls"))}}, KindPoint, "the bell rings", []string{"controls"}},
		{"a point of the shop's own without one", rig{problems: true, entries: []string{on("2026-03-02", check("the bell rings", "works", "safety: no"))}}, KindPoint, "the bell rings", nil},
		{"a point of the list", rig{problems: true, entries: []string{on("2026-03-02", check(cold, "works", "system: drive"))}}, KindPoint, cold, []string{"engine", "drive"}},
		{"a reading", rig{machine: "limits: [{what: pad, limit: \">= 1 mm\", system: drive}]", entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: drive"))}}, KindMeasurement, "pad", []string{"drive"}},
		{"a reading without one", rig{entries: []string{on("2026-03-02", reading("squeak", "2 mm"))}}, KindMeasurement, "squeak", nil},
		{"a test whose limit names another", rig{machine: "limits: [{what: blade stopping time, limit: \"<= 3 s\", system: controls}]", entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]")}}, KindMeasurement, "blade stopping time", []string{"guards", "controls"}},
		{"a test", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]")}}, KindMeasurement, "blade stopping time", []string{"guards"}},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			if got := find(t, tc.rig.judge(t), tc.kind, tc.name).Systems; !slices.Equal(got, tc.want) {
				t.Errorf("the systems are %q, want %q", got, tc.want)
			}
		})
	}
}

// TestTouches: which work or fault is told of evidence that is out of date.
func TestTouches(t *testing.T) {
	surge := defects("surge", "it surges badly", "engine", "safety: yes")
	for _, tc := range []struct {
		rule string
		rig
		kind    Kind
		name    string
		by      string
		date    logbook.Date
		systems []string
		fault   bool
	}{
		{"a fault before its repair", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", surge), on("2026-03-04", repaired("surge", "how: new spring", proof))}}, KindPoint, full, "fault found: it surges badly", "2026-03-03", []string{"engine"}, true},
		{"of a fault and work in one entry the work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", surge, part("spring", "system: engine"))}}, KindPoint, full, "spring put in", "2026-03-03", []string{"engine"}, false},
		{"a repair has each system of its defect once", rig{problems: true, entries: []string{on("2026-03-01", defects("leak", "it leaks", "engine", "safety: no")), on("2026-03-02", defects("leak", "it pours", "engine", "safety: no")), on("2026-03-03", check(full, "works")), on("2026-03-04", repaired("leak", "how: new seal"))}}, KindPoint, full, "repair: new seal", "2026-03-04", []string{"engine"}, false},
		{"a reading outside its limit with work since", rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("compression", "40 psi")), on("2026-03-03", part("gasket", "system: engine"))}}, KindMeasurement, "compression", "gasket put in", "2026-03-03", []string{"engine"}, false},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			w := find(t, tc.rig.judge(t), tc.kind, tc.name).Touched
			if w == nil || w.By != tc.by || w.Entry.Date != tc.date || !slices.Equal(w.Systems, tc.systems) || w.Fault != tc.fault {
				t.Errorf("touched by %+v", w)
			}
		})
	}
}

// TestBetweenFailureAndPass: what the log shows between a failure and its pass.
func TestBetweenFailureAndPass(t *testing.T) {
	shoe := part("shoe", "system: brakes")
	for _, tc := range []struct {
		rule string
		rig
		unworked bool
		same     string
	}{
		{"work before the failure is not between", rig{entries: []string{on("2026-03-01", shoe), on("2026-03-02", check(brake, "fails")), on("2026-03-03", check(brake, "works"))}}, true, ""},
		{"work after the pass is not between", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", check(brake, "works")), on("2026-03-04", shoe)}}, true, ""},
		{"work between", rig{entries: []string{on("2026-03-01", check(brake, "fails")), on("2026-03-02", shoe), on("2026-03-03", check(brake, "works"))}}, false, ""},
		{"work of the evening of the pass", rig{entries: []string{on("2026-03-01", check(brake, "fails")), on("2026-03-02", shoe, check(brake, "works"))}}, false, "shoe put in"},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			s := find(t, tc.rig.judge(t), KindPoint, brake)
			if (s.Unworked != nil) != tc.unworked || s.SameEvening != tc.same {
				t.Errorf("passed with no work between: %v; the same evening: %q", s.Unworked, s.SameEvening)
			}
		})
	}
}

// TestMeasured: a measurement has each limit once, the gauge of each reading, and
// whether it was as found.
func TestMeasured(t *testing.T) {
	r := rig{machine: "limits: [{what: compression, limit: \">= 60 psi\", source: the maker's sheet}]", entries: []string{
		on("2026-03-02", reading("compression", "40 psi", "as_found: yes"), part("rings", "system: engine")),
		on("2026-03-03", reading("compression", "70 psi", "gauge: 1 psi")),
		on("2026-03-04", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s, as_found: yes}]"),
		on("2026-03-05", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]"),
	}}.judge(t)
	for _, tc := range []struct {
		name    string
		limits  int
		gauges  []bool
		asFound []bool
	}{
		{"compression", 1, []bool{false, true}, []bool{true, false}},
		{"blade stopping time", 1, []bool{true, false}, []bool{true, false}},
	} {
		m := find(t, r, KindMeasurement, tc.name).Measured
		if len(m.Limits) != tc.limits || len(m.Values) != len(tc.gauges) {
			t.Fatalf("%s has the limits %v and the readings %v", tc.name, m.Limits, m.Values)
		}
		for i, v := range m.Values {
			if v.HasGauge != tc.gauges[i] || v.AsFound != tc.asFound[i] {
				t.Errorf("reading %d of %s: has a gauge: %v, as found: %v", i+1, tc.name, v.HasGauge, v.AsFound)
			}
		}
	}
	// As found comes first, whatever the order of the list.
	evening := "measured: [{what: pad, value: 3 mm, system: drive}, {what: pad, value: 1 mm, system: drive, as_found: yes}]"
	if v := find(t, rig{entries: []string{on("2026-03-02", evening)}}.judge(t), KindMeasurement, "pad").Measured.Values; v[0].Shown != "1 mm" || v[1].Shown != "3 mm" {
		t.Errorf("the evening's readings are %v", v)
	}
	if m := find(t, rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}.judge(t), KindMeasurement, "compression").Measured; len(m.Limits) != 0 {
		t.Errorf("without a limit there are %v", m.Limits)
	}
}

func TestWorstReadingBetween(t *testing.T) {
	for _, tc := range []struct {
		rule     string
		verdicts []quantity.Verdict
		want     int // -1 for none
	}{
		{"the only one is not between", []quantity.Verdict{quantity.Outside}, -1},
		{"the first is not between", []quantity.Verdict{quantity.Outside, quantity.Inside, quantity.Inside}, -1},
		{"the last is not between", []quantity.Verdict{quantity.Inside, quantity.Inside, quantity.Outside}, -1},
		{"the second of three", []quantity.Verdict{quantity.Inside, quantity.Outside, quantity.Inside}, 1},
		{"none outside", []quantity.Verdict{quantity.Inside, quantity.TooClose, quantity.Inside}, -1},
	} {
		m := &Measurement{}
		for _, v := range tc.verdicts {
			m.Values = append(m.Values, Value{Verdict: v})
		}
		got := m.Worst()
		if (got != nil) != (tc.want >= 0) || got != nil && got != &m.Values[tc.want] {
			t.Errorf("%s: the worst is %v", tc.rule, got)
		}
	}
}

// TestFindingSubjects by what others know of them: ID, name or key.
func TestFindingSubjects(t *testing.T) {
	r := rig{entries: []string{
		on("2026-03-02", "defects: [{key: one, defect: it leaks, system: drive, safety: no}, {key: two, defect: it leaks, system: engine, safety: no}]"),
		on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: one, with: gear case}]"),
		on("2026-03-04", defects("one", "the new one leaks", "drive", "safety: no"), changes("it leaks", "key: one", "system: frame", "safety: no")),
	}}.judge(t)
	first, second := r.Subject("defect-it-leaks"), r.Subject("defect-it-leaks-2")
	if first == nil || first.Key != "one" || second == nil || second.Key != "two" {
		t.Fatalf("by their IDs: %+v and %+v", first, second)
	}
	if s := r.Subject("defect"); s != nil {
		t.Errorf("by no ID: %+v", s)
	}
	for _, tc := range []struct {
		kind Kind
		name string
		want string
	}{
		{KindDefect, "It leaks", "defect-it-leaks"}, {KindChange, "it leaks", "change-it-leaks"}, {KindDefect, "the new one leaks", "defect-the-new-one-leaks"},
	} {
		if s := r.Named(tc.kind, tc.name); s == nil || s.ID != tc.want {
			t.Errorf("%s %q is %+v, want %s", tc.kind, tc.name, s, tc.want)
		}
	}
	if s := r.Named(KindPoint, "it leaks"); s != nil {
		t.Errorf("a point of that name: %+v", s)
	}
	for _, tc := range []struct {
		kind      Kind
		key, file string
		want      string
	}{
		{KindDefect, "one", "machines/rig/e01.md", "defect-it-leaks"}, {KindDefect, "one", "machines/rig/e03.md", "defect-the-new-one-leaks"},
		{KindDefect, "two", "machines/rig/e01.md", "defect-it-leaks-2"}, {KindChange, "one", "machines/rig/e03.md", "change-it-leaks"},
		{KindDefect, "two", "machines/rig/e03.md", ""}, {KindDefect, "", "machines/rig/e01.md", ""}, {KindPoint, "", "machines/rig/machine.md", ""},
	} {
		s := r.Keyed(tc.kind, tc.key, tc.file)
		if (s == nil) != (tc.want == "") || s != nil && s.ID != tc.want {
			t.Errorf("%s %q of %s is %+v, want %q", tc.kind, tc.key, tc.file, s, tc.want)
		}
	}
}

func TestNames(t *testing.T) {
	r := rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-04", defects("leak", "it pours", "drive", "safety: no")), on("2026-03-05", changes("bigger jet", "system: engine"))}, problems: true}.judge(t)
	for _, tc := range []struct {
		kind       Kind
		name, want string
	}{
		{KindPoint, guard, "belt guard"}, {KindPoint, brake, brake + " (not so)"}, {KindDefect, "leak", "the seal leaks; it pours"}, {KindChange, "bigger jet", "bigger jet (changed)"},
	} {
		if got := find(t, r, tc.kind, tc.name).Named(catalog.English); got != tc.want {
			t.Errorf("%s %q is called %q, want %q", tc.kind, tc.name, got, tc.want)
		}
	}
}

// TestEvidence: a subject rests on each entry that speaks of it, once, and on the
// machine's own file where none does.
func TestEvidence(t *testing.T) {
	r := rig{sheet: sheetOfRig + "leave_out: [{item: the paint is whole, why: it never had any paint}]\n", entries: []string{
		on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal")),
		on("2026-03-03", repaired("leak", proof), "meter: 12 h"),
	}}.judge(t)
	for _, tc := range []struct {
		kind Kind
		name string
		want []string
	}{
		{KindDefect, "leak", []string{"machines/rig/e01.md", "machines/rig/e02.md"}}, {KindPoint, brake, []string{"machines/rig/machine.md"}},
		{KindList, "list of points", []string{"sheets/rig.md"}}, {KindMeter, "hour meter", []string{"machines/rig/e02.md"}},
	} {
		if files := filesOf(find(t, r, tc.kind, tc.name).Evidence); !slices.Equal(files, tc.want) {
			t.Errorf("%s rests on %q, want %q", tc.name, files, tc.want)
		}
	}
	if r.AsOf != "2026-03-03" || r.Front.AsOf != "2026-03-03" {
		t.Errorf("the report is as of %s, its front sheet of %s", r.AsOf, r.Front.AsOf)
	}
}

func filesOf(evidence []Evidence) []string {
	var files []string
	for _, e := range evidence {
		files = append(files, e.File)
	}
	return files
}

// TestEvidenceOfStatements: what is told of several things rests on the entries
// of all of them, each once.
func TestEvidenceOfStatements(t *testing.T) {
	const one, two = "machines/rig/e01.md", "machines/rig/e02.md"
	for _, tc := range []struct {
		rule string
		rig
		part, text string
		want       []string
	}{
		{"points of one entry of a day with two", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: works}, {item: the belt guard is on, result: works}]"), on("2026-03-02", check(tank, "works"))}}, SectionInOrder, "Looked at on March 2: the belt", []string{one}},
		{"and of the other", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: works}, {item: the belt guard is on, result: works}]"), on("2026-03-02", check(tank, "works"))}}, SectionInOrder, "Looked at on March 2: the tank", []string{two}},
		{"what safety was not said of", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine"), defects("leak", "the seal leaks", "drive")), on("2026-03-03", defects("coil", "weak coil", "ignition"))}}, SectionSafety, "The shop did not say", []string{one, two}},
		{"defects still there, of two entries", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", defects("coil", "weak coil", "ignition", "safety: no"))}}, SectionWrong, "Still so", []string{one, two}},
		{"hours of work", rig{entries: []string{on("2026-03-02", `hours: [{from: "18:00", to: "18:30"}]`), on("2026-03-03")}}, SectionHours, "The shop worked on it", []string{one}},
		{"running", rig{entries: []string{on("2026-03-02"), on("2026-03-03", `ran: "0:20"`)}}, SectionHours, "It ran", []string{two}},
		{"running that nobody wrote", rig{entries: []string{on("2026-03-02")}}, SectionHours, "The log does not say how long it ran", []string{"machines/rig/machine.md"}},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			for _, st := range tc.rig.judge(t).Section(tc.part).Statements {
				if strings.HasPrefix(st.Text, tc.text) {
					if files := filesOf(st.Evidence); !slices.Equal(files, tc.want) {
						t.Errorf("%q rests on %q, want %q", st.Text, files, tc.want)
					}
					return
				}
			}
			t.Errorf("nothing says %q", tc.text)
		})
	}
}

// TestLooks: the looks are of open points first, then of guards that are there,
// three at most.
func TestLooks(t *testing.T) {
	const items = `sheet: test rig
items:
  - {item: it stops, system: controls, safety: yes, look: See it stop.}
  - {item: the cover is on, system: guards, safety: yes, look: See the cover.}
  - {item: the flap falls, system: guards, safety: yes, look: See the flap.}
  - {item: the hood is on, system: guards, safety: yes, look: See the hood.}
  - {item: it starts, system: engine, safety: no, look: See it start.}
`
	all := func(results ...string) string {
		text := "checks:\n"
		for i, item := range []string{"it stops", "the cover is on", "the flap falls", "the hood is on", "it starts"} {
			text += "  - {item: " + item + ", result: " + results[i] + "}\n"
		}
		return text
	}
	const off, none = "works", "does not apply, note: it never had one"
	for _, tc := range []struct {
		rule string
		rig
		want []string
	}{
		{"all open: the first three", rig{sheet: items}, []string{"See it stop.", "See the cover.", "See the flap."}},
		{"all in order: the guards", rig{sheet: items, entries: []string{on("2026-03-02", all(off, off, off, off, off))}}, []string{"See the cover.", "See the flap.", "See the hood."}},
		{"one that fails comes first", rig{sheet: items, entries: []string{on("2026-03-02", all(off, off, "fails", off, off))}}, []string{"See the flap.", "See the cover.", "See the hood."}},
		{"a guard that it does not have is not looked at", rig{sheet: items, entries: []string{on("2026-03-02", all(off, none, off, off, off))}}, []string{"See the flap.", "See the hood."}},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			if got := saidIn(tc.rig.judge(t), "front look"); !slices.Equal(got, tc.want) {
				t.Errorf("the looks are %q, want %q", got, tc.want)
			}
		})
	}
}

// TestGapsArePlaced where the mechanic has to mend them.
func TestGapsArePlaced(t *testing.T) {
	r := rig{sheet: oneLine, entries: []string{at("2026-03-02", "18:00", check("the paint is whole", "works")), on("2026-03-02")}}.judge(t)
	gaps := Gaps(&logbook.Shop{}, r, catalog.English)
	if len(gaps) != 1 {
		t.Fatalf("the gaps are %v", gaps)
	}
	for i, e := range r.Machine.Entries {
		if (e.File == gaps[0].File) == e.HasClock {
			t.Errorf("entry %d has a time: %v; the one asked for its time is %s", i, e.HasClock, gaps[0].File)
		}
	}
}

// TestOneSubjectForOneThing: a key, a name or a thing measured has one subject.
func TestOneSubjectForOneThing(t *testing.T) {
	r := rig{entries: []string{
		on("2026-03-02", changes("bigger jet", "system: engine"), reading("pad", "2 mm", "system: drive")),
		on("2026-03-03", changes("Bigger jet", "system: engine"), reading("Pad", "1 mm", "system: drive")),
	}}.judge(t)
	for _, kind := range []Kind{KindChange, KindMeasurement} {
		if all := r.where(func(s *Subject) bool { return s.Kind == kind }); len(all) != 1 {
			t.Errorf("there are %d of the kind %s", len(all), kind)
		}
	}
}

// TestSumsAreNoSubjects: what a test finds on its way is no subject, where it has
// no limit and is not what the test is for. Nor is a reading without a value.
func TestSumsAreNoSubjects(t *testing.T) {
	r := rig{problems: true, entries: []string{on("2026-03-02", "tests: [{test: battery at rest, volts: 12.6 V}, {test: displacement, bore: 66 mm, stroke: 49 mm, cylinders: 1}]", "measured: [{what: pad, system: drive}]")}}.judge(t)
	got := names(r.where(func(s *Subject) bool { return s.Kind == KindMeasurement }))
	slices.Sort(got)
	if want := []string{"battery at rest", "displacement"}; !slices.Equal(got, want) {
		t.Errorf("measured are %q, want %q", got, want)
	}
}

// TestAReadingThatMayBeTheLast rests on its own entry: work of that entry came
// before it.
func TestAReadingThatMayBeTheLast(t *testing.T) {
	s := find(t, rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{
		on("2026-03-02", reading("compression", "60.5 psi", "gauge: 1 psi"), part("gasket", "system: engine")),
		on("2026-03-02", reading("compression", "70 psi", "gauge: 1 psi")),
	}}.judge(t), KindMeasurement, "compression")
	if s.Standing != TooClose || s.Touched != nil {
		t.Errorf("it is %s, touched by %+v", s.Standing, s.Touched)
	}
}

// TestTheFirstThatIsNotProven: of two wordings without a proof the log lacks it
// since the first.
func TestTheFirstThatIsNotProven(t *testing.T) {
	s := find(t, rig{entries: []string{
		on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", repaired("leak", "how: new seal")),
		on("2026-03-04", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-05", repaired("leak", "how: wiped it")),
	}}.judge(t), KindDefect, "leak")
	if s.Standing != NotProven || s.Absent == nil || s.Absent.Since != "2026-03-03" {
		t.Errorf("it is %s, the log lacks %+v", s.Standing, s.Absent)
	}
}

// TestAMachineWithoutAnyList has subjects all the same.
func TestAMachineWithoutAnyList(t *testing.T) {
	m := &logbook.Machine{Name: "The rig", Entries: []*logbook.Entry{{Date: "2026-03-02", Checks: []logbook.Check{{Item: brake, Result: Fails, System: "brakes"}}}}}
	wantPoint(brake, Wrong, true).holds(t, Judge(&logbook.Shop{}, m, tally.Machine{}, nil, catalog.English))
}

// TestBad: the standings that belong among what is wrong.
func TestBad(t *testing.T) {
	var bad []Standing
	for _, s := range worst {
		if Bad(s) {
			bad = append(bad, s)
		}
	}
	if want := []Standing{Wrong, Missing, WorkedAround, NotProven, TooClose}; !slices.Equal(bad, want) {
		t.Errorf("bad are %q, want %q", bad, want)
	}
}
