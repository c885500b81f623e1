package handover

import (
	"slices"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/record"
)

// Kinds of a change since a report was sealed.
const (
	// SinceNew is what the logs say today and the sealed report did not.
	SinceNew = "new"
	// SinceLost is what the sealed report said and the log no longer says: taken
	// out, reworded, redated or retitled.
	SinceLost = "lost"
	// SinceStage is for sale, sold, the asking price: it says nothing of the
	// machine's condition.
	SinceStage = "stage"
)

// A Change is one difference between a sealed report and the logs of today.
type Change struct {
	Kind string `json:"kind"`
	Text string `json:"text"` // whole sentences
}

// since compares sealed facts with those of today: histories and standings,
// never the report's own sentences.
type since struct {
	words    *catalog.Catalog
	was, now *Facts
	all      []Change
}

// Since is what differs between a sealed report and the logs of today. Each
// difference is told once; case, spacing and punctuation are none.
func Since(sealed, today *Facts, words *catalog.Catalog) []Change {
	s := &since{words: words, was: sealed, now: today}
	s.entries()
	for _, x := range s.was.Record.Subjects {
		if i := slices.IndexFunc(s.now.Record.Subjects, func(y record.Subject) bool { return sameSubject(x, y) }); i >= 0 {
			s.subject(x, s.now.Record.Subjects[i])
		} else {
			s.say(SinceLost, "since.gone", "name", plain(x.Name))
		}
	}
	for _, y := range s.now.Record.Subjects {
		if !slices.ContainsFunc(s.was.Record.Subjects, func(x record.Subject) bool { return sameSubject(x, y) }) && len(y.History) > 0 {
			s.say(SinceNew, "since.new", "name", plain(y.Name), "now", s.standing(y.Standing))
		}
	}
	s.machine()
	return s.all
}

// Today are the facts that a report of the n-th machine would hold now.
func Today(site *page.Site, n int, today logbook.Date) *Facts {
	f := gathered(site, n, today)
	return &f
}

// Lost are the differences that the log no longer says, as sentences.
func Lost(all []Change) []string {
	var lost []string
	for _, c := range all {
		if c.Kind == SinceLost {
			lost = append(lost, c.Text)
		}
	}
	return lost
}

func (s *since) say(kind, key string, pairs ...any) {
	c := Change{kind, s.words.Say(key, pairs...)}
	if !slices.Contains(s.all, c) {
		s.all = append(s.all, c)
	}
}

// plain is a text of the log as it stands inside a sentence.
func plain(text string) string {
	return strings.TrimRight(strings.Join(strings.Fields(text), " "), ".;, ")
}

// sameSubject tells whether two are of the same thing: a key is the name of a
// defect and of a change, where it has one.
func sameSubject(a, b record.Subject) bool {
	if a.Kind != b.Kind {
		return false
	}
	if a.Key != "" && b.Key != "" {
		return a.Key == b.Key
	}
	return logbook.Same(a.Name, b.Name)
}

func (s *since) standing(of string) string {
	return s.words.Say("standing." + condition.Word(condition.Standing(of)))
}

// subject tells what the history of one has lost and gained, and where it stands
// otherwise.
func (s *since) subject(was, now record.Subject) {
	name := plain(now.Name)
	if !logbook.Same(was.Name, now.Name) {
		s.say(SinceLost, "since.reworded", "was", plain(was.Name), "now", name)
	}
	for _, h := range missing(was.History, now.History) {
		switch {
		case strings.Contains(h.Said, plain(was.Name)) && !logbook.Same(was.Name, now.Name):
			// told as reworded
		case h.Said == "":
			s.say(SinceLost, "since.lost-answer", "name", name, "when", s.when(h.Date))
		default:
			s.say(SinceLost, "since.lost", "name", name, "said", plain(h.Said), "when", s.when(h.Date))
		}
	}
	if s.was.first == nil {
		for _, h := range missing(now.History, was.History) {
			s.say(SinceNew, "since.said", "name", name, "said", plain(h.Said), "when", s.when(h.Date))
		}
	}
	if was.Safety != "" && was.Safety != now.Safety {
		s.say(SinceLost, "since.safety", "name", name, "was", was.Safety, "now", now.Safety)
	}
	if was.Standing != "" && was.Standing != now.Standing {
		s.say(SinceNew, "since.standing", "name", name, "was", s.standing(was.Standing), "now", s.standing(now.Standing))
	}
}

// missing are what the first history says and the second does not, on the same
// day. An answer of which only the day is known is there if any is of that day.
func missing(first, second []record.Said) []record.Said {
	var all []record.Said
	for _, h := range first {
		if !slices.ContainsFunc(second, func(o record.Said) bool {
			return h.Date == o.Date && (h.Said == "" || logbook.Same(h.Said, o.Said))
		}) {
			all = append(all, h)
		}
	}
	return all
}

func (s *since) when(d string) string { return s.words.When(logbook.Date(d).Day()) }

// entries tells of evenings that were taken out, retitled or redated, and of new
// ones.
func (s *since) entries() {
	for _, was := range s.was.Entries {
		if strings.HasSuffix(was.File, "/machine.md") {
			continue // in the first form the machine's own file stood among them
		}
		i := slices.IndexFunc(s.now.Entries, func(e Evidence) bool { return e.File == was.File })
		if i < 0 {
			i = slices.IndexFunc(s.now.Entries, func(e Evidence) bool { return e.Date == was.Date && logbook.Same(e.Title, was.Title) })
		}
		switch {
		case i < 0:
			s.say(SinceLost, "since.entry-gone", "title", plain(was.Title), "date", date(s.words, was.Date))
		case !logbook.Same(s.now.Entries[i].Title, was.Title):
			s.say(SinceLost, "since.entry-retitled", "was", plain(was.Title), "now", plain(s.now.Entries[i].Title), "date", date(s.words, was.Date))
		case s.now.Entries[i].Date != was.Date:
			s.say(SinceLost, "since.entry-redated", "title", plain(was.Title), "was", date(s.words, was.Date), "now", date(s.words, s.now.Entries[i].Date))
		}
	}
	for _, now := range s.now.Entries {
		known := func(e Evidence) bool {
			return e.File == now.File || e.Date == now.Date && logbook.Same(e.Title, now.Title)
		}
		if !slices.ContainsFunc(s.was.Entries, known) && (s.was.first == nil || logbook.Date(now.Date).Compare(logbook.Date(s.was.AsOf)) > 0) {
			s.say(SinceNew, "since.entry", "title", plain(now.Title), "date", date(s.words, now.Date))
		}
	}
}

func (s *since) machine() {
	was, now := s.was.Record.Machine, s.now.Record.Machine
	if was.Stage != now.Stage {
		s.say(SinceStage, "since.stage", "stage", now.Stage)
	}
	if text(was.Asking) != text(now.Asking) && was.Stage == now.Stage {
		s.say(SinceStage, "since.asking", "now", text(now.Asking), "was", text(was.Asking))
	}
	for _, f := range []struct{ label, was, now string }{
		{s.words.Say("page.fact-kind"), was.Kind, now.Kind}, {s.words.Say("page.fact-maker"), was.Maker, now.Maker},
		{s.words.Say("page.fact-model"), was.Model, now.Model}, {s.words.Say("page.fact-serial"), was.Serial, now.Serial},
		{s.words.Say("page.fact-year"), was.Year, now.Year}, {s.words.Say("page.fact-arrived"), date(s.words, was.Arrived), date(s.words, now.Arrived)},
	} {
		if f.was != f.now {
			s.say(SinceLost, "since.label", "label", f.label, "was", f.was, "now", f.now)
		}
	}
}

func text(t *string) string {
	if t == nil {
		return ""
	}
	return *t
}
