package main

import (
	"fmt"
	"strings"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// entry is one evening: what was found comes before what was done, and the story
// at the end tells of both.
func (t *teller) entry() entry.Entry {
	day := t.m.days[t.now]
	opens := 18 // at nine on Saturdays
	if firstDay.AddDate(0, 0, day).Weekday() == 6 {
		opens = 9
	}
	e := entry.Entry{
		Date: dateOf(day), Title: t.title(), Time: fmt.Sprintf("%02d:00", opens), By: t.m.person,
		Checks: t.checks(), Diagnosis: t.diagnosis(), Measured: t.measured(), Tests: t.tests(), Service: t.service(), Photos: t.shots(),
	}
	t.hours(&e, opens)
	t.ran(&e)
	for _, f := range t.troubles {
		t.tell(&e, f)
	}
	t.rareParts(&e)
	t.changes(&e)
	if t.once(5) {
		e.Parts = append(e.Parts, entry.Part{Part: one(t.chance, small), Qty: fixed(t.between(1, 30), 1), Each: money(t.between(80, 900)), Source: logbook.OnHand, Consumable: t.once(2)})
	}
	if t.now == 0 || t.once(8) {
		e.Costs = []entry.Cost{{For: one(t.chance, outlays), Amount: money(t.between(300, 4500))}}
	}
	if t.once(9) {
		e.WorkedOn = several(t.chance, t.between(1, 2), []string{"engine", "fuel", "controls"})
	}
	if t.once(5) {
		e.Private = one(t.chance, people) + " called about it. Told them not before it is done."
	}
	e.Body = t.story()
	return e
}

// hours are one number or a list of sessions, now and then with a second pair of
// hands.
func (t *teller) hours(e *entry.Entry, opens int) {
	worked := 5 * t.between(6, 48)
	e.Hours = hoursOf(worked)
	if t.once(3) {
		return
	}
	s := entry.Session{From: e.Time, To: hoursOf(60*opens + worked), Task: one(t.chance, tasks), By: t.m.person}
	if worked > 90 && t.once(3) {
		s.Less = hoursOf(5 * t.between(2, 6))
	}
	e.Sessions = []entry.Session{s}
	if t.once(4) {
		s.By, s.Task, s.Less = t.m.helper, one(t.chance, tasks), ""
		e.Sessions = append(e.Sessions, s)
	}
}

func hoursOf(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

// ran is how long the machine ran, and what its meter says after it: a meter never
// runs backwards but by being replaced.
func (t *teller) ran(e *entry.Entry) {
	minutes := 0
	if !t.once(3) {
		minutes = t.between(2, 75)
		e.Ran = hoursOf(minutes)
	}
	switch {
	case t.meterIs == odometer:
		t.meter += t.between(0, 40)
		e.Odometer = fmt.Sprintf("%d mi", t.meter)
	case t.meterIs == brokenMeter && t.once(4):
		e.Meter = brokenMeter
	case t.meterIs == hourMeter && t.once(60):
		e.MeterReplaced = entry.MeterReplaced{Old: fixed(t.meter, 1) + " h", New: "0 h"}
		t.meter = 0
	case t.meterIs == hourMeter:
		t.meter += (minutes + 5) / 6
		e.Meter = fixed(t.meter, 1) + " h"
	}
}

// checks are answers to some of the sheet's items, and now and then to one of
// the shop's own.
func (t *teller) checks() []entry.Check {
	if t.now > 0 && !t.once(3) {
		return nil
	}
	var all []entry.Check
	for _, item := range several(t.chance, t.between(3, 9), t.sheet.Items) {
		if item.Item == t.leftOut {
			continue
		}
		c := entry.Check{Item: item.Item, AsFound: t.now > 0 && t.once(5)}
		c.Result = one(t.chance, []string{logbook.Works, logbook.Works, logbook.Works, logbook.Works, logbook.Fails, logbook.NotChecked})
		// Only a change could take away what once worked or failed, so it is said at
		// first sight or never.
		if t.now == 0 && item.Safety == logbook.SafetyNo && t.once(8) {
			c.Result = logbook.DoesNotApply
		}
		if c.Result != logbook.Works || t.once(4) {
			c.Note = one(t.chance, notes[c.Result])
		}
		all = append(all, c)
	}
	if t.once(6) {
		all = append(all, entry.Check{Item: "warning labels can be read", Result: logbook.Works, System: "frame", Safety: "no"})
	}
	return all
}

func (t *teller) diagnosis() []entry.Step { return several(t.chance, t.IntN(4), trail) }

func (t *teller) measured() []entry.Reading {
	var all []entry.Reading
	for _, g := range several(t.chance, t.IntN(4), t.gauges) {
		r := entry.Reading{What: g.what, Where: g.where, State: g.state, System: g.system, AsFound: t.once(9)}
		r.Value = fixed(t.between(g.low, g.high), g.decimals) + " " + g.unit
		if t.once(9) {
			r.Value = "about " + r.Value
		}
		if !t.once(6) {
			r.Gauge = g.gauge
		}
		all = append(all, r)
	}
	return all
}

// tests are named bench tests.
func (t *teller) tests() []entry.Test {
	if !t.once(4) {
		return nil
	}
	test := func(name string, inputs ...string) entry.Test {
		made := entry.Test{Test: name}
		for i := 0; i < len(inputs); i += 2 {
			made.Inputs = append(made.Inputs, entry.Input{Name: inputs[i], Texts: inputs[i+1 : i+2]})
		}
		return made
	}
	if t.m.trade.electric {
		return []entry.Test{test("belt drive", "rpm", "1725 rpm", "driver", "4 in", "driven", fmt.Sprint(t.between(5, 9), " in"), "center", "18 in", "gauge", "5 rpm", "length_gauge", "0.01 in")}
	}
	thou := func(a, b int) string { return fixed(t.between(a, b), 3) + " in" }
	dry := t.between(55, 120)
	return several(t.chance, t.between(1, 2), []entry.Test{
		test("compression", "dry", fmt.Sprint(dry, " psi"), "wet", fmt.Sprint(dry+t.between(0, 35), " psi"), "kick_release", "no", "gauge", "2 psi"),
		test("valve clearance", "intake", thou(3, 8), "exhaust", thou(4, 11), "state", "cold", "gauge", "0.001 in"),
		test("plug gap", "gap", thou(20, 40), "gauge", "0.001 in"),
		test("crankshaft end play", "play", thou(2, 20), "gauge", "0.001 in"),
		test("leak-down", "regulated", "80 psi", "cylinder", fmt.Sprint(t.between(44, 77), " psi"), "heard", one(t.chance, []string{"crankcase", "exhaust"}), "gauge", "1 psi"),
		test("piston speed", "stroke", thou(2100, 2900), "rpm", fmt.Sprint(t.between(3000, 3800), " rpm"), "gauge", "20 rpm"),
	})
}

// tell is what an evening has to do with one trouble: it is found, done with, or
// proven to be done with.
func (t *teller) tell(e *entry.Entry, f trouble) {
	if f.found == t.now {
		d := entry.Defect{Key: f.key, Defect: f.defect, Effect: f.effect, System: f.system, Safety: one(t.chance, []string{f.hurts(), f.hurts(), f.hurts(), ""})}
		if len(t.photos) > 0 && t.once(2) {
			d.Photo = t.photos[0]
		}
		e.Defects = append(e.Defects, d)
	}
	byPart := f.part != "" && f.found%8 == 7 // it left with the old part
	lived := f.how == "" || f.around != "" && f.found%2 == 1
	switch {
	case f.done == t.now && byPart:
		e.Gone = append(e.Gone, entry.Gone{Key: f.key, With: f.part})
		e.Parts = append(e.Parts, t.part(f.flaw))
	case f.done == t.now && lived && f.around != "":
		e.WorkedAround = append(e.WorkedAround, entry.WorkAround{Key: f.key, How: f.around, Left: f.left})
	case f.done == t.now && !lived:
		r := entry.Repair{Key: f.key, How: f.how}
		if f.proven == f.done {
			r.Proof = f.proof
		}
		if t.once(12) {
			r.Affects = []string{"controls"}
		}
		e.Repaired = append(e.Repaired, r)
		if f.part != "" {
			e.Parts = append(e.Parts, t.part(f.flaw))
		}
	case f.proven == t.now && !byPart && !lived && f.proof != "":
		e.Repaired = append(e.Repaired, entry.Repair{Key: f.key, Proof: f.proof})
	}
}

func (f flaw) hurts() string {
	if f.safety {
		return "yes"
	}
	return "no"
}

// words are a flaw's key as words, for the story.
func (f flaw) words() string { return strings.ReplaceAll(f.key, "-", " ") }

// part is what a repair put in: new, used, or out of another machine.
func (t *teller) part(f flaw) entry.Part {
	cents := f.cents * t.between(80, 125) / 100
	p := entry.Part{Part: f.part, Number: fmt.Sprintf("%04d-%d", t.IntN(10_000), t.IntN(90)), Qty: fmt.Sprint(t.between(1, 2)), Each: money(cents), System: f.system}
	switch t.IntN(7) {
	case 0:
		p.Source, p.From = logbook.Salvaged, t.donor()
		if p.From == "" {
			p.Source = logbook.Used
		}
	case 1:
		p.Source = one(t.chance, []string{logbook.Used, logbook.Rebuilt, logbook.Made})
	case 2:
		p.Source, p.Deposit = logbook.Rebuilt, money(100*t.between(5, 25))
	default:
		p.Source, p.Shipping, p.Vendor, p.Warranty = logbook.New, money(t.between(250, 900)), one(t.chance, vendors), one(t.chance, []string{"", "90 days", "a year"})
		p.Tax = one(t.chance, []string{"6 %", "6 %", money(cents*6/100) + " USD"}) // in percent, or as the bill has it
	}
	return p
}

// donor is a machine that was parted out and came before this evening, if there is
// one among a few.
func (t *teller) donor() string {
	for range min(4, len(t.plan.donors)) {
		d := &t.plan.machines[one(t.chance, t.plan.donors)]
		if d != t.m && d.arrived() <= t.m.days[t.now] {
			return d.key
		}
	}
	return ""
}

// rareParts are those that stand in for a missing one, and those that did not
// stay in the machine.
func (t *teller) rareParts(e *entry.Entry) {
	if len(t.missing) > 0 && t.now > 0 && t.once(8) {
		e.Parts = append(e.Parts, entry.Part{Part: "another " + t.missing[0], Source: logbook.Used, System: "frame", Replaces: t.missing[0]})
		t.missing = t.missing[1:]
	}
	if t.once(15) {
		e.Parts = append(e.Parts, entry.Part{Part: "gear oil", Qty: fixed(t.between(2, 30), 1) + " qt", Each: money(t.between(400, 1200)), Source: logbook.OnHand, System: "drive", Consumable: true})
	}
	if t.m.stage == logbook.Customers && t.once(4) {
		e.Parts = append(e.Parts, entry.Part{Part: "drive belt", Source: logbook.New, SuppliedBy: logbook.ByOwner, System: "drive"})
	}
	if t.once(25) {
		fate := one(t.chance, []string{logbook.NotFitted, logbook.TakenOut, logbook.Returned, logbook.Tool})
		e.Parts = append(e.Parts, entry.Part{Part: "a puller", Source: logbook.New, System: "drive", Fate: fate})
	}
}

// changes are departures from how the maker built it, and such as are undone.
func (t *teller) changes(e *entry.Entry) {
	if len(t.changed) > 0 && t.once(12) {
		e.PutBack = []entry.PutBack{{Key: t.changed[0], How: "as the maker built it, with a part from the maker"}}
		t.changed = t.changed[1:]
	}
	if !t.once(14) {
		return
	}
	c := one(t.chance, changes)
	c.Safety = one(t.chance, []string{"", "no"})
	if t.once(2) {
		c.Key = fmt.Sprintf("%s-%d", c.System, t.now)
		t.changed = append(t.changed, c.Key)
	}
	e.Changed = []entry.Change{c}
}

// service now and then speaks to a point that is no matter of safety.
func (t *teller) service() []entry.Service {
	if !t.once(7) {
		return nil
	}
	s := one(t.chance, cares)
	for _, i := range t.sheet.Items {
		if i.System == s.System && i.Safety == logbook.SafetyNo && i.Item != t.leftOut {
			s.Answers = []string{i.Item}
		}
	}
	return []entry.Service{s}
}

func (t *teller) shots() []entry.Photo {
	var all []entry.Photo
	for i, name := range t.photos {
		cover := t.now == 0 && i == 0
		all = append(all, entry.Photo{File: name, Alt: one(t.chance, views) + " of " + one(t.chance, nouns), Caption: one(t.chance, captions), Cover: cover, Private: !cover && t.once(20)})
	}
	return all
}

// fixed is n hundredths, thousandths and so on as a decimal.
func fixed(n, decimals int) string {
	digits := fmt.Sprintf("%0*d", decimals+1, n)
	if decimals == 0 {
		return digits
	}
	cut := len(digits) - decimals
	return digits[:cut] + "." + digits[cut:]
}

// money is an amount of that many cents.
func money(cents int) string { return fixed(cents, 2) }
