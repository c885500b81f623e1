package benchtest

import (
	"math/big"
	"strconv"

	"asleft/generator/quantity"
)

// compression is the cranking compression test. The rule that a cylinder 20 %
// below the average of all needs work is from U.S. Army TM 1-1500-204-23-1
// (aircraft piston engines). What a rise with oil points to is common practice,
// no source; so are the two rises that are taken for clear and for none.
var compression = kind{
	name: "compression", also: []string{"compression test"}, system: "engine",
	results: []string{"lowest below the average"},
	about:   "bench.compression.about", caution: "bench.compression.caution", source: "bench.compression.source",
	inputs: []input{
		measure("dry", quantity.Pressure, "bench.compression.dry").needed().list("bench.label.cylinder"),
		measure("wet", quantity.Pressure, "bench.compression.wet").list("bench.label.cylinder"),
		yesNo("kick_release", "bench.compression.kick-release"),
		altitudeInput,
		accuracy("gauge", quantity.Pressure),
	},
	example: `{test: compression, dry: [118 psi, 121 psi], wet: [124 psi, 126 psi], kick_release: no, gauge: 2 psi}`,
	run:     runCompression,
}

// lowByAverage is how far below the average of all a cylinder may be.
var lowByAverage = percent(20)

func runCompression(b *bench) {
	dry, wet := b.readings("dry"), b.readings("wet")
	if !b.cylindersFit("dry", len(dry)) || !b.sameCount("wet", len(wet), "dry", len(dry)) {
		return
	}
	verdicts := make([]quantity.Verdict, len(dry))
	for i, r := range dry {
		verdicts[i] = b.find(finding{what: "compression", where: b.cylinder(i, len(dry)), value: r, main: true})
	}
	b.draw(Bars, b.out.Results)
	lowest, highest := extremes(b.list("dry"))
	if len(dry) > 1 {
		b.spread(dry, lowest, highest, verdicts)
	}
	rises := b.rises(dry, wet)
	if len(b.problems) == 0 {
		b.sayCompression(verdicts, rises)
		b.atSeaLevel(dry[lowest])
	}
}

// cylinder is the place of the reading at i: "cylinder 1". A single reading is
// of where the test says, if it says.
func (b *bench) cylinder(i, of int) string { return nth("cylinder", i, of, b.test.Where) }

// nth is the place of the reading at i, counted from 1; of a single reading it
// is where the test says, if it says.
func nth(name string, i, of int, where string) string {
	if of == 1 && where != "" {
		return where
	}
	return name + " " + strconv.Itoa(i+1)
}

// cylindersFit reports a list that is not one reading for each cylinder, and a
// single reading of one of several cylinders that does not say which.
func (b *bench) cylindersFit(name string, n int) bool {
	if b.machine.Engine == nil || b.machine.Engine.Cylinders == 0 || n == b.machine.Engine.Cylinders {
		return true
	}
	key := "problem.bench-cylinders"
	if n == 1 {
		if b.test.Where != "" {
			return true
		}
		key = "problem.bench-which-cylinder"
	}
	b.report(name, key, "n", n, "cylinders", b.machine.Engine.Cylinders)
	return false
}

// sameCount reports two lists of different lengths; an empty one is all right.
func (b *bench) sameCount(name string, n int, other string, want int) bool {
	if n == 0 || n == want {
		return true
	}
	b.report(name, "problem.bench-count-mismatch", "n", n, "other", other, "want", want)
	return false
}

// spread compares the cylinders: the lowest with the highest, and with the
// average of all. A cylinder's verdict is the worse of its own limit and of the
// rule on the average.
func (b *bench) spread(dry []reading, lowest, highest int, verdicts []quantity.Verdict) {
	fall := func(x []*big.Rat) *big.Rat { return fallBelow(x[0], x[1]) }
	if r, ok := b.derive(quantity.Percent, 3, fall, dry[lowest], dry[highest]); ok {
		b.find(finding{what: "spread from the highest", value: r})
	}
	rule := lessThan(lowByAverage, "bench.source.army-compression")
	for i := range dry {
		short := func(x []*big.Rat) *big.Rat { return fallBelow(x[i], mean(x)) }
		r, ok := b.derive(quantity.Percent, 3, short, dry...)
		if !ok {
			return
		}
		if verdict, err := quantity.Judge(r.Quantity, r.gauge, rule.limit); err == nil && verdict != quantity.Inside {
			verdicts[i] = quantity.Worse(verdicts[i], verdict)
		}
		if i == lowest {
			b.find(finding{what: "lowest below the average", value: r, published: rule})
		}
	}
}

// fallBelow is how far part lies below whole, as a part of whole.
func fallBelow(part, whole *big.Rat) *big.Rat {
	return quotient(new(big.Rat).Sub(whole, part), whole)
}

// mean is the average of some numbers.
func mean(x []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for _, n := range x {
		sum.Add(sum, n)
	}
	return sum.Quo(sum, big.NewRat(int64(len(x)), 1))
}

// rises is how much each reading gained with oil in the cylinder.
func (b *bench) rises(dry, wet []reading) []reading {
	var all []reading
	for i := range wet {
		r, ok := b.derive(quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
			return quotient(new(big.Rat).Sub(x[1], x[0]), x[0])
		}, dry[i], wet[i])
		if !ok {
			return nil
		}
		b.find(finding{what: "rise with oil", where: b.cylinder(i, len(wet)), value: r})
		all = append(all, r)
	}
	return all
}

// atSeaLevel adds what the lowest reading would be at sea level.
func (b *bench) atSeaLevel(lowest reading) {
	altitude := b.altitude()
	if altitude.IsZero() || altitude.Sign() == 0 {
		return
	}
	factor, ok := seaLevelFactor(altitude)
	if !ok {
		b.report(altitudeInput.name, "problem.bench-altitude", "read", altitude)
		return
	}
	r, ok := b.derive(lowest.Unit(), 3, func(x []*big.Rat) *big.Rat { return new(big.Rat).Mul(x[0], factor) }, lowest)
	if !ok {
		return
	}
	b.find(finding{what: "lowest compression at sea level", value: r})
	if altitude.Sign() > 0 {
		b.say("bench.compression.altitude", "altitude", altitude, "value", r)
	}
}
