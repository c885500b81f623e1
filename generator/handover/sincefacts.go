package handover

import (
	"strings"

	"asleft/generator/logbook"
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

func text(t *string) string {
	if t == nil {
		return ""
	}
	return *t
}
