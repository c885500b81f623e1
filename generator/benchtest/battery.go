package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// batteryAtRest is the voltage of a lead-acid battery with nothing on it. The
// state of charge by voltage, and that a 12 V battery of less than 12.4 V is to
// be load-tested, are from U.S. Army TM 5-3805-262-20, p. 5-142; a 6 V battery
// has three cells for six, so half of each figure is taken for it.
//
// The voltage is not corrected for its temperature: by Crompton, Battery Reference
// Book, Table 1.7, a cell of 28.16 % acid has 2.0254 V at 15 degC and 2.0250 V at 40
// degC. The rule of 0.004 for each 10 degF is of the hydrometer, where acid expands.
var batteryAtRest = kind{
	name: "battery at rest", also: []string{"battery voltage"}, system: "electrical",
	results: []string{"state of charge"},
	about:   "bench.battery.about", caution: "bench.battery.caution", source: "bench.battery.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.battery.volts").dc().needed(),
		nominalInput,
		measure("temperature", quantity.Temperature, "bench.battery.temperature").signed(),
		yesNo("surface_charge_off", "bench.battery.surface-charge-off"),
		accuracy("gauge", quantity.Voltage),
	},
	example: `{test: battery at rest, volts: 12.31 V, nominal: 12 V, temperature: 54 degF, surface_charge_off: yes, gauge: 0.02 V}`,
	run:     runBatteryAtRest,
}

// nominalInput is what a battery is sold as.
var nominalInput = measure("nominal", quantity.Voltage, "bench.in.nominal").dc().such("12 V")

// chargeByVolts is the state of charge of a 12 V battery (U.S. Army TM
// 5-3805-262-20, p. 5-142).
var chargeByVolts = []row{rowOf(1170, 0), rowOf(1200, 25), rowOf(1220, 50), rowOf(1240, 75), rowOf(1260, 100)}

var (
	loadTestBelow = big.NewRat(124, 10) // V of a 12 V battery, same page
	fiveFullCells = big.NewRat(106, 10) // V of a 12 V battery with one dead cell; common practice, no source
)

func runBatteryAtRest(b *bench) {
	share := b.batteryShare(big.NewRat(125, 100))
	b.checkTemperature()
	read := b.reading("volts")
	rule := atLeast(volts(times(loadTestBelow, share)), "bench.source.army-battery")
	verdict := b.whisker(finding{what: "battery at rest", value: read, main: true, published: rule})
	b.batteryCharge(verdict, read, share)
	b.sayBattery(read, share)
}

// batteryCharge adds the state of charge, and says what the voltages point to.
func (b *bench) batteryCharge(verdict quantity.Verdict, charge reading, share *big.Rat) {
	state := b.derive(quantity.Percent, 2, func(x []*big.Rat) *big.Rat {
		return between(chargeByVolts, quotient(x[0], share))
	}, charge)
	keys := map[quantity.Verdict]string{
		quantity.Inside: "bench.battery.inside", quantity.Outside: "bench.battery.outside", quantity.TooClose: "bench.battery.close",
	}
	b.say(keys[verdict], "charge", state)
	b.find(finding{what: "state of charge", value: state})
}

func (b *bench) sayBattery(read reading, share *big.Rat) {
	if read.Base().Cmp(times(fiveFullCells, share)) <= 0 {
		b.say("bench.battery.dead-cell")
	}
	if b.has("temperature") {
		b.say("bench.battery.not-corrected")
	}
	if !b.yes("surface_charge_off") {
		b.say("bench.battery.surface-charge")
	}
}

// batteryShare is the part of a 12 V battery's figures that holds for this one:
// 1, or 1/2 at 6 V. A reading above so many times the nominal voltage is
// reported, and one that may be of either battery where the log does not say
// of which.
func (b *bench) batteryShare(most *big.Rat) *big.Rat {
	read, nominal := b.one("volts").Base(), big.NewRat(12, 1)
	if b.has("nominal") {
		nominal = b.one("nominal").Base()
	} else if read.Cmp(big.NewRat(8, 1)) < 0 {
		b.refuse("volts", "problem.bench-which-battery", "read", b.one("volts"))
	}
	if nominal.Cmp(big.NewRat(12, 1)) != 0 && nominal.Cmp(big.NewRat(6, 1)) != 0 {
		b.refuse("nominal", "problem.bench-nominal", "read", b.one("nominal"))
	}
	if read.Cmp(times(nominal, most)) > 0 {
		b.refuse("volts", "problem.bench-battery-high", "read", b.one("volts"), "nominal", quantity.New(nominal, 0, quantity.Volt))
	}
	return new(big.Rat).Quo(nominal, big.NewRat(12, 1))
}

// checkTemperature refuses a temperature that nobody works in: below -60 or above
// 250 degC. One that was not given is all right.
func (b *bench) checkTemperature() {
	k := b.one("temperature").Base()
	if b.has("temperature") && (k.Cmp(big.NewRat(21315, 100)) < 0 || k.Cmp(big.NewRat(52315, 100)) > 0) {
		b.refuse("temperature", "problem.bench-temperature", "read", b.one("temperature"))
	}
}
