package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// A wording is the part of a defect that was found in the same words. Other words open a
// part of their own, which needs its own repair and its own proof.
type wording struct {
	words    string
	systems  []string // in which it was found, as the log says them
	reach    []string // with the built-in ones that they are part of
	found    []moment
	first    bool // of the key's first finding, which no repair can come before
	closures []closure
	standing Standing
}

// A closure is what ended a part: a repair or a work-around, and its proof.
type closure struct {
	at     moment
	around bool
	how    bool // it was work, and not only a proof
	proof  bool
}

// defects makes a subject of each key. One that left with its part ends there;
// the key used again is another defect.
func (j *judge) defects() {
	for i, e := range j.machine.Entries {
		for _, f := range e.Defects {
			j.foundDefect(i, f)
		}
		for _, r := range e.Repaired {
			if d := j.defect[r.Key]; d != nil {
				d.repaired(j, i, e, r)
			}
		}
		for _, w := range e.WorkedAround {
			if d := j.defect[w.Key]; d != nil {
				d.tell(Event{Entry: j.evidence(i), What: Around, Said: w.How, Photo: d.photo(e, w.Photo, true), By: e.By})
				if w.Left != "" {
					d.tell(Event{Entry: j.evidence(i), What: Remains, Said: w.Left, By: e.By})
				}
				d.Left = w.Left
				d.close(closure{moment{i, worked}, true, true, false}, "")
			}
		}
		for _, g := range e.Gone {
			if d := j.defect[g.Key]; d != nil {
				d.tell(Event{Entry: j.evidence(i), What: Left, Said: g.With, By: e.By})
				d.gone = &moment{i, worked}
				j.left[g.Key] = d.Subject
				delete(j.defect, g.Key)
			}
		}
	}
}

// A defect is the subject of one key while it is followed.
type defect struct {
	*Subject
	Effects []string
	Left    string
	point   []string // the points that it fails
	parts   []*wording
	gone    *moment

	provedBy string // the point that proves the repair, where no proof is written
	provedAt moment
}

func (j *judge) foundDefect(i int, f logbook.Defect) {
	e := j.machine.Entries[i]
	d := j.defect[f.Key]
	what := FoundAgain
	if d == nil {
		d = &defect{Subject: j.subject(KindDefect, f.Defect)}
		d.Key, d.Safety, d.Again = f.Key, logbook.SafetyNo, j.left[f.Key]
		j.defect[f.Key] = d
		j.allDefects = append(j.allDefects, d)
		what = Found
	}
	d.Safety = d.Safety.Graver(f.Safety)
	if j.inSafetySystem([]string{f.System}) {
		d.Safety = logbook.SafetyYes
	}
	if !slices.Contains(d.Systems, f.System) {
		d.Systems = append(d.Systems, f.System)
	}
	if f.Point != "" {
		d.point = append(d.point, f.Point)
	}
	d.tell(Event{Entry: j.evidence(i), What: what, Said: f.Defect, Photo: d.photo(e, f.Photo, false), By: e.By})
	if f.Effect != "" {
		d.Effects = append(d.Effects, f.Effect)
		d.tell(Event{Entry: j.evidence(i), What: Effect, Said: f.Effect, By: e.By})
	}
	p := d.part(f.Defect)
	p.found = append(p.found, moment{i, found})
	if !slices.Contains(p.systems, f.System) {
		p.systems = append(p.systems, f.System)
	}
	p.reach = j.reach(p.systems)
	d.parts[0].first = true
}

// part is that of those words, a new one where there is none.
func (d *defect) part(words string) *wording {
	for _, p := range d.parts {
		if logbook.Same(p.words, words) {
			return p
		}
	}
	p := &wording{words: words}
	d.parts = append(d.parts, p)
	return p
}

func (d *defect) repaired(j *judge, i int, e *logbook.Entry, r logbook.Repair) {
	if r.How != "" {
		d.tell(Event{Entry: j.evidence(i), What: Repaired, Said: r.How, Photo: d.photo(e, r.Photo, true), By: e.By})
	}
	if r.Proof != "" {
		d.tell(Event{Entry: j.evidence(i), What: Proved, Said: r.Proof, Photo: d.photo(e, r.Photo, true), By: e.By})
	}
	d.close(closure{moment{i, worked}, false, r.How != "", r.Proof != ""}, r.Of)
}

// close closes the part of those words, or the one that was found last.
func (d *defect) close(c closure, of string) {
	last := d.parts[0]
	for _, p := range d.parts {
		if of != "" && logbook.Same(p.words, of) {
			p.closures = append(p.closures, c)
			return
		}
		if p.found[len(p.found)-1].entry >= last.found[len(last.found)-1].entry {
			last = p
		}
	}
	last.closures = append(last.closures, c)
}

// standDefects works out where each defect stands, when all points are known.
func (j *judge) standDefects() {
	for _, d := range j.allDefects {
		d.Standing = InOrder
		if d.gone != nil {
			j.standGone(d)
		} else {
			for _, p := range d.parts {
				j.standPart(d, p)
			}
		}
		d.wordings = d.called(j)
		for _, p := range d.parts {
			if len(d.parts) > 1 && p.standing == d.Standing {
				d.unproven = append(d.unproven, clause(p.words))
			}
		}
		d.settle()
	}
}

// called is all that a defect was called, the words of the parts that stand as badly as
// the whole before those of the others; of these it says which were put right.
func (d *defect) called(j *judge) []string {
	var worst, others []string
	for _, p := range d.parts {
		switch p.standing {
		case d.Standing:
			worst = append(worst, clause(p.words))
		case InOrder:
			others = append(others, j.words.Say("named.mended", "name", clause(p.words)))
		default:
			others = append(others, clause(p.words))
		}
	}
	return append(worst, others...)
}

// standGone is that of a defect whose part is out of the machine.
func (j *judge) standGone(d *defect) {
	standing, since, undone := j.gone(d)
	if d.Standing = standing; standing == NotProven {
		d.wants(j, d.Systems)
		d.Touched = j.touch(undone, *d.gone)
		d.Absent = &Absence{NoCheck, j.machine.Entries[since.entry].Date}
	}
}

// gone is where a defect stands that left with its part, since when, and the work that
// undid it. Where what came in its place was undone, nothing shows that the defect did
// not come back with that.
func (j *judge) gone(d *defect) (standing Standing, since moment, undone *work) {
	passes := func(at moment) bool {
		by, _ := j.passAfter(at, d.Systems, d.point)
		if by != nil {
			d.leansOn(by.Subject)
		}
		return by != nil && !slices.ContainsFunc(d.parts, func(p *wording) bool {
			return j.provenByPoint(p) && !j.passes(at, p.systems, d.point)
		})
	}
	if w := j.undone(d); w != nil && !passes(w.at) {
		return NotProven, w.at, w
	}
	if d.Safety == logbook.SafetyYes && !passes(*d.gone) || j.mayBeBack(d) {
		return NotProven, *d.gone, nil
	}
	return InOrder, *d.gone, nil
}

// mayBeBack tells whether the log leaves open that a defect was found again after it
// left with its part.
func (j *judge) mayBeBack(d *defect) bool {
	var found []moment
	for _, p := range d.parts {
		found = append(found, p.found...)
	}
	return !j.endsAll(*d.gone, found)
}

// undone is the work that undid what a defect left with: its part taken out again, or
// its change put back, and neither done anew since. Nil where that still stands. In the
// entry in which it left that can be one that was in before, where both it and the new one
// are in the log.
func (j *judge) undone(d *defect) *work {
	with := d.History[len(d.History)-1].Said
	var last *work
	earlier, anew := false, false // one was put in before the entry in which it left, and in it
	all := slices.Concat(j.done, j.swapped)
	slices.SortStableFunc(all, func(a, b work) int { return a.at.entry - b.at.entry })
	for i := range all {
		w := &all[i]
		switch {
		case w.of == "" || !logbook.Same(w.of, with) && !logbook.Same(w.key, with):
		case !w.undoes:
			earlier, anew = earlier || w.at.entry < d.gone.entry, anew || w.at.entry == d.gone.entry
			if last != nil && j.order(w.at, last.at) == after {
				last = nil
			}
		case j.order(w.at, *d.gone) != before:
			last = w
		}
	}
	if last != nil && last.at.entry == d.gone.entry && earlier && anew {
		return nil
	}
	return last
}

// wants notes what could prove a defect of those systems put right by its passing.
func (d *defect) wants(j *judge, systems []string) {
	d.wanted, d.named = j.wanted(j.placed(systems)), nil
	for _, p := range j.proving(systems, d.point) {
		d.named = append(d.named, clause(p.Name))
	}
}

// standPart lets one part of a defect pull the whole of it down.
func (j *judge) standPart(d *defect, p *wording) {
	standing, at, by := j.standingOf(d, p)
	if by != nil {
		d.provedBy, d.provedAt = by.Name, at
		if ev := j.evidence(at.entry); !slices.Contains(d.Evidence, ev) {
			d.Evidence = append(d.Evidence, ev) // where the proof is to be read
		}
	}
	p.standing = standing
	if standing == InOrder || standing == OutOfDate {
		d.Proven = logbook.Later(d.Proven, j.machine.Entries[at.entry].Date)
	}
	if slices.Index(worst, standing) >= slices.Index(worst, d.Standing) {
		return
	}
	d.Standing, d.Touched, d.Absent = standing, nil, nil
	d.wants(j, p.systems)
	switch standing {
	case NotProven:
		d.Absent = &Absence{NoProof, j.machine.Entries[at.entry].Date}
		if j.provenByPoint(p) && !j.passes(at, p.systems, d.point) {
			d.Absent.Of = NoCheck
		}
	case OutOfDate:
		w := j.since(at, p.reach, d.Name, d.Key)
		d.Touched = j.touch(w, at)
		d.Absent = &Absence{NoProof, j.machine.Entries[w.at.entry].Date}
		if j.provenByPoint(p) {
			d.Absent.Of = NoCheck
		}
	}
}

// standingOf is where one part stands, with the moment that this rests on, and the point
// that is its proof where none is written. A work-around stands until a repair that
// certainly came after it.
func (j *judge) standingOf(d *defect, p *wording) (Standing, moment, *point) {
	var works []closure
	last, proof := moment{entry: -1}, moment{entry: -1}
	for _, c := range p.closures {
		if !j.closes(p, c.at) {
			continue
		}
		if c.how {
			works, last, proof = append(works, c), c.at, moment{entry: -1}
		}
		if at := (moment{c.at.entry, seen}); c.proof && !slices.ContainsFunc(works, func(w closure) bool { return j.order(at, w.at) != after }) {
			proof = at
		}
	}
	if len(works) == 0 {
		return Wrong, p.found[len(p.found)-1], nil
	}
	for _, a := range works {
		if a.around && !slices.ContainsFunc(works, func(r closure) bool { return !r.around && j.order(r.at, a.at) == after }) {
			return WorkedAround, a.at, nil
		}
	}
	return j.proven(d, p, last, proof)
}

// proven tells if a repair stands proven. What keeps people safe is proven by a
// point of its system alone; one of those that the defect names is a proof by itself.
func (j *judge) proven(d *defect, p *wording, repair, proof moment) (Standing, moment, *point) {
	written := proof.entry >= 0
	named := len(j.proving(p.systems, d.point)) > 0
	by, pass := j.passAfter(repair, p.systems, d.point)
	if j.provenByPoint(p) || !written {
		if by == nil || !written && !named {
			return NotProven, repair, nil
		}
		proof = pass
		d.leansOn(by.Subject)
	} else if by != nil && named && j.order(pass, proof) == after {
		proof = pass // the point that it is of passed again later
		d.leansOn(by.Subject)
	}
	if written {
		by = nil
	}
	if j.since(proof, p.reach, d.Name, d.Key) != nil {
		return OutOfDate, proof, by
	}
	return InOrder, proof, by
}

// provenByPoint tells whether a part of a defect is one that only a point of its
// system can prove repaired: a matter of safety in guards, brakes or steering.
func (j *judge) provenByPoint(p *wording) bool { return j.inSafetySystem(p.systems) }

// closes tells whether a closure came after each finding of a part. No repair
// can come before the finding that named the defect first.
func (j *judge) closes(p *wording, at moment) bool {
	for n, f := range p.found {
		o := j.order(at, f)
		if o != after && !(o == open && n == 0 && p.first && at.entry >= f.entry) {
			return false
		}
	}
	return true
}

// faults are the defects found that may put safety points out of date: those
// that may hurt someone and are not proven in the entry that found them, in words or by
// the point that is their proof.
func (j *judge) faults() {
	for _, d := range j.allDefects {
		for _, p := range d.parts {
			for _, f := range p.found {
				provenAtOnce := slices.ContainsFunc(p.closures, func(c closure) bool { return c.at.entry == f.entry && c.how && (c.proof || j.provenIn(c.at, d, p)) })
				if d.Safety != logbook.SafetyNo && !provenAtOnce {
					reach := j.reach(d.Systems)
					j.faultsFound = append(j.faultsFound, work{at: f, systems: d.Systems, reach: reach, nowhere: len(reach) == 0, by: j.words.Say("work.fault", "what", clause(p.words)), key: d.Key, fault: true})
				}
			}
		}
	}
}

// provenIn tells whether a point that proves a repair passed in the very entry of it.
func (j *judge) provenIn(repair moment, d *defect, p *wording) bool {
	if !j.provenByPoint(p) && len(j.proving(p.systems, d.point)) == 0 {
		return false
	}
	return slices.ContainsFunc(j.passesAfter(repair, p.systems, d.point), func(a pass) bool { return a.at.entry == repair.entry })
}

// photo is the path of the photo of an entry that a turn in a defect's life
// names, or of one that is marked as showing it: the first for what was found,
// the last for what was done about it. One photo does not stand for both.
func (d *defect) photo(e *logbook.Entry, named string, done bool) string {
	if named != "" {
		return photoOf(e, named)
	}
	path := ""
	for _, p := range e.Photos {
		used := slices.ContainsFunc(d.History, func(h Event) bool { return h.Photo == p.Path })
		if p.Shows == d.Key && !p.Private && !(done && used) && (path == "" || done) {
			path = p.Path
		}
	}
	return path
}

// fails tells whether the log names a point as one that the defect fails.
func (d *defect) fails(p *point) bool {
	return slices.ContainsFunc(d.point, func(item string) bool { return logbook.Same(item, p.Name) })
}

// workedOnIn tells whether an entry says that something was done about it.
func (d *defect) workedOnIn(entry int) bool {
	return slices.ContainsFunc(d.parts, func(p *wording) bool {
		return slices.ContainsFunc(p.closures, func(c closure) bool { return c.how && c.at.entry == entry })
	})
}

// workedOn tells of a defect that something was done about it.
func (s *Subject) workedOn() bool {
	return s.Kind == KindDefect && slices.ContainsFunc(s.History, Event.isWork)
}

// WorkedOnIn tells whether the entry of that file says that something was done about it.
func (s *Subject) WorkedOnIn(file string) bool {
	return slices.ContainsFunc(s.History, func(e Event) bool { return e.Entry.File == file && e.isWork() })
}

// PhotoAfterKey is what is said of a photo from the entry of that file, once something was
// done, as a key of the catalog: nobody knows if one from the entry of the work itself was
// taken before it or after.
func (s *Subject) PhotoAfterKey(file string) string {
	if s.WorkedOnIn(file) {
		return "page.photo-after-same"
	}
	return "page.photo-after"
}

func (e Event) isWork() bool { return e.What == Repaired || e.What == Around || e.What == Left }

// workedOnLast tells of a defect that something was done about it after it was found last,
// as the log has it.
func (s *Subject) workedOnLast() bool {
	for i := len(s.History) - 1; i >= 0; i-- {
		switch s.History[i].What {
		case Found, FoundAgain:
			return false
		case Repaired, Around, Proved:
			return true
		}
	}
	return false
}

// left tells of a defect that the last thing that became of it is that it left with
// its part.
func (s *Subject) left() bool {
	return len(s.History) > 0 && s.History[len(s.History)-1].What == Left
}
