package condition

import (
	"slices"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// An answer is one to a point of the list: by a check, or by what was measured.
type answer struct {
	at     moment
	result string
	by     string // the change that took the thing away
	note   string
	read   *measurement // that gave the answer; nil where a check did
	defect *defect      // that names the point as one that it fails; nil where a check did
}

// A point is the subject of one line of the list while it is followed.
type point struct {
	*Subject
	answers []answer
	lacking bool // the shop says that the machine does not have it
}

// points makes a subject of each line of the machine's list, and of each that an
// entry added.
func (j *judge) points() {
	builtIn := j.builtIn()
	if s := j.machine.Sheet; s != nil {
		for i := range s.Items {
			it := &s.Items[i]
			p := j.addPoint(it.Item, it.Short)
			if of := j.machine.LackFor(it.OnlyIf); it.OnlyIf != "" && of != "" {
				lacking := *it
				lacking.OnlyIf, p.lacking = of, true // as the shop says it: no engine, where it has a pull start
				it = &lacking
			}
			p.Item, p.Systems, p.Safety = it, []string{it.System}, it.Safety
			p.own = !builtIn[logbook.Folded(it.Item)]
		}
	}
	for i, e := range j.machine.Entries {
		for _, c := range e.Checks {
			j.answered(i, e, c)
		}
		for _, d := range e.Defects {
			j.failedBy(i, e, d)
		}
	}
	for _, p := range j.allPoints {
		p.systems = j.reach(p.Systems)
		if j.inSafetySystem(p.Systems) {
			p.Safety = logbook.SafetyYes
		}
	}
	for i, e := range j.machine.Entries {
		for _, s := range e.Service {
			j.served(i, e, s.What, s.Answers)
		}
		for _, p := range e.Parts {
			if p.Consumable {
				j.served(i, e, p.Part, p.Answers)
			}
		}
	}
}

// served tells a service beside the points that it speaks to. They stay as they
// were, and a safety point is never one of them.
func (j *judge) served(i int, e *logbook.Entry, what string, items []string) {
	for _, item := range items {
		if p := j.point[logbook.Folded(item)]; p != nil && p.Safety == logbook.SafetyNo {
			p.tell(Event{Entry: j.evidence(i), What: Served, Said: what, By: e.By})
		}
	}
}

func (j *judge) addPoint(item, short string) *point {
	p := &point{Subject: j.subject(KindPoint, item)}
	p.Short = short
	j.point[logbook.Folded(item)] = p
	j.allPoints = append(j.allPoints, p)
	return p
}

// answered puts an entry's answer on a point. What the entry says of its safety and its
// system is kept, the graver of two.
func (j *judge) answered(i int, e *logbook.Entry, c logbook.Check) {
	p := j.point[logbook.Folded(c.Item)]
	if p == nil {
		p = j.addPoint(c.Item, "")
		p.Safety, p.own = c.Safety, true
	}
	if c.System != "" && !slices.Contains(p.Systems, c.System) {
		p.Systems = append(p.Systems, c.System)
	}
	if c.Safety == logbook.SafetyYes || p.Item == nil && c.Safety != logbook.NotSaid && p.Safety != logbook.SafetyYes {
		p.Safety = c.Safety
	}
	result := c.Result
	if result == "" {
		result = Unanswered
	}
	p.tell(Event{Entry: j.evidence(i), What: result, Said: c.Note, By: e.By, AsFound: c.AsFound})
	if result != Unanswered {
		p.answers = append(p.answers, answer{at: evidenceAt(i, c.AsFound), result: result, by: c.By, note: c.Note})
	}
}

// failedBy lets a defect fail the point that it names, where no check that the log lists
// has failed it by then.
func (j *judge) failedBy(i int, e *logbook.Entry, f logbook.Defect) {
	p := j.point[logbook.Folded(f.Point)]
	if f.Point == "" || p == nil || p.stillFailing(i) {
		return
	}
	at := moment{i, found}
	p.tell(Event{Entry: j.evidence(i), What: Fails, Said: f.Defect, By: e.By, AsFound: true})
	of := slices.IndexFunc(j.allDefects, func(d *defect) bool {
		return d.Key == f.Key && slices.ContainsFunc(d.parts, func(w *wording) bool { return slices.Contains(w.found, at) })
	})
	p.answers = append(p.answers, answer{at: at, result: Fails, note: f.Defect, defect: j.allDefects[of]})
}

// stillFailing tells whether the last check of a point up to an entry failed, or one of that
// entry did.
func (p *point) stillFailing(entry int) bool {
	failing := false
	for _, a := range p.answers {
		failing = a.result == Fails || failing && a.at.entry == entry
	}
	return failing
}

// measuredAnswers lets what was measured answer the points that name it.
func (j *judge) measuredAnswers() {
	for _, p := range j.allPoints {
		if p.Item == nil {
			continue
		}
		for _, m := range j.allMeasurements {
			if slices.ContainsFunc(p.Item.AnsweredBy, m.goesBy) {
				p.AnsweredBy = append(p.AnsweredBy, m.Subject)
				j.measuredAnswer(p, m)
			}
		}
	}
}

func (j *judge) measuredAnswer(p *point, m *measurement) {
	if p.Safety == logbook.SafetyYes {
		m.Safety = logbook.SafetyYes
	}
	for n, v := range m.Measured.Values {
		switch v.Verdict {
		case quantity.Inside:
			p.answers = append(p.answers, answer{at: m.at[n], result: Works, read: m})
		case quantity.Outside:
			p.answers = append(p.answers, answer{at: m.at[n], result: Fails, read: m})
		}
	}
}

// standPoints works out where each point stands.
func (j *judge) standPoints() {
	for _, p := range j.allPoints {
		j.standPoint(p)
		p.settle()
	}
}

func (j *judge) standPoint(p *point) {
	failed, measured := j.failure(p), j.measuredWrong(p)
	mended := failed != nil && j.failureMended(p, failed)
	if measured != nil && (failed == nil || mended) {
		failed, mended = measured, false // whatever was put right, what was measured stays outside
	}
	switch {
	case mended:
		p.Standing, p.last = OutOfDate, failed.at
		p.Absent = &Absence{NoCheck, j.machine.Entries[failed.at.entry].Date}
	case failed != nil:
		p.Standing, p.last = Wrong, failed.at
		p.Touched = j.touch(j.since(failed.at, p.systems, p.names()...), failed.at)
	case j.notHere(p):
		p.Standing = DoesNotApply
	default:
		j.standPassed(p)
	}
}

// failure is an answer "fails" that no answer has certainly overcome; nil where
// there is none. Whether a reading has been overcome, its measurement knows.
func (j *judge) failure(p *point) *answer {
	for i := len(p.answers) - 1; i >= 0; i-- {
		if f := &p.answers[i]; f.result == Fails && f.read == nil && !j.overcome(p, f) {
			return f
		}
	}
	return nil
}

// overcome tells whether a failure was certainly before a pass, or before the
// change that took the thing away. In one entry a failure is so only as it was
// found, and with work in its system.
func (j *judge) overcome(p *point, f *answer) bool {
	return slices.ContainsFunc(p.answers, func(a answer) bool { return j.overcomes(p, a, *f) })
}

func (j *judge) overcomes(p *point, a, f answer) bool {
	good := a.result == Works || a.result == NotHere && j.takenAway(a)
	if !good || j.order(a.at, f.at) != after {
		return false
	}
	return a.at.entry != f.at.entry || j.shownIn(f.at.entry, p.Subject, p.names()...) || f.defect != nil && f.defect.workedOnIn(f.at.entry)
}

// measuredWrong is the reading of a measurement that answers the point and is
// outside its limit: where a check beside it says otherwise, the worse stands.
func (j *judge) measuredWrong(p *point) *answer {
	for _, m := range p.AnsweredBy {
		if m.Standing == Wrong {
			return &answer{at: m.last, result: Fails}
		}
	}
	return nil
}

// failureMended tells whether each defect that names the point is proven after its
// failure, or was all that failed it and is gone with its part, and none of them was
// first written after it. One in guards, brakes or steering is proven by the point's own
// pass alone.
func (j *judge) failureMended(p *point, failed *answer) bool {
	at := failed.at
	named := false
	for _, d := range j.allDefects {
		if !d.fails(p) {
			continue
		}
		named = true
		p.leansOn(d.Subject)
		if d.gone != nil {
			if standing, since, _ := j.gone(d); failed.defect != d || standing != InOrder || j.order(since, at) != after {
				return false
			}
			continue
		}
		for _, part := range d.parts {
			standing, proof, _ := j.standingOf(d, part)
			proven := (standing == InOrder || standing == OutOfDate) && !j.provenByPoint(part) && j.order(moment{proof.entry, seen}, at) == after
			first := j.order(part.found[0], at)
			if !proven || first == after || first == open && part.found[0].entry != at.entry {
				return false
			}
		}
	}
	return named
}

// notHere tells whether the point certainly does not apply: the shop says so,
// no answer may have come later, and what answered before was taken away.
func (j *judge) notHere(p *point) bool {
	if p.lacking && len(p.answers) == 0 {
		return true
	}
	return slices.ContainsFunc(p.answers, func(n answer) bool {
		if n.result != NotHere || !logbook.Telling(n.note) {
			return false
		}
		for _, a := range p.answers {
			if a.result != NotHere && (j.order(n.at, a.at) != after || !j.takenAway(n)) {
				return false
			}
		}
		return true
	})
}

// takenAway tells whether an answer names a change that was made by then and not
// put back.
func (j *judge) takenAway(a answer) bool {
	c := j.change[a.by]
	return c != nil && c.Standing == Changed && j.order(c.at, a.at) == before
}

// standPassed is a point that nothing says is wrong.
func (j *judge) standPassed(p *point) {
	pass := j.lastPass(p)
	if pass == nil {
		j.standUnanswered(p)
		return
	}
	p.last = pass.at
	j.unworked(p, pass)
	passes := j.passesOf(p)
	w := j.undoing(p, passes)
	if close := j.closeSince(p, passes); w == nil && close != nil {
		p.Standing, p.last = TooClose, close.last
		return
	}
	if place := j.otherPlace(p); w == nil && place != nil {
		p.Standing, p.last, p.Touched = place.Standing, place.last, place.Touched
		if place.Standing == OutOfDate {
			p.Absent = &Absence{NoVerdict, place.Absent.Since}
		}
		return
	}
	if w == nil {
		p.Standing = InOrder
		p.SameEvening = j.sameEvening(pass.at, p.systems, p.names()...)
		return
	}
	p.Standing, p.Touched = OutOfDate, j.touch(w, passes...)
	p.Absent = &Absence{NoCheck, j.machine.Entries[w.at.entry].Date}
	if j.measuredSince(p, w.at) {
		p.Absent.Of = NoVerdict
	}
}

// undoing is the work or the fault that puts a point out of date which passed at those
// moments; nil where there is none.
func (j *judge) undoing(p *point, passes []moment) *work {
	w := j.notFollowed(passes, p.systems, p.names()...)
	if fault := j.faultNotFollowed(p, passes); w == nil || fault != nil && j.sooner(fault, w, passes) {
		return fault
	}
	return w
}

// closeSince is a measurement that answers the point and is too close to call by now,
// certainly after each pass; nil where there is none.
func (j *judge) closeSince(p *point, passes []moment) *Subject {
	for _, m := range p.AnsweredBy {
		if m.Standing == TooClose && !slices.ContainsFunc(passes, func(at moment) bool { return j.order(at, m.last) != before }) {
			return m
		}
	}
	return nil
}

// otherPlace is a measurement that answers the point and is out of date or too close to
// call, where all that speaks for the point is the same thing at another place: the left
// wheel says nothing of the right one. Nil where there is none, or where a check counts.
func (j *judge) otherPlace(p *point) *Subject {
	for _, a := range p.answers {
		if a.result == Works && a.read == nil && j.undoing(p, []moment{a.at}) == nil {
			return nil
		}
	}
	for _, m := range p.AnsweredBy {
		if m.Standing != OutOfDate && m.Standing != TooClose || m.Measured.Where == "" {
			continue
		}
		if slices.ContainsFunc(p.AnsweredBy, func(o *Subject) bool {
			return o.Standing == InOrder && o.Measured.Where != "" && o.Measured.State == m.Measured.State && sameThing(o.Measured.What, m.Measured.What)
		}) {
			return m
		}
	}
	return nil
}

// measuredSince tells whether a reading that answers the point was taken certainly
// after a work. It gave no verdict, or it would be an answer.
func (j *judge) measuredSince(p *point, at moment) bool {
	for _, s := range p.AnsweredBy {
		for _, m := range j.allMeasurements {
			if m.Subject == s && j.followed(at, m.at) {
				return true
			}
		}
	}
	return false
}

// standUnanswered is a point without an answer. What was measured stands by its
// own verdict, and is not "not checked".
func (j *judge) standUnanswered(p *point) {
	for _, standing := range []Standing{TooClose, OutOfDate, NoLimit} {
		for _, m := range p.AnsweredBy {
			if m.Standing == standing {
				p.Standing, p.last = standing, m.last
				return
			}
		}
	}
	p.Standing, p.Absent = NotChecked, &Absence{Of: NoCheck}
}

func (j *judge) lastPass(p *point) *answer {
	var last *answer
	for i := range p.answers {
		if a := &p.answers[i]; a.result == Works && (last == nil || j.order(a.at, last.at) != before) {
			last = a
		}
	}
	return last
}

// passesOf are the moments at which a point worked, without those of which a failure
// beside them stands.
func (j *judge) passesOf(p *point) []moment {
	var all []moment
	for _, a := range p.answers {
		overruled := slices.ContainsFunc(p.answers, func(f answer) bool {
			return f.result == Fails && j.order(a.at, f.at) != before && !j.overcomes(p, a, f)
		})
		if a.result == Works && !overruled {
			all = append(all, a.at)
		}
	}
	return all
}

// unworked notes a failure that passed with no work in its system between.
func (j *judge) unworked(p *point, pass *answer) {
	for _, f := range p.answers {
		if f.result == Fails && j.order(pass.at, f.at) == after && !j.shownBetween(f.at, pass.at, p.Subject, p.names()...) && !j.mendedBetween(p, f.at, pass.at) {
			p.Unworked = &Passed{j.machine.Entries[f.at.entry].Date, j.machine.Entries[pass.at.entry].Date}
		}
	}
}

// mendedBetween tells whether something was done between two moments about a defect
// that names the point, in whatever system, or about what was measured for it.
func (j *judge) mendedBetween(p *point, from, to moment) bool {
	return slices.ContainsFunc(j.allDefects, func(d *defect) bool {
		return d.fails(p) && slices.ContainsFunc(d.parts, func(part *wording) bool {
			return slices.ContainsFunc(part.closures, func(c closure) bool {
				return c.how && (c.at.entry == from.entry || j.within(c.at, from, to))
			})
		})
	}) || slices.ContainsFunc(j.allMeasurements, func(m *measurement) bool {
		return slices.Contains(p.AnsweredBy, m.Subject) && j.between(from, to, m.systems, m.names()...)
	})
}

// names are what affects: can call a point.
func (p *point) names() []string { return []string{p.Name, p.Short} }

// faultNotFollowed is a fault that puts a safety point out of date: one of its system,
// found in the entry of a pass or not certainly before one.
func (j *judge) faultNotFollowed(p *point, passes []moment) *work {
	if p.Safety != logbook.SafetyYes {
		return nil
	}
	return j.firstAfter(passes, j.faultsFound, func(f *work) bool {
		followed := slices.ContainsFunc(passes, func(at moment) bool { return f.at.entry != at.entry && j.order(at, f.at) == after })
		return !followed && f.touches(p.systems, p.names()...)
	})
}

// proving are the points that prove by their passing what was put right in those
// systems: of the ones that a defect names, those that are there. A point of the
// battery says nothing of brakes that drag, whoever names it.
func (j *judge) proving(systems, named []string) []*point {
	var all []*point
	for _, item := range named {
		if p := j.point[logbook.Folded(item)]; p != nil && j.speaksFor(p, systems) {
			all = append(all, p)
		}
	}
	return all
}

// speaksFor tells whether a point is of those systems. Of guards, brakes or steering it
// has to be itself, where they are among them: what else they are part of is not enough.
func (j *judge) speaksFor(p *point, systems []string) bool {
	return meet(j.placed(p.Systems), j.wanted(j.placed(systems)))
}

// wanted are those of some systems that a point has to be of to speak for them.
func (j *judge) wanted(systems []string) []string {
	if !j.inSafetySystem(systems) {
		return systems
	}
	return slices.DeleteFunc(slices.Clone(systems), func(s string) bool { return !j.inSafetySystem([]string{s}) })
}

// A pass is one time that a point worked.
type pass struct {
	of *point
	at moment
}

// passesAfter are the passes certainly after a moment of the points that a defect names,
// or else of any point of those systems.
func (j *judge) passesAfter(at moment, systems, named []string) []pass {
	points := j.proving(systems, named)
	if len(points) == 0 {
		for _, p := range j.allPoints {
			if j.speaksFor(p, systems) {
				points = append(points, p)
			}
		}
	}
	var all []pass
	for _, p := range points {
		for _, m := range j.passesOf(p) {
			if j.order(m, at) == after {
				all = append(all, pass{p, m})
			}
		}
	}
	return all
}

// passAfter is the last of them; nil where there is none.
func (j *judge) passAfter(at moment, systems, named []string) (*point, moment) {
	var last pass
	for _, a := range j.passesAfter(at, systems, named) {
		if last.of == nil || j.order(a.at, last.at) != before {
			last = a
		}
	}
	return last.of, last.at
}

// passes tells whether one of those points passes after a moment.
func (j *judge) passes(at moment, systems, named []string) bool {
	by, _ := j.passAfter(at, systems, named)
	return by != nil
}

// sameEvening is the work in those systems that was written in the entry of the
// evidence itself; empty where there is none.
func (j *judge) sameEvening(at moment, reach []string, names ...string) string {
	for i := range j.done {
		if w := &j.done[i]; w.at.entry == at.entry && at.phase == seen && w.touches(reach, names...) {
			return w.by
		}
	}
	return ""
}
