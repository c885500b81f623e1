package main

// A fault is one that the judge had, with the edits that bring it back.
type fault struct {
	name  string
	edits []edit
}

type edit struct{ file, is, was string }

const (
	point       = "generator/condition/point.go"
	defect      = "generator/condition/defect.go"
	work        = "generator/condition/work.go"
	order       = "generator/condition/order.go"
	change      = "generator/condition/change.go"
	measurement = "generator/condition/measurement.go"
	judge       = "generator/condition/judge.go"
	limits      = "generator/benchtest/find.go"
	plain       = "generator/benchtest/measured.go"
	sheet       = "generator/logbook/sheet.go"
)

var faults = []fault{
	{"a failure that was later not checked is gone", []edit{
		{point, "	if result != Unanswered {\n", "	if result == Unanswered {\n\t\tp.answers = nil\n\t} else {\n"},
	}},
	{"fails and works in one entry is works", []edit{
		{point, "if !good || j.order(a.at, f.at) != after {", "if !good || j.order(a.at, f.at) == before {"},
		{point, "return a.at.entry != f.at.entry || j.shownIn(f.at.entry, p.Subject, p.names()...)", "return true"},
	}},
	{"a defect found again in milder words loses the first", []edit{
		{defect, "		if logbook.Same(p.words, words) {", "		if words != \"\" {\n\t\t\tp.words = words"},
	}},
	{"a proof that later work overtook still counts", []edit{
		{defect, "if j.since(proof, p.reach, d.Name, d.Key) != nil {", "if proof.entry < 0 {"},
	}},
	{"evidence without a system is touched by no work", []edit{
		{work, "if w.nowhere || len(reach) == 0 {", "if w.nowhere {"},
	}},
	{"work without a system touches nothing", []edit{
		{work, "if w.nowhere || len(reach) == 0 {", "if len(reach) == 0 {"},
	}},
	{"safety that nobody said is no", []edit{
		{defect, "d.Safety = d.Safety.Graver(f.Safety)", "if f.Safety != logbook.NotSaid {\n\t\td.Safety = d.Safety.Graver(f.Safety)\n\t}"},
	}},
	{"a reading outside its limit before the last one is told nowhere", []edit{
		{measurement, "for i := len(m.at) - 1; i >= 0; i-- {", "for i := len(m.at) - 1; i >= len(m.at)-1; i-- {"},
	}},
	{"the shop's own limit replaces the published one", []edit{
		{limits, "own > 0 && !b.kind.safety && !p.firm {", "own > 0 {"},
		{plain, "always(m, r.What, k); !p.limit.IsZero() {", "always(m, r.What, k); !p.limit.IsZero() && len(j.Own) == 0 {"},
	}},
	{"a sheet that the shop names replaces the built-in one", []edit{
		{sheet, "		case !slices.Contains(use, s):\n			use = append(use, s)", "		case !slices.Contains(use, s):\n			use = []*Sheet{s}"},
	}},
	{"a part on order that never came counts as fitted", []edit{
		{change, "if !logbook.Same(p.Part, gone) && ", "if (len(p.Part) < len(gone) || !logbook.Same(p.Part[:len(gone)], gone)) && "},
	}},
	{"entries of one day without a time are in the order of their files", []edit{
		{order, "	return open\n}\n\n// evidenceAt", "	if a.entry < b.entry {\n\t\treturn before\n\t}\n\treturn after\n}\n\n// evidenceAt"},
	}},
	{"what a change affects is not made out of date", []edit{
		{work, "	return slices.ContainsFunc(w.affects, func(a string) bool {", "	return len(w.affects) < 0 && slices.ContainsFunc(w.affects, func(a string) bool {"},
	}},
	{"the listing and the texts hold no failing measurement", []edit{
		{judge, "func (r *Report) Wrong() []*Subject {\n	return r.where(func(s *Subject) bool { return Bad(s.Standing) })", "func (r *Report) Wrong() []*Subject {\n	return r.where(func(s *Subject) bool { return Bad(s.Standing) && s.Kind != KindMeasurement })"},
	}},
	{"a fault found later leaves safety points in order", []edit{
		{point, "	if p.Safety != logbook.SafetyYes {\n		return nil\n	}\n	return j.firstAfter(passes, j.faultsFound", "	if p.Name != \"\" {\n		return nil\n	}\n	return j.firstAfter(passes, j.faultsFound"},
	}},
	{"an oil change makes checks out of date", []edit{
		{work, "p.Consumable && !j.maybeSafety(p.System)", `p.Consumable && p.System == "none"`},
	}},
	{"a defect that left with its part is still there", []edit{
		{defect, "		if d.gone != nil {", "		if d.gone != nil && d.Key == \"\" {"},
	}},
	{"what does not apply is told as not checked", []edit{
		{point, "	case j.notHere(p):\n		p.Standing = DoesNotApply", "	case j.notHere(p) && p.Name == \"\":\n		p.Standing = DoesNotApply"},
	}},
	{"one of two places answers for both", []edit{
		{point, "	if place := j.otherPlace(p); w == nil && place != nil {", "	if place := j.otherPlace(p); w == nil && place != nil && p.Name == \"\" {"},
	}},
	{"a fault put right passes over what was measured outside", []edit{
		{point, "	if measured != nil && (failed == nil || mended) {", "	if measured != nil && failed == nil {"},
	}},
}
