package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// insulationResistance is the winding of a motor or generator against ground
// with a high test voltage, after IEEE Std 43 (read at second hand; its scope,
// machines of 1 hp, 750 W or greater, in the abstract of 43-2000).
//
// Correction to 40 degC: R x 0.5^((40 - T)/10), half for each 10 degC warmer;
// other rules exist for thermoset insulation, and between 10 and 40 degC IEC
// 60034-27-4 is said to take none. Least resistance after one minute at 40
// degC: kV + 1 megohm for windings made before about 1970 and field windings,
// 100 megohm for form-wound ones made since, 5 megohm for random-wound ones and
// form-wound ones below 1 kV. Polarization index, ten minutes over one: 1.5 for
// thermal class A, 2.0 for B, F and H; it means nothing above 5000 megohm.
var insulationResistance = kind{
	name: "insulation resistance", also: []string{"megohm test"}, system: "electrical", safety: true,
	results: []string{"insulation resistance at 40 degC", "polarization index"},
	about:   "bench.insulation.about", caution: "bench.insulation.caution", source: "bench.insulation.source",
	inputs: []input{
		measure("resistance", quantity.Resistance, "bench.insulation.resistance").such("80 Mohm").needed(),
		measure("temperature", quantity.Temperature, "bench.insulation.temperature").needed().signed(),
		choice("winding", "bench.insulation.winding", randomWound, formWound, oldWinding).needed(),
		measure("rated_volts", quantity.Voltage, "bench.insulation.rated-volts").such("240 V").needed().onPlate(logbook.PlateMotor, "volts"),
		measure("power", quantity.Power, "bench.insulation.power"),
		measure("ten_minutes", quantity.Resistance, "bench.insulation.ten-minutes").such("190 Mohm"),
		choice("class", "bench.insulation.class", "A", "B", "F", "H"),
		measure("test_volts", quantity.Voltage, "bench.insulation.test-volts").such("500 V"),
		accuracy("gauge", quantity.Resistance),
	},
	example: `{test: insulation resistance, resistance: 80 Mohm, temperature: 68 degF, winding: random-wound, rated_volts: 240 V, power: 1.5 hp, ten_minutes: 190 Mohm, class: B, test_volts: 500 V, gauge: 5 %}`,
	run:     runInsulation,
}

const (
	randomWound = "random-wound"
	formWound   = "form-wound"
	oldWinding  = "old or field"
)

// The scope of the standard, which calls 1 hp and 750 W the same (the lesser of the
// two is taken), and where the polarization index stops to mean anything.
var (
	leastScope = quantity.New(big.NewRat(1, 1), 0, quantity.Horsepower).Base()
	indexEnds  = big.NewRat(5_000_000_000, 1)
)

func runInsulation(b *bench) {
	b.checkTemperature()
	t := float(b.one("temperature").Base()) - 273.15
	r := b.derive(quantity.Megohm, 3, func(x []*big.Rat) *big.Rat { return exact(at40(float(x[0]), t)) }, b.reading("resistance"))
	verdict := b.whisker(finding{what: "insulation resistance at 40 degC", value: r, main: true, published: b.leastInsulation()})
	b.sayFor(verdict, "bench.insulation.inside", sides{below: "bench.insulation.outside"})
	b.say("bench.insulation.method")
	b.sayScope()
	if b.has("ten_minutes") {
		b.polarization()
	}
	b.sayTestVolts()
}

// at40 is a resistance read at t degC as it would be at 40 degC.
func at40(ohms, t float64) float64 { return ohms * math.Pow(0.5, (40-t)/10) }

// outOfScope tells whether the machine is too small for the standard: by the test, and
// by its plate where that says how strong it is.
func (b *bench) outOfScope() bool {
	plate := b.platePower()
	small := func(q quantity.Quantity) bool { return q.Base().Cmp(leastScope) < 0 }
	return b.has("power") && small(b.one("power")) && (plate.IsZero() || small(plate))
}

// platePower is how strong the motor's plate says it is; nothing where it does not.
func (b *bench) platePower() quantity.Quantity {
	return b.machine.PlateOf(logbook.PlateMotor, b.test.Where).Value("power")
}

func (b *bench) leastInsulation() published {
	if b.outOfScope() {
		return published{}
	}
	kilovolts := new(big.Rat).Quo(b.one("rated_volts").Base(), big.NewRat(1000, 1))
	megohms := func(n *big.Rat, places int) published {
		return atLeast(quantity.New(n, places, quantity.Megohm), "bench.source.ieee43")
	}
	switch {
	case b.word("winding") == oldWinding:
		return megohms(kilovolts.Add(kilovolts, big.NewRat(1, 1)), 2)
	case b.word("winding") == formWound && kilovolts.Cmp(big.NewRat(1, 1)) >= 0:
		return megohms(big.NewRat(100, 1), 0)
	}
	return megohms(big.NewRat(5, 1), 0)
}

func (b *bench) sayScope() {
	switch {
	case b.outOfScope():
		b.say("bench.insulation.small", "power", b.one("power"))
	case b.has("power"):
	case b.platePower().IsZero():
		b.say("bench.insulation.no-power")
	case b.platePower().Base().Cmp(leastScope) < 0:
		b.say("bench.insulation.plate-small", "power", b.platePower())
	}
}

// polarization adds the ten-minute reading over the one-minute reading.
func (b *bench) polarization() {
	if b.one("resistance").Base().Cmp(indexEnds) > 0 {
		b.say("bench.insulation.index-ends")
		return
	}
	index := func(x []*big.Rat) *big.Rat { return quotient(x[1], x[0]) }
	verdict := b.plain(finding{what: "polarization index", published: b.leastIndex()}, 3, index, b.reading("resistance"), b.reading("ten_minutes"))
	switch verdict {
	case quantity.Outside:
		b.say("bench.insulation.index-low", "index", b.last().Value)
	case quantity.TooClose:
		b.say("bench.insulation.index-close", "index", b.last().Value)
	case quantity.NotLimited:
		b.say("bench.insulation.no-class")
	}
}

func (b *bench) leastIndex() published {
	switch {
	case b.outOfScope() || !b.has("class"):
		return published{}
	case b.word("class") == "A":
		return atLeast(plainRatio(big.NewRat(3, 2), 2), "bench.source.ieee43")
	}
	return atLeast(plainRatio(big.NewRat(2, 1), 2), "bench.source.ieee43")
}

// testVolts are the highest test voltages by the rated voltage below which they
// hold (IEEE 43-2000, as printed by EASA).
var testVolts = []row{rowOf(1000_00, 500_00), rowOf(2501_00, 1000_00), rowOf(5001_00, 2500_00), rowOf(12001_00, 5000_00)}

// sayTestVolts says that a test was made with more than the winding is due.
func (b *bench) sayTestVolts() {
	most, rated := big.NewRat(10000, 1), b.one("rated_volts").Base()
	for _, r := range testVolts {
		if rated.Cmp(r.at) < 0 {
			most = r.is
			break
		}
	}
	if b.one("test_volts").Base().Cmp(most) > 0 {
		b.say("bench.insulation.test-volts-high", "used", b.one("test_volts"), "due", quantity.New(most, 0, quantity.Volt))
	}
}
