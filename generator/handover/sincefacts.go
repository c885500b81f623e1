package handover

import (
	"slices"
	"strings"

	"asleft/generator/page"
	"asleft/generator/quantity"
)

func (s *since) readings() {
	for _, r := range s.now.Record.Readings {
		i := slices.IndexFunc(s.was.Record.Readings, func(x page.RecordReading) bool { return sameReading(x, r) })
		name := s.readingName(r)
		switch {
		case i < 0, s.was.Record.Readings[i].AsLeft != r.AsLeft:
			s.say(SinceReading, r.What, measuredNow[quantity.Verdict(r.Verdict)], "name", name, "value", r.AsLeft.Value, "date", date(s.words, r.AsLeft.Date))
		case !s.was.Record.Readings[i].Stale && r.Stale:
			s.say(SinceReading, r.What, "since.reading-stale", "name", name)
		case !same(s.was.Record.Readings[i].Limit, r.Limit):
			s.say(SinceReading, r.What, "since.limit", "name", name, "limit", text(r.Limit))
		}
	}
	for _, r := range s.was.Record.Readings {
		if !slices.ContainsFunc(s.now.Record.Readings, func(x page.RecordReading) bool { return sameReading(x, r) }) {
			s.say(SinceReading, r.What, "since.reading-gone", "name", s.readingName(r))
		}
	}
}

var measuredNow = map[quantity.Verdict]string{
	quantity.Inside: "since.measured-inside", quantity.Outside: "since.measured-outside",
	quantity.TooClose: "since.measured-close", quantity.NotLimited: "since.measured", "": "since.measured",
}

func sameReading(a, b page.RecordReading) bool {
	return strings.EqualFold(a.What, b.What) && strings.EqualFold(a.Where, b.Where) && strings.EqualFold(a.State, b.State)
}

func (s *since) readingName(r page.RecordReading) string {
	key := "reading.name"
	switch {
	case r.Where != "" && r.State != "":
		key = "reading.name-where-state"
	case r.Where != "":
		key = "reading.name-where"
	case r.State != "":
		key = "reading.name-state"
	}
	return s.words.Say(key, "what", plain(r.What), "where", plain(r.Where), "state", plain(r.State))
}

func text(t *string) string {
	if t == nil {
		return ""
	}
	return *t
}

// tests tells of bench tests; one is told from another by name, place and day.
func (s *since) tests() {
	name := func(t page.RecordTest) string { return t.Test + "\x00" + t.Where + "\x00" + t.Date }
	for _, t := range added(s.was.Record.Tests, s.now.Record.Tests, name) {
		s.say(SinceTest, t.Test, "since.test", "test", t.Test, "date", date(s.words, t.Date), "says", strings.Join(t.Says, " "))
	}
	for _, t := range added(s.now.Record.Tests, s.was.Record.Tests, name) {
		s.say(SinceTest, t.Test, "since.test-gone", "test", t.Test, "date", date(s.words, t.Date))
	}
}

func (s *since) changes() {
	name := func(c page.RecordChange) string { return c.What + "\x00" + c.Date }
	for _, c := range added(s.was.Record.Changes, s.now.Record.Changes, name) {
		s.say(SinceChange, c.What, "since.changed", "what", plain(c.What), "date", date(s.words, c.Date))
	}
	for _, c := range added(s.now.Record.Changes, s.was.Record.Changes, name) {
		s.say(SinceChange, c.What, "since.change-gone", "what", plain(c.What))
	}
}

func (s *since) missing() {
	for _, m := range s.now.Record.Missing {
		i := slices.IndexFunc(s.was.Record.Missing, func(x page.RecordMissing) bool { return x.Part == m.Part })
		switch {
		case i < 0:
			s.say(SincePart, m.Part, "since.missing", "part", plain(m.Part))
		case s.was.Record.Missing[i].Fitted == nil && m.Fitted != nil:
			s.say(SincePart, m.Part, "since.fitted", "part", plain(m.Part), "date", date(s.words, *m.Fitted))
		}
	}
	for _, m := range s.was.Record.Missing {
		if !slices.ContainsFunc(s.now.Record.Missing, func(x page.RecordMissing) bool { return x.Part == m.Part }) {
			s.say(SincePart, m.Part, "since.missing-gone", "part", plain(m.Part))
		}
	}
}

func (s *since) parts() {
	name := func(p page.RecordPart) string {
		return strings.Join([]string{p.Part, p.Qty, p.Source, p.From, p.Date}, "\x00")
	}
	for _, p := range added(s.was.Record.Parts, s.now.Record.Parts, name) {
		s.say(SincePart, p.Part, "since.part", "part", plain(p.Part), "date", date(s.words, p.Date))
	}
	for _, p := range added(s.now.Record.Parts, s.was.Record.Parts, name) {
		s.say(SincePart, p.Part, "since.part-gone", "part", plain(p.Part), "date", date(s.words, p.Date))
	}
}

// added are those of the second list that the first has not, or not as often.
func added[T any](first, second []T, name func(T) string) []T {
	count := map[string]int{}
	for _, x := range first {
		count[name(x)]++
	}
	var all []T
	for _, x := range second {
		if count[name(x)]--; count[name(x)] < 0 {
			all = append(all, x)
		}
	}
	return all
}

func (s *since) hours() {
	was, now := s.was.Record.Hours, s.now.Record.Hours
	if was.Meter.State != now.Meter.State || !same(was.Meter.Total, now.Meter.Total) {
		if now.Meter.Total == nil {
			s.say(SinceHours, "", "since.meter-unknown")
		} else {
			s.say(SinceHours, "", "since.meter", "total", *now.Meter.Total)
		}
	}
	if minutes(was.WorkMinutes) != minutes(now.WorkMinutes) && was.WorkMinutes != nil && now.WorkMinutes != nil {
		s.say(SinceHours, "", "since.work", "work", s.words.Length(*now.WorkMinutes), "was", s.words.Length(*was.WorkMinutes))
	}
	if minutes(was.RunSinceWorkMinutes) != minutes(now.RunSinceWorkMinutes) && now.RunSinceWorkMinutes != nil {
		s.say(SinceHours, "", "since.run", "run", s.words.Length(*now.RunSinceWorkMinutes))
	}
}

func minutes(m *int) int {
	if m == nil {
		return -1
	}
	return *m
}

func (s *since) machine() {
	was, now := s.was.Record.Machine, s.now.Record.Machine
	if was.Stage != now.Stage {
		s.say(SinceStage, "", "since.stage", "stage", now.Stage)
	}
	for _, f := range []struct{ label, was, now string }{
		{s.words.Say("page.fact-kind"), was.Kind, now.Kind}, {s.words.Say("page.fact-maker"), was.Maker, now.Maker},
		{s.words.Say("page.fact-model"), was.Model, now.Model}, {s.words.Say("page.fact-serial"), was.Serial, now.Serial},
		{s.words.Say("page.fact-year"), was.Year, now.Year}, {s.words.Say("page.fact-arrived"), date(s.words, was.Arrived), date(s.words, now.Arrived)},
	} {
		if f.was != f.now {
			s.say(SinceOther, "", "since.label", "label", f.label, "was", f.was, "now", f.now)
		}
	}
}
