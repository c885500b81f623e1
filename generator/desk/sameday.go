package desk

import (
	"path"
	"slices"
	"strings"
	"time"

	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// Two evenings of one day have an order only where both say when they were. So a new one
// has the time when it was begun, and where one of two has none its form says why it is
// asked for.

// begunAt is the day and the time at which a new evening was begun, by its id; empty where
// the id does not say.
func begunAt(id string) (day logbook.Date, clock string) {
	stamp, _, _ := strings.Cut(strings.TrimPrefix(path.Base(id), "new-"), "-")
	at, err := time.Parse("20060102T150405", stamp)
	if err != nil {
		return "", ""
	}
	return logbook.Date(at.Format(time.DateOnly)), at.Format("15:04")
}

// ownTime takes the time that an evening was begun with out again where it would say what
// nobody said: of another day, or beside hours that tell when the work began.
func ownTime(want *frontmatter.Node, t target) {
	day, clock := begunAt(t.id)
	date, _ := want.Find("date")
	given, _ := want.Find("time")
	if t.file != "" || clock == "" || given.Text != clock || date.Text == string(day) && !timedHours(*want) {
		return
	}
	want.Fields = slices.DeleteFunc(slices.Clone(want.Fields), func(f frontmatter.Field) bool { return f.Name == "time" })
}

// timedHours tells whether the first stretch of work says when it began.
func timedHours(fields frontmatter.Node) bool {
	hours, _ := fields.Find("hours")
	if len(hours.Items) == 0 {
		return false
	}
	from, _ := hours.Items[0].Find("from")
	return from.Text != ""
}

// sameDay says why the time of an evening is asked for: another one is of its day, and one
// of the two does not say when; or why it went, where ownTime took it. Empty where nothing
// has to be said.
func (d *Desk) sameDay(s writing) string {
	m, _ := machineOf(d.o.Reading(), s.machine)
	f, err := frontmatter.Read(s.text)
	if s.kind != logbook.FileEntry || m == nil || err != nil {
		return ""
	}
	date, _ := f.Fields().Find("date")
	clock, _ := f.Fields().Find("time")
	day, hour, _ := strings.Cut(strings.Replace(date.Text, "T", " ", 1), " ")
	timed := clock.Text != "" || hour != "" || timedHours(f.Fields())
	for _, e := range m.Entries {
		switch {
		case e.File == s.file || string(e.Date) != day:
		case !timed:
			return d.words.Say("desk.time-why")
		case !e.HasClock:
			return d.words.Say("desk.time-other", "title", e.Title)
		}
	}
	if begun, _ := begunAt(s.id); s.file == "" && begun != "" && string(begun) != day && !timed {
		return d.words.Say("desk.time-left")
	}
	return ""
}
