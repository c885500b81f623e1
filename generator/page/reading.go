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

// rowOf is a measured thing, its limit, and what one of its values says.
func (s *Site) rowOf(r *condition.Reading, v condition.Value) ReadingRow {
	row := ReadingRow{
		Name:    condition.ReadingName(s.Words, r.What, r.Where, r.State),
		Gauge:   s.gauge(v.Gauge, v.HasGauge),
		Verdict: s.say(verdictKeys[v.Verdict]), Mark: verdictMarks[v.Verdict],
		Source: r.Limit.Source,
	}
	if !r.Limit.Limit.IsZero() {
		row.Limit = r.Limit.Limit.String()
	}
	return row
}

// row is a measured thing as found and as left.
func (s *Site) row(r *condition.Reading) ReadingRow {
	found, left := r.AsFound(), r.AsLeft()
	row := s.rowOf(r, left)
	row.Found, row.FoundDate = found.Value.String(), s.date(found.Date)
	if len(r.Values) > 1 {
		row.Left, row.LeftDate = left.Value.String(), s.date(left.Date)
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
			row := s.rowOf(reading, v)
			row.Left, row.LeftDate = v.Value.String(), s.date(v.Date)
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
