package logbook

import (
	"maps"
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
	Systems   []string // the built-in ones and the shop's own
	Body      Body
	Photos    []Photo // images of the body
	Sheets    []*Sheet
	Machines  []*Machine        // by key
	names     map[string]string // of all machines, read or not, by key
	finder    *finder           // of what was left in the files
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
)

// Stages are all the stages, in the order of a machine's life.
var Stages = []string{InTheShop, ForSale, Sold, Keeping, PartedOut}

// Systems are the parts of a machine that work and evidence are filed under.
// Guards is everything that keeps people away from what can hurt them,
// interlocks included.
var Systems = []string{
	"engine", "fuel", "ignition", "electrical", "cooling", "exhaust", "drive", "brakes",
	"steering", "hydraulics", "implement", "frame", "tires", "controls", Guards,
}

// Guards is the system of guards and interlocks.
const Guards = "guards"

// A Machine is one machine and its log.
type Machine struct {
	Place
	Key      string
	Name     string
	Kind     string
	Sheet    *Sheet // the inspection sheet of its kind, nil when there is none
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
	Engine   *Engine
	Missing  []Missing
	Limits   []Limit
	Private  string
	Body     Body
	Photos   []Photo // images of the body
	Entries  []*Entry
	KindAt   Place
	sheetAsk asked
}

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
	Strokes   int
	Cylinders int
	Bore      quantity.Quantity
	Stroke    quantity.Quantity
	Fuel      string
}

// Missing is a part that was gone when the machine came.
type Missing struct {
	Place
	Part string
}

// A Limit is what a reading is held against.
type Limit struct {
	Place
	What, Where string // Where empty: wherever What is measured
	Limit       quantity.Limit
	Source      string
}

// An Entry is one evening of the log.
type Entry struct {
	Place
	Machine       string // key
	Date          Date
	Clock         Clock // HasClock false: midnight
	HasClock      bool
	Title         string
	By            string
	Sessions      []Session
	Meter         *Meter
	MeterReplaced *MeterReplaced
	Ran           Minutes
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
	Photos        []Photo
	Private       string
	Body          Body
}

// A Session is a stretch of one person's work, or an entry's bare hours.
type Session struct {
	Place
	// Timed is true for a session with from and to. It runs past midnight
	// where it ends before it starts; less is what was not work.
	Timed    bool
	From, To Clock
	Less     Minutes
	Task     string
	By       string
	// Work is the time worked.
	Work Minutes
}

// States of an hour meter.
const (
	MeterRead    = "read"
	MeterUnknown = "unknown"
	MeterBroken  = "broken"
	MeterNone    = "none"
)

// A Meter is an hour meter as it was read, or why there is no reading.
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
	Works      = "works"
	Fails      = "fails"
	NotChecked = "not checked"
)

// A Check is an answer to an item of the inspection sheet.
type Check struct {
	Place
	Item   string
	Result string
	Note   string
	// System and Safety are the item's own where no sheet has it.
	System    string
	SystemAt  Place
	Safety    bool
	HasSafety bool
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
	Value              quantity.Quantity
	Gauge              quantity.Gauge
	HasGauge           bool
	System             string
}

// A Test is a named bench test with the readings taken for it. What the names
// of its inputs are is for the bench test to say, so they stay as written.
type Test struct {
	Place
	Test   string
	Where  string
	Inputs []Input
}

// An Input is one field of a bench test: a text, a list, or named parts.
type Input struct {
	Place
	Name  string
	Text  string  // of a plain value
	Items []Input // of a list or of named parts
	List  bool    // Items are a list, their names empty
}

// Sources of a part.
const (
	New      = "new"
	Used     = "used"
	Rebuilt  = "rebuilt"
	Salvaged = "salvaged"
	Made     = "made"
	OnHand   = "on hand"
)

// Sources are all of them.
var Sources = []string{New, Used, Rebuilt, Salvaged, Made, OnHand}

// A Part is a line of parts put in.
type Part struct {
	Place
	Part     string
	Number   string
	Qty      decimal.Decimal // 1 where not given
	Each     Amount
	EachAt   Place
	Source   string
	From     string // the donor's key, of a salvaged part
	FromAt   Place
	System   string
	Core     *Core
	Tax      decimal.Decimal // per cent of the line
	Shipping Amount
}

// A Core is a deposit that comes back with the old part.
type Core struct {
	Place
	Deposit  Amount
	Returned Date // empty: still open
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
	Safety bool
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
	Photo string
}

// A WorkAround is a defect lived with.
type WorkAround struct {
	Place
	Key   string
	KeyAt Place
	How   string
	Left  string
	Photo string
}

// A Change is a departure from how the maker built it.
type Change struct {
	Place
	What, Why, System string
	Affects           []string
	Caution           string
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
	Name    string // file name without .md
	Kind    string
	Also    []string
	Items   []Item
	BuiltIn bool
	Body    Body
}

// An Item is a line of an inspection sheet, worded as the good state.
type Item struct {
	Place
	Item   string
	System string
	Safety bool
	How    string
}
