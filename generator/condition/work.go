package condition

import (
	"cmp"
	"slices"
	"strings"

	"asleft/generator/logbook"
)

// A work is something done in an entry that can make evidence out of date.
type work struct {
	at      moment
	systems []string // as the log says them
	reach   []string // with the built-in ones that they are part of
	placed  []string // where it certainly was
	nowhere bool     // nobody can tell where on the machine
	unsaid  bool     // the log does not say where
	affects []string // what it names besides
	by      string   // in words
	key     string   // of the defect or the change that it is of
	of      string   // the name of the part or the change that it put in, or undid
	undoes  bool     // it took a part out again, or put a change back
	fault   bool     // no work but a fault found
}

// reach is some systems with the built-in ones that they are part of; nothing
// where one of the shop's own says not what it is part of, for then nobody can
// tell.
func (j *judge) reach(systems []string) []string {
	var all []string
	for _, s := range systems {
		if s == "" {
			continue
		}
		if !slices.Contains(logbook.Systems, s) {
			of := j.shop.PartOf[s]
			if len(of) == 0 {
				return nil
			}
			all = append(all, of...)
		}
		all = append(all, s)
	}
	return all
}

// placed is some systems with those that they are part of, of which the log says
// that this is there: one that is part of no other is a place too, wherever it is.
func (j *judge) placed(systems []string) []string {
	var all []string
	for _, s := range systems {
		if s != "" {
			all = append(append(all, s), j.shop.PartOf[s]...)
		}
	}
	return all
}

// meet tells whether two lists have something in common.
func meet(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// inSafetySystem tells whether one of the systems is guards, brakes or steering,
// or part of them.
func (j *judge) inSafetySystem(systems []string) bool {
	return slices.ContainsFunc(systems, func(s string) bool {
		return slices.ContainsFunc(j.reach([]string{s}), func(r string) bool { return slices.Contains(logbook.SafetySystems, r) })
	})
}

// maybeSafety tells whether what is in a system may be in guards, brakes or steering: it
// is, or the log does not say what that system is part of.
func (j *judge) maybeSafety(system string) bool {
	reach := j.reach([]string{system})
	return len(reach) == 0 || meet(reach, logbook.SafetySystems)
}

// touches tells whether a work touches what is in those systems or has one of
// those names. Evidence whose system is not known is touched by any work.
func (w *work) touches(reach []string, names ...string) bool {
	if w.nowhere || len(reach) == 0 {
		return true
	}
	return meet(w.reach, reach) || w.names(reach, names)
}

// names tells whether a work says that it affects one of those.
func (w *work) names(reach, names []string) bool {
	return slices.ContainsFunc(w.affects, func(a string) bool {
		return slices.ContainsFunc(slices.Concat(names, reach), func(n string) bool { return n != "" && logbook.Same(n, a) })
	})
}

// shows tells whether the log shows that a work was in the systems of a subject or
// on one of its names. Work that may have been anywhere shows nothing; work in the
// shop's own system that is part of no other was there, wherever that is.
func (j *judge) shows(w *work, s *Subject, names ...string) bool {
	return w.names(s.systems, names) || meet(w.placed, j.placed(s.Systems))
}

// works are all the works of the machine's entries, in their order.
func (j *judge) works() {
	for i, e := range j.machine.Entries {
		add := func(key, by string, systems, affects []string, of string) *work {
			w := work{at: moment{i, worked}, systems: systems, reach: j.reach(systems), placed: j.placed(systems), affects: affects, key: of}
			w.nowhere = len(w.reach) == 0
			w.unsaid = strings.Join(systems, "") == ""
			for _, a := range affects {
				if slices.Contains(j.shop.Systems, a) {
					w.affects = append(w.affects[:len(w.affects):len(w.affects)], j.reach([]string{a})...)
				}
			}
			w.by = j.words.Say("work."+key, "what", clause(by))
			j.done = append(j.done, w)
			return &j.done[len(j.done)-1]
		}
		for _, p := range e.Parts {
			j.fitted(i, p, add)
		}
		for _, r := range e.Repaired {
			if r.How != "" { // else it only brings the proof
				add("repaired", r.How, logbook.SystemsOf(j.machine.Entries[:i+1], r.Key), r.Affects, r.Key)
			}
		}
		for _, w := range e.WorkedAround {
			add("around", w.How, logbook.SystemsOf(j.machine.Entries[:i+1], w.Key), w.Affects, w.Key)
		}
		for _, c := range e.Changed {
			add("changed", c.What, []string{c.System}, c.Affects, c.Key).of = c.What
		}
		for _, p := range e.PutBack {
			what, systems := j.changeOf(p.Key)
			w := add("put-back", p.How, systems, p.Affects, p.Key)
			w.of, w.undoes = what, true
		}
		for _, w := range e.WorkedOn {
			add("worked-on", w.System, []string{w.System}, nil, "")
		}
		for _, s := range e.Service {
			if s.System != "" && j.maybeSafety(s.System) {
				add("service", s.What, []string{s.System}, nil, "")
			}
		}
	}
}

// fitted takes in a part that was put in, or came out again. Consumables are no
// work outside guards, brakes and steering; one without a system may be there.
func (j *judge) fitted(i int, p logbook.Part, add func(key, by string, systems, affects []string, of string) *work) {
	key := map[string]string{logbook.Fitted: "fitted", logbook.TakenOut: "taken-out", logbook.Returned: "went-back"}[p.Fate]
	if key == "" || p.Fate != logbook.Fitted && !j.cameOut(i, p) {
		return
	}
	w := add(key, p.Part, []string{p.System}, p.Affects, "")
	w.of, w.undoes = p.Part, p.Fate != logbook.Fitted
	if p.Consumable && !j.maybeSafety(p.System) { // a defect can have left with it all the same
		j.swapped, j.done = append(j.swapped, *w), j.done[:len(j.done)-1]
	}
}

// cameOut tells whether a part of an entry is out of the machine by then: it was taken out,
// or one of its name was put in before and it went back to the seller.
func (j *judge) cameOut(i int, p logbook.Part) bool {
	if p.Fate != logbook.Returned {
		return p.Fate == logbook.TakenOut
	}
	was := func(in logbook.Part) bool { return in.Fate == logbook.Fitted && logbook.Same(in.Part, p.Part) }
	for n, e := range j.machine.Entries[:i] {
		if j.order(moment{n, worked}, moment{i, worked}) == before && slices.ContainsFunc(e.Parts, was) {
			return true
		}
	}
	return false
}

// changeOf is what the change of that key was called first, and all systems that it is
// said to be in; nothing where the log has none.
func (j *judge) changeOf(key string) (what string, systems []string) {
	for _, e := range j.machine.Entries {
		for _, c := range e.Changed {
			if c.Key != key {
				continue
			}
			if what == "" {
				what = c.What
			}
			if !slices.Contains(systems, c.System) {
				systems = append(systems, c.System)
			}
		}
	}
	return what, systems
}

// since is the first work that may have come after a moment, in those systems or
// on what has those names; nil where there is none.
func (j *judge) since(at moment, reach []string, names ...string) *work {
	return j.notFollowed([]moment{at}, reach, names...)
}

// notFollowed is the first work there that none of those moments was certainly
// after; nil where there is none. Two readings of a day, one without its time, may
// each follow what the other does not.
func (j *judge) notFollowed(all []moment, reach []string, names ...string) *work {
	return j.firstAfter(all, j.done, func(w *work) bool { return w.touches(reach, names...) && !j.followed(w.at, all) })
}

// firstAfter is the first of some works that is so and certainly came after those
// moments, else the first that may have; nil where there is none.
func (j *judge) firstAfter(all []moment, works []work, so func(*work) bool) *work {
	var first *work
	for i := range works {
		w := &works[i]
		if !so(w) {
			continue
		}
		if !j.mayPrecede(w, all) {
			return w
		}
		first = cmp.Or(first, w)
	}
	return first
}

// mayPrecede tells whether the log leaves open if a work was before one of those moments.
func (j *judge) mayPrecede(w *work, all []moment) bool {
	return slices.ContainsFunc(all, func(m moment) bool { return j.order(w.at, m) == open })
}

// sooner tells whether a work is told rather than another: one that certainly came after
// those moments, else the one that stands first in the log.
func (j *judge) sooner(w, than *work, all []moment) bool {
	if may := j.mayPrecede(w, all); may != j.mayPrecede(than, all) {
		return !may
	}
	return w.at.entry < than.at.entry
}

// followed tells whether one of those moments was certainly after another.
func (j *judge) followed(at moment, by []moment) bool {
	return slices.ContainsFunc(by, func(m moment) bool { return j.order(m, at) == after })
}

// shownBetween tells whether the log shows work where a subject is between two moments.
func (j *judge) shownBetween(from, to moment, s *Subject, names ...string) bool {
	return slices.ContainsFunc(j.done, func(w work) bool { return j.within(w.at, from, to) && j.shows(&w, s, names...) })
}

// between tells whether there may have been work in those systems between two moments.
func (j *judge) between(from, to moment, reach []string, names ...string) bool {
	return slices.ContainsFunc(j.done, func(w work) bool {
		return j.within(w.at, from, to) && w.touches(reach, names...)
	})
}

// within tells whether a moment may lie between two others.
func (j *judge) within(at, from, to moment) bool {
	return j.order(at, from) != before && j.order(at, to) != after
}

// shownIn tells whether an entry shows work where a subject is.
func (j *judge) shownIn(entry int, s *Subject, names ...string) bool {
	return slices.ContainsFunc(j.done, func(w work) bool { return w.at.entry == entry && j.shows(&w, s, names...) })
}

// touch is a work as the report tells it, beside the evidence of those moments.
func (j *judge) touch(w *work, all ...moment) *Touch {
	if w == nil {
		return nil
	}
	t := &Touch{
		Entry: j.evidence(w.at.entry), By: w.by, Systems: w.systems, Nowhere: w.unsaid, Unplaced: w.nowhere && !w.unsaid, Fault: w.fault,
		SameDay: j.mayPrecede(w, all), Vague: !j.machine.Entries[w.at.entry].Date.Exact(),
	}
	for _, m := range all {
		t.Vague = t.Vague || j.order(w.at, m) == open && !j.machine.Entries[m.entry].Date.Exact()
	}
	return t
}
