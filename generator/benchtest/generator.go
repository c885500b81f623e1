package benchtest

import (
	"math/big"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// generatorOutput is a generator set without load and with one, against its plate.
//
// Volts and hertz against the plate: DGUV Information 203-032, Annex 5, after EN
// 12601. A set of class G1 keeps within 10 % of its rated voltage up to 10 kW and
// within 5 % above that, and within 8 % of its rated frequency, without load. The
// same is used with load, where no source gives less for a small set.
//
// Frequency f = P N / 120, of P poles at N rpm (U.S. Navy NEETS, NAVEDTRA 14177,
// p. 3-14). Droop = (no-load - loaded frequency) / rated frequency and voltage
// regulation = (no-load - loaded voltage) / loaded voltage, both for the rated
// load (TM 9-6115-464-34, para 4-14 and 4-13d). A droop of 8 % at most is
// remembered from ISO 8528-5, class G1. It is of the rated load: with less on it,
// a small fall proves nothing.
var generatorOutput = kind{
	name: "generator output", also: []string{"generator"}, system: "electrical",
	results: []string{"voltage, no load", "voltage, loaded", "frequency, no load", "frequency, loaded", "voltage regulation", "frequency droop"},
	about:   "bench.generator.about", caution: "bench.generator.caution", source: "bench.generator.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.generator.volts").ac().such("240 V").needed(),
		measure("hertz", quantity.Frequency, "bench.generator.hertz").needed(),
		measure("rated_volts", quantity.Voltage, "bench.generator.rated-volts").ac().such("240 V").onPlate(logbook.PlateAlternator, "volts"),
		measure("rated_hertz", quantity.Frequency, "bench.generator.rated-hertz").needed().onPlate(logbook.PlateAlternator, "hertz"),
		measure("rated_load", quantity.Power, "bench.generator.rated-load").such("2000 W").onPlate(logbook.PlateAlternator, "power"),
		measure("loaded_volts", quantity.Voltage, "bench.generator.loaded-volts").ac().such("240 V"),
		measure("loaded_hertz", quantity.Frequency, "bench.generator.loaded-hertz"),
		measure("load", quantity.Power, "bench.generator.load"),
		count("poles", "bench.generator.poles"),
		measure("rpm", quantity.RotationalSpeed, "bench.generator.rpm"),
		accuracy("gauge", quantity.Voltage),
		accuracyOf("hertz_gauge", quantity.Frequency, "bench.generator.hertz-gauge"),
		accuracyOf("rpm_gauge", quantity.RotationalSpeed, "bench.generator.rpm-gauge"),
	},
	example: `{test: generator output, volts: 247 V, hertz: 62.0 Hz, rated_volts: 240 V, rated_hertz: 60 Hz, rated_load: 2000 W, loaded_volts: 234 V, loaded_hertz: 60.0 Hz, load: 1900 W, poles: 2, rpm: 3720 rpm, gauge: 1 %, hertz_gauge: 0.1 Hz, rpm_gauge: 10 rpm}`,
	run:     runGenerator,
}

// mostDroop is that of ISO 8528-5, class G1, from memory; mostOffHertz that of DGUV
// Information 203-032.
var (
	mostDroop    = percent(8)
	mostOffHertz = percent(8)
	largeSet     = quantity.New(big.NewRat(10, 1), 0, quantity.Kilowatt)
)

func runGenerator(b *bench) {
	b.checkPoles()
	if b.has("rpm") {
		b.need("poles")
	}
	b.put("voltage, no load", b.reading("volts"), b.plateVolts())
	b.put("frequency, no load", b.with("hertz", "hertz_gauge"), b.plateHertz())
	if b.has("loaded_volts") {
		b.put("voltage, loaded", b.reading("loaded_volts"), b.plateVolts())
	}
	if b.has("loaded_hertz") {
		b.put("frequency, loaded", b.with("loaded_hertz", "hertz_gauge"), b.plateHertz())
	}
	b.draw(Whisker, b.out.Results[:1])
	b.sayPlate()
	if b.has("loaded_volts") {
		b.regulation()
	}
	if b.has("loaded_hertz") {
		b.droop()
	}
	if !b.has("loaded_volts") && !b.has("loaded_hertz") {
		b.say("bench.generator.no-load-only")
	}
	if b.has("poles") {
		b.speeds()
	}
}

// checkPoles refuses a count of poles that is odd: they come in pairs.
func (b *bench) checkPoles() {
	if b.count("poles")%2 != 0 {
		b.refuse("poles", "problem.bench-poles", "read", b.count("poles"))
	}
}

// plateVolts is how far the voltage may be from that of the plate.
func (b *bench) plateVolts() published {
	if !b.has("rated_volts") {
		return published{}
	}
	part, source := percent(10), "bench.source.plate-volts"
	if b.has("rated_load") && b.one("rated_load").Base().Cmp(largeSet.Base()) > 0 {
		part, source = percent(5), "bench.source.plate-volts-large"
	}
	return offBy(b.one("rated_volts"), part, source)
}

// plateHertz is how far the frequency may be from that of the plate.
func (b *bench) plateHertz() published {
	return offBy(b.one("rated_hertz"), mostOffHertz, "bench.source.plate-hertz")
}

// offBy is the limit of so much to either side.
func offBy(rated, part quantity.Quantity, source string) published {
	return published{limit: sure(quantity.NewTolerance(rated, part)), source: source}
}

// put adds a reading as it is, and says on which side it is outside its limit.
func (b *bench) put(what string, r reading, limit published) {
	if b.find(finding{what: what, value: r, reading: true, published: limit}) != quantity.Outside {
		return
	}
	key := sides{"bench.generator.low", "bench.generator.high"}.beyond(*b.last())
	b.say(key, "what", what, "value", b.last().Value, "limit", LimitSaid(b.words, b.last().Limit))
}

// sayPlate says how the readings stand to the plate, where none is outside.
func (b *bench) sayPlate() {
	worst := quantity.NotLimited
	for _, r := range b.out.Results {
		worst = quantity.Worse(worst, r.Verdict)
	}
	switch {
	case !b.has("rated_volts"):
		b.say("bench.generator.no-plate")
	case worst == quantity.Inside:
		b.say("bench.generator.plate")
	case worst == quantity.TooClose:
		b.say("bench.other.too-close", "what", b.lastThat(quantity.TooClose).Name)
	}
}

// regulation adds how far the voltage falls under load, of the loaded voltage.
func (b *bench) regulation() {
	fall := func(x []*big.Rat) *big.Rat { return quotient(minus(x[0], x[1]), x[1]) }
	b.sum(finding{what: "voltage regulation"}, quantity.Percent, 3, fall, b.reading("volts"), b.reading("loaded_volts"))
	b.belowNothing()
	b.say("bench.generator.regulation", "from", b.one("volts"), "to", b.one("loaded_volts"))
}

// droop adds how far the frequency falls under load, of the rated frequency. It
// counts near the rated load; with less on it, only a droop that is too much already.
func (b *bench) droop() {
	rated := b.one("rated_hertz").Base()
	fall := func(x []*big.Rat) *big.Rat { return quotient(minus(x[0], x[1]), rated) }
	r := b.derive(quantity.Percent, 3, fall, b.with("hertz", "hertz_gauge"), b.with("loaded_hertz", "hertz_gauge"))
	f := finding{what: "frequency droop", value: r, main: true, published: atMost(mostDroop, "bench.source.droop")}
	switch {
	case r.Sign() < 0:
		b.find(finding{what: "frequency change under load", value: r})
		if r.most().Sign() < 0 {
			b.say("bench.generator.rise")
		} else {
			b.say("bench.other.no-change")
		}
	default:
		verdict := b.find(f)
		if verdict == quantity.Outside || b.nearRatedLoad() {
			b.sayFor(verdict, "bench.generator.inside", sides{above: "bench.generator.outside"}, "rated", b.one("rated_hertz"))
			return
		}
		b.unheld("frequency droop at part load")
		b.last().Main = false
		b.say("bench.generator.part-load", "value", b.last().Value, "rated", b.one("rated_hertz"))
	}
}

// nearRatedLoad tells whether the load was at least nine tenths of the rated one.
// Common practice, no source.
func (b *bench) nearRatedLoad() bool {
	if !b.has("load") || !b.has("rated_load") {
		return false
	}
	share := quotient(b.one("load").Base(), b.one("rated_load").Base())
	return share.Cmp(big.NewRat(9, 10)) >= 0
}

// speeds adds what the poles make of speed and frequency.
func (b *bench) speeds() {
	poles := b.number("poles")
	b.find(finding{what: "speed for the rated frequency", value: reading{
		Quantity: significant(new(big.Rat).Quo(times(b.one("rated_hertz").Base(), big.NewRat(120, 1)), poles), 4, quantity.RPM),
	}})
	if !b.has("rpm") {
		return
	}
	made := func(x []*big.Rat) *big.Rat { return times(x[0], poles, big.NewRat(1, 120)) }
	r := b.derive(quantity.Hertz, 3, made, b.with("rpm", "rpm_gauge"))
	b.find(finding{what: "frequency by the speed", value: r})
	read := b.one("hertz").Base()
	off := new(big.Rat).Sub(r.Base(), read)
	if off.Abs(off).Cmp(times(read, big.NewRat(5, 100))) > 0 {
		b.say("bench.generator.poles-differ", "made", r, "read", b.one("hertz"))
	}
}
