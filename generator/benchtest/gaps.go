package benchtest

import (
	"math/big"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// ringEndGap is the gap of piston rings in their bore. Rules for the gap to
// each inch of bore differ from source to source, so none is a limit here.
var ringEndGap = kind{
	name: "ring end gap", also: []string{"ring gap", "piston ring gap"}, system: "engine",
	about: "bench.ring-gap.about", caution: "bench.ring-gap.caution", source: "bench.ring-gap.source",
	inputs: []input{
		measure("gap", quantity.Length, "bench.ring-gap.gap").needed().list("bench.label.nth"),
		boreInput,
		accuracy("gauge", quantity.Length),
	},
	example: `{test: ring end gap, gap: [0.012 in, 0.014 in], bore: 2.756 in, gauge: 0.001 in}`,
	run:     runRingEndGap,
}

func runRingEndGap(b *bench) {
	size := b.bore()
	b.proceed()
	gaps := b.readings("gap")
	var findings []finding
	for i, g := range gaps {
		if times(g.Base(), big.NewRat(10, 1)).Cmp(size.Base()) > 0 {
			b.refuse("gap", "problem.bench-gap-too-big", "read", g, "bore", size)
		}
		findings = append(findings, finding{what: "ring end gap", where: nth("ring", i, len(gaps), b.test.Where), part: true, value: g, main: true})
	}
	b.against(sides{below: "bench.ring-gap.narrow", above: "bench.ring-gap.wide"}, findings...)
	for i, g := range gaps {
		share := b.derive(quantity.Percent, 2, func(x []*big.Rat) *big.Rat { return quotient(x[0], x[1]) }, g, size)
		b.find(finding{
			what: "gap for each inch of bore", where: nth("ring", i, len(gaps), b.test.Where), part: true, value: reading{Quantity: share.Quantity},
			shown: share.Base().FloatString(4) + " in",
		})
	}
	b.say("bench.ring-gap.sources-differ")
}

// crankshaftEndPlay is how far the crankshaft moves lengthwise.
var crankshaftEndPlay = kind{
	name: "crankshaft end play", also: []string{"end play", "crankshaft endplay"}, system: "engine",
	about: "bench.end-play.about", caution: "bench.end-play.caution", source: "bench.source.none",
	inputs: []input{
		measure("play", quantity.Length, "bench.end-play.play").needed().orZero(),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: crankshaft end play, play: 0.011 in, gauge: 0.001 in}`,
	run: func(b *bench) {
		b.against(sides{below: "bench.end-play.tight", above: "bench.end-play.loose"},
			finding{what: "crankshaft end play", value: b.reading("play"), main: true})
	},
}

// valveClearance is the play in the valve train, engine hot or cold.
var valveClearance = kind{
	name: "valve clearance", also: []string{"valve lash", "tappet clearance"}, system: "engine",
	results: []string{"intake valve clearance", "exhaust valve clearance"},
	about:   "bench.valves.about", caution: "bench.valves.caution", source: "bench.source.none",
	inputs: []input{
		measure("intake", quantity.Length, "bench.valves.intake").orZero().list("bench.label.cylinder"),
		measure("exhaust", quantity.Length, "bench.valves.exhaust").orZero().list("bench.label.cylinder"),
		choice("state", "bench.valves.state", "cold", "hot").needed(),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: valve clearance, intake: 0.005 in, exhaust: 0.007 in, state: cold, gauge: 0.001 in}`,
	run:     runValveClearance,
}

func runValveClearance(b *bench) {
	if !b.has("exhaust") {
		b.need("intake")
	}
	var findings []finding
	shut := false
	for _, valve := range []string{"intake", "exhaust"} {
		read := b.readings(valve)
		if len(read) > 0 {
			b.cylindersFit(valve, len(read))
		}
		for i, r := range read {
			shut = shut || r.Sign() == 0
			findings = append(findings, finding{what: valve + " valve clearance", where: b.cylinder(i, len(read)), part: true, value: r, main: true})
		}
	}
	b.against(sides{below: "bench.valves.tight", above: "bench.valves.loose"}, findings...)
	if shut {
		b.say("bench.valves.shut")
	}
	if b.byStrokes("four", "two", "") == "two" {
		b.say("bench.valves.two-stroke")
	}
	state := "bench.valves.cold"
	if b.word("state") == "hot" {
		state = "bench.valves.hot"
	}
	b.say(state)
}

// runout is the total indicator reading of a shaft or a face in one turn. The
// shaft's center is off by half of it (geometry).
var runout = kind{
	name: "runout", also: []string{"TIR", crankshaftRunout, "total indicator reading"}, system: "engine",
	about: "bench.runout.about", caution: "bench.runout.caution", source: "bench.runout.source",
	inputs: []input{
		measure("tir", quantity.Length, "bench.runout.tir").orZero(),
		measure("high", quantity.Length, "bench.runout.high").signed(),
		measure("low", quantity.Length, "bench.runout.low").signed(),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: runout, where: crankshaft at the blade end, high: 0.003 in, low: -0.002 in, gauge: 0.0005 in}`,
	run:     runRunout,
}

const crankshaftRunout = "crankshaft runout"

func runRunout(b *bench) {
	tir := b.totalReading()
	what := "runout"
	if logbook.Same(b.test.Test, crankshaftRunout) {
		what = crankshaftRunout // of another shaft it says nothing
	}
	b.against(sides{above: "bench.runout.bent"}, finding{what: what, value: tir, main: true})
	b.sum(finding{what: "center off by"}, tir.Unit(), 2, func(x []*big.Rat) *big.Rat { return times(x[0], big.NewRat(1, 2)) }, tir)
}

// totalReading is the span of the dial, as written or from its two ends.
func (b *bench) totalReading() reading {
	if b.has("tir") && (b.has("high") || b.has("low")) {
		b.refuse("tir", "problem.bench-runout-twice")
	}
	if b.has("high") && b.has("low") {
		return b.swing()
	}
	b.need("tir")
	return b.reading("tir")
}

// swing is how far a reading moved between high and low.
func (b *bench) swing() reading {
	high, low := b.reading("high"), b.reading("low")
	if high.Base().Cmp(low.Base()) < 0 {
		b.refuse("high", "problem.bench-high-below-low", "read", high, "low", low)
	}
	return b.difference(high, low)
}
