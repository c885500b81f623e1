package main

import (
	"fmt"
	"slices"

	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A rarity is something that few evenings have: it is asked for only behind one
// question for all of them.
type rarity struct {
	says string // key of its line in the list
	ask  func(*logging)
}

// askRare asks for what else was done, by its number.
func (l *logging) askRare(o entry.Offer) {
	all := []rarity{{"command.rare-part", (*logging).askPart}, {"command.rare-service", (*logging).askService}, {"command.rare-changed", (*logging).askChanged}, {"command.rare-worked-on", (*logging).askWorkedOn}}
	if len(o.Changes) > 0 {
		all = append(all, rarity{"command.rare-put-back", func(l *logging) { l.askPutBack(o.Changes) }})
	}
	open := slices.DeleteFunc(slices.Clone(o.Open), func(d entry.Defect) bool {
		return slices.ContainsFunc(l.entry.Repaired, func(r entry.Repair) bool { return r.Key == d.Key })
	})
	if len(open) > 0 {
		all = append(all, rarity{"command.rare-gone", func(l *logging) { l.askGone(open) }})
	}
	all = append(all, rarity{"command.rare-test", (*logging).askTest}, rarity{"command.rare-diagnosis", (*logging).askDiagnosis})
	var lines []string
	for _, r := range all {
		lines = append(lines, words.Say(r.says))
	}
	l.ask.several(words.Say("command.ask-rare"), lines, func(n int) { all[n].ask(l) })
}

func (l *logging) askPart() {
	e, a := &l.entry, l.ask
	what := a.ask(words.Say("command.ask-part"))
	if what == "" {
		return
	}
	e.Parts = append(e.Parts, entry.Part{Part: what, Source: logbook.OnHand})
	p, at := &e.Parts[len(e.Parts)-1], fmt.Sprintf("parts[%d]", len(e.Parts)-1)
	if n, typed := a.pick(words.Say("command.ask-source"), logbook.Sources); n >= 0 {
		p.Source = logbook.Sources[n]
	} else if slices.Contains(logbook.Sources, typed) {
		p.Source = typed
	}
	if p.Source == logbook.Salvaged {
		a.checked(words.Say("command.ask-donor"), func(s string) { p.From = s }, l.check(at+".from"))
	}
	a.checked(words.Say("command.ask-each"), func(s string) { p.Each = s }, l.check(at+".each"))
	p.System = l.askSystem()
	p.Consumable = !l.shop.AlwaysSafety(p.System) && a.yes(words.Say("command.ask-consumable"))
	if gone := l.missing(); len(gone) > 0 && !slices.ContainsFunc(gone, func(g string) bool { return logbook.Same(g, what) }) {
		if n, _ := a.pick(words.Say("command.ask-replaces"), gone); n >= 0 {
			p.Replaces = gone[n]
		}
	}
}

// missing are the parts that were gone when the machine came, and that nothing
// stands in for yet.
func (l *logging) missing() []string {
	var all []string
	for _, s := range l.report.Subjects {
		if s.Kind == condition.KindMissing && s.Standing == condition.Missing {
			all = append(all, s.Name)
		}
	}
	return all
}

func (l *logging) askService() {
	what := l.ask.ask(words.Say("command.ask-service"))
	if what == "" {
		return
	}
	l.entry.Service = append(l.entry.Service, entry.Service{What: what})
	s := &l.entry.Service[len(l.entry.Service)-1]
	s.Amount = l.ask.ask(words.Say("command.ask-amount"))
	s.System = l.askSystem()
	if !l.hasInterval(what) {
		s.Every = l.ask.ask(words.Say("command.ask-every"))
	}
}

// hasInterval tells whether the log says already how often something is due.
func (l *logging) hasInterval(what string) bool {
	return slices.ContainsFunc(l.report.Count.Cares, func(c tally.Care) bool { return logbook.Same(c.Last().What, what) && c.Every() != "" })
}

func (l *logging) askChanged() {
	what := l.ask.ask(words.Say("command.ask-changed"))
	if what == "" {
		return
	}
	l.entry.Changed = append(l.entry.Changed, entry.Change{Key: l.freeChange(what), What: what})
	c := &l.entry.Changed[len(l.entry.Changed)-1]
	c.Why = l.ask.telling(words.Say("command.ask-why"), "command.say-why")
	c.System = l.askSystem()
	c.Safety = l.askSafety(c.System)
	c.Adds = l.ask.yes(words.Say("command.ask-adds"))
}

// freeChange is a key for a change that no other of the machine has.
func (l *logging) freeChange(what string) string {
	taken := func(key string) bool {
		return slices.ContainsFunc(l.entry.Changed, func(c entry.Change) bool { return c.Key == key }) ||
			slices.ContainsFunc(l.machine.Entries, func(e *logbook.Entry) bool {
				return slices.ContainsFunc(e.Changed, func(c logbook.Change) bool { return c.Key == key })
			})
	}
	return entry.FreeKey(what, "change", taken)
}

func (l *logging) askWorkedOn() {
	if system := l.askSystem(); system != "" {
		l.entry.WorkedOn = append(l.entry.WorkedOn, system)
	}
}

func (l *logging) askPutBack(changes []entry.Change) {
	var lines []string
	for _, c := range changes {
		lines = append(lines, c.Key+": "+c.What)
	}
	n, _ := l.ask.pick(words.Say("command.ask-put-back"), lines)
	if n < 0 {
		return
	}
	if how := l.ask.ask(words.Say("command.ask-how")); how != "" {
		l.entry.PutBack = append(l.entry.PutBack, entry.PutBack{Key: changes[n].Key, How: how})
	}
}

// askGone asks for a defect that left with its part, and for what took the
// part's place: something fitted or changed in the same system.
func (l *logging) askGone(open []entry.Defect) {
	n, _ := l.ask.pick(words.Say("command.ask-gone"), defectLines(open))
	if n < 0 {
		return
	}
	places := l.tookPlace(logbook.SystemsOf(l.machine.Entries, open[n].Key))
	if len(places) == 0 {
		fmt.Fprintln(l.ask.out, words.Say("command.nothing-fitted"))
		return
	}
	if with, _ := l.ask.pick(words.Say("command.ask-with"), places); with >= 0 {
		l.entry.Gone = append(l.entry.Gone, entry.Gone{Key: open[n].Key, With: places[with]})
	}
}

// tookPlace are the parts fitted and the changes in those systems, in the log
// and in this entry.
func (l *logging) tookPlace(systems []string) []string {
	var all []string
	add := func(name, system string) {
		if slices.Contains(systems, system) && !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	for _, r := range logbook.Replacements(l.machine.Entries) {
		add(r.Name, r.System)
	}
	for _, p := range l.entry.Parts {
		add(p.Part, p.System)
	}
	for _, c := range l.entry.Changed {
		add(c.What, c.System)
	}
	return all
}
