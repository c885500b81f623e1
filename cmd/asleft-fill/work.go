package main

import (
	"fmt"
	"slices"

	"asleft/generator/logbook"
)

// work is what the evening did: repairs of what is open with the parts for
// them, proofs of earlier ones, work-arounds, changes and costs.
func (t *teller) work(w *paper) {
	var parts, costs, repaired, around []string
	t.fixed = t.fixed[:0]
	if t.number > 0 && len(t.open) > 0 && !t.once(3) {
		f := t.open[0]
		t.open = t.open[1:]
		switch {
		case f.around != "" && (f.how == "" || t.once(4)):
			around = append(around, line(pair{"key", f.key}, pair{"how", f.around}, pair{"left", f.left}))
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
		parts = append(parts, line(pair{"part", one(t.chance, small)}, pair{"qty", fixed(t.between(1, 30), 1)}, pair{"each", money(t.between(80, 900))}, pair{"source", logbook.OnHand}))
	}
	if t.number == 0 || t.once(8) {
		costs = append(costs, line(pair{"for", one(t.chance, outlays)}, pair{"amount", money(t.between(300, 4500))}))
	}
	w.list("parts", parts)
	w.list("costs", costs)
	w.list("repaired", repaired)
	w.list("worked_around", around)
	w.list("changed", t.changed())
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
	return line(pair{"key", f.key}, pair{"how", f.how}, pair{"proof", proof})
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
	return []string{common(logbook.New, pair{"tax", "6 %"}, pair{"shipping", money(t.between(250, 900))})}
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

func (t *teller) changed() []string {
	if !t.once(14) {
		return nil
	}
	c := one(t.chance, changes)
	l := line(pair{"what", c.what}, pair{"why", c.why}, pair{"system", c.system}, pair{"caution", c.caution})
	if c.affects != "" {
		l = l[:len(l)-1] + ", affects: [" + c.affects + "]}"
	}
	return []string{l}
}
