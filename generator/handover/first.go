package handover

import (
	"encoding/json"
	"path"

	"asleft/generator/condition"
	"asleft/generator/record"
)

// The facts of a report sealed under schema 1, as far as they can be held against
// the log of today. Such a report is vouched for by its bytes; this reads what it
// said and never writes it.
type firstFacts struct {
	Record struct {
		Machine  record.Machine `json:"machine"`
		Checks   []firstCheck   `json:"checks"`
		Readings []firstReading `json:"readings"`
		Tests    []struct {
			Test  string `json:"test"`
			Where string `json:"where"`
			Date  string `json:"date"`
		} `json:"tests"`
		Defects []firstDefect `json:"defects"`
		Changes []struct {
			What   string `json:"what"`
			System string `json:"system"`
			Date   string `json:"date"`
		} `json:"changes"`
		Missing []struct {
			Part   string  `json:"part"`
			Fitted *string `json:"fitted"`
		} `json:"missing"`
		Parts []record.Part `json:"parts"`
	} `json:"record"`
	Sections []struct {
		Statements []struct {
			Evidence []Evidence `json:"evidence"`
		} `json:"statements"`
	} `json:"sections"`
}

type firstCheck struct {
	Item       string  `json:"item"`
	System     string  `json:"system"`
	Safety     bool    `json:"safety"`
	Result     string  `json:"result"`
	Date       *string `json:"date"`
	StaleSince *string `json:"stale_since"`
}

type firstReading struct {
	What    string  `json:"what"`
	Where   string  `json:"where"`
	State   string  `json:"state"`
	AsFound Reading `json:"as_found"`
	AsLeft  Reading `json:"as_left"`
	Limit   *string `json:"limit"`
	Source  string  `json:"source"`
}

type firstDefect struct {
	Key    string  `json:"key"`
	Defect string  `json:"defect"`
	System string  `json:"system"`
	Safety bool    `json:"safety"`
	State  string  `json:"state"`
	Found  string  `json:"found"`
	Closed *string `json:"closed"`
	Back   *string `json:"back"`
}

// The states that a defect had under schema 1.
const (
	firstStillThere = "still there"
	firstAround     = "worked around"
	firstNotProven  = "repaired, not proven"
	firstProven     = "repaired and proven"
)

// readFirst reads the facts of a sealed file that follow schema 1; nil where they
// follow another.
func readFirst(data []byte) *firstFacts {
	var seal struct {
		Facts struct {
			Format string `json:"format"`
			firstFacts
		} `json:"facts"`
	}
	if json.Unmarshal(data, &seal) != nil || seal.Facts.Format != "asleft condition report 1" {
		return nil
	}
	return &seal.Facts.firstFacts
}

// account is what such a report said. It holds no more than it said: a defect's
// first wording, a point's last answer, the first and the last reading.
func (f *firstFacts) account() *account {
	a := &account{first: true}
	for _, d := range f.Record.Defects {
		a.things = append(a.things, d.thing())
	}
	for _, c := range f.Record.Checks {
		t := &thing{kind: string(condition.KindPoint), name: c.Item, safety: firstSafety(c.Safety)}
		if c.Date != nil && (c.Result == condition.Works || c.Result == condition.Fails) {
			t.says(c.Result, "", *c.Date)
		} else if c.Date != nil { // it worked before later work, or failed: the report does not say which
			t.says(anyAnswer, "", *c.Date)
		}
		a.things = append(a.things, t)
	}
	for _, r := range f.Record.Readings {
		a.things = append(a.things, r.thing())
	}
	for _, c := range f.Record.Changes {
		t := &thing{kind: string(condition.KindChange), name: c.What}
		t.says(condition.WasChanged, c.What, c.Date)
		a.things = append(a.things, t)
	}
	for _, m := range f.Record.Missing {
		t := &thing{kind: string(condition.KindMissing), name: m.Part}
		if m.Fitted != nil {
			t.says(condition.WasReplaced, "", *m.Fitted)
		}
		a.things = append(a.things, t)
	}
	f.rest(a)
	return a
}

// rest are the tests, the parts and the entries that the statements rest on.
func (f *firstFacts) rest(a *account) {
	for _, t := range f.Record.Tests {
		a.tests = append(a.tests, listed{name: t.Test, also: t.Where, date: t.Date})
	}
	for _, p := range f.Record.Parts {
		a.parts = append(a.parts, listed{name: p.Part, also: p.Source + " " + p.From, date: p.Date})
	}
	known := map[string]bool{}
	for _, sec := range f.Sections {
		for _, st := range sec.Statements {
			for _, e := range st.Evidence {
				if path.Base(e.File) != ownFile && !known[e.File] {
					known[e.File] = true
					a.entries = append(a.entries, e)
				}
			}
		}
	}
}

// ownFile is what a machine's own file is called.
const ownFile = "machine.md"

func (d firstDefect) thing() *thing {
	t := &thing{kind: string(condition.KindDefect), name: d.Defect, key: d.Key, safety: firstSafety(d.Safety)}
	if d.System != "" {
		t.systems = []string{d.System}
	}
	t.says(condition.Found, d.Defect, d.Found)
	if d.Back != nil {
		t.says(condition.Found, "", *d.Back)
	}
	if d.Closed != nil {
		what := condition.Repaired
		if d.State == firstAround {
			what = condition.Around
		}
		t.says(what, "", *d.Closed)
	}
	t.standing = map[string]condition.Standing{
		firstStillThere: condition.Wrong, firstAround: condition.WorkedAround,
		firstNotProven: condition.NotProven, firstProven: condition.InOrder,
	}[d.State]
	return t
}

func (r firstReading) thing() *thing {
	t := &thing{kind: string(condition.KindMeasurement), name: r.What, also: r.Where + " " + r.State}
	t.says(condition.Read, r.AsFound.Value, r.AsFound.Date)
	if r.AsLeft != r.AsFound {
		t.says(condition.Read, r.AsLeft.Value, r.AsLeft.Date)
	}
	if r.Limit != nil {
		t.limits = []record.Limit{{Limit: *r.Limit, Source: r.Source}}
	}
	return t
}

// firstSafety is what a report of schema 1 said of safety. Its no is also what it
// said where the log said nothing, so it is held against nothing.
func firstSafety(safety bool) string {
	if safety {
		return "yes"
	}
	return ""
}
