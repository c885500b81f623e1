package condition

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/govalues/decimal"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/tally"
)

func entry(date string, fill func(*logbook.Entry)) *logbook.Entry {
	e := &logbook.Entry{Date: logbook.Date(date), Title: "evening of " + date}
	e.File = "machines/m/" + date + ".md"
	if fill != nil {
		fill(e)
	}
	return e
}

func machine(entries ...*logbook.Entry) *logbook.Machine {
	m := &logbook.Machine{Key: "m", Name: "Test tiller", Kind: "walk-behind tiller", Arrived: "2026-03-01", Entries: entries}
	m.File = "machines/m/machine.md"
	m.Sheet = &logbook.Sheet{Name: "s", Kind: "walk-behind tiller", Items: []logbook.Item{
		{Item: "tines stop when the lever is let go", System: "guards", Safety: true},
		{Item: "brake holds on a slope", System: "brakes", Safety: true},
		{Item: "starts cold within five pulls", System: "engine"},
	}}
	return m
}

func judged(m *logbook.Machine) *Report {
	shop := &logbook.Shop{Name: "Shop", Terms: logbook.AsIs, Show: logbook.Show{Hours: true}, Machines: []*logbook.Machine{m}}
	return Judge(shop, m, tally.Machine{Key: "m"}, nil, catalog.English)
}

func find(e *logbook.Entry, key, system string, safety bool) {
	e.Defects = append(e.Defects, logbook.Defect{Key: key, Defect: "defect " + key, System: system, Safety: safety, Effect: "effect " + key})
}

func repair(e *logbook.Entry, key, proof string) {
	e.Repaired = append(e.Repaired, logbook.Repair{Key: key, How: "mended " + key, Proof: proof})
}

func TestLifeOfADefect(t *testing.T) {
	found := func(e *logbook.Entry) { find(e, "d", "drive", false) }
	for _, tc := range []struct {
		name    string
		entries []*logbook.Entry
		state   string
		closed  string
		back    string
		stale   string
	}{
		{"found", []*logbook.Entry{entry("2026-03-02", found)}, StillThere, "", "", ""},
		{"repaired without proof", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "") })}, NotProven, "2026-03-03", "", ""},
		{"repaired and proven", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran an hour") })}, Proven, "2026-03-03", "", ""},
		{"proven in a later entry", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "") }), entry("2026-03-05", func(e *logbook.Entry) { repair(e, "d", "ran an hour") })}, Proven, "2026-03-05", "", ""},
		{"worked around", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) {
			e.WorkedAround = append(e.WorkedAround, logbook.WorkAround{Key: "d", How: "blocked off"})
		})}, Around, "2026-03-03", "", ""},
		{"back after a repair", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran") }), entry("2026-03-09", found)}, StillThere, "", "2026-03-09", ""},
		{"back and repaired again", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran") }), entry("2026-03-09", found), entry("2026-03-10", func(e *logbook.Entry) { repair(e, "d", "") })}, NotProven, "2026-03-10", "2026-03-09", ""},
		{"proof overtaken by later work", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran") }), entry("2026-03-12", func(e *logbook.Entry) {
			e.Parts = append(e.Parts, logbook.Part{Part: "belt", System: "drive", Source: logbook.New, Qty: decimal.One})
		})}, Proven, "2026-03-03", "", "2026-03-12"},
		{"work elsewhere leaves a proof alone", []*logbook.Entry{entry("2026-03-02", found), entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran") }), entry("2026-03-12", func(e *logbook.Entry) {
			e.Parts = append(e.Parts, logbook.Part{Part: "plug", System: "ignition", Source: logbook.New, Qty: decimal.One})
		})}, Proven, "2026-03-03", "", ""},
	} {
		d := judged(machine(tc.entries...)).Defects[0]
		if d.State != tc.state || string(d.Closed) != tc.closed || string(d.Back) != tc.back || string(d.StaleSince) != tc.stale {
			t.Errorf("%s: got %q closed %q back %q stale since %q, want %q %q %q %q", tc.name, d.State, d.Closed, d.Back, d.StaleSince, tc.state, tc.closed, tc.back, tc.stale)
		}
	}
}

func TestSafetyIsNeverTalkedAway(t *testing.T) {
	m := machine(
		entry("2026-03-02", func(e *logbook.Entry) { find(e, "d", "controls", true) }),
		entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "tried it") }),
		entry("2026-03-04", func(e *logbook.Entry) { find(e, "d", "controls", false) }),
	)
	if d := judged(m).Defects[0]; !d.Safety {
		t.Error("a later entry without safety: yes made the defect harmless")
	}
}

func check(e *logbook.Entry, item, result string) {
	e.Checks = append(e.Checks, logbook.Check{Item: item, Result: result})
}

func TestAnswersToTheSheet(t *testing.T) {
	const starts = "starts cold within five pulls"
	work := func(system string) func(*logbook.Entry) {
		return func(e *logbook.Entry) {
			e.Changed = append(e.Changed, logbook.Change{What: "a change", System: system})
		}
	}
	for _, tc := range []struct {
		name    string
		entries []*logbook.Entry
		result  string
		since   string
	}{
		{"never answered", nil, NotChecked, ""},
		{"works", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Works) })}, Works, ""},
		{"works, then work there", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Works) }), entry("2026-03-05", work("engine"))}, Stale, "2026-03-05"},
		{"works, then work nobody placed", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Works) }), entry("2026-03-05", work(""))}, Stale, "2026-03-05"},
		{"works, then work elsewhere", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Works) }), entry("2026-03-05", work("brakes"))}, Works, ""},
		{"work and check in one evening", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { work("engine")(e); check(e, starts, Works) })}, Works, ""},
		{"a failure stays one after work", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Fails) }), entry("2026-03-05", work("engine"))}, Fails, "2026-03-05"},
		{"checked again after the work", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Fails) }), entry("2026-03-05", work("engine")), entry("2026-03-06", func(e *logbook.Entry) { check(e, starts, Works) })}, Works, ""},
		{"the last answer counts", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) { check(e, starts, Works) }), entry("2026-03-05", func(e *logbook.Entry) { check(e, starts, NotChecked) })}, NotChecked, ""},
	} {
		r := judged(machine(tc.entries...))
		i := slices.IndexFunc(r.Checks, func(c *Check) bool { return c.Item == starts })
		if c := r.Checks[i]; c.Result != tc.result || string(c.StaleSince) != tc.since {
			t.Errorf("%s: got %q since %q, want %q since %q", tc.name, c.Result, c.StaleSince, tc.result, tc.since)
		}
	}
}

func measure(t *testing.T, e *logbook.Entry, value, gauge string) {
	t.Helper()
	r := logbook.Reading{What: "compression", Where: "cylinder 1"}
	var err error
	if r.Value, err = quantity.Parse(value); err != nil {
		t.Fatal(err)
	}
	if gauge != "" {
		if r.Gauge, err = quantity.ParseGauge(gauge); err != nil {
			t.Fatal(err)
		}
		r.HasGauge = true
	}
	e.Measured = append(e.Measured, r)
}

func TestReadingsAsFoundAndAsLeft(t *testing.T) {
	first, second := entry("2026-03-02", nil), entry("2026-03-09", nil)
	measure(t, first, "48 psi", "")
	measure(t, second, "63 psi", "2 psi")
	m := machine(first, second, entry("2026-03-20", func(e *logbook.Entry) {
		e.Changed = append(e.Changed, logbook.Change{What: "head skimmed", System: "engine"})
	}))
	limit, err := quantity.ParseLimit(">= 60 psi")
	if err != nil {
		t.Fatal(err)
	}
	m.Limits = []logbook.Limit{{What: "Compression", Limit: limit, Source: "maker's sheet"}}
	r := judged(m)
	got := r.Readings[0]
	if got.AsFound().Verdict != quantity.Outside || got.AsLeft().Verdict != quantity.Inside || got.StaleSince != "2026-03-20" {
		t.Errorf("as found %q, as left %q, stale since %q", got.AsFound().Verdict, got.AsLeft().Verdict, got.StaleSince)
	}
	text := r.Sections[Measured-1].Statements[0].Text
	for _, want := range []string{"48 psi", "63 psi", "maker's sheet", "inside the limit", "not measured again"} {
		if !strings.Contains(text, want) {
			t.Errorf("the statement does not say %q: %s", want, text)
		}
	}
}

func TestRunSinceTheLastWorkOnTheEngine(t *testing.T) {
	r := judged(machine(
		entry("2026-03-02", func(e *logbook.Entry) { e.Ran = 30 }),
		entry("2026-03-05", func(e *logbook.Entry) {
			e.Ran = 10
			e.Parts = append(e.Parts, logbook.Part{Part: "ring set", System: "engine", Source: logbook.New, Qty: decimal.One})
		}),
		entry("2026-03-06", func(e *logbook.Entry) { e.Ran = 45 }),
		entry("2026-03-08", func(e *logbook.Entry) { e.Ran = 20 }),
	))
	if r.RunSinceWork != 65 || r.EngineWork != "2026-03-05" || r.Ran != 105 {
		t.Errorf("since work %d min, last work %s, in all %d min", r.RunSinceWork, r.EngineWork, r.Ran)
	}
}

func TestMissingGuardIsReadFirst(t *testing.T) {
	m := machine(entry("2026-03-02", nil))
	m.Missing = []logbook.Missing{{Part: "tine shield"}, {Part: "tool box lid"}}
	r := judged(m)
	first := textsOf(r, ReadFirst)
	if !strings.Contains(first, "tine shield") || strings.Contains(first, "tool box lid") {
		t.Errorf("section 1: %s", first)
	}
	if all := textsOf(r, NotAsBuilt); !strings.Contains(all, "tine shield") || !strings.Contains(all, "tool box lid") {
		t.Errorf("section 6: %s", all)
	}
	m.Entries = append(m.Entries, entry("2026-03-03", func(e *logbook.Entry) {
		e.Parts = append(e.Parts, logbook.Part{Part: "tine shield bolts", System: "guards", Source: logbook.New, Qty: decimal.One})
	}))
	if first := textsOf(judged(m), ReadFirst); !strings.Contains(first, "tine shield") {
		t.Error("bolts for a shield passed for the shield")
	}
	m.Entries = append(m.Entries, entry("2026-03-04", func(e *logbook.Entry) {
		e.Parts = append(e.Parts, logbook.Part{Part: "Tine shield, rear", System: "guards", Source: logbook.Used, Qty: decimal.One})
	}))
	if first := textsOf(judged(m), ReadFirst); strings.Contains(first, "tine shield") {
		t.Errorf("a fitted shield is still told as gone: %s", first)
	}
}

func TestIsThe(t *testing.T) {
	for _, c := range []struct {
		part, name string
		want       bool
	}{
		{"Tine shield", "tine shield", true},
		{" Tine shield, rear", "tine shield", true},
		{"tine shield (salvaged)", "tine shield", true},
		{"belt guard, left", "belt guard, left", true},
		{"guard (rear)", "guard (rear)", true},
		{"belt guard, right", "belt guard, left", false},
		{"tine shield bolts", "tine shield", false},
		{"bolts, tine shield", "tine shield", false},
	} {
		if got := isThe(c.part, c.name); got != c.want {
			t.Errorf("is %q the %q? %v, want %v", c.part, c.name, got, c.want)
		}
	}
}

func textsOf(r *Report, section int) string {
	var all []string
	for _, s := range r.Sections[section-1].Statements {
		all = append(all, s.Text)
	}
	return strings.Join(all, "\n")
}

// drawMachine makes any log at all, within what the logbook lets through.
func drawMachine(t *rapid.T) *logbook.Machine {
	systems := append([]string{""}, logbook.Systems...)
	system := rapid.SampledFrom(systems)
	m := machine()
	known := []string{}
	for i := range rapid.IntRange(0, 7).Draw(t, "entries") {
		e := entry(fmt.Sprintf("2026-03-%02d", i+2), nil)
		for range rapid.IntRange(0, 2).Draw(t, "defects") {
			key := fmt.Sprintf("d%d", rapid.IntRange(0, 4).Draw(t, "key"))
			find(e, key, rapid.SampledFrom(logbook.Systems).Draw(t, "system"), rapid.Bool().Draw(t, "safety"))
			known = append(known, key)
		}
		for range rapid.IntRange(0, 2).Draw(t, "repairs") {
			if len(known) == 0 {
				continue
			}
			key := rapid.SampledFrom(known).Draw(t, "repaired")
			if rapid.Bool().Draw(t, "around") {
				e.WorkedAround = append(e.WorkedAround, logbook.WorkAround{Key: key, How: "round " + key, Left: "left " + key})
			} else {
				repair(e, key, rapid.SampledFrom([]string{"", "proof"}).Draw(t, "proof"))
			}
		}
		for range rapid.IntRange(0, 3).Draw(t, "checks") {
			item := rapid.SampledFrom([]string{m.Sheet.Items[0].Item, m.Sheet.Items[1].Item, m.Sheet.Items[2].Item, "own point"}).Draw(t, "item")
			e.Checks = append(e.Checks, logbook.Check{Item: item, System: "frame", Result: rapid.SampledFrom([]string{Works, Fails, NotChecked}).Draw(t, "result")})
		}
		if rapid.Bool().Draw(t, "changes") {
			e.Changed = append(e.Changed, logbook.Change{What: fmt.Sprintf("change %d", i), System: system.Draw(t, "change system")})
		}
		if rapid.Bool().Draw(t, "parts") {
			e.Parts = append(e.Parts, logbook.Part{Part: fmt.Sprintf("part %d", i), System: system.Draw(t, "part system"), Source: rapid.SampledFrom(logbook.Sources).Draw(t, "source"), Qty: decimal.One})
		}
		if rapid.Bool().Draw(t, "reads") {
			q, err := quantity.Parse(fmt.Sprintf("%d psi", rapid.IntRange(20, 120).Draw(t, "psi")))
			if err != nil {
				t.Fatal(err)
			}
			e.Measured = append(e.Measured, logbook.Reading{What: "compression", Value: q})
		}
		m.Entries = append(m.Entries, e)
	}
	limit, err := quantity.ParseLimit(">= 60 psi")
	if err != nil {
		t.Fatal(err)
	}
	m.Limits = []logbook.Limit{{What: "compression", Limit: limit}}
	return m
}

// Whatever the log, the report holds every open defect, every failed and every
// unanswered point, every reading outside its limit and every change; and each
// statement rests on an entry.
func TestTheReportLeavesNothingOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMachine(t)
		r := judged(m)
		fails, unchecked, changed, measured := textsOf(r, WhatFails), textsOf(r, NobodyChecked), textsOf(r, NotAsBuilt), textsOf(r, Measured)
		first, works := textsOf(r, ReadFirst), textsOf(r, WhatWorks)
		for _, d := range r.Defects {
			if d.Open() && !strings.Contains(fails, opening(d.Defect)) {
				t.Fatalf("%s is open and section 4 does not say so", d.Key)
			}
			if d.Open() && d.Safety && !strings.Contains(first, opening(d.Defect)) {
				t.Fatalf("%s is an open safety defect and section 1 does not say so", d.Key)
			}
			if d.Safety && d.State == NotProven && !strings.Contains(first, opening(d.Defect)) {
				t.Fatalf("%s is a safety repair that nobody has proven, and section 1 does not say so", d.Key)
			}
			if !d.Open() && !strings.Contains(textsOf(r, WhatRepaired), opening(d.Defect)) {
				t.Fatalf("%s was repaired and section 5 does not say so", d.Key)
			}
		}
		for _, c := range r.Checks {
			switch {
			case c.Result == Fails && !strings.Contains(fails, c.Item),
				(c.Result == NotChecked || c.Result == Stale) && !strings.Contains(unchecked, c.Item),
				c.System == logbook.Guards && c.Result != Works && !strings.Contains(first, c.Item):
				t.Fatalf("%q is %q and not told", c.Item, c.Result)
			case c.Result != Works && strings.Contains(works, c.Item):
				t.Fatalf("%q is %q and told as working", c.Item, c.Result)
			}
		}
		for _, e := range m.Entries {
			for _, c := range e.Changed {
				if !strings.Contains(changed, opening(c.What)) {
					t.Fatalf("%q is not told", c.What)
				}
			}
		}
		for _, x := range r.Readings {
			if x.AsLeft().Verdict == quantity.Outside && !strings.Contains(measured, "The last reading is outside the limit.") {
				t.Fatal("a reading outside its limit is not told")
			}
		}
		for _, s := range r.Statements() {
			if len(s.Evidence) == 0 || s.Evidence[0].File == "" || s.Text == "" || strings.ContainsAny(s.Text, "{}[]") {
				t.Fatalf("section %d: %q rests on %v", s.Section, s.Text, s.Evidence)
			}
		}
		if n := len(r.Sections[InShort-1].Statements); n < 3 || n > 5 {
			t.Fatalf("in short is %d sentences", n)
		}
	})
}

// More evidence of the same kind never makes the report say less.
func TestNoWorkMakesAStaleCheckFresh(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMachine(t)
		before := judged(m)
		m.Entries = append(m.Entries, entry("2026-04-01", func(e *logbook.Entry) {
			e.Changed = append(e.Changed, logbook.Change{What: "more work", System: rapid.SampledFrom(logbook.Systems).Draw(t, "system")})
		}))
		after := judged(m)
		for i, c := range before.Checks {
			if c.Result != Works && after.Checks[i].Result == Works {
				t.Fatalf("work alone turned %q from %q to works", c.Item, c.Result)
			}
		}
		if a, b := before.RunSinceWork, after.RunSinceWork; b > a && before.EngineWork != "" {
			t.Fatalf("work alone made the run since work longer: %d, then %d", a, b)
		}
	})
}

func TestALaterProofIsNoWork(t *testing.T) {
	r := judged(machine(
		entry("2026-03-02", func(e *logbook.Entry) { find(e, "d", "engine", false) }),
		entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", ""); check(e, "starts cold within five pulls", Works) }),
		entry("2026-03-05", func(e *logbook.Entry) {
			e.Ran = 60
			e.Repaired = append(e.Repaired, logbook.Repair{Key: "d", Proof: "ran an hour under load"})
		}),
	))
	d := r.Defects[0]
	if d.State != Proven || d.How != "mended d" || d.Closed != "2026-03-03" || d.Proved != "2026-03-05" {
		t.Errorf("the defect is %+v", d)
	}
	if r.RunSinceWork != 60 || r.EngineWork != "2026-03-03" {
		t.Errorf("the proof counted as work: run %d since %s", r.RunSinceWork, r.EngineWork)
	}
	for _, c := range r.Checks {
		if c.System == "engine" && c.Result != Works {
			t.Errorf("the proof made a check %s", c.Result)
		}
	}
}

// A photo that shows a defect stands for the turn that names no photo of its
// own; a private one never does, and one photo is not both sides of a repair.
func TestPhotosThatShowADefect(t *testing.T) {
	photo := func(e *logbook.Entry, name, shows string, private bool) {
		e.Photos = append(e.Photos, logbook.Photo{File: name, Path: "machines/m/photos/" + name, Shows: shows, Private: private})
	}
	for _, tc := range []struct {
		name           string
		entries        []*logbook.Entry
		evidence       []string // the photo of each turn
		broken, mended string
	}{
		{"found", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) {
			find(e, "d", "drive", false)
			photo(e, "hidden.jpg", "d", true)
			photo(e, "other.jpg", "", false)
			photo(e, "a.jpg", "d", false)
			photo(e, "b.jpg", "d", false)
		})}, []string{"a.jpg"}, "b.jpg", ""},
		{"its own photo first", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) {
			find(e, "d", "drive", false)
			e.Defects[0].Photo = "own.jpg"
			photo(e, "own.jpg", "", false)
			photo(e, "a.jpg", "d", false)
		})}, []string{"own.jpg"}, "a.jpg", ""},
		{"found and repaired, one photo", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) {
			find(e, "d", "drive", false)
			repair(e, "d", "ran")
			photo(e, "a.jpg", "d", false)
		})}, []string{"a.jpg", ""}, "a.jpg", ""},
		{"found and repaired, two photos", []*logbook.Entry{entry("2026-03-02", func(e *logbook.Entry) {
			find(e, "d", "drive", false)
			repair(e, "d", "ran")
			photo(e, "a.jpg", "d", false)
			photo(e, "b.jpg", "d", false)
		})}, []string{"a.jpg", "b.jpg"}, "a.jpg", "b.jpg"},
		{"repaired later", []*logbook.Entry{
			entry("2026-03-02", func(e *logbook.Entry) { find(e, "d", "drive", false); photo(e, "a.jpg", "d", false) }),
			entry("2026-03-03", func(e *logbook.Entry) { repair(e, "d", "ran"); photo(e, "b.jpg", "d", false) }),
		}, []string{"a.jpg", "b.jpg"}, "a.jpg", "b.jpg"},
	} {
		d := judged(machine(tc.entries...)).Defects[0]
		var got []string
		for _, ev := range d.Evidence {
			got = append(got, strings.TrimPrefix(ev.Photo, "machines/m/photos/"))
		}
		name := func(ev Evidence) string { return strings.TrimPrefix(ev.Photo, "machines/m/photos/") }
		if !slices.Equal(got, tc.evidence) || name(d.Broken) != tc.broken || name(d.Mended) != tc.mended {
			t.Errorf("%s: photos %q, broken %q, mended %q; want %q, %q, %q", tc.name, got, name(d.Broken), name(d.Mended), tc.evidence, tc.broken, tc.mended)
		}
	}
}
