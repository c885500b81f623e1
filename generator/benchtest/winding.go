package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// windingResistance is the resistance of copper windings brought to 25 degC, R x
// 259.5/(234.5 + t), and how far they are apart: the largest departure from their
// average, 2 % for random-wound and 1 % for form-wound windings by EASA AR100-2020,
// told by a maker of testers; concentric windings may be further apart. A table of
// copper has the factors 1.058 at 40 degC, 1.193 at 75 and 1.289 at 100 (all read at
// second hand).
var _ = add(kind{
	name: "winding resistance", also: []string{"winding balance"}, system: "electrical",
	results: []string{"resistance unbalance"},
	about:   "bench.winding.about", caution: "bench.caution.unplugged", source: "bench.winding.source",
	inputs: []input{
		measure("resistance", quantity.Resistance, "bench.winding.resistance").such("2.41 ohm").list("bench.label.nth").needed(),
		measure("temperature", quantity.Temperature, "bench.insulation.temperature").signed().needed(),
		choice("winding", "bench.winding.winding", randomWound, formWound, "concentric"),
		accuracy("gauge", quantity.Resistance),
	},
	example: `{test: winding resistance, resistance: [2.41 ohm, 2.43 ohm, 2.42 ohm], temperature: 71 degF, winding: random-wound, gauge: 0.2 %}`,
	run:     runWinding,
})

func runWinding(b *bench) {
	b.checkTemperature()
	all, at := b.readings("resistance"), b.fixed("temperature")
	for i, r := range all {
		to25 := func(x []*big.Rat) *big.Rat {
			celsius := minus(x[1], big.NewRat(27315, 100))
			return quotient(times(x[0], big.NewRat(2595, 10)), celsius.Add(celsius, big.NewRat(2345, 10)))
		}
		f := finding{what: "winding resistance", where: nth("winding", i, len(all), b.test.Where), part: true, main: true}
		b.sum(f, r.Unit(), 4, to25, r, at)
	}
	b.draw(Bars, b.out.Results)
	b.say("bench.winding.at-25")
	if len(all) > 1 {
		b.windingBalance(all)
	}
}

// windingBalance adds the largest departure from the average.
func (b *bench) windingBalance(all []reading) {
	f := finding{what: "resistance unbalance"}
	switch b.word("winding") {
	case randomWound:
		f.published = atMost(percent(2), "bench.source.ar100")
	case formWound:
		f.published = atMost(percent(1), "bench.source.ar100")
	}
	f.value = b.unbalance(all)
	b.sayFor(b.find(f), "bench.winding.inside", sides{above: "bench.winding.outside"})
}

// unbalance is the largest departure from the average, as a part of it. How far it may
// be off is worked out of each reading's own departure, which only rises with that
// reading and only falls with the others: any of them may be the largest.
func (b *bench) unbalance(all []reading) reading {
	worst := reading{}
	var most *big.Rat
	for i := range all {
		off := b.derive(quantity.Percent, 2, func(x []*big.Rat) *big.Rat {
			middle := mean(x)
			return quotient(minus(x[i], middle), middle)
		}, all...)
		size := new(big.Rat).Abs(off.Base())
		if worst.IsZero() || size.Cmp(worst.Base()) > 0 {
			open := off.open != closed // on which side, nobody can tell of a size
			worst = reading{Quantity: significant(size, 2, quantity.Percent), about: off.about || open, vague: off.vague || open}
		}
		for _, end := range []*big.Rat{off.most().Base(), new(big.Rat).Neg(off.least().Base())} {
			if most == nil || end.Cmp(most) > 0 {
				most = end
			}
		}
	}
	worst.mark()
	if off := minus(most, worst.Base()); off.Sign() > 0 {
		worst.gauge = sure(quantity.NewGauge(rounded(off, 2, quantity.Percent)))
	}
	return worst
}
