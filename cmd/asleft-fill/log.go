package main

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// A teller tells one machine's log, entry after entry.
type teller struct {
	chance
	plan     *plan
	m        *machinePlan
	sheet    *logbook.Sheet
	gauges   []gauged
	troubles []trouble
	meter    int // tenths of an hour; of an odometer, miles
	meterIs  string
	now      int // the number of the entry
	photos   []string
	// missing are the parts that nothing stands in for yet, changed the keys of
	// the changes that were not put back, leftOut a point that is not on the list.
	missing, changed []string
	leftOut          string
}

// A trouble is a flaw with the numbers of the entries in which it is found, done
// with and proven to be done with. A number that no entry has: that never happens.
type trouble struct {
	flaw
	found, done, proven int
}

// What a machine counts its work with.
const (
	hourMeter   = "hour meter"
	odometer    = "odometer"
	brokenMeter = "broken"
	noMeter     = ""
)

func (p *plan) log(i int, write func(file) error) error {
	t := p.teller(i)
	dir := path.Join("machines", t.m.key)
	if err := write(t.machine(path.Join(dir, "machine.md"))); err != nil {
		return err
	}
	for n, day := range t.m.days {
		t.now, t.photos = n, nil
		from, to := p.photos(t.m.first + n)
		for k := from; k < to; k++ {
			name := fmt.Sprintf("%s-%d.jpg", dateOf(day), k-from+1)
			t.photos = append(t.photos, name)
			data, err := p.roll.develop(k, dateOf(day))
			if err != nil {
				return err
			}
			if err := write(file{path: path.Join(dir, "photos", name), data: data, photo: true}); err != nil {
				return err
			}
		}
		e := t.entry()
		name := fmt.Sprintf("%s-%s.md", e.Date, entry.Slug(e.Title))
		if err := write(file{path: path.Join(dir, name), data: e.Markdown(), body: len(e.Body)}); err != nil {
			return err
		}
	}
	return nil
}

func (p *plan) teller(i int) *teller {
	m := &p.machines[i]
	t := &teller{chance: newChance(p.Seed, machineStream+uint64(i)), plan: p, m: m}
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
	atOnce := t.between(2, 5)
	for k, f := range several(t.chance, 100, m.trade.allFaults()) {
		found := 0
		if k >= atOnce {
			found = t.between(1, max(1, len(m.days)))
		}
		done := found + t.between(1, 6)
		t.troubles = append(t.troubles, trouble{f, found, done, done + t.IntN(4)})
	}
	t.meter, t.meterIs = t.between(40, 9000), one(t.chance, []string{noMeter, noMeter, noMeter, odometer})
	if m.trade.meter {
		t.meterIs = one(t.chance, []string{hourMeter, hourMeter, hourMeter, hourMeter, brokenMeter})
	}
	return t
}

// shop is shop.md.
func (p *plan) shop() file {
	body := fmt.Sprintf("Nobody works here: this shop was made by a program, with %d machines and %d entries, for trying things out. "+
		"The machines, the people and every number are invented.\n", p.Machines, p.Entries)
	const fields = `---
shop: Quillhaven Small Engines
place: Quillhaven
contact: by appointment, 555-0117
web: https://quillhaven.example/
currency: USD
labor_rate: 42.00
altitude: 820 ft
timezone: America/Chicago
show: {hours: yes, parts_cost: yes, serial: last 4}
terms: as is
systems: [finish, {name: hydrostatic, part_of: [drive]}]
---

`
	return file{path: "shop.md", data: []byte(fields + body), body: len(body)}
}

// machine is machine.md: what the program's own writer has fields for, and what
// a person adds by hand.
func (t *teller) machine(name string) file {
	nick, _, _ := strings.Cut(t.m.key, "-")
	maker := one(t.chance, makers)
	if t.once(2) {
		t.missing = several(t.chance, t.between(1, 2), t.m.trade.gone)
	}
	m := entry.Machine{
		Name: capital(nick) + " " + t.m.trade.short, Kind: t.m.trade.kind, Maker: maker,
		Model: fmt.Sprintf("%d%s", t.between(1, 99)*5, one(t.chance, []string{"", "", "-C", " S", " HD", "-2"})), Serial: fmt.Sprintf("%c%d-%06d", maker[0], t.between(10, 99), t.IntN(1_000_000)),
		Year: fmt.Sprintf("about %d", t.between(1958, 2009)), Stage: t.m.stage, Arrived: dateOf(t.m.arrived()), Story: one(t.chance, stories), Missing: t.missing,
		Body: t.paragraph(4) + "\n\n" + t.paragraph(3),
	}
	if t.m.stage == logbook.Customers {
		m.Owner = one(t.chance, people)
	} else {
		m.From, m.Paid = one(t.chance, people), money(50*t.IntN(300))
	}
	if t.m.stage == logbook.ForSale {
		m.Asking = money(500 * t.between(12, 180))
	}
	if t.once(3) {
		m.Private = "Bottom price in our heads: " + money(100*t.between(40, 600)) + "."
	}
	const end = "\n---\n" // of the fields
	data := bytes.Replace(m.Markdown(), []byte(end), []byte("\n"+t.byHand()+end[1:]), 1)
	return file{path: name, data: data, body: len(m.Body)}
}

// byHand are the fields of a machine that the program's own writer does not have.
func (t *teller) byHand() string {
	var b strings.Builder
	if t.m.stage == logbook.Sold {
		last := t.m.arrived()
		if n := len(t.m.days); n > 0 {
			last = t.m.days[n-1]
		}
		fmt.Fprintf(&b, "sold: {date: %s, price: %s, buyer: %s}\n", dateOf(last+t.between(1, 40)), money(500*t.between(10, 190)), one(t.chance, people))
	}
	if t.m.trade.electric {
		fmt.Fprintf(&b, "motor: {power: %d/4 hp, volts: 115/230 V, hertz: 60, phases: 1, rpm: 1725}\n", 1+2*t.IntN(2))
	} else {
		bore, strokes := t.between(52, 94), 4
		if t.m.trade.short == "saw" {
			strokes = 2
		}
		fmt.Fprintf(&b, "engine: {strokes: %d, cylinders: 1, bore: %d mm, stroke: %d mm, fuel: gasoline}\n", strokes, bore, bore-t.between(2, 16))
	}
	if t.once(6) {
		fmt.Fprintf(&b, "attachments: [{name: %s, note: it came with it}]\n", one(t.chance, []string{"a cart", "a cover", "spare blades"}))
	}
	var limits strings.Builder
	for _, g := range t.gauges {
		if g.limit != "" && !t.once(3) {
			fmt.Fprintf(&limits, "  - {what: %s, where: %q, limit: %q, source: %q, system: %s%s}\n", g.what, g.where, g.limit,
				one(t.chance, []string{"maker's sheet", "common practice, no source"}), g.system, one(t.chance, []string{"", "", ", safety: no"}))
		}
	}
	if limits.Len() > 0 {
		fmt.Fprintf(&b, "limits:\n%s", limits.String())
	}
	if !t.once(3) {
		fmt.Fprintf(&b, "meter_true: %s\n", one(t.chance, []string{logbook.MeterIsTrue, logbook.MeterIsWrong, logbook.MeterNotKnown}))
	}
	if i := slices.IndexFunc(t.sheet.Items, func(i logbook.Item) bool { return i.OnlyIf != "" }); i >= 0 && t.once(4) {
		fmt.Fprintf(&b, "has: {%q: %s}\n", t.sheet.Items[i].OnlyIf, one(t.chance, []string{"yes", "no"}))
	}
	if i := slices.IndexFunc(t.sheet.Items, func(i logbook.Item) bool { return i.Safety == logbook.SafetyNo }); i >= 0 && t.once(10) {
		t.leftOut = t.sheet.Items[i].Item
		fmt.Fprintf(&b, "leave_out:\n  - {item: %q, why: this one was made without it}\n", t.leftOut)
	}
	return b.String()
}
