package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// cranking is the lowest battery voltage while the starter turns the engine.
// The least that a 12 V battery may fall to is the table of the load test with
// half the cold cranking amperes for 15 s, read at second hand; at 0 degF its
// sources differ, so it ends at 10 degF. That it is used for cranking as well, and
// half of it for 6 V: common practice, no source.
var cranking = kind{
	name: "cranking", also: []string{"cranking voltage"}, system: "electrical",
	results: []string{"lowest voltage while cranking"},
	about:   "bench.cranking.about", caution: "bench.cranking.caution", source: "bench.cranking.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.cranking.volts").dc().needed().such("10.1 V"),
		measure("before", quantity.Voltage, "bench.cranking.before").dc(),
		nominalInput,
		measure("temperature", quantity.Temperature, "bench.battery.temperature").signed(),
		accuracy("gauge", quantity.Voltage),
	},
	example: `{test: cranking, volts: 10.1 V, before: 12.5 V, nominal: 12 V, temperature: 41 degF, gauge: 0.05 V}`,
	run:     runCranking,
}

// voltsUnderLoad is the least voltage of a 12 V battery by its temperature in
// degF: common trade table, read at second hand.
var voltsUnderLoad = []row{
	rowOf(1000, 870), rowOf(2000, 890), rowOf(3000, 910),
	rowOf(4000, 930), rowOf(5000, 940), rowOf(6000, 950), rowOf(7000, 960),
}

func runCranking(b *bench) {
	share := b.batteryShare(big.NewRat(125, 100))
	b.checkTemperature()
	if b.has("before") && b.one("before").Base().Cmp(b.one("volts").Base()) < 0 {
		b.refuse("before", "problem.bench-before", "read", b.one("before"), "volts", b.one("volts"))
	}
	verdict := b.whisker(finding{
		what: "lowest voltage while cranking", value: b.reading("volts"), main: true, published: b.leastUnderLoad(share, "bench.source.cranking-table"),
	})
	b.sayFor(verdict, "bench.cranking.inside", sides{below: "bench.cranking.outside"})
	if !b.has("temperature") && b.last().Source == b.words.Say("bench.source.cranking-table") {
		b.say("bench.cranking.no-temperature")
	}
	if b.has("before") {
		fall := func(x []*big.Rat) *big.Rat { return minus(x[0], x[1]) }
		b.sum(finding{what: "drop while cranking"}, quantity.Volt, 3, fall, b.reading("before"), b.reading("volts"))
	}
}

// leastUnderLoad is the table at the battery's temperature, or at 70 degF where
// none was read. Below 10 degF sources differ, and there is no limit.
func (b *bench) leastUnderLoad(share *big.Rat, source string) published {
	f := big.NewRat(70, 1)
	if b.has("temperature") {
		f = fahrenheit(b.one("temperature").Base())
	}
	if f.Cmp(big.NewRat(10, 1)) < 0 {
		return published{}
	}
	return atLeast(volts(times(between(voltsUnderLoad, f), share)), source)
}
