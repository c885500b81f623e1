package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// tapDrill is the drill for a thread, its diameter less its pitch, and how much thread a
// drill leaves: TPI (D - d)/0.01299 in %, or 76.98 (D - d)/P. A tool makers' booklet
// (read at second hand) has 5/16 in for 3/8-16 and 8.5 mm for M10 x 1.5, which both leave
// 77.0 %.
var _ = add(kind{
	name: "tap drill", also: []string{"thread percentage"}, system: "frame",
	results: []string{"share of full thread"},
	about:   "bench.tap.about", caution: "bench.tap.caution", source: "bench.tap.source",
	inputs: []input{
		measure("diameter", quantity.Length, "bench.torque.diameter").such("0.375 in").needed(),
		measure("pitch", quantity.Length, "bench.torque.pitch").such("1.5 mm"),
		measure("threads", quantity.ThreadCount, "bench.tap.threads"),
		measure("drill", quantity.Length, "bench.tap.drill").such("0.3125 in"),
		accuracy("gauge", quantity.Length).reads("drill"),
	},
	example: `{test: tap drill, diameter: 0.375 in, threads: 16 TPI, drill: 0.3125 in, gauge: 0.001 in}`,
	run:     runTapDrill,
})

func runTapDrill(b *bench) {
	if b.has("pitch") == b.has("threads") {
		b.refuse("threads", "problem.bench-pitch-or-threads")
	}
	// The pitch in m: as it is, or an inch over the threads to the inch.
	pitch, apart := b.fixed("pitch"), func(x *big.Rat) *big.Rat { return x }
	if b.has("threads") {
		pitch, apart = b.fixed("threads"), func(x *big.Rat) *big.Rat { return quotient(big.NewRat(254, 10_000), x) }
	}
	size := b.fixed("diameter")
	b.sum(finding{what: "drill for the thread"}, size.Unit(), 4, func(x []*big.Rat) *big.Rat {
		if d := minus(x[0], apart(x[1])); d.Sign() > 0 {
			return d
		}
		return nil
	}, size, pitch)
	b.say("bench.tap.says", "value", b.last().Value)
	if !b.has("drill") {
		return
	}
	drill := b.reading("drill")
	if drill.Base().Cmp(size.Base()) >= 0 {
		b.refuse("drill", "problem.bench-drill", "read", drill, "diameter", size)
	}
	b.sum(finding{what: "share of full thread"}, quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
		return quotient(times(big.NewRat(7698, 10_000), minus(x[0], x[2])), apart(x[1]))
	}, size, pitch, drill)
	b.say("bench.tap.share", "value", b.last().Value)
}
