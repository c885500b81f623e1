package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// story makes a machine's own page: its entries as evenings.
func (s *Site) story(n int, put Put) error {
	m, r := s.Shop.Machines[n], s.Report(n)
	sh := s.composer(storyPath(m.Key))
	v := Story{Page: sh.page("story", m.Name, s.describe(r)), Head: sh.head(m, r), LastSaid: m.Story}
	v.Trail = sh.way(m, "")
	v.Preview = sh.preview(v.Head.Cover)
	var err error
	if v.Opening, err = sh.body(m.Body, m.Photos, m, 1); err != nil {
		return err
	}
	v.Totals = sh.totals(n)
	v.Charts = sh.charts(n)
	for _, e := range m.Entries {
		entry, err := sh.entry(m, r, e)
		if err != nil {
			return err
		}
		v.Entries = append(v.Entries, entry)
		v.Contents = append(v.Contents, Link{To: "#" + entry.ID, Text: s.say("page.contents", "date", condition.Opening(entry.Date), "title", entry.Title)})
	}
	v.Pairs = sh.pairs(m, r)
	for _, part := range m.Missing {
		v.Missing = append(v.Missing, part.Part)
	}
	rest := s.outside(m.Key)
	v.Gave, v.Took = sh.links(rest.Gave), sh.links(rest.Took)
	if rest.Before != nil {
		v.Before = sh.link(*rest.Before)
	}
	if rest.After != nil {
		v.After = sh.link(*rest.After)
	}
	return s.Theme.fill(put, sh.path, "story.html", v)
}

// link leads to another machine's story.
func (s *composer) link(m named) Link { return Link{To: s.to(storyPath(m.Key)), Text: m.Name} }

func (s *composer) links(machines []named) []Link {
	var all []Link
	for _, m := range machines {
		all = append(all, s.link(m))
	}
	return all
}

// totals are a machine's figures that the public sees.
func (s *composer) totals(n int) []Fact {
	m, r, count := s.Shop.Machines[n], s.Report(n), s.Count.Machines[n]
	facts := []Fact{{Label: s.say("page.total-entries"), Value: strconv.Itoa(len(m.Entries))}}
	add := func(key, value string) { facts = append(facts, Fact{Label: s.say(key), Value: value}) }
	if s.Shop.Show.Hours && worked(m) {
		add("page.total-work", s.Words.Length(int(count.Work.Total)))
	}
	parts := count.Fitted
	if parts.All > 0 {
		add("page.total-part-lines", strconv.Itoa(parts.All))
	}
	if s.Shop.Show.PartsCost && parts.Amount.Set && parts.All > 0 {
		add("page.total-parts", s.money(parts.Amount))
	}
	switch run := r.Run; {
	case run.Work != "" && run.SaidSince:
		add("page.total-run", s.Words.Length(int(run.Since)))
	case run.Work == "" && run.Said:
		add("page.total-ran", s.Words.Length(int(run.All)))
	}
	return facts
}

// worked tells whether any entry says how long somebody worked.
func worked(m *logbook.Machine) bool {
	return slices.ContainsFunc(m.Entries, func(e *logbook.Entry) bool { return len(e.Sessions) > 0 })
}

func (s *composer) entry(m *logbook.Machine, r *condition.Report, e *logbook.Entry) (Entry, error) {
	v := Entry{ID: entryID(e.File), Date: s.date(e.Date), DateISO: e.Date.ISO(), Title: e.Title, By: e.By}
	body, err := s.Shop.BodyOf(e)
	if err != nil {
		return v, fmt.Errorf("its story: %w", err)
	}
	if v.Body, err = s.body(body, e.Photos, m, 2); err != nil {
		return v, err
	}
	s.figures(&v, e)
	for _, d := range e.Diagnosis {
		v.Steps = append(v.Steps, Step{d.Tried, d.Saw, d.So, d.System})
	}
	for _, p := range e.Photos {
		if pic, ok := s.picture(p); ok && !p.InBody && !p.Cover { // the cover stands at the top
			v.Photos = append(v.Photos, pic)
		}
	}
	for _, c := range e.Checks {
		safety := false
		if p := r.Named(condition.KindPoint, c.Item); p != nil {
			safety = p.Safety == logbook.SafetyYes
		}
		v.Checks = append(v.Checks, CheckRow{Item: c.Item, Result: s.say(resultKeys[c.Result]), Note: c.Note, Mark: resultMarks[c.Result], Safety: safety})
	}
	v.Readings = s.entryReadings(r, e)
	for k, t := range r.Tests {
		if t.Entry == e {
			v.Tests = append(v.Tests, s.test(drawingID("test", k), t))
		}
	}
	v.Turns = s.turns(r, e)
	for _, p := range e.Parts {
		v.Parts = append(v.Parts, s.part(p, ""))
	}
	for _, c := range e.Service {
		v.Service = append(v.Service, ServiceRow{What: c.What, Amount: c.Amount, Grade: c.Grade, Every: logbook.EachOf(c.Every.Text)})
	}
	return v, nil
}

// figures fills in who, how long, meter and running.
func (s *composer) figures(v *Entry, e *logbook.Entry) {
	var work logbook.Minutes
	for _, sess := range e.Sessions {
		work += sess.Work
	}
	if work > 0 && s.Shop.Show.Hours {
		v.Hours = s.Words.Length(int(work))
	}
	if e.Meter != nil {
		v.Meter = s.say(meterKeys[e.Meter.State], "reading", e.Meter.Reading)
	}
	if e.Odometer != nil {
		v.Odometer = s.say(meterKeys[e.Odometer.State], "reading", e.Odometer.Reading)
	}
	if e.HasRan {
		v.Ran = s.Words.Length(int(e.Ran))
	}
}

var meterKeys = map[string]string{
	logbook.MeterRead: "page.meter-read", logbook.MeterUnknown: "page.meter-unknown",
	logbook.MeterBroken: "page.meter-broken", logbook.MeterNone: "page.meter-none",
}

var resultKeys = map[string]string{
	logbook.Works: "result.works", logbook.Fails: "result.fails", logbook.NotChecked: "result.not-checked",
	logbook.DoesNotApply: "result.does-not-apply", "": "result.not-checked",
}

var resultMarks = map[string]string{
	logbook.Works: "works", logbook.Fails: "fails", logbook.NotChecked: "unchecked", logbook.DoesNotApply: "none", "": "unchecked",
}

func (s *composer) part(p logbook.Part, date string) PartRow {
	row := PartRow{Part: p.Part, Number: p.Number, Source: s.say(sourceKeys[p.Source]), Date: date, Warranty: p.Warranty}
	if p.Fate != logbook.Fitted {
		row.Fate = s.say("fate." + strings.ReplaceAll(p.Fate, " ", "-"))
	}
	if !p.Measure.IsZero() || !p.Qty.IsOne() {
		row.Qty = p.HowMany()
	}
	switch {
	case p.SuppliedBy == logbook.ByOwner:
		row.Vendor = s.say("page.of-owner")
	case p.Vendor != "":
		row.Vendor = p.Vendor
	}
	if n, there := s.place[p.From]; there { // it is in outside.Took
		from := s.link(named{p.From, s.outlines[n].Name})
		row.From = &from
	}
	return row
}

var sourceKeys = map[string]string{
	logbook.New: "source.new", logbook.Used: "source.used", logbook.Rebuilt: "source.rebuilt",
	logbook.Salvaged: "source.salvaged", logbook.Made: "source.made", logbook.OnHand: "source.on-hand", "": "source.used",
}
