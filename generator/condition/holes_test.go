package condition

import "testing"

// TestRulesAgainstSellers holds the judge against what a seller might try who writes
// nothing that is not so, and leaves nothing out: orders, overlaps and names.
func TestRulesAgainstSellers(t *testing.T) {
	lamp := defects("lamp", "the bracket is cracked", "frame", "safety: yes")
	around := "worked_around: [{key: lamp, how: tied it with wire, left: it is cracked}]"
	sticker := "checks: [{item: stickers are straight, result: works, system: frame, safety: no}]"
	shoe := defects("shoe", "the shoe is worn", "brakes")
	pin := "defects: [{key: pin, defect: the lever pin is out, system: controls, safety: no, point: " + brake + "}]"
	seat := changes("seat switch wired around", "key: seat", "system: guards")
	limit := `limits: [{what: voltage drop, limit: "<= 0.2 V", system: electrical, safety: yes}]`
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		// Two answers, one entry or one day: the worse stands.
		{"repaired and worked around in one entry", rig{entries: []string{on("2026-03-02", lamp), on("2026-03-03", repaired("lamp", "how: welded it", proof), around)}}, wantDefect("lamp", WorkedAround, true)},
		{"and on one day without times", rig{entries: []string{on("2026-03-02", lamp), on("2026-03-04", around), on("2026-03-04", repaired("lamp", "how: welded it", proof))}}, wantDefect("lamp", WorkedAround, true)},
		{"a repair that came after the work-around ends it", rig{entries: []string{on("2026-03-02", lamp), on("2026-03-03", around), on("2026-03-04", repaired("lamp", "how: welded it", proof))}}, wantDefect("lamp", InOrder, false)},
		{"a proof on the day of another repair may be from before it", rig{entries: []string{on("2026-03-02", lamp), on("2026-03-04", repaired("lamp", "how: glued it")), on("2026-03-04", repaired("lamp", "how: welded it", proof))}}, wantDefect("lamp", NotProven, true)},
		{"a pass beside a failure proves nothing", rig{entries: []string{on("2026-03-02", shoe), on("2026-03-03", repaired("shoe", "how: new lining", proof), "checks: [{item: "+brake+", result: works}, {item: "+brake+", result: fails}]")}}, wantDefect("shoe", NotProven, true)},
		{"a bypass made again on the day that it was put back", rig{entries: []string{on("2026-03-02", seat), on("2026-03-04", seat), on("2026-03-04", "put_back: [{key: seat, how: the plug is in again}]")}}, want{KindChange, "seat", Changed, true}},
		{"put back in the evening in which it was made", rig{entries: []string{on("2026-03-02", seat, "put_back: [{key: seat, how: the plug is in again}]")}}, want{KindChange, "seat", InOrder, false}},
		{"put back at last", rig{entries: []string{on("2026-03-02", seat), on("2026-03-03", "put_back: [{key: seat, how: the plug is in again}]")}}, want{KindChange, "seat", InOrder, false}},
		{"the key of one change is not the name of another", rig{entries: []string{on("2026-03-02", changes("seat switch wired around", "system: guards")), on("2026-03-04", changes("red paint", "key: seat switch wired around", "system: frame", "safety: no"), "put_back: [{key: seat switch wired around, how: the paint is off}]")}}, want{KindChange, "seat switch wired around", InOrder, false}},
		{"found again on the day that it left with its part", rig{entries: []string{on("2026-03-02", lamp), on("2026-03-03", repaired("lamp", "how: welded it", proof)), on("2026-03-04", lamp), on("2026-03-04", part("bracket", "system: frame"), "gone: [{key: lamp, with: bracket}]"), on("2026-03-06", check("the paint is whole", "works"))}}, wantDefect("lamp", NotProven, true)},

		// The brakes are proven by a point of the brakes.
		{"of a system that is part of two", rig{shop: "systems: [{name: pedals, part_of: [brakes, frame]}]", entries: []string{on("2026-03-02", defects("pedal", "the pedal is cracked", "pedals")), on("2026-03-03", repaired("pedal", "how: welded it", proof), sticker)}}, wantDefect("pedal", NotProven, true)},
		{"and with the point it is in order", rig{shop: "systems: [{name: pedals, part_of: [brakes, frame]}]", entries: []string{on("2026-03-02", defects("pedal", "the pedal is cracked", "pedals")), on("2026-03-03", repaired("pedal", "how: welded it", proof), check(brake, "works"))}}, wantDefect("pedal", InOrder, false)},
		{"of words found in two systems", rig{entries: []string{on("2026-03-02", defects("bar", "the bar is loose", "frame", "safety: yes")), on("2026-03-03", repaired("bar", "how: tightened it", proof)), on("2026-03-04", defects("bar", "the bar is loose", "brakes")), on("2026-03-05", repaired("bar", "how: bolted it", proof), sticker)}}, wantDefect("bar", NotProven, true)},
		{"of one wording, gone with a part", rig{entries: []string{on("2026-03-02", defects("bar", "the bar is loose", "frame", "safety: yes")), on("2026-03-03", repaired("bar", "how: tightened it")), on("2026-03-04", defects("bar", "the brake does not grip", "brakes")), on("2026-03-05", part("cup holder", "system: frame"), "gone: [{key: bar, with: cup holder}]", sticker)}}, wantDefect("bar", NotProven, true)},

		// A defect that names a point fails it.
		{"a defect fails the point that it names", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", pin)}}, wantPoint(brake, Wrong, true)},
		{"found, repaired and checked in one evening", rig{entries: []string{on("2026-03-02", pin, repaired("pin", "how: new pin", proof), check(brake, "works"))}}, wantPoint(brake, InOrder, false)},
		{"found and checked with nothing done", rig{entries: []string{on("2026-03-02", pin, check(brake, "works"))}}, wantPoint(brake, Wrong, true)},
		{"what was done about another fault that evening is nothing", rig{entries: []string{on("2026-03-02", "defects: [{key: dent, defect: a dent, system: frame, safety: no}, {key: pin, defect: the lever pin is out, system: controls, safety: no, point: "+brake+"}]", repaired("dent", "how: beat it out", proof), check(brake, "works"))}}, wantPoint(brake, Wrong, true)},
		{"repaired and not proven", rig{entries: []string{on("2026-03-02", pin), on("2026-03-03", repaired("pin", "how: new pin"))}}, wantPoint(brake, Wrong, true)},
		{"repaired and proven", rig{entries: []string{on("2026-03-02", pin), on("2026-03-03", repaired("pin", "how: new pin", proof))}}, wantPoint(brake, OutOfDate, true)},
		{"and worked around after that", rig{entries: []string{on("2026-03-02", pin), on("2026-03-03", repaired("pin", "how: new pin", proof)), on("2026-03-04", "worked_around: [{key: pin, how: a nail in its place}]")}}, wantPoint(brake, Wrong, true)},
		{"and gone with its part", rig{entries: []string{on("2026-03-02", pin), on("2026-03-03", part("lever", "system: controls"), "gone: [{key: pin, with: lever}]")}}, wantPoint(brake, OutOfDate, true)},
		{"gone with a part, and failed by a check besides", rig{entries: []string{on("2026-03-02", pin), on("2026-03-03", check(brake, "works")), on("2026-03-04", check(brake, "fails")), on("2026-03-05", part("lever", "system: controls"), "gone: [{key: pin, with: lever}]")}}, wantPoint(brake, Wrong, true)},
		{"one of two that name it is gone, the other is there", rig{entries: []string{on("2026-03-02", "defects: [{key: pin, defect: the lever pin is out, system: controls, safety: no, point: "+brake+"}, {key: cam, defect: the cam is worn, system: controls, safety: no, point: "+brake+"}]"), on("2026-03-03", part("lever", "system: controls"), "gone: [{key: pin, with: lever}]")}}, wantPoint(brake, Wrong, true)},
		{"of the guards it is a matter of safety that it is gone", rig{entries: []string{on("2026-03-02", defects("flap", "the flap is bent", "guards", "safety: no")), on("2026-03-03", part("flap", "system: guards"), "gone: [{key: flap, with: flap}]")}}, wantDefect("flap", NotProven, true)},

		// Work, wherever it may have been.
		{"what is put back was in all systems of the change", rig{entries: []string{on("2026-03-02", changes("seat bolted", "key: k", "system: frame", "safety: yes")), on("2026-03-03", changes("seat switch moved", "key: k", "system: guards")), on("2026-03-04", check(guard, "works")), on("2026-03-05", "put_back: [{key: k, how: took it out again}]")}}, wantPoint(guard, OutOfDate, true)},
		{"a pad in a system that may be of the brakes", rig{shop: "systems: [stopping]", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pads", "system: stopping", "consumable: yes"))}}, wantPoint(brake, OutOfDate, true)},
		{"a service of one", rig{shop: "systems: [stopping]", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", "service: [{what: fluid, system: stopping}]")}}, wantPoint(brake, OutOfDate, true)},
		{"a service of nothing that is named is none", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", "service: [{what: grease}]")}}, wantPoint(brake, InOrder, false)},

		// What is measured.
		{"the cable with plus is not the one with minus", rig{machine: limit, entries: []string{on("2026-03-02", reading("voltage drop", "1.2 V", `where: "+ cable"`, "gauge: 0.01 V")), on("2026-03-03", reading("voltage drop", "0.1 V", `where: "- cable"`, "gauge: 0.01 V"))}}, measured("voltage drop, + cable", Wrong, true)},
		{"too close to call after a reading inside", rig{machine: `limits: [{what: governed speed, limit: "3500 rpm to 3700 rpm", source: the manual}]`, entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm", "gauge: 10 rpm")), on("2026-03-05", reading("governed speed", "3690 rpm", "gauge: 50 rpm"))}}, wantPoint(full, TooClose, true)},
		{"and a check after that", rig{machine: `limits: [{what: governed speed, limit: "3500 rpm to 3700 rpm", source: the manual}]`, entries: []string{on("2026-03-02", reading("governed speed", "3690 rpm", "gauge: 50 rpm")), on("2026-03-05", check(full, "works"))}}, wantPoint(full, InOrder, false)},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

// The change that only shares its name with another one's key is still there.
func TestAKeyIsNoName(t *testing.T) {
	r := rig{entries: []string{
		on("2026-03-02", changes("seat switch wired around", "system: guards")),
		on("2026-03-04", changes("red paint", "key: seat switch wired around", "system: frame", "safety: no"), "put_back: [{key: seat switch wired around, how: the paint is off}]"),
	}}.judge(t)
	for _, s := range r.Subjects {
		if s.Kind == KindChange && s.Key == "" && s.Name == "seat switch wired around" {
			if s.Standing != Changed || !s.Open {
				t.Errorf("the bypass is %s, open %v", s.Standing, s.Open)
			}
			return
		}
	}
	t.Error("the report has no bypass")
}

// What the log holds beside the last answer is told.
func TestToldBesideTheLastAnswer(t *testing.T) {
	limits := `limits: [{what: compression, limit: ">= 60 psi", source: the sheet}]`
	dear := func(day, value string) string { return on(day, reading("compression", value, "gauge: 0.1 psi")) }
	for _, tc := range []struct {
		rule string
		rig
		section string
		says    []string
		not     []string
	}{
		{"what was noted with an earlier pass", rig{entries: []string{on("2026-03-02", check(brake, "works", "note: only when pumped five times")), on("2026-03-03", check(brake, "works"))}}, SectionInOrder, []string{"As it should be on March 2: only when pumped five times."}, nil},
		{"what was noted after a failure", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", check(brake, "not checked", "note: the lever has now broken off"))}}, SectionSafety, []string{"Written as not checked on March 3: the lever has now broken off."}, nil},
		{"a part put in who knows where is no work on the brakes", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", part("cup holder")), on("2026-03-04", check(brake, "works"))}}, SectionInOrder, []string{"The log shows no work on the brakes between."}, nil},
		{"a fault repaired in the entry of the failure is work", rig{entries: []string{on("2026-03-02", check(cold, "fails"), "defects: [{key: plug, defect: the plug is fouled, system: ignition, safety: no, point: "+cold+"}]", repaired("plug", "how: new plug", proof)), on("2026-03-04", check(cold, "works"))}}, SectionInOrder, []string{cold}, []string{"shows no work"}},
		{"the point that proves a repair is named", rig{entries: []string{on("2026-03-02", "defects: [{key: plug, defect: the plug is fouled, system: engine, safety: no, point: "+cold+"}]", repaired("plug", "how: new plug")), on("2026-03-04", check(cold, "works"))}}, SectionRepaired, []string{"Proof on March 4, by a check: " + cold}, nil},
		{"a proof that is written needs no other", rig{entries: []string{on("2026-03-02", defects("shoe", "the shoe is worn", "brakes"), repaired("shoe", "how: new shoe", proof)), on("2026-03-04", check(brake, "works"))}}, SectionRepaired, []string{"Proof: ran an hour and held."}, []string{"by a check"}},
		{"which of two wordings was proven before later work", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal", proof)), on("2026-03-03", defects("leak", "a drop of oil", "drive", "safety: no"), repaired("leak", "how: wiped it", proof))}}, SectionNotChecked, []string{"no proof in the log since of: the seal leaks."}, []string{"since of: the seal leaks and"}},
		{"the system of a change that was made twice is named once", rig{shop: "systems: [paint]", entries: []string{on("2026-03-02", changes("red paint", "key: k", "system: paint", "safety: no")), on("2026-03-03", changes("red paint", "key: k", "system: paint", "safety: no")), on("2026-03-04", check(tank, "works")), on("2026-03-05", "put_back: [{key: k, how: the paint is off}]")}}, SectionSafety, []string{"The shop does not say what the paint is part of."}, []string{"paint and paint"}},
		{"which of two wordings has no proof", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal")), on("2026-03-03", defects("leak", "a drop of oil", "drive", "safety: no"), repaired("leak", "how: wiped it", proof))}}, SectionWrong, []string{"The log shows no proof that the repair holds of: the seal leaks."}, []string{"no proof that this holds"}},
		{"a conclusion beside a reading that is as found", rig{machine: "limits: []", entries: []string{on("2026-03-02", "diagnosis: [{tried: pulled the cover, saw: a line, so: the crankshaft is cracked, system: engine}]", reading("ring play", "2 mm", "gauge: 0.1 mm", "system: engine", "as_found: yes"))}}, SectionNotChecked, []string{"the crankshaft is cracked"}, nil},
		{"the worst reading between, not the first", rig{machine: limits, entries: []string{dear("2026-03-02", "70 psi"), dear("2026-03-03", "59 psi"), dear("2026-03-04", "5 psi"), dear("2026-03-05", "75 psi")}}, "worst", []string{"5 psi"}, nil},
		{"work on a cooling fan is none on an engine that it may not have", rig{sheet: "sheet: test rig\nitems:\n  - {item: it starts cold, system: engine, safety: no, only_if: an engine of its own}", entries: []string{on("2026-03-02", part("fan", "system: cooling"))}}, SectionHours, []string{"The log does not say how long it ran."}, []string{"the engine ran"}},
		{"and it is where the log speaks of the engine", rig{sheet: "sheet: test rig\nitems:\n  - {item: it starts cold, system: engine, safety: no, only_if: an engine of its own}", entries: []string{on("2026-03-02", part("fan", "system: cooling"), check("it starts cold", "works"))}}, SectionHours, []string{"how long it ran since the last work"}, nil},
		{"what a replaced meter read before it broke", rig{entries: []string{on("2026-03-02", "meter: 4000 h"), on("2026-03-03", "meter_replaced: {old: broken, new: 0 h}"), on("2026-03-04", "meter: 5 h")}}, SectionHours, []string{"4000 h"}, nil},
		{"the last reading on the front sheet", rig{entries: []string{on("2026-03-02", "meter: 212.4 h"), on("2026-03-03", "meter: unknown")}}, "front", []string{"True hours: not known; last read on March 2: 212.4 h."}, nil},
		{"a range beside a plain reading", rig{machine: limits, entries: []string{dear("2026-03-02", "70 psi"), dear("2026-03-03", "4 to 6 psi"), dear("2026-03-04", "59 psi"), dear("2026-03-05", "75 psi")}}, "worst", []string{"59 psi"}, nil},
		{"no figure, so none that is right", rig{machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 212.4 h"), on("2026-03-03", "meter: unknown")}}, SectionHours, []string{"It was last read on March 2: 212.4 h."}, []string{"is right"}},
	} {
		t.Run(tc.rule, func(t *testing.T) {
			r := tc.rig.judge(t)
			if tc.section == "front" {
				holdsText(t, tc.section, frontOf(r), tc.says, tc.not)
				return
			}
			if tc.section == "worst" {
				holdsText(t, tc.section, find(t, r, KindMeasurement, "compression").Measured.Worst().Shown, tc.says, tc.not)
				return
			}
			holdsText(t, tc.section, textOf(r, tc.section), tc.says, tc.not)
		})
	}
}

// The entry of the check that proves a repair is among those that its sentence rests on.
func TestAProofByAPointHasItsEntry(t *testing.T) {
	r := rig{entries: []string{
		on("2026-03-02", defects("slow", "it is slow", "engine", "safety: no", "point: "+cold), repaired("slow", "how: new jet")),
		on("2026-03-04", check(cold, "works")),
	}}.judge(t)
	s := find(t, r, KindDefect, "it is slow")
	if n := len(s.Evidence); n != 2 || s.Evidence[1].Date != "2026-03-04" {
		t.Errorf("it rests on %v", s.Evidence)
	}
}
