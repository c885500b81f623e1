package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// loadShare is what a generator or a circuit is loaded with: volts times amperes (and
// the root of three for three phases), the power factor, and the share of the plate.
// Power factor is real over apparent power (MIL-STD-704F, 3.22); kW = V A pf/1000, and
// the root of three for three phases (U.S. Forest Service, Basic power systems, read at
// second hand).
var _ = add(kind{
	name: "load share", also: []string{"power factor", "electrical load"}, system: "electrical",
	results: []string{"share of the rated load", "apparent power", "real power"},
	about:   "bench.load.about", caution: "bench.load.caution", source: "bench.load.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.load.volts").such("240 V").needed(),
		measure("amps", quantity.Current, "bench.load.amps").such("8.2 A").needed(),
		measure("watts", quantity.Power, "bench.load.watts").such("1800 W"),
		choice("phases", "bench.load.phases", "1", "3"),
		measure("rated_load", quantity.Power, "bench.load.rated").such("2000 W").onPlate(logbook.PlateAlternator, "power"),
		accuracy("gauge", quantity.Voltage),
		accuracyOf("amps_gauge", quantity.Current, "bench.drop.current-gauge"),
		accuracyOf("watts_gauge", quantity.Power, "bench.load.watts-gauge").reads("watts"),
	},
	example: `{test: load share, volts: 240 V, amps: 8.0 A, watts: 1800 W, rated_load: 2000 W, gauge: 1 %, amps_gauge: 2 %, watts_gauge: 1 %}`,
	run:     runLoadShare,
})

func runLoadShare(b *bench) {
	root := big.NewRat(1, 1)
	if b.word("phases") == "3" {
		root = exact(math.Sqrt(3))
	}
	apparent := func(x []*big.Rat) *big.Rat { return times(x[0], x[1], root) }
	volts, amps := b.reading("volts"), b.with("amps", "amps_gauge")
	b.sum(finding{what: "apparent power", main: true}, quantity.VoltAmpere, 4, apparent, volts, amps)
	b.say("bench.load.says", "value", b.last().Value)
	if !b.has("watts") {
		b.say("bench.load.no-watts")
		return
	}
	watts := b.with("watts", "watts_gauge")
	factor := b.derive(quantity.Percent, 3, func(x []*big.Rat) *big.Rat { return quotient(x[2], apparent(x)) }, volts, amps, watts)
	if factor.least().Base().Cmp(big.NewRat(1, 1)) > 0 {
		b.refuse("watts", "problem.bench-power-factor", "read", watts)
	}
	b.findRatio(finding{what: "power factor", value: factor, main: true})
	if b.has("rated_load") {
		f := finding{what: "share of the rated load", published: atMost(percent(100), "bench.source.plate")}
		verdict := b.sum(f, quantity.Percent, 3, func(x []*big.Rat) *big.Rat { return quotient(x[0], x[1]) }, watts, b.fixed("rated_load"))
		b.sayFor(verdict, "bench.load.inside", sides{above: "bench.load.outside"})
	}
}
