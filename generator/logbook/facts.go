package logbook

import (
	"maps"
	"slices"
	"time"

	"github.com/govalues/decimal"

	"asleft/generator/quantity"
)

// An Amount is money in the shop's currency. Set is false where nothing was
// written, which is not the same as nothing paid.
type Amount struct {
	decimal.Decimal
	Set bool
}

// A Body is the Markdown under the front matter.
type Body struct {
	// Text is the Markdown with LF line ends.
	Text []byte
	// Line is the file's line on which Text begins.
	Line int
	// Left tells that the text was left in the file (Options.LeaveBodies);
	// Shop.BodyOf reads it.
	Left bool
}

// A Shop is the whole folder as facts.
type Shop struct {
	Place
	Name      string
	Town      string // place:
	Contact   string
	Web       string // absolute, ends in a slash; empty when not given
	Language  string // BCP 47; "en-US" when not given
	Currency  string // ISO 4217
	Digits    int    // decimals of the currency's minor unit
	LaborRate Amount // per hour
	Altitude  quantity.Quantity
	Zone      *time.Location
	Show      Show
	Terms     string // "as is" or the shop's own words
	Theme     string
	Publish   Publish
	Systems   []string // the built-in ones and the shop's own
	// PartOf are the built-in systems that each of the shop's own is part of, by
	// its name; one that is there with none says not what it is part of.
	PartOf   map[string][]string
	Body     Body
	Photos   []Photo  // images of the body
	Asides   []Place  // fields that mean nothing here and were left alone
	Hidden   []string // sheets, and folders of machines with a slash behind them, that a dot in front of their names hides
	Sheets   []*Sheet
	Machines []*Machine        // by key
	names    map[string]string // of all machines, read or not, by key
	finder   *finder           // of what was left in the files
}

// name notes the names of the machines, with those that are given for the ones
// that were not read.
func (s *Shop) name(given map[string]string) {
	s.names = map[string]string{}
	maps.Copy(s.names, given)
	for _, m := range s.Machines {
		s.names[m.Key] = m.Name
	}
}

// Usual are the people and the tasks of the shop's logs, to pick from, in order.
func (s *Shop) Usual() (people, tasks []string) {
	for _, m := range s.Machines {
		for _, e := range m.Entries {
			people = append(people, e.By)
			for _, w := range e.Sessions {
				people, tasks = append(people, w.By), append(tasks, w.Task)
			}
		}
	}
	tidy := func(all []string) []string {
		slices.Sort(all)
		return slices.DeleteFunc(slices.Compact(all), func(s string) bool { return s == "" })
	}
	return tidy(people), tidy(tasks)
}

// NameOf is the name of the machine of that key; the key where there is none.
func (s *Shop) NameOf(key string) string {
	if s.names == nil { // of a shop that was not read but made
		for _, m := range s.Machines {
			if m.Key == key {
				return m.Name
			}
		}
	}
	if name, there := s.names[key]; there {
		return name
	}
	return key
}

// Show is what the public sees of the things that a shop may choose about.
type Show struct {
	Hours     bool
	PartsCost bool
	Serial    string // SerialLast4, SerialAll or SerialNone
}

// How much of a serial number the public sees.
const (
	SerialLast4 = "last 4"
	SerialAll   = "all"
	SerialNone  = "none"
)

// Terms that the program has a paragraph for.
const AsIs = "as is"

// Stages of a machine.
const (
	InTheShop = "in the shop"
	ForSale   = "for sale"
	Sold      = "sold"
	Keeping   = "keeping"
	PartedOut = "parted out"
	// Customers is a machine that is not the shop's: it has no price, no listing and
	// no terms of sale.
	Customers = "customer's"
)

// Stages are all the stages, in the order of a machine's life.
var Stages = []string{InTheShop, ForSale, Sold, Keeping, PartedOut, Customers}

// Systems are the parts of a machine that work and evidence are filed under.
var Systems = []string{
	"engine", "fuel", "ignition", "electrical", "cooling", "exhaust", "drive", Brakes,
	Steering, "hydraulics", "implement", "frame", "tires", "controls", Guards,
}

// The systems in which everything is a matter of safety. Guards is everything
// that keeps people away from what can hurt them, interlocks included.
const (
	Guards   = "guards"
	Brakes   = "brakes"
	Steering = "steering"
)

// SafetySystems are those in which everything is a matter of safety, whatever
// the log says of it.
var SafetySystems = []string{Guards, Brakes, Steering}

// AlwaysSafety tells whether everything in a system is a matter of safety, so
// that nobody needs to say it: guards, brakes and steering, and systems of the
// shop's own that are part of them.
func (s *Shop) AlwaysSafety(system string) bool {
	return slices.Contains(SafetySystems, system) ||
		slices.ContainsFunc(s.PartOf[system], func(of string) bool { return slices.Contains(SafetySystems, of) })
}

// A Safety tells whether something can hurt someone, as the log says it.
type Safety string

// What a log can say of safety. NotSaid is no answer, and never taken for no.
const (
	NotSaid   Safety = ""
	SafetyYes Safety = "yes"
	SafetyNo  Safety = "no"
)

// Graver is the one of two that promises less.
func (s Safety) Graver(other Safety) Safety {
	for _, graver := range []Safety{SafetyYes, NotSaid} {
		if s == graver || other == graver {
			return graver
		}
	}
	return SafetyNo
}

// A Machine is one machine and its log.
type Machine struct {
	Place
	digest   string // of its file
	Key      string
	Name     string
	Kind     string
	Sheet    *Sheet   // its list: the sheet of its kind, or the general one, and what the shop adds
	Sheets   []*Sheet // those that its list is made of
	Listed   bool     // a sheet is for its very kind
	KindNear []string // kinds that have a sheet, where its own has none
	Maker    string
	Model    string
	Serial   string
	Year     string
	Stage    string
	Arrived  Date
	Asking   Amount
	Sold     *Sale
	Bought   *Purchase
	Story    string
	// Engine is the only one that it has; nil where it has none or several.
	Engine  *Engine
	Engines []Engine
	Plates  []Plate
	// Attachments go on the machine and come with it.
	Attachments []Attachment
	Owner       string // of a machine that is not the shop's; private
	Missing     []Missing
	Limits      []Limit
	Has         []Having
	Was         []string // earlier names of its folder
	LeaveOut    []LeftOut
	// MeterTrue is whether the shop says that the hour meter is right: MeterIsTrue,
	// MeterIsWrong, MeterNotKnown, or empty where it says nothing.
	MeterTrue   string
	MeterTrueAt Place
	Private     string
	Body        Body
	Photos      []Photo // images of the body
	Entries     []*Entry
	// Hidden are the files of its folders that would be read if their names did not
	// begin with a dot, and Unnamed the photos that nothing names; paths in the shop
	// folder.
	Hidden, Unnamed []string
	Asides          []Place // fields that mean nothing here and were left alone
	KindAt          Place
	sheetAsk        []asked
	sheetLost       bool // one that it names is not there
}

// What a shop can say of an hour meter's reading.
const (
	MeterIsTrue   = "yes"
	MeterIsWrong  = "no"
	MeterNotKnown = "not known"
)

// Having is a thing that a machine has, or has not.
type Having struct {
	Place
	What string
	Has  bool
}

// LeftOut is a point that the shop took out of a machine's list, and why.
type LeftOut struct {
	Place
	Item, Why string
}

// Lacks tells whether the machine is said not to have a thing.
func (m *Machine) Lacks(what string) bool { return m.LackFor(what) != "" }

// LackFor is what a machine is said not to have, where that takes a thing away: the
// thing, or the engine that it is part of. It is "" where nothing is said of them, or
// that the machine has the thing.
func (m *Machine) LackFor(what string) string {
	for _, of := range []string{what, AnEngine} {
		for _, h := range m.Has {
			switch {
			case !Same(h.What, of):
			case h.Has:
				return ""
			default:
				return of
			}
		}
		if !OfEngine(what) {
			break
		}
	}
	return ""
}

// AnEngine is what a machine that runs by hand, by cord or by battery lacks.
const AnEngine = "engine"

// ofEngine are the things under only_if: that only a machine with an engine has.
var ofEngine = []string{"pull start", "electric start", "engine oil", "low-oil stop", "fuel valve", "charging system"}

// OfEngine tells whether a thing is one that only a machine with an engine has.
func OfEngine(what string) bool { return Known(what, ofEngine) }

// asked is a reference by name, kept until what it may point to is read.
type asked struct {
	name string
	at   Place
}

// A Sale is how a machine left. Price and buyer are private.
type Sale struct {
	Place
	Date  Date
	Price Amount
	Buyer string
}

// A Purchase is how a machine came. All of it is private.
type Purchase struct {
	Place
	From string
	Paid Amount
}

// An Engine is what the maker built in.
type Engine struct {
	Place
	Name      string // which one, where there are several
	Strokes   int
	Cylinders int
	Bore      quantity.Quantity
	Stroke    quantity.Quantity
	Fuel      string
}

// Missing is a part that was gone when the machine came.
type Missing struct {
	Place
	Part, System string
	Safety       Safety
}

// A Limit is what a reading is held against.
type Limit struct {
	Place
	What, Where string // Where empty: wherever What is measured
	Limit       quantity.Limit
	Source      string
	System      string
	Safety      Safety
}

// An Entry is one evening of the log.
type Entry struct {
	Place
	digest        string // of its file
	Machine       string // key
	Date          Date
	Clock         Clock // HasClock false: midnight
	HasClock      bool
	ClockOfHours  bool // Clock is when the work began, for want of a time: of its own
	Title         string
	By            string
	Sessions      []Session
	Meter         *Meter
	MeterReplaced *MeterReplaced
	Odometer      *Meter
	Ran           Minutes
	HasRan        bool // it says how long the engine ran
	Checks        []Check
	Diagnosis     []Step
	Measured      []Reading
	Tests         []Test
	Parts         []Part
	Costs         []Cost
	Defects       []Defect
	Repaired      []Repair
	WorkedAround  []WorkAround
	Changed       []Change
	PutBack       []PutBack
	Gone          []Gone
	WorkedOn      []WorkedOn
	Service       []Service
	Photos        []Photo
	Private       string
	Body          Body
	Asides        []Place // fields that mean nothing here and were left alone
}

// A Session is a stretch of one person's work, or an entry's bare hours.
type Session struct {
	Place
	// Timed is true for a session with from and to. It runs past midnight
	// where it ends before it starts, if that makes it no longer than 16 hours;
	// less is what was not work.
	Timed    bool
	From, To Clock
	Less     Minutes
	Task     string
	By       string
	// Work is the time worked; none where the times cannot be right.
	Work Minutes
}

// States of an hour meter.
const (
	MeterRead    = "read"
	MeterUnknown = "unknown"
	MeterBroken  = "broken"
	MeterNone    = "none"
)

// A Meter is an hour meter or an odometer as it was read, or why there is no
// reading.
type Meter struct {
	Place
	State   string // MeterRead, or why the true hours cannot be read
	Reading quantity.Quantity
}

// MeterReplaced is the change of one hour meter for another. Old is empty
// where the old one could not be read any more.
type MeterReplaced struct {
	Place
	Old, New quantity.Quantity
}

// Results of a check.
const (
	Works        = "works"
	Fails        = "fails"
	NotChecked   = "not checked"
	DoesNotApply = "does not apply"
)

// Results are all of them.
var Results = []string{Works, Fails, DoesNotApply, NotChecked}

// A Check is an answer to an item of the inspection sheet.
type Check struct {
	Place
	Item   string
	Result string
	Note   string
	// AsFound tells that it was answered before the work of the same entry.
	AsFound bool
	// By is the key of the change that took the thing away, of one that does not
	// apply any more.
	By string
	// System and Safety are the item's own where no sheet has it.
	System   string
	SystemAt Place
	Safety   Safety
}

// A Step is one of the trail of a diagnosis.
type Step struct {
	Place
	Tried, Saw, So, System string
}

// A Reading is one measured value.
type Reading struct {
	Place
	What, Where, State string
	Value              quantity.Reading
	Gauge              quantity.Gauge
	HasGauge           bool
	System             string
	AsFound            bool // read before the work of the same entry
}

// A Test is a named bench test with the readings taken for it. What the names
// of its inputs are is for the bench test to say, so they stay as written.
type Test struct {
	Place
	Test    string
	Where   string
	AsFound bool // done before the work of the same entry
	Inputs  []Input
}

// An Input is one field of a bench test: a text, a list, or named parts.
type Input struct {
	Place
	Name  string
	Text  string  // of a plain value
	Items []Input // of a list or of named parts
	List  bool    // Items are a list, their names empty
}

// A Cost is money spent on something that is not a part.
type Cost struct {
	Place
	For    string
	Amount Amount
}

// A Defect is something found wrong.
type Defect struct {
	Place
	Key    string
	Defect string
	Effect string
	System string
	Safety Safety
	Point  string // the point of the list that it fails
	Photo  string // a photo of this entry that shows it
}

// A Repair is a defect put right, proven where Proof says how. One without a
// How is no work: it only adds the proof to a repair of an earlier entry.
type Repair struct {
	Place
	Key   string
	KeyAt Place
	How   string
	Proof string
	// Of is the wording that it repairs, of a key that was found in several; empty
	// for the one found last.
	Of      string
	Affects []string
	Photo   string
}

// A WorkAround is a defect lived with.
type WorkAround struct {
	Place
	Key     string
	KeyAt   Place
	How     string
	Left    string
	Affects []string
	Photo   string
}

// Gone is a defect that left with the part it was in. With names the part
// fitted, or the change, that took its place.
type Gone struct {
	Place
	Key   string
	KeyAt Place
	With  string
}

// A Change is a departure from how the maker built it.
type Change struct {
	Place
	Key, What, Why, System string
	Safety                 Safety
	Adds                   bool // something that makes it safer, such as a stronger guard, as the shop says
	Affects                []string
	Caution                string
}

// PutBack is a change undone.
type PutBack struct {
	Place
	Key     string
	KeyAt   Place
	How     string
	Affects []string
}

// WorkedOn is a system that was taken apart, with nothing fitted.
type WorkedOn struct {
	Place
	System string
}

// Service is care that is no repair: oil, grease, a cleaned filter.
type Service struct {
	Place
	What, Amount, Grade, System string
	Every                       Interval
	Answers                     []string // the points of the list that it speaks to
}

// A Photo is a picture named in an entry or in a body.
type Photo struct {
	Place
	File    string // as named
	Path    string // in the shop folder; empty when there is no such file
	Alt     string
	Caption string
	Cover   bool
	Private bool
	InBody  bool   // named by an image in the body
	Shows   string // the key of a defect that it shows, as found or as mended
	ShowsAt Place
	Listed  bool // named under photos:
}

// A Sheet is an inspection sheet for a kind of machine.
type Sheet struct {
	Place
	digest  string // of its file
	Name    string // file name without .md
	Kind    string
	Also    []string
	Items   []Item
	BuiltIn bool
	// Blade and Generator tell that machines of this kind have one, so that their
	// governed speed is a matter of safety.
	Blade, Generator bool
	General          bool // for any kind that has no sheet of its own
	LeaveOut         []LeftOut
	Body             Body
	Asides           []Place // fields that mean nothing here and were left alone
}

// An Item is a line of an inspection sheet, worded as the good state.
type Item struct {
	Place
	Item   string
	Short  string // one to four words
	System string
	Safety Safety
	How    string
	Look   string // how a buyer can look at it without tools
	// AnsweredBy are the bench tests and measurands whose result answers it.
	AnsweredBy []string
	OnlyIf     string // what a machine must have for it to apply
}
