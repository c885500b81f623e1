package page

import (
	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

var verdictKeys = map[quantity.Verdict]string{
	quantity.Inside: "result.inside", quantity.Outside: "result.outside",
	quantity.TooClose: "result.too-close", quantity.NotLimited: "result.no-limit", "": "result.no-limit",
}

var verdictMarks = map[quantity.Verdict]string{
	quantity.Inside: "inside", quantity.Outside: "outside",
	quantity.TooClose: "close", quantity.NotLimited: "none", "": "none",
}

func (s *Site) gauge(accuracy string) string {
	if accuracy == "" {
		return ""
	}
	return s.say("page.gauge", "gauge", accuracy)
}

// entryReadings are the readings of one evening, each judged. The results of
// tests stand with their tests.
func (s *Site) entryReadings(r *condition.Report, e *logbook.Entry) []ReadingRow {
	var rows []ReadingRow
	for _, m := range r.Subjects {
		for _, ev := range m.History {
			if v := ev.Value; v != nil && v.Test == "" && ev.Entry.File == e.File {
				row := s.rowOf(m.Measured, *v)
				rows = append(rows, row)
			}
		}
	}
	return rows
}

// rowOf is one value of a measured thing against its limits.
func (s *Site) rowOf(m *condition.Measurement, v condition.Value) ReadingRow {
	return ReadingRow{
		Name: condition.ReadingName(s.Words, m.What, m.Where, m.State), Value: v.Shown,
		Gauge: s.gauge(v.Accuracy), Limits: s.limits(m.Limits, v.Value),
		Verdict: s.say(verdictKeys[v.Verdict]), Mark: verdictMarks[v.Verdict],
	}
}

// limits are limits as people say them beside a reading, each with its source.
func (s *Site) limits(all []benchtest.Sourced, reading quantity.Quantity) []Fact {
	var facts []Fact
	for _, l := range all {
		facts = append(facts, Fact{Label: benchtest.LimitBeside(s.Words, l.Limit, reading), Value: l.Source})
	}
	return facts
}

func (s *Site) test(id string, t *benchtest.Outcome) Test {
	v := Test{Name: t.Test, Where: t.Where, Date: s.date(t.Entry.Date), Says: t.Says, Caution: t.Caution, Drawing: s.drawing(id, labeled(t.Drawing))}
	for _, g := range t.Given {
		v.Given = append(v.Given, Fact{Label: g.Label, Value: g.Value})
	}
	for _, r := range t.Results {
		limits := r.Limits
		if len(limits) == 0 && r.Limit != "" {
			limits = []benchtest.Sourced{{Limit: r.Limit, Source: r.Source}}
		}
		v.Results = append(v.Results, ReadingRow{
			Name: r.Name, Value: r.Value, Gauge: s.gauge(r.Accuracy), Limits: s.limits(limits, r.Quantity),
			Verdict: s.say(verdictKeys[r.Verdict]), Mark: verdictMarks[r.Verdict],
		})
	}
	return v
}
