package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// A Front is what stands on the front sheet, in its order: each part names its
// subjects, and nothing there is a count without names.
type Front struct {
	Hurt       []Line // can it hurt you?
	Wrong      []Line // what is wrong with it?
	Repaired   []Line // what was put right, and was that proven?
	Changed    []Line // what is not as the maker built it?
	Unwritten  []Line // what is not written down?
	Look       []Line // look for yourself before you pay
	Hours      []Line // hours on it, running since the last work
	AsOf       logbook.Date
	NothingBad bool // neither open nor wrong
}

// A Line is one sentence or short phrase of the front sheet. Subject is what it
// names, nil where it names several.
type Line struct {
	Text    string
	Subject *Subject
}

// front fills in the front sheet.
func (j *judge) front() {
	f := &j.report.Front
	f.AsOf = j.report.AsOf
	for _, s := range j.ordered() {
		line := Line{j.frontLine(s), s}
		switch {
		case s.unanswered():
			// told by system below
		case s.Open:
			f.Hurt = append(f.Hurt, line)
		case s.Section() == SectionWrong:
			f.Wrong = append(f.Wrong, line)
		case s.Kind == KindDefect:
			f.Repaired = append(f.Repaired, line)
		case s.Section() == SectionChanged:
			f.Changed = append(f.Changed, line)
		}
	}
	f.NothingBad = len(f.Hurt) == 0 && len(f.Wrong) == 0
	f.Hurt = append(f.Hurt, j.bySystem("front.not-checked", func(s *Subject) bool { return s.Open && s.unanswered() && s.Standing == NotChecked })...)
	f.Hurt = append(f.Hurt, j.bySystem("front.out-of-date", func(s *Subject) bool { return s.Open && s.unanswered() && s.Standing == OutOfDate })...)
	f.Hurt = append(f.Hurt, j.named("front.not-said", func(s *Subject) bool { return s.Open && s.Safety == logbook.NotSaid })...)
	f.Hurt = append(f.Hurt, j.notApplying()...)
	f.Unwritten = append(f.Unwritten, j.bySystem("front.not-checked", func(s *Subject) bool { return !s.Open && s.unanswered() && s.Standing == NotChecked })...)
	f.Unwritten = append(f.Unwritten, j.bySystem("front.out-of-date", func(s *Subject) bool { return !s.Open && s.unanswered() && s.Standing == OutOfDate })...)
	f.Unwritten = append(f.Unwritten, j.named("front.readings-out-of-date", func(s *Subject) bool { return s.Kind == KindMeasurement && !s.Open && s.Standing == OutOfDate })...)
	f.Unwritten = append(f.Unwritten, j.named("front.no-limit", func(s *Subject) bool { return s.Kind == KindMeasurement && !s.Open && s.Standing == NoLimit })...)
	j.look()
	for _, s := range j.report.Subjects {
		if s.Kind == KindMeter {
			f.Hours = append(f.Hours, Line{s.Told, s})
		}
	}
	r := j.report.Run
	f.Hours = append(f.Hours, Line{Text: j.words.Say(j.runKey(), "run", j.words.Length(int(r.Since)), "all", j.words.Length(int(r.All)), "when", j.when(r.Work))})
}

// unanswered tells of a point that the front sheet names among others of its
// system: one without an answer, or whose answer is out of date.
func (s *Subject) unanswered() bool {
	return s.Kind == KindPoint && (s.Standing == NotChecked || s.Standing == OutOfDate)
}

// frontLine is a subject in a dozen words.
func (j *judge) frontLine(s *Subject) string {
	switch s.Kind {
	case KindMeasurement, KindList:
		if s.Kind == KindList {
			return j.words.Say("front.list." + key(s.Standing))
		}
		return j.words.Say("measurement."+key(s.Standing), "name", opening(s.Name))
	case KindMeter:
		return s.Told
	case KindPoint:
		return j.words.Say("front.point."+key(s.Standing), "item", clause(s.Name))
	}
	name := opening(j.words.Each(wordingsOf(s)))
	text := j.words.Say("front."+keyOf(string(s.Kind))+"."+key(s.Standing), "name", name)
	if s.Adds {
		text = j.words.Say("front.change.adds", "name", name)
	}
	return text
}

// wordingsOf are all that a defect was called; of any other subject its name.
func wordingsOf(s *Subject) []string {
	all := []string{clause(s.Name)}
	if s.Kind == KindDefect {
		for _, e := range s.History {
			if e.What == Found || e.What == FoundAgain {
				all = append(all, clause(e.Said))
			}
		}
	}
	return distinct(all)
}

// bySystem names the points that are so, in one sentence for each system.
func (j *judge) bySystem(key string, is func(*Subject) bool) []Line {
	var lines []Line
	var systems [][]string
	all := j.report.where(is)
	for _, s := range all {
		if !slices.ContainsFunc(systems, func(had []string) bool { return slices.Equal(had, s.Systems) }) {
			systems = append(systems, s.Systems)
		}
	}
	for _, of := range systems {
		var shorts []string
		for _, s := range all {
			if slices.Equal(s.Systems, of) {
				shorts = append(shorts, s.short())
			}
		}
		lines = append(lines, Line{Text: j.words.Say(key, "systems", j.words.List(of), "names", j.words.List(shorts))})
	}
	return lines
}

func (j *judge) named(key string, is func(*Subject) bool) []Line {
	all := j.report.where(is)
	if len(all) == 0 {
		return nil
	}
	return []Line{{Text: j.words.Say(key, "names", j.words.Each(names(all)))}}
}

// short is a point's short name, or its whole wording.
func (s *Subject) short() string {
	if s.Short != "" {
		return clause(s.Short)
	}
	return clause(s.Name)
}

// notApplying names the safety points that the shop says do not apply, with its
// reasons.
func (j *judge) notApplying() []Line {
	var lines []Line
	for _, s := range j.report.Subjects {
		if s.Kind != KindPoint || s.Standing != DoesNotApply || s.Safety == logbook.SafetyNo {
			continue
		}
		text := ""
		if last := s.lastAnswer(); last != nil {
			text = j.words.Say("front.does-not-apply", "item", clause(s.Name), "why", clause(last.Said))
		} else {
			text = j.words.Say("front.lacks", "item", clause(s.Name), "what", clause(s.Item.OnlyIf))
		}
		lines = append(lines, Line{text, s})
	}
	return lines
}

// looks is how many checks a buyer is asked to make.
const looks = 3

// look picks the checks that matter most here: of the gravest open safety points
// first, then of the first guards.
func (j *judge) look() {
	f := &j.report.Front
	add := func(s *Subject) {
		if s.Item != nil && s.Item.Look != "" && len(f.Look) < looks && !slices.ContainsFunc(f.Look, func(l Line) bool { return l.Subject == s }) {
			f.Look = append(f.Look, Line{s.Item.Look, s})
		}
	}
	for _, s := range j.ordered() {
		if s.Open {
			add(s)
		}
	}
	for _, s := range j.report.Subjects {
		if slices.Contains(s.Systems, logbook.Guards) && s.Standing != DoesNotApply {
			add(s)
		}
	}
}
