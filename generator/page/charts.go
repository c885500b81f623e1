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
		if !l.Fitted || !l.Amount.Set {
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
	const left, right, row = 120, 300, 36
	d := newSVG(id, 400, row*float64(len(bars))+8)
	longest := 0.0
	for _, b := range bars {
		longest = max(longest, b.length)
	}
	x := scale{0, longest, left, right}
	for i, b := range bars {
		y := row*float64(i) + 10
		d.rect("solid", left, y, x.at(b.length)-left, 14)
		d.label("end", left-6, y+12, b.name, 16)
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
// there, hollow once it is worked around, crossed once it is repaired without a
// proof, solid once it is proven. The legend says so.
func (s *sheet) defectsChart(r *condition.Report) (Chart, bool) {
	var defects []*condition.Subject
	for _, d := range r.Subjects {
		if d.Kind == condition.KindDefect {
			defects = append(defects, d)
		}
	}
	if len(defects) == 0 {
		return Chart{}, false
	}
	const left, right = 150, 372
	first, last := r.Machine.Arrived.Time(), r.AsOf.Time()
	x := scale{float64(first.Unix()), float64(last.Unix()), left, right}
	at := func(d logbook.Date) float64 { return x.at(float64(d.Time().Unix())) }
	c := Chart{Title: s.say("page.chart-defects")}
	bottom := 4.0
	for _, defect := range defects {
		bottom += rowFor(defect.Name, 20)
	}
	d := newSVG("chart-defects", 384, bottom+48)
	y, used := 4.0, map[string]bool{}
	for _, defect := range defects {
		middle := y + rowFor(defect.Name, 20)/2
		stretches := stretchesOf(defect)
		var turns []string
		for k, turn := range stretches {
			from, to := at(turn.date), float64(right)
			if k+1 < len(stretches) {
				to = at(stretches[k+1].date)
			}
			if from > right-4 { // found on the last day: still to be seen
				from = right - 4
			}
			used[turn.state] = true
			d.rect(stateFills[turn.state], from, middle-6, to-from, 12)
			turns = append(turns, s.say("page.chart-turn", "state", s.say("state."+turn.state), "when", s.when(turn.date)))
		}
		d.label("end", left-6, middle+5, defect.Name, 20)
		y += rowFor(defect.Name, 20)
		c.Facts = append(c.Facts, Fact{Label: defect.Name, Value: strings.Join(turns, "; ")})
	}
	d.line("axis", left, bottom, right, bottom)
	d.text("start", left, bottom+16, s.date(r.Machine.Arrived))
	d.text("end", right, bottom+16, s.date(r.AsOf))
	s.legend(d, bottom+30, used)
	c.Drawing = d.done(c.alt())
	return c, true
}

// rowFor is how high a row with that name in lines of so many letters is.
func rowFor(name string, most int) float64 { return 9 + 15*float64(len(broken(name, most))) }

// legend says what each filling that the defects' chart uses means.
func (s *sheet) legend(d *svg, y float64, used map[string]bool) {
	x := -92.0
	for _, state := range states {
		if !used[state] {
			continue
		}
		x += 96
		d.rect(stateFills[state], x, y, 14, 12)
		d.text("start", x+18, y+10, s.say("state."+state+"-short"))
	}
}

// A stretch is where a defect stood from a day on.
type stretch struct {
	state string
	date  logbook.Date
}

// The states of a defect that the chart tells apart.
var states = []string{"there", "around", "repaired", "proven", "gone"}

var stateFills = map[string]string{"there": "hatched", "around": "hollow", "repaired": "crossed", "proven": "solid", "gone": "solid"}

// stateOf is where an event leaves a defect.
var stateOf = map[string]string{
	condition.Found: "there", condition.FoundAgain: "there", condition.Around: "around",
	condition.Repaired: "repaired", condition.Proved: "proven", condition.Left: "gone",
}

// stretchesOf are the days on which a defect turned, and what to. One that was
// repaired and proven on one day is proven from there on; the end of the last
// stretch is where the report has it stand.
func stretchesOf(d *condition.Subject) []stretch {
	var all []stretch
	for _, ev := range d.History {
		turn := stretch{stateOf[ev.What], ev.Entry.Date}
		switch n := len(all); {
		case turn.state == "":
		case n > 0 && all[n-1].date == turn.date:
			all[n-1] = turn
		case n > 0 && all[n-1].state == turn.state:
		default:
			all = append(all, turn)
		}
	}
	if n := len(all); n > 0 && all[n-1].state == "proven" && d.Standing != condition.InOrder {
		all[n-1].state = "repaired" // the proof does not hold any more, or was none
	}
	return all
}

// readingChart draws a measured thing over time against its limit; nothing
// where there is only one reading.
func (s *Site) readingChart(id string, m *condition.Measurement) template.HTML {
	if len(m.Values) < 2 {
		return ""
	}
	unit := m.First().Value.Unit()
	d := &benchtest.Drawing{Shape: benchtest.Slope, Unit: unit.Symbol()}
	var said []string
	for _, v := range m.Values {
		value, ok := in(v.Value, unit)
		if !ok {
			return ""
		}
		p := benchtest.Point{Label: s.date(v.Date), Value: value, Low: value, High: value, Band: s.bandOf(m, unit)}
		if low, high, err := v.Gauge.Interval(v.Value); v.HasGauge && err == nil {
			if l, ok := in(low, unit); ok {
				p.Low = l
			}
			if h, ok := in(high, unit); ok {
				p.High = h
			}
		}
		d.Points = append(d.Points, p)
		said = append(said, s.say("page.chart-value", "value", v.Shown, "when", s.when(v.Date), "verdict", s.say(verdictKeys[v.Verdict])))
	}
	d.Alt = s.say("page.chart-reading", "name", condition.ReadingName(s.Words, m.What, m.Where, m.State), "values", strings.Join(said, "; "))
	return drawing(id, d)
}

func in(q quantity.Quantity, unit quantity.Unit) (float64, bool) {
	c, err := q.In(unit)
	return c.Float(), err == nil
}

// bandOf is what all the limits of a measured thing allow together.
func (s *Site) bandOf(m *condition.Measurement, unit quantity.Unit) benchtest.Band {
	var b benchtest.Band
	for _, sourced := range m.Limits {
		l, err := quantity.ParseLimit(sourced.Limit)
		if err != nil {
			continue
		}
		if q, ok := l.Low(); ok {
			if low, fits := in(q, unit); fits && (!b.HasLow || low > b.Low) {
				b.Low, b.HasLow = low, true
			}
		}
		if q, ok := l.High(); ok {
			if high, fits := in(q, unit); fits && (!b.HasHigh || high < b.High) {
				b.High, b.HasHigh = high, true
			}
		}
	}
	return b
}

// drawingID names a drawing on its page.
func drawingID(kind string, n int) string { return kind + "-" + strconv.Itoa(n) }
