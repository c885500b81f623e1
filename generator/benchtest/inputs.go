package benchtest

import (
	"slices"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// An input is one field of a test, declared once: it is read, checked and
// explained from this. The constructors below make them; the methods narrow
// them down.
type input struct {
	name  string
	sort  sort
	of    quantity.Dimension // of a measure or an accuracy
	sign  sign
	need  bool
	each  string   // key of an item's label when a list may be given
	parts []string // names of the readings, given in this order or by name
	words []string // of a choice
	like  string   // a reading to show instead of the usual one of its dimension
	help  string   // key
	took  []string // of an accuracy: the readings of that tool, where others are of the same sort
	// several tells that one of a list may be several words: exhaust and crankcase. Per
	// are the inputs that the list has one for each of; where they have one alone, the
	// whole list is of that one.
	several bool
	per     []string
	// mayBeOpen tells that a measure may also be OL.
	mayBeOpen bool
	// never is the unit of the other current, AC or DC.
	never quantity.Unit
	plate [2]string // the plate and the figure of it that gives it too
}

// sort is the sort of thing that is to be written.
type sort uint8

const (
	aMeasure   sort = iota // a number with a unit
	aNumber                // a plain number above zero, also written 50:1
	aCount                 // a whole number above zero
	aChoice                // one of some words
	aYesNo                 //
	aText                  // anything
	anAccuracy             // how far off the tool may be
)

// sign is what a measure may not be.
type sign uint8

const (
	aboveZero sign = iota
	zeroOrMore
	anySign
)

// measure is a number with a unit of that dimension, above zero.
func measure(name string, of quantity.Dimension, help string) input {
	return input{name: name, sort: aMeasure, of: of, help: help}
}

// number is a plain number above zero; "50:1" is 50.
func number(name, help string) input { return input{name: name, sort: aNumber, help: help} }

// count is a whole number above zero.
func count(name, help string) input { return input{name: name, sort: aCount, help: help} }

// choice is one of the words.
func choice(name, help string, words ...string) input {
	return input{name: name, sort: aChoice, words: words, help: help}
}

// yesNo is yes or no.
func yesNo(name, help string) input { return input{name: name, sort: aYesNo, help: help} }

// text is anything.
func text(name, help string) input { return input{name: name, sort: aText, help: help} }

// accuracy is how far off the tool may be: of that dimension, or in %. The
// usual name is gauge.
func accuracy(name string, of quantity.Dimension) input {
	return input{name: name, sort: anAccuracy, of: of, help: "bench.in.gauge"}
}

// systemInput files a test elsewhere than where its kind belongs.
var systemInput = text("system", "bench.in.system")

// stateInput is the state in which a thing was tested; readings of the same thing
// in the same state are one measurement. Tests that must know it ask themselves.
var stateInput = text("state", "bench.in.state")

// needed makes the input one that has to be there.
func (i input) needed() input { i.need = true; return i }

// reads names the readings that a tool took.
func (i input) reads(names ...string) input { i.took = names; return i }

// severalFor allows several words for each of the readings of another input.
func (i input) severalFor(others ...string) input { i.several, i.per = true, others; return i }

// orOpen allows OL, where no path is a result too.
func (i input) orOpen() input { i.mayBeOpen = true; return i }

// orZero allows 0.
func (i input) orZero() input { i.sign = zeroOrMore; return i }

// signed allows 0 and less.
func (i input) signed() input { i.sign = anySign; return i }

// dc and ac are of a voltage that is never of the other current.
func (i input) dc() input { i.never = quantity.VoltAC; return i }
func (i input) ac() input { i.never = quantity.VoltDC; return i }

// list allows one reading or a list of them. The key is that of an item's
// label, with places {name} and {n}.
func (i input) list(label string) input { i.each = label; return i }

// such sets the reading that help and messages show.
func (i input) such(as string) input { i.like = as; return i }

// example is a reading as it would be written.
func (i input) example() string {
	if i.like != "" {
		return i.like
	}
	return examples[i.of]
}

// reading is one reading as it would be written; empty for what is no reading.
func (i input) reading() string {
	switch i.sort {
	case aMeasure:
		return i.example()
	case anAccuracy:
		return "2 %"
	}
	return ""
}

// choices are the words of which it is one; nil where any text may stand.
func (i input) choices() []string {
	if i.sort == aYesNo {
		return []string{"yes", "no"}
	}
	return i.words
}

// split takes several readings, each with a name: as a list in this order, or
// by name. All of them have to be there.
func (i input) split(parts ...string) input { i.parts = parts; return i }

// wants says what is to be written for the input.
func (i input) wants(words *catalog.Catalog) string {
	pairs := []any{"dimension", i.of.String(), "example", i.example(), "words", strings.Join(i.words, ", ")}
	switch i.sort {
	case aNumber:
		return words.Say("bench.takes.number")
	case aCount:
		if i.each != "" {
			return words.Say("bench.takes.counts")
		}
		return words.Say("bench.takes.count")
	case aChoice:
		return words.Say("bench.takes.choice", pairs...)
	case aYesNo:
		return words.Say("bench.takes.yes-no")
	case aText:
		return words.Say("bench.takes.text")
	case anAccuracy:
		return words.Say("bench.takes.accuracy", pairs...)
	}
	switch {
	case i.parts != nil:
		return words.Say("bench.takes.parts", append(pairs, "parts", strings.Join(i.parts, ", "), "form", i.form())...)
	case i.each != "":
		return words.Say("bench.takes.list", append(pairs, "form", "["+i.example()+", "+i.example()+"]")...)
	}
	return words.Say("bench.takes.measure", pairs...)
}

// form is how the parts are written.
func (i input) form() string {
	return "[" + strings.Join(slices.Repeat([]string{i.example()}, len(i.parts)), ", ") + "]"
}

// examples are readings of each dimension, for messages and help.
var examples = map[quantity.Dimension]string{
	quantity.Pressure: "62 psi", quantity.Length: "0.010 in", quantity.Voltage: "12.4 V", quantity.Current: "5 A",
	quantity.Resistance: "4.2 kohm", quantity.Power: "900 W", quantity.RotationalSpeed: "3600 rpm",
	quantity.Frequency: "60 Hz", quantity.Time: "1.5 h", quantity.Torque: "20 lbf-ft", quantity.Temperature: "68 degF",
	quantity.Volume: "500 mL", quantity.Mass: "2 lb", quantity.Velocity: "3 mph", quantity.Ratio: "5 %",
	quantity.Force: "1200 lbf", quantity.Capacitance: "35 uF", quantity.Charge: "2 Ah", quantity.Flow: "10 gpm",
	quantity.ColdCranking: "300 CCA", quantity.ThreadCount: "16 TPI", quantity.WireSize: "10 AWG", quantity.Angle: "15 deg",
}
