package handover

import (
	"slices"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// Kinds of a change since a report was sealed.
const (
	SinceDefect  = "defect"
	SinceCheck   = "check"
	SinceReading = "reading"
	SinceTest    = "test"
	SinceChange  = "change"
	SincePart    = "part"
	SinceHours   = "hours"
	SinceStage   = "stage" // for sale, sold, the asking price: says nothing of the machine's condition
	SinceOther   = "other"
)

// A Change is one thing that the logs say today and the sealed report did not.
type Change struct {
	Kind string `json:"kind"`
	Text string `json:"text"` // whole sentences
}

// since compares sealed facts with those of today.
type since struct {
	words    *catalog.Catalog
	was, now *Facts
	all      []Change
	subjects []string // lower case: what the changes are about
}

// Since is what the logs say today that a sealed report did not.
func Since(sealed, today *Facts, words *catalog.Catalog) []Change {
	s := &since{words: words, was: sealed, now: today}
	s.defects()
	s.checks()
	s.readings()
	s.tests()
	s.changes()
	s.missing()
	s.parts()
	s.hours()
	s.machine()
	s.statements()
	if today.AsOf > sealed.AsOf {
		s.say(SinceOther, "", "since.entries", "date", date(words, today.AsOf))
	}
	return s.all
}

// Today are the facts that a report of the n-th machine would hold now.
func Today(site *page.Site, n int, today logbook.Date) *Facts {
	f := gathered(site, n, today)
	return &f
}

func (s *since) say(kind, subject, key string, pairs ...any) {
	s.all = append(s.all, Change{kind, s.words.Say(key, pairs...)})
	if subject != "" {
		s.subjects = append(s.subjects, strings.ToLower(plain(subject)))
	}
}

// plain is a text of the log as it stands inside a sentence.
func plain(text string) string {
	return strings.TrimRight(strings.Join(strings.Fields(text), " "), ".;, ")
}

func (s *since) defects() {
	for _, d := range s.now.Record.Defects {
		i := slices.IndexFunc(s.was.Record.Defects, func(x page.RecordDefect) bool { return x.Key == d.Key })
		if i < 0 {
			s.say(SinceDefect, d.Defect, defectNew[d.State], "defect", plain(d.Defect), "date", date(s.words, d.Found))
			continue
		}
		s.defect(s.was.Record.Defects[i], d)
	}
	for _, d := range s.was.Record.Defects {
		if !slices.ContainsFunc(s.now.Record.Defects, func(x page.RecordDefect) bool { return x.Key == d.Key }) {
			s.say(SinceDefect, d.Defect, "since.defect-gone", "defect", plain(d.Defect))
		}
	}
}

// What is said of a defect that is new, by its state, and of one whose state
// is another now.
var (
	defectNew = map[string]string{
		condition.StillThere: "since.found", condition.Around: "since.found-around",
		condition.NotProven: "since.found-repaired", condition.Proven: "since.found-proven",
	}
	defectNow = map[string]string{
		condition.StillThere: "since.open-again", condition.Around: "since.around",
		condition.NotProven: "since.repaired", condition.Proven: "since.proven",
	}
)

func (s *since) defect(was, now page.RecordDefect) {
	what := plain(now.Defect)
	back := now.Back != nil && (was.Back == nil || *was.Back != *now.Back)
	if back {
		s.say(SinceDefect, now.Defect, "since.back", "defect", what, "date", date(s.words, *now.Back))
	}
	switch {
	case was.State != now.State && !(back && now.State == condition.StillThere):
		s.say(SinceDefect, now.Defect, defectNow[now.State], "defect", what, "date", when(s.words, now.Closed))
	case !was.Stale && now.Stale:
		s.say(SinceDefect, now.Defect, "since.proof-stale", "defect", what)
	}
	if !was.Safety && now.Safety {
		s.say(SinceDefect, now.Defect, "since.safety", "defect", what)
	}
}

func when(words *catalog.Catalog, d *string) string {
	if d == nil {
		return ""
	}
	return date(words, *d)
}

func (s *since) checks() {
	for _, c := range s.now.Record.Checks {
		i := slices.IndexFunc(s.was.Record.Checks, func(x page.RecordCheck) bool { return strings.EqualFold(x.Item, c.Item) })
		wasResult, wasDate := condition.NotChecked, ""
		if i >= 0 {
			wasResult, wasDate = s.was.Record.Checks[i].Result, when(s.words, s.was.Record.Checks[i].Date)
		}
		if i < 0 && c.Result == condition.NotChecked {
			s.say(SinceCheck, c.Item, "since.point-new", "item", plain(c.Item))
			continue
		}
		if on := when(s.words, c.Date); wasResult != c.Result || wasDate != on {
			s.say(SinceCheck, c.Item, checkNow[c.Result], "item", plain(c.Item), "date", on)
		}
	}
	for _, c := range s.was.Record.Checks {
		if !slices.ContainsFunc(s.now.Record.Checks, func(x page.RecordCheck) bool { return strings.EqualFold(x.Item, c.Item) }) {
			s.say(SinceCheck, c.Item, "since.point-gone", "item", plain(c.Item))
		}
	}
}

var checkNow = map[string]string{
	condition.Works: "since.works", condition.Fails: "since.fails",
	condition.Stale: "since.stale", condition.NotChecked: "since.unchecked",
}

// statements tells of what none of the facts above explains: a note, an effect,
// a reason that reads otherwise now.
func (s *since) statements() {
	was := map[string]bool{}
	for _, sec := range s.was.Sections {
		for _, st := range sec.Statements {
			was[st.Text] = true
		}
	}
	for _, sec := range s.now.Sections {
		// The first two sections and the hours repeat what others say in full.
		if sec.Number == condition.ReadFirst || sec.Number == condition.InShort || sec.Number == condition.Hours {
			continue
		}
		for _, st := range sec.Statements {
			if !was[st.Text] && !s.explained(st.Text) {
				s.say(SinceOther, "", "since.says", "section", sec.Title, "text", st.Text)
			}
		}
	}
}

func (s *since) explained(text string) bool {
	text = strings.ToLower(text)
	return slices.ContainsFunc(s.subjects, func(subject string) bool { return strings.Contains(text, subject) })
}
