package condition

import (
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// tell writes the sentences of the report about a subject.
func (j *judge) tell(s *Subject) {
	t := j.saying()
	switch s.Kind {
	case KindDefect:
		j.tellDefect(t, s)
	case KindPoint:
		j.tellPoint(t, s)
	case KindMeasurement:
		t.say("measurement."+s.standingKey(), "name", Opening(s.Name))
		if s.SameEvening != "" {
			t.say("measurement.same-evening")
		}
	case KindChange:
		j.tellChange(t, s)
	case KindMissing:
		j.tellMissing(t, s)
	case KindList:
		j.tellList(t, s)
	case KindMeter:
		j.tellMeter(t, s)
	}
	j.tellTouched(t, s)
	if len(s.Evidence) == 0 {
		s.Evidence = []Evidence{j.itself}
	}
	s.Told = t.text()
}

// tellDefect tells a defect's whole life, in every wording that the log has.
func (j *judge) tellDefect(t *saying, s *Subject) {
	if s.Again != nil {
		t.say("defect.key-again", "name", clause(s.Again.Name))
	}
	for _, d := range j.allDefects {
		if d.Subject == s {
			j.tellLife(t, d)
			j.tellLeft(t, d)
		}
	}
}

// tellWhat tells what a defect is and what it does first, and gives back what else
// it does.
func (j *judge) tellWhat(t *saying, d *defect) []string {
	effects := distinct(d.Effects)
	found := j.when(d.History[0].Entry.Date)
	if len(effects) == 0 {
		t.say("defect.what", "defect", Opening(d.Name), "when", found)
		return nil
	}
	t.say("defect.what-effect", "defect", Opening(d.Name), "effect", clause(effects[0]), "when", found)
	return effects[1:]
}

func (j *judge) tellLife(t *saying, d *defect) {
	effects := j.tellWhat(t, d)
	said := map[string]bool{logbook.Folded(d.Name): true}
	for n, e := range d.History {
		if e.What == Effect && len(effects) > 0 && logbook.Same(e.Said, effects[0]) {
			t.say("defect.effect", "effect", clause(e.Said))
			effects = effects[1:]
		}
		if e.What == Effect || e.What == Remains && d.Standing == WorkedAround && logbook.Same(e.Said, d.Left) {
			continue // told in its place
		}
		new := !said[logbook.Folded(e.Said)]
		said[logbook.Folded(e.Said)] = true
		pairs := []any{"said", clause(e.Said), "when", j.when(e.Entry.Date)}
		switch {
		case e.What == Found && n == 0:
			continue // told with what it is
		case (e.What == FoundAgain || e.What == Found) && new:
			t.say("defect.found-words", pairs...)
		case e.What == FoundAgain || e.What == Found:
			t.say("defect.found-again", pairs...)
		case e.What == Proved && n > 0 && d.History[n-1].What == Repaired && d.History[n-1].Entry == e.Entry:
			t.say("defect.proof", pairs...)
		case e.What == Remains:
			t.say("defect.left-then", pairs...)
		default:
			t.say("defect."+Standing(e.What).Key(), pairs...)
		}
	}
}

// tellLeft tells what a work-around leaves, and where a defect stands.
func (j *judge) tellLeft(t *saying, d *defect) {
	if d.Standing == WorkedAround {
		t.sayIf(d.Left, "defect.left", "left")
	}
	switch {
	case d.Standing == Wrong && len(d.unproven) > 0 && d.workedOnLast():
		t.say("defect.still-so-of", "words", j.words.Each(d.unproven))
	case d.Standing == Wrong:
		t.say("defect.still-so")
	case d.Standing == NotProven && d.Touched != nil: // told with what undid it
	case d.Standing == NotProven && d.Absent.Of == NoCheck && len(d.named) > 0:
		t.say("defect.no-pass-of", "items", j.words.Each(d.named))
	case d.Standing == NotProven && d.Absent.Of == NoCheck:
		t.say("defect.no-pass", "systems", j.words.List(d.wanted))
	case d.Standing == NotProven && len(d.unproven) > 0:
		t.say("defect.no-proof-of", "words", j.words.Each(d.unproven))
	case d.Standing == NotProven:
		t.say("defect.no-proof")
	case d.Standing == InOrder && d.provedBy != "":
		t.say("defect.proved-by", "item", clause(d.provedBy), "when", j.when(j.machine.Entries[d.provedAt.entry].Date))
	}
}

func (j *judge) tellPoint(t *saying, s *Subject) {
	item := clause(s.Name)
	switch s.Standing {
	case Wrong:
		if last := s.lastAnswer(); last != nil && last.What == Fails {
			t.say("point.fails", "item", item, "when", j.when(last.Entry.Date))
			t.sayIf(last.Said, "answer.noted", "note")
			j.tellAnswers(t, s, s.besides(last))
			j.tellBeside(t, s)
			return
		}
		t.say("point.wrong", "item", item)
	case InOrder:
		t.say("point.in-order", "item", item)
	case NotChecked:
		t.say("point.not-checked", "item", item)
	case DoesNotApply:
		t.say("point.does-not-apply", "item", item)
		if s.lastAnswer() == nil {
			t.say("point.lacks", "what", clause(s.Item.OnlyIf))
		}
	case OutOfDate:
		if s.overtaken() {
			t.say("points."+s.standingKey(), "work", Opening(s.Touched.By), "when", j.when(s.Touched.Entry.Date))
			j.itemOf(t, s, s.lastPassed(), true)
			j.tellBeside(t, s)
			return
		}
		t.say("point."+s.undoneKey(), "item", item)
	case TooClose:
		t.say("point.measured-close", "item", item)
	default:
		t.say("point.measured", "item", item)
	}
	j.tellAnswers(t, s, s.History)
	j.tellBeside(t, s)
}

// tellBeside tells what was measured for a point, and what the log shows between
// its answers.
func (j *judge) tellBeside(t *saying, s *Subject) {
	j.tellMeasured(t, s)
	j.tellBetween(t, s)
	if s.SameEvening != "" {
		t.say("point.same-evening")
	}
}

// overtaken tells of a point that a check found as it should be, with work or a fault
// there since: it is told by that work.
func (s *Subject) overtaken() bool {
	return s.Kind == KindPoint && s.Standing == OutOfDate && s.Touched != nil && s.lastlyWorked()
}

// tellMeasured names what was measured for a point, by where it stands.
func (j *judge) tellMeasured(t *saying, s *Subject) {
	var keys []string
	names := map[string][]string{}
	for _, standing := range worst {
		for _, m := range s.AnsweredBy {
			if key := m.standingKey(); m.Standing == standing {
				keys, names[key] = append(keys, key), append(names[key], clause(m.Name))
			}
		}
	}
	for _, key := range distinct(keys) {
		t.say("beside."+key, "names", j.words.Each(names[key]))
	}
	if s.Absent != nil && s.Absent.Of == NoVerdict {
		t.say("point.no-verdict")
	}
}

// tellBetween tells that no work stands between a failure and the pass.
func (j *judge) tellBetween(t *saying, s *Subject) {
	if s.Unworked != nil {
		key := "point.unworked"
		if slices.ContainsFunc(s.History, func(e Event) bool { return e.What == Fails }) {
			key = "point.unworked-told"
		}
		t.say(key, "failed", j.when(s.Unworked.Failed), "works", j.when(s.Unworked.Works), "systems", j.words.List(j.onThe(s.Systems)))
	}
}

// onThe are systems as one says what was worked on: nobody works on "the electrical".
func (j *judge) onThe(systems []string) []string {
	all := slices.Clone(systems)
	for i, name := range all {
		if key := "on-the." + name; j.words.Has(key) {
			all[i] = j.words.Say(key)
		}
	}
	return all
}

// tellAnswers tells answers that a point got, in the order of the log.
func (j *judge) tellAnswers(t *saying, s *Subject, history []Event) {
	for _, e := range history {
		if e.What == Unanswered && s.Standing != NotChecked && !s.notedLast(e) {
			continue
		}
		key := "answer." + Standing(e.What).Key()
		if e.AsFound && s.answeredTwiceIn(e.Entry) {
			key += ".as-found"
		}
		if e.Said != "" && e.What != Served {
			key += ".note"
		}
		t.say(key, "when", j.when(e.Entry.Date), "note", clause(e.Said))
	}
}

// notedLast tells of a non-answer after the last answer that the shop noted something
// with. It takes nothing away from that answer, but what it says may be the worse news.
// After a failure a word or two are only why it was not tried again.
func (s *Subject) notedLast(e Event) bool {
	last := s.lastAnswer()
	switch {
	case e.What != Unanswered || e.Said == "":
		return false
	case last == nil: // the machine does not have it, says the shop, or it was measured
		return s.Standing != Wrong
	case last.What == Fails && !logbook.Telling(e.Said):
		return false
	}
	return slices.Contains(s.History[slices.Index(s.History, *last)+1:], e)
}

// toldBeside tells whether something that the log said of a point is told beside the last
// answer: all that was not good, and what the shop noted with an earlier pass.
func (s *Subject) toldBeside(e Event, last *Event) bool {
	switch e.What {
	case Works:
		return logbook.Telling(e.Said) && e != *last && !logbook.Same(e.Said, last.Said)
	case Unanswered:
		return s.notedLast(e)
	}
	return true
}

// answeredTwiceIn tells whether an entry has several answers to a point, so that which
// was the first has to be told.
func (s *Subject) answeredTwiceIn(entry Evidence) bool {
	n := 0
	for _, e := range s.History {
		if e.Entry == entry && (e.What == Works || e.What == Fails) {
			n++
		}
	}
	return n > 1
}

// besides is the history without what is told by itself.
func (s *Subject) besides(told *Event) []Event {
	return slices.DeleteFunc(slices.Clone(s.History), func(e Event) bool { return e == *told })
}

// lastAnswer is the last that the log says of a point by a check.
func (s *Subject) lastAnswer() *Event {
	for i := len(s.History) - 1; i >= 0; i-- {
		if e := s.History[i].What; e != Unanswered && e != Served {
			return &s.History[i]
		}
	}
	return nil
}

func (j *judge) tellChange(t *saying, s *Subject) {
	for _, c := range j.allChanges {
		if c.Subject != s {
			continue
		}
		t.say("change.what", "what", Opening(s.Name), "when", j.when(s.History[0].Entry.Date))
		t.sayIf(c.Why, "change.for", "why")
		for _, e := range s.History[1:] {
			switch {
			case e.What == WasChanged && logbook.Same(e.Said, s.Name):
				t.say("change.changed", "when", j.when(e.Entry.Date))
			case e.What == WasChanged:
				t.say("change.changed-words", "said", clause(e.Said), "when", j.when(e.Entry.Date))
			case e.What == WasPutBack:
				t.say("change.put-back", "said", clause(e.Said), "when", j.when(e.Entry.Date))
			case e.What == Why && !logbook.Same(e.Said, c.Why):
				t.say("change.why", "why", clause(e.Said))
			case e.What == Caution:
				t.say("change.caution", "caution", clause(e.Said))
			}
		}
		if len(c.Affects) > 0 {
			t.say("change.affects", "affects", j.words.List(distinct(c.Affects)))
		}
		if s.Adds && s.Standing == Changed {
			t.say("change.adds")
		}
	}
}

func (j *judge) tellMissing(t *saying, s *Subject) {
	switch {
	case s.Absent != nil:
		t.say("missing.not-fitted", "part", clause(s.Name))
	case len(s.History) == 2 && s.Standing == InOrder && logbook.Same(s.History[1].Said, s.Name):
		t.say("missing.put-in", "part", Opening(s.Name), "when", j.when(s.History[1].Entry.Date))
		return
	default:
		t.say("missing.gone", "part", clause(s.Name))
	}
	for _, e := range s.History {
		switch e.What {
		case WasReplaced, WasTakenOut, WentBack:
			t.say(missingKey(e, s), "said", clause(e.Said), "when", j.when(e.Entry.Date))
		}
	}
}

// missingKey is how a turn in the life of a missing part is told: a part in its place
// that goes by another name is named.
func missingKey(e Event, s *Subject) string {
	same := logbook.Same(e.Said, s.Name)
	switch {
	case e.What == WasReplaced && same:
		return "missing.fitted"
	case e.What == WasReplaced:
		return "missing.fitted-other"
	case e.What == WentBack && same:
		return "missing.went-back"
	case e.What == WentBack:
		return "missing.went-back-other"
	case same:
		return "missing.taken-out"
	}
	return "missing.taken-out-other"
}

func (j *judge) tellList(t *saying, s *Subject) {
	switch {
	case s.Standing == Missing && j.machine.Kind == "":
		t.say("list.no-kind")
	case s.Standing == Missing:
		t.say("list.none")
	}
	if names := j.sheetNames(); len(names) > 0 {
		t.say("list.which", "names", j.words.List(names))
	}
	for _, l := range j.machine.LeaveOut {
		t.say("list.left-out", "item", clause(l.Item), "why", clause(l.Why))
	}
}

func (j *judge) sheetNames() []string {
	var names []string
	for _, s := range j.machine.Sheets {
		name := s.Kind
		if !s.BuiltIn {
			name = j.words.Say("list.own", "name", s.Kind)
		}
		names = append(names, name)
	}
	return distinct(names)
}

func (j *judge) tellMeter(t *saying, s *Subject) {
	m := j.report.Count.Meter
	read := Event{}
	for _, e := range s.History {
		if e.What == MeterRead {
			read = e
		}
	}
	switch {
	case m.State == "replaced" && m.HasTotal:
		t.say("meter.replaced", "total", m.Total)
	case m.HasTotal && read.Said != "":
		t.say("meter.read", "total", m.Total, "when", j.when(read.Entry.Date))
	case j.byOdometer():
		t.say("meter.by-odometer")
		return
	case s.Standing == DoesNotApply:
		t.say("meter.none")
	default:
		t.say("meter.not-known")
	}
	if j.broken() {
		t.say("meter.broken")
	}
	if read, when := j.lastRead(); len(read) > 0 && (j.broken() || !m.HasTotal) {
		t.say("meter.last-read", "read", j.words.List(read), "when", j.when(when))
	}
	switch said := j.machine.MeterTrue; {
	case j.broken():
	case said == logbook.MeterIsWrong:
		t.say("meter.wrong")
	case !m.HasTotal: // there is no figure that may be right
	case said == logbook.MeterIsTrue:
		t.say("meter.true")
	case said == logbook.MeterNotKnown:
		t.say("meter.unsure")
	default:
		t.say("meter.unsaid")
	}
}

// tellTouched tells the work that made evidence out of date, by its name, and
// what the log lacks since.
func (j *judge) tellTouched(t *saying, s *Subject) {
	w := s.Touched
	if w == nil {
		return
	}
	key, a := "touched.by", s.Absent
	of := len(s.unproven) > 0 && a != nil && a.Of == NoProof
	switch {
	case w.SameDay && of:
		key = "touched.by.open-of"
	case w.SameDay: // it may be from before the evidence
	case of:
		key = "touched.by.proof-of"
	case a != nil && (a.Of == NoCheck || a.Of == NoProof || a.Of == NoReading):
		key = "touched.by." + a.Of
	case s.Kind == KindMeasurement && (s.Standing == Wrong || s.Standing == TooClose): // it may be inside by now
		key = "touched.by." + NoReading
	}
	if !s.overtaken() { // else it begins with the work
		t.say(key, "words", j.words.Each(s.unproven), "work", Opening(w.By), "when", j.when(w.Entry.Date))
	}
	if w.Nowhere {
		t.say("touched.nowhere")
	}
	if w.Unplaced {
		t.say("touched.unplaced", "systems", j.words.List(w.Systems))
	}
	switch {
	case s.overtaken(): // its beginning says so
	case w.SameDay && w.Vague:
		t.say("touched.vague")
	case w.SameDay:
		t.say("touched.same-day")
	}
}

// when is a date as a sentence says it: "on March 2, 2026", "in March 2026".
func (j *judge) when(d logbook.Date) string { return j.words.When(d.Day()) }

// affectable are all names that affects: can use.
func (j *judge) affectable() []string {
	names := slices.Clone(j.shop.Systems)
	for _, p := range j.allPoints {
		names = append(names, p.names()...)
	}
	for _, m := range j.allMeasurements {
		names = append(names, m.names()...)
	}
	return slices.DeleteFunc(names, func(n string) bool { return n == "" })
}

func distinct(texts []string) []string {
	var once []string
	for _, s := range texts {
		if !slices.ContainsFunc(once, func(o string) bool { return logbook.Same(o, s) }) {
			once = append(once, s)
		}
	}
	return once
}

// ReadingName is what was measured, where, and in which state, as one name;
// where and state may be empty.
func ReadingName(words *catalog.Catalog, what, where, state string) string {
	key := "reading.name"
	switch {
	case where != "" && state != "":
		key = "reading.name-where-state"
	case where != "":
		key = "reading.name-where"
	case state != "":
		key = "reading.name-state"
	}
	return words.Say(key, "what", what, "where", where, "state", state)
}
