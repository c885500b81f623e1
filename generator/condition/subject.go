package condition

import (
	"math/big"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A Kind is what sort of thing a subject is.
type Kind string

// The kinds of subjects, in the order in which a report takes them.
const (
	KindDefect      Kind = "defect"
	KindPoint       Kind = "point"
	KindMeasurement Kind = "measurement"
	KindMissing     Kind = "missing part"
	KindChange      Kind = "change"
	KindList        Kind = "list"
	KindMeter       Kind = "meter"
)

// A Standing is where a subject stands by its history alone.
type Standing string

// Key is a standing as the catalog's keys have it: with hyphens for spaces.
func (s Standing) Key() string { return strings.ReplaceAll(string(s), " ", "-") }

// The standings. Those above InOrder promise a buyer less than it does.
const (
	Wrong        Standing = "wrong"
	Missing      Standing = "missing"
	WorkedAround Standing = "worked around"
	NotProven    Standing = "not proven"
	Changed      Standing = "changed"
	TooClose     Standing = "too close to call"
	OutOfDate    Standing = "out of date"
	NotChecked   Standing = "not checked"
	NoLimit      Standing = "no limit given"
	InOrder      Standing = "in order"
	DoesNotApply Standing = "does not apply"
)

// worst are the standings from the one that promises least.
var worst = []Standing{Wrong, Missing, WorkedAround, NotProven, Changed, TooClose, OutOfDate, NotChecked, NoLimit, InOrder, DoesNotApply}

// Worse tells whether a standing promises a buyer less than another.
func (s Standing) Worse(than Standing) bool {
	return slices.Index(worst, s) < slices.Index(worst, than)
}

// An Evidence is one entry that a subject rests on, or the machine's own file
// (its machine.md) where it is about what no entry says.
type Evidence struct {
	File  string // in the shop folder
	Date  logbook.Date
	Title string
}

// An Event is one thing that the log said of a subject.
type Event struct {
	Entry Evidence
	By    string // who wrote it, empty where the log does not say
	What  string // what kind of thing was said: found, repaired, works, read ...
	Said  string // in the log's own words
	// Photo is a photo of that entry which shows it, never a private one; a path in
	// the shop folder, empty where there is none.
	Photo string
	Value *Value // of a measurement
	// AsFound tells of an answer that it is from before the work of its entry.
	AsFound bool
}

// What an event is.
const (
	Found        = "found"
	FoundAgain   = "found again"
	Repaired     = "repaired"
	Proved       = "proved"
	Around       = "worked around"
	Left         = "gone"
	Remains      = "left" // what a work-around leaves
	Works        = logbook.Works
	Fails        = logbook.Fails
	Unanswered   = logbook.NotChecked
	NotHere      = logbook.DoesNotApply
	Served       = "service"
	Read         = "read"
	HasLimit     = "limit"
	Effect       = "effect"
	Why          = "why"
	Affects      = "affects"
	Caution      = "caution"
	WasChanged   = "changed"
	WasPutBack   = "put back"
	WasMissing   = "missing"
	WasReplaced  = "replaced"
	WasTakenOut  = "taken out again"
	WentBack     = "went back to the seller"
	LeftOut      = "left out"
	MeterRead    = "meter"
	MeterChanged = "meter replaced"
	ShopSays     = "shop says"
)

// A Touch is the work that made evidence out of date.
type Touch struct {
	Entry   Evidence
	By      string // the work, in words
	Systems []string
	// Nowhere tells that the log does not say where it was done, Unplaced that it was
	// in a system of the shop's own that is said to be part of none, SameDay that the
	// log leaves open which came first, Fault that it is no work but a fault found.
	Nowhere, Unplaced, SameDay, Fault bool
	// Vague tells of SameDay that it is no one day: the dates are not exact enough.
	Vague bool
}

// An Absence is what a sentence about something missing from the log claims, as
// data: no such thing since that day, or ever where there is none.
type Absence struct {
	Of    string
	Since logbook.Date
}

// What the log can lack.
const (
	NoCheck       = "check"
	NoProof       = "proof"
	NoReading     = "reading"
	NoReplacement = "replacement"
	NoList        = "list"
	NoStatement   = "statement"
	NoLimitGiven  = "limit"
	NoVerdict     = "verdict" // it was measured since, and that shows neither good nor bad
)

// A Subject is one thing that the report speaks of.
type Subject struct {
	Kind     Kind
	ID       string // unique among the machine's subjects, fit for an anchor
	Name     string
	Short    string // the name in one to four words, of a point
	Key      string
	Systems  []string
	Safety   logbook.Safety
	Standing Standing
	Open     bool
	History  []Event
	Touched  *Touch
	Absent   *Absence
	Told     string // the sentences of the report
	Evidence []Evidence

	// Item is the line of the list of a point, nil for one that an entry added.
	Item *logbook.Item
	// Measured are what was measured, of a measurement.
	Measured *Measurement
	// AnsweredBy are the measurements that answer a point.
	AnsweredBy []*Subject
	// LeansOn are the others whose histories let it stand as it does: the points whose
	// passing proves a defect, the defects that a failed point was out of date by.
	LeansOn []*Subject
	// Unworked is set where it failed and works now with no work between: the day
	// of the failure and that of the pass.
	Unworked *Passed
	// SameEvening is the work in its systems that was written in the entry of the
	// evidence itself, empty where there is none.
	SameEvening string
	// Adds tells of a change that the shop says makes it safer.
	Adds bool
	// Proven is the day of the proof that a repair rests on, of its own or by a point;
	// empty where it has none.
	Proven logbook.Date
	// Again is the subject that the key of a defect stood for before.
	Again *Subject

	own      bool     // a point in the shop's words, of no list that comes with the program
	wordings []string // all that a defect was called, of what stands worst first; all that a change was, the last first
	unproven []string // of several wordings of a defect, those that stand as badly as the whole
	wanted   []string // the systems that a point has to be of to prove a defect put right
	named    []string // the points that alone prove it, as the defect names them
	systems  []string // with the built-in ones that they are part of; none where that is not known
	last     moment   // of the evidence that it rests on
}

// Passed is a failure that passed with no work between.
type Passed struct{ Failed, Works logbook.Date }

// A Value is one reading of a measured thing.
type Value struct {
	Value    quantity.Quantity // zero for a range, an open reading or one about right
	Shown    string            // as it was written
	Gauge    quantity.Gauge
	HasGauge bool
	Accuracy string // of the gauge, as shown; empty without one
	Verdict  quantity.Verdict
	Date     logbook.Date
	AsFound  bool
	Test     string // the bench test that it is of, empty for a plain reading
}

// A Measurement is one measured thing: first, last and all between.
type Measurement struct {
	What, Where, State string
	Values             []Value
	Limits             []benchtest.Sourced
}

// First is the first reading, Last the last; they are one where it was measured
// once.
func (m *Measurement) First() Value { return m.Values[0] }

// Last is the last reading.
func (m *Measurement) Last() Value { return m.Values[len(m.Values)-1] }

// Worst is the reading between the first and the last that is outside its
// limit, nil where there is none: of several, the one farthest from the last reading.
func (m *Measurement) Worst() *Value {
	var worst *Value
	for i := 1; i < len(m.Values)-1; i++ {
		v := &m.Values[i]
		if v.Verdict == quantity.Outside && (worst == nil || m.Last().distance(v).Cmp(m.Last().distance(worst)) > 0) {
			worst = v
		}
	}
	return worst
}

// distance is how far apart two readings are, in base units; 0 where one of them is a
// range or an open reading.
func (v Value) distance(to *Value) *big.Rat {
	if v.Value.IsZero() || to.Value.IsZero() {
		return new(big.Rat)
	}
	d := new(big.Rat).Sub(v.Value.Base(), to.Value.Base())
	return d.Abs(d)
}

// standingKey is a subject's standing as a key of the catalog; where it is out of date by
// work of which the log leaves open if it came later, that has a key of its own.
func (s *Subject) standingKey() string {
	if s.Standing == OutOfDate && s.Touched != nil && s.Touched.SameDay {
		return "order-open"
	}
	return s.Standing.Key()
}

// undoneKey is the standing of a point that passed, by what came since: a fault, where that
// certainly did, or work.
func (s *Subject) undoneKey() string {
	if s.Touched != nil && s.Touched.Fault && !s.Touched.SameDay {
		return "fault-since"
	}
	return s.standingKey()
}

// VerdictKey is what a table says of where a measurement stands, as a key of the
// catalog. One that was outside is not inside because its last reading is too close to
// call.
func (s *Subject) VerdictKey() string {
	if s.Standing == Wrong && s.Measured.Last().Verdict != quantity.Outside {
		return "verdict.wrong-before"
	}
	return "verdict." + s.standingKey()
}

// settle works out whether the subject is open.
func (s *Subject) settle() {
	s.Open = s.Safety != logbook.SafetyNo && s.Standing != InOrder && s.Standing != DoesNotApply
}

// Unanswered tells of a point that the front sheet names among others of its system: one
// without an answer, or whose answer is out of date.
func (s *Subject) Unanswered() bool {
	return s.Kind == KindPoint && (s.Standing == NotChecked || s.Standing == OutOfDate)
}

// Named is how a subject is named where it is not told, with what is the matter: a
// point by its short name, a defect or a change in all its wordings, anything else by its
// name. A point says how a thing should be, so one that fails is named with that it is not
// so: among what is wrong its name alone would say the opposite.
func (s *Subject) Named(words *catalog.Catalog) string {
	if s.Kind == KindPoint && s.Standing == Wrong {
		return s.namedWrong(words)
	}
	name, others := s.listed(words), []string(nil)
	if s.Kind != KindPoint {
		name = s.Wordings()
		if all := wordingsOf(s); len(all) > 1 {
			name, others = all[0], all[1:]
		}
	}
	key := "named." + keyOf(string(s.Kind)) + "." + s.standingKey()
	switch {
	case s.left() && s.Standing == NotProven:
		key = "named.defect.gone-not-proven"
	case s.Adds && s.Standing == Changed:
		key = "named.change.adds"
	}
	switch {
	case !words.Has(key) && len(others) > 0: // still so in all of its words
		return s.Wordings()
	case !words.Has(key):
		return name
	case len(others) > 0:
		return words.Say("named.called", "name", name, "others", words.List(others), "matter", words.Say(key))
	}
	return words.Say("named.matter", "name", name, "matter", words.Say(key))
}

// namedWrong is how a point that fails is named: with the shop's note, and with the day
// where there was work or a service since.
func (s *Subject) namedWrong(words *catalog.Catalog) string {
	key, note, when := "named.not-so", s.shortNote(), ""
	if day, since := s.failedBefore(); since {
		key, when = key+"-since", words.When(day.Day())
	}
	if note != "" {
		key += "-note"
	}
	return words.Say(key, "name", clause(s.Name), "note", note, "when", when)
}

// failedBefore is the day on which the last check found a point wrong, where the log
// shows work or a service for it that may be later, and lists no check since.
func (s *Subject) failedBefore() (logbook.Date, bool) {
	last := s.lastAnswer()
	if s.Kind != KindPoint || s.Standing != Wrong || last == nil || last.What != Fails {
		return "", false
	}
	served := false
	for _, e := range s.History {
		switch e.What {
		case Works, NotHere:
			if !e.Entry.Date.Before(last.Entry.Date) {
				return "", false // it may be the later one
			}
		case Served:
			served = served || !e.Entry.Date.Before(last.Entry.Date)
		}
	}
	return last.Entry.Date, served || s.Touched != nil
}

// leansOn notes another whose history lets a subject stand as it does.
func (s *Subject) leansOn(other *Subject) {
	if !slices.Contains(s.LeansOn, other) {
		s.LeansOn = append(s.LeansOn, other)
	}
}

// Wordings are all that a defect or a change was called, with a semicolon between; of
// any other subject its name.
func (s *Subject) Wordings() string { return strings.Join(wordingsOf(s), "; ") }
