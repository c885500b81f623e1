package main

import (
	"fmt"
	"path"
	"strings"

	"asleft/generator/logbook"
	"asleft/generator/portable"
)

// A teller tells one machine's log, entry after entry.
type teller struct {
	chance
	plan   *plan
	self   int
	m      *machinePlan
	sheet  *logbook.Sheet
	gauges []gauged
	flaws  []flaw // not found yet
	open   []flaw
	mended []flaw // repaired, and perhaps proven
	meter  hourMeter
	now    *entryPlan
	number int // of the entry
	fixed  []flaw
	// missing are the parts that nothing stands in for yet, changed the keys of
	// the changes that were not put back, leftOut a point that is not on the list.
	missing, changed []string
	leftOut          string
	// answered are the points that worked or failed: only a change can take such a
	// thing away.
	answered map[string]bool
}

func (p *plan) log(i int, write func(file) error) error {
	t := p.teller(i)
	dir := path.Join("machines", t.m.key)
	if err := write(t.machine(path.Join(dir, "machine.md"))); err != nil {
		return err
	}
	for n := range t.m.entries {
		t.now, t.number = &t.m.entries[n], n
		if err := write(t.entry(dir)); err != nil {
			return err
		}
	}
	return nil
}

func (p *plan) teller(i int) *teller {
	m := &p.machines[i]
	t := &teller{chance: newChance(p.Seed, machineStream+uint64(i)), plan: p, self: i, m: m, answered: map[string]bool{}}
	for _, s := range p.sheets {
		if s.Kind == m.trade.kind {
			t.sheet = s
		}
	}
	for _, g := range gauges {
		if g.on == "" || (g.on == withPlug) == m.trade.electric {
			t.gauges = append(t.gauges, g)
		}
	}
	t.flaws = several(t.chance, 100, m.trade.allFaults())
	t.meter = newHourMeter(t.chance, m.trade.meter)
	return t
}

// shop is shop.md.
func (p *plan) shop() file {
	w := newPaper()
	w.text("shop", "Quillhaven Small Engines")
	w.text("place", "Quillhaven")
	w.text("contact", "by appointment, 555-0117")
	w.field("web", "https://quillhaven.example/")
	w.field("currency", "USD")
	w.field("labor_rate", "42.00")
	w.field("altitude", "820 ft")
	w.field("timezone", "America/Chicago")
	w.field("show", "{hours: yes, parts_cost: yes, serial: last 4}")
	w.field("terms", "as is")
	w.field("systems", "[finish, {name: hydrostatic, part_of: [drive]}]")
	return w.file("shop.md", "Nobody works here: this shop was made by a program, with "+
		fmt.Sprintf("%d machines and %d entries, for trying things out. ", p.Machines, p.Entries)+
		"The machines, the people and every number are invented.\n")
}

// machine is machine.md.
func (t *teller) machine(name string) file {
	w := newPaper()
	m := t.m
	maker, model, _ := strings.Cut(m.model, " ")
	nick, _, _ := strings.Cut(m.key, "-")
	w.text("name", strings.ToUpper(nick[:1])+nick[1:]+" "+m.trade.short)
	w.text("kind", m.trade.kind)
	w.text("maker", maker)
	w.field("model", fmt.Sprintf("%q", model))
	w.field("serial", fmt.Sprintf("%q", fmt.Sprintf("%c%d-%06d", maker[0], t.between(10, 99), t.IntN(1_000_000))))
	w.field("year", fmt.Sprintf("about %d", t.between(1958, 2009)))
	w.field("stage", m.stage)
	w.field("arrived", dateOf(m.arrived))
	t.trading(w)
	w.text("story", one(t.chance, stories))
	if !m.trade.electric {
		bore := t.between(52, 94)
		w.field("engine", fmt.Sprintf("{strokes: %s, cylinders: 1, bore: %d mm, stroke: %d mm, fuel: gasoline}", t.strokes(), bore, bore-t.between(2, 16)))
	}
	if t.m.trade.electric {
		w.field("motor", fmt.Sprintf("{power: %d/4 hp, volts: 115/230 V, hertz: 60, phases: 1, rpm: 1725}", 1+2*t.IntN(2)))
	}
	if t.once(6) {
		w.list("attachments", []string{line(pair{"name", one(t.chance, []string{"a cart", "a cover", "spare blades"})}, pair{"note", one(t.chance, []string{"", "it came with it"})})})
	}
	if t.once(2) {
		t.missing = several(t.chance, t.between(1, 2), m.trade.gone)
		w.list("missing", t.gone())
	}
	w.list("limits", t.limits())
	t.said(w)
	if t.once(3) {
		w.text("private", "Bottom price in our heads: "+money(100*t.between(40, 600))+".")
	}
	return w.file(name, t.paragraph(4)+"\n\n"+t.paragraph(3)+"\n")
}

// gone are the parts that were missing: some by name alone, of some it is said
// whether that can hurt someone.
func (t *teller) gone() []string {
	var lines []string
	for _, part := range t.missing {
		if t.once(2) {
			lines = append(lines, quoted(part))
			continue
		}
		lines = append(lines, line(pair{"part", part}, pair{"safety", yesNo(t.once(3))}))
	}
	return lines
}

// said is what a shop says of a machine as a whole.
func (t *teller) said(w *paper) {
	if !t.once(3) {
		w.field("meter_true", one(t.chance, []string{logbook.MeterIsTrue, logbook.MeterIsWrong, logbook.MeterNotKnown}))
	}
	for _, i := range t.sheet.Items {
		if i.OnlyIf != "" && t.once(4) {
			w.field("has", fmt.Sprintf("{%q: %s}", i.OnlyIf, yesNo(t.once(2))))
			break
		}
	}
	for _, i := range t.sheet.Items {
		if i.Safety == logbook.SafetyNo && t.once(30) {
			t.leftOut = i.Item
			w.list("leave_out", []string{line(pair{"item", i.Item}, pair{"why", "this one was made without it"})})
			break
		}
	}
}

func (t *teller) strokes() string {
	if t.m.trade.short == "saw" {
		return "2"
	}
	return "4"
}

// trading is how the machine came and how it went.
func (t *teller) trading(w *paper) {
	if t.m.stage == logbook.Customers {
		w.text("owner", one(t.chance, people))
		return
	}
	w.field("bought", line(pair{"from", one(t.chance, people)}, pair{"paid", money(50 * t.IntN(300))}))
	switch t.m.stage {
	case logbook.ForSale:
		w.field("asking", money(500*t.between(12, 180)))
	case logbook.Sold:
		w.field("sold", line(pair{"date", dateOf(t.lastDay() + t.between(1, 40))}, pair{"price", money(500 * t.between(10, 190))}, pair{"buyer", one(t.chance, people)}))
	}
}

func (t *teller) lastDay() int {
	if n := len(t.m.entries); n > 0 {
		return t.m.entries[n-1].day
	}
	return t.m.arrived
}

// limits are some of the gauges' own; a reading without one is in order too.
func (t *teller) limits() []string {
	var lines []string
	for _, g := range t.gauges {
		if g.limit != "" && !t.once(3) {
			lines = append(lines, line(pair{"what", g.what}, pair{"where", g.where}, pair{"limit", g.limit}, pair{"source", one(t.chance, []string{"maker's sheet", "common practice, no source"})}, pair{"system", g.system}, pair{"safety", one(t.chance, []string{"", "", "no"})}))
		}
	}
	return lines
}

// entry is one evening's file. What was found comes before what was done, and
// the story at the end tells of both.
func (t *teller) entry(dir string) file {
	w := newPaper()
	e := t.now
	title := t.title()
	w.field("date", dateOf(e.day))
	w.text("title", title)
	w.field("time", fmt.Sprintf("%q", clock(e.sessions[0].from)))
	w.field("by", fmt.Sprintf("%q", e.sessions[0].person))
	t.hours(w)
	t.meter.entry(t.chance, w)
	w.list("checks", t.checks())
	w.list("diagnosis", t.diagnosis())
	w.list("measured", t.measured())
	w.list("tests", t.tests())
	t.findings(w)
	t.work(w)
	w.list("photos", t.photos())
	if t.once(5) {
		w.text("private", one(t.chance, people)+" called about it. Told them not before it is done.")
	}
	name := fmt.Sprintf("%s-%s.md", dateOf(e.day), portable.Slug(title))
	return w.file(path.Join(dir, name), t.story())
}

// hours are one number or a list of sessions.
func (t *teller) hours(w *paper) {
	e := t.now
	if e.bare {
		worked := e.sessions[0].worked()
		w.field("hours", fmt.Sprintf("\"%d:%02d\"", worked/60, worked%60))
		return
	}
	var lines []string
	for _, s := range e.sessions {
		l := fmt.Sprintf("{from: %q, to: %q, ", clock(s.from), clock(s.to))
		if s.less > 0 {
			l += fmt.Sprintf("less: \"0:%02d\", ", s.less)
		}
		lines = append(lines, l+fmt.Sprintf("task: %s, by: %q}", s.task, s.person))
	}
	w.list("hours", lines)
}

func (t *teller) photos() []string {
	var lines []string
	for i, name := range t.now.photos {
		alt := one(t.chance, views) + " of " + one(t.chance, nouns)
		cover := t.number == 0 && i == 0
		lines = append(lines, line(pair{"file", name}, pair{"alt", alt}, pair{"caption", one(t.chance, captions)}, pair{"cover", yesNo(cover)}, pair{"private", yesNo(!cover && t.once(20))}))
	}
	return lines
}
