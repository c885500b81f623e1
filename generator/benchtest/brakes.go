package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// parkingBrake is whether the brake holds the machine on a slope. No rule with a
// figure was read, so there is no limit but the maker's.
var _ = add(kind{
	name: "parking brake", also: []string{"parking brake hold"}, system: "brakes", safety: true,
	about: "bench.parking.about", caution: "bench.parking.caution", source: "bench.source.maker-only",
	inputs: []input{
		measure("creep", quantity.Length, "bench.parking.creep").such("0 in").orZero().needed(),
		measure("slope", quantity.Angle, "bench.parking.slope").such("10 deg").needed(),
		measure("time", quantity.Time, "bench.parking.time").such("60 s").needed(),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: parking brake, creep: 0 in, slope: 10 deg, time: 60 s}`,
	run: func(b *bench) {
		r := b.reading("creep")
		verdict := b.find(finding{what: "parking brake", value: r, main: true})
		key := "bench.parking.crept"
		switch {
		case r.Sign() == 0:
			key = "bench.parking.held"
		case verdict == quantity.Inside:
			key = "bench.parking.inside"
		}
		b.say(key, "creep", b.last().Value, "slope", b.fixed("slope"), "time", b.fixed("time"))
		if verdict == quantity.NotLimited {
			b.say("bench.parking.no-limit")
		}
	},
})

// chainBrake is how long the chain of a saw runs after its brake is thrown. ISO 6535
// has the way to measure it and no figure; those that are remembered were not read.
var _ = add(kind{
	name: "chain brake stopping time", also: []string{"chain brake time"}, system: "guards", safety: true, reads: "chain brake stopping time",
	about: "bench.chain-brake.about", caution: "bench.chain-brake.caution", source: "bench.source.maker-only",
	inputs: []input{
		measure("time", quantity.Time, "bench.chain-brake.time").such("0.11 s").list("bench.label.trial").needed(),
		accuracy("gauge", quantity.Time),
	},
	example: `{test: chain brake stopping time, time: [0.10 s, 0.11 s, 0.12 s], gauge: 0.01 s}`,
	run: func(b *bench) {
		all := b.readings("time")
		f := finding{what: "chain brake stopping time", trials: all, main: true}
		b.sayFor(b.whisker(f), "bench.chain-brake.inside", sides{above: "bench.chain-brake.outside"})
		if len(all) > 1 {
			b.sum(finding{what: "chain brake, mean of the trials"}, quantity.Second, 3, func(x []*big.Rat) *big.Rat { return mean(x) }, all...)
		}
		if b.out.Results[0].Limit == "" {
			b.say("bench.chain-brake.no-limit")
		}
	},
})
