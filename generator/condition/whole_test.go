package condition

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
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
// statement more, and none less.
func TestSaidWhole(t *testing.T) {
	for _, tc := range wholes {
		t.Run(tc.rule, func(t *testing.T) {
			if got := saidIn(tc.rig.judge(t), tc.part); !slices.Equal(got, tc.want) {
				t.Errorf("%s says\n%s\nwant\n%s", tc.part, strings.Join(got, "\n"), strings.Join(tc.want, "\n"))
			}
		})
	}
}

type whole struct {
	rule string
	rig
	part string
	want []string
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
	{"a defect tells its whole life in order", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak, "by: JM"), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no", "effect: a spot on the floor")), on("2026-03-06", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-07", leak)}}, "wrong", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. Proof: ran an hour and held. Found again on March 5, in other words: a drop of oil. Worked around on March 6, not repaired: top it up. Found again on March 7. What it does: a spot on the floor. Still there.",
	}},
	{"a defect of two wordings has both on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak, "by: JM"), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no", "effect: a spot on the floor")), on("2026-03-06", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-07", leak)}}, "front wrong", []string{
		"Still there: the seal leaks (also written as a drop of oil).",
	}},
	{"a proof of a later day has its day", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", repaired("leak", proof))}}, "repaired", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. Proof, on March 4: ran an hour and held.",
	}},
	{"a proof of the same entry has none", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof))}}, "repaired", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. Proof: ran an hour and held.",
	}},
	{"a second proof has its day too", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", repaired("leak", "proof: ran two hours and held"))}}, "repaired", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. Proof: ran an hour and held. Proof, on March 4: ran two hours and held.",
	}},
	{"a proof of what nobody repaired leaves it there", rig{sheet: oneLine, problems: true, entries: []string{on("2026-03-02", leak, repaired("leak", proof))}}, "wrong", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Proof, on March 2: ran an hour and held. Still there.",
	}},
	{"what may hurt is named on the front sheet, each by itself", many, "front hurt", []string{
		"Shoe: measured, with no limit to hold it against.",
		"Lever bent: still there.",
		"Horn mute: still there.",
		"Wider seat: changed by the shop.",
		"The log lists no check of these: guards: blade stop; engine: full speed; fuel: tank; drive: reverse stop.",
		"Checked before later work there, and not since: guards: belt guard.",
		"The shop did not say if these can hurt someone: lever bent; horn mute; wider seat.",
	}},
	{"what is wrong and cannot hurt is named together", many, "front wrong", []string{
		"Repaired, and the log shows no proof: bulb out.",
	}},
	{"what was put right is named with its proof", many, "front repaired", []string{
		"Repaired and proven, with later work there: rope frayed.",
		"Repaired, with proof: seal leaks.",
	}},
	{"what was changed is named", many, "front changed", []string{
		"Changed by the shop: bigger jet.",
		"Changed, and put back: bigger bulb.",
	}},
	{"what is not written down is named", many, "front unwritten", []string{
		"The log lists no check of these: drive: reverse; frame: paint.",
		"Checked before later work there, and not since: engine: cold start.",
		"Measured before later work, and not since: compression.",
		"Measured, with no limit to hold it against: tread; tire width.",
	}},
	{"the looks are those of open points and of guards", many, "front look", []string{
		"Look at the belt from behind.",
		"Watch from far off.",
	}},
	{"the hours on it and since the last work", many, "front hours", []string{
		"The meter reads 412.6 h; the shop does not say if that is right.",
		"How long it ran since the last work on the engine (on March 4) is not written down.",
	}},
	{"what is open is told from the gravest", many, "safety", []string{
		"Not checked since later work: the belt guard is on. As it should be on March 2. Flap was put in (on March 4). The log lists no check since.",
		"The log lists no check of this: the blade stops at once.",
		"The log lists no check of this: it reaches full speed.",
		"The log lists no check of this: the tank does not leak.",
		"The log lists no check of this: reverse stops.",
		"Shoe: measured, with no limit to hold it against.",
		"Lever bent. Found on March 2. Still there.",
		"Horn mute. Found on March 2. Still there.",
		"Wider seat. Changed on March 2.",
		"The shop did not say if these can hurt someone: lever bent; horn mute; wider seat.",
	}},
	{"what is not proven is told among what is wrong", many, "wrong", []string{
		"Bulb out. Found on March 2. Repaired on March 3: new bulb. The log shows no proof that this holds.",
	}},
	{"what is proven is told among the repairs", many, "repaired", []string{
		"Seal leaks. Found on March 2. Repaired on March 3: new seal. Proof: ran an hour and held.",
	}},
	{"changes that cannot hurt are told among the changes", many, "changed", []string{
		"Bigger jet. Changed on March 2.",
		"Bigger bulb. Changed on March 2. Put back on March 3: the old bulb.",
	}},
	{"readings that cannot hurt are told among the readings", many, "measured", []string{
		"Compression: inside its limit, before later work. Work there and this reading stand in the same entry. A repair was made: new rope (on March 3). The log lists no reading since.",
		"Tread: measured, with no limit to hold it against.",
		"Tire width: measured, with no limit to hold it against.",
	}},
	{"what is in order is told among that", many, "in-order", []string{
		"Looked at on March 2: the brake holds.",
	}},
	{"what is out of date and cannot hurt is told there", many, "not-checked", []string{
		"The points come from these lists: test rig.",
		"Rope frayed. Found on March 2. Repaired on March 3: new rope. Proof: pulled it ten times. Gasket was put in (on March 4). The log lists no proof since.",
		"Not checked since later work: it starts cold. As it should be on March 2. A repair was made: new rope (on March 3). The log lists no check since.",
		"The log lists no check of this: reverse works.",
		"The log lists no check of this: the paint is whole.",
	}},
	{"parts of an entry stand together", many, "hours", []string{
		"The hour meter read 412.6 h on March 2. The shop does not say if that is right.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran since the last work on it, on March 4.",
		"Parts on March 4: Gasket: new. Flap: new.",
	}},
	{"the mechanic is asked for all that is left open", many, "gaps", []string{
		"the shop does not say if the hour meter is right / add meter_true: yes, no or not known to machine.md",
		"the repair of c has no proof / add proof: with what showed that it holds, here or in a later entry",
		"these safety points are not checked since the last work on them: blade stop, belt guard, full speed, tank, reverse stop / answer them under checks: in an entry",
		"these points are not checked since the last work on them: cold start, reverse, paint / answer them under checks: in an entry",
		"the log does not say if this can hurt someone: lever bent / add safety: yes or safety: no",
		"the log does not say if this can hurt someone: horn mute / add safety: yes or safety: no",
		"the log does not say if this can hurt someone: wider seat / add safety: yes or safety: no",
		"compression has no gauge:, so the report says that nobody knows how exact it is / add gauge: with the tool's accuracy",
		"tread has no gauge:, so the report says that nobody knows how exact it is / add gauge: with the tool's accuracy",
		"tire width has no gauge:, so the report says that nobody knows how exact it is / add gauge: with the tool's accuracy",
		"shoe has no gauge:, so the report says that nobody knows how exact it is / add gauge: with the tool's accuracy",
	}},
	{"points of a day and a person stand together", rig{entries: []string{
		on("2026-03-01", check(brake, "fails", "note: it slipped"), "by: JM"),
		on("2026-03-02", "checks: [{item: the brake holds, result: works, note: on the ramp}, {item: the belt guard is on, result: works}, {item: it starts cold, result: works}]", "by: JM"),
		on("2026-03-03", check(stop, "works"), part("belt", "system: guards")),
		on("2026-03-04", check(tank, "works"), part("hose", "system: fuel"), "by: EP"),
	}}, "in-order", []string{
		"Looked at on March 3, with work there in the same entry: the blade stops at once.",
		"Looked at on March 2, by JM: the brake holds (on the ramp). Not so on March 1: it slipped. The log shows no work on the brakes between. it starts cold.",
		"Looked at on March 4, by EP, with work there in the same entry: the tank does not leak.",
	}},
	{"a meter of which nothing is said on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours", []string{
		"The meter reads 412.6 h; the shop does not say if that is right.",
		"How long it ran is not written down.",
	}},
	{"a meter of which nothing is said", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours", []string{
		"The hour meter read 412.6 h on March 4. The shop does not say if that is right.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"a meter called right on the front sheet", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours", []string{
		"The meter reads 412.6 h, and the shop says that is right.",
		"How long it ran is not written down.",
	}},
	{"a meter called right", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours", []string{
		"The hour meter read 412.6 h on March 4. The shop says that this is right.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"a meter called wrong on the front sheet", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours", []string{
		"The meter reads 412.6 h, and the shop says that is not right.",
		"How long it ran is not written down.",
	}},
	{"a meter called wrong", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "wrong", []string{
		"The hour meter read 412.6 h on March 4. The shop says that this is not right.",
	}},
	{"a meter not known to be right on the front sheet", rig{sheet: oneLine, machine: "meter_true: not known", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front hours", []string{
		"The meter reads 412.6 h; the shop does not know if that is right.",
		"How long it ran is not written down.",
	}},
	{"a meter not known to be right", rig{sheet: oneLine, machine: "meter_true: not known", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "hours", []string{
		"The hour meter read 412.6 h on March 4. The shop says that it does not know if this is right.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"a meter called wrong is wrong on the front sheet", rig{sheet: oneLine, machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "front wrong", []string{
		"The shop says that it does not read right: hour meter.",
	}},
	{"a meter of which nothing is said is asked for", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "gaps", []string{
		"the shop does not say if the hour meter is right / add meter_true: yes, no or not known to machine.md",
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
	}},
	{"one of which something is said is not", rig{sheet: oneLine, machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 410 h"), on("2026-03-04", "meter: 412.6 h")}}, "gaps", []string{
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
	}},
	{"without a meter nobody asks if it is right", rig{sheet: oneLine, entries: []string{on("2026-03-02")}}, "gaps", []string{
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
	}},
	{"a meter that was replaced adds up", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: 412.6 h"), on("2026-03-03", "meter_replaced: {old: 413 h, new: 0 h}"), on("2026-03-04", "meter: 2 h")}}, "hours", []string{
		"The hour meter was replaced. The hours on the old one and the new one add up to 415 h. The shop does not say if that is right.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"each part has what is known of it", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "parts: [{part: belt, number: B42, source: new, system: drive}, {part: bolt, qty: 4, source: on hand, system: drive}, {part: pin, source: used, system: drive}, {part: shaft, source: made, system: drive}, {part: pump, source: rebuilt, system: fuel, fate: returned}, {part: puller, source: new, fate: tool}]"),
		on("2026-03-02", part("nut", "system: drive"), "hours: [{from: \"18:00\", to: \"19:30\"}]"),
		on("2026-03-05", part("cap", "system: fuel"), "hours: [{from: \"18:00\", to: \"18:30\"}]"),
	}}, "hours", []string{
		"The true hours on this machine are not known.",
		"Work put into it: 2 h.",
		"The log does not say how long the engine ran since the last work on it, on March 5.",
		"Parts on March 2: Belt, number B42: new. 4 bolt: on hand. Pin: used. Shaft: made here. Pump: went back to the seller. Puller: bought as a tool.",
		"Parts on March 2: Nut: new.",
		"Parts on March 5: Cap: new.",
	}},
	{"a service has all that is known of it", rig{sheet: oneLine, entries: []string{on("2026-03-02", "service: [{what: engine oil, amount: 0.6 qt, grade: SAE 30, every: 50 h, system: engine, answers: [the paint is whole]}, {what: chain oil, amount: 1 oz, system: drive}, {what: greasing, system: drive}]")}}, "hours", []string{
		"The true hours on this machine are not known.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
		"Engine oil: service done on March 2. Used: 0.6 qt, SAE 30. Due each 50 h. The shop says that it speaks to these points: the paint is whole.",
		"Chain oil: service done on March 2. Used: 1 oz.",
		"Greasing: service done on March 2.",
	}},
	{"a service is told beside its point", rig{sheet: oneLine, entries: []string{on("2026-03-02", "service: [{what: engine oil, amount: 0.6 qt, grade: SAE 30, every: 50 h, system: engine, answers: [the paint is whole]}, {what: chain oil, amount: 1 oz, system: drive}, {what: greasing, system: drive}]")}}, "not-checked", []string{
		"The points come from these lists: test rig.",
		"The log lists no check of this: the paint is whole. The shop says that its service on March 2 speaks to this: engine oil.",
	}},
	{"hours that the shop does not show", rig{sheet: oneLine, shop: "show: {hours: no}", entries: []string{on("2026-03-02", "hours: [{from: \"18:00\", to: \"19:30\"}]")}}, "hours", []string{
		"The true hours on this machine are not known.",
		"The shop does not show how long it worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"what the law says stands under the terms of one for sale", rig{sheet: oneLine, machine: "stage: for sale", entries: []string{}}, "notes terms", []string{
		"Where you live, the law may give a buyer rights that no paper takes away.",
		"What the shop states here it takes from its own log. It does not state what the log does not hold.",
	}},
	{"and of one that is sold", rig{sheet: oneLine, machine: "stage: sold\nsold: {date: 2026-04-01}", problems: true, entries: []string{}}, "notes terms", []string{
		"Where you live, the law may give a buyer rights that no paper takes away.",
		"What the shop states here it takes from its own log. It does not state what the log does not hold.",
	}},
	{"and not of one that is kept", rig{sheet: oneLine, machine: "stage: keeping", entries: []string{}}, "notes terms", nil},
	{"the usual cautions stand also where nothing is open", rig{sheet: oneLine, machine: "stage: for sale", entries: []string{}}, "notes safety", []string{
		"Read the maker's manual before you run it or work on it. Follow the rules where you live. Ask a licensed technician where you are not sure.",
		"This report is no proof that the machine is safe. It says what the shop wrote in its log, and no more.",
	}},
	{"a kind has its caution", rig{machine: "kind: snow thrower"}, "notes safety", []string{
		"Do not run the machine until each point above is put right.",
		"An auger can take a hand, even with the engine off. Never clear the chute by hand. Stop the engine, wait, and use a stick.",
		"Read the maker's manual before you run it or work on it. Follow the rules where you live. Ask a licensed technician where you are not sure.",
		"This report is no proof that the machine is safe. It says what the shop wrote in its log, and no more.",
	}},
	{"a sheet of the shop has none", rig{sheet: "sheet: test rig\nitems:\n  - {item: it cuts, system: implement, safety: no}"}, "notes safety", []string{
		"Read the maker's manual before you run it or work on it. Follow the rules where you live. Ask a licensed technician where you are not sure.",
		"This report is no proof that the machine is safe. It says what the shop wrote in its log, and no more.",
	}},
	{"who wrote an entry stands beside it", rig{sheet: oneLine, entries: []string{on("2026-03-02", "title: First look", "by: JM"), on("2026-03-03", "title: Second look.")}}, "log", []string{
		"March 2: First look, by JM.",
		"March 3: Second look.",
	}},
	{"a log of two years has the year of each day", rig{sheet: oneLine, problems: true, entries: []string{on("2025-12-30", "title: First look"), on("2026-03-03", "title: Second look")}}, "log", []string{
		"December 30, 2025: First look.",
		"March 3, 2026: Second look.",
	}},
	{"what the machine does not have says so", rig{machine: "has: {reverse: no}"}, "not-checked", []string{
		"The points come from these lists: test rig.",
		"Does not apply: reverse stops. The shop says that the machine does not have this: reverse.",
		"The log lists no check of this: it starts cold.",
		"The log lists no check of this: the paint is whole.",
		"Does not apply: reverse works. The shop says that the machine does not have this: reverse.",
	}},
	{"and on the front sheet where it is a safety point", rig{machine: "has: {reverse: no}"}, "front hurt", []string{
		"The log lists no check of these: guards: blade stop and belt guard; brakes: brake; engine: full speed; fuel: tank.",
		"The shop says the machine does not have this: reverse. So this does not apply: reverse stops.",
	}},
	{"a point that was measured without a verdict says so", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2.9 s, gauge: 0.2 s}]", reading("governed speed", "3600 rpm"))}}, "safety", []string{
		"Answered by what was measured: the blade stops at once. Blade stopping time: too close to its limit to call.",
		"Blade stopping time: too close to its limit to call.",
		"The log lists no check of this: the belt guard is on.",
		"The log lists no check of this: the brake holds.",
		"The log lists no check of this: the tank does not leak.",
		"The log lists no check of this: reverse stops.",
		"Answered by what was measured: it reaches full speed. Governed speed: measured, with no limit to hold it against.",
		"Governed speed: measured, with no limit to hold it against.",
	}},
	{"and on the front sheet", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2.9 s, gauge: 0.2 s}]", reading("governed speed", "3600 rpm"))}}, "front hurt", []string{
		"The blade stops at once: measured, too close to call.",
		"Blade stopping time: measured, too close to its limit to call.",
		"It reaches full speed: measured, with no limit.",
		"Governed speed: measured, with no limit to hold it against.",
		"The log lists no check of these: guards: belt guard; brakes: brake; fuel: tank; drive: reverse stop.",
	}},
	{"a reading has its place and state", rig{sheet: oneLine, entries: []string{on("2026-03-02", "measured: [{what: gap, where: left, state: cold, value: 1 mm, system: engine}, {what: gap, where: left, value: 1 mm, system: engine}, {what: gap, state: cold, value: 1 mm, system: engine}, {what: gap, value: 1 mm, system: engine}]")}}, "measured", []string{
		"Gap, left (cold): measured, with no limit to hold it against.",
		"Gap, left: measured, with no limit to hold it against.",
		"Gap (cold): measured, with no limit to hold it against.",
		"Gap: measured, with no limit to hold it against.",
	}},
	{"also on the front sheet", rig{sheet: oneLine, entries: []string{on("2026-03-02", "measured: [{what: gap, where: left, state: cold, value: 1 mm, system: engine}, {what: gap, where: left, value: 1 mm, system: engine}, {what: gap, state: cold, value: 1 mm, system: engine}, {what: gap, value: 1 mm, system: engine}]")}}, "front unwritten", []string{
		"The log lists no check of these: frame: paint.",
		"Measured, with no limit to hold it against: gap, left (cold); gap, left; gap (cold); gap.",
	}},
	{"what makes it safer is told as the shop's word", rig{entries: []string{on("2026-03-02", changes("stronger guard", "system: guards", "adds: yes"), check(guard, "works"))}}, "changed", []string{
		"Stronger guard. Changed on March 2. The shop says that this makes it safer.",
	}},
	{"on the front sheet too", rig{entries: []string{on("2026-03-02", changes("stronger guard", "system: guards", "adds: yes"), check(guard, "works"))}}, "front changed", []string{
		"Added by the shop, to make it safer, it says: stronger guard.",
	}},
	{"a missing part that cannot hurt is wrong", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "wrong", []string{
		"Missing on arrival: cap. The log does not show a new one.",
	}},
	{"one put in is told with the changes", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "changed", []string{
		"Missing on arrival: knob. This was put in on March 2: knob.",
	}},
	{"one of which safety is not said is open", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "safety", []string{
		"Missing on arrival: skid. The log does not show a new one.",
		"The shop did not say if these can hurt someone: skid.",
	}},
	{"missing parts on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front wrong", []string{
		"Missing: cap.",
	}},
	{"parts put in on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front changed", []string{
		"Missing on arrival, put in since: knob.",
	}},
	{"open missing parts on the front sheet", rig{sheet: oneLine, machine: "missing: [{part: knob, safety: no}, {part: cap, safety: no}, skid]", entries: []string{on("2026-03-02", part("knob", "system: controls"))}}, "front hurt", []string{
		"Skid: missing.",
		"The shop did not say if these can hurt someone: skid.",
	}},
	{"a point written as not checked keeps its note", rig{entries: []string{on("2026-03-02", check(brake, "not checked", "note: no ramp here")), on("2026-03-03", check(tank, "works")), on("2026-03-04", check(tank, "not checked", "note: in a hurry"))}}, "safety", []string{
		"The log lists no check of these points of the guards: the blade stops at once; the belt guard is on.",
		"The log lists no check of this: the brake holds. Written as not checked on March 2: no ramp here.",
		"The log lists no check of this: it reaches full speed.",
		"The log lists no check of this: reverse stops.",
	}},
	{"not checked after a pass is not told", rig{entries: []string{on("2026-03-02", check(brake, "not checked", "note: no ramp here")), on("2026-03-03", check(tank, "works")), on("2026-03-04", check(tank, "not checked", "note: in a hurry"))}}, "in-order", []string{
		"Looked at on March 3: the tank does not leak.",
	}},
	{"a consumable is told beside its point, another part is not", rig{entries: []string{on("2026-03-02", check(cold, "works"), "parts: [{part: plug, source: new, system: engine, consumable: yes, answers: [it starts cold]}]")}}, "in-order", []string{
		"Looked at on March 2: it starts cold. The shop says that its service on March 2 speaks to this: plug.",
	}},
	{"measured outside and then inside with no work between", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]"), on("2026-03-04", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]")}}, "in-order", []string{
		"As it should be: the blade stops at once. Blade stopping time: inside its limit. Not so on March 2. As it should be on March 4. The log shows no work on the guards between.",
	}},
	{"measured outside and then checked too", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]"), on("2026-03-04", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]", check(stop, "works"))}}, "in-order", []string{
		"Looked at on March 4: the blade stops at once. Not so on March 2. As it should be on March 4. The log shows no work on the guards between.",
	}},
	{"a kind that is nearly one with a list", rig{machine: "kind: snow throwr"}, "gaps", []string{
		"no list is for the kind \"snow throwr\", so the report says that there is none, and uses the general one / write one of these if it is that: snow thrower",
	}},
	{"a photo without words is asked for, a private one is not", rig{sheet: oneLine, photos: []string{"a.jpg", "b.jpg", "c.jpg"}, entries: []string{on("2026-03-02", "photos: [{file: a.jpg}, {file: b.jpg, private: yes}, {file: c.jpg, alt: a belt on a bench}]")}}, "gaps", []string{
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
		"the photo a.jpg has no alt: text, so some readers cannot know what it shows / say in alt: what there is to see",
	}},
	{"each affects: that names nothing is asked for", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: pump leaks, system: drive, safety: no}]", "changed: [{key: j, what: bigger jet, system: engine, safety: no, affects: [one thing]}]"),
		on("2026-03-03", "repaired: [{key: a, how: new seal, proof: ran an hour and held, affects: [two things]}]", "worked_around: [{key: b, how: topped up, affects: [three things]}]", "put_back: [{key: j, how: the old jet, affects: [four things]}]"),
	}}, "gaps", []string{
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
		"affects: names \"one thing\", which is no system, point or reading of this machine / write it as the list or the reading has it (nearest: )",
		"affects: names \"two things\", which is no system, point or reading of this machine / write it as the list or the reading has it (nearest: )",
		"affects: names \"three things\", which is no system, point or reading of this machine / write it as the list or the reading has it (nearest: )",
		"affects: names \"four things\", which is no system, point or reading of this machine / write it as the list or the reading has it (nearest: )",
	}},
	{"and is a caution", rig{sheet: oneLine, entries: []string{
		on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: pump leaks, system: drive, safety: no}]", "changed: [{key: j, what: bigger jet, system: engine, safety: no, affects: [one thing]}]"),
		on("2026-03-03", "repaired: [{key: a, how: new seal, proof: ran an hour and held, affects: [two things]}]", "worked_around: [{key: b, how: topped up, affects: [three things]}]", "put_back: [{key: j, how: the old jet, affects: [four things]}]"),
	}}, "notes safety", []string{
		"A change was made: bigger jet. The log says that this changes something that the report does not know: one thing.",
		"A repair was made: new seal. The log says that this changes something that the report does not know: two things.",
		"A fault was worked around: topped up. The log says that this changes something that the report does not know: three things.",
		"A change was put back: the old jet. The log says that this changes something that the report does not know: four things.",
		"Read the maker's manual before you run it or work on it. Follow the rules where you live. Ask a licensed technician where you are not sure.",
		"This report is no proof that the machine is safe. It says what the shop wrote in its log, and no more.",
	}},
	{"each limit that nothing uses is asked for", rig{sheet: oneLine, machine: "limits: [{what: compresion, limit: \">= 60 psi\"}, {what: squeak, limit: \"<= 5 mm\"}, {what: gap, where: left, limit: \"<= 5 mm\"}, {what: blade stopping time, limit: \"<= 3 s\"}]", entries: []string{
		on("2026-03-02", "measured: [{what: compression, value: 70 psi, gauge: 1 psi}, {what: gap, value: 2 mm, where: left, system: engine, gauge: 0.1 mm}]", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s}]"),
	}}, "gaps", []string{
		"no reading uses the limit for compresion / write compression if that is what it is for",
		"no reading uses the limit for squeak / write what: as the readings have it, or take the limit out",
		"these points are not checked since the last work on them: paint / answer them under checks: in an entry",
	}},
	{"each thing that the list does not know is asked for", rig{machine: "has: {revers: no, winch: no}"}, "gaps", []string{
		"no point of the list depends on revers / write it as the list has it: reverse",
		"no point of the list depends on winch / write it as the list has it: reverse",
		"these safety points are not checked since the last work on them: blade stop, belt guard, brake, full speed, tank, reverse stop / answer them under checks: in an entry",
		"these points are not checked since the last work on them: cold start, reverse, paint / answer them under checks: in an entry",
	}},
	{"nothing left open asks for nothing", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "works"), leak)}}, "gaps", nil},
	{"only the entry without a time is asked for it", rig{sheet: oneLine, entries: []string{at("2026-03-02", "18:00", check("the paint is whole", "works")), on("2026-03-02")}}, "gaps", []string{
		"two entries are of this day, and this one has no time, so nobody can tell which came first / add time: with the time of day, such as time: \"18:30\"",
	}},
	{"a change said twice keeps its reason and its caution", rig{sheet: oneLine, entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: the maker's jet is not made", "caution: warm it up first")), on("2026-03-03", changes("bigger jet", "key: jet", "system: engine", "safety: no"))}}, "changed", []string{
		"Bigger jet, for this: the maker's jet is not made. Changed on March 2. Changed on March 3. Take care: warm it up first.",
	}},
	{"each change has its own reason", rig{sheet: oneLine, entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine", "safety: no", "why: the maker's jet is not made")), on("2026-03-03", changes("wider seat", "key: seat", "system: frame", "safety: no", "caution: it is heavy"))}}, "changed", []string{
		"Bigger jet, for this: the maker's jet is not made. Changed on March 2.",
		"Wider seat. Changed on March 3. Take care: it is heavy.",
	}},
	{"what stands the same is named together, what does not is not", rig{sheet: oneLine, entries: []string{on("2026-03-02", "defects: [{key: a, defect: seal leaks, system: drive, safety: no}, {key: b, defect: rope frayed, system: engine, safety: no}, {key: c, defect: bulb out, system: electrical, safety: no}]"), on("2026-03-03", "worked_around: [{key: b, how: a knot}]")}}, "front wrong", []string{
		"Still there: seal leaks; bulb out.",
		"Worked around, not repaired: rope frayed.",
	}},
	{"a point of the shop's own has its whole name", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the bell rings", "not checked", "system: controls", "safety: yes"))}}, "front hurt", []string{
		"The log lists no check of these: controls: the bell rings.",
	}},
	{"a kind that is near none with a list", rig{machine: "kind: cider press"}, "gaps", []string{
		"no list is for the kind \"cider press\", so the report says that there is none, and uses the general one / write one of these if it is that: drill press",
	}},
	{"a limit that goes by the name of a test is used", rig{sheet: oneLine, machine: "limits: [{what: belt drive, limit: \"<= 4000 rpm\"}]", entries: []string{on("2026-03-02", check("the paint is whole", "works"), "tests: [{test: belt drive, rpm: 3600 rpm, driver: 3 in, driven: 6 in}]")}}, "gaps", nil},
	{"a kind that is near none", rig{machine: "kind: zzz"}, "gaps", []string{
		"no list is for the kind \"zzz\", so the report says that there is none, and uses the general one / write another kind, or a sheet of your own in sheets/ with sheet: zzz",
	}},
	{"a machine without a meter has no hours", rig{sheet: oneLine, entries: []string{on("2026-03-02", "meter: none")}}, "hours", []string{
		"The true hours on this machine are not known.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
	}},
	{"there is no list, and no list is named", rig{machine: "kind: cider press"}, "safety", []string{
		"There is no list for this kind of machine. The log cannot show what was left out.",
	}},
	{"two answers of a day that are the same are told once", rig{sheet: "sheet: test rig\nitems:\n  - {item: the brake holds, short: brake, system: brakes, safety: yes}", entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-02", check(brake, "fails"))}}, "safety", []string{
		"Not so: the brake holds. Not so on March 2.",
	}},
	{"the words of a defect are made fit for a sentence", rig{sheet: oneLine, entries: []string{on("2026-03-02", "defects: [{key: leak, defect: \"the  seal leaks.\", system: drive, safety: no}]")}}, "wrong", []string{
		"The seal leaks. Found on March 2. Still there.",
	}},
	{"a point measured without a limit is not checked", rig{sheet: "sheet: test rig\nitems:\n  - {item: it is quiet, short: noise, system: engine, safety: no, answered_by: [noise]}", entries: []string{on("2026-03-02", reading("noise", "9 mm", "system: engine"))}}, "not-checked", []string{
		"The points come from these lists: test rig.",
		"Answered by what was measured: it is quiet. Noise: measured, with no limit to hold it against.",
	}},
	{"a point that fails and cannot hurt is wrong", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "fails"))}}, "wrong", []string{
		"Not so: the paint is whole. Not so on March 2.",
	}},
	{"a check beside a reading without a limit", rig{entries: []string{on("2026-03-02", check(full, "works"), reading("governed speed", "3600 rpm"))}}, "in-order", []string{
		"Looked at on March 2: it reaches full speed. Governed speed: measured, with no limit to hold it against.",
	}},
	{"what was left out of the list stands once", rig{machine: "leave_out: [{item: the paint is whole, why: it never had any paint}]"}, "not-checked", []string{
		"The points come from these lists: test rig. The shop took this point off the list: the paint is whole. Its reason: it never had any paint.",
		"The log lists no check of this: it starts cold.",
		"The log lists no check of this: reverse works.",
	}},
	{"a part whose source nobody wrote counts as used", rig{sheet: oneLine, problems: true, entries: []string{on("2026-03-02", "parts: [{part: belt, system: drive}, {part: pin, source: salvaged, system: drive}]")}}, "hours", []string{
		"The true hours on this machine are not known.",
		"The log does not say how long the shop worked on it.",
		"The log does not say how long the engine ran.",
		"Parts on March 2: Belt: used. Pin: used.",
	}},
	{"a kind without a caution has none", rig{machine: "kind: bicycle"}, "notes safety", []string{
		"Do not run the machine until each point above is put right.",
		"Read the maker's manual before you run it or work on it. Follow the rules where you live. Ask a licensed technician where you are not sure.",
		"This report is no proof that the machine is safe. It says what the shop wrote in its log, and no more.",
	}},
	{"other words found again are told as that", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-05", repaired("leak", "how: wiped it", proof)), on("2026-03-06", defects("leak", "a drop of oil", "drive", "safety: no"))}}, "wrong", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. Proof: ran an hour and held. Found again on March 4, in other words: a drop of oil. Repaired on March 5: wiped it. Found again on March 6. Still there.",
	}},
	{"what was repaired and left in one entry is told as both", rig{sheet: oneLine, entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal"), part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]")}}, "repaired", []string{
		"The seal leaks: it stops in an hour. Found on March 2. Repaired on March 3: new seal. It left the machine on March 3 with its part, for this: gear case.",
	}},
	{"a point that does not apply says who says so", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line"))}}, "not-checked", []string{
		"The points come from these lists: test rig.",
		"Does not apply: the tank does not leak. Written as not there on March 2: it runs off a line.",
		"The log lists no check of this: it starts cold.",
		"The log lists no check of this: reverse works.",
		"The log lists no check of this: the paint is whole.",
	}},
	{"a reading beside work of its entry", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]", part("belt", "system: guards"))}}, "in-order", []string{
		"As it should be: the blade stops at once. Blade stopping time: inside its limit. Work there and this check stand in the same entry.",
	}},
	{"affects: that names a reading is known", rig{sheet: oneLine, entries: []string{on("2026-03-02", check("the paint is whole", "works"), reading("compression", "70 psi", "gauge: 1 psi")), on("2026-03-03", part("belt", "system: drive", "affects: [compression]"))}}, "gaps", nil},
	{"a conclusion and after it a check", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", check(cold, "works"))}}, "front unwritten", []string{
		"The log lists no check of these: drive: reverse; frame: paint.",
	}},
	{"a conclusion and after it a reading", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", reading("compression", "70 psi"))}}, "front unwritten", []string{
		"The log lists no check of these: engine: cold start; drive: reverse; frame: paint.",
		"Measured, with no limit to hold it against: compression.",
	}},
	{"a conclusion and after it one that was not checked", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", check(cold, "not checked"))}}, "front unwritten", []string{
		"The shop wrote on March 2: the coil is on its way out. The log says no more of that.",
		"The log lists no check of these: engine: cold start; drive: reverse; frame: paint.",
	}},
	{"a conclusion and after it a service", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]"), on("2026-03-03", "service: [{what: engine oil, system: engine, answers: [it starts cold]}]")}}, "front unwritten", []string{
		"The shop wrote on March 2: the coil is on its way out. The log says no more of that.",
		"The log lists no check of these: engine: cold start; drive: reverse; frame: paint.",
	}},
	{"a conclusion and a check of the same entry", rig{entries: []string{on("2026-03-02", "diagnosis: [{so: the coil is on its way out, system: engine}]", check(cold, "works"))}}, "front unwritten", []string{
		"The log lists no check of these: drive: reverse; frame: paint.",
	}},
}
