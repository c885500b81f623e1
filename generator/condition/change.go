package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// A change is the subject of one departure from how the maker built it while it
// is followed.
type change struct {
	*Subject
	Why     string
	Affects []string
	at      moment // of the last time
	made    []moment
	back    []moment
}

// changes makes a subject of each change, by its key or by what it is.
func (j *judge) changes() {
	for i, e := range j.machine.Entries {
		for _, c := range e.Changed {
			j.changed(i, e, c)
		}
		for _, p := range e.PutBack {
			if c := j.change[p.Key]; c != nil {
				c.tell(Event{Entry: j.evidence(i), What: WasPutBack, Said: p.How, By: e.By})
				c.back = append(c.back, moment{i, worked})
			}
		}
	}
	for _, c := range j.allChanges {
		if slices.ContainsFunc(c.back, func(b moment) bool { return j.endsAll(b, c.made) }) {
			c.Standing = InOrder
		}
	}
}

func (j *judge) changed(i int, e *logbook.Entry, f logbook.Change) {
	key := f.Key
	if key == "" {
		key = "\x00" + logbook.Folded(f.What) // no key is like it
	}
	c := j.change[key]
	if c == nil {
		c = &change{Subject: j.subject(KindChange, f.What)}
		c.Key, c.Safety, c.Adds = f.Key, logbook.SafetyNo, f.Adds
		j.change[key] = c
		j.allChanges = append(j.allChanges, c)
	}
	c.Adds = c.Adds && f.Adds
	c.Safety = c.Safety.Graver(f.Safety)
	if !slices.Contains(c.Systems, f.System) && f.System != "" {
		c.Systems = append(c.Systems, f.System)
	}
	if j.inSafetySystem(c.Systems) {
		c.Safety = logbook.SafetyYes
	}
	c.Standing, c.at = Changed, moment{i, worked}
	if slices.ContainsFunc(c.back, func(b moment) bool { return j.endsAll(b, c.made) && j.order(c.at, b) == after }) {
		c.wordings = nil // what it was before is not what it is now, and its history tells it
	}
	c.made = append(c.made, c.at)
	c.tell(Event{Entry: j.evidence(i), What: WasChanged, Said: f.What, By: e.By})
	c.wordings = distinct(append([]string{clause(f.What)}, c.wordings...)) // what it is by now comes first
	if f.Why != "" {
		if c.Why == "" {
			c.Why = f.Why
		}
		c.tell(Event{Entry: j.evidence(i), What: Why, Said: f.Why, By: e.By})
	}
	if f.Caution != "" {
		c.tell(Event{Entry: j.evidence(i), What: Caution, Said: f.Caution, By: e.By})
	}
	c.Affects = append(c.Affects, f.Affects...)
	for _, a := range f.Affects {
		c.tell(Event{Entry: j.evidence(i), What: Affects, Said: a, By: e.By})
	}
}

// settleChanges works out which changes are open. One that the shop says makes
// it safer is not, once a safety point of its system passes after it.
func (j *judge) settleChanges() {
	for _, c := range j.allChanges {
		c.settle()
		if c.Adds && j.safetyPass(c) {
			c.Open = false
		}
	}
}

func (j *judge) safetyPass(c *change) bool {
	return slices.ContainsFunc(j.allPoints, func(p *point) bool {
		return p.Safety == logbook.SafetyYes && j.speaksFor(p, c.Systems) && p.Standing == InOrder && j.order(p.last, c.at) == after
	})
}

// missing makes a subject of each part that was gone on arrival. It is replaced
// by a part that was fitted and says so, or has its very name.
func (j *judge) missing() {
	for _, gone := range j.machine.Missing {
		s := j.subject(KindMissing, gone.Part)
		s.Safety, s.Standing = gone.Safety, Missing
		if gone.System != "" {
			s.Systems = []string{gone.System}
		}
		if j.inSafetySystem(s.Systems) {
			s.Safety = logbook.SafetyYes
		}
		s.tell(Event{Entry: j.itself, What: WasMissing, Said: gone.Part})
		if j.replaced(s, gone.Part) {
			s.Standing = InOrder
		}
		if !slices.ContainsFunc(s.History, func(e Event) bool { return e.What == WasReplaced }) {
			s.Absent = &Absence{Of: NoReplacement}
		}
		s.settle()
	}
}

// replaced tells whether a part stands in for a missing one: it was fitted, and
// certainly after each time that one came out again.
func (j *judge) replaced(s *Subject, gone string) bool {
	var in, out []moment
	for i, e := range j.machine.Entries {
		for _, p := range e.Parts {
			if !logbook.Same(p.Part, gone) && !logbook.Same(p.Replaces, gone) {
				continue
			}
			switch {
			case p.Fate == logbook.Fitted:
				in = append(in, moment{i, worked})
				s.tell(Event{Entry: j.evidence(i), What: WasReplaced, Said: p.Part, By: e.By})
			case j.cameOut(i, p):
				out = append(out, moment{i, worked})
				what := WasTakenOut
				if p.Fate == logbook.Returned {
					what = WentBack
				}
				s.tell(Event{Entry: j.evidence(i), What: what, Said: p.Part, By: e.By})
			}
		}
	}
	return slices.ContainsFunc(in, func(f moment) bool {
		return !slices.ContainsFunc(out, func(o moment) bool { return j.order(o, f) != before })
	})
}
