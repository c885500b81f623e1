package condition

import (
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/spelling"
)

// Gaps are what a machine's log leaves open, for the mechanic: each is
// something that the report has to admit, or that would make it kinder.
func Gaps(shop *logbook.Shop, r *Report, words *catalog.Catalog) []logbook.Problem {
	g := &gaps{words: words, report: r, judged: &judge{shop: shop}}
	m := r.Machine
	g.kind(m)
	g.files(m)
	g.asides(m.Asides)
	if m.MeterTrue == "" && r.Count.Meter.HasTotal {
		g.add(logbook.Place{File: m.File, Line: 1}, "gap.meter")
	}
	for _, p := range m.Missing {
		g.safety(p.Place, KindMissing, p.Part, p.Part, p.Safety, p.System)
	}
	for _, l := range m.Limits {
		g.limit(l)
	}
	g.has(m)
	g.subjects()
	for i, e := range m.Entries {
		g.entry(i, e)
	}
	return g.found
}

type gaps struct {
	words  *catalog.Catalog
	report *Report
	judged *judge // only to tell what systems are part of
	found  []logbook.Problem
	placed []string // the readings whose system was asked for
}

func (g *gaps) add(at logbook.Place, key string, pairs ...any) {
	g.found = append(g.found, logbook.ProblemAt(g.words, at, key, pairs...))
}

// has asks for a thing that the machine is said to have or not, and that no
// point of its list depends on.
func (g *gaps) has(m *logbook.Machine) {
	var known []string
	for _, s := range m.Sheets {
		for _, i := range s.Items {
			if i.OnlyIf != "" && !logbook.Known(i.OnlyIf, known) {
				known = append(known, i.OnlyIf)
			}
			if logbook.OfEngine(i.OnlyIf) && !logbook.Known(logbook.AnEngine, known) {
				known = append(known, logbook.AnEngine)
			}
		}
	}
	for _, h := range m.Has {
		if !logbook.Known(h.What, known) {
			g.hasNear(h, known)
		}
	}
}

// subjects are the points without an answer, the repairs without a proof, and what was
// measured of safety with no limit; of a machine that is sold or parted out nobody can
// answer them any more.
func (g *gaps) subjects() {
	if s := g.report.Machine.Stage; s == logbook.Sold || s == logbook.PartedOut {
		return
	}
	var points, safety []string
	for _, s := range g.report.Subjects {
		switch {
		case s.Unanswered() && s.Safety == logbook.SafetyNo:
			points = append(points, s.short())
		case s.Unanswered():
			safety = append(safety, s.short())
		case s.Kind == KindDefect && (s.Standing == NotProven || s.Standing == OutOfDate) && s.Absent != nil:
			g.proof(s)
		case s.Kind == KindMeasurement && s.Standing == NoLimit && s.Open:
			g.add(logbook.Place{File: s.Evidence[len(s.Evidence)-1].File, Line: 1}, "gap.no-limit", "what", s.Measured.What)
		}
	}
	at := logbook.Place{File: g.report.Machine.File, Line: 1}
	if len(safety) > 0 {
		g.add(at, "gap.unanswered-safety", "names", strings.Join(safety, ", "))
	}
	if len(points) > 0 {
		g.add(at, "gap.unanswered", "names", strings.Join(points, ", "))
	}
}

// proof asks for what a repair lacks that does not stand proven: a point that passes, or
// a proof, of one of several wordings by its name.
func (g *gaps) proof(s *Subject) {
	at := logbook.Place{File: s.Evidence[len(s.Evidence)-1].File, Line: 1}
	words, point, since := g.words.Each(s.unproven), s.Absent.Of == NoCheck, s.Standing == OutOfDate
	switch {
	case point && since:
		g.add(at, "gap.no-pass-since", "key", s.Key, "systems", g.words.List(s.wanted))
	case point && len(s.named) > 0:
		g.add(at, "gap.no-pass-of", "key", s.Key, "items", g.words.Each(s.named))
	case point:
		g.add(at, "gap.no-pass", "key", s.Key, "systems", g.words.List(s.wanted))
	case since && words != "":
		g.add(at, "gap.no-proof-of-since", "key", s.Key, "words", words)
	case since:
		g.add(at, "gap.no-proof-since", "key", s.Key)
	case words != "":
		g.add(at, "gap.no-proof-of", "key", s.Key, "words", words)
	default:
		g.add(at, "gap.no-proof", "key", s.Key)
	}
}

// safety asks for what the log does not say of something in no safety system,
// unless it is in order by now.
func (g *gaps) safety(at logbook.Place, kind Kind, name, what string, said logbook.Safety, system string) {
	if said != logbook.NotSaid || g.judged.inSafetySystem([]string{system}) {
		return
	}
	for _, s := range g.report.Subjects {
		if s.Kind == kind && s.Open && (s.Key == name || logbook.Same(s.Name, name)) {
			g.add(at, "gap.no-safety", "what", what)
			return
		}
	}
}

// limit asks for a limit that no reading uses, and says which one it nearly
// matches.
func (g *gaps) limit(l logbook.Limit) {
	fits, names := g.report.Fits(l)
	if fits {
		return
	}
	if near := spelling.Nearest(l.What, names); near != "" {
		g.add(l.Place, "gap.limit-near", "what", l.What, "near", near)
		return
	}
	g.add(l.Place, "gap.limit-unused", "what", l.What)
}

// Fits tells whether a limit is of a reading that the log has; names are what was measured,
// one for each reading that it is not of.
func (r *Report) Fits(l logbook.Limit) (fits bool, names []string) {
	for _, s := range r.Subjects {
		if s.Kind != KindMeasurement {
			continue
		}
		if sameThing(s.Measured.What, l.What) && (l.Where == "" || logbook.Same(s.Measured.Where, l.Where)) || r.tested(l.What) {
			return true, nil
		}
		names = append(names, s.Measured.What)
	}
	return false, names
}

// tested tells whether a limit goes by the name of a test that was made.
func (r *Report) tested(what string) bool {
	for _, t := range r.Tests {
		if logbook.Same(t.Test, what) {
			return true
		}
	}
	return false
}

func (g *gaps) entry(i int, e *logbook.Entry) {
	g.asides(e.Asides)
	if !e.HasClock && g.sameDay(i, e) {
		g.add(e.Place, "gap.no-time")
	}
	if other := g.mayBeBefore(e); other != "" {
		g.add(e.In("date"), "gap.vague-date", "other", other)
	}
	for _, p := range e.Photos {
		if p.Alt == "" && !p.Private {
			g.add(p.Place, "gap.no-alt", "file", p.File)
		}
	}
	for _, p := range e.Parts {
		if p.System == "" && p.Fate == logbook.Fitted {
			g.add(p.Place, "gap.part-no-system", "part", p.Part)
		}
		g.affects(p.Place, p.Affects)
		g.answers(p.Place, p.Answers)
		g.replaces(p)
	}
	for _, s := range e.Service {
		g.answers(s.Place, s.Answers)
	}
	for _, c := range e.Checks {
		if g.ownPoint(c) {
			g.safety(c.Place, KindPoint, c.Item, c.Item, c.Safety, c.System)
		}
	}
	for _, r := range e.Repaired {
		g.affects(r.Place, r.Affects)
	}
	for _, w := range e.WorkedAround {
		g.affects(w.Place, w.Affects)
	}
	for _, p := range e.PutBack {
		g.affects(p.Place, p.Affects)
	}
	for _, d := range e.Defects {
		g.safety(d.Place, KindDefect, d.Key, d.Defect, d.Safety, d.System)
		g.point(d)
	}
	for _, c := range e.Changed {
		if c.System == "" {
			g.add(c.Place, "gap.change-no-system", "what", c.What)
		}
		name := c.Key
		if name == "" {
			name = c.What
		}
		g.safety(c.Place, KindChange, name, c.What, c.Safety, c.System)
		g.affects(c.Place, c.Affects)
	}
	for _, m := range e.Measured {
		if !m.HasGauge {
			g.add(m.Place, "gap.no-gauge", "what", m.What)
		}
		g.placeless(m)
		g.wide(m)
	}
}

// point tells of a defect that names a point of another system: that one's passing is no
// proof of the repair then.
func (g *gaps) point(d logbook.Defect) {
	if d.Point == "" {
		return
	}
	for _, s := range g.report.Subjects {
		if s.Kind == KindPoint && logbook.Same(s.Name, d.Point) && !g.judged.speaksFor(&point{Subject: s}, []string{d.System}) {
			g.add(d.In("point"), "gap.point-elsewhere", "item", s.Name, "systems", g.words.List(s.Systems), "system", d.System)
		}
	}
}

// sameDay tells whether another entry is of the same day.
func (g *gaps) sameDay(i int, e *logbook.Entry) bool {
	for n, other := range g.report.Machine.Entries {
		if n != i && other.Date == e.Date {
			return true
		}
	}
	return false
}

// mayBeBefore is the title of another entry that one without its day may be before or
// after; empty where there is none. With each other, two such are asked about once.
func (g *gaps) mayBeBefore(e *logbook.Entry) string {
	if e.Date.Exact() {
		return ""
	}
	at := spanOf(e)
	for _, other := range g.report.Machine.Entries {
		if o := spanOf(other); other != e && o.from <= at.to && at.from <= o.to && (other.Date.Exact() || o.to-o.from <= at.to-at.from) {
			return other.Title
		}
	}
	return ""
}

// affects asks for names that are those of nothing on the machine.
func (g *gaps) affects(at logbook.Place, names []string) {
	for _, name := range names {
		g.named(at, "gap.affects", name, g.report.affectable)
	}
}
