package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// conclusions tells what the shop concluded of a system while it looked for the
// fault, where nothing that the log says later answers it. It is told in the
// shop's words, and is no subject: nobody knows if it was right.
func (j *judge) conclusions() {
	sec := j.section(SectionNotChecked)
	for i, e := range j.machine.Entries {
		for _, step := range e.Diagnosis {
			if step.So == "" || j.answeredSince(i, j.reach([]string{step.System})) {
				continue
			}
			told, front := "trail.unanswered", "front.trail"
			if step.Tried != "" {
				told, front = "trail.unanswered-tried", "front.trail-tried"
			}
			text := j.words.Say(told, "when", j.when(e.Date), "so", clause(step.So), "tried", clause(step.Tried))
			sec.Statements = append(sec.Statements, Statement{Text: text, Evidence: []Evidence{j.evidence(i)}})
			j.report.Front.Unwritten = append(j.report.Front.Unwritten, Line{Text: j.words.Say(front, "when", j.when(e.Date), "so", clause(step.So), "tried", clause(step.Tried)), Part: SectionNotChecked})
		}
	}
}

// answeredSince tells whether a defect, a repair, a check or a reading in those
// systems was written in an entry or after it. Where no system is known, any is. A repair
// is also where its parts went: an engine that dies is put right with a vent of the tank.
func (j *judge) answeredSince(entry int, reach []string) bool {
	in := func(systems []string) bool {
		return len(reach) == 0 || slices.ContainsFunc(systems, func(s string) bool { return slices.Contains(reach, s) })
	}
	repair := func(e *logbook.Entry) bool {
		return slices.ContainsFunc(e.Repaired, func(r logbook.Repair) bool { return r.How != "" }) &&
			slices.ContainsFunc(e.Parts, func(p logbook.Part) bool { return p.Fate == logbook.Fitted && in(j.reach([]string{p.System})) })
	}
	return slices.ContainsFunc(j.machine.Entries[entry:], repair) || slices.ContainsFunc(j.report.Subjects, func(s *Subject) bool {
		if s.Kind != KindDefect && s.Kind != KindPoint && s.Kind != KindMeasurement || !in(j.reach(s.Systems)) {
			return false
		}
		return slices.ContainsFunc(s.History, func(e Event) bool {
			return e.What != Unanswered && e.What != Served && !j.earlier(e, entry)
		})
	})
}

// earlier tells whether an event was written in an entry before another, or in that one
// but is from before its work.
func (j *judge) earlier(ev Event, entry int) bool {
	n := slices.IndexFunc(j.machine.Entries, func(e *logbook.Entry) bool { return e.File == ev.Entry.File })
	asFound := ev.AsFound || ev.Value != nil && ev.Value.AsFound
	return n < entry || n == entry && asFound
}
