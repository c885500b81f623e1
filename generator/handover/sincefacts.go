package handover

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"asleft/generator/logbook"
	"asleft/generator/record"
)

// lists compares tests, parts and service.
func (s *since) lists() {
	says := map[string]string{}
	for _, t := range s.now.Record.Tests {
		says[logbook.Folded(t.Test+" "+t.Where)+t.Date] = strings.Join(t.Says, " ")
	}
	s.list(SinceTest, s.a.tests, s.b.tests, "since.test", "since.test-gone", says)
	s.list(SincePart, s.a.parts, s.b.parts, "since.part", "since.part-gone", nil)
	s.list(SinceService, s.a.service, s.b.service, "since.service", "since.service-gone", nil)
}

// list compares two lists line by line; a line that stands twice counts twice.
func (s *since) list(kind string, was, now []listed, newKey, goneKey string, says map[string]string) {
	sealed := map[string]int{}
	for _, l := range was {
		sealed[l.words()+s.day(l.entry, l.date)]++
	}
	today := map[string]int{}
	for _, l := range now {
		id := l.words() + l.date
		if today[id]++; today[id] > sealed[id] && !(kind == SinceService && s.a.first && !after(l.date, s.was.AsOf)) {
			s.say(kind, newKey, "name", plain(l.name), "when", s.when(l.date), "says", says[id])
		}
	}
	for _, l := range was {
		id := l.words() + s.day(l.entry, l.date)
		if today[id]--; today[id] < 0 {
			s.gone(kind, id, goneKey, "name", plain(l.name), "when", s.when(l.date))
		}
	}
	s.lines(kind, was, now)
}

// lines compares what else the lines say that are in both lists.
func (s *since) lines(kind string, was, now []listed) {
	of := func(w, n listed) bool { return w.words() == n.words() && s.day(w.entry, w.date) == n.date }
	says := func(w, n listed) bool { return slices.EqualFunc(w.more, n.more, sameField) }
	changed, _, _ := paired(was, now, of, says) // what is gone and what is new is told
	for _, c := range changed {
		for k := 0; k < len(c[0].more); k++ {
			// An older report may have had no such field, which is not to say nothing.
			if is, said := c[0].more[k], c[1].more[k]; !sameField(is, said) && (is.said != "" || s.was.Beside != nil) {
				s.other(kind, s.words.Say("since.of-line", "field", s.words.Say(is.key), "name", plain(c[0].name), "when", s.when(c[0].date)), is.said, said.said)
			}
		}
	}
}

// sameField tells whether two fields of a line say the same: an amount to the sign,
// and words as words.
func sameField(one, other lineField) bool {
	return sameValue(one.said, other.said) || !strings.ContainsFunc(one.said, unicode.IsDigit) && logbook.Same(one.said, other.said)
}

func (l listed) words() string { return logbook.Folded(l.name + " " + l.also) }

func (s *since) hours() {
	was, now := s.was.Record.Hours, s.now.Record.Hours
	if was.WorkMinutes != nil && now.WorkMinutes == nil {
		// The shop may have hidden it or lost it: how much it was is not said again.
		s.gone(SinceHours, "since.work-unsaid", "since.work-unsaid")
	} else {
		s.length(was.WorkMinutes, now.WorkMinutes, "since.work", "since.work-less")
	}
	if s.a.first {
		return // its running was counted by other rules
	}
	s.length(was.RunMinutes, now.RunMinutes, "since.run", "since.run-less")
}

// length compares a length of time. Less than there was is gone.
func (s *since) length(was, now *int, more, less string) {
	switch {
	case was == nil && now == nil || was != nil && now != nil && *was == *now:
	case now == nil:
		s.gone(SinceHours, less, less, "was", s.words.Length(*was), "now", s.words.Length(0))
	case was == nil:
		s.say(SinceHours, more, "was", s.words.Length(0), "now", s.words.Length(*now))
	case *now < *was:
		s.gone(SinceHours, less, less, "was", s.words.Length(*was), "now", s.words.Length(*now))
	default:
		s.say(SinceHours, more, "was", s.words.Length(*was), "now", s.words.Length(*now))
	}
}

func (s *since) machine() {
	s.built()
	was, now := s.was.Record.Machine, s.now.Record.Machine
	if was.Stage != now.Stage {
		s.say(SinceStage, "since.stage", "stage", now.Stage)
	}
	if price := text(now.Asking); price != text(was.Asking) && price != "" {
		s.say(SinceStage, "since.asking", "price", s.now.Price)
	}
	for _, f := range []struct{ label, was, now string }{
		{s.words.Say("page.fact-kind"), was.Kind, now.Kind}, {s.words.Say("page.fact-maker"), was.Maker, now.Maker},
		{s.words.Say("page.fact-model"), was.Model, now.Model}, {s.words.Say("page.fact-serial"), was.Serial, now.Serial},
		{s.words.Say("page.fact-year"), was.Year, now.Year}, {s.words.Say("page.fact-arrived"), s.date(was.Arrived), s.date(now.Arrived)},
		{s.words.Say("handover.name"), was.Name, now.Name},
	} {
		switch {
		case logbook.Same(f.was, f.now):
		case f.was == "":
			s.say(SinceMachine, "since.label-new", "label", f.label, "now", plain(f.now))
		case f.now == "":
			s.gone(SinceMachine, f.label+f.was, "since.label-gone", "label", f.label, "was", plain(f.was))
		default:
			s.gone(SinceMachine, f.label+f.was, "since.label", "label", f.label, "was", plain(f.was), "now", plain(f.now))
		}
	}
}

// A figure is one of those that a machine is told by, under its name in words.
type figure struct{ label, said string }

// built compares what the machine is made of: its engines, its plates, and what goes
// on it. Nil is what a report holds that does not tell of them.
func (s *since) built() {
	was, now := s.was.Record.Machine, s.now.Record.Machine
	s.figures(s.engines(was.Engines), s.engines(now.Engines), was.Engines != nil)
	s.figures(s.plates(was.Plates), s.plates(now.Plates), was.Plates != nil)
	s.figures(s.attachments(was.Attachments), s.attachments(now.Attachments), was.Attachments != nil)
}

// figures compares figures, each with the one that has its name.
func (s *since) figures(was, now []figure, held bool) {
	changed, lost, added := paired(was, now,
		func(w, n figure) bool { return logbook.Same(w.label, n.label) },
		func(w, n figure) bool { return sameField(lineField{said: w.said}, lineField{said: n.said}) })
	for _, c := range changed {
		s.other(SinceMachine, c[0].label, c[0].said, c[1].said)
	}
	for _, w := range lost {
		s.other(SinceMachine, w.label, w.said, "")
	}
	for _, n := range added {
		if held {
			s.other(SinceMachine, n.label, "", n.said)
		}
	}
}

// figureOf is the name of a figure: of what it is, which one of several, and its own.
func (s *since) figureOf(of, name, figure string) string {
	if name == "" {
		return s.words.Say("since.figure", "of", of, "figure", figure)
	}
	return s.words.Say("since.figure-named", "of", of, "name", plain(name), "figure", figure)
}

func (s *since) engines(all []record.Engine) []figure {
	of := s.words.Say("page.fact-engine")
	var figures []figure
	for _, e := range all {
		for _, f := range []record.Figure{
			{Name: "strokes", Value: counted(e.Strokes)}, {Name: "cylinders", Value: counted(e.Cylinders)},
			{Name: "bore", Value: e.Bore}, {Name: "stroke", Value: e.Stroke}, {Name: "fuel", Value: e.Fuel},
		} {
			if f.Value != "" {
				figures = append(figures, figure{s.figureOf(of, e.Name, f.Name), f.Value})
			}
		}
	}
	return figures
}

// counted is a count as it is written; what nobody counted is 0.
func counted(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func (s *since) plates(all []record.Plate) []figure {
	var figures []figure
	for _, p := range all {
		of := s.words.Say("page.fact-" + p.Of)
		for _, f := range append([]record.Figure{{Name: "kind", Value: p.Kind}}, p.Figures...) {
			if f.Value != "" {
				figures = append(figures, figure{s.figureOf(of, p.Name, f.Name), f.Value})
			}
		}
	}
	return figures
}

func (s *since) attachments(all []record.Attachment) []figure {
	var figures []figure
	for _, a := range all {
		said := strings.Join(strings.Fields(a.Name+" "+a.Maker+" "+a.Model), " ")
		if a.Note != "" {
			said = s.words.Say("made.attachment-note", "name", said, "note", plain(a.Note))
		}
		figures = append(figures, figure{s.words.Say("since.attachment", "name", plain(a.Name)), said})
	}
	return figures
}

func text(t *string) string {
	if t == nil {
		return ""
	}
	return *t
}
