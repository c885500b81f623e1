package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// questions asks for the entry on a terminal, a short line at a time, and sets
// it down. Enter passes over anything but what was done.
func (l *logging) questions() error {
	e, a := &l.entry, l.ask
	if e.Title = a.needed(words.Say("command.ask-title")); e.Title == "" {
		return wrongUsage(errors.New(words.Say("command.nothing-written")))
	}
	if e.Time == "" {
		a.checked(words.Say("command.ask-time"), func(s string) { e.Time = s }, l.check("time"))
	}
	l.askWork()
	offer := l.offer()
	l.askRepaired(offer.Open)
	l.askDefects()
	l.askMeasured(offer.Readings)
	l.askChecks(offer.Items)
	l.askRare(offer)
	l.askPhotos()
	l.askAlts()
	if e.Body == "" {
		e.Body = a.text(words.Say("command.ask-body"))
	}
	return l.write()
}

// check is what the shop would say of a field of the entry as it is so far.
func (l *logging) check(field string) func() []logbook.Problem {
	return func() []logbook.Problem {
		name := "machines/" + l.key + "/" + l.entry.Stem() + "-try.md"
		_, wrong, err := entry.Try(l.folder, map[string][]byte{name: l.entry.Markdown()}, today(), words)
		if err != nil {
			return nil // the same error comes up again when it is written
		}
		return within(wrong, field)
	}
}

func (l *logging) askWork() {
	e, a := &l.entry, l.ask
	a.checked(words.Say("command.ask-hours"), func(s string) { e.Hours = s }, l.check("hours"))
	if e.By == "" && e.Hours != "" {
		last := l.lastBy()
		if last == "" {
			e.By = a.ask(words.Say("command.ask-by"))
		} else if e.By = a.ask(words.Say("command.ask-by-last", "by", last)); e.By == "" {
			e.By = last
		}
	}
	if l.hasOdometer() {
		a.checked(words.Say("command.ask-odometer"), func(s string) { e.Odometer = s }, l.check("odometer"))
	}
	if l.hasMeter() {
		a.checked(words.Say("command.ask-meter"), func(s string) { e.Meter = hours(s) }, l.check("meter"))
	}
	if l.hasEngine() {
		a.checked(words.Say("command.ask-ran"), func(s string) { e.Ran = s }, l.check("ran"))
	}
}

// askRepaired offers the open defects for closing.
func (l *logging) askRepaired(open []entry.Defect) {
	a := l.ask
	for len(open) > 0 && !a.over {
		n, other := a.pick(words.Say("command.ask-repaired"), defectLines(open))
		if n < 0 && other == "" {
			return
		}
		if n < 0 {
			fmt.Fprintln(a.out, words.Say("command.not-a-number", "n", len(open)))
			continue
		}
		how := a.ask(words.Say("command.ask-how"))
		if how == "" {
			continue
		}
		l.entry.Repaired = append(l.entry.Repaired, entry.Repair{Key: open[n].Key, How: how})
		l.entry.Repaired[len(l.entry.Repaired)-1].Proof = a.telling(words.Say("command.ask-proof"), "command.say-proof")
		open = slices.Delete(slices.Clone(open), n, n+1)
	}
}

// defectLines are defects to choose from, each behind its key.
func defectLines(defects []entry.Defect) []string {
	lines := make([]string, len(defects))
	for n, d := range defects {
		lines[n] = d.Key + ": " + d.Defect
	}
	return lines
}

// askDefects asks for what was found wrong. The key is made from its words.
func (l *logging) askDefects() {
	a := l.ask
	for !a.over {
		what := a.ask(words.Say("command.ask-defect"))
		if what == "" {
			return
		}
		// It is in the entry from here on, so that what follows is kept as it is said.
		l.entry.Defects = append(l.entry.Defects, entry.Defect{Key: l.freeDefect(what), Defect: what})
		d := &l.entry.Defects[len(l.entry.Defects)-1]
		d.Effect = a.ask(words.Say("command.ask-effect"))
		d.System = l.askSystem()
		d.Safety = l.askSafety(d.System)
		l.sayTests(*d)
	}
}

// askSystem asks for a part of the machine until there is one, or the input is
// over.
func (l *logging) askSystem() string {
	l.ask.list(l.shop.Systems)
	for !l.ask.over {
		n, typed := l.ask.number(words.Say("command.ask-system"), len(l.shop.Systems))
		switch {
		case n >= 0:
			return l.shop.Systems[n]
		case slices.Contains(l.shop.Systems, typed):
			return typed
		}
	}
	return ""
}

// askSafety asks whether what is wrong in a system can hurt someone; in some of
// them it always can.
func (l *logging) askSafety(system string) string {
	if l.shop.AlwaysSafety(system) {
		return string(logbook.SafetyYes)
	}
	return l.ask.safety(words.Say("command.ask-safety"))
}

// freeDefect is a key for a defect that no other of the machine has.
func (l *logging) freeDefect(what string) string {
	taken := func(key string) bool {
		return slices.ContainsFunc(l.entry.Defects, func(d entry.Defect) bool { return d.Key == key }) ||
			slices.ContainsFunc(l.machine.Entries, func(e *logbook.Entry) bool {
				return slices.ContainsFunc(e.Defects, func(d logbook.Defect) bool { return d.Key == key })
			})
	}
	return entry.FreeKey(what, "defect", taken)
}

// askMeasured asks for readings. What there are limits for can be named by its
// number.
func (l *logging) askMeasured(known []entry.Reading) {
	e, a := &l.entry, l.ask
	var lines []string
	for _, r := range known {
		line := r.What
		if r.Where != "" {
			line += ", " + r.Where
		}
		lines = append(lines, line)
	}
	for first := true; !a.over; first = false {
		if first {
			a.list(lines)
		}
		n, what := a.number(words.Say("command.ask-measured"), len(known))
		if n < 0 && what == "" {
			return
		}
		r := entry.Reading{What: what}
		if n >= 0 {
			r = known[n]
		} else {
			r.Where = a.ask(words.Say("command.ask-where"))
		}
		e.Measured = append(e.Measured, r)
		last := &e.Measured[len(e.Measured)-1]
		at := fmt.Sprintf("measured[%d]", len(e.Measured)-1)
		if a.checked(words.Say("command.ask-value"), func(s string) { last.Value = s }, l.check(at)) == "" {
			e.Measured = e.Measured[:len(e.Measured)-1]
			continue
		}
		a.checked(words.Say("command.ask-gauge"), func(s string) { last.Gauge = s }, l.check(at))
		if !l.knowsSystem(last.What) {
			last.System = l.askSystem()
		}
	}
}

// answers are what a point of the sheet can be answered with, by its letter.
var answers = map[string]string{"w": logbook.Works, "f": logbook.Fails, "d": logbook.DoesNotApply, "n": logbook.NotChecked}

// beforeWork is the letter after the answer of a point that was looked at before
// the work of the same evening.
const beforeWork = "b"

// askChecks goes through the points of the sheet that have no answer yet.
func (l *logging) askChecks(items []entry.Item) {
	a := l.ask
	if len(items) == 0 || !a.yes(words.Count("command.ask-checks", len(items))) {
		return
	}
	fmt.Fprintln(a.out, words.Say("command.check-letters"))
	for _, i := range items {
		if i.How != "" {
			fmt.Fprintln(a.out, printable("    "+i.How))
		}
		answer := ""
		asFound := false
		for known := false; !known; {
			answer, asFound = strings.CutSuffix(a.ask(i.Item), beforeWork)
			_, letter := answers[answer]
			known = letter || answer == "" && !asFound || answer == "q"
		}
		switch {
		case answer == "q" || a.over:
			return
		case answer != "":
			l.entry.Checks = append(l.entry.Checks, entry.Check{Item: i.Item, Result: answers[answer], AsFound: asFound})
			l.entry.Checks[len(l.entry.Checks)-1].Note = l.askNote(answers[answer])
		}
	}
}

// askNote asks for the note of an answer. One that does not apply needs it to
// say why.
func (l *logging) askNote(result string) string {
	if result != logbook.DoesNotApply {
		return l.ask.ask(words.Say("command.ask-note"))
	}
	for !l.ask.over {
		if note := l.ask.telling(words.Say("command.ask-why-not"), "command.say-why"); note != "" {
			return note
		}
	}
	return ""
}

// askPhotos asks for photos where none were named. A path may come in quotes,
// as a terminal puts them around a file that is dragged into it.
func (l *logging) askPhotos() {
	for len(l.entry.Photos) == 0 && !l.ask.over {
		place := strings.Trim(l.ask.ask(words.Say("command.ask-photos")), `'"`)
		if place == "" {
			return
		}
		if _, err := l.bringIn([]string{place}, nil); err != nil {
			fmt.Fprintln(l.ask.out, printable("    "+err.Error()))
		}
	}
}

// askAlts asks what each photo shows that nobody has said so of.
func (l *logging) askAlts() {
	for i := range l.entry.Photos {
		if p := &l.entry.Photos[i]; p.Alt == "" {
			p.Alt = l.ask.ask(words.Say("command.ask-alt", "file", p.File))
		}
	}
}
