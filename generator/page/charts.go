package page

import (
	"cmp"
	"html/template"
	"math"
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
func (s *composer) charts(n int) []Chart {
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
func (s *composer) hoursChart(n int) (Chart, bool) {
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
func (s *composer) partsChart(n int) (Chart, bool) {
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

// barsAcross draws one bar a line, between its name and its value, the longest as
// wide as they leave room.
func barsAcross(id string, bars []bar, alt string) template.HTML {
	const gap, least = 8, 60
	d := newSVG(id)
	longest, names, values := 0.0, 0.0, 0.0
	for _, b := range bars {
		longest, names, values = max(longest, b.length), max(names, advance(b.name)), max(values, advance(b.value))
	}
	names = max(least, min(names, wordsRoom-values-2*gap-least))
	x := scale{0, longest, wordsStart + names + gap, wordsEnd - values - gap}
	for _, b := range bars {
		d.text("drawn-value", "end", wordsEnd, d.y+13, b.value)
		d.rect("solid", x.start, d.y+4, x.at(b.length)-x.start, 10)
		d.y = d.text("drawn-name", "start", wordsStart, d.y+13, broken(b.name, names)...) - 13 + 2
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

// defectsChart draws one line a defect along the calendar, from the machine's
// arrival to the last entry. How a stretch is drawn tells how the defect stood, and
// the legend says so in words.
func (s *composer) defectsChart(r *condition.Report) (Chart, bool) {
	var defects []*condition.Subject
	for _, d := range r.Subjects {
		if d.Kind == condition.KindDefect {
			defects = append(defects, d)
		}
	}
	if len(defects) == 0 {
		return Chart{}, false
	}
	calendar := scale{float64(r.Machine.Arrived.Time().Unix()), float64(logbook.Later(r.Machine.Arrived, r.AsOf).Time().Unix()), trackStart, trackEnd}
	c := Chart{Title: s.say("page.chart-defects")}
	d, used := newSVG("chart-defects"), map[string]bool{}
	for _, defect := range defects {
		stretches := stretchesOf(defect)
		ends := endsOf(stretches, calendar)
		var turns []string
		d.row(defect.Name, "")
		for k, turn := range stretches {
			used[turn.state] = true
			d.stretch(turn.state, ends[k], d.y+7, ends[k+1]-ends[k])
			turns = append(turns, s.say("page.chart-turn", "state", s.say("state."+turn.state), "when", s.when(turn.date)))
		}
		d.y += 20
		c.Facts = append(c.Facts, Fact{Label: defect.Name, Value: strings.Join(turns, "; ")})
	}
	d.line("axis", trackStart, d.y, trackEnd, d.y)
	// Both may be the same year, which is all that the log has of them: what the ends
	// are tells them apart.
	const room = drawingWidth/2 - 8
	from := append(broken(s.say("page.chart-from"), room), broken(s.date(r.Machine.Arrived), room)...)
	to := append(broken(s.say("page.chart-to"), room), broken(s.date(r.AsOf), room)...)
	d.text("drawn-end", "start", wordsStart, d.y+16, from...)
	d.text("drawn-end", "end", wordsEnd, d.y+16, to...)
	d.y += lineHeight*float64(max(len(from), len(to))) + 8
	for _, state := range states {
		if used[state] {
			d.legend(s.say("legend."+state), func(x, y float64) { d.stretch(state, x, y+6, 16) })
		}
	}
	c.Drawing = d.done(c.alt())
	return c, true
}

// endsOf is where each stretch begins on the calendar, and where the last one ends.
// Each keeps a width that can be seen, whatever its dates: the log may know no more
// of two of them than the year.
func endsOf(stretches []stretch, calendar scale) []float64 {
	least := min(8, (calendar.end-calendar.start)/float64(len(stretches)+1))
	ends := make([]float64, len(stretches)+1)
	for k, turn := range stretches {
		ends[k] = max(calendar.at(float64(turn.date.Time().Unix())), calendar.start)
		if k > 0 {
			ends[k] = max(ends[k], ends[k-1]+least)
		}
	}
	ends[len(stretches)] = calendar.end
	for k := len(stretches) - 1; k >= 0; k-- {
		ends[k] = min(ends[k], ends[k+1]-least)
	}
	return ends
}

// stretch draws how a defect stood around the middle y: a high box hatched while it
// is there and empty once it is worked around, a low crossed one once it is repaired
// without a proof, a high solid one once it is proven, a low empty one once there was
// later work, a bare line with a stop where it is gone.
func (s *svg) stretch(state string, x, y, width float64) {
	switch state {
	case "there":
		s.rect("hatched", x, y-6, width, 12)
	case "around":
		s.rect("hollow", x, y-6, width, 12)
	case "repaired":
		s.rect("crossed", x, y-3, width, 6)
	case "proven":
		s.rect("solid", x, y-6, width, 12)
	case "stale":
		s.rect("hollow", x, y-3, width, 6)
	case "gone":
		s.line("gone", x, y-6, x, y+6)
		s.line("gone", x, y, x+width, y)
	}
}

// A stretch is where a defect stood from a day on.
type stretch struct {
	state string
	date  logbook.Date
}

// The states of a defect that the chart tells apart.
var states = []string{"there", "around", "repaired", "proven", "stale", "gone"}

// stateOf is where an event leaves a defect.
var stateOf = map[string]string{
	condition.Found: "there", condition.FoundAgain: "there", condition.Around: "around",
	condition.Repaired: "repaired", condition.Proved: "proven", condition.Left: "gone",
}

// standsAs is the state that a defect ends in, by where the report has it stand.
var standsAs = map[condition.Standing]string{
	condition.Wrong: "there", condition.WorkedAround: "around", condition.NotProven: "repaired",
	condition.InOrder: "proven", condition.OutOfDate: "stale",
}

// stretchesOf are the days on which a defect turned, and what to. One that was
// repaired and proven on one day is proven from there on. The last stretch is where
// the report has it stand, which knows of proofs by a point and of later work.
func stretchesOf(d *condition.Subject) []stretch {
	var all []stretch
	turn := func(state string, date logbook.Date) {
		switch n := len(all); {
		case state == "":
		case n > 0 && all[n-1].state == state:
		case n > 0 && all[n-1].date == date:
			all[n-1].state = state
		default:
			all = append(all, stretch{state, date})
		}
	}
	for _, ev := range d.History {
		turn(stateOf[ev.What], ev.Entry.Date)
	}
	last := len(all) - 1
	stands := standsAs[d.Standing]
	switch {
	case last < 0 || all[last].state == "gone" || all[last].state == stands:
	case stands == "proven" || stands == "stale":
		turn("proven", d.Proven)
		if d.Touched != nil {
			turn(stands, d.Touched.Entry.Date)
		}
	case last > 0 && all[last-1].state == stands: // what was done then was not enough
		all = all[:last]
	default:
		all[last].state = stands
	}
	return all
}

// readingChart draws a measured thing from reading to reading against its limit;
// nothing where there is only one reading.
func (s *Site) readingChart(id string, m *condition.Measurement) template.HTML {
	if len(m.Values) < 2 {
		return ""
	}
	unit := m.First().Value.Unit()
	d := &benchtest.Drawing{Shape: benchtest.Whisker, Unit: unit.Symbol()}
	var said []string
	labels := s.readingLabels(m.Values)
	for i, v := range m.Values {
		value, ok := in(v.Value, unit)
		if !ok {
			return ""
		}
		p := benchtest.Point{Label: labels[i], Shown: v.Shown, Value: value, Low: value, High: value, Band: s.bandOf(m, unit)}
		for _, l := range s.limits(m.Limits, v.Value) {
			if !slices.Contains(p.Limits, l.Label) {
				p.Limits = append(p.Limits, l.Label)
			}
		}
		if onWrongSide(p, v.Verdict) {
			return ""
		}
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
	return s.drawing(id, d)
}

// onWrongSide tells of a value that the drawing would show on the other side of its limits
// than it was found: they may be of another cord, or hold at the level of the sea.
func onWrongSide(p benchtest.Point, verdict quantity.Verdict) bool {
	const least = 1e-9 // of what is equal but for floating point
	b := p.Band
	below := b.HasLow && p.Value < b.Low-least*math.Abs(b.Low)
	above := b.HasHigh && p.Value > b.High+least*math.Abs(b.High)
	at := b.HasLow && p.Value <= b.Low+least*math.Abs(b.Low) || b.HasHigh && p.Value >= b.High-least*math.Abs(b.High)
	return verdict == quantity.Inside && (below || above) || verdict == quantity.Outside && (b.HasLow || b.HasHigh) && !at
}

// readingLabels are the dates of readings, as exactly as the log has them. Those of
// one date are told apart by what was read before the work, or else counted.
func (s *Site) readingLabels(values []condition.Value) []string {
	count := func(all []string, label string) (n int) {
		for _, l := range all {
			if l == label {
				n++
			}
		}
		return n
	}
	var labels []string
	for _, v := range values {
		label := s.date(v.Date)
		if v.AsFound {
			label = s.say("page.chart-as-found", "date", label)
		}
		labels = append(labels, label)
	}
	told := slices.Clone(labels)
	for i, label := range labels {
		if count(labels, label) > 1 {
			told[i] = s.say("page.chart-nth", "date", label, "n", count(labels[:i+1], label))
		}
	}
	return told
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
