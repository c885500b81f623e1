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
	State         string  // in which it was tested, such as cold; empty where the test does not ask
	AsFound       bool    // done before the work of its entry
	Safety        bool    // what it tests can hurt someone
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
	Accuracy string         // the same as shown; empty when not recorded
	Limit    string         // empty without limit
	Source   string         // of the limit
	Verdict  quantity.Verdict
	limit    quantity.Limit // for the drawing
	trial    int            // which of several trials it is

	// What and Where are its name without its place, and the place: its own, or that
	// of the test. A reading of the same what, where and state is one measurement
	// with it.
	What, Where string
	AsFound     bool // read before the work of its entry
	// Main results are what the test is made for.
	Main bool
	// Limits are what it was held against, each with its source: two where a
	// published safety limit and the machine's own both apply.
	Limits []Sourced
	// Own are the machine's own among them, and Published the others.
	Own       []logbook.Limit
	Published []PublishedLimit
}

// A PublishedLimit is one from outside that a result was held against.
type PublishedLimit struct {
	limit  quantity.Limit
	source string
}

// Sourced is a limit as it is printed, and where it comes from.
type Sourced struct{ Limit, Source string }

// Shapes of a drawing.
const (
	Bars    = "bars"    // one bar a point, over the band of the limit
	Section = "section" // a bore cut open: two points a level, from the top down
	Whisker = "whisker" // values against the limit, with what the gauge leaves open
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
// when its accuracy was not recorded. Numbers are for the ink alone: what a
// drawing writes is Shown, the value as the log has it, and Limits.
type Point struct {
	Label            string
	Shown            string
	Limits           []string // as people say them; what Band is drawn from
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
	Safety  bool // what it tests can hurt someone
	Tools   []string
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
	// Several tells that it may be a list of readings, or is one of named ones.
	Several bool
	Help    string
	Example string   // one reading as it would be written; empty for what is no reading
	Parts   []string // the names of the readings, where it takes one of each
	Words   []string // the words of which it is one, yes and no among them; nil where any text may stand
}
