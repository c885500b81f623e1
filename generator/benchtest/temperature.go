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
	for _, name := range []string{"temperature", "to"} {
		if k := b.one(name).Base(); k.Cmp(coldestAir) < 0 || k.Cmp(hottestAir) > 0 {
			b.report(name, "problem.bench-temperature-range", "read", b.one(name))
			return
		}
	}
	around := big.NewRat(int64(seaLevelPa), 1)
	if a := b.altitude(); !a.IsZero() {
		if !b.altitudeFits(a) {
			return
		}
		around = exact(airPressure(float(a.Base())))
	}
	p := b.reading("pressure")
	from, to := reading{Quantity: b.one("temperature")}, reading{Quantity: b.one("to")}
	r, ok := b.derive(p.Unit(), 3, func(x []*big.Rat) *big.Rat { return pressureAt(x[0], around, x[1], x[2]) }, p, from, to)
	if ok {
		b.against(sides{below: "bench.pressure.below", above: "bench.pressure.above"}, finding{what: "pressure at temperature", value: r, main: true})
		b.say("bench.pressure.says", "pressure", p, "temperature", from, "value", r, "to", to)
	}
}

// pressureAt is (p + around) to/from - around, of gauge pressures in Pa and
// temperatures in K.
func pressureAt(p, around, from, to *big.Rat) *big.Rat {
	absolute := new(big.Rat).Add(p, around)
	r := quotient(absolute.Mul(absolute, to), from)
	if r == nil {
		return nil
	}
	return r.Sub(r, around)
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
	if !b.cylindersFit("temperature", len(heads)) {
		return
	}
	var findings []finding
	for i, r := range heads {
		findings = append(findings, finding{what: "head temperature", where: b.cylinder(i, len(heads)), part: true, value: r, main: true})
	}
	b.against(sides{above: "bench.head.hot"}, findings...)
	if len(heads) < 2 {
		return
	}
	coldest, hottest := extremes(b.list("temperature"))
	r, err := temperatureSpread(heads[hottest], heads[coldest])
	if err != nil {
		b.report("temperature", "problem.bench-no-answer")
		return
	}
	b.find(finding{what: "head temperature spread", value: r})
	if coldest != hottest {
		b.say("bench.head.spread", "hot", b.cylinder(hottest, len(heads)), "cold", b.cylinder(coldest, len(heads)), "value", r)
	}
}

// temperatureSpread is a difference of two temperatures; its accuracy is twice
// the tool's.
func temperatureSpread(hot, cold reading) (reading, error) {
	q, err := hot.Sub(cold.Quantity)
	r := reading{Quantity: q, about: hot.about || cold.about || hot.open != closed || cold.open != closed}
	r.text = marked(q.String(), closed, r.about)
	if err != nil || hot.gauge.IsZero() {
		return r, err
	}
	size, err := hot.gauge.Size().Add(cold.gauge.Size())
	if err != nil {
		return reading{}, err
	}
	r.gauge, err = quantity.NewGauge(size)
	return r, err
}
