package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// surfaceSpeed is pi x diameter x speed of a wheel, a cutter or a saw blade, and its
// speed against what is marked on it: the spindle may not be faster than the wheel (WAC
// 296-806-40512). The rest of a grinder stands at most 1/8 in off (30 CFR 56.14115). A wheel
// that is too fast can burst, so the machine's own limit loosens neither.
// Jones, Turning and Boring, 1914: 60 ft/min on 5 in are 46 rpm (45.84 without rounding).
var _ = add(kind{
	name: "surface speed", also: []string{"rim speed", "cutting speed"}, system: "implement",
	results: []string{"speed against its marking", "rest gap"},
	about:   "bench.surface.about", caution: "bench.surface.caution", source: "bench.surface.source",
	inputs: []input{
		measure("diameter", quantity.Length, "bench.surface.diameter").such("6 in").needed(),
		measure("rpm", quantity.RotationalSpeed, "bench.surface.rpm").such("3450 rpm").needed(),
		measure("marked", quantity.RotationalSpeed, "bench.surface.marked").such("4140 rpm"),
		measure("rest", quantity.Length, "bench.surface.rest").such("0.1 in").orZero(),
		accuracy("gauge", quantity.RotationalSpeed).reads("rpm"),
		accuracyOf("length_gauge", quantity.Length, "bench.in.length-gauge"),
	},
	example: `{test: surface speed, diameter: 6 in, rpm: 3450 rpm, marked: 4140 rpm, rest: 0.1 in, gauge: 5 rpm, length_gauge: 0.02 in}`,
	run:     runSurfaceSpeed,
})

func runSurfaceSpeed(b *bench) {
	rpm := b.reading("rpm")
	rim := func(x []*big.Rat) *big.Rat { return times(pi, x[0], x[1], big.NewRat(1, 60)) }
	verdict := b.sum(finding{what: "surface speed", main: true}, quantity.FootPerMinute, 4, rim, b.with("diameter", "length_gauge"), rpm)
	b.say("bench.surface.says", "value", b.last().Value)
	if verdict == quantity.Outside {
		b.say(sides{"bench.other.below", "bench.surface.outside"}.beyond(*b.last()), "value", b.last().Value, "limit", LimitSaid(b.words, b.last().Limit))
	}
	if b.has("marked") {
		f := finding{what: "speed against its marking", value: rpm, published: firmly(atMost(b.one("marked"), "bench.source.marking"))}
		b.sayFor(b.whisker(f), "bench.surface.within-mark", sides{above: "bench.surface.too-fast"})
	} else {
		b.say("bench.surface.no-mark")
	}
	if b.has("rest") {
		most := quantity.New(big.NewRat(1, 8), 3, quantity.Inch)
		if b.find(finding{what: "rest gap", value: b.with("rest", "length_gauge"), published: firmly(atMost(most, "bench.source.rest"))}) == quantity.Outside {
			b.say("bench.surface.rest-wide", "value", b.last().Value)
		}
	}
}
