package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// The tests of a lathe. Figures were read of one maker's lathe only, so the limit is the
// maker's or the entry's.
var (
	_ = add(geometry("spindle taper", "drive", "bench.taper.about", "bench.taper.how",
		`{test: spindle taper, where: test bar at 300 mm, as_found: 0.03 mm, as_left: 0.015 mm, limit: "<= 0.02 mm", source: maker's sheet, gauge: 0.005 mm}`))
	_ = add(geometry("tailstock height", "drive", "bench.tailstock.about", "bench.tailstock.how",
		`{test: tailstock height, as_found: 0.06 mm, as_left: 0.03 mm, limit: "<= 0.04 mm", source: maker's sheet, gauge: 0.01 mm}`))
)

// twoCollars is the two-collar test: two collars turned on one bar without the
// tailstock. The difference of their diameters is twice what the tool strayed by
// (geometry); the test itself is common practice.
var _ = add(kind{
	name: "two-collar test", also: []string{"two collar test", "collar test"}, system: "drive",
	results: []string{"two-collar error"},
	about:   "bench.collars.about", caution: "bench.collars.caution", source: "bench.collars.source",
	inputs: []input{
		measure("near", quantity.Length, "bench.collars.near").such("1.2500 in").needed(),
		measure("far", quantity.Length, "bench.collars.far").such("1.2508 in").needed(),
		measure("apart", quantity.Length, "bench.collars.apart").such("6 in").needed(),
		accuracy("gauge", quantity.Length).reads("near", "far"),
	},
	example: `{test: two-collar test, near: 1.2500 in, far: 1.2508 in, apart: 6 in, gauge: 0.0001 in}`,
	run:     runTwoCollars,
})

func runTwoCollars(b *bench) {
	near, far := b.reading("near"), b.reading("far")
	b.nearStandard(near, "far")
	thick, thin := far, near // in this order the sum has no sign to lose, nor what the tool leaves open
	if near.Base().Cmp(far.Base()) > 0 {
		thick, thin = near, far
	}
	half := func(x []*big.Rat) *big.Rat { return times(minus(x[0], x[1]), big.NewRat(1, 2)) }
	verdict := b.sum(finding{what: "two-collar error", main: true}, near.Unit(), 2, half, thick, thin)
	b.draw(Whisker, b.out.Results)
	b.sum(finding{what: "two-collar error for each length"}, quantity.Percent, 2, func(x []*big.Rat) *big.Rat { return quotient(half(x), x[2]) }, thick, thin, b.fixed("apart"))
	key := "bench.collars.same"
	switch grown := b.difference(far, near); {
	case grown.least().Sign() > 0:
		key = "bench.collars.far-larger"
	case grown.most().Sign() < 0:
		key = "bench.collars.near-larger"
	}
	b.say(key, "value", b.out.Results[0].Value)
	if verdict == quantity.Outside {
		b.say("bench.collars.outside")
	}
}
