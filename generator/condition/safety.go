package condition

import (
	"strings"

	"asleft/generator/logbook"
)

// readFirst says what can hurt someone: open safety defects first, then those
// whose repair nobody has proven since the last work, parts that are gone,
// guards and safety points that fail, guards nobody checked, and changes to
// guards.
func (j *judge) readFirst() {
	for _, d := range j.report.Defects {
		if d.Safety && d.Open() {
			j.state(ReadFirst, Statement{Text: j.defectText(d), Safety: true, Evidence: d.Evidence, Defect: d.Key})
		}
	}
	for _, d := range j.report.Defects {
		if d.Safety && !d.Open() && (d.State == NotProven || d.StaleSince != "") {
			j.state(ReadFirst, Statement{Text: j.repairText(d), Safety: true, Evidence: d.Evidence, Defect: d.Key})
		}
	}
	for _, m := range j.report.Missing {
		if m.Guard && m.Fitted == "" {
			j.state(ReadFirst, Statement{Text: j.words.Say("first.missing", "part", clause(m.Part)), Safety: true, Evidence: m.Evidence})
		}
	}
	for _, c := range j.report.Checks {
		if text := j.firstCheck(c); text != "" {
			j.state(ReadFirst, Statement{Text: text, Safety: true, Evidence: c.Evidence})
		}
	}
	for _, c := range j.report.Changes {
		if c.System == logbook.Guards {
			j.state(ReadFirst, Statement{Text: j.changeText(c), Safety: true, Evidence: []Evidence{c.Evidence}})
		}
	}
	sec := j.section(ReadFirst)
	if len(sec.Statements) == 0 {
		j.state(ReadFirst, Statement{Text: j.words.Say(j.nothingOpen())})
	}
	j.cautions(len(j.report.OpenSafety()) > 0)
}

// nothingOpen is what can honestly be said where there is nothing to warn of:
// whether guards were looked at at all depends on the sheet.
func (j *judge) nothingOpen() string {
	for _, c := range j.report.Checks {
		if c.System == logbook.Guards {
			return "first.none"
		}
	}
	return "first.none-no-guards"
}

func (j *judge) firstCheck(c *Check) string {
	guard := c.System == logbook.Guards
	s := j.saying()
	switch {
	case c.Result == Fails && guard:
		s.say("first.guard-fails", "item", clause(c.Item))
	case c.Result == Fails && c.Safety:
		s.say("first.safety-fails", "item", clause(c.Item))
	case c.Result == NotChecked && guard:
		return s.say("first.guard-unchecked", "item", clause(c.Item)).sayIf(c.Note, "check.note", "note").text()
	case c.Result == Stale && guard:
		return s.say("first.guard-stale", "item", clause(c.Item), "date", j.date(c.Date), "later", j.date(c.StaleSince)).text()
	default:
		return ""
	}
	s.on(c.Date, "check.on").sayIf(c.Note, "check.note", "note")
	return s.on(c.StaleSince, "check.worked-since").text()
}

// kindCautions are the usual cautions for the kinds that sheets come for.
// Common practice, no source; each defers to the maker's manual.
var kindCautions = map[string]string{
	"ride-on mower":      "caution.ride-on-mower",
	"walk-behind mower":  "caution.walk-behind-mower",
	"walk-behind tiller": "caution.walk-behind-tiller",
	"snow thrower":       "caution.snow-thrower",
	"generator":          "caution.generator",
	"pressure washer":    "caution.pressure-washer",
	"chainsaw":           "caution.chainsaw",
	"bench machine tool": "caution.bench-machine-tool",
}

func (j *judge) cautions(open bool) {
	if open {
		j.note(ReadFirst, "caution.open")
	}
	if key, ok := j.kindCaution(); ok {
		j.note(ReadFirst, key)
	}
	j.note(ReadFirst, "caution.manual")
	j.note(ReadFirst, "caution.no-certificate")
}

func (j *judge) date(d logbook.Date) string { return j.words.Date(d.Time()) }

// kindCaution goes by the machine's kind, as a shop's own sheet may be for any.
func (j *judge) kindCaution() (string, bool) {
	if key, ok := kindCautions[strings.ToLower(j.machine.Kind)]; ok {
		return key, true
	}
	if j.machine.Sheet == nil {
		return "", false
	}
	key, ok := kindCautions[strings.ToLower(j.machine.Sheet.Kind)]
	return key, ok
}
