package condition

// What a report says of parts, service, odometers and plates, each at all that
// makes a difference; the sentences stand in the golden file of TestSaidWhole.
func init() { wholes = append(wholes, kept...) }

// serviced is an evening of service of one thing.
func serviced(day, fields, service string) string {
	return on(day, fields, "service: [{"+service+"}]")
}

const (
	oilEach25 = "what: engine oil, amount: 20 fl oz, grade: SAE 30, system: engine, every: 25 h"
	grease    = "what: grease, system: drive, every: 6 months"
)

var kept = []whole{
	{"parts as they were bought, and for how long they are warranted", rig{entries: []string{on("2026-03-02", "parts: ["+
		"{part: seal, number: \"12\", supersedes: \"9\", qty: 2, source: new, vendor: the counter, system: drive}, "+
		"{part: belt, number: \"7\", source: new, vendor: the counter, warranty: 90 days, system: drive}, "+
		"{part: pump, source: rebuilt, warranty: 1 year, system: fuel}, {part: cap, source: new, warranty: for life, system: fuel}, "+
		"{part: hose, source: new, warranty: 1 year, fate: returned, system: fuel}, {part: gear oil, qty: 1.1 qt, source: on hand, system: drive}, "+
		"{part: wire, qty: 0.5, source: on hand, system: electrical}, {part: tire, source: new, supplied_by: owner, system: tires}, "+
		"{part: knob, source: salvaged, system: controls}, {part: pin, supersedes: \"4\", source: made, system: drive}]"),
		on("2026-03-03", "parts: [{part: bolt, source: used, system: frame}]")}}, "hours"},
	{"service once, by the meter", rig{entries: []string{serviced("2026-03-02", "meter: 400 h", oilEach25)}}, "hours"},
	{"service several times, and long ago", rig{entries: []string{serviced("about 2026-01", "", "what: grease, grade: lithium"), serviced("2026-03-02", "", "what: grease, amount: a dab, answers: [it starts cold]"), serviced("2026-03-02", "", "what: grease, amount: a dab, every: spring")}}, "hours"},
	{"service more often than it is told day by day", rig{entries: []string{serviced("2026-01-02", "", grease), serviced("2026-01-03", "", grease), serviced("2026-01-04", "", grease), serviced("2026-01-05", "", grease), serviced("2026-01-06", "", grease), serviced("2026-01-07", "", grease), serviced("2026-01-08", "", grease)}}, "hours"},
	{"service six times is told day by day", rig{entries: []string{serviced("2026-01-02", "", grease), serviced("2026-01-03", "", grease), serviced("2026-01-04", "", grease), serviced("2026-01-05", "", grease), serviced("2026-01-06", "", grease), serviced("2026-01-07", "", grease)}}, "hours"},
	{"service that is past by the meter", rig{entries: []string{serviced("2026-03-02", "meter: 400 h", oilEach25), on("2026-03-03", "meter: 430 h")}}, "hours"},
	{"and on the front sheet", rig{entries: []string{serviced("2026-03-02", "meter: 400 h", oilEach25), on("2026-03-03", "meter: 430 h")}}, "front unwritten"},
	{"a machine that was parted out needs no service", rig{machine: "stage: parted out", entries: []string{serviced("2026-03-02", "meter: 400 h", oilEach25), on("2026-03-03", "meter: 430 h")}}, "hours"},
	{"and none on its front sheet", rig{machine: "stage: parted out", entries: []string{serviced("2026-03-02", "meter: 400 h", oilEach25), on("2026-03-03", "meter: 430 h")}}, "front unwritten"},
	{"service by miles or by date, of which one is past", rig{entries: []string{serviced("2026-03-02", "odometer: 4200 mi", "what: chain, every: 500 mi or 1 year"), on("2026-03-03", "odometer: 4800 mi")}}, "hours"},
	{"service by miles or by date", rig{entries: []string{serviced("2026-03-02", "odometer: 4200 mi", "what: chain, every: 500 mi or 1 year")}}, "hours"},
	{"an odometer stands on the front sheet, and no hour meter that nobody wrote of", rig{entries: []string{on("2026-03-02", "odometer: 4200 mi")}}, "front hours"},
	{"an hour meter beside it does", rig{entries: []string{on("2026-03-02", "odometer: 4200 mi", "meter: 12 h")}}, "front hours"},
	{"and so does what the shop says of the meter", rig{machine: "meter_true: not known", entries: []string{on("2026-03-02", "odometer: 4200 mi")}}, "front hours"},
	{"and a meter that was changed", rig{entries: []string{on("2026-03-02", "odometer: 4200 mi", "meter_replaced: {old: unknown, new: 0 h}")}}, "front hours"},
	{"an odometer that cannot be read", rig{entries: []string{on("2026-03-02", "odometer: broken")}}, "hours"},
	{"and on the front sheet that too", rig{entries: []string{on("2026-03-02", "odometer: broken")}}, "front hours"},
	{"what stands on the plates, and what comes with it", rig{machine: "motor: {power: 1 hp, volts: 115/230 V, phases: 1}\nalternator: {volts: 120}\nbattery: [{name: left, kind: lead-acid, cells: 6}, {name: right, cells: 1}]\nattachments: [{name: blade, maker: Pellworth, note: bent}, {name: cart}]"}, "hours"},
	{"a plate without a figure says nothing", rig{machine: "motor: {name: spindle}"}, "hours"},
	{"of a machine without an engine its running is told without one", rig{machine: "has: {engine: no}", entries: []string{on("2026-03-02", part("plug", "system: engine"), `ran: "0:20"`)}}, "hours"},
	{"or that nobody wrote it", rig{machine: "has: {engine: no}", entries: []string{on("2026-03-02", part("plug", "system: engine"))}}, "hours"},
	{"points of what it does not have are told together", rig{machine: "has: {reverse: no}"}, "not-checked"},
	{"and on the front sheet those of safety", rig{machine: "has: {reverse: no}"}, "front hurt"},
	{"a check and then a fault is no later work", rig{entries: []string{on("2026-03-02", check("the brake holds", "works", "note: ten times")), on("2026-03-03", defects("grab", "the brake grabs", "brakes"))}}, "safety"},
	{"nor on the front sheet", rig{entries: []string{on("2026-03-02", check("the brake holds", "works")), on("2026-03-03", defects("grab", "the brake grabs", "brakes"))}}, "front hurt"},
	{"days that are not exact enough are called that", rig{entries: []string{on("about 2026-03", check("the brake holds", "works")), on("2026-03-03", part("shoe", "system: brakes"))}}, "safety"},
	{"and so are they the other way round", rig{entries: []string{on("2026-03-02", check("the brake holds", "works")), on("2026-03", part("shoe", "system: brakes"))}}, "safety"},
	{"one day that leaves it open is one day", rig{entries: []string{on("2026-03-02", check("the brake holds", "works")), on("2026-03-02", part("shoe", "system: brakes"))}}, "safety"},
	{"what went with its part is told so", rig{entries: []string{on("2026-03-02", defects("lamp", "lamp is dim", "electrical", "safety: no")), on("2026-03-03", part("new lamp", "system: electrical"), "gone: [{key: lamp, with: new lamp}]")}}, "front repaired"},
	{"changes that are open leave none to tell", rig{entries: []string{on("2026-03-02", changes("guard cut away", "system: guards"))}}, "changed"},
	{"a conclusion is told with what was tried", rig{entries: []string{on("2026-03-02", "diagnosis: [{tried: swapped the coil, so: not the coil, system: ignition}]")}}, "front unwritten"},
	{"or without, where nobody wrote it", rig{entries: []string{on("2026-03-02", "diagnosis: [{saw: no spark, so: not the coil, system: ignition}]")}}, "front unwritten"},
}
