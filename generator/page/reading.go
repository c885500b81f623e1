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

func (s *Site) gauge(g quantity.Gauge, has bool) string {
	if !has {
		return ""
	}
	return s.say("page.gauge", "gauge", g)
}

// row is a measured thing as found and as left.
func (s *Site) row(r *condition.Reading) ReadingRow {
	found, left := r.AsFound(), r.AsLeft()
	row := ReadingRow{
		Name:  condition.ReadingName(s.Words, r.What, r.Where, r.State),
		Found: found.Value.String(), FoundDate: s.date(found.Date),
		Gauge:   s.gauge(left.Gauge, left.HasGauge),
		Verdict: s.say(verdictKeys[left.Verdict]), Mark: verdictMarks[left.Verdict],
		Source: r.Limit.Source,
	}
	if len(r.Values) > 1 {
		row.Left, row.LeftDate = left.Value.String(), s.date(left.Date)
	}
	if !r.Limit.Limit.IsZero() {
		row.Limit = r.Limit.Limit.String()
	}
	if r.StaleSince != "" {
		row.Stale = s.say("reading.worked-since", "date", s.date(r.StaleSince))
	}
	return row
}

// entryReadings are the readings of one evening, each judged.
func (s *Site) entryReadings(r *condition.Report, e *logbook.Entry) []ReadingRow {
	var rows []ReadingRow
	for _, reading := range r.Readings {
		for _, v := range reading.Values {
			if v.Evidence.File != e.File {
				continue
			}
			row := s.row(reading)
			row.Found, row.FoundDate, row.Stale = "", "", ""
			row.Left, row.LeftDate = v.Value.String(), s.date(v.Date)
			row.Gauge = s.gauge(v.Gauge, v.HasGauge)
			row.Verdict, row.Mark = s.say(verdictKeys[v.Verdict]), verdictMarks[v.Verdict]
			rows = append(rows, row)
		}
	}
	return rows
}

func (s *Site) test(id string, t *benchtest.Outcome) Test {
	v := Test{Name: t.Test, Where: t.Where, Date: s.date(t.Entry.Date), Says: t.Says, Caution: t.Caution, Drawing: drawing(id, t.Drawing)}
	for _, g := range t.Given {
		v.Given = append(v.Given, Fact{Label: g.Label, Value: g.Value})
	}
	for _, r := range t.Results {
		v.Results = append(v.Results, ReadingRow{
			Name: r.Name, Left: r.Value, Limit: r.Limit, Source: r.Source,
			Gauge:   s.gauge(r.Gauge, !r.Gauge.IsZero()),
			Verdict: s.say(verdictKeys[r.Verdict]), Mark: verdictMarks[r.Verdict],
		})
	}
	return v
}
