package condition

import (
	"strings"

	"github.com/govalues/decimal"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// An Evidence is one entry that a statement rests on, or the machine's own
// file (its machine.md) where the statement is about what no entry says.
type Evidence struct {
	File  string // in the shop folder
	Date  logbook.Date
	Title string
	// Photo is a photo of that entry that shows it, never a private one; a
	// path in the shop folder, empty where there is none.
	Photo string
}

// States of a defect.
const (
	StillThere = "still there"
	Around     = "worked around"
	NotProven  = "repaired, not proven"
	Proven     = "repaired and proven"
)

// A Defect is the life of one defect.
type Defect struct {
	Key, Defect, Effect, System string
	Safety                      bool
	State                       string
	Found                       logbook.Date // first found
	Closed                      logbook.Date // when the present repair or work-around was made; empty while still there
	// Back is the date on which a repaired or worked-around defect was found
	// again, empty if it never was; Before is the repair that did not last.
	Back, Before logbook.Date
	How          string // of the repair or the work-around
	Proof        string
	Proved       logbook.Date // of the proof; the repair's own or later
	Left         string       // what a work-around leaves
	// StaleSince is the later work that the proof was not repeated after.
	StaleSince logbook.Date
	Evidence   []Evidence
	// Broken and Mended are the entries whose photos show it, the last one while
	// it was there and the first since it was mended or worked around; without
	// a Photo where there is none.
	Broken, Mended Evidence
	// At is where the log last said something of it.
	At logbook.Place
	// Events are its whole life, in order.
	Events []Event
}

// An Event is one turn in a defect's life.
type Event struct {
	Date  logbook.Date
	State string
	Again bool // found once more
	Entry Evidence
}

// Open tells whether the defect is not repaired.
func (d *Defect) Open() bool { return d.State == StillThere || d.State == Around }

// Results of a check as the report knows them.
const (
	Works      = logbook.Works
	Fails      = logbook.Fails
	NotChecked = logbook.NotChecked
	Stale      = "stale"
)

// A Check is one point of the machine's list with the answer to it.
type Check struct {
	Item, System, How string
	Safety            bool
	// Result is Stale for an answer "works" that later work has overtaken. A
	// failure stays a failure until the point is checked again.
	Result     string
	Date       logbook.Date // of the answer
	StaleSince logbook.Date // of the later work, for a failure too
	Note       string
	Evidence   []Evidence
}

// A Value is one reading of a measured thing.
type Value struct {
	Value    quantity.Quantity
	Gauge    quantity.Gauge
	HasGauge bool
	Verdict  quantity.Verdict
	Date     logbook.Date
	Evidence Evidence
}

// A Reading is one measured thing: as found, as left and all between.
type Reading struct {
	What, Where, State, System string
	Values                     []Value
	Limit                      logbook.Limit
	StaleSince                 logbook.Date
}

// AsFound is the first reading, AsLeft the last; they are one where it was
// measured once.
func (r *Reading) AsFound() Value { return r.Values[0] }

// AsLeft is the last reading.
func (r *Reading) AsLeft() Value { return r.Values[len(r.Values)-1] }

// A Change is a departure from how the maker built it.
type Change struct {
	What, Why, System, Caution string
	Affects                    []string
	Date                       logbook.Date
	Evidence                   Evidence
}

// A Missing is a part that was gone on arrival, and when one was put in.
type Missing struct {
	Part     string
	Fitted   logbook.Date
	Guard    bool // the name sounds like a guard or an interlock
	Evidence []Evidence
}

// A Part is a part put in.
type Part struct {
	Part, Number, Source, From string
	Qty                        decimal.Decimal
	Date                       logbook.Date
	Evidence                   Evidence
}

func (j *judge) evidence(e *logbook.Entry, photo string) Evidence {
	ev := Evidence{File: e.File, Date: e.Date, Title: e.Title}
	for _, p := range e.Photos {
		if photo != "" && strings.TrimPrefix(p.File, "photos/") == strings.TrimPrefix(photo, "photos/") && !p.Private {
			ev.Photo = p.Path
		}
	}
	return ev
}

// showing is the evidence of an entry for a turn in a defect's life, with the
// photo that the turn names. Where it names none, a photo of that entry marked
// as showing the defect will do: the first for what was found, the last for
// what was done about it. A photo does not stand for both: one alone shows the
// defect.
func (j *judge) showing(e *logbook.Entry, d *Defect, photo string, done bool) Evidence {
	if photo != "" {
		return j.evidence(e, photo)
	}
	for _, p := range e.Photos {
		if p.Shows != d.Key || p.Private || done && p.Path == d.Broken.Photo {
			continue
		}
		if photo == "" || done {
			photo = p.File
		}
	}
	return j.evidence(e, photo)
}

// defects follows every defect through the entries.
func (j *judge) defects() []*Defect {
	byKey := map[string]*Defect{}
	var all []*Defect
	proofAt := map[*Defect]int{}
	for i, e := range j.machine.Entries {
		for _, f := range e.Defects {
			d := byKey[f.Key]
			if d == nil {
				d = &Defect{Key: f.Key, Found: e.Date}
				byKey[f.Key] = d
				all = append(all, d)
			} else if d.State != StillThere {
				d.Back, d.Before = e.Date, d.Closed
			}
			again := len(d.Events) > 0
			d.found(f)
			d.turn(StillThere, e.Date, j.showing(e, d, f.Photo, false))
			d.At = f.Place
			d.Events[len(d.Events)-1].Again = again
		}
		for _, w := range e.WorkedAround {
			if d := byKey[w.Key]; d != nil {
				d.How, d.Left, d.Proof, d.Closed = w.How, w.Left, "", e.Date
				d.turn(Around, e.Date, j.showing(e, d, w.Photo, true))
				d.At = w.Place
			}
		}
		for _, r := range e.Repaired {
			d := byKey[r.Key]
			if d == nil {
				continue
			}
			if r.How != "" {
				d.How, d.Closed = r.How, e.Date
			}
			d.Proof, d.Left, d.Proved = r.Proof, "", e.Date
			proofAt[d] = i
			state := NotProven
			if r.Proof != "" {
				state = Proven
			}
			d.turn(state, e.Date, j.showing(e, d, r.Photo, true))
			d.At = r.Place
		}
		for _, p := range e.Photos {
			if d := byKey[p.Shows]; d != nil {
				d.pictured(j.evidence(e, p.File))
			}
		}
	}
	for _, d := range all {
		if d.State != Proven {
			continue
		}
		if later, ok := j.history.since(proofAt[d], d.System); ok {
			d.StaleSince = j.machine.Entries[later].Date
		}
	}
	return all
}

// pictured takes in a photo of the defect, in the order of the log: the last
// one while it is there, and the first since it was mended or worked around.
func (d *Defect) pictured(ev Evidence) {
	switch {
	case ev.Photo == "":
	case d.State == StillThere:
		d.Broken, d.Mended = ev, Evidence{}
	case d.Mended.Photo == "" && ev.Photo != d.Broken.Photo:
		d.Mended = ev
	}
}

// found takes over what a finding says. What was once a matter of safety stays
// one: a later entry cannot talk it away.
func (d *Defect) found(f logbook.Defect) {
	d.Defect, d.System = f.Defect, f.System
	if f.Effect != "" {
		d.Effect = f.Effect
	}
	d.Safety = d.Safety || f.Safety || f.System == logbook.Guards
	d.How, d.Proof, d.Left, d.Closed = "", "", "", ""
}

func (d *Defect) turn(state string, date logbook.Date, ev Evidence) {
	d.State = state
	d.Evidence = append(d.Evidence, ev)
	d.Events = append(d.Events, Event{Date: date, State: state, Entry: ev})
	d.pictured(ev)
}

// checks answers each point of the sheet and each point that an entry added.
// The last answer counts.
func (j *judge) checks() []*Check {
	var all []*Check
	byItem := map[string]*Check{}
	add := func(c *Check) *Check {
		c.Result = NotChecked
		byItem[strings.ToLower(c.Item)] = c
		all = append(all, c)
		return c
	}
	if s := j.machine.Sheet; s != nil {
		for _, i := range s.Items {
			add(&Check{Item: i.Item, System: i.System, How: i.How, Safety: i.Safety || i.System == logbook.Guards})
		}
	}
	for i, e := range j.machine.Entries {
		for _, a := range e.Checks {
			c := byItem[strings.ToLower(a.Item)]
			if c == nil {
				c = add(&Check{Item: a.Item, System: a.System})
			}
			j.answer(c, i, e, a)
		}
	}
	for _, c := range all {
		if len(c.Evidence) == 0 {
			c.Evidence = []Evidence{j.itself}
		}
	}
	return all
}

// answer puts an entry's answer on a point. Safety is only ever added.
func (j *judge) answer(c *Check, i int, e *logbook.Entry, a logbook.Check) {
	c.Safety = c.Safety || a.Safety || a.System == logbook.Guards
	c.Result, c.Note, c.Date, c.StaleSince = a.Result, a.Note, e.Date, ""
	c.Evidence = []Evidence{j.evidence(e, "")}
	if c.Result == "" {
		c.Result = NotChecked
	}
	if c.Result == NotChecked {
		return
	}
	if later, ok := j.history.since(i, c.System); ok {
		c.StaleSince = j.machine.Entries[later].Date
		c.Evidence = append(c.Evidence, j.evidence(j.machine.Entries[later], ""))
		if c.Result == Works {
			c.Result = Stale
		}
	}
}

// readings gathers the readings of each (what, where, state).
func (j *judge) readings() []*Reading {
	var all []*Reading
	byName := map[[3]string]*Reading{}
	lastAt := map[*Reading]int{}
	for i, e := range j.machine.Entries {
		for _, m := range e.Measured {
			if m.Value.IsZero() {
				continue
			}
			key := [3]string{strings.ToLower(m.What), strings.ToLower(m.Where), strings.ToLower(m.State)}
			r := byName[key]
			if r == nil {
				r = &Reading{What: m.What, Where: m.Where, State: m.State}
				r.Limit, _ = j.machine.LimitFor(m.What, m.Where)
				byName[key] = r
				all = append(all, r)
			}
			if s := readingSystem(m); s != "" {
				r.System = s
			}
			r.Values = append(r.Values, j.value(m, e, r.Limit.Limit))
			lastAt[r] = i
		}
	}
	for _, r := range all {
		if later, ok := j.history.since(lastAt[r], r.System); ok {
			r.StaleSince = j.machine.Entries[later].Date
		}
	}
	return all
}

// value judges one reading. A limit of another dimension is a problem that the
// logbook has reported; here such a reading has no limit.
func (j *judge) value(m logbook.Reading, e *logbook.Entry, limit quantity.Limit) Value {
	v := Value{Value: m.Value, Gauge: m.Gauge, HasGauge: m.HasGauge, Date: e.Date, Evidence: j.evidence(e, "")}
	verdict, err := quantity.Judge(m.Value, m.Gauge, limit)
	if err != nil {
		verdict = quantity.NotLimited
	}
	v.Verdict = verdict
	return v
}

func (j *judge) changes() []*Change {
	var all []*Change
	for _, e := range j.machine.Entries {
		for _, c := range e.Changed {
			all = append(all, &Change{What: c.What, Why: c.Why, System: c.System, Caution: c.Caution, Affects: c.Affects, Date: e.Date, Evidence: j.evidence(e, "")})
		}
	}
	return all
}

func (j *judge) parts() []*Part {
	var all []*Part
	for _, e := range j.machine.Entries {
		for _, p := range e.Parts {
			all = append(all, &Part{Part: p.Part, Number: p.Number, Source: p.Source, From: p.From, Qty: p.Qty, Date: e.Date, Evidence: j.evidence(e, "")})
		}
	}
	return all
}

// guardWords are what the names of parts that keep people safe hold. A list of
// missing parts has no systems, so the name is all there is to go by; one too
// many in the first section does no harm. Common practice, no source.
var guardWords = []string{
	"guard", "shield", "skid", "cover", "deflector", "chute", "interlock", "switch", "brake", "hood",
	"muffler", "arrestor", "arrester", "spark", "screen", "deadman", "lever", "catcher", "safety", "clutch", "kill",
}

func (j *judge) missing() []*Missing {
	var all []*Missing
	for _, part := range j.machine.Missing {
		m := &Missing{Part: part.Part, Evidence: []Evidence{j.itself}}
		name := strings.ToLower(part.Part)
		for _, w := range guardWords {
			m.Guard = m.Guard || strings.Contains(name, w)
		}
		for _, e := range j.machine.Entries {
			for _, p := range e.Parts {
				if m.Fitted == "" && isThe(p.Part, name) {
					m.Fitted = e.Date
					m.Evidence = append(m.Evidence, j.evidence(e, ""))
				}
			}
		}
		all = append(all, m)
	}
	return all
}

// isThe tells whether a part put in is the one of that name, in small letters:
// the same words, with more only behind a comma or in brackets. A bolt for a
// guard is not the guard.
func isThe(part, name string) bool {
	part = strings.ToLower(strings.TrimSpace(part))
	if part == name {
		return true
	}
	at := strings.IndexAny(part, ",(")
	return at >= 0 && strings.TrimSpace(part[:at]) == name
}
