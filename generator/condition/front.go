package condition

import (
	"cmp"
	"slices"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// A Front is what stands on the front sheet, in its order: each part names its
// subjects, and nothing there is a count without names.
type Front struct {
	Hurt      []Line // can it hurt you?
	Wrong     []Line // what is wrong with it?
	Repaired  []Line // what was put right, and was that proven?
	Changed   []Line // what is not as the maker built it?
	Unwritten []Line // what is not written down?
	Look      []Line // look for yourself before you pay
	Hours     []Line // hours on it, running since the last work
	AsOf      logbook.Date
}

// A FrontPart is a part of the front sheet under its title. Empty is what it says
// where it has no lines.
type FrontPart struct {
	ID, Title, Empty string
	Lines            []Line
}

// FrontParts are the parts of the front sheet, in the order in which they are read.
// Only who may still buy it is told to look before paying.
func (r *Report) FrontParts(words *catalog.Catalog) []FrontPart {
	f := &r.Front
	look, wrong, repaired, changed := "front.part.look", "front.none.wrong", "front.none.repaired", "front.none.changed"
	if r.Machine.Stage != logbook.ForSale {
		look = "front.part.look-kept"
	}
	if len(f.Hurt) > 0 {
		wrong = "front.none.wrong-more"
	}
	if len(r.where((*Subject).workedOn)) > 0 { // told above, as it can hurt or is not proven
		repaired = "front.none.repaired-more"
	}
	if len(r.where(func(s *Subject) bool { return s.Kind == KindChange })) > 0 { // told above, as it can hurt
		changed = "front.none.changed-more"
	}
	part := func(id, title, empty string, lines []Line) FrontPart {
		return FrontPart{ID: id, Title: words.Say(title), Empty: words.Say(empty), Lines: lines}
	}
	return []FrontPart{
		part("hurt", "front.part.hurt", "front.none.hurt", f.Hurt),
		part("wrong", "front.part.wrong", wrong, f.Wrong),
		part("look", look, "front.none.look", f.Look),
		part("repaired", "front.part.repaired", repaired, f.Repaired),
		part("changed", "front.part.changed", changed, f.Changed),
		part("unwritten", "front.part.unwritten", "front.none.unwritten", f.Unwritten),
		part("hours", "front.part.hours", "front.none.hours", f.Hours),
	}
}

// A Line is one sentence or short phrase of the front sheet. Subject is what it
// names, nil where it names several.
type Line struct {
	Text    string
	Subject *Subject
	Part    string // the part of the report where several are told

	key   string
	names []string
}

// front fills in the front sheet. What may hurt someone has a line of its own;
// the rest is named together with what stands the same.
func (j *judge) front() {
	f := &j.report.Front
	f.AsOf = j.report.AsOf
	for _, s := range j.report.Ordered() {
		switch {
		case s.Unanswered():
			// told by system below
		case s.Open:
			f.Hurt = append(f.Hurt, Line{Text: j.frontLine(s), Subject: s})
		case s.Section() == SectionWrong:
			j.nameIn(&f.Wrong, s)
		case s.Kind == KindDefect:
			j.nameIn(&f.Repaired, s)
		case s.Section() == SectionChanged:
			j.nameIn(&f.Changed, s)
		}
	}
	f.Hurt = append(f.Hurt, j.unansweredBySystem(true)...)
	f.Hurt = append(f.Hurt, j.named("front.not-said", func(s *Subject) bool { return s.Open && s.Safety == logbook.NotSaid })...)
	f.Hurt = append(f.Hurt, j.notApplying()...)
	if len(f.Changed) > 0 && len(j.report.where(func(s *Subject) bool { return s.Kind == KindChange && s.Open })) > 0 {
		f.Changed = append(f.Changed, Line{Text: j.words.Say("front.changed-above"), Part: SectionSafety})
	}
	f.Unwritten = append(f.Unwritten, j.unansweredBySystem(false)...)
	f.Unwritten = append(f.Unwritten, j.bySystem("front.no-limit", func(s *Subject) bool { return s.Kind == KindPoint && s.Standing == NoLimit && !s.Open })...)
	f.Unwritten = append(f.Unwritten, j.readingsBefore()...)
	if late := j.pastDue(); len(late) > 0 {
		f.Unwritten = append(f.Unwritten, Line{Text: j.words.Say("front.past-due", "names", j.words.Each(late)), Part: SectionHours})
	}
	j.look()
	if !j.byOdometer() {
		f.Hours = append(f.Hours, Line{Text: j.frontMeter()})
	}
	if o := j.report.Count.Odometer; o.Said {
		text := j.words.Say("front."+j.odometerKey(), "reading", o.Reading, "when", j.when(o.Entry.Date)) + j.odometerBefore()
		f.Hours = append(f.Hours, Line{Text: text})
	}
	f.Hours = append(f.Hours, Line{Text: j.words.Say("front."+j.runKey(), j.runPairs()...)})
}

// nameIn names a subject in the line of those that stand as it does.
func (j *judge) nameIn(lines *[]Line, s *Subject) {
	key := "front.names." + j.frontKey(s)
	name, note := j.called(s), s.shortNote()
	if in := s.inItsPlace(); in != "" {
		name = j.words.Say("front.in-its-place", "name", name, "part", in)
	}
	switch day, since := s.failedBefore(); {
	case since && note != "":
		name = j.words.Say("front.noted-since-note", "name", name, "note", note, "when", j.when(day))
	case since:
		name = j.words.Say("front.noted-since", "name", name, "when", j.when(day))
	case note != "":
		name = j.words.Say("front.noted", "name", name, "note", note)
	}
	for i := range *lines {
		if l := &(*lines)[i]; l.key == key {
			l.names = append(l.names, name)
			l.Text, l.Subject = j.words.Say(key, "names", j.words.Each(l.names)), nil
			return
		}
	}
	*lines = append(*lines, Line{Text: j.words.Say(key, "names", name), Subject: s, Part: s.Section(), key: key, names: []string{name}})
}

// inItsPlace is what the part is called that was put in last for a missing one, where
// that is not its own name.
func (s *Subject) inItsPlace() string {
	for i := len(s.History) - 1; i >= 0; i-- {
		if e := s.History[i]; e.What == WasReplaced && s.Standing == InOrder {
			if logbook.Same(e.Said, s.Name) {
				return ""
			}
			return clause(e.Said)
		}
	}
	return ""
}

// frontKey is how the front sheet takes a subject: by its kind and standing.
func (j *judge) frontKey(s *Subject) string {
	kind := keyOf(string(s.Kind))
	switch {
	case s.Adds && s.Standing == Changed:
		return "change.adds"
	case s.Kind == KindList && j.machine.Kind == "":
		return "list.no-kind"
	case s.left() && s.Standing == InOrder:
		return kind + ".gone"
	case s.left() && s.Touched != nil:
		return kind + ".gone-undone"
	case s.left():
		return kind + ".gone-no-pass"
	case s.Standing == NotProven && s.Absent.Of == NoCheck: // a proof there is
		return "defect.no-pass"
	}
	return kind + "." + s.standingKey()
}

// called is a subject's name, with all that a defect or a change was called besides.
func (j *judge) called(s *Subject) string {
	all := wordingsOf(s)
	if len(all) == 1 {
		return all[0]
	}
	return j.words.Say("front.called", "name", all[0], "others", j.words.List(all[1:]))
}

// frontMeter is what is known of the hours on the machine.
func (j *judge) frontMeter() string {
	m := j.report.Count.Meter
	switch {
	case j.broken():
		if read, when := j.lastRead(); len(read) > 0 {
			return j.words.Say("front.meter.broken-read", "read", j.words.List(read), "when", j.when(when))
		}
		return j.words.Say("front.meter.broken")
	case !m.HasTotal:
		if read, when := j.lastRead(); len(read) > 0 {
			return j.words.Say("front.meter.not-known-read", "read", j.words.List(read), "when", j.when(when))
		}
		return j.words.Say("front.meter.not-known")
	}
	key := "front.meter."
	if m.State == "replaced" {
		key = "front.meter.replaced-"
	}
	switch j.machine.MeterTrue {
	case logbook.MeterIsTrue:
		key += "true"
	case logbook.MeterIsWrong:
		key += "wrong"
	case logbook.MeterNotKnown:
		key += "unsure"
	default:
		key += "unsaid"
	}
	return j.words.Say(key, "total", m.Total)
}

// unansweredBySystem are the points without an answer that holds, open ones or
// the others: by what the log lacks of them, and by system.
func (j *judge) unansweredBySystem(open bool) []Line {
	var all []Line
	for _, key := range []string{"front.not-checked", "front.out-of-date", "front.order-open", "front.fault-since", "front.no-verdict"} {
		all = append(all, j.bySystem(key, func(s *Subject) bool { return s.Unanswered() && s.Open == open && s.unansweredKey() == key })...)
	}
	return all
}

func (s *Subject) unansweredKey() string {
	switch {
	case s.Standing == NotChecked:
		return "front.not-checked"
	case s.Absent != nil && s.Absent.Of == NoVerdict:
		return "front.no-verdict"
	}
	return "front." + s.undoneKey()
}

// frontLine is a subject in a dozen words.
func (j *judge) frontLine(s *Subject) string {
	key, name, note, when := "front."+j.frontKey(s), Opening(j.called(s)), s.shortNote(), ""
	if day, since := s.failedBefore(); since {
		key, when = key+"-since", j.when(day)
	}
	if note != "" {
		key += "-note"
	}
	return j.words.Say(key, "name", name, "note", note, "when", when)
}

// frontWords is how many words a line may have that tells a point with its note.
const frontWords = 16

// shortNote is what the shop noted of a point that its last check found wrong, where
// that is short enough for the front sheet.
func (s *Subject) shortNote() string {
	last := s.lastAnswer()
	if s.Kind != KindPoint || s.Standing != Wrong || last == nil || last.What != Fails {
		return ""
	}
	if len(strings.Fields(s.Name))+len(strings.Fields(last.Said)) > frontWords {
		return ""
	}
	return clause(last.Said)
}

// wordingsOf are all that a defect was called, the words of what stands worst first, or a
// change, the last ones first; of any other subject its name.
func wordingsOf(s *Subject) []string {
	if len(s.wordings) > 0 {
		return s.wordings
	}
	return []string{clause(s.Name)}
}

// bySystem names the points that are so, grouped by their systems in one
// sentence.
func (j *judge) bySystem(key string, is func(*Subject) bool) []Line {
	all := j.report.where(is)
	if len(all) == 0 {
		return nil
	}
	var systems [][]string
	for _, s := range all {
		if !slices.ContainsFunc(systems, func(had []string) bool { return slices.Equal(had, s.Systems) }) {
			systems = append(systems, s.Systems)
		}
	}
	var groups []string
	for _, of := range systems {
		var shorts []string
		for _, s := range all {
			if slices.Equal(s.Systems, of) {
				shorts = append(shorts, s.listed(j.words))
			}
		}
		groups = append(groups, j.words.Say("front.group", "systems", j.words.List(of), "names", j.words.Row(distinct(shorts))))
	}
	return []Line{{Part: all[0].Section(), Text: j.words.Say(key, "groups", j.words.Each(groups))}}
}

func (j *judge) named(key string, is func(*Subject) bool) []Line {
	all := j.report.where(is)
	if len(all) == 0 {
		return nil
	}
	return []Line{{Text: j.words.Say(key, "names", j.words.Each(names(all))), Part: all[0].Section()}}
}

// readingsBefore names what was measured before later work, or may have been. The places
// stand in the table, but where another of the same name was measured since.
func (j *judge) readingsBefore() []Line {
	return slices.Concat(j.readingsThat("out-of-date"), j.readingsThat("order-open"))
}

func (j *judge) readingsThat(stand string) []Line {
	var whats []string
	for _, s := range j.report.Subjects {
		if s.Kind != KindMeasurement || s.Open || s.standingKey() != stand {
			continue
		}
		name := clause(s.Measured.What)
		if slices.ContainsFunc(j.report.Subjects, func(o *Subject) bool {
			return o.Kind == KindMeasurement && o.Standing != OutOfDate && logbook.Same(o.Measured.What, s.Measured.What)
		}) {
			name = clause(s.Name)
		}
		whats = append(whats, name)
	}
	if len(whats) == 0 {
		return nil
	}
	return []Line{{Text: j.words.Say("front.readings-"+stand, "names", j.words.Each(distinct(whats))), Part: SectionMeasured}}
}

// short is a point's short name, or its whole wording.
func (s *Subject) short() string {
	if s.Short != "" {
		return clause(s.Short)
	}
	return clause(s.Name)
}

// listed is a point's short name among others.
func (s *Subject) listed(words *catalog.Catalog) string { return s.quoted(words, s.short()) }

// quoted is what a point is called among others. The shop's own words stand in quotation
// marks: else a point that it named "all was looked at" would be the report's own word.
func (s *Subject) quoted(words *catalog.Catalog, text string) string {
	text = clause(text)
	if s.own {
		return words.Say("named.own", "name", unquoted(text))
	}
	return text
}

// unquoted is a text of the shop made fit to stand in quotation marks: with its own it
// could end the quotation, and go on as the report.
func unquoted(text string) string { return quotes.Replace(text) }

var quotes = strings.NewReplacer(`"`, "'", "\u201c", "'", "\u201d", "'", "\u201e", "'", "\uff02", "'")

// builtIn are the points of the machine's list that come with the program, folded.
func (j *judge) builtIn() map[string]bool {
	all := map[string]bool{}
	for _, sheet := range j.machine.Sheets {
		for _, it := range sheet.Items {
			if sheet.BuiltIn {
				all[logbook.Folded(it.Item)] = true
			}
		}
	}
	return all
}

// notApplying names the safety points that the shop says do not apply, with its
// reasons; those of all that the machine does not have in one line, or they would stand
// before what is wrong with it by the screen.
func (j *judge) notApplying() []Line {
	var lines []Line
	var lacking []*Subject
	for _, s := range j.report.Subjects {
		if s.Kind != KindPoint || s.Standing != DoesNotApply || s.Safety == logbook.SafetyNo {
			continue
		}
		if last := s.lastAnswer(); last != nil {
			key, when := "front.does-not-apply", ""
			for _, e := range s.History {
				if e.What == Fails {
					key, when = "front.does-not-apply-failed", j.when(e.Entry.Date)
				}
			}
			lines = append(lines, Line{Text: j.words.Say(key, "item", clause(s.Name), "when", when, "why", clause(last.Said)), Subject: s})
			continue
		}
		lacking = append(lacking, s)
	}
	if len(lacking) == 0 {
		return lines
	}
	var whats, items []string
	for _, s := range lacking {
		whats, items = append(whats, clause(s.Item.OnlyIf)), append(items, s.listed(j.words))
	}
	whats, items = distinct(whats), distinct(items)
	line := Line{Part: SectionNotChecked, Text: j.words.Say("front.lacks-several", "items", j.words.Each(items), "what", j.words.Each(whats))}
	if len(whats) == 1 {
		line.Text = j.words.Say("front.lacks", "items", j.words.Each(names(lacking)), "what", whats[0])
	}
	if len(lacking) == 1 {
		line.Subject, line.Part = lacking[0], ""
	}
	return append(lines, line)
}

// looks is how many checks a buyer is asked to make.
const looks = 3

// look picks the checks that matter most here: of the gravest open safety points
// first, then of the first guards. The shop's own words are quoted as the shop's.
func (j *judge) look() {
	f := &j.report.Front
	add := func(s *Subject) {
		if s.Item == nil || s.Item.Look == "" || len(f.Look) == looks || slices.ContainsFunc(f.Look, func(l Line) bool { return l.Subject == s }) {
			return
		}
		text := s.Item.Look
		if s.own {
			text = j.words.Say("front.look-own", "look", unquoted(strings.Join(strings.Fields(text), " ")))
		}
		f.Look = append(f.Look, Line{Text: text, Subject: s})
	}
	all := j.report.where(func(s *Subject) bool { return s.Open && s.Kind == KindPoint })
	slices.SortStableFunc(all, func(a, b *Subject) int { return cmp.Or(a.lookRank()-b.lookRank(), ownLast(a, b)) })
	for _, s := range all {
		add(s)
	}
	guards := j.report.where(func(s *Subject) bool {
		return slices.Contains(s.Systems, logbook.Guards) && s.Standing != DoesNotApply
	})
	slices.SortStableFunc(guards, ownLast)
	for _, s := range guards {
		add(s)
	}
}

// lookRank is how soon a buyer is asked to look at a point: before one that was as it
// should be until later work comes one that the log lists no check of.
func (s *Subject) lookRank() int {
	rank := s.rank()
	switch {
	case s.Safety != logbook.SafetyYes:
	case s.Standing == NotChecked:
		return slices.Index(worst, OutOfDate)
	case s.Standing == OutOfDate:
		return slices.Index(worst, NotChecked)
	}
	return rank
}

// ownLast puts the points of the lists that come with the program before the shop's own.
func ownLast(a, b *Subject) int {
	switch {
	case a.own == b.own:
		return 0
	case a.own:
		return 1
	}
	return -1
}
