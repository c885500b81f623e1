package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// crankcaseLeak is what a two-stroke's closed crankcase loses of a pressure or a
// vacuum. About 7 psi watched for 10 s (Northern Woodlands, How to leak check, read at
// second hand) and a vacuum of 0.5 bar that stays for 20 s (one maker of saws) are
// common practice; no limit was found.
var _ = add(kind{
	name: "crankcase leak", also: []string{"two-stroke pressure test", "two-stroke vacuum test"}, system: "engine",
	results: []string{"crankcase leak by pressure", "crankcase leak by vacuum"},
	about:   "bench.crankcase.about", caution: "bench.crankcase.caution", source: "bench.crankcase.source",
	inputs: []input{
		choice("with", "bench.crankcase.with", "pressure", "vacuum").needed(),
		measure("start", quantity.Pressure, "bench.crankcase.start").such("7 psi").needed(),
		measure("end", quantity.Pressure, "bench.crankcase.end").such("6.8 psi").orZero().needed(),
		measure("time", quantity.Time, "bench.crankcase.time").such("20 s").needed(),
		accuracy("gauge", quantity.Pressure),
	},
	example: `{test: crankcase leak, with: pressure, start: 7.0 psi, end: 6.8 psi, time: 20 s, gauge: 0.1 psi}`,
	run:     runCrankcase,
})

func runCrankcase(b *bench) {
	start, end := b.reading("start"), b.reading("end")
	lost := b.difference(start, end)
	if lost.Sign() < 0 {
		b.refuse("end", "problem.bench-leak-rose", "read", end, "start", start)
	}
	verdict := b.find(finding{what: "crankcase leak by " + b.word("with"), value: lost, main: true})
	b.sum(finding{what: "leak in a minute"}, start.Unit(), 2, func(x []*big.Rat) *big.Rat {
		return quotient(times(minus(x[0], x[1]), big.NewRat(60, 1)), x[2])
	}, start, end, b.fixed("time"))
	switch {
	case verdict != quantity.NotLimited:
		b.sayFor(verdict, "bench.crankcase.inside", sides{above: "bench.crankcase.leaks"})
	case lost.least().Sign() <= 0:
		b.say("bench.crankcase.held", "time", b.one("time"))
	case end.Sign() == 0:
		b.say("bench.crankcase.leaks", "value", lost)
	default:
		b.say("bench.crankcase.lost", "value", lost, "time", b.one("time"))
		b.say("bench.crankcase.no-figure")
	}
	if b.byStrokes("four", "", "") == "four" {
		b.say("bench.crankcase.four-stroke")
	}
	if b.word("with") == "pressure" {
		b.say("bench.crankcase.other")
	}
}
