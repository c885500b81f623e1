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
//
// At altitude a limit falls: U.S. Army TM 5-3895-359-14&P, Table 1 (two-stroke
// diesel), prints 515 psi at 500 ft and 380 at 10,000, which goes nearly by the air's
// density. A trade letter goes by the air's pressure. A reading is judged only as far
// as both agree.
var compression = kind{
	name: "compression", also: []string{"compression test"}, system: "engine",
	results: []string{"lowest below the average"},
	about:   "bench.compression.about", caution: "bench.compression.caution", source: "bench.compression.source",
	inputs: []input{
		measure("dry", quantity.Pressure, "bench.compression.dry").orZero().needed().list("bench.label.cylinder"),
		measure("wet", quantity.Pressure, "bench.compression.wet").orZero().list("bench.label.cylinder"),
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
	b.cylindersFit("dry", len(dry))
	b.sameCount("wet", len(wet), "dry", len(dry))
	air := b.airFactors()
	cylinders := make([]judgedCylinder, len(dry))
	drawn := make([]Result, len(dry))
	for i, r := range dry {
		cylinders[i].where = b.cylinder(i, len(dry))
		f := b.pressed(r, cylinders[i].where, air)
		cylinders[i].verdict = b.find(f)
		cylinders[i].above = cylinders[i].verdict == quantity.Outside && !b.last().below()
		drawn[i] = *b.last()
		if air != nil { // as it would be at sea level
			drawn[i].Quantity, drawn[i].Gauge = f.between[0].Quantity, f.between[0].gauge
		}
	}
	b.draw(Bars, drawn)
	b.out.Drawing.Alt = b.facts(b.out.Results)
	lowest, highest := extremes(b.list("dry"))
	if len(dry) > 1 && dry[highest].Sign() > 0 { // of nothing there is no part
		b.spread(dry, lowest, highest, cylinders)
	}
	b.sayCompression(cylinders, b.rises(dry, wet))
	if air != nil {
		b.say("bench.compression.altitude", "altitude", b.altitude())
		if cylindersThat(cylinders, quantity.TooClose, false) != "" {
			b.say("bench.compression.ways-differ")
		}
	}
}

// A judgedCylinder is a cylinder with the worst that was found of it, and whether
// that is a pressure above its limit.
type judgedCylinder struct {
	where   string
	verdict quantity.Verdict
	above   bool
}

// pressed is the finding of a cylinder's pressure. At altitude it is judged by what
// it would be at sea level; how that is worked out differs between sources, so both
// ways have to agree.
func (b *bench) pressed(r reading, where string, air []*big.Rat) finding {
	f := finding{what: "compression", where: where, part: true, value: r, main: true}
	var ends []string
	for _, factor := range air {
		at := b.derive(r.Unit(), 3, func(x []*big.Rat) *big.Rat { return times(x[0], factor) }, r)
		at.between = r.between
		at, _ = deciding(at, b.machineLimits(f))
		f.between = append(f.between, at)
		ends = append(ends, at.ends()...)
	}
	if len(ends) == 0 || r.Sign() == 0 { // nothing is nothing at any altitude
		return f
	}
	low, high := ends[0], ends[len(ends)-1]
	if f.shown = b.words.Say("bench.compression.at-sea-level", "value", r, "low", low, "high", high); low == high {
		f.shown = b.words.Say("bench.compression.at-sea-level-one", "value", r, "at", low)
	}
	return f
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

// cylindersFit refuses a list that is not one reading for each cylinder, and a
// single reading of one of several cylinders that does not say which.
func (b *bench) cylindersFit(name string, n int) {
	cylinders := b.engine().Cylinders
	switch {
	case cylinders == 0 || n == cylinders || n == 1 && b.test.Where != "":
	case n == 1:
		b.refuse(name, "problem.bench-which-cylinder", "n", n, "cylinders", cylinders)
	default:
		b.refuse(name, "problem.bench-cylinders", "n", n, "cylinders", cylinders)
	}
}

// sameCount refuses two lists of different lengths; an empty one is all right.
func (b *bench) sameCount(name string, n int, other string, want int) {
	if n != 0 && n != want {
		b.refuse(name, "problem.bench-count-mismatch", "n", n, "other", other, "want", want)
	}
}

// spread compares the cylinders: the lowest with the highest, and with the
// average of all. A cylinder's verdict is the worse of its own limit and of the
// rule on the average.
func (b *bench) spread(dry []reading, lowest, highest int, cylinders []judgedCylinder) {
	fall := func(x []*big.Rat) *big.Rat { return fallBelow(x[0], x[1]) }
	b.sum(finding{what: "spread from the highest"}, quantity.Percent, 3, fall, dry[lowest], dry[highest])
	rule := lessThan(lowByAverage, "bench.source.army-compression")
	var below []reading
	for i := range dry {
		short := func(x []*big.Rat) *big.Rat { return fallBelow(x[i], mean(x)) }
		r := b.derive(quantity.Percent, 3, short, dry...)
		c := &cylinders[i]
		if verdict := r.judged(rule.limit); verdict != quantity.Inside && !c.above {
			c.verdict = quantity.Worse(c.verdict, verdict)
		}
		below = append(below, r)
	}
	b.find(finding{what: "lowest below the average", trials: below, published: rule})
}

// fallBelow is how far part lies below whole, as a part of whole.
func fallBelow(part, whole *big.Rat) *big.Rat {
	return quotient(minus(whole, part), whole)
}

// mean is the average of some numbers.
func mean(x []*big.Rat) *big.Rat {
	sum := new(big.Rat)
	for _, n := range x {
		sum.Add(sum, n)
	}
	return sum.Quo(sum, big.NewRat(int64(len(x)), 1))
}

// rises is how much each reading gained with oil in the cylinder; the zero reading
// where there was no pressure without it.
func (b *bench) rises(dry, wet []reading) []reading {
	all := make([]reading, len(wet))
	for i := range wet {
		if dry[i].Sign() == 0 {
			continue // a rise from nothing is no part of anything
		}
		r := b.derive(quantity.Percent, 3, func(x []*big.Rat) *big.Rat { return quotient(minus(x[1], x[0]), x[0]) }, dry[i], wet[i])
		b.find(finding{what: "rise with oil", where: b.cylinder(i, len(wet)), part: true, value: r})
		all[i] = r
	}
	return all
}

// airFactors are what a pressure is multiplied by to give what it would be at sea
// level, by the air's density and by its pressure; none where the altitude is not
// known or is none.
func (b *bench) airFactors() []*big.Rat {
	if altitude := b.altitude(); altitude.Sign() > 0 {
		return seaLevelFactors(altitude)
	}
	return nil
}
