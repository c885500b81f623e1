package benchtest

import (
	"strconv"

	"asleft/generator/quantity"
)

// The inputs that machine.md may have already, under engine:.
var (
	boreInput      = measure("bore", quantity.Length, "bench.in.bore")
	strokeInput    = measure("stroke", quantity.Length, "bench.in.stroke")
	cylindersInput = count("cylinders", "bench.in.cylinders")
)

// builtIn is a reading of the test, else the maker's figure out of machine.md,
// which has no accuracy. It is reported where there is neither.
func (b *bench) builtIn(name string, maker quantity.Quantity) (reading, bool) {
	switch {
	case b.has(name):
		return b.reading(name), true
	case maker.Sign() > 0:
		b.out.Given = append(b.out.Given, Given{b.words.Say("bench.label.built-in", "name", name), maker.String()})
		return reading{Quantity: maker}, true
	}
	b.missing(name)
	return reading{}, false
}

// bore and stroke are builtIn for these two; strokeIfAny is not reported where
// there is none.
func (b *bench) bore() (reading, bool) {
	var maker quantity.Quantity
	if b.machine.Engine != nil {
		maker = b.machine.Engine.Bore
	}
	return b.builtIn("bore", maker)
}

func (b *bench) stroke() (reading, bool) {
	var maker quantity.Quantity
	if b.machine.Engine != nil {
		maker = b.machine.Engine.Stroke
	}
	return b.builtIn("stroke", maker)
}

func (b *bench) strokeIfAny() (reading, bool) {
	if !b.has("stroke") && (b.machine.Engine == nil || b.machine.Engine.Stroke.Sign() <= 0) {
		return reading{}, false
	}
	return b.stroke()
}

// cylinders is how many the engine has, by the test or by machine.md.
func (b *bench) cylinders() (int, bool) {
	if n := b.count("cylinders"); n > 0 {
		return n, true
	}
	if e := b.machine.Engine; e != nil && e.Cylinders > 0 {
		b.out.Given = append(b.out.Given, Given{b.words.Say("bench.label.built-in", "name", "cylinders"), strconv.Itoa(e.Cylinders)})
		return e.Cylinders, true
	}
	b.missing("cylinders")
	return 0, false
}

// inInches tells whether a length was given in an inch unit.
func inInches(q quantity.Quantity) bool {
	u := q.Unit()
	return u == quantity.Inch || u == quantity.Thou || u == quantity.Foot
}

// both is a quantity as it is and in another unit, with as many significant
// digits.
func both(q quantity.Quantity, digits int, other quantity.Unit) string {
	o, err := q.In(other)
	if err != nil {
		return q.String()
	}
	return q.String() + " (" + o.WithPlaces(placesFor(o, digits)).String() + ")"
}
