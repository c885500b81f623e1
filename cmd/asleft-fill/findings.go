package main

import (
	"fmt"
	"strings"

	"asleft/generator/logbook"
)

// checks are answers to some of the sheet's items, and now and then to one of
// the shop's own.
func (t *teller) checks() []string {
	if t.number > 0 && !t.once(3) {
		return nil
	}
	var lines []string
	for _, item := range several(t.chance, t.between(3, 9), t.sheet.Items) {
		result := one(t.chance, []string{logbook.Works, logbook.Works, logbook.Works, logbook.Works, logbook.Fails, logbook.NotChecked})
		switch {
		case item.Item == t.leftOut:
			continue
		case item.Safety == logbook.SafetyNo && !t.answered[item.Item] && t.once(8):
			result = logbook.DoesNotApply
		}
		t.answered[item.Item] = t.answered[item.Item] || result == logbook.Works || result == logbook.Fails
		note := ""
		if result != logbook.Works || t.once(4) {
			note = one(t.chance, notes[result])
		}
		lines = append(lines, line(pair{"item", item.Item}, pair{"result", result}, pair{"note", note}, pair{"as_found", yes(t.number > 0 && t.once(5))}))
	}
	if t.once(6) {
		lines = append(lines, line(pair{"item", "warning labels can be read"}, pair{"result", logbook.Works}, pair{"system", "frame"}, pair{"safety", "no"}))
	}
	return lines
}

func (t *teller) diagnosis() []string {
	var lines []string
	for range t.IntN(4) {
		s := one(t.chance, trail)
		lines = append(lines, line(pair{"tried", s.tried}, pair{"saw", s.saw}, pair{"so", s.so}, pair{"system", s.system}))
	}
	return lines
}

func (t *teller) measured() []string {
	var lines []string
	for _, g := range several(t.chance, t.IntN(4), t.gauges) {
		gauge := g.gauge
		if t.once(6) {
			gauge = ""
		}
		value := fixed(t.between(g.low, g.high), g.decimals) + " " + g.unit
		if t.once(9) {
			value = "about " + value
		}
		lines = append(lines, line(pair{"what", g.what}, pair{"where", g.where}, pair{"value", value}, pair{"gauge", gauge}, pair{"state", g.state}, pair{"as_found", yes(t.once(9))}, pair{"system", g.system}))
	}
	return lines
}

// tests are named bench tests.
func (t *teller) tests() []string {
	if !t.once(4) {
		return nil
	}
	thou := func(a, b int) string { return fixed(t.between(a, b), 3) + " in" }
	if t.m.trade.electric {
		return []string{fmt.Sprintf("{test: belt drive, rpm: 1725 rpm, driver: 4 in, driven: %d in, center: 18 in, gauge: 5 rpm, length_gauge: 0.01 in}", t.between(5, 9))}
	}
	dry := t.between(55, 120)
	all := []string{
		fmt.Sprintf("{test: compression, dry: [%d psi], wet: [%d psi], kick_release: no, gauge: 2 psi}", dry, dry+t.between(0, 35)),
		fmt.Sprintf("{test: valve clearance, intake: %s, exhaust: %s, state: cold, gauge: 0.001 in}", thou(3, 8), thou(4, 11)),
		fmt.Sprintf("{test: plug gap, gap: %s, gauge: 0.001 in, as_found: yes}", thou(20, 40)),
		fmt.Sprintf("{test: crankshaft end play, play: %s, gauge: 0.001 in}", thou(2, 20)),
		fmt.Sprintf("{test: leak-down, regulated: 80 psi, cylinder: [%d psi], heard: [%s], gauge: 1 psi}", t.between(44, 77), one(t.chance, []string{"crankcase", "exhaust"})),
		fmt.Sprintf("{test: piston speed, stroke: 2.%d in, rpm: %d rpm, gauge: 20 rpm}", t.between(100, 900), t.between(3000, 3800)),
	}
	return several(t.chance, t.between(1, 2), all)
}

// findings are the defects of the evening: most on the first, some later, and
// now and then one that was thought repaired.
func (t *teller) findings(w *paper) {
	n := 0
	switch {
	case t.number == 0:
		n = t.between(2, 5)
	case t.once(5):
		n = 1
	}
	n = min(n, len(t.flaws))
	found := t.flaws[:n]
	t.flaws = t.flaws[n:]
	if len(t.mended) > 0 && t.once(15) {
		found = append(found[:len(found):len(found)], t.mended[0])
		t.mended = t.mended[1:]
	}
	var lines []string
	for _, f := range found {
		photo := ""
		if len(t.now.photos) > 0 && t.once(2) {
			photo = t.now.photos[0]
		}
		lines = append(lines, line(pair{"key", f.key}, pair{"defect", f.defect}, pair{"effect", f.effect}, pair{"system", f.system}, pair{"safety", t.safety(f)}, pair{"photo", photo}))
	}
	w.list("defects", lines)
	t.open = append(t.open, found...)
}

// safety is what the log says of a defect's: mostly, but not always, something.
func (t *teller) safety(f flaw) string {
	if t.once(10) {
		return ""
	}
	return yesNo(f.safety)
}

// article is a defect's key as words, for the story.
func (f flaw) words() string { return strings.ReplaceAll(f.key, "-", " ") }
