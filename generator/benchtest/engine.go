package benchtest

import (
	"strconv"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// The inputs that machine.md may have already, under engine:.
var (
	boreInput      = measure("bore", quantity.Length, "bench.in.bore").such("2.5 in")
	strokeInput    = measure("stroke", quantity.Length, "bench.in.stroke").such("1.75 in")
	cylindersInput = count("cylinders", "bench.in.cylinders")
)

// engine is what machine.md says of the engine; nothing where it says nothing.
func (b *bench) engine() logbook.Engine {
	if b.machine.Engine == nil {
		return logbook.Engine{}
	}
	return *b.machine.Engine
}

// builtIn is a reading of the test, else the maker's figure out of machine.md,
// which has no accuracy. It is reported where there is neither.
func (b *bench) builtIn(name string, maker quantity.Quantity) reading {
	switch {
	case b.has(name):
		return b.reading(name)
	case maker.IsZero():
		b.missing(name)
	default:
		b.giveBuiltIn(name, maker.String())
	}
	return reading{Quantity: maker}
}

func (b *bench) bore() reading   { return b.builtIn("bore", b.engine().Bore) }
func (b *bench) stroke() reading { return b.builtIn("stroke", b.engine().Stroke) }

// cylinders is how many the engine has, by the test or by machine.md; it is reported
// where neither says.
func (b *bench) cylinders() int {
	n := b.engine().Cylinders
	switch {
	case b.has("cylinders"):
		return b.count("cylinders")
	case n == 0:
		b.missing("cylinders")
	default:
		b.giveBuiltIn("cylinders", strconv.Itoa(n))
	}
	return n
}

// giveBuiltIn shows the maker's figure among the readings.
func (b *bench) giveBuiltIn(name, value string) {
	b.out.Given = append(b.out.Given, Given{b.words.Say("bench.label.built-in", "name", name), value})
}

// inInches tells whether a length was given in an inch unit.
func inInches(q quantity.Quantity) bool {
	u := q.Unit()
	return u == quantity.Inch || u == quantity.Thou || u == quantity.Foot
}

// both is a quantity as it is and in another unit, with as many significant
// digits.
func both(q quantity.Quantity, digits int, other quantity.Unit) string {
	o := sure(q.In(other))
	return q.String() + " (" + o.WithPlaces(placesFor(o, digits)).String() + ")"
}
