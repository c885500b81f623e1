package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// governorTest is the governed speed, its droop from no load to full load, and how far
// it hunts at a steady load. Droop is of the rated speed (TM 9-6115-464-34, 4-14) or of
// the full-load speed (TM 55-1930-209-14&P-9-2); both are told. Hunting is a continuous
// fluctuation above and below the wanted speed (Navy course Engineman 3, ch. 9). The
// limits are the maker's.
var _ = add(kind{
	name: "governor", also: []string{"governor droop", "governor hunting", "governed speed", "top speed", "full speed", "no load speed"}, system: "engine",
	results: []string{"governed speed", "speed droop", "hunting"}, reads: "governed speed", readAs: []string{"full speed"},
	about: "bench.governor.about", caution: "bench.caution.running", source: "bench.governor.source",
	inputs: []input{
		measure("no_load", quantity.RotationalSpeed, "bench.governor.no-load").needed(),
		measure("full_load", quantity.RotationalSpeed, "bench.governor.full-load"),
		measure("rated", quantity.RotationalSpeed, "bench.governor.rated"),
		measure("high", quantity.RotationalSpeed, "bench.governor.high"),
		measure("low", quantity.RotationalSpeed, "bench.governor.low"),
		accuracy("gauge", quantity.RotationalSpeed),
	},
	example: `{test: governor, no_load: 3720 rpm, full_load: 3600 rpm, rated: 3600 rpm, high: 3730 rpm, low: 3710 rpm, gauge: 5 rpm}`,
	run:     runGovernor,
})

func runGovernor(b *bench) {
	if b.has("high") || b.has("low") {
		b.need("high", "low")
	}
	none := b.reading("no_load")
	verdict := b.whisker(finding{what: "governed speed", value: none, main: true})
	b.sayFor(verdict, "bench.governor.inside", sides{"bench.governor.slow", "bench.governor.fast"})
	if b.has("full_load") {
		b.speedDroop(none, b.reading("full_load"))
	}
	if b.has("high") {
		b.hunting()
	}
}

// speedDroop adds the fall in speed, of the rated and of the full-load speed.
func (b *bench) speedDroop(none, full reading) {
	if none.Base().Cmp(full.Base()) < 0 {
		rise := b.difference(full, none)
		b.find(finding{what: "speed change under load", value: rise})
		if rise.least().Sign() > 0 {
			b.say("bench.governor.rise")
		} else {
			b.say("bench.other.no-change")
		}
		return
	}
	verdict := b.sum(finding{what: "speed droop, of the full-load speed"}, quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
		return quotient(minus(x[0], x[1]), x[1])
	}, none, full)
	if b.has("rated") {
		verdict = b.sum(finding{what: "speed droop"}, quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
			return quotient(minus(x[0], x[1]), x[2])
		}, none, full, b.fixed("rated"))
	}
	b.say("bench.governor.droop", "value", b.last().Value)
	if verdict == quantity.Outside {
		b.say(sides{"bench.other.below", "bench.governor.droops"}.beyond(*b.last()), "value", b.last().Value, "limit", LimitSaid(b.words, b.last().Limit))
	}
}

// hunting adds how far the speed swings by itself.
func (b *bench) hunting() {
	r := b.swing()
	verdict := b.find(finding{what: "hunting", value: r})
	switch {
	case verdict == quantity.Outside:
		b.say("bench.governor.hunts", "value", b.last().Value)
	case r.least().Sign() <= 0:
		b.say("bench.governor.steady")
	default:
		b.say("bench.governor.swings", "value", b.last().Value)
	}
}
