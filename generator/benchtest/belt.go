package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// beltDrive is a drive of one or more pairs of pulleys with open belts.
//
// Speed: n2 = n1 d1/d2, over all pairs in turn (Milton and Wohlers, 1919: 4 in
// at 1500 rpm turns 20 in at 300 rpm). Length of an open belt, exact, not the
// shop formula: 2 sqrt(C^2 - (R-r)^2) + pi (R+r) + 2 (R-r) asin((R-r)/C). The
// belt lies on the smaller pulley over 180 degrees less 2 asin((R-r)/C). Both
// follow from the geometry; diameters are those at which the belt runs (pitch).
var beltDrive = kind{
	name: "belt drive", also: []string{"pulleys"}, system: "drive",
	results: []string{"driven speed", "belt slip"},
	about:   "bench.belt.about", caution: "bench.belt.caution", source: "bench.belt.source",
	inputs: []input{
		measure("rpm", quantity.RotationalSpeed, "bench.belt.rpm").needed(),
		measure("driver", quantity.Length, "bench.belt.driver").needed().such("4 in").list("bench.label.stage"),
		measure("driven", quantity.Length, "bench.belt.driven").needed().such("6 in").list("bench.label.stage"),
		measure("center", quantity.Length, "bench.belt.center").such("18 in"),
		measure("driven_rpm", quantity.RotationalSpeed, "bench.belt.driven-rpm"),
		accuracy("gauge", quantity.RotationalSpeed),
		accuracyOf("length_gauge", quantity.Length, "bench.in.length-gauge"),
	},
	example: `{test: belt drive, rpm: 1725 rpm, driver: 4 in, driven: 6 in, center: 18 in, driven_rpm: 1130 rpm, gauge: 5 rpm, length_gauge: 0.01 in}`,
	run:     runBelt,
}

func runBelt(b *bench) {
	drivers, driven := b.lengths("driver"), b.lengths("driven")
	b.pairs("driven", len(driven), "driver", len(drivers))
	b.checkCenter(drivers, driven)
	n := len(drivers)
	speed := func(x []*big.Rat) *big.Rat { return quotient(times(x[:n+1]...), times(x[n+1:2*n+1]...)) }
	readings := append(append([]reading{b.reading("rpm")}, drivers...), driven...)
	verdict := b.whisker(finding{what: "driven speed", value: b.derive(quantity.RPM, 4, speed, readings...), main: true})
	b.sayFor(verdict, "bench.belt.inside", sides{"bench.belt.outside", "bench.belt.outside"})
	b.say("bench.belt.true-speed")
	if b.has("driven_rpm") {
		b.beltSlip(speed, readings)
	}
	if n == 1 {
		b.beltSpeed(drivers[0])
		b.beltLength(drivers[0], driven[0])
	}
}

// lengths is the readings of a list that is measured with the second tool.
func (b *bench) lengths(name string) []reading {
	var all []reading
	b.asRead[name] = true
	for _, v := range b.given[name].items {
		all = append(all, b.readingOf(v, b.gaugeOf("length_gauge")))
	}
	return all
}

// pairs refuses two lists that do not go together.
func (b *bench) pairs(name string, n int, other string, want int) {
	if n != want {
		b.refuse(name, "problem.bench-pairs", "n", n, "other", other, "want", want)
	}
}

// checkCenter refuses pulleys that would touch, and a center distance where there
// are several belts.
func (b *bench) checkCenter(drivers, driven []reading) {
	if !b.has("center") {
		return
	}
	if len(drivers) > 1 {
		b.refuse("center", "problem.bench-center-stages")
	}
	apart := new(big.Rat).Add(drivers[0].Base(), driven[0].Base())
	if apart.Quo(apart, big.NewRat(2, 1)).Cmp(b.one("center").Base()) >= 0 {
		b.refuse("center", "problem.bench-center", "read", b.one("center"))
	}
}

// beltSlip adds what the driven shaft lacks of its computed speed.
func (b *bench) beltSlip(speed func(x []*big.Rat) *big.Rat, readings []reading) {
	slip := func(x []*big.Rat) *big.Rat { return fallBelow(x[len(x)-1], speed(x[:len(x)-1])) }
	r := b.derive(quantity.Percent, 2, slip, append(readings, b.reading("driven_rpm"))...)
	verdict := b.find(finding{what: "belt slip", value: r})
	b.belowNothing()
	switch {
	case r.most().Sign() < 0:
		b.say("bench.belt.too-fast")
	case verdict == quantity.Outside:
		b.say("bench.belt.slip", "slip", r)
	}
}

// beltSpeed adds how fast the belt runs: pi d n.
func (b *bench) beltSpeed(driver reading) {
	run := func(x []*big.Rat) *big.Rat { return times(pi, x[0], x[1], big.NewRat(1, 60)) }
	b.sum(finding{what: "belt speed"}, speedUnit(driver.Quantity), 3, run, driver, b.reading("rpm"))
}

// speedUnit goes with the unit of a length: feet a minute with inches and feet.
func speedUnit(q quantity.Quantity) quantity.Unit {
	if inInches(q) {
		return quantity.FootPerMinute
	}
	return quantity.MeterPerSecond
}

// beltLength adds the belt's length and how far it lies on the smaller pulley.
func (b *bench) beltLength(driver, driven reading) {
	if !b.has("center") {
		return
	}
	readings := []reading{driver, driven, b.with("center", "length_gauge")}
	b.sum(finding{what: "belt length"}, driver.Unit(), 4, func(x []*big.Rat) *big.Rat {
		return exact(openBelt(float(x[0]), float(x[1]), float(x[2])))
	}, readings...)
	wrap := b.derive(quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
		return exact(leastWrap(float(x[0]), float(x[1]), float(x[2])))
	}, readings...)
	degrees := times(wrap.Base(), big.NewRat(360, 1)).FloatString(0)
	shown := b.words.Say("bench.belt.degrees", "degrees", degrees, "part", wrap)
	b.find(finding{what: "wrap on the smaller pulley", value: wrap, shown: shown})
}

// openBelt is the length of a belt round pulleys of diameters d1 and d2 at
// centers c apart, all in one unit; not a number where they would not fit.
func openBelt(d1, d2, c float64) float64 {
	step := math.Abs(d1-d2) / 2
	return 2*math.Sqrt(c*c-step*step) + math.Pi*(d1+d2)/2 + 2*step*math.Asin(step/c)
}

// leastWrap is how far the belt lies on the smaller pulley, as a part of a turn.
func leastWrap(d1, d2, c float64) float64 {
	return (math.Pi - 2*math.Asin(math.Abs(d1-d2)/2/c)) / (2 * math.Pi)
}
