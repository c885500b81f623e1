package benchtest

import (
	"math/big"
	"slices"

	"asleft/generator/quantity"
)

// hydrometer is the specific gravity of the acid in each cell, brought to 80 degF by
// 0.004 for each 10 degF (TM 5-4210-230-14&P-1), and how far the cells are apart. More
// than 0.050 after charging is too much (TM 5-3805-281-24-2, TM 5-3740-214-14); TM
// 9-6140-200-14, 4-7, has 0.025. Between the two it is not called.
var _ = add(kind{
	name: "hydrometer", also: []string{"specific gravity", "hydrometer test"}, system: "electrical",
	results: []string{"spread between cells"},
	about:   "bench.hydrometer.about", caution: "bench.battery.caution", source: "bench.hydrometer.source",
	inputs: []input{
		number("cells", "bench.hydrometer.cells").list("bench.label.nth").needed(),
		measure("temperature", quantity.Temperature, "bench.hydrometer.temperature").signed().needed(),
		yesNo("charged", "bench.hydrometer.charged"),
	},
	example: `{test: hydrometer, cells: [1.265, 1.260, 1.265, 1.255, 1.260, 1.265], temperature: 68 degF, charged: yes}`,
	run:     runHydrometer,
})

var (
	leastGravity  = big.NewRat(1, 1)
	mostGravity   = big.NewRat(14, 10)
	strictSpread  = big.NewRat(25, 1000)
	mostSpread    = big.NewRat(50, 1000)
	eachTenDegF   = big.NewRat(4, 10_000) // for each degree
	gravityPlaces = 1                     // in %, which are three decimals of the number
)

func runHydrometer(b *bench) {
	b.checkTemperature()
	warmer := new(big.Rat).Sub(fahrenheit(b.one("temperature").Base()), big.NewRat(80, 1))
	add := times(warmer, eachTenDegF)
	var cells []*big.Rat
	for i, n := range b.numbers("cells") {
		if n.Cmp(leastGravity) < 0 || n.Cmp(mostGravity) > 0 {
			b.refuse("cells", "problem.bench-gravity", "read", n.FloatString(3))
		}
		cells = append(cells, new(big.Rat).Add(n, add))
		b.gravity(finding{what: "specific gravity", where: nth("cell", i, len(b.numbers("cells")), b.test.Where), part: true, main: true}, cells[i])
	}
	b.draw(Bars, b.out.Results)
	b.out.Drawing.plain()
	b.say("bench.hydrometer.at-80")
	if len(cells) > 1 {
		b.cellSpread(cells)
	}
}

// gravity adds a plain number of three decimals.
func (b *bench) gravity(f finding, n *big.Rat) quantity.Verdict {
	f.value = reading{Quantity: quantity.FromBase(n, gravityPlaces, quantity.Percent)}
	f.show = func(q quantity.Quantity) string { return q.Base().FloatString(q.Places() + 2) }
	return b.find(f)
}

// cellSpread adds how far the cells are apart, which counts after charging.
func (b *bench) cellSpread(cells []*big.Rat) {
	spread := minus(slices.MaxFunc(cells, (*big.Rat).Cmp), slices.MinFunc(cells, (*big.Rat).Cmp))
	f := finding{what: "spread between cells"}
	if b.yes("charged") {
		f.published = atMost(quantity.FromBase(mostSpread, gravityPlaces, quantity.Percent), "bench.source.army-spread")
	}
	verdict := b.gravity(f, spread)
	r := b.last()
	switch {
	case verdict == quantity.NotLimited:
		b.say("bench.hydrometer.not-charged")
	case verdict == quantity.Outside:
		b.say("bench.hydrometer.outside", "value", r.Value)
	case r.Source == b.words.Say("bench.source.army-spread") && spread.Cmp(strictSpread) > 0:
		r.Verdict = quantity.TooClose
		b.say("bench.hydrometer.differ", "value", r.Value)
	default:
		b.say("bench.hydrometer.inside", "value", r.Value)
	}
	if r.Limit == "<= 5.0 %" {
		r.Limit = "<= 0.050"
		r.Limits[0].Limit = r.Limit
	}
}
