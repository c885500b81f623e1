package handover

import (
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/record"
)

// An account is what a report said, in a form that another's can be held against:
// histories and standings, never the report's own sentences. Those change with the
// program, and what the log said does not.
type account struct {
	first                 bool // of schema 1, which said less
	things                []*thing
	entries               []Evidence
	tests, parts, service []listed
}

// A thing is a subject of it.
type thing struct {
	kind, key, name, also, safety string
	standing                      condition.Standing
	systems                       []string
	limits                        []record.Limit
	measured                      bool // a point that a measurement answers
	open                          bool
	adds, addsKnown               bool     // a change that the shop says makes it safer
	leans                         []string // the names of others that let it stand as it does
	claims                        []claim
}

// A claim is one thing that the log said of it. Without words of its own, a report
// of schema 1 said it; it is then the same as any of that kind and day.
type claim struct{ what, said, date, entry string }

// anyAnswer is a claim that a point was answered, in whatever way.
const anyAnswer = "answered"

// A listed is a line of a list: a test, a part, a service. More is what else it says,
// which reports of schema 1 had otherwise or not at all.
type listed struct {
	name, also, date, entry string
	more                    []lineField
}

// A lineField is one field of such a line, by the key of its name in words.
type lineField struct{ key, said string }

func (t *thing) says(what, said, date string) {
	t.claims = append(t.claims, claim{what: what, said: said, date: date})
}

// folded is the thing's name by its words alone.
func (t *thing) folded() string { return logbook.Folded(t.name + " " + t.also) }

// account is what a report said.
func (f *Facts) account() *account {
	if f.first != nil {
		return f.first.account()
	}
	a := &account{entries: f.Entries}
	for _, s := range f.Record.Subjects {
		t := &thing{
			kind: s.Kind, key: s.Key, name: s.Name, safety: s.Safety, standing: condition.Standing(s.Standing),
			systems: s.Systems, limits: s.Limits, measured: len(s.AnsweredBy) > 0, open: s.Open,
		}
		t.adds, t.addsKnown = f.adds(s.Key, s.Name)
		t.leans = append(t.leans, s.AnsweredBy...)
		for _, b := range f.Beside {
			if b.Of == besideLeans && b.Name == s.Name {
				t.leans = append(t.leans, b.Said)
			}
		}
		for _, e := range s.History {
			what, said := e.Parts()
			switch {
			case what == condition.HasLimit:
				continue // compared by themselves
			case said == "":
				said = what
			}
			t.claims = append(t.claims, claim{what, said, e.Date, e.Entry})
		}
		a.things = append(a.things, t)
	}
	for _, t := range f.Record.Tests {
		a.tests = append(a.tests, listed{t.Test, t.Where, t.Date, t.Entry, nil})
	}
	for _, p := range f.Record.Parts {
		a.parts = append(a.parts, listed{p.Part, p.Source + " " + p.From, p.Date, p.Entry, []lineField{
			{"since.of-number", p.Number}, {"since.of-supersedes", p.Supersedes}, {"since.of-qty", p.Qty}, {"since.of-vendor", p.Vendor},
			{"since.of-warranty", p.Warranty}, {"since.of-supplied-by", p.SuppliedBy}, {"since.of-system", p.System}, {"since.of-fate", p.Fate},
		}})
	}
	for _, s := range f.Record.Service {
		a.service = append(a.service, listed{s.What, s.System, s.Date, s.Entry, []lineField{
			{"since.of-amount", s.Amount}, {"since.of-grade", s.Grade}, {"since.of-every", s.Every},
		}})
	}
	return a
}

// is tells whether a claim of today is the one that the sealed report made, which
// had that date. Found again in the same words is found.
func (c claim) is(now claim, date string) bool {
	return c.sort(now) && date == now.date && (c.said == "" || c.same(now))
}

// same tells whether a claim of today says the same, a value to the sign. Reports of
// schema 1, whose claims name no entry, wrote values otherwise.
func (c claim) same(now claim) bool {
	if c.entry != "" && (c.what == condition.Read || c.what == condition.MeterRead || c.what == condition.MeterChanged) {
		return sameValue(c.said, now.said)
	}
	return logbook.Same(c.said, now.said)
}

// pairs tells whether a claim of today may be what became of a sealed one: they are
// of one kind, or both answers.
func (c claim) pairs(now claim) bool {
	return c.sort(now) || c.answer() && now.answer()
}

// answer tells whether a claim is an answer to a point.
func (c claim) answer() bool {
	return c.what == condition.Works || c.what == condition.Fails || c.what == condition.NotHere || c.what == condition.Unanswered
}

// sort tells whether two claims are of one kind.
func (c claim) sort(now claim) bool {
	was, is := plainWhat(c.what), plainWhat(now.what)
	switch {
	case c.what == anyAnswer:
		return now.answer()
	case c.said == "" && was == condition.Repaired:
		return is == condition.Repaired || is == condition.Proved
	}
	return was == is
}

func plainWhat(what string) string {
	if what == condition.FoundAgain {
		return condition.Found
	}
	return what
}
