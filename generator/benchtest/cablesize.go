package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// cableSize is what a copper cable of a gauge eats of the voltage, out and back: 2 L R
// I. The resistances are those that HyperPhysics has from Floyd, at 20 degC, ohm for
// 1000 ft (read at second hand). No limit was read for circuits at large.
var _ = add(kind{
	name: "cable size", also: []string{"wire size"}, system: "electrical",
	results: []string{"cable drop by size", "share of the voltage lost"},
	about:   "bench.cable.about", caution: "bench.caution.unplugged", source: "bench.cable.source",
	inputs: []input{
		measure("size", quantity.WireSize, "bench.cable.size").signed().needed(),
		measure("length", quantity.Length, "bench.cable.length").such("50 ft").needed(),
		measure("amps", quantity.Current, "bench.cable.amps").such("20 A").needed(),
		measure("volts", quantity.Voltage, "bench.cable.volts").such("120 V").needed(),
		accuracy("gauge", quantity.Current).reads("amps"),
	},
	example: `{test: cable size, size: 10 AWG, length: 50 ft, amps: 20 A, volts: 120 V, gauge: 0.5 A}`,
	run:     runCableSize,
})

// ohmsByGauge is ohm for 1000 ft, in ten-thousandths.
var ohmsByGauge = map[string]int64{
	"0": 983, "2": 1563, "4": 2485, "6": 3951, "8": 6282, "10": 9989, "12": 15880, "14": 25250, "16": 40160, "18": 63850,
}

func runCableSize(b *bench) {
	thousandth, known := ohmsByGauge[b.one("size").Base().FloatString(0)]
	if !known || !b.one("size").Base().IsInt() {
		b.refuse("size", "problem.bench-cable-size", "read", b.one("size"))
	}
	perMeter := new(big.Rat).Quo(big.NewRat(thousandth, 10_000), big.NewRat(3048, 10)) // 1000 ft is 304.8 m
	drop := func(x []*big.Rat) *big.Rat { return times(big.NewRat(2, 1), x[0], perMeter, x[1]) }
	length, amps := b.fixed("length"), b.reading("amps")
	b.sum(finding{what: "cable drop by size", main: true}, quantity.Volt, 3, drop, length, amps)
	value := b.last().Value
	verdict := b.sum(finding{what: "share of the voltage lost"}, quantity.Percent, 2, func(x []*big.Rat) *big.Rat {
		return quotient(drop(x), x[2])
	}, length, amps, b.fixed("volts"))
	b.say("bench.cable.says", "value", value, "share", b.last().Value)
	if verdict == quantity.Outside {
		b.say((sides{above: "bench.cable.outside"}).always(*b.last()), "value", b.last().Value, "limit", LimitSaid(b.words, b.last().Limit))
	}
}
