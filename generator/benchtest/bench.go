package benchtest

import (
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// An Outcome is one bench test of the log, computed and judged.
type Outcome struct {
	logbook.Place        // of the test in its entry
	Test          string // the test's own name, such as "battery at rest"
	Where         string
	System        string
	Entry         *logbook.Entry
	State string
	AsFound, Safety bool
	Given         []Given // the readings as written
	Results       []Result
	Says          []string // whole plain sentences on what the results point to
	Caution       string   // whole sentences for whoever does the test
	Drawing       *Drawing // nil where there is nothing to draw
}

// Given is one reading as the mechanic wrote it.
type Given struct{ Label, Value string }

// A Result is one computed value against its limit.
type Result struct {
	Name     string
	Value    string // as shown, with its unit; rounded where the quantity is not
	Quantity quantity.Quantity
	Gauge    quantity.Gauge // the accuracy that the tool leaves to the result; zero when not recorded
	Limit    string         // empty without limit
	Source   string         // of the limit
	Verdict  quantity.Verdict
	limit    quantity.Limit // for the drawing
	What, Where string
	Main bool
	Limits []Sourced
}
type Sourced struct { Limit, Source string }
func Measurand(name string) (string, bool, bool) { k, ok := byName()[name]; if !ok { return "", false, false }; return k.system, false, true }


// Shapes of a drawing.
const (
	Bars    = "bars"    // one bar a point, over the band of the limit
	Section = "section" // a bore cut open: two points a level, from the top down
	Whisker = "whisker" // values against the limit, with what the gauge leaves open
	Slope   = "slope"   // two points: as found, as left
)

// A Drawing is what a picture of the results needs, without any markup.
type Drawing struct {
	Shape  string
	Unit   string // symbol of the unit of every number here; "" for none
	Points []Point
	Alt    string // the same facts as text
}

// A Point is one value of a drawing, and the limit that it was held against.
// Low and High are the ends of what the gauge leaves open; both equal Value
// when its accuracy was not recorded.
type Point struct {
	Label            string
	Value, Low, High float64
	Band             Band
}

// A Band is the allowed span of a limit; an end that it has not is open, and
// without both there is no limit.
type Band struct {
	Low, High       float64
	HasLow, HasHigh bool
}

// A Kind is the help on one test.
type Kind struct {
	Name    string
	Also    []string // other names under which a log may write it
	System  string
	About   string
	Inputs  []InputHelp
	Example string // a YAML flow mapping, ready to paste under tests:
	Source  string // of the formulas and of the published limits
	Caution string
}

// InputHelp is the help on one field of a test.
type InputHelp struct {
	Name   string
	Takes  string // what is to be written, such as "a pressure, such as 60 psi"
	Needed bool
	Help   string
}
