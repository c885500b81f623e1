package entry

import (
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/logbook"
)

// An Entry is one evening to be written down. Every text is as a person types
// it; what is empty is left out.
type Entry struct {
	Date, Title, Time, By string
	// Hours is a length of time ("2.5", "2:30"); Sessions take its place.
	Hours         string
	Sessions      []Session
	Meter         string // "412.6 h", or why there is no reading
	MeterReplaced MeterReplaced
	Odometer      string // "4200 mi", or why there is no reading
	Ran           string // engine run time, as Hours
	Checks        []Check
	Diagnosis     []Step
	Measured      []Reading
	Tests         []Test
	Parts         []Part
	Costs         []Cost
	Defects       []Defect
	Repaired      []Repair
	WorkedAround  []WorkAround
	Gone          []Gone
	Changed       []Change
	PutBack       []PutBack
	WorkedOn      []string // systems
	Service       []Service
	Photos        []Photo
	Private       string
	Body          string // Markdown
}

// A Session is a stretch of one person's work.
type Session struct{ From, To, Less, Task, By string }

// MeterReplaced is the change of one hour meter for another.
type MeterReplaced struct{ Old, New string }

// A Check is an answer to an item of the inspection sheet. System and Safety
// are for an item that no sheet has; safety is "yes", "no", or empty where
// nobody said.
type Check struct {
	Item, Result, Note, By, System, Safety string
	AsFound                                bool
}

// A Reading is one measured value.
type Reading struct {
	What, Where, Value, Gauge, State, System string
	AsFound                                  bool
}

// A Step is one of a diagnosis: what was tried, what was seen, and
// what that says.
type Step struct{ Tried, Saw, So, System string }

// A Part is a line of parts put in.
type Part struct {
	Part, Number, Supersedes, Qty, Each, Source, From, Vendor, Warranty string
	SuppliedBy, System, Replaces, Fate, Tax, Shipping                   string
	Deposit                                                             string // on the old part, for each
	Consumable                                                          bool
	Answers, Affects                                                    []string
}

// A Cost is money spent on something that is not a part.
type Cost struct{ For, Amount string }

// A Defect is something found wrong. Safety is "yes", "no", or empty where
// nobody said.
type Defect struct {
	Key, Defect, Effect, System, Safety, Point, Photo string
}

// A Repair is a defect put right. With a Proof and no How it adds the proof to
// a repair of an earlier entry.
type Repair struct {
	Key, How, Proof, Of, Photo string
	Affects                    []string
}

// A WorkAround is a defect lived with.
type WorkAround struct {
	Key, How, Left, Photo string
	Affects               []string
}

// Gone is a defect that left with the part it was in: With is the part or the
// change that took its place.
type Gone struct{ Key, With string }

// A Change is a departure from how the maker built it. Safety is as that of a
// defect.
type Change struct {
	Key, What, Why, System, Safety, Caution string
	Adds                                    bool
	Affects                                 []string
}

// PutBack is a change undone.
type PutBack struct {
	Key, How string
	Affects  []string
}

// A Service is care that is no repair.
type Service struct {
	What, Amount, Grade, System, Every string
	Answers                            []string
}

// A Photo is a picture of the machine's photos folder. One without Alt is
// written with an empty one: a gap that is seen in the file and by inspect.
type Photo struct {
	File, Alt, Caption string
	Shows              string // the key of a defect that it shows
	Cover, Private     bool
}

// Markdown is the entry as a file.
func (e Entry) Markdown() []byte {
	var f logFile
	f.line("---")
	for _, r := range e.rows() {
		f.row(r)
	}
	return f.close(e.Body)
}

// A row is one field: its value as written, or the items of a list.
type row struct {
	name    string
	written string
	items   []string
}

// rows are all fields of an entry, in the order in which they are written.
func (e Entry) rows() []row {
	return []row{
		{name: "date", written: value(e.Date)},
		{name: "title", written: text(e.Title)},
		{name: "time", written: text(e.Time)},
		{name: "by", written: text(e.By)},
		e.hours(),
		{name: "meter", written: value(e.Meter)},
		{name: "meter_replaced", written: filled(flow("old", value(e.MeterReplaced.Old), "new", value(e.MeterReplaced.New)))},
		{name: "odometer", written: value(e.Odometer)},
		{name: "ran", written: value(e.Ran)},
		{name: "checks", items: items(e.Checks, Check.flow)},
		{name: "diagnosis", items: items(e.Diagnosis, Step.flow)},
		{name: "measured", items: items(e.Measured, Reading.flow)},
		{name: "tests", items: items(e.Tests, Test.flow)},
		{name: "parts", items: items(e.Parts, Part.flow)},
		{name: "costs", items: items(e.Costs, Cost.flow)},
		{name: "defects", items: items(e.Defects, Defect.flow)},
		{name: "repaired", items: items(e.Repaired, Repair.flow)},
		{name: "worked_around", items: items(e.WorkedAround, WorkAround.flow)},
		{name: "gone", items: items(e.Gone, Gone.flow)},
		{name: "changed", items: items(e.Changed, Change.flow)},
		{name: "put_back", items: items(e.PutBack, PutBack.flow)},
		{name: "worked_on", items: items(e.WorkedOn, text)},
		{name: "service", items: items(e.Service, Service.flow)},
		{name: "photos", items: items(e.Photos, Photo.flow)},
		{name: "private", written: block(e.Private)},
	}
}

func (e Entry) hours() row {
	if len(e.Sessions) > 0 {
		return row{name: "hours", items: items(e.Sessions, Session.flow)}
	}
	return row{name: "hours", written: value(e.Hours)}
}

func items[T any](all []T, write func(T) string) []string {
	var written []string
	for _, one := range all {
		if w := filled(write(one)); w != "" {
			written = append(written, w)
		}
	}
	return written
}

// filled is an item, or nothing where none of its fields has a value.
func filled(item string) string {
	if item == "{}" {
		return ""
	}
	return item
}

func (s Session) flow() string {
	return flow("from", text(s.From), "to", text(s.To), "less", value(s.Less), "task", text(s.Task), "by", text(s.By))
}

func (c Check) flow() string {
	return flow("item", text(c.Item), "result", text(c.Result), "note", text(c.Note), "as_found", yes(c.AsFound), "by", text(c.By), "system", text(c.System), "safety", answer(c.Safety))
}

func (r Reading) flow() string {
	return flow("what", text(r.What), "where", text(r.Where), "value", value(r.Value), "gauge", value(r.Gauge), "state", text(r.State), "as_found", yes(r.AsFound), "system", text(r.System))
}

func (s Step) flow() string {
	return flow("tried", text(s.Tried), "saw", text(s.Saw), "so", text(s.So), "system", text(s.System))
}

func (p Part) flow() string {
	return flow("part", text(p.Part), "number", text(p.Number), "supersedes", text(p.Supersedes), "qty", value(p.Qty), "each", value(p.Each), "source", text(p.Source),
		"from", text(p.From), "vendor", text(p.Vendor), "warranty", text(p.Warranty), "supplied_by", text(p.SuppliedBy), "system", text(p.System), "consumable", yes(p.Consumable), "answers", list(p.Answers), "replaces", text(p.Replaces),
		"affects", list(p.Affects), "fate", text(p.Fate), "tax", value(p.Tax), "shipping", value(p.Shipping), "core", filled(flow("deposit", value(p.Deposit))))
}

func (c Cost) flow() string { return flow("for", text(c.For), "amount", value(c.Amount)) }

func (d Defect) flow() string {
	return flow("key", text(d.Key), "defect", text(d.Defect), "effect", text(d.Effect), "system", text(d.System), "safety", answer(d.Safety), "point", text(d.Point), "photo", text(d.Photo))
}

func (r Repair) flow() string {
	return flow("key", text(r.Key), "how", text(r.How), "proof", text(r.Proof), "of", text(r.Of), "affects", list(r.Affects), "photo", text(r.Photo))
}

func (w WorkAround) flow() string {
	return flow("key", text(w.Key), "how", text(w.How), "left", text(w.Left), "affects", list(w.Affects), "photo", text(w.Photo))
}

func (g Gone) flow() string { return flow("key", text(g.Key), "with", text(g.With)) }

func (c Change) flow() string {
	return flow("key", text(c.Key), "what", text(c.What), "why", text(c.Why), "system", text(c.System), "safety", answer(c.Safety),
		"adds", yes(c.Adds), "affects", list(c.Affects), "caution", text(c.Caution))
}

func (p PutBack) flow() string {
	return flow("key", text(p.Key), "how", text(p.How), "affects", list(p.Affects))
}

func (s Service) flow() string {
	return flow("what", text(s.What), "amount", value(s.Amount), "grade", text(s.Grade), "system", text(s.System), "every", value(s.Every), "answers", list(s.Answers))
}

func (p Photo) flow() string {
	alt := text(p.Alt)
	if alt == "" {
		alt = `""`
	}
	return flow("file", text(p.File), "alt", alt, "caption", text(p.Caption), "shows", text(p.Shows), "cover", yes(p.Cover), "private", yes(p.Private))
}

// Know fills in what the program knows by itself: the system of each reading
// whose name it knows, where nobody wrote one.
func (e *Entry) Know() {
	for i := range e.Measured {
		if m := &e.Measured[i]; m.System == "" {
			m.System, _, _ = benchtest.Measurand(m.What)
		}
	}
}

// SaysSafety tells whether a text is an answer to whether something can hurt
// someone, and writes it as the log has it: "yes" or "no".
func SaysSafety(s string) (string, bool) {
	switch answer := logbook.Safety(strings.ToLower(strings.TrimSpace(s))); answer {
	case logbook.SafetyYes, logbook.SafetyNo:
		return string(answer), true
	case "y":
		return string(logbook.SafetyYes), true
	case "n":
		return string(logbook.SafetyNo), true
	}
	return "", false
}
