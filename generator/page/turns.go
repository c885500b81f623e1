package page

import (
	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// turns are what an evening found, repaired, worked around and changed, in the
// words of that evening: what a later one says never reaches back.
func (s *composer) turns(r *condition.Report, e *logbook.Entry) []Turn {
	var all []Turn
	for _, d := range e.Defects {
		t := s.defectTurn(r, e, d.Key, "found", Fact{"turn.effect", d.Effect, ""})
		t.What = d.Defect
		all = append(all, t)
	}
	for _, f := range e.Repaired {
		kind := "repaired"
		switch {
		case f.How == "":
			kind = "proof"
		case f.Proof != "":
			kind = "proven"
		}
		all = append(all, s.defectTurn(r, e, f.Key, kind, Fact{"turn.how", f.How, ""}, Fact{"turn.proved-by", f.Proof, ""}))
	}
	for _, w := range e.WorkedAround {
		all = append(all, s.defectTurn(r, e, w.Key, "around", Fact{"turn.how", w.How, ""}, Fact{"turn.left", w.Left, ""}))
	}
	for _, g := range e.Gone {
		all = append(all, s.defectTurn(r, e, g.Key, "gone", Fact{"turn.with", g.With, ""}))
	}
	for _, c := range e.Changed {
		t := s.aTurn("changed", c.What, Fact{"turn.why", c.Why, ""}, Fact{"turn.affects", s.Words.List(c.Affects), ""}, Fact{"turn.caution", c.Caution, ""})
		if of := r.Keyed(condition.KindChange, c.Key, e.File); of != nil {
			t.Safety, t.ID = of.Safety == logbook.SafetyYes, of.ID
		}
		all = append(all, t)
	}
	for _, p := range e.PutBack {
		t := s.aTurn("back", p.Key, Fact{"turn.how", p.How, ""})
		if of := r.Keyed(condition.KindChange, p.Key, e.File); of != nil {
			t.What, t.Safety, t.ID = of.Name, of.Safety == logbook.SafetyYes, of.ID
		}
		all = append(all, t)
	}
	return all
}

// defectTurn is a turn in the life of a defect, by the name that it had first.
func (s *composer) defectTurn(r *condition.Report, e *logbook.Entry, key, kind string, lines ...Fact) Turn {
	of := r.Keyed(condition.KindDefect, key, e.File)
	if of == nil {
		return s.aTurn(kind, key, lines...)
	}
	if kind == "found" && of.History[0].Entry.File != e.File {
		kind = "again"
	}
	t := s.aTurn(kind, of.Name, lines...)
	t.Safety, t.ID = of.Safety == logbook.SafetyYes, of.ID
	return t
}

func (s *composer) aTurn(kind, what string, lines ...Fact) Turn {
	t := Turn{Kind: kind, Label: s.say("turn." + kind), What: what}
	for _, f := range lines {
		if f.Value != "" {
			t.Lines = append(t.Lines, Fact{Label: s.say(f.Label), Value: f.Value})
		}
	}
	return t
}
