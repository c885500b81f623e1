package logbook

import "testing"

// Each field of the first design, as it was written then and alone in its file, is
// read without a problem: a folder that worked once works for ever.
func TestFieldsOfTheFirstDesign(t *testing.T) {
	const defect = "defects: [{key: seal, defect: the seal leaks, system: drive}]\n"
	for _, fields := range []string{
		"", "time: \"18:30\"", "by: JM", "hours: 2.5", "hours: \"2:30\"",
		`hours: [{from: "18:30", to: "00:15", less: "0:20", task: teardown, by: JM}]`,
		"meter: 412.6 h", "meter: unknown", "meter_replaced: {old: 412.6 h, new: 0 h}", `ran: "0:45"`,
		"checks: [{item: the rope holds, result: fails, note: it slips, system: frame}]",
		"diagnosis: [{tried: cold oil, saw: it whined, so: it sucks air, system: hydraulics}]",
		"measured: [{what: end play, where: crankshaft, value: 0.011 in, gauge: 0.001 in, state: cold}]",
		"measured: [{what: end play, value: 0.011 in}]",
		"tests: [{test: battery at rest, volts: 12.31 V, temperature: 54 degF}]",
		"parts: [{part: head gasket, source: new}]",
		"parts: [{part: head gasket, number: \"1\", qty: 1, each: 14.25, source: new, system: engine}]",
		"parts: [{part: head gasket, each: 14.25, source: used, core: {deposit: 15.00, returned: 2026-04-01}, tax: 6 %, shipping: 4.50}]",
		"parts: [{part: a, source: rebuilt}, {part: b, source: made}, {part: c, source: on hand}]",
		"costs: [{for: fetching it, amount: 22.00}]",
		defect, "defects: [{key: seal, defect: the seal leaks, effect: it runs low, system: drive, safety: no}]",
		defect + "repaired: [{key: seal, how: a new seal}]",
		defect + "repaired: [{key: seal, how: a new seal, proof: tilled an hour and the level had not moved}]",
		defect + "worked_around: [{key: seal, how: fed with grease, left: the shaft is worn}]",
		"changed: [{what: reverse is blocked off, why: the pinion has two broken teeth, system: drive, affects: [drive], caution: it does not back up}]",
		"private: |\n  not for the site",
	} {
		if _, problems := entry(t, fields, "A story.\n"); len(problems) > 0 {
			t.Errorf("%s: %v", fields, problems)
		}
	}
	for _, fields := range []string{
		"", "kind: walk-behind tiller", "maker: A", "model: B", "serial: \"1\"", "year: 1974", "year: about 1974",
		"stage: in the shop", "stage: for sale", "stage: keeping", "stage: parted out", "asking: 425.00",
		"stage: sold\nsold: {date: 2026-05-02, price: 400.00, buyer: a neighbor}", "bought: {from: a neighbor, paid: 40.00}",
		"story: it sat in a barn", "engine: {strokes: 4, cylinders: 1, bore: 68 mm, stroke: 54 mm, fuel: gasoline}", "missing: [depth skid]",
		"limits: [{what: compression, where: cylinder 1, limit: \">= 60 psi\", source: \"maker's sheet\"}]", "private: |\n  not for the site",
	} {
		_, problems := readAll(t, folder(t, shopFile+machineOf(fields)), nil)
		if len(problems) > 0 {
			t.Errorf("%s: %v", fields, problems)
		}
	}
}
