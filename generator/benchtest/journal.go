package benchtest

import "asleft/generator/quantity"

// journal is the wear of a crankshaft journal: out-of-round and taper as in a
// bore, wear from the size when new, and the room for oil in its bearing. The
// published limit, 0.0004 in of out-of-round for each inch of diameter, is from
// U.S. Army TM 10-3930-647-14&P (one engine's main and rod journals).
var journal = kind{
	name: "journal", also: []string{"crankshaft journal", "crankpin"}, system: "engine",
	results: []string{"journal wear", "journal out-of-round", "journal taper", "oil clearance"},
	about:   "bench.journal.about", caution: "bench.journal.caution", source: "bench.journal.source",
	inputs: []input{
		measure("front", quantity.Length, "bench.journal.front").needed().split("upright", "crosswise"),
		measure("rear", quantity.Length, "bench.journal.rear").needed().split("upright", "crosswise"),
		measure("standard", quantity.Length, "bench.journal.standard"),
		measure("bearing", quantity.Length, "bench.journal.bearing"),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: journal, front: [0.9990 in, 0.9986 in], rear: [0.9989 in, 0.9987 in], standard: 1.0000 in, bearing: 1.0010 in, gauge: 0.0001 in}`,
	run:     runJournal,
}

func runJournal(b *bench) {
	all := b.readingsOf("front", "rear")
	thin, thick := outermost(all, openBelow), outermost(all, openAbove)
	size := thick
	if b.has("standard") {
		size = reading{Quantity: b.one("standard")}
	}
	b.nearStandard(size, "front", "rear", "bearing")
	findings := []finding{
		{what: "journal out-of-round", trials: b.outOfRound("front", "rear"), published: partOf(size, 4, 10000, "bench.source.army-journal")},
		{what: "journal taper", trials: b.taper("front", "rear")},
	}
	if b.has("standard") {
		var wear []reading
		for _, r := range all {
			wear = append(wear, b.difference(size, r))
		}
		findings = append(findings, finding{what: "journal wear", trials: wear, floor: below(size)})
	}
	b.against(sides{above: "bench.journal.worn"}, findings...)
	b.oilClearance(thin, thick)
}

// oilClearance is the room between bearing and journal, where the journal is
// thickest and where it is thinnest.
func (b *bench) oilClearance(thin, thick reading) {
	if !b.has("bearing") {
		return
	}
	bearing := b.reading("bearing")
	if bearing.Base().Cmp(thick.Base()) <= 0 {
		b.refuse("bearing", "problem.bench-bearing-too-small", "read", bearing, "journal", thick)
	}
	b.against(sides{below: "bench.journal.tight", above: "bench.journal.loose"},
		finding{what: "oil clearance", where: "least", part: true, value: b.difference(bearing, thick)},
		finding{what: "oil clearance", where: "greatest", part: true, value: b.difference(bearing, thin)})
}
