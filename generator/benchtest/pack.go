package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// batteryPack is what cells in series, and rows of them in parallel, come to: volts
// add up in series and ampere-hours in parallel (U.S. Army IT0335: three cells of 2 V
// and 2 Ah in series are 6 V and 2 Ah). Wh = V Ah by definition. No limit was found for
// how far cells may be apart.
var _ = add(kind{
	name: "battery pack", also: []string{"cell balance"}, system: "electrical",
	results: []string{"pack voltage", "cell imbalance"},
	about:   "bench.pack.about", caution: "bench.pack.caution", source: "bench.pack.source",
	inputs: []input{
		measure("cells", quantity.Voltage, "bench.pack.cells").dc().such("3.31 V").list("bench.label.nth").needed(),
		measure("capacity", quantity.Charge, "bench.pack.capacity"),
		count("parallel", "bench.pack.parallel"),
		accuracy("gauge", quantity.Voltage),
	},
	example: `{test: battery pack, cells: [3.31 V, 3.29 V, 3.30 V, 3.12 V], capacity: 2.5 Ah, parallel: 2, gauge: 0.01 V}`,
	run:     runPack,
})

func runPack(b *bench) {
	cells := b.readings("cells")
	for i, c := range cells {
		b.find(finding{what: "cell voltage", where: nth("cell", i, len(cells), b.test.Where), part: true, value: c})
	}
	b.draw(Bars, b.out.Results)
	sum := func(x []*big.Rat) *big.Rat { return times(mean(x), big.NewRat(int64(len(x)), 1)) }
	b.sum(finding{what: "pack voltage", main: true}, quantity.Volt, 4, sum, cells...)
	b.say("bench.pack.says", "value", b.last().Value)
	if len(cells) > 1 {
		apart, low, high := b.farthest(cells)
		verdict := b.find(finding{what: "cell imbalance", trials: apart})
		if r := b.last(); r.Quantity.Sign() == 0 {
			b.say("bench.pack.alike")
		} else {
			b.say("bench.pack.imbalance", "low", low[r.trial]+1, "high", high[r.trial]+1, "value", r.Value)
		}
		switch verdict {
		case quantity.NotLimited:
			b.say("bench.pack.no-limit")
		case quantity.Outside:
			b.say("bench.pack.outside")
		}
	}
	if b.has("capacity") {
		b.packEnergy(sum, cells)
	}
}

// packEnergy adds the ampere-hours of the rows and the watt-hours of all.
func (b *bench) packEnergy(sum func(x []*big.Rat) *big.Rat, cells []reading) {
	rows := big.NewRat(int64(max(1, b.count("parallel"))), 1)
	one := b.fixed("capacity")
	b.sum(finding{what: "pack capacity"}, quantity.AmpereHour, 3, func(x []*big.Rat) *big.Rat { return times(x[0], rows) }, one)
	n := len(cells)
	b.sum(finding{what: "pack energy"}, quantity.WattHour, 3, func(x []*big.Rat) *big.Rat {
		return times(sum(x[:n]), x[n], rows)
	}, append(cells[:n:n], one)...)
}
