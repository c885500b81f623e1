package pen

// An Entry is one evening to be written down. Every text is as a person types
// it; what is empty is left out.
type Entry struct {
	Date, Title, Time, By string
	// Hours is a length of time ("2.5", "2:30"); Sessions take its place.
	Hours         string
	Sessions      []Session
	Meter         string // "412.6 h", or why there is no reading
	MeterReplaced MeterReplaced
	Ran           string // engine run time, as Hours
	Checks        []Check
	Measured      []Reading
	Parts         []Part
	Costs         []Cost
	Defects       []Defect
	Repaired      []Repair
	WorkedAround  []WorkAround
	Photos        []Photo
	Private       string
	Body          string // Markdown
}

// A Session is a stretch of one person's work.
type Session struct{ From, To, Less, Task, By string }

// MeterReplaced is the change of one hour meter for another.
type MeterReplaced struct{ Old, New string }

// A Check is an answer to an item of the inspection sheet. System and Safety
// are for an item that no sheet has.
type Check struct {
	Item, Result, Note, System string
	Safety                     bool
}

// A Reading is one measured value.
type Reading struct{ What, Where, Value, Gauge, State, System string }

// A Part is a line of parts put in.
type Part struct{ Part, Number, Qty, Each, Source, From, System, Tax, Shipping string }

// A Cost is money spent on something that is not a part.
type Cost struct{ For, Amount string }

// A Defect is something found wrong.
type Defect struct {
	Key, Defect, Effect, System string
	Safety                      bool
	Photo                       string
}

// A Repair is a defect put right. With a Proof and no How it adds the proof to
// a repair of an earlier entry.
type Repair struct{ Key, How, Proof, Photo string }

// A WorkAround is a defect lived with.
type WorkAround struct{ Key, How, Left, Photo string }

// A Photo is a picture of the machine's photos folder. One without Alt is
// written with an empty one: a gap that is seen in the file and by inspect.
type Photo struct {
	File, Alt, Caption string
	Shows              string // the key of a defect that it shows
	Cover, Private     bool
}

// Markdown is the entry as a file.
func (e Entry) Markdown() []byte {
	var p paper
	p.line("---")
	for _, r := range e.rows() {
		p.row(r)
	}
	return p.close(e.Body)
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
		{name: "ran", written: value(e.Ran)},
		{name: "checks", items: items(e.Checks, Check.flow)},
		{name: "measured", items: items(e.Measured, Reading.flow)},
		{name: "parts", items: items(e.Parts, Part.flow)},
		{name: "costs", items: items(e.Costs, Cost.flow)},
		{name: "defects", items: items(e.Defects, Defect.flow)},
		{name: "repaired", items: items(e.Repaired, Repair.flow)},
		{name: "worked_around", items: items(e.WorkedAround, WorkAround.flow)},
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
	return flow("item", text(c.Item), "result", text(c.Result), "note", text(c.Note), "system", text(c.System), "safety", yes(c.Safety))
}

func (r Reading) flow() string {
	return flow("what", text(r.What), "where", text(r.Where), "value", value(r.Value), "gauge", value(r.Gauge), "state", text(r.State), "system", text(r.System))
}

func (p Part) flow() string {
	return flow("part", text(p.Part), "number", text(p.Number), "qty", value(p.Qty), "each", value(p.Each), "source", text(p.Source),
		"from", text(p.From), "system", text(p.System), "tax", value(p.Tax), "shipping", value(p.Shipping))
}

func (c Cost) flow() string { return flow("for", text(c.For), "amount", value(c.Amount)) }

func (d Defect) flow() string {
	return flow("key", text(d.Key), "defect", text(d.Defect), "effect", text(d.Effect), "system", text(d.System), "safety", yesNo(d.Safety), "photo", text(d.Photo))
}

func (r Repair) flow() string {
	return flow("key", text(r.Key), "how", text(r.How), "proof", text(r.Proof), "photo", text(r.Photo))
}

func (w WorkAround) flow() string {
	return flow("key", text(w.Key), "how", text(w.How), "left", text(w.Left), "photo", text(w.Photo))
}

func (p Photo) flow() string {
	alt := text(p.Alt)
	if alt == "" {
		alt = `""`
	}
	return flow("file", text(p.File), "alt", alt, "caption", text(p.Caption), "shows", text(p.Shows), "cover", yes(p.Cover), "private", yes(p.Private))
}
