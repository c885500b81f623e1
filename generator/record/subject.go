package record

import (
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// NotSaid is what stands where the shop did not say: of safety, and of the hour
// meter.
const NotSaid = "not said"

// A Subject is one thing that the report speaks of. Its history is all that the
// log ever said of it; Touched is the work that made its evidence out of date, and
// Absent what the log lacks, both null where there is none.
type Subject struct {
	Kind     string   `json:"kind"`
	Name     string   `json:"name"`
	Key      string   `json:"key"`
	Systems  []string `json:"systems"`
	Safety   string   `json:"safety"`
	Standing string   `json:"standing"`
	Open     bool     `json:"open"`
	History  []Event  `json:"history"`
	Touched  *Touch   `json:"touched"`
	Absent   *Absence `json:"absent"`
	Limits   []Limit  `json:"limits"`
	// AnsweredBy are the names of the measurements that answer a point.
	AnsweredBy []string `json:"answered_by"`
	Told       string   `json:"told"`
	Evidence   []string `json:"evidence"`
}

// An Event is one thing that the log said: the kind of thing (found, repaired,
// works, read ...), and behind it the log's own words, if there are any.
type Event struct {
	Date  string `json:"date"`
	Entry string `json:"entry"` // its file in the shop folder
	Said  string `json:"said"`
}

// between stands between the kind of thing and the log's own words.
const between = ": "

// Parts are the kind of thing that an event is, and the log's own words, which are
// empty where there are none.
func (e Event) Parts() (what, said string) {
	what, said, _ = strings.Cut(e.Said, between)
	return what, said
}

// A Touch is the work that made evidence out of date; By is the work, in words.
type Touch struct {
	Date    string   `json:"date"`
	Entry   string   `json:"entry"`
	By      string   `json:"by"`
	Systems []string `json:"systems"`
}

// An Absence is what a sentence about something missing from the log claims.
// Since is null where it means ever.
type Absence struct {
	Of    string  `json:"of"`
	Since *string `json:"since"`
}

// A Limit is one that a measured thing is held against, with its source.
type Limit struct {
	Limit  string `json:"limit"`
	Source string `json:"source"`
}

func subject(s *condition.Subject) Subject {
	rec := Subject{
		Kind: string(s.Kind), Name: s.Name, Key: s.Key, Systems: append([]string{}, s.Systems...),
		Safety: safety(s.Safety), Standing: string(s.Standing), Open: s.Open, Told: s.Told,
		History: []Event{}, Limits: []Limit{}, AnsweredBy: []string{}, Evidence: []string{},
	}
	for _, e := range s.History {
		rec.History = append(rec.History, event(e))
	}
	if t := s.Touched; t != nil {
		rec.Touched = &Touch{string(t.Entry.Date), t.Entry.File, t.By, append([]string{}, t.Systems...)}
	}
	if a := s.Absent; a != nil {
		rec.Absent = &Absence{a.Of, OrNull(string(a.Since))}
	}
	if m := s.Measured; m != nil {
		for _, l := range m.Limits {
			rec.Limits = append(rec.Limits, Limit{l.Limit, l.Source})
		}
	}
	for _, m := range s.AnsweredBy {
		rec.AnsweredBy = append(rec.AnsweredBy, m.Name)
	}
	for _, e := range s.Evidence {
		rec.Evidence = append(rec.Evidence, e.File)
	}
	return rec
}

func event(e condition.Event) Event {
	said := e.What
	if e.Said != "" {
		said += between + e.Said
	}
	return Event{string(e.Entry.Date), e.Entry.File, said}
}

func safety(s logbook.Safety) string {
	if s == logbook.NotSaid {
		return NotSaid
	}
	return string(s)
}
