package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// fuelMix is the oil that goes into the fuel of a two-stroke engine:
// fuel/ratio (arithmetic; the U.S. gallon is 128 fl oz by NIST Handbook 44).
var fuelMix = kind{
	name: "fuel mix", also: []string{"oil mix", "two-stroke mix"}, system: "fuel",
	results: []string{"mix as made"},
	about:   "bench.fuel-mix.about", caution: "bench.caution.fuel", source: "bench.fuel-mix.source",
	inputs: []input{
		measure("fuel", quantity.Volume, "bench.fuel-mix.fuel").needed(),
		number("ratio", "bench.fuel-mix.ratio"),
		measure("oil", quantity.Volume, "bench.fuel-mix.oil"),
		accuracy("gauge", quantity.Volume),
	},
	example: `{test: fuel mix, fuel: 2 gal, ratio: "50:1", oil: 5.1 fl oz, gauge: 0.1 fl oz}`,
	run:     runFuelMix,
}

func runFuelMix(b *bench) {
	fuel := reading{Quantity: b.one("fuel")}
	ratio := b.number("ratio")
	if !b.has("oil") {
		b.need("ratio")
	}
	if ratio != nil {
		b.oilNeeded(fuel, ratio)
		b.say("bench.fuel-mix.add", "oil", b.last().Value, "ratio", plainNumberText(ratio), "fuel", fuel)
	}
	if b.has("oil") {
		b.mixAsMade(fuel, ratio)
	}
}

// oilNeeded adds the oil for the ratio.
func (b *bench) oilNeeded(fuel reading, ratio *big.Rat) {
	u, other := quantity.Milliliter, quantity.FluidOunce
	if inUSMeasure(fuel.Quantity) {
		u, other = other, u
	}
	show := func(q quantity.Quantity) string { return both(q, 3, other) }
	b.sum(finding{what: "oil to add", show: show}, u, 3, func(x []*big.Rat) *big.Rat { return quotient(x[0], ratio) }, fuel)
}

// inUSMeasure tells whether a volume was given in a U.S. liquid measure.
func inUSMeasure(q quantity.Quantity) bool {
	u := q.Unit()
	return u == quantity.Gallon || u == quantity.Quart || u == quantity.FluidOunce
}

// mixAsMade adds the parts of fuel to one of oil, and says whether that is as
// rich in oil as was wanted: the reading's gauge decides what is the same. A
// difference of less than 5 % harms no engine (common practice, no source).
func (b *bench) mixAsMade(fuel reading, want *big.Rat) {
	r := b.derive(quantity.ToOne, 3, func(x []*big.Rat) *big.Rat { return quotient(x[0], x[1]) }, fuel, b.reading("oil"))
	r.Quantity = r.WithPlaces(1)
	r.mark()
	if r.Base().Cmp(big.NewRat(1, 1)) <= 0 {
		b.refuse("oil", "problem.bench-more-oil-than-fuel", "read", b.one("oil"), "fuel", fuel)
	}
	b.findToOne(finding{what: "mix as made", value: r})
	shown := b.last().Value
	if want == nil {
		b.say("bench.fuel-mix.made", "value", shown)
		return
	}
	least, most := r.least().Base(), r.most().Base()
	switch {
	case least.Cmp(times(want, big.NewRat(105, 100))) > 0:
		b.say("bench.fuel-mix.lean", "value", shown)
	case most.Cmp(times(want, big.NewRat(95, 100))) < 0:
		b.say("bench.fuel-mix.rich", "value", shown)
	case least.Cmp(want) <= 0 && most.Cmp(want) >= 0:
		b.say("bench.fuel-mix.right", "value", shown)
	default:
		b.say("bench.fuel-mix.near", "value", shown)
	}
}

// plainNumberText is a number as a person would write it: 50 or 32.5.
func plainNumberText(r *big.Rat) string {
	if r.IsInt() {
		return r.Num().String()
	}
	return r.FloatString(2)
}

// oilConsumption is start + added - end over the time run (arithmetic).
var oilConsumption = kind{
	name: "oil consumption", also: []string{"oil use"}, system: "engine",
	results: []string{"oil used per hour"},
	about:   "bench.oil.about", caution: "bench.oil.caution", source: "bench.source.none",
	inputs: []input{
		measure("start", quantity.Volume, "bench.oil.start").needed(),
		measure("end", quantity.Volume, "bench.oil.end").needed().orZero(),
		measure("added", quantity.Volume, "bench.oil.added").orZero(),
		measure("ran", quantity.Time, "bench.in.ran").needed(),
		accuracy("gauge", quantity.Volume),
	},
	example: `{test: oil consumption, start: 600 mL, end: 555 mL, added: 0 mL, ran: 5 h, gauge: 5 mL}`,
	run:     runOilConsumption,
}

func runOilConsumption(b *bench) {
	of := []reading{b.reading("start"), b.reading("end"), {Quantity: b.one("ran")}}
	if b.has("added") {
		of = append(of, b.reading("added"))
	}
	r := b.derive(of[0].Unit(), 2, func(x []*big.Rat) *big.Rat {
		used := minus(x[0], x[1])
		if len(x) == 4 {
			used.Add(used, x[3])
		}
		return perHour(used, x[2])
	}, of...)
	if r.most().Sign() < 0 {
		b.oilRose(r)
		return
	}
	show := func(q quantity.Quantity) string { return b.words.Say("bench.value.per-hour", "value", q) }
	verdict := b.find(finding{what: "oil used per hour", value: r, show: show, main: true})
	shown := b.last().Value
	switch {
	case verdict == quantity.Outside:
		b.say((sides{above: "bench.oil.high"}).always(*b.last()), "value", shown, "limit", LimitSaid(b.words, b.last().Limit))
	case r.least().Sign() <= 0:
		b.say("bench.oil.little")
	default:
		b.say("bench.oil.says", "value", shown)
	}
}

// oilRose tells of a level that rose. That is no consumption, and lies within no
// limit for one.
func (b *bench) oilRose(r reading) {
	up := quantity.New(new(big.Rat).Neg(r.Rat()), r.Places(), r.Unit())
	b.find(finding{what: "rise of the oil level per hour", value: reading{Quantity: up, gauge: r.gauge}, shown: b.words.Say("bench.value.per-hour", "value", up)})
	b.say("bench.oil.rose")
}

// perHour is an amount over a time in s, for each hour.
func perHour(amount, seconds *big.Rat) *big.Rat {
	return quotient(times(amount, big.NewRat(3600, 1)), seconds)
}

// fuelRate is the fuel used over the time run, and what follows for a tank and
// for each kWh (arithmetic).
var fuelRate = kind{
	name: "fuel rate", also: []string{"fuel use", "fuel consumption"}, system: "fuel",
	results: []string{"fuel used per hour"},
	about:   "bench.fuel-rate.about", caution: "bench.caution.fuel", source: "bench.source.none",
	inputs: []input{
		measure("used", quantity.Volume, "bench.fuel-rate.used").needed(),
		measure("ran", quantity.Time, "bench.in.ran").needed(),
		measure("tank", quantity.Volume, "bench.fuel-rate.tank"),
		measure("load", quantity.Power, "bench.fuel-rate.load"),
		accuracy("gauge", quantity.Volume),
	},
	example: `{test: fuel rate, used: 21 fl oz, ran: 45 min, tank: 1.2 gal, load: 900 W, gauge: 0.5 fl oz}`,
	run:     runFuelRate,
}

func runFuelRate(b *bench) {
	used, ran := b.reading("used"), reading{Quantity: b.one("ran")}
	rate := func(x []*big.Rat) *big.Rat { return perHour(x[0], x[1]) }
	show := func(q quantity.Quantity) string { return b.words.Say("bench.value.per-hour", "value", q) }
	verdict := b.sum(finding{what: "fuel used per hour", show: show, main: true}, used.Unit(), 3, rate, used, ran)
	b.say("bench.fuel-rate.says", "value", b.last().Value)
	if verdict == quantity.Outside {
		b.say("bench.fuel-rate.outside")
	}
	if b.has("tank") {
		lasts := func(x []*big.Rat) *big.Rat { return quotient(times(x[2], x[1]), x[0]) }
		b.sum(finding{what: "run time on a tank"}, quantity.Hour, 3, lasts, used, ran, reading{Quantity: b.one("tank")})
	}
	if b.has("load") {
		// V/(P t) is in m3 a joule; a kWh is 3,600,000 J.
		each := func(x []*big.Rat) *big.Rat {
			return quotient(times(x[0], big.NewRat(3_600_000, 1)), times(x[1], x[2]))
		}
		show := func(q quantity.Quantity) string { return b.words.Say("bench.value.per-kwh", "value", q) }
		b.sum(finding{what: "fuel for each kWh", show: show}, used.Unit(), 3, each, used, ran, reading{Quantity: b.one("load")})
	}
}
