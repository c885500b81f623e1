package condition

import (
	"slices"

	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A care of more services than this is told from its first to its last.
const daysTold = 6

// upkeep tells what was serviced, all times of one thing together, and when it is
// due next.
func (j *judge) upkeep(sec *Section) {
	for _, c := range j.report.Count.Cares {
		sec.Statements = append(sec.Statements, j.care(c))
	}
}

func (j *judge) care(c tally.Care) Statement {
	last := c.Last()
	t := j.saying()
	what := Opening(last.What)
	var days []string
	var evidence []Evidence
	for _, d := range c.Done {
		days = append(days, j.when(d.Entry.Date))
		if ev := evidenceFor(d.Entry); !slices.Contains(evidence, ev) {
			evidence = append(evidence, ev)
		}
	}
	if days = distinct(days); len(days) > daysTold {
		t.say("service.times", "what", what, "n", len(c.Done), "first", j.words.Day(c.Done[0].Entry.Date.Day()), "last", j.words.Day(last.Entry.Date.Day()))
	} else {
		t.say("service.done", "what", what, "days", j.words.List(days))
	}
	amount := last.Amount
	if last.Grade != "" && amount != "" {
		amount = j.words.Say("service.grade", "amount", amount, "grade", last.Grade)
	} else if amount == "" {
		amount = last.Grade
	}
	t.sayIf(amount, "service.amount", "amount")
	j.due(t, c)
	if len(last.Answers) > 0 {
		t.say("service.answers", "items", j.words.Each(last.Answers))
	}
	return Statement{Text: t.text(), Evidence: evidence}
}

// due tells when a service is due next, or that the log shows that it was. A
// machine that was taken apart needs none.
func (j *judge) due(t *saying, c tally.Care) {
	every := logbook.EachOf(c.Every())
	switch {
	case j.machine.Stage == logbook.PartedOut:
	case c.Due.Passed():
		t.say("service.was-due", "every", clause(every), "at", j.dueAt(c.Due, true))
	case c.Due.Known():
		t.say("service.due", "every", clause(every), "at", j.dueAt(c.Due, false))
	default:
		t.sayIf(every, "service.every", "every")
	}
}

// dueAt is where a service is due: by each of what it goes by, or by those alone
// that the log shows to be past.
func (j *judge) dueAt(d tally.Due, passed bool) string {
	var all []string
	add := func(known, isPast bool, key string, pairs ...any) {
		if known && (isPast || !passed) {
			all = append(all, j.words.Say(key, pairs...))
		}
	}
	add(!d.Meter.IsZero(), d.MeterPassed, "service.at-meter", "reading", d.Meter)
	add(!d.Odometer.IsZero(), d.OdometerPassed, "service.at-odometer", "reading", d.Odometer)
	add(d.Date != "", d.DatePassed, "service.by-date", "date", j.words.Day(d.Date.Day()))
	text := all[0]
	for _, next := range all[1:] {
		text = j.words.Say("service.or", "first", text, "second", next)
	}
	return text
}

// pastDue names what was due by the shop's own interval, where the log shows that
// it is past and lists none since.
func (j *judge) pastDue() []string {
	var all []string
	for _, c := range j.report.Count.Cares {
		if c.Due.Passed() && j.machine.Stage != logbook.PartedOut {
			all = append(all, clause(c.Last().What))
		}
	}
	return distinct(all)
}

// part tells what became of a part, beside the others of its evening.
func (j *judge) part(sec *Section, e *logbook.Entry, p logbook.Part) {
	text := j.partText(e, p)
	ev := evidenceFor(e)
	lead := j.words.Say("parts.of", "when", j.when(e.Date))
	for i := range sec.Statements {
		if st := &sec.Statements[i]; st.Parts && st.Evidence[0] == ev {
			st.Text += " " + text
			return
		}
	}
	sec.Statements = append(sec.Statements, Statement{Text: lead + " " + text, Evidence: []Evidence{ev}, Parts: true})
}

func (j *judge) partText(e *logbook.Entry, p logbook.Part) string {
	what := clause(p.Part)
	switch {
	case p.Number != "" && p.Supersedes != "":
		what = j.words.Say("part.superseding", "part", what, "number", clause(p.Number), "old", clause(p.Supersedes))
	case p.Number != "":
		what = j.words.Say("part.numbered", "part", what, "number", clause(p.Number))
	}
	switch {
	case !p.Measure.IsZero():
		what = j.words.Say("part.measured", "qty", p.Measure, "part", what)
	case !p.Qty.IsInt(): // of what nobody wrote the unit
		what = j.words.Say("part.amount", "qty", p.Qty.Trim(0), "part", what)
	case !p.Qty.IsOne():
		what = j.words.Say("part.several", "qty", p.Qty.Trim(0), "part", what)
	}
	t := j.saying().say(partKey(p), "part", Opening(what), "from", clause(j.shop.NameOf(p.From)))
	if p.SuppliedBy == logbook.ByOwner {
		t.say("part.of-owner")
	}
	vendor, warranty := clause(p.Vendor), j.warranty(e, p)
	switch {
	case vendor != "" && warranty != "":
		t.say("part.vendor-warranty", "vendor", vendor, "warranty", warranty)
	case warranty != "":
		t.say("part.warranty", "warranty", warranty)
	case vendor != "":
		t.say("part.vendor", "vendor", vendor)
	}
	return t.text()
}

// partKey is what is told of a part: what became of it, else where it is from.
func partKey(p logbook.Part) string {
	switch {
	case p.Fate != logbook.Fitted:
		return "part.fate-" + keyOf(p.Fate)
	case p.Source == "":
		return "part.used"
	case p.Source == logbook.Salvaged && p.From == "":
		return "part.salvaged-elsewhere"
	}
	return "part." + keyOf(p.Source)
}

// warranty is a part's warranty, counted from its entry where it is a span of time;
// none of a part that is not in the machine.
func (j *judge) warranty(e *logbook.Entry, p logbook.Part) string {
	switch {
	case p.Fate != logbook.Fitted || p.Warranty == "":
		return ""
	case logbook.IsSpan(p.Warranty):
		return j.words.Say("part.warranty-from", "warranty", clause(p.Warranty), "date", j.words.Day(e.Date.Day()))
	}
	return clause(p.Warranty)
}

func keyOf(s string) string { return Standing(s).Key() }
