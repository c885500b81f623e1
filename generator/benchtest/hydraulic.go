package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// hydraulicPower is flow x pressure: gpm psi/1714 in hp. 10 gpm at 1500 psi are 8.75 hp
// and 20 gpm 17.5 hp (a course and a handbook, read at second hand). The setting of the
// relief valve is the maker's.
var _ = add(kind{
	name: "hydraulic power", also: []string{"hydraulic flow"}, system: "hydraulics",
	results: []string{"relief pressure", "pump flow"},
	about:   "bench.hydraulic.about", caution: "bench.hydraulic.caution", source: "bench.hydraulic.source",
	inputs: []input{
		measure("flow", quantity.Flow, "bench.hydraulic.flow").needed(),
		measure("pressure", quantity.Pressure, "bench.hydraulic.pressure").such("1500 psi").needed(),
		measure("relief", quantity.Pressure, "bench.hydraulic.relief").such("2200 psi"),
		accuracy("gauge", quantity.Pressure),
		accuracyOf("flow_gauge", quantity.Flow, "bench.hydraulic.flow-gauge"),
	},
	example: `{test: hydraulic power, flow: 10 gpm, pressure: 1500 psi, relief: 2200 psi, gauge: 20 psi, flow_gauge: 2 %}`,
	run: func(b *bench) {
		flow, pressure := b.with("flow", "flow_gauge"), b.reading("pressure")
		verdict := b.find(finding{what: "pump flow", value: flow})
		if verdict == quantity.Outside {
			b.say((sides{below: "bench.hydraulic.low-flow"}).always(*b.last()), "value", b.last().Value, "limit", LimitSaid(b.words, b.last().Limit))
		}
		f := finding{what: "hydraulic power", main: true, show: func(q quantity.Quantity) string { return both(q, 3, quantity.Kilowatt) }}
		b.sum(f, quantity.Horsepower, 3, func(x []*big.Rat) *big.Rat { return times(x[0], x[1]) }, flow, pressure)
		b.say("bench.hydraulic.says", "value", b.last().Value)
		if b.has("relief") {
			f := finding{what: "relief pressure", value: b.reading("relief"), main: true}
			b.sayFor(b.whisker(f), "bench.hydraulic.inside", sides{"bench.hydraulic.low", "bench.hydraulic.high"})
		}
	},
})
