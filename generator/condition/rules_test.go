package condition

import (
	"fmt"
	"testing"

	"asleft/generator/logbook"
)

const (
	stop  = "the blade stops at once"
	guard = "the belt guard is on"
	brake = "the brake holds"
	cold  = "it starts cold"
	full  = "it reaches full speed"
	tank  = "the tank does not leak"
	back  = "reverse works"
	backs = "reverse stops"
)

// want is where a subject must stand.
type want struct {
	kind     Kind
	name     string
	standing Standing
	open     bool
}

func wantPoint(item string, s Standing, open bool) want { return want{KindPoint, item, s, open} }

func wantDefect(key string, s Standing, open bool) want { return want{KindDefect, key, s, open} }

func measured(name string, s Standing, open bool) want { return want{KindMeasurement, name, s, open} }

const proof = "proof: ran an hour and held"

// TestRules holds the judge against each rule of judgement by its name.
func TestRules(t *testing.T) {
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		// Points.
		{"a point without an answer is not checked", rig{}, wantPoint(brake, NotChecked, true)},
		{"a point without an answer that cannot hurt is not open", rig{}, wantPoint(cold, NotChecked, false)},
		{"a point that works is in order", rig{entries: []string{on("2026-03-02", check(brake, "works"))}}, wantPoint(brake, InOrder, false)},
		{"a point that fails is wrong", rig{entries: []string{on("2026-03-02", check(brake, "fails"))}}, wantPoint(brake, Wrong, true)},
		{"what failed stays wrong after not checked", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", check(brake, "not checked"))}}, wantPoint(brake, Wrong, true)},
		{"a pass is not taken away by not checked", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", check(brake, "not checked"))}}, wantPoint(brake, InOrder, false)},
		{"what failed passes later", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", check(brake, "works"))}}, wantPoint(brake, InOrder, false)},
		{"what passed fails later", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", check(brake, "fails"))}}, wantPoint(brake, Wrong, true)},
		{"of two answers in one entry the worse stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails}, {item: the brake holds, result: works}]")}}, wantPoint(brake, Wrong, true)},
		{"of two answers in one entry the worse stands in any order", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: works}, {item: the brake holds, result: fails}]")}}, wantPoint(brake, Wrong, true)},
		{"as found without work the worse stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]")}}, wantPoint(brake, Wrong, true)},
		{"as found with work elsewhere the worse stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]", part("belt", "system: drive"))}}, wantPoint(brake, Wrong, true)},
		{"as found with work that nobody placed the worse stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]", part("cup holder"))}}, wantPoint(brake, Wrong, true)},
		{"as found with work of the same day elsewhere the worse stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]"), on("2026-03-02", part("brake shoe", "system: brakes"))}}, wantPoint(brake, Wrong, true)},
		{"as found and then worked on, the pass stands", rig{entries: []string{on("2026-03-02", "checks: [{item: the brake holds, result: fails, as_found: yes}, {item: the brake holds, result: works}]", part("brake shoe", "system: brakes"))}}, wantPoint(brake, InOrder, false)},
		{"answers of one day without a time: the failure stands", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-02", check(brake, "works"))}}, wantPoint(brake, Wrong, true)},
		{"answers of one day with times go by them", rig{entries: []string{at("2026-03-02", "18:00", check(brake, "fails")), at("2026-03-02", "19:00", check(brake, "works"))}}, wantPoint(brake, InOrder, false)},
		{"a time on one of two entries leaves the order open", rig{entries: []string{at("2026-03-02", "18:00", check(brake, "fails")), on("2026-03-02", check(brake, "works"))}}, wantPoint(brake, Wrong, true)},
		{"the first session's from counts as a time", rig{entries: []string{on("2026-03-02", check(brake, "fails"), `hours: [{from: "18:00", to: "18:30"}]`), on("2026-03-02", check(brake, "works"), `hours: [{from: "19:00", to: "19:30"}]`)}}, wantPoint(brake, InOrder, false)},

		{"a point goes by its measurement, in whatever system that was mended", rig{sheet: "sheet: test rig\nitems:\n  - {item: the arbor runs true, short: arbor, system: implement, safety: yes, answered_by: [runout]}\n", machine: "limits: [{what: runout, limit: \"<= 0.002 in\", source: the manual, system: drive}]", entries: []string{on("2026-03-02", "measured: [{what: runout, value: 0.006 in, gauge: 0.0001 in, as_found: yes}, {what: runout, value: 0.001 in, gauge: 0.0001 in}]", part("bearing", "system: drive"))}}, wantPoint("the arbor runs true", InOrder, false)},
		{"and stays wrong with it", rig{sheet: "sheet: test rig\nitems:\n  - {item: the arbor runs true, short: arbor, system: implement, safety: yes, answered_by: [runout]}\n", machine: "limits: [{what: runout, limit: \"<= 0.002 in\", source: the manual, system: drive}]", entries: []string{on("2026-03-02", "measured: [{what: runout, value: 0.006 in, gauge: 0.0001 in}, {what: runout, value: 0.001 in, gauge: 0.0001 in}]", part("bearing", "system: drive"))}}, wantPoint("the arbor runs true", Wrong, true)},
		{"a place that was measured since says nothing of the other", wheels(twoWheels, shim, play("left", "1 mm")), wantPoint("the wheels sit tight", OutOfDate, true)},
		{"both places do", wheels(twoWheels, shim, play("left", "1 mm"), play("right", "1 mm")), wantPoint("the wheels sit tight", InOrder, false)},
		{"and so does a check of the point itself", wheels(twoWheels, shim, play("left", "1 mm"), check("the wheels sit tight", "works")), wantPoint("the wheels sit tight", InOrder, false)},
		{"not one before the work", wheels(twoWheels, check("the wheels sit tight", "works"), shim, play("left", "1 mm")), wantPoint("the wheels sit tight", OutOfDate, true)},
		{"another place is too close to call", wheels(play("right", "about 2 mm"), play("left", "1 mm")), wantPoint("the wheels sit tight", TooClose, true)},
		{"a repair does not pass over what was measured outside", wheels(play("left", "9 mm"), defects("wob", "it wobbles", "drive", "safety: yes", "point: the wheels sit tight"), repaired("wob", "how: new bush pressed in", proof)), wantPoint("the wheels sit tight", Wrong, true)},
		{"nor does a part that took the fault along", wheels(play("left", "9 mm")+"\n"+defects("wob", "it wobbles", "drive", "safety: no", "point: the wheels sit tight"), part("whole new axle", "system: drive")+"\ngone: [{key: wob, with: whole new axle}]"), wantPoint("the wheels sit tight", Wrong, true)},
		{"without a place it is of the whole", wheels(twoWheels, shim, reading("play", "1 mm", "system: drive")), wantPoint("the wheels sit tight", InOrder, false)},

		// Does not apply.
		{"does not apply with a reason", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line"))}}, wantPoint(tank, DoesNotApply, false)},
		{"does not apply after a failure needs the change that took it away", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "fails")), on("2026-03-03", check(tank, "does not apply", "note: it runs off a line"))}}, wantPoint(tank, Wrong, true)},
		{"does not apply after a pass needs the change that took it away", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "works")), on("2026-03-03", check(tank, "does not apply", "note: it runs off a line"))}}, wantPoint(tank, InOrder, false)},
		{"does not apply after a failure, by the change", rig{entries: []string{on("2026-03-02", check(tank, "fails")), on("2026-03-03", changes("tank taken off", "key: no-tank", "system: fuel", "safety: no")), on("2026-03-04", check(tank, "does not apply", "note: it runs off a line", "by: no-tank"))}}, wantPoint(tank, DoesNotApply, false)},
		{"a change that was put back takes nothing away", rig{entries: []string{on("2026-03-02", check(tank, "fails")), on("2026-03-03", changes("tank taken off", "key: no-tank", "system: fuel", "safety: no")), on("2026-03-04", check(tank, "does not apply", "note: it runs off a line", "by: no-tank")), on("2026-03-05", "put_back: [{key: no-tank, how: the tank is on again}]")}}, wantPoint(tank, Wrong, true)},
		{"a change made later took nothing away before", rig{entries: []string{on("2026-03-02", check(tank, "fails")), on("2026-03-03", check(tank, "does not apply", "note: it runs off a line", "by: no-tank")), on("2026-03-04", changes("tank taken off", "key: no-tank", "system: fuel", "safety: no"))}}, wantPoint(tank, Wrong, true)},
		{"an answer after does not apply counts", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line")), on("2026-03-03", check(tank, "works"))}}, wantPoint(tank, InOrder, false)},
		{"a failure after does not apply counts", rig{entries: []string{on("2026-03-02", check(tank, "does not apply", "note: it runs off a line")), on("2026-03-03", check(tank, "fails"))}}, wantPoint(tank, Wrong, true)},
		{"what a machine does not have does not apply", rig{machine: "has: {reverse: no}"}, wantPoint(backs, DoesNotApply, false)},
		{"what a machine has applies", rig{machine: "has: {reverse: yes}"}, wantPoint(backs, NotChecked, true)},
		{"unsaid means that it applies", rig{}, wantPoint(backs, NotChecked, true)},
		{"an answer counts though the machine does not have it", rig{machine: "has: {reverse: no}", entries: []string{on("2026-03-02", check(back, "fails"))}}, wantPoint(back, Wrong, false)},

		{"a reason of one word is none", rig{problems: true, entries: []string{on("2026-03-02", check(tank, "does not apply", "note: no"))}}, wantPoint(tank, NotChecked, true)},

		// Out of date.
		{"a part in its system makes an answer out of date", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake shoe", "system: brakes"))}}, wantPoint(brake, OutOfDate, true)},
		{"a part elsewhere does not", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("belt", "system: drive"))}}, wantPoint(brake, InOrder, false)},
		{"a part without a system touches everything", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("cup holder"))}}, wantPoint(brake, OutOfDate, true)},
		{"work of the evening comes before its evidence", rig{entries: []string{on("2026-03-02", check(brake, "works"), part("brake shoe", "system: brakes"))}}, wantPoint(brake, InOrder, false)},
		{"work of the evening comes after what is as found", rig{entries: []string{on("2026-03-02", check(brake, "works", "as_found: yes"), part("brake shoe", "system: brakes"))}}, wantPoint(brake, OutOfDate, true)},
		{"work of the same day without a time makes it out of date", rig{entries: []string{on("2026-03-02", part("brake shoe", "system: brakes")), on("2026-03-02", check(brake, "works"))}}, wantPoint(brake, OutOfDate, true)},
		{"a part not fitted is no work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake shoe", "system: brakes", "fate: not fitted"))}}, wantPoint(brake, InOrder, false)},
		{"a part returned is no work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake shoe", "system: brakes", "fate: returned"))}}, wantPoint(brake, InOrder, false)},
		{"a part taken out again is work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake shoe", "system: brakes", "fate: taken out again"))}}, wantPoint(brake, OutOfDate, true)},
		{"a consumable is no work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", part("plug", "system: engine", "consumable: yes"))}}, wantPoint(full, InOrder, false)},
		{"a consumable in the brakes is work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("brake pad", "system: brakes", "consumable: yes"))}}, wantPoint(brake, OutOfDate, true)},
		{"a consumable that may be anywhere is work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pad", "consumable: yes"))}}, wantPoint(brake, OutOfDate, true)},
		{"service is no work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", "service: [{what: engine oil, system: engine}]")}}, wantPoint(full, InOrder, false)},
		{"service of the brakes is work", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", "service: [{what: brake fluid, system: brakes}]")}}, wantPoint(brake, OutOfDate, true)},
		{"taking apart is work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", "worked_on: [engine]")}}, wantPoint(full, OutOfDate, true)},
		{"a change is work", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", changes("bigger jet", "system: engine", "safety: no"))}}, wantPoint(full, OutOfDate, true)},
		{"a change put back is work", rig{entries: []string{on("2026-03-01", changes("bigger jet", "key: jet", "system: engine", "safety: no")), on("2026-03-02", check(full, "works")), on("2026-03-03", "put_back: [{key: jet, how: the old jet again}]")}}, wantPoint(full, OutOfDate, true)},
		{"a repair is work", rig{entries: []string{on("2026-03-01", defects("knock", "it knocks", "engine", "safety: no")), on("2026-03-02", check(full, "works")), on("2026-03-03", repaired("knock", "how: new rod"))}}, wantPoint(full, OutOfDate, true)},
		{"a proof alone is no work", rig{entries: []string{on("2026-03-01", defects("knock", "it knocks", "engine", "safety: no"), repaired("knock", "how: new rod")), on("2026-03-02", check(full, "works")), on("2026-03-03", repaired("knock", proof))}}, wantPoint(full, InOrder, false)},
		{"a work-around is work", rig{entries: []string{on("2026-03-01", defects("knock", "it knocks", "engine", "safety: no")), on("2026-03-02", check(full, "works")), on("2026-03-03", "worked_around: [{key: knock, how: run it slowly}]")}}, wantPoint(full, OutOfDate, true)},
		{"what a work affects by name is out of date", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", changes("longer pedal", "system: controls", "safety: no", "affects: [the brake holds]"))}}, wantPoint(brake, OutOfDate, true)},
		{"what a work affects by its short name is out of date", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pedal", "system: controls", "affects: [brake]"))}}, wantPoint(brake, OutOfDate, true)},
		{"what a work affects by its system is out of date", rig{entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pedal", "system: controls", "affects: [Brakes]"))}}, wantPoint(brake, OutOfDate, true)},
		{"a failure stays wrong after work", rig{entries: []string{on("2026-03-02", check(brake, "fails")), on("2026-03-03", part("brake shoe", "system: brakes"))}}, wantPoint(brake, Wrong, true)},
		{"what a work affects by a system of the shop's own is out of date", rig{shop: "systems: [{name: hydrostatic, part_of: [brakes]}]", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pedal", "system: controls", "affects: [hydrostatic]"))}}, wantPoint(brake, OutOfDate, true)},
		{"a system of the shop's own counts as what it is part of", rig{shop: "systems: [{name: hydrostatic, part_of: [brakes]}]", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pump", "system: hydrostatic"))}}, wantPoint(brake, OutOfDate, true)},
		{"one that says not what it is part of may be anywhere", rig{shop: "systems: [hydrostatic]", entries: []string{on("2026-03-02", check(brake, "works")), on("2026-03-03", part("pump", "system: hydrostatic"))}}, wantPoint(brake, OutOfDate, true)},
		{"a point without a system is out of date after any work", rig{problems: true, entries: []string{on("2026-03-02", check("the bell rings", "works", "safety: yes")), on("2026-03-03", part("belt", "system: drive"))}}, wantPoint("the bell rings", OutOfDate, true)},

		// Faults found later.
		{"a fault in its system puts a safety point out of date", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", defects("surge", "it surges badly", "engine", "safety: yes"))}}, wantPoint(full, OutOfDate, true)},
		{"a fault of which safety is not said does so too", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", defects("surge", "it surges badly", "engine"))}}, wantPoint(full, OutOfDate, true)},
		{"a fault that cannot hurt does not", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", defects("surge", "it surges badly", "engine", "safety: no"))}}, wantPoint(full, InOrder, false)},
		{"a fault elsewhere does not", rig{entries: []string{on("2026-03-02", check(full, "works")), on("2026-03-03", defects("surge", "it surges badly", "drive", "safety: yes"))}}, wantPoint(full, InOrder, false)},
		{"a fault of the same entry puts it out of date", rig{entries: []string{on("2026-03-02", check(guard, "works"), defects("fell", "the guard fell off", "guards"))}}, wantPoint(guard, OutOfDate, true)},
		{"a fault proven in its own entry does not", rig{entries: []string{on("2026-03-02", check(full, "works"), defects("surge", "it surges badly", "engine", "safety: yes"), repaired("surge", "how: new spring", proof))}}, wantPoint(full, InOrder, false)},
		{"nor does one that its own point proves there", rig{entries: []string{on("2026-03-02", defects("surge", "it surges badly", "engine", "safety: yes", "point: "+full), repaired("surge", "how: new spring"), check(full, "works"))}}, wantPoint(full, InOrder, false)},
		{"nor one of the guards that a point of theirs proves", rig{entries: []string{on("2026-03-02", check(guard, "works"), defects("fell", "the guard fell off", "guards"), repaired("fell", "how: bolted it on"))}}, wantPoint(guard, InOrder, false)},
		{"a point that the fault does not name proves nothing there", rig{entries: []string{on("2026-03-02", defects("surge", "it surges badly", "engine", "safety: yes"), repaired("surge", "how: new spring"), check(full, "works"))}}, wantPoint(full, OutOfDate, true)},
		{"nor does a pass of the day after the repair say what was before", rig{entries: []string{on("2026-03-02", check(guard, "works", "as_found: yes"), defects("fell", "the guard fell off", "guards"), repaired("fell", "how: bolted it on")), on("2026-03-03", check(stop, "works"))}}, wantPoint(guard, OutOfDate, true)},
		{"a fault before the check does not", rig{entries: []string{on("2026-03-01", defects("surge", "it surges badly", "engine", "safety: yes")), on("2026-03-02", check(full, "works"))}}, wantPoint(full, InOrder, false)},
		{"a fault does not touch a point that is no safety matter", rig{entries: []string{on("2026-03-02", check(cold, "works")), on("2026-03-03", defects("surge", "it surges badly", "engine", "safety: yes"))}}, wantPoint(cold, InOrder, false)},

		// A defect that names its point.
		{"a point whose defect is proven is out of date, not wrong", rig{entries: []string{on("2026-03-01", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-02", check(full, "fails")), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, wantPoint(full, OutOfDate, true)},
		{"found in the entry of the failure it counts", rig{entries: []string{on("2026-03-02", check(full, "fails"), defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, wantPoint(full, OutOfDate, true)},
		{"a defect first written after the failure does not count", rig{entries: []string{on("2026-03-01", check(full, "fails")), on("2026-03-02", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, wantPoint(full, Wrong, true)},
		{"without a proof the point stays wrong", rig{entries: []string{on("2026-03-02", check(full, "fails"), defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-03", repaired("slow", "how: new jet"))}}, wantPoint(full, Wrong, true)},
		{"no words prove a defect of the brakes whose point failed", rig{entries: []string{on("2026-03-01", defects("slip", "the brake slips", "brakes", "point: "+brake)), on("2026-03-02", check(brake, "fails")), on("2026-03-03", repaired("slip", "how: new shoe", proof))}}, wantPoint(brake, Wrong, true)},
		{"a defect gone with its part leaves the failure", rig{entries: []string{on("2026-03-01", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full)), on("2026-03-02", check(full, "fails")), on("2026-03-03", part("engine", "system: engine"), "gone: [{key: slow, with: engine}]")}}, wantPoint(full, Wrong, true)},
		{"a proof before the failure does not count", rig{entries: []string{on("2026-03-01", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+full), repaired("slow", "how: new jet", proof)), on("2026-03-02", check(full, "fails"))}}, wantPoint(full, Wrong, true)},
		{"each defect that names the point must be proven", rig{entries: []string{on("2026-03-01", "defects: [{key: a, defect: slow one, system: engine, safety: no, point: it reaches full speed}, {key: b, defect: slow two, system: engine, safety: no, point: it reaches full speed}]"), on("2026-03-02", check(full, "fails")), on("2026-03-03", repaired("a", "how: new jet", proof))}}, wantPoint(full, Wrong, true)},
		{"a defect that names another point does not help", rig{entries: []string{on("2026-03-01", defects("slow", "slow to full speed", "engine", "safety: no", "point: "+cold)), on("2026-03-02", check(full, "fails")), on("2026-03-03", repaired("slow", "how: new jet", proof))}}, wantPoint(full, Wrong, true)},

		// Points of the shop's own.
		{"a point of its own of which safety is not said is open", rig{entries: []string{on("2026-03-02", check("the bell rings", "fails", "system: controls"))}}, wantPoint("the bell rings", Wrong, true)},
		{"a point of its own in the guards is a safety matter", rig{entries: []string{on("2026-03-02", check("the flap falls", "fails", "system: guards", "safety: no"))}}, wantPoint("the flap falls", Wrong, true)},
		{"a point of its own that cannot hurt is not open", rig{entries: []string{on("2026-03-02", check("the bell rings", "fails", "system: controls", "safety: no"))}}, wantPoint("the bell rings", Wrong, false)},
		{"safety once said yes is not taken back", rig{entries: []string{on("2026-03-02", check("the bell rings", "fails", "system: controls", "safety: yes")), on("2026-03-03", check("the bell rings", "fails", "safety: no"))}}, wantPoint("the bell rings", Wrong, true)},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

func (w want) holds(t *testing.T, r *Report) {
	t.Helper()
	s := find(t, r, w.kind, w.name)
	if s.Standing != w.standing || s.Open != w.open {
		t.Errorf("%s %q is %s, open %v; want %s, open %v\n%s", w.kind, w.name, s.Standing, s.Open, w.standing, w.open, s.Told)
	}
	if (s.Standing == OutOfDate) && s.Absent == nil {
		t.Errorf("%s is out of date and says not what the log lacks", s.Name)
	}
}

// TestRulesOfDefects holds the judge against the rules of defects.
func TestRulesOfDefects(t *testing.T) {
	leak := defects("leak", "the seal leaks", "drive", "safety: no")
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		{"a defect found is there", rig{entries: []string{on("2026-03-02", leak)}}, wantDefect("leak", Wrong, false)},
		{"one that may hurt is open", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: yes"))}}, wantDefect("leak", Wrong, true)},
		{"one of which safety is not said is open", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive"))}}, wantDefect("leak", Wrong, true)},
		{"guards are always a safety matter", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"brakes are always a safety matter", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"steering is always a safety matter", rig{entries: []string{on("2026-03-02", defects("leak", "the rod is bent", "steering", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"a system that is part of the brakes is one too", rig{shop: "systems: [{name: hydrostatic, part_of: [drive, brakes]}]", entries: []string{on("2026-03-02", defects("leak", "the pump leaks", "hydrostatic", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"a repair without a proof is not proven", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal"))}}, wantDefect("leak", NotProven, false)},
		{"a repair with a proof is in order", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"a proof in a later entry counts", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", repaired("leak", proof))}}, wantDefect("leak", InOrder, false)},
		{"a new repair needs a new proof", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", repaired("leak", "how: another seal"))}}, wantDefect("leak", NotProven, false)},
		{"a work-around is no repair", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]")}}, wantDefect("leak", WorkedAround, false)},
		{"a repair after a work-around counts", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-04", repaired("leak", "how: new seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"found again it is there again", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", leak)}}, wantDefect("leak", Wrong, false)},
		{"found again and proven again it is in order", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", leak), on("2026-03-06", repaired("leak", "how: another seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"found again on the day of its repair without times it is there", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-05", leak), on("2026-03-05", repaired("leak", "how: another seal", proof))}}, wantDefect("leak", Wrong, false)},
		{"no repair can come before the first finding", rig{entries: []string{on("2026-03-02", leak), on("2026-03-02", repaired("leak", "how: new seal", proof))}}, wantDefect("leak", InOrder, false)},
		{"other words open a part that needs its own proof", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-06", repaired("leak", "how: wiped it", proof))}}, wantDefect("leak", NotProven, false)},
		{"what was worked around stays so under other words", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-06", repaired("leak", "how: wiped it", proof))}}, wantDefect("leak", WorkedAround, false)},
		{"a repair can name the words that it is of", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-05", defects("leak", "a drop of oil", "drive", "safety: no")), on("2026-03-06", "repaired: [{key: leak, how: wiped it, proof: dry after an hour of work}, {key: leak, of: the seal leaks, how: new seal, proof: dry after an hour of work}]")}}, wantDefect("leak", InOrder, false)},
		{"the gravest safety of all wordings counts", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: yes")), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-05", defects("leak", "the seal leaks", "drive", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"found in the guards it is a safety matter wherever it is found later", rig{shop: "systems: [finish]", entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards", "safety: no")), on("2026-03-03", "worked_around: [{key: leak, how: tied it up}]"), on("2026-03-05", defects("leak", "a scratch", "finish", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"the systems of all wordings count", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "brakes")), on("2026-03-03", "worked_around: [{key: leak, how: top it up}]"), on("2026-03-05", defects("leak", "the seal leaks", "drive", "safety: no"))}}, wantDefect("leak", Wrong, true)},
		{"work in its system makes a proof out of date", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", part("belt", "system: drive"))}}, wantDefect("leak", OutOfDate, false)},
		{"work elsewhere leaves a proof alone", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", part("plug", "system: ignition"))}}, wantDefect("leak", InOrder, false)},
		{"work that names the defect makes its proof out of date", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", repaired("leak", "how: new seal", proof)), on("2026-03-04", part("plug", "system: ignition", "affects: [the seal leaks]"))}}, wantDefect("leak", OutOfDate, false)},
		{"a safety defect in the guards is proven by no words", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-03", repaired("leak", "how: new flap", proof))}}, wantDefect("leak", NotProven, true)},
		{"nor by a point of another system", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-03", repaired("leak", "how: new flap", proof)), on("2026-03-04", check(brake, "works"))}}, wantDefect("leak", NotProven, true)},
		{"nor by a point that passed before", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-02", check(guard, "works")), on("2026-03-03", repaired("leak", "how: new flap", proof))}}, wantDefect("leak", NotProven, true)},
		{"a point of its system that passes after the repair proves it", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-03", repaired("leak", "how: new flap", proof)), on("2026-03-04", check(guard, "works"))}}, wantDefect("leak", InOrder, false)},
		{"also in the entry of the repair", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-03", repaired("leak", "how: new flap", proof), check(guard, "works"))}}, wantDefect("leak", InOrder, false)},
		{"without a proof a point of its system is not enough", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards")), on("2026-03-03", repaired("leak", "how: new flap"), check(guard, "works"))}}, wantDefect("leak", NotProven, true)},
		{"the point that the defect names is the proof", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards", "point: "+guard)), on("2026-03-03", repaired("leak", "how: new flap")), on("2026-03-04", check(guard, "works"))}}, wantDefect("leak", InOrder, false)},
		{"it renews the proof when it passes again after later work", rig{entries: []string{on("2026-03-02", defects("leak", "it is slow", "engine", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new jet", proof)), on("2026-03-04", part("spring", "system: engine")), on("2026-03-05", check(cold, "works"))}}, wantDefect("leak", InOrder, false)},
		{"a pass before that work does not", rig{entries: []string{on("2026-03-02", defects("leak", "it is slow", "engine", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new jet", proof)), on("2026-03-04", check(cold, "works")), on("2026-03-05", part("spring", "system: engine"))}}, wantDefect("leak", OutOfDate, false)},
		{"a point that the defect does not name does not", rig{entries: []string{on("2026-03-02", defects("leak", "it is slow", "engine", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new jet", proof)), on("2026-03-04", part("spring", "system: engine")), on("2026-03-05", check(full, "works"))}}, wantDefect("leak", OutOfDate, false)},
		{"a proof of words after a pass of the point stands as well", rig{entries: []string{on("2026-03-02", defects("leak", "it is slow", "engine", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new jet")), on("2026-03-04", check(cold, "works")), on("2026-03-05", part("spring", "system: engine")), on("2026-03-06", repaired("leak", proof))}}, wantDefect("leak", InOrder, false)},
		{"another point of the system is not", rig{entries: []string{on("2026-03-02", defects("leak", "the flap is bent", "guards", "point: "+guard)), on("2026-03-03", repaired("leak", "how: new flap")), on("2026-03-04", check(stop, "works"))}}, wantDefect("leak", NotProven, true)},
		{"a named point proves a defect elsewhere too", rig{entries: []string{on("2026-03-02", defects("leak", "it is slow", "engine", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new jet")), on("2026-03-04", check(cold, "works"))}}, wantDefect("leak", InOrder, false)},

		// Gone.
		{"a defect can leave with its part", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]")}}, wantDefect("leak", InOrder, false)},
		{"and with a change", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", changes("chain drive instead", "key: chain", "system: drive", "safety: no"), "gone: [{key: leak, with: chain}]")}}, wantDefect("leak", InOrder, false)},
		{"what its part took along is back in doubt when the new one comes out", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("gear case", "system: drive", "fate: taken out again"))}}, wantDefect("leak", NotProven, false)},
		{"taken out before it left, that is another one", rig{entries: []string{on("2026-03-01", part("gear case", "system: drive", "fate: taken out again")), on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]")}}, wantDefect("leak", InOrder, false)},
		{"taken out in the evening in which it left, nobody can tell that it stayed in", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", "parts: [{part: gear case, source: used, system: drive}, {part: gear case, source: used, system: drive, fate: taken out again}]", "gone: [{key: leak, with: gear case}]")}}, wantDefect("leak", NotProven, false)},
		{"nor where it went in before", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive")), on("2026-03-04", part("gear case", "system: drive", "fate: taken out again"), "gone: [{key: leak, with: gear case}]")}}, wantDefect("leak", NotProven, false)},
		{"where one was in before and one went in that evening, the old one came out", rig{entries: []string{on("2026-03-01", part("gear case", "system: drive")), on("2026-03-02", leak), on("2026-03-03", "parts: [{part: gear case, source: used, system: drive}, {part: gear case, source: used, system: drive, fate: taken out again}]", "gone: [{key: leak, with: gear case}]")}}, wantDefect("leak", InOrder, false)},
		{"put in anew it is gone again", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("gear case", "system: drive", "fate: taken out again")), on("2026-03-06", part("gear case", "system: drive"))}}, wantDefect("leak", InOrder, false)},
		{"another part taken out leaves it gone", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("belt", "system: drive", "fate: taken out again"))}}, wantDefect("leak", InOrder, false)},
		{"a point that passes after that shows that it is gone", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", part("gear case", "system: drive", "fate: taken out again")), on("2026-03-06", check(back, "works"))}}, wantDefect("leak", InOrder, false)},
		{"so it is with a change that was put back", rig{entries: []string{on("2026-03-02", defects("leak", "no cover on the belt", "guards")), on("2026-03-03", changes("plywood cover", "key: ply", "system: guards", "adds: yes"), "gone: [{key: leak, with: ply}]"), on("2026-03-04", check(guard, "works")), on("2026-03-05", "put_back: [{key: ply, how: cover off again}]")}}, wantDefect("leak", NotProven, true)},
		{"whether by its key or by its name", rig{entries: []string{on("2026-03-02", defects("leak", "no cover on the belt", "guards")), on("2026-03-03", changes("plywood cover", "key: ply", "system: guards", "adds: yes"), "gone: [{key: leak, with: plywood cover}]"), on("2026-03-04", check(guard, "works")), on("2026-03-05", "put_back: [{key: ply, how: cover off again}]")}}, wantDefect("leak", NotProven, true)},
		{"the change made again, and it is gone", rig{entries: []string{on("2026-03-02", defects("leak", "no cover on the belt", "guards")), on("2026-03-03", changes("plywood cover", "key: ply", "system: guards", "adds: yes"), "gone: [{key: leak, with: ply}]"), on("2026-03-04", check(guard, "works")), on("2026-03-05", "put_back: [{key: ply, how: cover off again}]"), on("2026-03-06", changes("plywood cover", "key: ply", "system: guards", "adds: yes"))}}, wantDefect("leak", InOrder, false)},
		{"a point of other systems proves nothing, whoever names it", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new shoe", proof)), on("2026-03-04", check(cold, "works"))}}, wantDefect("leak", NotProven, true)},
		{"nor does it where the part left", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes", "point: "+cold)), on("2026-03-03", part("brake drum", "system: brakes"), "gone: [{key: leak, with: brake drum}]"), on("2026-03-04", check(cold, "works"))}}, wantDefect("leak", NotProven, true)},
		{"a point elsewhere is no proof where nobody wrote one", rig{entries: []string{on("2026-03-02", defects("leak", "the seal leaks", "drive", "safety: no", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new seal")), on("2026-03-04", check(cold, "works"))}}, wantDefect("leak", NotProven, false)},
		{"where the defect is elsewhere a point there counts", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes", "point: "+cold)), on("2026-03-03", repaired("leak", "how: new shoe", proof)), on("2026-03-04", check(brake, "works"))}}, wantDefect("leak", InOrder, false)},
		{"each wording is proven in its own systems", rig{entries: []string{on("2026-03-02", defects("leak", "it groans", "drive", "safety: no"), repaired("leak", "how: new seal", proof)), on("2026-03-03", defects("leak", "the flap is bent", "guards")), on("2026-03-04", part("belt", "system: drive")), on("2026-03-05", repaired("leak", "how: new flap", "of: the flap is bent", proof)), on("2026-03-06", check(guard, "works"))}}, wantDefect("leak", OutOfDate, true)},
		{"a system that is part of no other hides no point of the others", rig{shop: "systems: [paint]", entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes"), repaired("leak", "how: new shoe")), on("2026-03-03", defects("leak", "the drum is rusty", "paint", "safety: no")), on("2026-03-04", part("brake drum", "system: brakes"), "gone: [{key: leak, with: brake drum}]"), on("2026-03-05", check(brake, "works"))}}, wantDefect("leak", InOrder, false)},
		{"a key's new life is not in the systems of the old one", rig{entries: []string{on("2026-03-01", check(full, "works")), on("2026-03-01", defects("leak", "it smokes", "engine", "safety: no"), part("engine", "system: engine"), "gone: [{key: leak, with: engine}]"), on("2026-03-02", check(full, "works")), on("2026-03-03", defects("leak", "the belt slips", "drive", "safety: no"), repaired("leak", "how: new belt"))}}, wantPoint(full, InOrder, false)},
		{"of a day without times, each work followed by a pass is in order", rig{entries: []string{on("2026-03-02", check(brake, "works"), part("brake shoe", "system: brakes")), at("2026-03-02", "14:00", check(brake, "works"), part("brake rod", "system: brakes"))}}, wantPoint(brake, InOrder, false)},
		{"and one that no pass follows is not", rig{entries: []string{on("2026-03-02", check(brake, "works")), at("2026-03-02", "14:00", check(brake, "works"), part("brake rod", "system: brakes")), on("2026-03-02", part("brake shoe", "system: brakes"))}}, wantPoint(brake, OutOfDate, true)},
		{"work in the shop's own system clears what was found there", rig{shop: "systems: [paint]", machine: "limits: [{what: film, limit: \">= 60 psi\", source: the tin, system: paint}]", entries: []string{on("2026-03-02", "measured: [{what: film, value: 20 psi, gauge: 1 psi, as_found: yes}, {what: film, value: 80 psi, gauge: 1 psi}]", part("coat", "system: paint"))}}, measured("film", InOrder, false)},
		{"where it can hurt a point has to pass after it", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes")), on("2026-03-03", part("brake drum", "system: brakes"), "gone: [{key: leak, with: brake drum}]")}}, wantDefect("leak", NotProven, true)},
		{"and with the point it is in order", rig{entries: []string{on("2026-03-02", defects("leak", "the shoe is worn", "brakes")), on("2026-03-03", part("brake drum", "system: brakes"), "gone: [{key: leak, with: brake drum}]"), on("2026-03-04", check(brake, "works"))}}, wantDefect("leak", InOrder, false)},
		{"the key used again is another defect", rig{entries: []string{on("2026-03-02", leak), on("2026-03-03", part("gear case", "system: drive"), "gone: [{key: leak, with: gear case}]"), on("2026-03-05", leak)}}, wantDefect("leak", Wrong, false)},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

// TestRulesOfMeasurements holds the judge against the rules of what is measured.
func TestRulesOfMeasurements(t *testing.T) {
	limits := "limits: [{what: compression, limit: \">= 60 psi\", source: the maker's sheet}, {what: lever force, limit: \"<= 20 N*m\", system: controls, safety: yes}]"
	low, high := reading("compression", "48 psi", "gauge: 1 psi"), reading("compression", "63 psi", "gauge: 1 psi")
	near := reading("compression", "60.5 psi", "gauge: 1 psi")
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		{"inside its limit is in order", rig{machine: limits, entries: []string{on("2026-03-02", high)}}, measured("compression", InOrder, false)},
		{"outside its limit is wrong", rig{machine: limits, entries: []string{on("2026-03-02", low)}}, measured("compression", Wrong, false)},
		{"too close is too close to call", rig{machine: limits, entries: []string{on("2026-03-02", near)}}, measured("compression", TooClose, false)},
		{"without a limit none is given", rig{entries: []string{on("2026-03-02", high)}}, measured("compression", NoLimit, false)},
		{"outside and then inside is in order", rig{machine: limits, entries: []string{on("2026-03-02", low), on("2026-03-03", high)}}, measured("compression", InOrder, false)},
		{"inside and then outside is wrong", rig{machine: limits, entries: []string{on("2026-03-02", high), on("2026-03-03", low)}}, measured("compression", Wrong, false)},
		{"what was outside stays wrong until a reading is inside", rig{machine: limits, entries: []string{on("2026-03-02", low), on("2026-03-03", near)}}, measured("compression", Wrong, false)},
		{"of one day without a time the worse is last", rig{machine: limits, entries: []string{on("2026-03-02", low), on("2026-03-02", high)}}, measured("compression", Wrong, false)},
		{"of one day without a time the too close is last", rig{machine: limits, entries: []string{on("2026-03-02", near), on("2026-03-02", high)}}, measured("compression", TooClose, false)},
		{"of one day without a time one that no work touches is last", rig{machine: limits, entries: []string{on("2026-03-02", high), on("2026-03-02", high, part("rings", "system: engine"))}}, measured("compression", InOrder, false)},
		{"two in one entry: the worse stands", rig{machine: limits, entries: []string{on("2026-03-02", "measured: [{what: compression, value: 48 psi}, {what: compression, value: 63 psi}]")}}, measured("compression", Wrong, false)},
		{"as found and then worked on", rig{machine: limits, entries: []string{on("2026-03-02", "measured: [{what: compression, value: 48 psi, as_found: yes}, {what: compression, value: 63 psi}]", part("rings", "system: engine"))}}, measured("compression", InOrder, false)},
		{"the order of the list does not matter", rig{machine: limits, entries: []string{on("2026-03-02", "measured: [{what: compression, value: 63 psi}, {what: compression, value: 48 psi, as_found: yes}]", part("rings", "system: engine"))}}, measured("compression", InOrder, false)},
		{"as found without work", rig{machine: limits, entries: []string{on("2026-03-02", "measured: [{what: compression, value: 48 psi, as_found: yes}, {what: compression, value: 63 psi}]")}}, measured("compression", Wrong, false)},
		{"later work makes a reading out of date", rig{machine: limits, entries: []string{on("2026-03-02", high), on("2026-03-03", part("head gasket", "system: engine"))}}, measured("compression", OutOfDate, false)},
		{"work elsewhere does not", rig{machine: limits, entries: []string{on("2026-03-02", high), on("2026-03-03", part("belt", "system: drive"))}}, measured("compression", InOrder, false)},
		{"a reading without a system is out of date after any work", rig{machine: "limits: [{what: squeak, limit: \"<= 5 mm\"}]", entries: []string{on("2026-03-02", reading("squeak", "3 mm")), on("2026-03-03", part("belt", "system: drive"))}}, measured("squeak", OutOfDate, false)},
		{"the limit's system is the reading's", rig{machine: "limits: [{what: squeak, limit: \"<= 5 mm\", system: engine}]", entries: []string{on("2026-03-02", reading("squeak", "3 mm")), on("2026-03-03", part("belt", "system: drive"))}}, measured("squeak", InOrder, false)},
		{"a limit for another place says that it is a matter of safety", rig{machine: "limits: [{what: play, where: left, limit: \"<= 2 mm\", system: frame, safety: yes}]", entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}]")}}, measured("play, right", NoLimit, true)},
		{"but where one is for here, that says it", rig{machine: "limits: [{what: play, where: left, limit: \"<= 2 mm\", system: frame, safety: yes}, {what: play, where: right, limit: \"<= 2 mm\", system: frame}]", entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}]")}}, measured("play, right", Wrong, false)},
		{"and none of another thing does", rig{machine: "limits: [{what: slack, where: left, limit: \"<= 2 mm\", system: brakes, safety: yes}]", entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}]")}}, measured("play, right", NoLimit, false)},
		{"a limit for another place says the system", rig{machine: "limits: [{what: play, where: left, limit: \"<= 2 mm\", system: steering}]", entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}]")}}, measured("play, right", NoLimit, true)},
		{"and so does a reading at another place", rig{entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}, {what: play, where: left, value: 1 mm, system: brakes}]")}}, measured("play, right", NoLimit, true)},
		{"a reading that says it keeps its own", rig{machine: "limits: [{what: play, where: left, limit: \"<= 2 mm\", system: steering}]", entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm, system: frame}]")}}, measured("play, right", NoLimit, false)},
		{"one of another thing says nothing of it", rig{entries: []string{on("2026-03-02", "measured: [{what: play, where: right, value: 9 mm}, {what: slack, where: left, value: 1 mm, system: brakes}]")}}, measured("play, right", NoLimit, false)},
		{"what affects names is out of date", rig{machine: limits, entries: []string{on("2026-03-02", high), on("2026-03-03", part("belt", "system: drive", "affects: [Compression]"))}}, measured("compression", OutOfDate, false)},
		{"a range across its limit is too close to call", rig{machine: limits, entries: []string{on("2026-03-02", reading("compression", "50 to 70 psi"))}}, measured("compression", TooClose, false)},
		{"a range outside is wrong", rig{machine: limits, entries: []string{on("2026-03-02", reading("compression", "30 to 40 psi"))}}, measured("compression", Wrong, false)},
		{"about a value without a gauge is too close to call", rig{machine: limits, entries: []string{on("2026-03-02", reading("compression", "about 70 psi"))}}, measured("compression", TooClose, false)},
		{"an open reading across its limit is too close to call", rig{machine: limits, entries: []string{on("2026-03-02", reading("compression", "\"> 50 psi\""))}}, measured("compression", TooClose, false)},
		{"nothing at all is a reading", rig{machine: limits, entries: []string{on("2026-03-02", reading("compression", "0 psi"))}}, measured("compression", Wrong, false)},
		{"the shop's own limit does not loosen a published one", rig{machine: "limits: [{what: blade tip speed, limit: \"<= 30000 ft/min\"}]", entries: []string{on("2026-03-02", reading("blade tip speed", "25900 ft/min", "gauge: 100 ft/min"))}}, measured("blade tip speed", Wrong, true)},
		{"nor for a test", rig{machine: "limits: [{what: blade stopping time, limit: \"<= 15 s\"}]", entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]")}}, measured("blade stopping time", Wrong, true)},
		{"nor by a plain reading of what a test held against one", rig{machine: "limits: [{what: leakage current, limit: \"<= 5 mA\", source: mine}]", entries: []string{on("2026-03-02", "tests: [{test: leakage current, current: 4.5 mA, path: touch, gauge: 0.1 mA}]"), on("2026-03-05", reading("leakage current", "0.9 mA", "gauge: 0.1 mA"))}}, measured("leakage current", Wrong, true)},
		{"a test that is no safety matter binds no plain reading", rig{entries: []string{on("2026-03-02", "tests: [{test: battery load test, volts: 8.0 V, load: 150 A, rated: 300 CCA, held: 15 s, temperature: 70 degF, gauge: 0.05 V}]"), on("2026-03-05", reading("battery voltage under load", "10.5 V", "gauge: 0.05 V"))}}, measured("battery voltage under load", Wrong, false)},
		{"one inside both mends it", rig{machine: "limits: [{what: leakage current, limit: \"<= 5 mA\", source: mine}]", entries: []string{on("2026-03-02", "tests: [{test: leakage current, current: 4.5 mA, path: touch, gauge: 0.1 mA}]"), on("2026-03-05", reading("leakage current", "0.2 mA", "gauge: 0.1 mA"))}}, measured("leakage current", InOrder, false)},
		{"wherever in the log the test stands", rig{machine: "limits: [{what: leakage current, limit: \"<= 5 mA\", source: mine}]", entries: []string{on("2026-03-02", reading("leakage current", "0.9 mA", "gauge: 0.1 mA")), on("2026-03-02", "tests: [{test: leakage current, current: 0.2 mA, path: touch, gauge: 0.1 mA}]")}}, measured("leakage current", Wrong, true)},
		{"and a test inside it mends a reading before it", rig{machine: "limits: [{what: leakage current, limit: \"<= 5 mA\", source: mine}]", entries: []string{on("2026-03-02", reading("leakage current", "0.9 mA", "gauge: 0.1 mA")), on("2026-03-05", "tests: [{test: leakage current, current: 0.2 mA, path: touch, gauge: 0.1 mA}]")}}, measured("leakage current", InOrder, false)},
		{"of two published limits nobody can tell which is a plain reading's", rig{entries: []string{on("2026-03-02", "tests: [{test: leakage current, current: 0.2 mA, path: touch, gauge: 0.1 mA}, {test: leakage current, current: 1 mA, path: ground wire, gauge: 0.1 mA}]"), on("2026-03-05", reading("leakage current", "1 mA", "gauge: 0.1 mA"))}}, measured("leakage current", TooClose, true)},
		{"a reading by the test's name is of what the test finds", rig{machine: "limits: [{what: grounding continuity, limit: \"<= 3 ohm\", source: mine}]", entries: []string{on("2026-03-02", "tests: [{test: grounding continuity, resistance: 2 ohm, cord: 3 m, gauge: 0.01 ohm}]"), on("2026-03-05", reading("grounding continuity", "0.9 ohm", "gauge: 0.01 ohm"))}}, measured("ground path resistance", Wrong, true)},
		{"what no reading may be beyond is wrong without any limit of the shop's", rig{entries: []string{on("2026-03-02", reading("leakage current", "4 mA", "gauge: 0.1 mA"))}}, measured("leakage current", Wrong, true)},
		{"and says nothing within that", rig{entries: []string{on("2026-03-02", reading("leakage current", "3 mA", "gauge: 0.1 mA"))}}, measured("leakage current", NoLimit, true)},
		{"a published limit holds where the shop gives none", rig{entries: []string{on("2026-03-02", reading("blade tip speed", "18000 ft/min", "gauge: 100 ft/min"))}}, measured("blade tip speed", InOrder, false)},
		{"the published limit of a stopping time is that of walk-behind mowers", rig{machine: "kind: walk-behind mower", entries: []string{on("2026-03-02", reading("blade stopping time", "9 s"))}}, measured("blade stopping time", Wrong, true)},
		{"and of no other machine", rig{entries: []string{on("2026-03-02", reading("blade stopping time", "9 s"))}}, measured("blade stopping time", NoLimit, true)},
		{"governed speed is a safety matter on a machine with a blade", rig{sheet: "sheet: test rig\nblade: yes\nitems:\n  - {item: it cuts, system: implement, safety: no}", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, measured("governed speed", NoLimit, true)},
		{"and on a generator", rig{sheet: "sheet: test rig\ngenerator: yes\nitems:\n  - {item: it cuts, system: implement, safety: no}", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, measured("governed speed", NoLimit, true)},
		{"and not elsewhere", rig{sheet: "sheet: test rig\nitems:\n  - {item: it cuts, system: implement, safety: no}", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, measured("governed speed", NoLimit, false)},
		{"what affects names by its test is out of date", rig{entries: []string{on("2026-03-02", "tests: [{test: insulation resistance, resistance: 80 Mohm, temperature: 68 degF, winding: random-wound, rated_volts: 240 V}]"), on("2026-03-03", part("belt", "system: drive", "affects: [insulation resistance]"))}}, measured("insulation resistance at 40 degC", OutOfDate, true)},
		{"a limit of a safety matter makes it one", rig{machine: limits, entries: []string{on("2026-03-02", reading("lever force", "30 N*m"))}}, measured("lever force", Wrong, true)},
		{"a reading of the brakes is a safety matter", rig{entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: brakes"))}}, measured("pad", NoLimit, true)},
		{"full speed is the governed one", rig{sheet: "sheet: test rig\ngenerator: yes\nitems:\n  - {item: it cuts, system: implement, safety: no}", entries: []string{on("2026-03-02", reading("full speed", "3600 rpm"))}}, measured("full speed", NoLimit, true)},
		{"what answers a safety point is a safety matter", rig{entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, measured("governed speed", NoLimit, true)},
		{"a reading elsewhere is none", rig{entries: []string{on("2026-03-02", reading("pad", "2 mm", "system: drive"))}}, measured("pad", NoLimit, false)},
		{"a test outside its published limit is wrong and open", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]")}}, measured("blade stopping time", Wrong, true)},
		{"a test outside fails the point that it answers", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]")}}, wantPoint(stop, Wrong, true)},
		{"a test inside answers it", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]")}}, wantPoint(stop, InOrder, false)},
		{"a test that is too close leaves it so", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2.9 s, gauge: 0.2 s}]")}}, wantPoint(stop, TooClose, true)},
		{"where a check says otherwise the worse stands", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 9 s, gauge: 0.2 s}]"), on("2026-03-03", check(stop, "works"))}}, wantPoint(stop, Wrong, true)},
		{"a check that fails beside a test that passes", rig{entries: []string{on("2026-03-02", "tests: [{test: blade stopping time, mower: walk-behind rotary, time: 2 s, gauge: 0.2 s}]"), on("2026-03-03", check(stop, "fails"))}}, wantPoint(stop, Wrong, true)},
		{"a reading without a limit leaves the point without a verdict", rig{entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, wantPoint(full, NoLimit, true)},
		{"a reading of full speed is one of the governed speed", rig{entries: []string{on("2026-03-02", reading("full speed", "3600 rpm"))}}, wantPoint(full, NoLimit, true)},
		{"and so is a limit of it", rig{machine: "limits: [{what: full speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", reading("governed speed", "3800 rpm", "gauge: 10 rpm"))}}, wantPoint(full, Wrong, true)},
		{"a reading inside its limit answers the point", rig{machine: "limits: [{what: governed speed, limit: \"<= 3700 rpm\"}]", entries: []string{on("2026-03-02", reading("governed speed", "3600 rpm"))}}, wantPoint(full, InOrder, false)},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

// TestRulesOfChangesAndParts holds the judge against the rules of changes,
// missing parts, the list and the meter.
func TestRulesOfChangesAndParts(t *testing.T) {
	guards := changes("stronger guard", "key: guard", "system: guards", "adds: yes")
	for _, tc := range []struct {
		rule string
		rig
		want want
	}{
		{"a change of which safety is not said is open", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine"))}}, want{KindChange, "bigger jet", Changed, true}},
		{"one that cannot hurt is not", rig{entries: []string{on("2026-03-02", changes("bigger jet", "system: engine", "safety: no"))}}, want{KindChange, "bigger jet", Changed, false}},
		{"one of the guards is, whatever it says", rig{entries: []string{on("2026-03-02", changes("no flap", "system: guards", "safety: no"))}}, want{KindChange, "no flap", Changed, true}},
		{"put back it is in order", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine")), on("2026-03-03", "put_back: [{key: jet, how: the old jet again}]")}}, want{KindChange, "bigger jet", InOrder, false}},
		{"changed again it is changed", rig{entries: []string{on("2026-03-02", changes("bigger jet", "key: jet", "system: engine")), on("2026-03-03", "put_back: [{key: jet, how: the old jet again}]"), on("2026-03-04", changes("bigger jet", "key: jet", "system: engine"))}}, want{KindChange, "bigger jet", Changed, true}},
		{"a stronger guard is open until a point passes", rig{entries: []string{on("2026-03-02", guards)}}, want{KindChange, "stronger guard", Changed, true}},
		{"and not open after it", rig{entries: []string{on("2026-03-02", guards), on("2026-03-03", check(guard, "works"))}}, want{KindChange, "stronger guard", Changed, false}},
		{"a point of another system does not do", rig{entries: []string{on("2026-03-02", guards), on("2026-03-03", check(brake, "works"))}}, want{KindChange, "stronger guard", Changed, true}},
		{"a point that passed before does not do", rig{entries: []string{on("2026-03-01", check(guard, "works")), on("2026-03-02", guards)}}, want{KindChange, "stronger guard", Changed, true}},
		{"a change that adds nothing stays open", rig{entries: []string{on("2026-03-02", changes("other guard", "system: guards")), on("2026-03-03", check(guard, "works"))}}, want{KindChange, "other guard", Changed, true}},

		{"a missing part of which safety is not said is open", rig{machine: "missing: [depth skid]"}, want{KindMissing, "depth skid", Missing, true}},
		{"one that cannot hurt is not", rig{machine: "missing: [{part: knob, safety: no}]"}, want{KindMissing, "knob", Missing, false}},
		{"one of the guards is, whatever it says", rig{machine: "missing: [{part: flap, system: guards, safety: no}]"}, want{KindMissing, "flap", Missing, true}},
		{"a part of its exact name replaces it", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("Depth skid", "system: frame"))}}, want{KindMissing, "depth skid", InOrder, false}},
		{"a part that says so replaces it", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("bent bar", "system: frame", "replaces: depth skid"))}}, want{KindMissing, "depth skid", InOrder, false}},
		{"a longer name does not", rig{machine: "missing: [blade guard]", entries: []string{on("2026-03-02", part("\"blade guard, on order\"", "system: guards"))}}, want{KindMissing, "blade guard", Missing, true}},
		{"one that was not fitted does not", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("depth skid", "system: frame", "fate: not fitted"))}}, want{KindMissing, "depth skid", Missing, true}},
		{"nor one that put in and taken out in one evening", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", "parts: [{part: depth skid, source: new, system: frame, fate: taken out again}, {part: depth skid, source: new, system: frame}]")}}, want{KindMissing, "depth skid", Missing, true}},
		{"one that taken out again does not", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("depth skid", "system: frame")), on("2026-03-03", part("depth skid", "system: frame", "fate: taken out again"))}}, want{KindMissing, "depth skid", Missing, true}},

		{"one that was put in and went back to the seller does not", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("depth skid", "system: frame")), on("2026-03-03", part("depth skid", "system: frame", "fate: returned"))}}, want{KindMissing, "depth skid", Missing, true}},
		{"one that went back before another was put in does", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", part("depth skid", "system: frame", "fate: returned")), on("2026-03-03", part("depth skid", "system: frame"))}}, want{KindMissing, "depth skid", InOrder, false}},
		{"nor does one too many of the same evening take it out", rig{machine: "missing: [depth skid]", entries: []string{on("2026-03-02", "parts: [{part: depth skid, source: new, system: frame}, {part: depth skid, source: new, system: frame, fate: returned}]")}}, want{KindMissing, "depth skid", InOrder, false}},
		{"a defect that left with what wears out, which came out again", rig{entries: []string{on("2026-03-02", defects("plug", "it fouls its plug", "ignition", "safety: no"), part("plug", "system: ignition", "consumable: yes"), "gone: [{key: plug, with: plug}]"), on("2026-03-04", part("plug", "system: ignition", "consumable: yes", "fate: taken out again"))}}, wantDefect("plug", NotProven, false)},
		{"and with what still is in it", rig{entries: []string{on("2026-03-02", defects("plug", "it fouls its plug", "ignition", "safety: no"), part("plug", "system: ignition", "consumable: yes"), "gone: [{key: plug, with: plug}]"), on("2026-03-04", part("filter", "system: engine", "consumable: yes", "fate: taken out again"))}}, wantDefect("plug", InOrder, false)},
		{"a part that went back came out, and that is work", rig{entries: []string{on("2026-03-02", part("belt guard", "system: guards")), on("2026-03-03", check(guard, "works")), on("2026-03-04", part("belt guard", "system: guards", "fate: returned"))}}, wantPoint(guard, OutOfDate, true)},
		{"one that never was in it is none", rig{entries: []string{on("2026-03-03", check(guard, "works")), on("2026-03-04", part("belt guard", "system: guards", "fate: returned"))}}, wantPoint(guard, InOrder, false)},

		{"a kind with a sheet has its list", rig{}, want{KindList, "list of points", InOrder, false}},
		{"a kind without one has none, and that is a safety matter", rig{machine: "kind: cider press"}, want{KindList, "no list for this kind of machine", Missing, true}},
		{"a sheet named for another kind is no list of its own", rig{machine: "kind: cider press\nsheet: rig"}, want{KindList, "no list for this kind of machine", Missing, true}},
		{"an empty sheet of its own is no list", rig{sheet: "sheet: test rig"}, want{KindList, "no list for this kind of machine", Missing, true}},

		{"a meter of which nothing is said is not checked", rig{entries: []string{on("2026-03-02", "meter: 412.6 h")}}, want{KindMeter, "hour meter", NotChecked, false}},
		{"one that the shop calls right is in order", rig{machine: "meter_true: yes", entries: []string{on("2026-03-02", "meter: 412.6 h")}}, want{KindMeter, "hour meter", InOrder, false}},
		{"one that the shop calls wrong is wrong", rig{machine: "meter_true: no", entries: []string{on("2026-03-02", "meter: 412.6 h")}}, want{KindMeter, "hour meter", Wrong, false}},
		{"not known is not checked", rig{machine: "meter_true: not known", entries: []string{on("2026-03-02", "meter: 412.6 h")}}, want{KindMeter, "hour meter", NotChecked, false}},
		{"a broken one is wrong", rig{entries: []string{on("2026-03-02", "meter: broken")}}, want{KindMeter, "hour meter", Wrong, false}},
		{"a broken one that was read since is not", rig{entries: []string{on("2026-03-02", "meter: broken"), on("2026-03-03", "meter: 412.6 h")}}, want{KindMeter, "hour meter", NotChecked, false}},
		{"a broken one that was replaced is not", rig{entries: []string{on("2026-03-02", "meter: broken"), on("2026-03-03", "meter_replaced: {old: broken, new: 0 h}")}}, want{KindMeter, "hour meter", NotChecked, false}},
		{"a right one that the log has no reading of is not in order", rig{machine: "meter_true: yes"}, want{KindMeter, "hour meter", NotChecked, false}},
		{"a machine without one", rig{entries: []string{on("2026-03-02", "meter: none")}}, want{KindMeter, "hour meter", DoesNotApply, false}},
	} {
		t.Run(tc.rule, func(t *testing.T) { tc.want.holds(t, tc.rig.judge(t)) })
	}
}

func TestSafetyIsTheGraver(t *testing.T) {
	for _, tc := range []struct{ a, b, want logbook.Safety }{
		{logbook.SafetyYes, logbook.SafetyNo, logbook.SafetyYes}, {logbook.SafetyNo, logbook.SafetyYes, logbook.SafetyYes},
		{logbook.NotSaid, logbook.SafetyNo, logbook.NotSaid}, {logbook.SafetyNo, logbook.NotSaid, logbook.NotSaid},
		{logbook.NotSaid, logbook.SafetyYes, logbook.SafetyYes}, {logbook.SafetyNo, logbook.SafetyNo, logbook.SafetyNo},
	} {
		if got := tc.a.Graver(tc.b); got != tc.want {
			t.Errorf("of %q and %q the graver is %q, want %q", tc.a, tc.b, got, tc.want)
		}
	}
}

// wheels is a machine with a point that play answers, measured at two wheels.
func wheels(said ...string) rig {
	r := rig{sheet: "sheet: test rig\nitems:\n  - {item: the wheels sit tight, short: wheels, system: drive, safety: yes, answered_by: [play]}\n", machine: "limits: [{what: play, limit: <= 2 mm, source: the manual, system: drive}]"}
	for i, s := range said {
		r.entries = append(r.entries, on(fmt.Sprintf("2026-03-%02d", i+2), s))
	}
	return r
}

const twoWheels = "measured: [{what: play, where: left, value: 1 mm, gauge: 0.1 mm}, {what: play, where: right, value: 1 mm, gauge: 0.1 mm}]"

var shim = part("shim", "system: drive")

func play(where, value string) string {
	return reading("play", value, "gauge: 0.1 mm", "where: "+where)
}
