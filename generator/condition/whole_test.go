package condition

import (
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/testenv"
)

// oneLine is a sheet with one point that is no safety matter, so that little
// else stands in the report.
const oneLine = "sheet: test rig\nitems:\n  - {item: the paint is whole, short: paint, system: frame, safety: no}"

// saidIn is what a part of the report says, or a part of the front sheet, each
// statement by itself.
func saidIn(r *Report, part string) []string {
	lines := map[string][]Line{
		"front hurt": r.Front.Hurt, "front wrong": r.Front.Wrong, "front repaired": r.Front.Repaired, "front changed": r.Front.Changed,
		"front unwritten": r.Front.Unwritten, "front look": r.Front.Look, "front hours": r.Front.Hours,
	}
	var all []string
	if of, front := lines[part]; front {
		for _, l := range of {
			all = append(all, l.Text)
		}
		return all
	}
	if id, notes := strings.CutPrefix(part, "notes "); notes {
		return r.Section(id).Notes
	}
	if part == "gaps" {
		for _, p := range Gaps(&logbook.Shop{}, r, catalog.English) {
			all = append(all, p.Says+" / "+p.Mend)
		}
		return all
	}
	for _, st := range r.Section(part).Statements {
		all = append(all, st.Text)
	}
	return all
}

// TestSaidWhole holds parts of the report against all that they have to say: no
// statement more, and none less. They stand in a golden file, to be read by a
// person after each change of words.
func TestSaidWhole(t *testing.T) {
	var b strings.Builder
	for _, tc := range wholes {
		b.WriteString("# " + tc.rule + " (" + tc.part + ")\n" + strings.Join(saidIn(tc.rig.judge(t), tc.part), "\n") + "\n\n")
	}
	testenv.Golden(t, "testdata/whole.golden", b.String())
}

type whole struct {
	rule string
	rig
	part string
}

// The logs of the rules below.
var (
	leak = defects("leak", "the seal leaks", "drive", "safety: no", "effect: it stops in an hour")
	many = rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{
		on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: rope frayed, system: engine, safety: no}, {key: c, defect: bulb out, system: electrical, safety: no}, {key: d, defect: lever bent, system: controls}, {key: e, defect: horn mute, system: electrical}]",
			"changed: [{key: j, what: bigger jet, system: engine, safety: no}, {key: k, what: bigger bulb, system: electrical, safety: no}, {key: w, what: wider seat, system: frame}]",
			"measured: [{what: compression, value: 70 psi}, {what: tread, value: 2 mm, system: tires}, {what: tire width, value: 9 in, system: tires}, {what: shoe, value: 3 mm, system: brakes}]",
			"checks: [{item: it starts cold, result: works}, {item: the belt guard is on, result: works}, {item: the brake holds, result: works}]", "meter: 412.6 h"),
		on("2026-03-03", "repaired: [{key: a, how: new seal, proof: ran an hour and held}, {key: b, how: new rope, proof: pulled it ten times}, {key: c, how: new bulb}]", "put_back: [{key: k, how: the old bulb}]"),
		on("2026-03-04", "parts: [{part: gasket, source: new, system: engine}, {part: flap, source: new, system: guards}]"),
	}}
)

var wholes = []whole{
	{"a defect tells its whole life in order", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak, "by: JM"), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no", "effect: a spot on the floor")), on("2026-03-06", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-07", leak)}}, "wrong"},
	{"a defect of two wordings has both on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak, "by: JM"), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no", "effect: a spot on the floor")), on("2026-03-06", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-07", leak)}}, "front wrong"},
	{"a proof of a later day has its day", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", repaired("leak", proof))}}, "repaired"},
	{"a proof of the same entry has none", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof))}}, "repaired"},
	{"a second proof has its day too", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", repaired("leak", "proof: ran two hours and held"))}}, "repaired"},
	{"a proof of what nobody repaired leaves it there", rig{sheet: oneLine, problems: true, entries: []string{on("2026-03-02", leak, repaired("leak", proof))}}, "wrong"},
	{"a point with a short note is told with it", rig{entries: []string{on("2026-03-02", check(guard, "fails", "note: two bolts are gone"))}}, "front hurt"},
	{"sixteen words are told", rig{entries: []string{on("2026-03-02", check(guard, "fails", "note: one two three four five six seven eight nine ten eleven"))}}, "front hurt"},
	{"seventeen are not", rig{entries: []string{on("2026-03-02", check(guard, "fails", "note: one two three four five six seven eight nine ten eleven twelve"))}}, "front hurt"},
	{"the note of an older failure is not told for a reading", rig{machine: "limits: [{what: governed speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", check(full, "works", "note: by ear")), on("2026-03-03", reading("governed speed", "3900 rpm", "gauge: 10 rpm"))}}, "front hurt"},
	{"a missing part is put in by its own name", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "changed"},
	{"or by another", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("round knob", "system: controls", "replaces: knob"))}}, "changed"},
	{"and taken out again", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("knob", "system: controls")), on("2026-03-03", part("knob", "system: controls", "fate: taken out again"))}}, "wrong"},
	{"or the other one", rig{machine: "missing: [{part: knob, safety: no}]", entries: []string{on("2026-03-02", part("round knob", "system: controls", "replaces: knob")), on("2026-03-03", part("round knob", "system: controls", "replaces: knob", "fate: taken out again"))}}, "wrong"},
	{"failures with their notes and what was before", rig{entries: []string{on("2026-03-01", check(guard, "fails", "note: it rattles")), on("2026-03-02", check(guard, "fails")), on("2026-03-03", check(brake, "fails", "note: rolls on"))}}, "safety"},
	{"a failure with work since is told by itself", rig{entries: []string{on("2026-03-01", check(guard, "fails")), on("2026-03-02", check(brake, "fails")), on("2026-03-03", part("shoe", "system: brakes"))}}, "safety"},
	{"what two readings say beside a point", rig{machine: "limits: [{what: governed speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", check(full, "works"), "measured: [{what: governed speed, where: a, value: 3600 rpm, gauge: 10 rpm}, {what: governed speed, where: b, value: 3650 rpm, gauge: 10 rpm}]"), on("2026-03-03", part("jet", "system: engine"))}}, "safety"},
	{"readings of one thing at two places are named once", rig{machine: "limits: [{what: compression, limit: \">= 60 psi\"}]", entries: []string{on("2026-03-02", "measured: [{what: compression, where: cylinder 1, value: 70 psi, gauge: 1 psi, system: engine}, {what: compression, where: cylinder 2, value: 71 psi, gauge: 1 psi, system: engine}]"), on("2026-03-03", part("gasket", "system: engine"))}}, "front unwritten"},
	{"a hint to look is for who may still buy", rig{entries: nil}, "front look"},
	{"what may hurt is named on the front sheet, each by itself", many, "front hurt"},
	{"what is wrong and cannot hurt is named together", many, "front wrong"},
	{"what was put right is named with its proof", many, "front repaired"},
	{"what was changed is named", many, "front changed"},
	{"what is not written down is named", many, "front unwritten"},
	{"the looks are those of open points and of guards", many, "front look"},
	{"the hours on it and since the last work", many, "front hours"},
	{"what is open is told from the gravest", many, "safety"},
	{"what is not proven is told among what is wrong", many, "wrong"},
	{"what is proven is told among the repairs", many, "repaired"},
	{"changes that cannot hurt are told among the changes", many, "changed"},
	{"readings that cannot hurt are told among the readings", many, "measured"},
	{"what is in order is told among that", many, "in-order"},
	{"what is out of date and cannot hurt is told there", many, "not-checked"},
	{"parts of an entry stand together", many, "hours"},
	{"the mechanic is asked for all that is left open", many, "gaps"},
	{"points of a day and a person stand together", rig{entries: []string{
		on("2026-03-01", check(brake, "fails", "note: it slipped"), "by: JM"),
		on("2026-03-02", "checks: [{item: the brake holds, result: works, note: on the ramp}, {item: the belt guard is on, result: works}, {item: it starts cold, result: works}]", "by: JM"),
		on("2026-03-03", check(stop, "works"), part("belt", "system: guards")),
		on("2026-03-04", check(tank, "works"), part("hose", "system: fuel"), "by: EP"),
	}}, "in-order"},
	{"a meter of which nothing is said on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours"},
	{"a meter of which nothing is said", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours"},
	{"a meter called right on the front sheet", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours"},
	{"a meter called right", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours"},
	{"a meter called wrong on the front sheet", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours"},
	{"a meter called wrong", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "wrong"},
	{"a meter not known to be right on the front sheet", rig{sheet: oneLine, machine: "meter_true: not known", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours"},
	{"a meter not known to be right", rig{sheet: oneLine, machine: "meter_true: not known", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours"},
	{"a meter called wrong is wrong on the front sheet", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front wrong"},
	{"a meter of which nothing is said is asked for", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "gaps"},
	{"one of which something is said is not", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "gaps"},
	{"without a meter nobody asks if it is right", rig{sheet: oneLine, entries: []string{on("2026-03-02")}}, "gaps"},
	{"a meter that was replaced adds up", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 412.6 h"), on("2026-03-03", "meter_replaced: {old: 413 h, new: 0 h}"), on("2026-03-04", "meter: 2 h")}}, "hours"},
	{"each part has what is known of it", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "parts: [{part: belt, number: B42, source: new, system: drive}, {part: bolt, qty: 4, source: on hand, system: drive}, {part: pin, source: used, system: drive}, {part: shaft, source: made, system: drive}, {part: pump, source: rebuilt, system: fuel, fate: returned}, {part: puller, source: new, fate: tool}]"),
		on("2026-03-02", part("nut", "system: drive"), "hours: [{from: \"18:00\", to: \"19:30\"}]"),
		on("2026-03-05", part("cap", "system: fuel"), "hours: [{from: \"18:00\", to: \"18:30\"}]"),
	}}, "hours"},
	{"a service has all that is known of it", rig{sheet: oneLine, entries: []string{on("2026-03-02", "service: [{what: engine oil, amount: 0.6 qt, grade: SAE 30, every: 50 h, system: engine, answers: [the paint is whole]}, {what: chain oil, amount: 1 oz, system: drive}, {what: greasing, system: drive}]")}}, "hours"},
	{"a service is told beside its point", rig{sheet: oneLine, entries: []string{on("2026-03-02", "service: [{what: engine oil, amount: 0.6 qt, grade: SAE 30, every: 50 h, system: engine, answers: [the paint is whole]}, {what: chain oil, amount: 1 oz, system: drive}, {what: greasing, system: drive}]")}}, "not-checked"},
	{"hours that the shop does not show", rig{sheet: oneLine, shop: "show: {hours: no}", entries: []string{on("2026-03-02", "hours: [{from: \"18:00\", to: \"19:30\"}]")}}, "hours"},
	{"what the law says stands under the terms of one for sale", rig{sheet: oneLine, machine: "stage: for sale", entries: []string{}}, "notes terms"},
	{"and of one that is sold", rig{sheet: oneLine, machine: "stage: sold\nsold: {date: 2026-04-01}", problems: true, entries: []string{}}, "notes terms"},
	{"and not of one that is kept", rig{sheet: oneLine, machine: "stage: keeping", entries: []string{}}, "notes terms"},
	{"the usual cautions stand also where nothing is open", rig{sheet: oneLine, machine: "stage: for sale", entries: []string{}}, "notes safety"},
	{"a kind has its caution", rig{machine: "kind: snow thrower"}, "notes safety"},
	{"a sheet of the shop has none", rig{sheet: "sheet: test rig\nitems:\n  - {item: it cuts, system: implement, safety: no}"}, "notes safety"},
	{"who wrote an entry stands beside it", rig{sheet: oneLine, entries: []string{on("2026-03-02", "title: First look", "by: JM"), on("2026-03-03", "title: Second look.")}}, "log"},
	{"a log of two years has the year of each day", rig{sheet: oneLine, problems: true, entries: []string{on("2025-12-30", "title: First look"), on("2026-03-03", "title: Second look")}}, "log"},
	{"what the machine does not have says so", rig{machine: "has: {reverse: no}"}, "not-checked"},
	{"and on the front sheet where it is a safety point", rig{machine: "has: {reverse: no}"}, "front hurt"},
	{"a point that was measured without a verdict says so", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2.9 s, gauge: 0.2 s}]", reading("governed speed", "3600 rpm"))}}, "safety"},
	{"and on the front sheet", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2.9 s, gauge: 0.2 s}]", reading("governed speed", "3600 rpm"))}}, "front hurt"},
	{"a reading has its place and state", rig{sheet: oneLine, entries: []string{on("2026-03-02", "measured: [{what: gap, where: left, state: cold, value: 1 mm, system: engine}, {what: gap, where: left, value: 1 mm, system: engine}, {what: gap, state: cold, value: 1 mm, system: engine}, {what: gap, value: 1 mm, system: engine}]")}}, "measured"},
	{"also on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", "measured: [{what: gap, where: left, state: cold, value: 1 mm, system: engine}, {what: gap, where: left, value: 1 mm, system: engine}, {what: gap, state: cold, value: 1 mm, system: engine}, {what: gap, value: 1 mm, system: engine}]")}}, "front unwritten"},
	{"what makes it safer is told as the shop's word", rig{entries: []string{on("2026-03-02", changes("stronger guard", "system: guards", "adds: yes"), check(guard, "works"))}}, "changed"},
	{"on the front sheet too", rig{entries: []string{on("2026-03-02", changes("stronger guard", "system: guards", "adds: yes"), check(guard, "works"))}}, "front changed"},
	{"a missing part that cannot hurt is wrong", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "wrong"},
	{"one put in is told with the changes", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "changed"},
	{"one of which safety is not said is open", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "safety"},
	{"missing parts on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front wrong"},
	{"parts put in on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front changed"},
	{"open missing parts on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front hurt"},
	{"a point written as not checked keeps its note", rig{entries: []string{on("2026-03-02", check(brake, "not checked", "note: no ramp here")), on("2026-03-03", check(tank, "works")), on("2026-03-04", check(tank, "not checked", "note: in a hurry"))}}, "safety"},
	{"not checked after a pass is told where it is noted", rig{entries: []string{on("2026-03-02", check(brake, "not checked", "note: no ramp here")), on("2026-03-03", check(tank, "works")), on("2026-03-04", check(tank, "not checked", "note: in a hurry"))}}, "in-order"},
	{"a consumable is told beside its point, another part is not", rig{entries: []string{on("2026-03-02", check(cold, "works"), "parts: [{part: plug, source: new, system: engine, consumable: yes, answers: [it starts cold]}]")}}, "in-order"},
	{"measured outside and then inside with no work between", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]"), on("2026-03-04", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]")}}, "in-order"},
	{"measured outside and then checked too", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]"), on("2026-03-04", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]", check(stop, "works"))}}, "in-order"},
	{"a kind that is nearly one with a list", rig{machine: "kind: snow throwr"}, "gaps"},
	{"a photo without words is asked for, a private one is not", rig{sheet: oneLine, photos: []string{"a.jpg", "b.jpg", "c.jpg"}, entries: []string{on("2026-03-02", "photos: [{file: a.jpg}, {file: b.jpg, private: yes}, {file: c.jpg, alt: a belt on a bench}]")}}, "gaps"},
	{"each affects: that names nothing is asked for", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: pump leaks, system: drive, safety: no}]", "changed: [{key: j, what: bigger jet, system: engine, safety: no, affects: [one thing]}]"),
		on("2026-03-03", "repaired: [{key: a, how: new seal, proof: ran an hour and held, affects: [two things]}]", "worked_around: [{key: b, how: topped up, affects: [three things]}]", "put_back: [{key: j, how: the old jet, affects: [four things]}]"),
	}}, "gaps"},
	{"and is a caution", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: pump leaks, system: drive, safety: no}]", "changed: [{key: j, what: bigger jet, system: engine, safety: no, affects: [one thing]}]"),
		on("2026-03-03", "repaired: [{key: a, how: new seal, proof: ran an hour and held, affects: [two things]}]", "worked_around: [{key: b, how: topped up, affects: [three things]}]", "put_back: [{key: j, how: the old jet, affects: [four things]}]"),
	}}, "notes safety"},
	{"each limit that nothing uses is asked for", rig{sheet: oneLine, machine: "limits: [{what: compresion, limit: \">= 60 psi\"}, {what: squeak, limit: \"<= 5 mm\"}, {what: gap, where: left, limit: \"<= 5 mm\"}, {what: blade stopping time, limit: \"<= 3 s\"}]", entries: []string{
		on("2026-03-02", "measured: [{what: compression, value: 70 psi, gauge: 1 psi}, {what: gap, value: 2 mm, where: left, system: engine, gauge: 0.1 mm}]", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]"),
	}}, "gaps"},
	{"each thing that the list does not know is asked for", rig{machine: "has: {revers: no, winch: no}"}, "gaps"},
	{"nothing left open asks for nothing", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "works"), leak)}}, "gaps"},
	{"only the entry without a time is asked for it", rig{sheet: oneLine, entries: []string{at("2026-03-02", "18:00", check("the paint is whole", "works")), on("2026-03-02")}}, "gaps"},
	{"a change said twice keeps its reason and its caution", rig{sheet: oneLine, entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: the maker's jet is not made", "caution: warm it up first")), on("2026-03-03", changes("bigger jet", "key: jet", "system: engine", "safety: no"))}}, "changed"},
	{"each change has its own reason", rig{sheet: oneLine, entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: the maker's jet is not made")), on("2026-03-03", changes("wider seat", "key: seat", "system: frame", "safety: no", "caution: it is heavy"))}}, "changed"},
	{"what stands the same is named together, what does not is not", rig{sheet: oneLine, entries: []string{on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: rope frayed, system: engine, safety: no}, {key: c, defect: bulb out, system: electrical, safety: no}]"), on("2026-03-03", "worked_around: [{key: b, how: a knot}]")}}, "front wrong"},
	{"a point of the shop's own has its whole name", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the bell rings", "not checked", "system: controls", "safety: yes"))}}, "front hurt"},
	{"a kind that is near none with a list", rig{machine: "kind: cider press"}, "gaps"},
	{"a limit that goes by the name of a test is used", rig{sheet: oneLine, machine: "limits: [{what: belt drive, limit: \"<= 4000 rpm\"}]", entries: []string{on("2026-03-02", check("the paint is whole", "works"), "tests: [{test: belt drive, rpm: 3600 rpm, driver: 3 in, driven: 6 in}]")}}, "gaps"},
	{"a kind that is near none", rig{machine: "kind: zzz"}, "gaps"},
	{"a machine without a meter has no hours", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: none")}}, "hours"},
	{"there is no list, and no list is named", rig{machine: "kind: cider press"}, "safety"},
	{"two answers of a day that are the same are told once", rig{sheet: "sheet: test rig\nitems:\n  - {item: the brake holds, short: brake, system: brakes, safety: yes}", entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-02", check(brake, "fails"))}}, "safety"},
	{"the words of a defect are made fit for a sentence", rig{sheet: oneLine, entries: []string{on("2026-03-02", "defects: [{key: leak, defect: \"the  seal leaks.\", system: drive, safety: no}]")}}, "wrong"},
	{"a point measured without a limit is not checked", rig{sheet: "sheet: test rig\nitems:\n  - {item: it is quiet, short: noise, system: engine, safety: no, answered_by: [noise]}", entries: []string{on("2026-03-02", reading("noise", "9 mm", "system: engine"))}}, "not-checked"},
	{"a point that fails and cannot hurt is wrong", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "fails"))}}, "wrong"},
	{"a check beside a reading without a limit", rig{entries: []string{on("2026-03-02", check(full, "works"), reading("governed speed", "3600 rpm"))}}, "in-order"},
	{"what was left out of the list stands once", rig{machine: "leave_out: [{item: the paint is whole, why: it never had any paint}]"}, "not-checked"},
	{"a part whose source nobody wrote counts as used", rig{sheet: oneLine, problems: true, entries: []string{on("2026-03-02", "parts: [{part: belt, system: drive}, {part: pin, source: salvaged, system: drive}]")}}, "hours"},
	{"a kind without a caution has none", rig{machine: "kind: bicycle"}, "notes safety"},
	{"other words found again are told as that", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-05", repaired("leak", "how: wiped it", proof)), on("2026-03-06", defects("leak", "a drop of oil", "drive", "safety: no"))}}, "wrong"},
	{"what was repaired and left in one entry is told as both", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal"), part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]")}}, "repaired"},
	{"a point that does not apply says who says so", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line"))}}, "not-checked"},
	{"a reading beside work of its entry", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]", part("belt", "system: guards"))}}, "in-order"},
	{"affects: that names a reading is known", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "works"), reading("compression", "70 psi", "gauge: 1 psi")), on("2026-03-03", part("belt", "system: drive", "affects: [compression]"))}}, "gaps"},
	{"a conclusion and after it a check", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", check(cold, "works"))}}, "front unwritten"},
	{"a conclusion and after it a reading", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", reading("compression", "70 psi"))}}, "front unwritten"},
	{"a conclusion and after it one that was not checked", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", check(cold, "not checked"))}}, "front unwritten"},
	{"a conclusion and after it a service", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", "service: [{what: engine oil, system: engine, answers: [it starts cold]}]")}}, "front unwritten"},
	{"a conclusion and a check of the same entry", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]", check(cold, "works"))}}, "front unwritten"},
}
