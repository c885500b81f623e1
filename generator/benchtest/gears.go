package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// gearReduction is a train of gears or chain sprockets: the speed at its end is
// the speed at its start x the product of the driving teeth / the product of
// the driven teeth (the rule of any gearing handbook; from memory). Exact.
// A worm counts as a gear with as many teeth as it has starts.
var gearReduction = kind{
	name: "gear reduction", also: []string{"gear ratio"}, system: "drive",
	results: []string{"output speed"},
	about:   "bench.gears.about", caution: "bench.gears.caution", source: "bench.gears.source",
	inputs: []input{
		count("driving_teeth", "bench.gears.driving").needed().list("bench.label.stage"),
		count("driven_teeth", "bench.gears.driven").needed().list("bench.label.stage"),
		measure("rpm", quantity.RotationalSpeed, "bench.gears.rpm"),
		measure("output_rpm", quantity.RotationalSpeed, "bench.gears.output-rpm"),
		accuracy("gauge", quantity.RotationalSpeed),
	},
	example: `{test: gear reduction, driving_teeth: [12, 14], driven_teeth: [40, 42], rpm: 3600 rpm, output_rpm: 361 rpm, gauge: 5 rpm}`,
	run:     runGears,
}

func runGears(b *bench) {
	driving, driven := b.numbers("driving_teeth"), b.numbers("driven_teeth")
	b.pairs("driven_teeth", len(driven), "driving_teeth", len(driving))
	ratio := new(big.Rat).Quo(times(driven...), times(driving...))
	b.findToOne(finding{what: "reduction", value: reading{Quantity: short(significant(ratio, 4, quantity.ToOne))}})
	if b.has("rpm") {
		out := b.derive(quantity.RPM, 4, func(x []*big.Rat) *big.Rat { return quotient(x[0], ratio) }, b.reading("rpm"))
		verdict := b.whisker(finding{what: "output speed", value: out, main: true})
		b.sayFor(verdict, "bench.gears.inside", sides{"bench.gears.outside", "bench.gears.outside"})
		b.say("bench.gears.speed", "ratio", b.out.Results[0].Value, "speed", out)
	} else {
		b.say("bench.gears.ratio", "ratio", b.last().Value)
	}
	if b.has("output_rpm") {
		b.measuredRatio(ratio)
	}
}

// numbers is the plain numbers of a list.
func (b *bench) numbers(name string) []*big.Rat {
	var all []*big.Rat
	for _, v := range b.given[name].items {
		all = append(all, v.number)
	}
	return all
}

// measuredRatio holds the speed at the end of the train against the sum: gears
// do not slip, so a difference has another reason.
func (b *bench) measuredRatio(ratio *big.Rat) {
	b.need("rpm")
	off := b.derive(quantity.Percent, 2, func(x []*big.Rat) *big.Rat {
		should := quotient(x[0], ratio)
		return quotient(minus(x[1], should), should)
	}, b.reading("rpm"), b.reading("output_rpm"))
	b.find(finding{what: "measured over computed speed", value: off})
	if off.least().Base().Cmp(big.NewRat(2, 100)) > 0 || off.most().Base().Cmp(big.NewRat(-2, 100)) < 0 {
		b.say("bench.gears.differs", "off", off)
	}
}
