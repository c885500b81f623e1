package main

import (
	"fmt"
	"slices"

	"asleft/generator/logbook"
)

// work is what the evening did: repairs of what is open with the parts for
// them, proofs of earlier ones, work-arounds, changes and costs.
func (t *teller) work(w *paper) {
	var parts, costs, repaired, around, gone []string
	t.fixed = t.fixed[:0]
	if t.number > 0 && len(t.open) > 0 && !t.once(3) {
		f := t.open[0]
		t.open = t.open[1:]
		switch {
		case f.around != "" && (f.how == "" || t.once(4)):
			around = append(around, line(pair{"key", f.key}, pair{"how", f.around}, pair{"left", f.left}))
		case f.part != "" && t.once(8):
			gone = append(gone, line(pair{"key", f.key}, pair{"with", f.part}))
			parts = append(parts, t.part(f)...)
		case f.how != "":
			repaired = append(repaired, t.repair(f))
			parts = append(parts, t.part(f)...)
		default:
			t.open = append(t.open, f)
		}
	}
	if len(t.mended) > 1 && t.once(4) {
		if f := t.mended[0]; f.proof != "" {
			repaired = append(repaired, line(pair{"key", f.key}, pair{"proof", f.proof}))
			t.mended = slices.Concat(t.mended[1:], t.mended[:1])
		}
	}
	if t.once(5) {
		parts = append(parts, line(pair{"part", one(t.chance, small)}, pair{"qty", fixed(t.between(1, 30), 1)}, pair{"each", money(t.between(80, 900))}, pair{"source", logbook.OnHand}, pair{"consumable", yes(t.once(2))}))
	}
	parts = append(parts, t.rareParts()...)
	if t.number == 0 || t.once(8) {
		costs = append(costs, line(pair{"for", one(t.chance, outlays)}, pair{"amount", money(t.between(300, 4500))}))
	}
	w.list("parts", parts)
	w.list("costs", costs)
	w.list("repaired", repaired)
	w.list("worked_around", around)
	w.list("gone", gone)
	w.list("changed", t.changes())
	w.list("put_back", t.putBack())
	if t.once(9) {
		w.field("worked_on", names(several(t.chance, t.between(1, 2), []string{"engine", "fuel", "controls"})))
	}
	w.list("service", t.service())
}

// rareParts are those that stand in for a missing one, and those that did not
// stay in the machine.
func (t *teller) rareParts() []string {
	var lines []string
	if len(t.missing) > 0 && t.number > 0 && t.once(8) {
		lines = append(lines, line(pair{"part", "another " + t.missing[0]}, pair{"source", logbook.Used}, pair{"system", "frame"}, pair{"replaces", t.missing[0]}))
		t.missing = t.missing[1:]
	}
	if t.once(15) {
		lines = append(lines, line(pair{"part", "gear oil"}, pair{"qty", fixed(t.between(2, 30), 1) + " qt"}, pair{"each", money(t.between(400, 1200))}, pair{"source", logbook.OnHand}, pair{"system", "drive"}, pair{"consumable", "yes"}))
	}
	if t.m.stage == logbook.Customers && t.once(4) {
		lines = append(lines, line(pair{"part", "drive belt"}, pair{"source", logbook.New}, pair{"supplied_by", logbook.ByOwner}, pair{"system", "drive"}))
	}
	if t.once(25) {
		fate := one(t.chance, []string{logbook.NotFitted, logbook.TakenOut, logbook.Returned, logbook.Tool})
		lines = append(lines, line(pair{"part", one(t.chance, []string{"spark plug", "a puller", "drive belt"})}, pair{"source", logbook.New}, pair{"system", "drive"}, pair{"fate", fate}))
	}
	return lines
}

// service now and then speaks to a point that is no matter of safety.
func (t *teller) service() []string {
	if !t.once(7) {
		return nil
	}
	c := one(t.chance, cares)
	var answers []string
	for _, i := range t.sheet.Items {
		if i.System == c.system && i.Safety == logbook.SafetyNo && i.Item != t.leftOut {
			answers = []string{i.Item}
		}
	}
	return []string{more(line(pair{"what", c.what}, pair{"amount", c.amount}, pair{"grade", c.grade}, pair{"system", c.system}, pair{"every", c.every}), "answers", names(answers))}
}

// putBack undoes an earlier change.
func (t *teller) putBack() []string {
	if len(t.changed) == 0 || !t.once(12) {
		return nil
	}
	key := t.changed[0]
	t.changed = t.changed[1:]
	return []string{line(pair{"key", key}, pair{"how", "as the maker built it, with a part from the maker"})}
}

// repair mends a defect; three of four are proven the same evening, where
// there is a proof at all.
func (t *teller) repair(f flaw) string {
	proof := f.proof
	if t.once(4) {
		proof = ""
	}
	t.mended = append(t.mended, f)
	t.fixed = append(t.fixed, f)
	l := line(pair{"key", f.key}, pair{"how", f.how}, pair{"proof", proof})
	if t.once(12) {
		l = more(l, "affects", "[controls]")
	}
	return l
}

// part is what a repair put in: new, used, or out of another machine.
func (t *teller) part(f flaw) []string {
	if f.part == "" {
		return nil
	}
	cents := f.cents * t.between(80, 125) / 100
	common := func(source string, rest ...pair) string {
		return line(slices.Concat([]pair{{"part", f.part}, {"number", fmt.Sprintf("%04d-%d", t.IntN(10_000), t.IntN(90))},
			{"qty", fmt.Sprint(t.between(1, 2))}, {"each", money(cents)}, {"source", source}, {"system", f.system}}, rest)...)
	}
	switch t.IntN(7) {
	case 0:
		if donor, ok := t.donor(); ok {
			return []string{common(logbook.Salvaged, pair{"from", donor})}
		}
		return []string{common(logbook.Used)}
	case 1:
		return []string{common(one(t.chance, []string{logbook.Used, logbook.Rebuilt, logbook.Made}))}
	case 2:
		core := fmt.Sprintf(", core: {deposit: %s", money(100*t.between(5, 25)))
		if t.once(2) {
			core += ", returned: " + dateOf(t.now.day+t.between(1, 30))
		}
		l := common(logbook.Rebuilt)
		return []string{l[:len(l)-1] + core + "}}"}
	}
	return []string{common(logbook.New, pair{"tax", t.tax(cents)}, pair{"shipping", money(t.between(250, 900))}, pair{"vendor", one(t.chance, vendors)}, pair{"warranty", one(t.chance, []string{"", "90 days", "a year"})})}
}

// tax is written in percent, or as the bill has it.
func (t *teller) tax(cents int) string {
	if t.once(3) {
		return money(cents*6/100) + " USD"
	}
	return "6 %"
}

// donor is a machine that was parted out and came before this evening.
func (t *teller) donor() (string, bool) {
	for range 4 {
		if len(t.plan.donors) == 0 {
			break
		}
		d := one(t.chance, t.plan.donors)
		if d != t.self && t.plan.machines[d].arrived <= t.now.day {
			return t.plan.machines[d].key, true
		}
	}
	return "", false
}

func (t *teller) changes() []string {
	if !t.once(14) {
		return nil
	}
	c := one(t.chance, changes)
	key := ""
	if t.once(2) {
		key = fmt.Sprintf("%s-%d", c.system, t.number)
		t.changed = append(t.changed, key)
	}
	l := line(pair{"key", key}, pair{"what", c.what}, pair{"why", c.why}, pair{"system", c.system}, pair{"safety", one(t.chance, []string{"", "no"})},
		pair{"adds", yes(c.system == "guards")}, pair{"caution", c.caution})
	if c.affects != "" {
		l = more(l, "affects", "["+c.affects+"]")
	}
	return []string{l}
}
