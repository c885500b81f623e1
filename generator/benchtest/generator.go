package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// generatorOutput is a generator set without load and with one.
//
// Frequency f = P N / 120, of P poles at N rpm (U.S. Navy NEETS, NAVEDTRA 14177,
// p. 3-14). Droop = (no-load - loaded frequency) / rated frequency and voltage
// regulation = (no-load - loaded voltage) / loaded voltage, both for the rated
// load (TM 9-6115-464-34, para 4-14 and 4-13d). A droop of 8 % at most is
// remembered from ISO 8528-5, class G1.
var generatorOutput = kind{
	name: "generator output", also: []string{"generator"}, system: "electrical",
	results: []string{"voltage, no load", "voltage, loaded", "frequency, no load", "frequency, loaded", "voltage regulation", "frequency droop"},
	about:   "bench.generator.about", caution: "bench.generator.caution", source: "bench.generator.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.generator.volts").such("240 V").needed(),
		measure("hertz", quantity.Frequency, "bench.generator.hertz").needed(),
		measure("rated_hertz", quantity.Frequency, "bench.generator.rated-hertz").needed(),
		measure("loaded_volts", quantity.Voltage, "bench.generator.loaded-volts").such("240 V"),
		measure("loaded_hertz", quantity.Frequency, "bench.generator.loaded-hertz"),
		measure("load", quantity.Power, "bench.generator.load"),
		count("poles", "bench.generator.poles"),
		measure("rpm", quantity.RotationalSpeed, "bench.generator.rpm"),
		accuracy("gauge", quantity.Voltage),
		accuracyOf("hertz_gauge", quantity.Frequency, "bench.generator.hertz-gauge"),
		accuracyOf("rpm_gauge", quantity.RotationalSpeed, "bench.generator.rpm-gauge"),
	},
	example: `{test: generator output, volts: 247 V, hertz: 62.0 Hz, rated_hertz: 60 Hz, loaded_volts: 234 V, loaded_hertz: 60.0 Hz, load: 2000 W, poles: 2, rpm: 3720 rpm, gauge: 1 %, hertz_gauge: 0.1 Hz, rpm_gauge: 10 rpm}`,
	run:     runGenerator,
}

// mostDroop is that of ISO 8528-5, class G1, from memory.
var mostDroop = percent(8)

func runGenerator(b *bench) {
	if n := b.number("poles"); n != nil && b.count("poles")%2 != 0 {
		b.report("poles", "problem.bench-poles", "read", b.count("poles"))
		return
	}
	if b.has("rpm") && !b.has("poles") {
		b.missing("poles")
		return
	}
	b.put("voltage, no load", b.reading("volts"))
	b.put("frequency, no load", b.with("hertz", "hertz_gauge"))
	if b.has("loaded_volts") {
		b.put("voltage, loaded", b.reading("loaded_volts"))
		b.regulation()
	}
	if b.has("loaded_hertz") {
		b.put("frequency, loaded", b.with("loaded_hertz", "hertz_gauge"))
		b.droop()
	}
	if !b.has("loaded_volts") && !b.has("loaded_hertz") {
		b.say("bench.generator.no-load-only")
	}
	if b.has("poles") && len(b.problems) == 0 {
		b.speeds()
	}
}

// put adds a reading as it is, and says so where it is outside its limit.
func (b *bench) put(what string, r reading) {
	if b.find(finding{what: what, value: r}) == quantity.Outside {
		b.say("bench.generator.off", "what", what, "value", r, "limit", b.last().Limit)
	}
}

// regulation adds how far the voltage falls under load, of the loaded voltage.
func (b *bench) regulation() {
	fall := func(x []*big.Rat) *big.Rat { return quotient(new(big.Rat).Sub(x[0], x[1]), x[1]) }
	if r, ok := b.derive(quantity.Percent, 3, fall, b.reading("volts"), b.reading("loaded_volts")); ok {
		b.find(finding{what: "voltage regulation", value: r})
		b.say("bench.generator.regulation", "from", b.one("volts"), "to", b.one("loaded_volts"))
	}
}

// droop adds how far the frequency falls under load, of the rated frequency.
func (b *bench) droop() {
	rated := b.one("rated_hertz").Base()
	fall := func(x []*big.Rat) *big.Rat { return quotient(new(big.Rat).Sub(x[0], x[1]), rated) }
	r, ok := b.derive(quantity.Percent, 3, fall, b.with("hertz", "hertz_gauge"), b.with("loaded_hertz", "hertz_gauge"))
	if !ok {
		return
	}
	f := finding{what: "frequency droop", value: r, main: true, published: atMost(mostDroop, "bench.source.droop")}
	b.sayFor(b.whisker(f), "bench.generator.inside", "bench.generator.outside")
	if r.Sign() < 0 {
		b.say("bench.generator.rise")
	}
	if !b.has("load") {
		b.say("bench.generator.what-load")
	}
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
	r, ok := b.derive(quantity.Hertz, 3, made, b.with("rpm", "rpm_gauge"))
	if !ok {
		return
	}
	b.find(finding{what: "frequency by the speed", value: r})
	read := b.one("hertz").Base()
	off := new(big.Rat).Sub(r.Base(), read)
	if off.Abs(off).Cmp(times(read, big.NewRat(5, 100))) > 0 {
		b.say("bench.generator.poles-differ", "made", r, "read", b.one("hertz"))
	}
}
