package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// pressureAtTemperature is what a closed volume of air reads at another
// temperature: the absolute pressure goes with the absolute temperature
// (Gay-Lussac's law of the ideal gas). The air around is that of the U.S.
// Standard Atmosphere, 1976, at the altitude of the test.
var pressureAtTemperature = kind{
	name: "pressure at temperature", also: []string{"tire pressure", "pressure corrected for temperature"}, system: "tires",
	about: "bench.pressure.about", caution: "bench.pressure.caution", source: "bench.pressure.source",
	inputs: []input{
		measure("pressure", quantity.Pressure, "bench.pressure.pressure").needed(),
		measure("temperature", quantity.Temperature, "bench.pressure.temperature").signed().needed(),
		measure("to", quantity.Temperature, "bench.pressure.to").signed().needed(),
		altitudeInput,
		accuracy("gauge", quantity.Pressure),
	},
	example: `{test: pressure at temperature, where: left rear tire, pressure: 12 psi, temperature: 95 degF, to: 68 degF, gauge: 0.5 psi}`,
	run:     runPressureAtTemperature,
}

// coldestAir and hottestAir in K are the ends of what the law is used for here.
var (
	coldestAir = big.NewRat(20000, 100)
	hottestAir = big.NewRat(50000, 100)
)

func runPressureAtTemperature(b *bench) {
	b.checkAir("temperature")
	b.checkAir("to")
	around := exact(airPressure(float(b.altitude().Base())))
	p := b.reading("pressure")
	from, to := reading{Quantity: b.one("temperature")}, reading{Quantity: b.one("to")}
	r := b.derive(p.Unit(), 3, func(x []*big.Rat) *big.Rat { return pressureAt(x[0], around, x[1], x[2]) }, p, from, to)
	b.against(sides{below: "bench.pressure.below", above: "bench.pressure.above"}, finding{what: "pressure at temperature", value: r, main: true})
	b.say("bench.pressure.says", "pressure", p, "temperature", from, "value", r, "to", to)
}

// checkAir refuses a temperature outside of what the law is used for here.
func (b *bench) checkAir(name string) {
	if k := b.one(name).Base(); k.Cmp(coldestAir) < 0 || k.Cmp(hottestAir) > 0 {
		b.refuse(name, "problem.bench-temperature-range", "read", b.one(name))
	}
}

// pressureAt is (p + around) to/from - around, of gauge pressures in Pa and
// temperatures in K.
func pressureAt(p, around, from, to *big.Rat) *big.Rat {
	absolute := new(big.Rat).Add(p, around)
	return minus(quotient(absolute.Mul(absolute, to), from), around)
}

// headTemperature is the temperature at each cylinder's head, and how far the
// hottest is from the coldest. What a spread points to is common practice, no
// source.
var headTemperature = kind{
	name: "head temperature", also: []string{"cylinder head temperature", "cylinder-head temperature"}, system: "engine",
	results: []string{"head temperature spread"},
	about:   "bench.head.about", caution: "bench.head.caution", source: "bench.source.practice",
	inputs: []input{
		measure("temperature", quantity.Temperature, "bench.head.temperature").signed().needed().list("bench.label.cylinder"),
		accuracy("gauge", quantity.Temperature),
	},
	example: `{test: head temperature, temperature: [342 degF, 318 degF], gauge: 4 degF}`,
	run:     runHeadTemperature,
}

func runHeadTemperature(b *bench) {
	heads := b.readings("temperature")
	b.cylindersFit("temperature", len(heads))
	var findings []finding
	for i, r := range heads {
		findings = append(findings, finding{what: "head temperature", where: b.cylinder(i, len(heads)), part: true, value: r, main: true})
	}
	b.against(sides{above: "bench.head.hot"}, findings...)
	if len(heads) < 2 {
		return
	}
	apart, cold, hot := b.farthest(heads)
	b.find(finding{what: "head temperature spread", trials: apart})
	if r := b.last(); r.Quantity.Sign() != 0 {
		b.say("bench.head.spread", "hot", b.cylinder(hot[r.trial], len(heads)), "cold", b.cylinder(cold[r.trial], len(heads)), "value", r.Value)
	}
}
