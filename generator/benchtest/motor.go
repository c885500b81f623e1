package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// motorSlip is how far an induction motor stays behind its field, (120 f/P - N) over
// 120 f/P: of 3600 rpm 3450 is 4.17 %, and so is 1725 of 1800 (textbook answers, read at
// second hand). The limit is the maker's.
var _ = add(kind{
	name: "motor slip", also: []string{"induction motor slip"}, system: "electrical",
	about: "bench.slip.about", caution: "bench.caution.running-motor", source: "bench.slip.source",
	inputs: []input{
		measure("rpm", quantity.RotationalSpeed, "bench.slip.rpm").such("3450 rpm").needed(),
		measure("hertz", quantity.Frequency, "bench.slip.hertz").needed(),
		count("poles", "bench.slip.poles").needed(),
		measure("rated_rpm", quantity.RotationalSpeed, "bench.slip.rated").such("3450 rpm").onPlate(logbook.PlateMotor, "rpm"),
		accuracy("gauge", quantity.RotationalSpeed).reads("rpm"),
	},
	example: `{test: motor slip, rpm: 3462 rpm, hertz: 60 Hz, poles: 2, rated_rpm: 3450 rpm, gauge: 2 rpm}`,
	run:     runMotorSlip,
})

func runMotorSlip(b *bench) {
	b.checkPoles()
	field := func(hertz *big.Rat) *big.Rat { return quotient(times(hertz, big.NewRat(120, 1)), b.number("poles")) }
	slip := func(x []*big.Rat) *big.Rat { return fallBelow(x[0], field(x[1])) }
	rpm, hertz := b.reading("rpm"), b.fixed("hertz")
	verdict := b.sum(finding{what: "motor slip", main: true}, quantity.Percent, 3, slip, rpm, hertz)
	fast := b.last().read().most().Sign() < 0
	b.belowNothing()
	b.draw(Whisker, b.out.Results[:1])
	if fast {
		b.say("bench.slip.fast")
	} else {
		b.sayFor(verdict, "bench.slip.inside", sides{above: "bench.slip.outside"})
	}
	b.sum(finding{what: "speed of the field"}, quantity.RPM, 4, func(x []*big.Rat) *big.Rat { return field(x[0]) }, hertz)
	if b.has("rated_rpm") {
		b.sum(finding{what: "motor slip by the plate"}, quantity.Percent, 3, slip, b.fixed("rated_rpm"), hertz)
	}
}

// voltageUnbalance is how far three phases are apart: the largest departure from
// their average (the rule of NEMA MG 1, read at second hand, with its examples of 462,
// 463 and 455 V, 1.1 %, and 203, 210 and 212 V, 2.5 %). No limit was read.
var _ = add(kind{
	name: "voltage unbalance", also: []string{"phase unbalance"}, system: "electrical",
	about: "bench.unbalance.about", caution: "bench.caution.live", source: "bench.unbalance.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.unbalance.volts").ac().such("462 V").list("bench.label.nth").needed(),
		accuracy("gauge", quantity.Voltage),
	},
	example: `{test: voltage unbalance, volts: [462 V, 463 V, 455 V], gauge: 0.5 V}`,
	run: func(b *bench) {
		all := b.readings("volts")
		if len(all) != 3 {
			b.refuse("volts", "problem.bench-three-phases", "n", len(all))
		}
		verdict := b.find(finding{what: "voltage unbalance", main: true, value: b.unbalance(all)})
		b.draw(Whisker, b.out.Results)
		b.sayFor(verdict, "bench.unbalance.inside", sides{above: "bench.unbalance.outside"})
	},
})

// capacitor is its size by what flows through it, I/(2 pi f V), or as a meter reads
// it, against its label. At 60 Hz 8.3 A and 295.4 V are 74.5 uF (a trade course, read
// at second hand). How far off it may be is on the label.
var _ = add(kind{
	name: "capacitor", also: []string{"capacitor test", "run capacitor"}, system: "electrical",
	about: "bench.capacitor.about", caution: "bench.capacitor.caution", source: "bench.capacitor.source",
	inputs: []input{
		measure("capacitance", quantity.Capacitance, "bench.capacitor.capacitance").such("34.2 uF"),
		measure("amps", quantity.Current, "bench.capacitor.amps").such("8.3 A"),
		measure("volts", quantity.Voltage, "bench.capacitor.volts").ac().such("295 V"),
		measure("hertz", quantity.Frequency, "bench.slip.hertz"),
		measure("rated", quantity.Capacitance, "bench.capacitor.rated").such("35 uF"),
		measure("tolerance", quantity.Ratio, "bench.capacitor.tolerance").such("6 %"),
		accuracy("gauge", quantity.Capacitance).reads("capacitance"),
		accuracyOf("amps_gauge", quantity.Current, "bench.drop.current-gauge"),
		accuracyOf("volts_gauge", quantity.Voltage, "bench.capacitor.volts-gauge"),
	},
	example: `{test: capacitor, amps: 8.3 A, volts: 295.4 V, hertz: 60 Hz, rated: 75 uF, tolerance: 6 %, amps_gauge: 1 %, volts_gauge: 1 %}`,
	run:     runCapacitor,
})

func runCapacitor(b *bench) {
	f := finding{what: "capacitor", main: true}
	if b.has("rated") && b.has("tolerance") {
		f.published = offBy(b.one("rated"), b.one("tolerance"), "bench.source.label")
	}
	if b.has("capacitance") && b.has("amps") {
		b.refuse("amps", "problem.bench-capacitor-twice")
	}
	if b.has("capacitance") {
		f.value = b.reading("capacitance")
	} else {
		b.need("amps", "volts", "hertz")
		f.value = b.derive(quantity.Microfarad, 3, func(x []*big.Rat) *big.Rat {
			return quotient(x[0], times(exact(2*math.Pi), x[1], x[2]))
		}, b.with("amps", "amps_gauge"), b.with("volts", "volts_gauge"), b.fixed("hertz"))
	}
	b.sayFor(b.whisker(f), "bench.capacitor.inside", sides{"bench.capacitor.low", "bench.capacitor.high"})
}
