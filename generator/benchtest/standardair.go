package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// standardAir is an engine's power brought to the air of SAE J1349 (June 1990, as three
// texts quote it): times 1.180 (990/Pd) sqrt((Tc + 273)/298) - 0.18, Pd the pressure of
// the dry air in mbar. It is for full throttle.
var _ = add(kind{
	name: "standard air", also: []string{"power to standard air", "corrected power"}, system: "engine",
	results: []string{"power in standard air"},
	about:   "bench.air.about", caution: "bench.caution.running", source: "bench.air.source",
	inputs: []input{
		measure("power", quantity.Power, "bench.air.power").such("5.1 hp").needed(),
		measure("pressure", quantity.Pressure, "bench.air.pressure").such("28.9 inHg").needed(),
		measure("temperature", quantity.Temperature, "bench.air.temperature").signed().needed(),
		accuracy("gauge", quantity.Power),
	},
	example: `{test: standard air, power: 5.1 hp, pressure: 28.9 inHg, temperature: 81 degF, gauge: 2 %}`,
	run:     runStandardAir,
})

// airFactor is the correction for a dry pressure in Pa and a temperature in K.
func airFactor(pascal, kelvin float64) float64 {
	return 1.180*(99000/pascal)*math.Sqrt((kelvin-273.15+273)/298) - 0.18
}

func runStandardAir(b *bench) {
	pascal := float(b.one("pressure").Base())
	b.checkTemperature()
	if pascal < 60_000 || pascal > 110_000 {
		b.refuse("pressure", "problem.bench-barometer", "read", b.one("pressure"))
	}
	factor := func(x []*big.Rat) *big.Rat { return exact(airFactor(float(x[0]), float(x[1]))) }
	air := []reading{b.fixed("pressure"), b.fixed("temperature")}
	power := b.reading("power")
	b.plain(finding{what: "air factor"}, 4, factor, air...)
	verdict := b.sum(finding{what: "power in standard air", main: true}, power.Unit(), 3, func(x []*big.Rat) *big.Rat {
		return times(x[2], factor(x))
	}, append(air, power)...)
	b.draw(Whisker, b.out.Results[1:])
	b.sayFor(verdict, "bench.air.inside", sides{below: "bench.power.low"})
	b.say("bench.air.full-throttle")
}
