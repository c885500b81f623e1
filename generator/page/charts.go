package page

import (
	"cmp"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// charts are the pictures of a machine's numbers: where the hours went, and
// how each defect went from found to closed. The readings have theirs beside
// the table.
func (s *sheet) charts(n int) []Chart {
	var all []Chart
	if c, ok := s.hoursChart(n); ok {
		all = append(all, c)
	}
	if c, ok := s.partsChart(n); ok {
		all = append(all, c)
	}
	if c, ok := s.defectsChart(s.Report(n)); ok {
		all = append(all, c)
	}
	return all
}

// hoursChart draws the work by task, the longest first.
func (s *sheet) hoursChart(n int) (Chart, bool) {
	work := s.Count.Machines[n].Work
	if !s.Shop.Show.Hours || len(work.ByTask) < 2 {
		return Chart{}, false
	}
	tasks := make([]string, 0, len(work.ByTask))
	for t := range work.ByTask {
		tasks = append(tasks, t)
	}
	slices.SortFunc(tasks, func(a, b string) int {
		return cmp.Or(cmp.Compare(work.ByTask[b], work.ByTask[a]), cmp.Compare(a, b))
	})
	c := Chart{Title: s.say("page.chart-hours")}
	var bars []bar
	for _, task := range tasks {
		name := task
		if name == "" {
			name = s.say("page.task-none")
		}
		minutes := work.ByTask[task]
		length := s.Words.Length(int(minutes))
		bars = append(bars, bar{name, length, float64(minutes)})
		c.Facts = append(c.Facts, Fact{Label: name, Value: length})
	}
	c.Drawing = barsAcross("chart-hours", bars, c.alt())
	return c, true
}

// partsChart draws what was spent on parts by where they came from: the part of
// the money that the shop shows.
func (s *sheet) partsChart(n int) (Chart, bool) {
	sums := map[string]logbook.Amount{}
	for _, l := range s.Count.Machines[n].Lines {
		if l.IsCost || !l.Amount.Set {
			continue
		}
		sum, err := sums[l.Source].Add(l.Amount.Decimal)
		if err != nil {
			return Chart{}, false // more money than a drawing is for
		}
		sums[l.Source] = logbook.Amount{Decimal: sum, Set: true}
	}
	if !s.Shop.Show.PartsCost || len(sums) < 2 {
		return Chart{}, false
	}
	c := Chart{Title: s.say("page.chart-parts")}
	var bars []bar
	for _, source := range logbook.Sources {
		if sum, ok := sums[source]; ok {
			f, _ := sum.Float64()
			name, spent := s.say(sourceKeys[source]), s.money(sum)
			bars = append(bars, bar{name, spent, f})
			c.Facts = append(c.Facts, Fact{Label: name, Value: spent})
		}
	}
	c.Drawing = barsAcross("chart-parts", bars, c.alt())
	return c, true
}

// A bar is one line of a drawing of lengths.
type bar struct {
	name, value string
	length      float64
}

// barsAcross draws one bar a line, the longest as wide as there is room.
func barsAcross(id string, bars []bar, alt string) template.HTML {
	const left, right, row = 120, 310, 26
	d := newSVG(id, 400, row*float64(len(bars))+8)
	longest := 0.0
	for _, b := range bars {
		longest = max(longest, b.length)
	}
	x := scale{0, longest, left, right}
	for i, b := range bars {
		y := row*float64(i) + 6
		d.rect("solid", left, y, x.at(b.length)-left, 14)
		d.text("end", left-6, y+11, short(b.name, 17))
		d.text("start", x.at(b.length)+6, y+11, b.value)
	}
	return d.done(alt)
}

// alt says the facts of a chart in a row.
func (c *Chart) alt() string {
	var facts []string
	for _, f := range c.Facts {
		facts = append(facts, f.Label+": "+f.Value)
	}
	return c.Title + ". " + strings.Join(facts, "; ")
}

// defectsChart draws one line a defect along the calendar: hatched while it is
// there, hollow once it is worked around, solid once it is repaired.
func (s *sheet) defectsChart(r *condition.Report) (Chart, bool) {
	if len(r.Defects) == 0 {
		return Chart{}, false
	}
	const left, right, row = 130, 372, 24
	first, last := r.Machine.Arrived.Time(), r.AsOf.Time()
	x := scale{float64(first.Unix()), float64(last.Unix()), left, right}
	at := func(d logbook.Date) float64 { return x.at(float64(d.Time().Unix())) }
	c := Chart{Title: s.say("page.chart-defects")}
	d := newSVG("chart-defects", 384, row*float64(len(r.Defects))+28)
	bottom := row*float64(len(r.Defects)) + 4
	for i, defect := range r.Defects {
		y := row*float64(i) + 4
		var turns []string
		for k, ev := range defect.Events {
			from, to := at(ev.Date), float64(right)
			if k+1 < len(defect.Events) {
				to = at(defect.Events[k+1].Date)
			}
			if from > right-4 { // found on the last day: still to be seen
				from = right - 4
			}
			fill := "solid"
			switch ev.State {
			case condition.StillThere:
				fill = "hatched"
			case condition.Around:
				fill = "hollow"
			}
			d.rect(fill, from, y, to-from, 12)
			turns = append(turns, s.say("page.chart-turn", "state", s.say(stateKeys[ev.State]), "date", s.date(ev.Date)))
		}
		d.text("end", left-6, y+10, short(defect.Defect, 20))
		c.Facts = append(c.Facts, Fact{Label: defect.Defect, Value: strings.Join(turns, "; ")})
	}
	d.line("axis", left, bottom, right, bottom)
	d.text("start", left, bottom+16, s.date(r.Machine.Arrived))
	d.text("end", right, bottom+16, s.date(r.AsOf))
	c.Drawing = d.done(c.alt())
	return c, true
}

var stateKeys = map[string]string{
	condition.StillThere: "state.still-there", condition.Around: "state.around",
	condition.NotProven: "state.not-proven", condition.Proven: "state.proven",
}

// readingChart draws a measured thing over time against its limit; nothing
// where there is only one reading and no limit to hold it against.
func (s *Site) readingChart(id string, r *condition.Reading) template.HTML {
	if len(r.Values) < 2 && r.Limit.Limit.IsZero() {
		return ""
	}
	unit := r.AsFound().Value.Unit()
	d := &benchtest.Drawing{Shape: benchtest.Slope, Unit: unit.Symbol()}
	if len(r.Values) == 1 {
		d.Shape = benchtest.Whisker
	}
	var said []string
	for _, v := range r.Values {
		value, ok := in(v.Value, unit)
		if !ok {
			return ""
		}
		p := benchtest.Point{Label: s.date(v.Date), Value: value, Low: value, High: value, Band: bandOf(r.Limit.Limit, unit)}
		if low, high, err := v.Gauge.Interval(v.Value); v.HasGauge && err == nil {
			if l, ok := in(low, unit); ok {
				p.Low = l
			}
			if h, ok := in(high, unit); ok {
				p.High = h
			}
		}
		d.Points = append(d.Points, p)
		said = append(said, s.say("page.chart-value", "value", v.Value, "date", s.date(v.Date), "verdict", s.say(verdictKeys[v.Verdict])))
	}
	d.Alt = s.say("page.chart-reading", "name", condition.ReadingName(s.Words, r.What, r.Where, r.State), "values", strings.Join(said, "; "))
	return drawing(id, d)
}

func in(q quantity.Quantity, unit quantity.Unit) (float64, bool) {
	c, err := q.In(unit)
	return c.Float(), err == nil
}

func bandOf(l quantity.Limit, unit quantity.Unit) benchtest.Band {
	var b benchtest.Band
	if q, ok := l.Low(); ok {
		b.Low, b.HasLow = in(q, unit)
	}
	if q, ok := l.High(); ok {
		b.High, b.HasHigh = in(q, unit)
	}
	return b
}

// drawingID names a drawing on its page.
func drawingID(kind string, n int) string { return kind + "-" + strconv.Itoa(n) }
