package condition

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// textOf is all that a part of the report says.
func textOf(r *Report, id string) string {
	sec := r.Section(id)
	all := slices.Clone(sec.Notes)
	for _, st := range sec.Statements {
		all = append(all, st.Text)
	}
	return strings.Join(all, "\n")
}

// frontOf is all that the front sheet says.
func frontOf(r *Report) string {
	var all []string
	f := r.Front
	for _, part := range [][]Line{f.Hurt, f.Wrong, f.Repaired, f.Changed, f.Unwritten, f.Look, f.Hours} {
		for _, l := range part {
			all = append(all, l.Text)
		}
	}
	return strings.Join(all, "\n")
}

// TestTold holds what the report says of some logs against what it has to say,
// and must not.
func TestTold(t *testing.T) {
	const limit = "limits: [{what: compression, limit: \">= 60 psi\", source: the maker's sheet}]"
	for _, tc := range []struct {
		name string
		rig
		in       string   // the part of the report, or "front"
		says, no []string // texts that stand there, and that stand nowhere in it
	}{
		{"every wording of a defect stays", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal pours oil", "drive", "safety: no", "effect: it stops in an hour")),
			on("2026-03-03", repaired("leak", "how: new seal")),
			on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no", "effect: a spot on the floor")),
		}}, SectionWrong, []string{"The seal pours oil: it stops in an hour (found on March 2).", "a drop of oil", "a spot on the floor", "new seal", "Still so.", "(found on March 2)", "Found again on March 5, then written as"}, nil},
		{"and on the front sheet", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal pours oil", "drive", "safety: no")),
			on("2026-03-03", repaired("leak", "how: new seal")),
			on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no")),
		}}, "front", []string{"Still so: a drop of oil (also written as the seal pours oil)."}, nil},
		{"the same words again are told as that", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", repaired("leak", "how: new seal", proof)),
			on("2026-03-05", defects("leak", "The seal leaks.", "drive", "safety: no")),
		}}, SectionWrong, []string{"Found again on March 5.", "Proof: ran an hour and held."}, []string{"in other words"}},
		{"a proof of a later day has its day", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", repaired("leak", proof)),
		}}, SectionRepaired, []string{"Repaired on March 3: new seal.", "Proof, on March 4: ran an hour and held."}, nil},
		{"a repair without a proof says so", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", repaired("leak", "how: new seal")),
		}}, SectionWrong, []string{"The log shows no proof that this holds."}, []string{"Still so."}},
		{"one in the brakes says which points", rig{entries: []string{
			on("2026-03-02", defects("leak", "the shoe is worn", "brakes")), on("2026-03-03", repaired("leak", "how: new shoe", proof)),
		}}, SectionSafety, []string{"The log shows no point of the brakes that passed after that."}, []string{"no proof that this holds"}},
		{"not of what passed", rig{entries: []string{
			on("2026-03-02", defects("pedal", "the pedal sticks", "drive", "safety: yes")), on("2026-03-03", repaired("pedal", "how: oiled it", proof)),
			on("2026-03-04", defects("pedal", "the pedal spring is weak", "brakes")), on("2026-03-05", repaired("pedal", "how: new spring", proof), check("reverse stops", "works")),
		}}, SectionSafety, []string{"The log shows no point of the brakes that passed after that."}, []string{"of the drive"}},
		{"where it names a point, that one", rig{entries: []string{
			on("2026-03-02", defects("flap", "the flap is torn", "guards", "point: "+stop)), on("2026-03-03", repaired("flap", "how: new flap", proof), check(guard, "works")),
		}}, SectionSafety, []string{"The log does not show that this passed after that: the blade stops at once."}, []string{"no point of the"}},
		{"on the front sheet its proof is not denied", rig{entries: []string{
			on("2026-03-02", defects("leak", "the shoe is worn", "brakes")), on("2026-03-03", repaired("leak", "how: new shoe", proof)),
		}}, "front", []string{"The shoe is worn: repaired, and the log shows no check that proves it."}, []string{"no proof"}},
		{"a work-around says what it leaves", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", "worked_around: [{key: leak, how: top it up, left: the seal is torn}]"),
		}}, SectionWrong, []string{"Worked around on March 3, not repaired: top it up.", "What is left: the seal is torn."}, []string{"Still so."}},
		{"what a work-around left is gone with the repair", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", "worked_around: [{key: leak, how: top it up, left: the seal is torn}]"), on("2026-03-04", repaired("leak", "how: new seal", proof)),
		}}, SectionRepaired, []string{"What was left then: the seal is torn.", "Worked around on March 3"}, []string{"What is left"}},
		{"a note of a failure", rig{entries: []string{on("2026-03-02", check(guard, "fails", "note: two bolts are gone"))}}, SectionSafety, []string{"Not so on March 2: the belt guard is on. The shop notes: two bolts are gone."}, nil},
		{"what was measured beside a failure", rig{entries: []string{on("2026-03-02", check(full, "fails"), reading("governed speed", "3600 rpm"))}}, SectionSafety, []string{"Not so on March 2: it reaches full speed. Measured for this, with no limit to hold it against: governed speed."}, nil},
		{"not checked between two answers is passed over", rig{entries: []string{on("2026-03-02", check(guard, "fails")), on("2026-03-03", check(guard, "not checked", "note: it rained")), on("2026-03-04", check(guard, "works"))}}, SectionInOrder, []string{"the belt guard is on. Not so on March 2."}, []string{"it rained", "not checked on"}},
		{"and after a bad one", rig{entries: []string{on("2026-03-02", check(guard, "fails")), on("2026-03-03", check(guard, "not checked", "note: it rained"))}}, SectionSafety, []string{"Not so on March 2: the belt guard is on."}, []string{"it rained", "not checked on"}},
		{"without a note after a good one too", rig{entries: []string{on("2026-03-02", check(guard, "works")), on("2026-03-03", check(guard, "not checked"))}}, SectionInOrder, []string{"the belt guard is on."}, []string{"not checked on"}},
		{"of two answers in one evening the first is told as that", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: works, note: once, as_found: yes}, {item: the brake holds, result: fails}]")}}, SectionSafety, []string{"Not so on March 2: the brake holds. As it should be on March 2, as found: once."}, nil},
		{"and so where it was good after", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]", part("shoe", "system: brakes"))}}, SectionInOrder, []string{"the brake holds. Not so on March 2, as found."}, nil},
		{"one answer alone is not", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}]"), on("2026-03-03", check(brake, "fails"))}}, SectionSafety, []string{"Not so on March 2."}, []string{"as found"}},
		{"two failures are told one by one", rig{entries: []string{on("2026-03-02", check(guard, "fails")), on("2026-03-03", check(brake, "fails"))}}, SectionSafety, []string{"Not in order: the belt guard is on: not so on March 2. the brake holds: not so on March 3."}, []string{"Still so"}},
		{"what was before a pass that is out of date", rig{entries: []string{on("2026-03-01", check(guard, "fails", "note: it rattles")), on("2026-03-02", part("bolt", "system: guards")), on("2026-03-03", check(guard, "works")), on("2026-03-04", part("flap", "system: guards"))}}, SectionSafety, []string{"Flap put in (on March 4); no check in the log since: the belt guard is on (as it should be on March 3). Not so on March 1: it rattles."}, nil},
		{"what was measured beside a pass that is out of date", rig{entries: []string{on("2026-03-02", check(full, "works"), reading("governed speed", "3600 rpm")), on("2026-03-03", part("jet", "system: engine"))}}, SectionSafety, []string{"(as it should be on March 2). Measured for this, with no limit to hold it against: governed speed."}, nil},
		{"a pass before does not apply is told of what is out of date", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "works", "note: dry all over")), on("2026-03-03", part("hose", "system: fuel")), on("2026-03-04", check(tank, "does not apply", "note: it runs off a line"))}}, SectionSafety, []string{"No check in the log since later work: the tank does not leak. As it should be on March 2: dry all over. Said not to apply on March 4: it runs off a line."}, nil},
		{"two reasons for one change", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: for the hills here")), on("2026-03-03", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: it ran lean"))}}, SectionChanged, []string{"Bigger jet (changed on March 2). Why: for the hills here. Changed on March 3. Also for this: it ran lean."}, []string{"for this: for the hills"}},
		{"the same reason twice is told once", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: for the hills here")), on("2026-03-03", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: For the hills here"))}}, SectionChanged, []string{"for the hills here"}, []string{"For the hills here"}},
		{"a missing part that put in and taken out", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("knob", "system: controls")), on("2026-03-03", part("knob", "system: controls", "fate: taken out again"))}}, SectionWrong, []string{"knob", "on March 2", "on March 3"}, nil},
		{"a meter that is broken", rig{machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 40 h"), on("2026-03-03", "meter: broken")}}, SectionWrong, []string{"broken"}, []string{"says that it is right"}},
		{"no meter was read", rig{machine: "meter_true: yes", entries: []string{on("2026-03-02", "hours: 1")}}, "front", []string{"not known"}, nil},
		{"parts without a price", rig{entries: []string{on("2026-03-02", part("belt", "system: drive"))}}, SectionHours, []string{"Belt"}, []string{"$0", "0.00"}},
		{"some parts with a price", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "each: 12.50"), "costs: [{for: fetching it, amount: 3.00}]"), on("2026-03-03", part("jet", "system: engine"))}}, SectionHours, []string{"12.50", "1 of 2"}, []string{"15.50", "of 3"}},
		{"all parts with a price", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "each: 12.50")), on("2026-03-03", part("jet", "system: engine", "each: 2.50"))}}, SectionHours, []string{"15.00"}, []string{" of 2"}},
		{"work in a system of the shop's own that is part of none", rig{shop: "systems: [hoist]\n", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("drum", "system: hoist"))}}, SectionSafety, []string{"Drum put in (on March 3); no check in the log since: the brake holds", "The shop does not say what the hoist is part of."}, nil},
		{"one of two that the same open work overtook is told by itself", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-02", check(guard, "works")), on("2026-03-03", part("cup holder"))}}, SectionSafety, []string{"Cup holder put in (on March 3); no check in the log since: the brake holds (as it should be on March 2). The log does not say where on the machine that was.", "no check in the log since: the belt guard is on"}, nil},
		{"a point measured, then overtaken", rig{machine: "limits: [{what: governed speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm", "gauge: 10 rpm")), on("2026-03-03", part("jet", "system: engine"))}}, SectionSafety, []string{"No check in the log since later work: it reaches full speed."}, []string{"as it should be on"}},
		{"a defect gone with its part", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"),
			on("2026-03-04", defects("leak", "the new seal leaks", "drive", "safety: no")),
		}}, SectionWrong, []string{"The log used the same name for this before: the seal leaks.", "The new seal leaks (found on March 4)."}, nil},
		{"and what it left for", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"),
		}}, SectionRepaired, []string{"Gone from the machine with its part on March 3. In its place: gear case."}, nil},

		{"what its part took along was put right without a proof", rig{entries: []string{
			on("2026-03-02", defects("leak", "the shoe is worn", "brakes")), on("2026-03-03", part("drum", "system: brakes"), "gone: [{key: leak, with: drum}]"),
		}}, "front", []string{"The shoe is worn: gone with its part, and the log shows no check that proves it."}, []string{"repaired"}},
		{"what came in its place was undone", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("gear case", "system: drive", "fate: taken out again")),
		}}, SectionWrong, []string{"In its place: gear case. Gear case taken out again (on March 5); no check in the log since."}, []string{"passed after"}},
		{"and so on the front sheet", rig{entries: []string{
			on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("gear case", "system: drive", "fate: taken out again")),
		}}, "front", []string{"Was wrong, gone with its part, and what came in its place was undone: the seal leaks."}, []string{"passed after"}},
		{"every wording of a change stays", rig{entries: []string{
			on("2026-03-02", changes("new decal on the bar", "key: bar", "system: guards", "adds: yes")), on("2026-03-05", changes("control bar tied down", "key: bar", "system: guards", "adds: yes")),
		}}, SectionSafety, []string{"New decal on the bar (changed on March 2).", "Changed on March 5: control bar tied down."}, nil},
		{"and on the front sheet, the last first", rig{entries: []string{
			on("2026-03-02", changes("longer deck bolt", "key: bolt", "system: implement", "safety: no")), on("2026-03-05", changes("rear deck wall cut out", "key: bolt", "system: implement", "safety: no")),
		}}, "front", []string{"Changed: rear deck wall cut out (also written as longer deck bolt)."}, nil},
		{"what was put back is no other name of what was changed after it", rig{entries: []string{
			on("2026-03-02", changes("seat switch wired across", "key: seat", "system: electrical", "safety: no", "caution: it runs on when you get off")),
			on("2026-03-03", "put_back: [{key: seat, how: new switch in}]"),
			on("2026-03-04", changes("seat switch has a heavier spring", "key: seat", "system: electrical", "safety: no")),
		}}, "front", []string{"Changed: seat switch has a heavier spring."}, []string{"wired across"}},
		{"its caution stands before it was put back", rig{entries: []string{
			on("2026-03-02", changes("seat switch wired across", "key: seat", "system: electrical", "safety: no", "caution: it runs on when you get off")),
			on("2026-03-03", "put_back: [{key: seat, how: new switch in}]"),
			on("2026-03-04", changes("seat switch has a heavier spring", "key: seat", "system: electrical", "safety: no")),
		}}, SectionChanged, []string{"Take care: it runs on when you get off. Put back on March 3: new switch in. Changed on March 4: seat switch has a heavier spring."}, nil},
		{"it is where the one may have been after the other", rig{entries: []string{
			on("2026-03-02", changes("seat switch wired across", "key: seat", "system: electrical", "safety: no")),
			on("2026-03-03", "put_back: [{key: seat, how: new switch in}]"),
			on("2026-03-03", changes("seat switch has a heavier spring", "key: seat", "system: electrical", "safety: no")),
		}}, "front", []string{"Changed: seat switch has a heavier spring (also written as seat switch wired across)."}, nil},
		{"a missing part that another stands in for", rig{machine: "missing: [{part: blade guard, system: guards}, {part: knob, safety: no}]", entries: []string{
			on("2026-03-02", "parts: [{part: sheet of plastic, replaces: blade guard, system: guards, source: made}, {part: knob, system: frame, source: new}]"),
		}}, "front", []string{"Missing on arrival, replaced since: blade guard (in its place: sheet of plastic); knob."}, nil},
		{"measured is no answer without a limit", rig{sheet: "sheet: test rig\nitems:\n  - {item: the screw turns, short: screw, system: drive, safety: no, answered_by: [screw play]}\n", entries: []string{on("2026-03-02", reading("screw play", "0.5 mm"))}}, "front", []string{"Measured, no limit: drive: screw."}, nil},
		{"what does not apply any more and failed before", rig{entries: []string{
			on("2026-03-02", check(stop, "fails")), on("2026-03-03", changes("brake taken out", "key: out", "system: guards"), check(stop, "does not apply", "note: it has no brake now", "by: out")),
		}}, "front", []string{"The shop says this does not apply: the blade stops at once (not so on March 2). Its reason: it has no brake now."}, nil},
		{"which of several wordings is still so", rig{entries: []string{
			on("2026-03-02", defects("shift", "it jumps out of forward", "drive", "safety: no")), on("2026-03-03", repaired("shift", "how: bent the rod")),
			on("2026-03-04", defects("shift", "it will not go into reverse", "drive", "safety: no")), on("2026-03-05", repaired("shift", "of: it jumps out of forward", "how: new dog", proof)),
		}}, SectionWrong, []string{"Repaired on March 5: new dog. Proof: ran an hour and held. Still so: it will not go into reverse."}, nil},
		{"a part that went back to the seller after it was put in", rig{machine: "missing: [{part: blade guard, system: guards}]", entries: []string{
			on("2026-03-02", part("blade guard", "system: guards")), on("2026-03-03", part("blade guard", "system: guards", "fate: returned")),
		}}, SectionSafety, []string{"Missing on arrival: blade guard. Put in on March 2. Went back to the seller on March 3."}, nil},
		{"a fault found is no later work", rig{machine: `limits: [{what: governed speed, limit: "3500 rpm to 3700 rpm", source: the manual}]`, entries: []string{
			on("2026-03-02", reading("governed speed", "3600 rpm", "gauge: 10 rpm")), on("2026-03-04", defects("rod", "the rod knocks", "engine", "safety: yes")),
		}}, SectionSafety, []string{"No check in the log since a fault was found there: it reaches full speed."}, []string{"since later work"}},
		{"what makes it safer and was put back makes nothing safer", rig{entries: []string{
			on("2026-03-02", changes("stronger flap", "key: flap", "system: guards", "adds: yes")), on("2026-03-05", "put_back: [{key: flap, how: the torn flap again}]"),
		}}, "front", []string{"Changed, and put back: stronger flap."}, []string{"safer"}},
		{"nor is it told so in full", rig{entries: []string{
			on("2026-03-02", changes("stronger flap", "key: flap", "system: guards", "adds: yes")), on("2026-03-05", "put_back: [{key: flap, how: the torn flap again}]"),
		}}, SectionChanged, []string{"Put back on March 5: the torn flap again."}, []string{"safer"}},
		{"a meter that broke was read before", rig{entries: []string{on("2026-03-02", "meter: 2412 h"), on("2026-03-05", "meter: broken")}}, "front", []string{"last read on March 2: 2412 h"}, nil},
		{"each one that was replaced", rig{entries: []string{on("2026-03-02", "meter_replaced: {old: 412 h, new: 0 h}"), on("2026-03-04", "meter: 20 h"), on("2026-03-05", "meter: broken")}}, SectionWrong, []string{"It was last read on March 4: 412 h and 20 h."}, nil},
		{"of one that was never read nothing is told", rig{entries: []string{on("2026-03-05", "meter: broken")}}, SectionWrong, []string{"broken"}, []string{"read"}},
		{"an odometer that cannot be read was read before", rig{entries: []string{on("2026-03-02", "odometer: 9000 mi"), on("2026-03-05", "odometer: broken")}}, SectionHours, []string{"The shop says on March 5 that the odometer is broken. It was last read on March 2: 9000 mi."}, nil},
		{"one of which nobody knows what it reads is not told as broken", rig{entries: []string{on("2026-02", "odometer: 9000 mi"), on("2026-02-05", "odometer: unknown")}}, "front", []string{"What the odometer reads is not known, says the shop. It was last read in February 2026: 9000 mi."}, []string{"before", "broken", "cannot"}},
		{"a machine without one has none", rig{entries: []string{on("2026-03-02", "odometer: none")}}, "front", []string{"True hours: not known.", "It has no odometer, says the shop."}, nil},
		{"a machine whose list has no engine has none", rig{sheet: "sheet: test rig\nitems:\n  - {item: the brake holds, short: brake, system: brakes, safety: yes}\n", entries: []string{on("2026-03-02", part("cup holder"))}}, "front", []string{"How long it ran is not written down."}, []string{"engine"}},
		{"but where its plate does", rig{machine: "engine: {bore: 2.5 in}", sheet: "sheet: test rig\nitems:\n  - {item: the brake holds, short: brake, system: brakes, safety: yes}\n", entries: []string{on("2026-03-02", part("cup holder"))}}, "front", []string{"since the last work that may have been on the engine"}, nil},
		{"or where there is no list to say so", rig{machine: "kind: cider press", entries: []string{on("2026-03-02", part("cup holder"))}}, "front", []string{"since the last work that may have been on the engine"}, nil},
		{"but where the log speaks of one", rig{sheet: "sheet: test rig\nitems:\n  - {item: the brake holds, short: brake, system: brakes, safety: yes}\n", entries: []string{on("2026-03-02", part("jet", "system: engine"))}}, "front", []string{"since the last work on the engine"}, nil},
		{"what was noted of no answer is told beside the pass", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-04", check(brake, "not checked", "note: it grabbed"))}}, SectionInOrder, []string{"Written as not checked on March 4: it grabbed."}, nil},

		{"a reading that was outside names the work since", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "40 psi", "system: engine", "gauge: 1 psi")), on("2026-03-03", part("rings", "system: engine"))}}, SectionWrong, []string{"Compression: outside its limit. Rings put in (on March 3); no reading in the log since."}, nil},
		{"of two of one name the one before later work is told with its place", rig{machine: limit, entries: []string{on("2026-03-02", "measured: [{what: compression, where: left, value: 80 psi, gauge: 1 psi, system: engine}]"), on("2026-03-03", part("rings", "system: engine")), on("2026-03-04", "measured: [{what: compression, where: right, value: 80 psi, gauge: 1 psi, system: engine}]")}}, "front", []string{"Measured before later work, and not since: compression, left."}, nil},
		{"alone it needs none", rig{machine: limit, entries: []string{on("2026-03-02", "measured: [{what: compression, where: left, value: 80 psi, gauge: 1 psi, system: engine}]"), on("2026-03-03", part("rings", "system: engine"))}}, "front", []string{"Measured before later work, and not since: compression."}, nil},
		{"work on a defect that names the point was between", rig{entries: []string{
			on("2026-03-02", check(cold, "fails"), defects("jet", "no fuel comes", "fuel", "safety: no", "point: "+cold)), on("2026-03-03", repaired("jet", "how: new jet")), on("2026-03-04", check(cold, "works")),
		}}, SectionInOrder, []string{"Not so on March 2."}, []string{"The log shows no work"}},
		{"nor was work after the pass", rig{entries: []string{
			on("2026-03-02", check(cold, "fails"), defects("jet", "no fuel comes", "fuel", "safety: no", "point: "+cold)), on("2026-03-04", check(cold, "works")), on("2026-03-05", repaired("jet", "how: new jet")),
		}}, SectionInOrder, []string{"The log shows no work on the engine between."}, nil},
		{"nor work before the failure", rig{entries: []string{
			on("2026-03-01", defects("jet", "no fuel comes", "fuel", "safety: no", "point: "+cold), repaired("jet", "how: new jet")), on("2026-03-02", check(cold, "fails")), on("2026-03-04", check(cold, "works")),
		}}, SectionInOrder, []string{"The log shows no work on the engine between."}, nil},
		{"a proof alone is no work", rig{entries: []string{
			on("2026-03-01", defects("jet", "no fuel comes", "fuel", "safety: no", "point: "+cold), repaired("jet", "how: new jet")), on("2026-03-02", check(cold, "fails")), on("2026-03-03", repaired("jet", proof)), on("2026-03-04", check(cold, "works")),
		}}, SectionInOrder, []string{"The log shows no work on the engine between."}, nil},
		{"a reading too close names the work since too", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "61 psi", "system: engine", "gauge: 2 psi")), on("2026-03-03", part("rings", "system: engine"))}}, SectionWrong, []string{"Rings put in (on March 3); no reading in the log since."}, nil},
		{"one without a limit names it and claims nothing", rig{entries: []string{on("2026-03-02", reading("brake play", "1 in", "system: brakes")), on("2026-03-03", part("shoe", "system: brakes"))}}, SectionSafety, []string{"Shoe put in (on March 3)."}, []string{"no reading"}},
		{"work on another defect was not", rig{entries: []string{
			on("2026-03-02", check(cold, "fails"), defects("jet", "no fuel comes", "fuel", "safety: no")), on("2026-03-03", repaired("jet", "how: new jet")), on("2026-03-04", check(cold, "works")),
		}}, SectionInOrder, []string{"The log shows no work on the engine between."}, nil},
		{"a failure that passed with no work between", rig{entries: []string{
			on("2026-03-02", check(brake, "fails", "note: it slipped")), on("2026-03-05", check(brake, "works")),
		}}, SectionInOrder, []string{"Looked at on March 5: the brake holds. Not so on March 2: it slipped. The log shows no work on the brakes between.", "it slipped"}, nil},
		{"with work between that is not said", rig{entries: []string{
			on("2026-03-02", check(brake, "fails")), on("2026-03-03", part("brake shoe", "system: brakes")), on("2026-03-05", check(brake, "works")),
		}}, SectionInOrder, []string{"Not so on March 2."}, []string{"The log shows no work"}},
		{"work of the evening beside its check", rig{entries: []string{on("2026-03-02", check(brake, "works"), part("brake shoe", "system: brakes"))}}, SectionInOrder, []string{"Looked at on March 2, along with work there: the brake holds."}, nil},
		{"work elsewhere that evening is not told", rig{entries: []string{on("2026-03-02", check(brake, "works"), part("belt", "system: drive"))}}, SectionInOrder, []string{"the brake holds"}, []string{"in the same entry"}},
		{"what is out of date tells the work by its name", rig{entries: []string{
			on("2026-03-02", check(brake, "works", "note: held on the ramp")), on("2026-03-03", part("brake shoe", "system: brakes")),
		}}, SectionSafety, []string{"(as it should be on March 2: held on the ramp)", "held on the ramp", "Brake shoe put in (on March 3); no check in the log since: the brake holds"}, []string{"does not say where", "which came first"}},
		{"and the first such work", rig{entries: []string{
			on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake shoe", "system: brakes")), on("2026-03-04", part("brake rod", "system: brakes")),
		}}, SectionSafety, []string{"Brake shoe put in"}, []string{"Brake rod put in"}},
		{"a part without a system says why", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("cup holder"))}}, SectionSafety, []string{"Cup holder put in (on March 3); no check in the log since: the brake holds", "The log does not say where on the machine that was."}, nil},
		{"what the shop noted where it did not check what the machine lacks", rig{machine: "has: {reverse: no}", entries: []string{on("2026-03-02", check(backs, "not checked", "note: the lever is stuck in reverse"))}}, SectionNotChecked, []string{"The shop says that the machine does not have this: reverse.", "Written as not checked on March 2: the lever is stuck in reverse."}, nil},
		{"what would prove a repair in a system that is part of others", rig{shop: "systems: [{name: hydrostatic, part_of: [drive, brakes]}]", entries: []string{on("2026-03-02", defects("creep", "it creeps in neutral", "hydrostatic")), on("2026-03-03", repaired("creep", "how: new spring", proof))}}, SectionSafety, []string{"The log shows no point of the hydrostatic and brakes that passed after that."}, nil},
		{"a proof in a month, and work of one of its days", rig{entries: []string{on("2026-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03", repaired("leak", "how: new seal", proof)), on("2026-03-09", part("belt", "system: drive"))}}, SectionNotChecked, []string{"Belt put in (on March 9). The days in the log are not exact enough to say which came first."}, []string{"no proof in the log since"}},
		{"and where that is of one of several wordings", rig{entries: []string{on("2026-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: wiped it")), on("2026-02-28", defects("leak", "a drop of oil", "frame", "safety: no")), on("2026-03", "repaired: [{key: leak, of: the seal leaks, how: new seal, "+proof+"}, {key: leak, of: a drop of oil, how: wiped it, "+proof+"}]"), on("2026-03-09", part("belt", "system: drive"))}}, SectionNotChecked, []string{"Belt put in (on March 9); the proof may be from before that, of: the seal leaks."}, nil},
		{"a proof and work of one day", rig{entries: []string{on("2026-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-09", repaired("leak", "how: new seal", proof)), on("2026-03-09", part("belt", "system: drive"))}}, SectionNotChecked, []string{"Belt put in (on March 9). The log does not say which came first that day."}, []string{"not exact enough"}},
		{"an open order says so", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-02", part("brake shoe", "system: brakes"))}}, SectionSafety, []string{"Brake shoe put in (on March 2); the log does not say if the check came before or after: the brake holds (as it should be on March 2)."}, nil},
		{"what was measured at about the time of work is told as that", rig{machine: "limits: [{what: governed speed, limit: 3600 rpm +- 100 rpm, source: plate}]", entries: []string{on("2026-05", reading("governed speed", "3600 rpm", "gauge: 10 rpm")), on("2026-05-09", part("jet", "system: engine"))}}, SectionSafety, []string{"Measured for this, with work there of about that time, and inside its limit: governed speed."}, []string{"before later work"}},
		{"one of two places was measured since", wheels(twoWheels, shim, play("left", "1 mm")), SectionSafety, []string{"No check in the log since later work: the wheels sit tight.", "Measured for this, and inside its limit: play, left.", "What was measured since does not show if it is as it should be."}, nil},
		{"what was measured since, with no clear result, is no check and is not passed over", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", part("jet", "system: engine")), on("2026-03-04", reading("governed speed", "3600 rpm"))}}, SectionSafety, []string{"Jet put in (on March 3); no check in the log since: it reaches full speed (as it should be on March 2).", "What was measured since does not show if it is as it should be."}, nil},
		{"and on the front sheet", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", part("jet", "system: engine")), on("2026-03-04", reading("governed speed", "3600 rpm"))}}, "front", []string{"Measured since the work there, with no clear result: engine: full speed."}, []string{"No check in the log since later work"}},
		{"a reading of before is no such thing", rig{entries: []string{on("2026-03-01", reading("governed speed", "3600 rpm")), on("2026-03-02", check(full, "works")), on("2026-03-03", part("jet", "system: engine"))}}, SectionSafety, []string{"no check in the log since: it reaches full speed"}, []string{"What was measured since"}},
		{"a fault that came later is no work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", defects("surge", "it surges badly", "engine", "safety: yes"))}}, SectionSafety, []string{"Fault found: it surges badly (on March 3); no check in the log since: it reaches full speed"}, nil},
		{"a failure with work since says that it was not checked", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", part("brake shoe", "system: brakes"))}}, SectionSafety, []string{"Not so on March 2: the brake holds.", "Brake shoe put in"}, nil},

		{"points without an answer stand together by system", rig{}, SectionSafety, []string{"guards: the blade stops at once. the belt guard is on. brakes: the brake holds."}, []string{"it starts cold"}},
		{"and those that cannot hurt elsewhere", rig{}, SectionNotChecked, []string{"it starts cold"}, []string{"the brake holds"}},
		{"on the front sheet by their short names", rig{}, "front", []string{"blade stop, belt guard"}, []string{"the belt guard is on"}},
		{"out of date ones as well", rig{entries: []string{on("2026-03-02", check(guard, "works")), on("2026-03-03", part("flap", "system: guards"))}}, "front", []string{"No check in the log since later work there: guards: belt guard."}, nil},
		{"a safety point that does not apply has its reason on the front sheet", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line"))}}, "front", []string{"The shop says this does not apply: the tank does not leak. Its reason: it runs off a line."}, nil},
		{"of two things that it does not have one line tells", rig{machine: "has: {reverse: no, lamp: no}", sheet: "sheet: test rig\nitems:\n  - {item: reverse stops, short: reverse stop, system: drive, safety: yes, only_if: reverse}\n  - {item: the lamp is whole, short: lamp glass, system: electrical, safety: yes, only_if: lamp}\n  - {item: the lamp is tight, short: lamp bolts, system: electrical, safety: yes, only_if: lamp}\n"}, "front", []string{"The shop says the machine does not have these: reverse; lamp. So these points do not apply: reverse stop; lamp glass; lamp bolts."}, []string{"have this"}},
		{"one that cannot hurt does not stand there", rig{machine: "has: {reverse: no}"}, "front", []string{"The shop says the machine does not have this: reverse. So this does not apply: reverse stops."}, []string{"reverse works"}},
		{"and in the detail", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line"))}}, SectionNotChecked, []string{"Does not apply: the tank does not leak.", "it runs off a line"}, nil},
		{"a point measured outside names what was measured", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]")}}, SectionSafety, []string{"Not so: the blade stops at once.", "Blade stopping time: outside its limit."}, []string{"9 s", "no check of this: the blade"}},
		{"a measurement outside stands among what is wrong", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "31 psi"))}}, SectionWrong, []string{"Compression: outside its limit."}, []string{"31 psi"}},
		{"and on the front sheet", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "31 psi"))}}, "front", []string{"Measured, outside its limit: compression."}, nil},
		{"a reading out of date names the work", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "71 psi")), on("2026-03-03", part("gasket", "system: engine"))}}, SectionMeasured, []string{"Compression: inside its limit, before later work.", "Gasket put in", "no reading in the log since."}, nil},
		{"a reading beside its work", rig{machine: limit, entries: []string{on("2026-03-02", reading("compression", "71 psi"), part("gasket", "system: engine"))}}, SectionMeasured, []string{"This reading is in the same entry as work there."}, nil},

		{"what safety was not said of is named", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine"), defects("leak", "the seal leaks", "drive"))}}, SectionSafety, []string{"The shop did not say if these can hurt someone: the seal leaks; bigger jet."}, nil},
		{"and what it was said of is not", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine", "safety: yes"))}}, SectionSafety, []string{"Bigger jet (changed on March 2)."}, []string{"did not say if"}},
		{"a change has all that was said of it", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: the maker's jet is not made", "affects: [full speed]", "caution: warm it up first")), on("2026-03-03", "put_back: [{key: jet, how: the old jet again}]")}}, SectionChanged, []string{"Bigger jet (changed on March 2). Why: the maker's jet is not made.", "the maker's jet is not made", "full speed", "warm it up first", "Put back on March 3: the old jet again."}, nil},
		{"a stronger guard is the shop's word", rig{entries: []string{on("2026-03-02", changes("stronger guard", "system: guards", "adds: yes"), check(guard, "works"))}}, "front", []string{"Added by the shop, to make it safer, it says: stronger guard."}, nil},
		{"a name that affects: does not know is a caution", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "affects: [blade tip speeed]"))}}, SectionSafety, []string{"Belt put in. The log says that it affects what the report does not know: blade tip speeed."}, nil},
		{"one that it knows is none", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "affects: [brakes]"))}}, SectionSafety, nil, []string{"does not know"}},
		{"a missing part is told", rig{machine: "missing: [{part: knob, safety: no}, {part: flap, system: guards}]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, SectionSafety, []string{"Missing on arrival, none named in its place: flap."}, []string{"knob"}},
		{"one put in is told as that", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, SectionChanged, []string{"Knob: missing on arrival, put in on March 2."}, []string{"shows no new one"}},
		{"changes told above are pointed to where one looks for changes", rig{entries: []string{on("2026-03-02", changes("handle painted", "system: frame", "safety: no")), on("2026-03-03", changes("reverse blocked off", "system: drive", "safety: yes"))}}, "front", []string{"Reverse blocked off: not as built.", "Changed: handle painted.", "More changes are told above."}, []string{"by the shop"}},
		{"who never named a kind is not told of this kind", rig{machine: `kind: ""`}, SectionSafety, []string{"The shop does not say what kind of machine this is, so no list is for it."}, []string{"this kind"}},
		{"nor on the front sheet", rig{machine: `kind: ""`}, "front", []string{"The log does not say what kind of machine it is."}, []string{"this kind"}},
		{"with no repair none is said to be not proven", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive"))}}, SectionRepaired, []string{"The log lists no repair."}, []string{"proven"}},
		{"with one that is not, that is said", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive"), repaired("leak", "how: new seal"))}}, SectionRepaired, []string{"The log shows no repair that is proven."}, nil},
		{"nobody works on the electrical", rig{sheet: "sheet: test rig\nitems:\n  - {item: the lamp is whole, system: electrical, safety: no}\n", entries: []string{on("2026-03-02", check("the lamp is whole", "fails")), on("2026-03-04", check("the lamp is whole", "works"))}}, SectionInOrder, []string{"The log shows no work on the electrical parts between."}, nil},
		{"there is no list for the kind", rig{machine: "kind: cider press"}, SectionSafety, []string{"There is no list for this kind of machine."}, nil},
		{"what was left out of the list stands with its reason", rig{machine: "leave_out: [{item: the paint is whole, why: it never had any paint}]"}, SectionNotChecked, []string{"The shop took this point off the list: the paint is whole. Its reason: it never had any paint."}, nil},
		{"also where there is no list", rig{machine: "kind: cider press\nsheet: rig\nleave_out: [{item: the paint is whole, why: it never had any paint}]"}, SectionNotChecked, []string{"it never had any paint"}, nil},
		{"a service stands beside its point", rig{entries: []string{on("2026-03-02", check(cold, "works"), "service: [{what: engine oil, system: engine, answers: [it starts cold]}]")}}, SectionInOrder, []string{"The shop says that its service on March 2 speaks to this: engine oil."}, nil},
		{"but never beside a safety point", rig{entries: []string{on("2026-03-02", check(full, "works"), "service: [{what: engine oil, system: engine, answers: [it reaches full speed]}]")}}, SectionInOrder, []string{"it reaches full speed"}, []string{"speaks to this"}},
		{"a conclusion that nothing answers is the shop's words", rig{entries: []string{on("2026-03-02", "diagnosis: [{tried: a spark tester, so: the coil is on its way out, system: ignition}]")}}, SectionNotChecked, []string{"What the shop tried on March 2: a spark tester. What it wrote then, and the log says no more of it: the coil is on its way out."}, nil},
		{"also on the front sheet", rig{entries: []string{on("2026-03-02", "diagnosis: [{tried: a spark tester, so: the coil is on its way out, system: ignition}]")}}, "front", []string{"the coil is on its way out"}, nil},
		{"one that a later defect answers is not told", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: ignition}]"), on("2026-03-03", defects("coil", "weak coil", "ignition", "safety: no"))}}, SectionNotChecked, nil, []string{"the coil is on its way out"}},
		{"an earlier one does not answer it", rig{entries: []string{on("2026-03-01", defects("coil", "weak coil", "ignition", "safety: no")), on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: ignition}]")}}, SectionNotChecked, []string{"the coil is on its way out"}, nil},
		{"a part of a repair of what is elsewhere answers it", rig{entries: []string{on("2026-03-01", defects("dies", "it dies when hot", "engine", "safety: no")), on("2026-03-02", "diagnosis: [{tried: opened the cap, so: the vent is shut, system: fuel}]"), on("2026-03-03", repaired("dies", "how: new vent"), part("tank vent", "system: fuel"))}}, "front", nil, []string{"the vent is shut"}},
		{"a part alone does not", rig{entries: []string{on("2026-03-01", defects("dies", "it dies when hot", "engine", "safety: no")), on("2026-03-02", "diagnosis: [{tried: opened the cap, so: the vent is shut, system: fuel}]"), on("2026-03-03", part("tank vent", "system: fuel"))}}, "front", []string{"the vent is shut"}, nil},
		{"nor a proof with one", rig{entries: []string{on("2026-03-01", defects("dies", "it dies when hot", "engine", "safety: no"), repaired("dies", "how: new plug")), on("2026-03-02", "diagnosis: [{tried: opened the cap, so: the vent is shut, system: fuel}]"), on("2026-03-03", repaired("dies", proof), part("tank vent", "system: fuel"))}}, "front", []string{"the vent is shut"}, nil},
		{"nor a part that is not on the machine", rig{entries: []string{on("2026-03-01", defects("dies", "it dies when hot", "engine", "safety: no")), on("2026-03-02", "diagnosis: [{tried: opened the cap, so: the vent is shut, system: fuel}]"), on("2026-03-03", repaired("dies", "how: new vent"), part("tank vent", "system: fuel", "fate: returned"))}}, "front", []string{"the vent is shut"}, nil},
		{"nor one that went elsewhere", rig{entries: []string{on("2026-03-01", defects("dies", "it dies when hot", "engine", "safety: no")), on("2026-03-02", "diagnosis: [{tried: opened the cap, so: the vent is shut, system: fuel}]"), on("2026-03-03", repaired("dies", "how: new coil"), part("coil", "system: ignition"))}}, "front", []string{"the vent is shut"}, nil},
		{"nor one elsewhere", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: ignition}]"), on("2026-03-03", defects("coil", "weak seal", "drive", "safety: no"))}}, SectionNotChecked, []string{"the coil is on its way out"}, nil},

		{"hours nobody wrote are not zero", rig{}, SectionHours, []string{"The log does not say how long the shop worked on it.", "The log does not say how long it ran."}, []string{"0 min"}},
		{"a run that was written", rig{entries: []string{on("2026-03-02", `ran: "0:20"`)}}, SectionHours, []string{"It ran 20 min in the shop."}, nil},
		{"a run since the last work", rig{entries: []string{on("2026-03-02", part("fuel pump", "system: fuel"), `ran: "0:20"`), on("2026-03-03", `ran: "0:45"`)}}, SectionHours, []string{"It ran 45 min since the last work on the engine, on March 2."}, nil},
		{"a run since that nobody wrote", rig{entries: []string{on("2026-03-02", part("fuel pump", "system: fuel"), `ran: "0:20"`)}}, SectionHours, []string{"It ran 20 min in all; the log does not say that any of it was after the last work on the engine, on March 2."}, nil},
		{"a run that may be from before the work", rig{entries: []string{on("2026-05", "worked_on: [engine]"), on("2026-05-03", `ran: "2:00"`)}}, SectionHours, []string{"It ran 2 h in all; the log does not say that any of it was after the last work on the engine, in May 2026."}, []string{"since"}},
		{"and what is for certain after it", rig{entries: []string{on("2026-05", "worked_on: [engine]"), on("2026-05-03", `ran: "2:00"`), on("2026-06-03", `ran: "0:30"`)}}, "front", []string{"Run since the last work on the engine (in May 2026): 30 min."}, nil},
		{"nor is a run of the month the one before a day of it", rig{entries: []string{on("2026-02", `ran: "0:30"`), on("2026-02-12", "worked_on: [fuel]")}}, "front", []string{"Run in all: 30 min; the log does not say that any of it was after the last work on the engine (on February 12)."}, []string{"before"}},
		{"work that may have been anywhere is not told as of the engine", rig{entries: []string{on("2026-03-02", "worked_on: [engine]"), on("2026-03-03", part("sticker")), on("2026-03-04", `ran: "0:45"`)}}, "front", []string{"Run since the last work that may have been on the engine (on March 3): 45 min."}, []string{"work on the engine"}},
		{"but where there was such work that evening too", rig{entries: []string{on("2026-03-03", part("sticker"), "worked_on: [engine]"), on("2026-03-04", `ran: "0:45"`)}}, "front", []string{"Run since the last work on the engine (on March 3): 45 min."}, []string{"may"}},
		{"work on the wheels is none on the engine", rig{entries: []string{on("2026-03-02", part("tire", "system: tires"), `ran: "0:20"`)}}, SectionHours, []string{"It ran 20 min in the shop."}, nil},
		{"a failure that a reading overcame is not told as looked at and good", rig{entries: []string{on("2026-03-02", check(stop, "fails")), on("2026-03-03", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]")}}, SectionInOrder, []string{"Not so on March 2", "blade stopping time"}, []string{"Looked at on March 2"}},
		{"a reading without a limit and with work since", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi")), on("2026-03-03", part("gasket", "system: engine"))}}, SectionMeasured, []string{"Compression"}, []string{"["}},
		{"a broken meter is told as that", rig{entries: []string{on("2026-03-02", "meter: broken")}}, "front", []string{"The meter is broken, says the shop."}, nil},
		{"a replaced meter adds up on the front sheet", rig{entries: []string{on("2026-03-02", "meter: 413 h"), on("2026-03-03", "meter_replaced: {old: 413 h, new: 0 h}"), on("2026-03-04", "meter: 2 h")}}, "front", []string{"Old and new meter add up to 415 h"}, []string{"reads 415 h"}},
		{"the meter is what it read", rig{entries: []string{on("2026-03-02", "meter: 412.6 h")}}, "front", []string{"The meter reads 412.6 h; the shop does not say if that is right."}, []string{"believes"}},
		{"parts that were not fitted are told as that", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "fate: returned"))}}, SectionHours, []string{"Belt: went back to the seller."}, nil},
		{"a kept machine has no terms", rig{shop: "terms: as is", machine: "stage: keeping"}, SectionTerms, []string{"not for sale"}, []string{"as is"}},
		{"one for sale has them", rig{shop: "terms: as is", machine: "stage: for sale"}, SectionTerms, []string{"The machine is sold as is: "}, nil},
		{"as is only where the terms say so", rig{machine: "stage: for sale"}, SectionTerms, []string{"The shop states no terms."}, []string{"as is"}},
		{"terms of its own", rig{shop: "terms: two weeks to bring it back", machine: "stage: for sale"}, SectionTerms, []string{"The shop's terms: two weeks to bring it back."}, []string{"as is"}},
		{"the log is its entries", rig{entries: []string{on("2026-03-02", "title: First look", "by: JM")}}, SectionLog, []string{"March 2: First look, by JM."}, nil},
		{"with something open the caution comes first", rig{}, SectionSafety, []string{"Do not run it until each point above is checked or put right."}, nil},
		{"three looks, the gravest first", rig{entries: []string{on("2026-03-02", check(guard, "fails"))}}, "front", []string{"Look at the belt from behind.", "Watch from far off."}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r := tc.rig.judge(t)
			text := frontOf(r)
			if tc.in != "front" {
				text = textOf(r, tc.in)
			}
			holdsText(t, tc.in, text, tc.says, tc.no)
		})
	}
}

// holdsText holds a text of the report against what it has to say, and what not.
func holdsText(t *testing.T, in, text string, says, no []string) {
	t.Helper()
	for _, want := range says {
		if !strings.Contains(text, want) {
			t.Errorf("%s does not say %q:\n%s", in, want, text)
		}
	}
	for _, not := range no {
		if strings.Contains(text, not) {
			t.Errorf("%s says %q:\n%s", in, not, text)
		}
	}
}

func TestLooksGravestFirst(t *testing.T) {
	r := rig{entries: []string{on("2026-03-02", check(guard, "fails"))}}.judge(t)
	if len(r.Front.Look) != 2 || r.Front.Look[0].Subject.Name != guard {
		t.Errorf("the looks are %v", r.Front.Look)
	}
}

// TestNothingOpen is a machine of which nothing bad is known.
func TestNothingOpen(t *testing.T) {
	all := "checks:\n"
	for _, item := range []string{stop, guard, brake, cold, full, tank, back, backs, "the paint is whole"} {
		all += "  - {item: " + item + ", result: works}\n"
	}
	r := rig{entries: []string{on("2026-03-02", all)}}.judge(t)
	if open := r.Open(); len(open) > 0 {
		t.Errorf("open: %s", open[0].Told)
	}
	if wrong := r.Wrong(); len(wrong) > 0 {
		t.Errorf("wrong: %s", wrong[0].Told)
	}
	if text := textOf(r, SectionSafety); !strings.Contains(text, "nothing open that can hurt") || strings.Contains(text, "Do not run") {
		t.Error(text)
	}
}

// TestEverySubjectIsToldOnce: in one part of the report in full, with evidence.
func TestEverySubjectIsToldOnce(t *testing.T) {
	r := rig{machine: "missing: [knob]\nlimits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{
		on("2026-03-02", defects("leak", "the seal leaks", "drive"), check(brake, "fails"), reading("compression", "50 psi")),
		on("2026-03-03", repaired("leak", "how: new seal", proof), changes("bigger jet", "system: engine"), "meter: 12 h"),
	}}.judge(t)
	told := map[string]int{}
	for _, sec := range r.Sections {
		for _, st := range sec.Statements {
			if len(st.Evidence) == 0 {
				t.Errorf("%s rests on nothing: %s", sec.ID, st.Text)
			}
			for _, s := range st.Subjects {
				if s.Section() == sec.ID && !strings.HasPrefix(st.Text, "The shop did not say if") {
					told[s.ID]++
				}
			}
		}
	}
	ids := map[string]bool{}
	for _, s := range r.Subjects {
		if told[s.ID] != 1 {
			t.Errorf("%s is told %d times", s.ID, told[s.ID])
		}
		if ids[s.ID] {
			t.Errorf("the id %s stands twice", s.ID)
		}
		ids[s.ID] = true
		if s.Told == "" || strings.Contains(s.Told, "[") || strings.Contains(s.Told, "{") {
			t.Errorf("%s tells %q", s.ID, s.Told)
		}
	}
}

func TestAbsences(t *testing.T) {
	for _, tc := range []struct {
		name string
		rig
		kind  Kind
		which string
		of    string
		since logbook.Date
	}{
		{"never checked", rig{}, KindPoint, brake, NoCheck, ""},
		{"not since the work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("shoe", "system: brakes"))}}, KindPoint, brake, NoCheck, "2026-03-03"},
		{"no proof since the repair", rig{entries: []string{on("2026-03-02", defects("leak", "it leaks", "drive")), on("2026-03-03", repaired("leak", "how: new seal"))}}, KindDefect, "leak", NoProof, "2026-03-03"},
		{"no proof since the work", rig{entries: []string{on("2026-03-02", defects("leak", "it leaks", "drive")), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", part("belt", "system: drive"))}}, KindDefect, "leak", NoProof, "2026-03-04"},
		{"no reading since the work", rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("compression", "70 psi")), on("2026-03-03", part("gasket", "system: engine"))}}, KindMeasurement, "compression", NoReading, "2026-03-03"},
		{"no limit", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, KindMeasurement, "compression", NoLimitGiven, ""},
		{"no new part", rig{machine: "missing: [knob]"}, KindMissing, "knob", NoReplacement, ""},
		{"no list", rig{machine: "kind: cider press"}, KindList, "no list for this kind of machine", NoList, ""},
		{"nothing said of the meter", rig{}, KindMeter, "hour meter", NoStatement, ""},
		{"gone, and no point since", rig{entries: []string{on("2026-03-02", defects("leak", "it leaks", "brakes")), on("2026-03-03", part("drum", "system: brakes"), "gone: [{key: leak, with: drum}]")}}, KindDefect, "leak", NoCheck, "2026-03-03"},
		{"a failed point whose defect is proven", rig{entries: []string{on("2026-03-02", check(full, "fails"), defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, KindPoint, full, NoCheck, "2026-03-02"},
	} {
		s := find(t, tc.rig.judge(t), tc.kind, tc.which)
		if s.Absent == nil || s.Absent.Of != tc.of || s.Absent.Since != tc.since {
			t.Errorf("%s: the log is said to lack %+v, want %s since %q", tc.name, s.Absent, tc.of, tc.since)
		}
	}
	for _, tc := range []struct {
		name string
		rig
		kind  Kind
		which string
	}{
		{"a point in order", rig{entries: []string{on("2026-03-02", check(brake, "works"))}}, KindPoint, brake},
		{"a point that fails", rig{entries: []string{on("2026-03-02", check(brake, "fails"))}}, KindPoint, brake},
		{"a part put in", rig{machine: "missing: [knob]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, KindMissing, "knob"},
		{"a kind with a list", rig{}, KindList, "list of points"},
		{"a meter called right", rig{machine: "meter_true: yes"}, KindMeter, "hour meter"},
	} {
		if s := find(t, tc.rig.judge(t), tc.kind, tc.which); s.Absent != nil {
			t.Errorf("%s: the log is said to lack %+v", tc.name, s.Absent)
		}
	}
}

// Points that the same work made out of date are told together, those of another
// work by themselves.
func TestOvertakenTogether(t *testing.T) {
	r := rig{entries: []string{
		on("2026-03-01", check(brake, "works")), on("2026-03-02", check(stop, "works")), on("2026-03-02", check(guard, "works", "note: all bolts in")), on("2026-03-03", part("flap", "system: guards")), on("2026-03-04", part("brake shoe", "system: brakes")),
	}}.judge(t)
	var got []string
	for _, st := range r.Section(SectionSafety).Statements {
		if strings.Contains(st.Lead, "the log lists no check") || len(st.Items) == 0 {
			continue
		}
		got = append(got, st.Text)
		for _, it := range st.Items {
			if slices.Contains(it.Evidence, st.LeadEvidence) {
				t.Errorf("%s rests on the work again", it.Text)
			}
		}
		if st.LeadEvidence == (Evidence{}) || !slices.Contains(st.Evidence, st.LeadEvidence) {
			t.Errorf("%s does not rest on the work", st.Text)
		}
	}
	want := []string{
		"Flap put in (on March 3); no check in the log since: the blade stops at once (as it should be on March 2). the belt guard is on (as it should be on March 2: all bolts in).",
		"Brake shoe put in (on March 4); no check in the log since: the brake holds (as it should be on March 1).",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	// What each rests on, and what was before, goes with it.
	r = rig{entries: []string{
		on("2026-03-01", check(full, "fails")), on("2026-03-02", check(full, "works"), reading("governed speed", "3600 rpm")),
		on("2026-03-03", check("it runs smoothly", "works", "system: engine", "safety: yes")), on("2026-03-04", part("jet", "system: engine")),
	}}.judge(t)
	for _, st := range r.Section(SectionSafety).Statements {
		if len(st.Items) != 2 || strings.HasPrefix(st.Lead, "No check") {
			continue
		}
		if item := st.Items[0]; item.Text != "it reaches full speed (as it should be on March 2). Not so on March 1. Measured for this, with no limit to hold it against: governed speed. The log shows no work on the engine between." || !slices.Equal(filesOf(item.Evidence), []string{"machines/rig/e01.md", "machines/rig/e02.md"}) {
			t.Errorf("the first is told as %q, and rests on %v", item.Text, item.Evidence)
		}
		if all := filesOf(st.Evidence); !slices.Equal(all, slices.Compact(slices.Sorted(slices.Values(all)))) && len(all) != 4 {
			t.Errorf("both rest on %v", all)
		}
		return
	}
	t.Errorf("nothing is told together:\n%s", textOf(r, SectionSafety))
}

func TestTouchedTells(t *testing.T) {
	s := find(t, rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("shoe", "system: brakes"))}}.judge(t), KindPoint, brake)
	if w := s.Touched; w == nil || w.By != "shoe put in" || w.Entry.Date != "2026-03-03" || !slices.Equal(w.Systems, []string{"brakes"}) || w.Fault || w.Nowhere || w.SameDay {
		t.Errorf("touched by %+v", s.Touched)
	}
}

func TestGaps(t *testing.T) {
	for _, tc := range []struct {
		name string
		rig
		says, no string
	}{
		{"safety of a defect", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive"))}}, "can hurt someone: the seal leaks", ""},
		{"said", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"))}}, "", "can hurt someone"},
		{"said by its system", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards"))}}, "", "can hurt someone"},
		{"safety of a change", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine"))}}, "can hurt someone: bigger jet", "has no system"},
		{"system of a change", rig{entries: []string{on("2026-03-02", changes("bigger jet", "safety: no"))}}, "bigger jet\" has no system", ""},
		{"safety of a missing part", rig{machine: "missing: [knob]"}, "can hurt someone: knob", ""},
		{"a point of another system is no proof", rig{entries: []string{on("2026-03-02", defects("slow", "slow to full speed", "controls", "safety: no", "point: "+full))}}, "the point \"it reaches full speed\" of engine, so that the point works proves nothing", ""},
		{"one of its own is", rig{entries: []string{on("2026-03-02", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full))}}, "", "proves nothing"},
		{"system of a part", rig{entries: []string{on("2026-03-02", part("belt"))}}, "belt has no system", ""},
		{"of one not fitted nobody asks", rig{entries: []string{on("2026-03-02", part("belt", "fate: returned"))}}, "", "belt has no system"},
		{"time of two entries of a day", rig{entries: []string{on("2026-03-02"), at("2026-03-02", "18:00")}}, "has no time", ""},
		{"one of a day needs none", rig{entries: []string{on("2026-03-02"), on("2026-03-03")}}, "", "has no time"},
		{"the day of an entry that may be before another", rig{entries: []string{on("about 2026"), on("2026-03-03")}}, "may be before or after \"Evening 2\"", ""},
		{"a month that ends before it needs none", rig{entries: []string{on("2026-02"), on("2026-03-03")}}, "", "may be before"},
		{"nor one that begins after it", rig{entries: []string{on("2026-03-03"), on("2026-04")}}, "", "may be before"},
		{"of two of the same month", rig{entries: []string{on("2026-02"), on("2026-02")}}, "may be before or after \"Evening 2\"", ""},
		{"of a month in a year the year is asked for", rig{entries: []string{on("2026-02"), on("2026")}}, "may be before or after \"Evening 1\"", "may be before or after \"Evening 2\""},
		{"a limit that nothing uses", rig{machine: "limits: [{what: squeak, limit: \"<= 5 mm\"}]"}, "no reading uses the limit for squeak", ""},
		{"a limit nearly matched", rig{machine: "limits: [{what: compresion, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, "no reading uses the limit for compresion", ""},
		{"a limit that is used", rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, "", "no reading uses"},
		{"a limit of another place", rig{machine: "limits: [{what: compression, where: cylinder 2, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", reading("compression", "70 psi", "where: cylinder 1"))}}, "no reading uses", ""},
		{"a limit of a test", rig{machine: "limits: [{what: blade stopping time, limit: \"<= 3 s\"}]", entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]")}}, "", "no reading uses"},
		{"the limit of a reading that is a matter of safety", rig{entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, "governed speed is a matter of safety, and no limit", ""},
		{"of one that has its limit nobody asks", rig{machine: "limits: [{what: governed speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, "", "and no limit"},
		{"nor of one that cannot hurt", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, "", "and no limit"},
		{"nor where it is sold", rig{machine: "stage: sold\nsold: {date: 2026-04-01}", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, "", "and no limit"},
		{"affects: that names nothing", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "affects: [the brake hold]"))}}, "names \"the brake hold\"", ""},
		{"affects: that names something", rig{entries: []string{on("2026-03-02", part("belt", "system: drive", "affects: [the brake holds]"))}}, "", "names \""},
		{"a thing that the list does not know", rig{machine: "has: {revers: no}"}, "no point of the list depends on revers", ""},
		{"a thing that it knows", rig{machine: "has: {reverse: no}"}, "", "depends on"},
		{"a thing nearly known", rig{machine: "has: {revers: no}"}, "write reverse if that is what was meant", ""},
		{"no kind", rig{machine: "kind:"}, "does not say what kind of machine it is", "no list is for the kind"},
		{"a photo that nothing names", rig{photos: []string{"a.jpg", "b.jpg"}, entries: []string{on("2026-03-02", "photos: [{file: a.jpg, alt: a seal}]")}}, "photos/b.jpg: no entry names this photo", "photos/a.jpg: no entry"},
		{"a defect in order is not asked for", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive")), on("2026-03-03", repaired("leak", "how: new seal", "proof: dry for an hour"))}}, "", "can hurt someone"},
		{"safety of a point of the shop's own", rig{entries: []string{on("2026-03-02", check("the horn blows", "fails", "system: electrical"))}}, "can hurt someone: the horn blows", ""},
		{"safety of a point of the list", rig{entries: []string{on("2026-03-02", check(brake, "fails"))}}, "", "can hurt someone"},
		{"a point of the shop's own that is said", rig{entries: []string{on("2026-03-02", check("the horn blows", "fails", "system: electrical", "safety: no"))}}, "", "can hurt someone"},
		{"full scale for an accuracy", rig{entries: []string{on("2026-03-02", "measured: [{what: compression, value: 90 psi, gauge: 160 psi}]")}}, "the tool that read 90 psi for compression can be off by as much as 160 psi", ""},
		{"accuracy as large as the reading", rig{entries: []string{on("2026-03-02", "measured: [{what: compression, value: 90 psi, gauge: 90 psi}]")}}, "can be off by as much as 90 psi", ""},
		{"accuracy below the reading", rig{entries: []string{on("2026-03-02", "measured: [{what: compression, value: 90 psi, gauge: 89 psi}]")}}, "", "can be off by"},
		{"accuracy near nothing", rig{entries: []string{on("2026-03-02", "measured: [{what: voltage drop, value: 0 V, gauge: 0.1 V}]")}}, "", "can be off by"},
		{"accuracy of a temperature", rig{entries: []string{on("2026-03-02", "measured: [{what: head temperature, value: 1 degC, gauge: 2 degC}]")}}, "", "can be off by"},
		{"system of a reading", rig{entries: []string{on("2026-03-02", reading("wobble", "2 mm")), on("2026-03-03", reading("wobble", "3 mm"))}}, "wobble has no system, so any work at all", ""},
		{"said in another reading", rig{entries: []string{on("2026-03-02", reading("wobble", "2 mm")), on("2026-03-03", reading("wobble", "3 mm", "system: drive"))}}, "", "wobble has no system"},
		{"known by its name", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, "", "compression has no system"},
		{"answers: that name nothing", rig{entries: []string{on("2026-03-02", "service: [{what: engine oil, system: engine, answers: [it starts colt]}]")}}, "write it starts cold if that", ""},
		{"answers: that name something", rig{entries: []string{on("2026-03-02", "service: [{what: engine oil, system: engine, answers: [It starts cold]}]")}}, "", "answers: names"},
		{"a point of the shop's own that was said once", rig{entries: []string{on("2026-03-02", check("the horn blows", "fails", "system: electrical", "safety: yes")), on("2026-03-03", check("the horn blows", "fails"))}}, "", "can hurt someone"},
		{"a change by its key, in other words", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no")), on("2026-03-03", changes("much bigger jet", "key: jet", "system: engine"))}}, "can hurt someone: much bigger jet", ""},
		{"a change that is not open is not asked for, beside one that is", rig{entries: []string{on("2026-03-02", changes("stronger bracket", "system: engine", "adds: yes")), on("2026-03-03", check(full, "works")), on("2026-03-04", changes("wider seat", "system: frame"))}}, "can hurt someone: wider seat", "can hurt someone: stronger bracket"},
		{"answers: that name a defect", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), "service: [{what: engine oil, system: engine, answers: [the seal leaks]}]")}}, "answers: names \"the seal leaks\"", ""},
		{"a file that a dot hides", rig{photos: []string{".hidden.jpg"}}, ".hidden.jpg", ""},
		{"a thing of a list that depends on none", rig{sheet: oneLine, machine: "has: {reverse: no}"}, "nothing on this list depends on what the machine has", "which are"},
		{"a change without a key by what it is", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no"), "photos: []"), on("2026-03-03", changes("wider seat", "system: frame"))}}, "can hurt someone: wider seat", "can hurt someone: bigger jet"},
		{"a point nobody said it of beside one of the list", rig{entries: []string{on("2026-03-02", "checks: [{item: the horn blows, result: fails, system: electrical}, {item: the paint is whole, result: works}, {item: the bell rings, result: works, system: controls, safety: no}]")}}, "can hurt someone: the horn blows", "the bell rings"},
		{"a reading without a system is asked for once", rig{entries: []string{on("2026-03-02", reading("wobble", "2 mm")), on("2026-03-03", reading("wobble", "3 mm"))}}, "e01.md", "e02.md:3: measured[0]: wobble has no system"},
		{"answers: of a part that wears out", rig{entries: []string{on("2026-03-02", part("plug", "system: ignition", "consumable: yes", "answers: [it purrs]"))}}, "answers: names \"it purrs\"", ""},
		{"replaces: that names nothing", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("new nob", "system: controls", "replaces: nob"))}}, "write knob if that is what was meant", ""},
		{"replaces: that names something", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("new knob", "system: controls", "replaces: knob"))}}, "", "replaces: names"},
		{"a kind without a list that is like one keeps both ways", rig{machine: "kind: cider mill"}, "write one of these if it is that: milling machine; else write a sheet of your own in sheets/ with sheet: cider mill", ""},
		{"a kind without a list", rig{machine: "kind: cider press"}, "no list is for the kind \"cider press\"", ""},
		{"a kind with one", rig{}, "", "no list is for"},
		{"points not checked", rig{}, "the log lists no check of these safety points, or none since the last work on them: blade stop, belt guard", ""},
		{"a repair without a proof", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal"))}}, "the repair of leak has no proof", "this wording"},
		{"of one wording of two", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal")), on("2026-03-03", defects("leak", "a drop of oil", "drive", "safety: no"), repaired("leak", "how: wiped it", proof))}}, "the repair of leak has no proof for this wording: the seal leaks", "a drop of oil"},
		{"of a proof from before later work", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal", proof)), on("2026-03-03", part("belt", "system: drive"))}}, "no proof of the repair of leak is surely from after the last work there", "this wording"},
		{"and of one wording", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no"), repaired("leak", "how: new seal", proof)), on("2026-03-03", defects("leak", "a drop of oil", "drive", "safety: no"), repaired("leak", "how: wiped it", proof))}}, "is surely from after the last work there, for this wording: the seal leaks", ""},
		{"of the brakes a point has to pass", rig{entries: []string{on("2026-03-02", defects("shoe", "the shoe is worn", "brakes"), repaired("shoe", "how: new shoe", proof))}}, "no point of the brakes passed after the repair of shoe", "has no proof"},
		{"the one that the defect names, where it names one", rig{entries: []string{on("2026-03-02", defects("flap", "the flap is torn", "guards", "point: "+stop), repaired("flap", "how: new flap", proof), check(guard, "works"))}}, "the log does not show that this passed after the repair of flap, and the defect names it: the blade stops at once", "no point of the guards"},
		{"and again after later work", rig{entries: []string{on("2026-03-02", defects("shoe", "the shoe is worn", "brakes"), repaired("shoe", "how: new shoe", proof)), on("2026-03-03", check(brake, "works")), on("2026-03-04", part("rod", "system: brakes"))}}, "no point of the brakes passed since later work, after the repair of shoe", "has no proof"},
		{"an engine is known to every list that has something of one", rig{machine: "kind: hedge trimmer\nhas: {engine: no}"}, "", "no point of the list depends on engine"},
		{"nobody can check what is sold", rig{machine: "stage: sold\nsold: {date: 2026-04-01}"}, "", "no check of these"},
		{"nor what is parted out", rig{machine: "stage: parted out"}, "", "no check of these"},
		{"a repair without a proof", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no")), on("2026-03-03", repaired("leak", "how: new seal"))}}, "the repair of leak has no proof", ""},
		{"a reading without a gauge", rig{entries: []string{on("2026-03-02", reading("compression", "70 psi"))}}, "compression has no gauge", ""},
	} {
		r := tc.rig.judge(t)
		var all []string
		for _, p := range Gaps(&logbook.Shop{}, r, catalog.English) {
			all = append(all, p.String()+" / "+p.Mend)
		}
		text := strings.Join(all, "\n")
		if tc.says != "" && !strings.Contains(text, tc.says) || tc.no != "" && strings.Contains(text, tc.no) {
			t.Errorf("%s: want %q and not %q:\n%s", tc.name, tc.says, tc.no, text)
		}
	}
}

// Systems of the shop's own that may be meant for one another, or of which
// nobody knows what they are part of, are asked for.
func TestShopGaps(t *testing.T) {
	shop := &logbook.Shop{Systems: append(slices.Clone(logbook.Systems), "winch", "winsh", "hoist"), PartOf: map[string][]string{"winch": {"drive"}, "winsh": {"drive"}, "hoist": nil}}
	var all []string
	for _, p := range ShopGaps(shop, catalog.English) {
		all = append(all, p.Says+" / "+p.Mend)
	}
	want := []string{
		"the system winsh is one letter from the system winch / use winch if it is that, or give it a name of its own",
		"the system hoist is part of none, so work on it makes every earlier check out of date / say what it is part of, as in {name: hydrostatic, part_of: [drive]}",
	}
	if !slices.Equal(all, want) {
		t.Errorf("got %q", all)
	}
}

// TestNoneIsTold: a part of the front sheet without a line says that there is none, or
// none but what stands above it.
func TestNoneIsTold(t *testing.T) {
	shoe := defects("leak", "the shoe is worn", "brakes")
	drum := []string{on("2026-03-02", shoe), on("2026-03-03", part("drum", "system: brakes"), "gone: [{key: leak, with: drum}]")}
	for _, tc := range []struct {
		name string
		rig
		part, says string
	}{
		{"no repair", rig{entries: []string{on("2026-03-02", shoe)}}, "repaired", "No repair is in the log."},
		{"one that can hurt", rig{entries: []string{on("2026-03-02", shoe, repaired("leak", "how: new shoe", proof))}}, "repaired", "No repair but what is told above."},
		{"one that is worked around", rig{entries: []string{on("2026-03-02", shoe, "worked_around: [{key: leak, how: a wedge}]")}}, "repaired", "No repair but what is told above."},
		{"one that left with its part", rig{entries: drum}, "repaired", "No repair but what is told above."},
		{"no change", rig{entries: drum}, "changed", "No change is in the log."},
	} {
		for _, p := range tc.rig.judge(t).FrontParts(catalog.English) {
			if p.ID == tc.part && (len(p.Lines) > 0 || p.Empty != tc.says) {
				t.Errorf("%s: %q, %v", tc.name, p.Empty, p.Lines)
			}
		}
	}
}

// TestVerdicts holds what the table says of where a measurement stands.
func TestVerdicts(t *testing.T) {
	const limit = "limits: [{what: compression, limit: \">= 60 psi\", source: the maker's sheet}]"
	read := func(value string) string { return reading("compression", value, "system: engine", "gauge: 2 psi") }
	for says, entries := range map[string][]string{
		"outside":                              {on("2026-03-02", read("40 psi"))},
		"was outside, not surely inside since": {on("2026-03-02", read("40 psi")), on("2026-03-05", read("61 psi"))},
		"inside":                               {on("2026-03-02", read("40 psi")), on("2026-03-05", read("70 psi"))},
		"too close to call":                    {on("2026-03-02", read("61 psi"))},
		"inside, before later work":            {on("2026-03-02", read("70 psi")), on("2026-03-05", part("rings", "system: engine"))},
	} {
		r := rig{machine: limit, entries: entries}.judge(t)
		s := r.where(func(s *Subject) bool { return s.Kind == KindMeasurement })[0]
		if got := catalog.English.Say(s.VerdictKey()); got != says {
			t.Errorf("%s: the table says %q", says, got)
		}
	}
}
