package entry_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
	"pgregory.net/rapid"

	yaml2 "gopkg.in/yaml.v2"

	"asleft/generator/catalog"
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// shop is an empty shop with one machine, in memory.
func shop(t testing.TB) afero.Fs {
	t.Helper()
	folder := afero.NewMemMapFs()
	put(t, folder, "shop.md", "---\nshop: Test shop\ncurrency: USD\ntimezone: America/New_York\n---\n")
	put(t, folder, "machines/harrow/machine.md", "---\nname: Harrow tiller\nkind: walk-behind tiller\narrived: 2026-03-01\n---\n")
	return folder
}

func put(t testing.TB, folder afero.Fs, name, data string) {
	t.Helper()
	if err := afero.WriteFile(folder, name, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
}

// full is an entry with everything that an entry can hold.
func full(any func(string) string) entry.Entry {
	say := func(label string) string {
		if slices.Contains([]string{"title", "item", "what", "part", "defect", "knob", "lamp", "changed", "service"}, label) {
			return called(any(label))
		}
		return any(label)
	}
	return entry.Entry{
		Date: "2026-03-02", Title: say("title"), Time: "18:30", By: say("by"),
		Sessions: []entry.Session{{From: "18:30", To: "00:15", Less: "0:20", Task: say("task"), By: say("hand")}},
		Meter:    "412.6 h", MeterReplaced: entry.MeterReplaced{Old: "412.6 h", New: "0 h"}, Odometer: "4200 mi", Ran: "0:45",
		Checks:       []entry.Check{{Item: say("item"), Result: "not checked", Note: say("note"), System: "drive", Safety: "yes", AsFound: true, By: "jet"}},
		Measured:     []entry.Reading{{What: say("what"), Where: say("where"), Value: "0.0110 in", Gauge: "0.001 in", State: say("state"), System: "engine", AsFound: true}},
		Diagnosis:    []entry.Step{{Tried: say("tried"), Saw: say("saw"), So: say("so"), System: "fuel"}},
		Tests:        []entry.Test{{Test: "compression", Where: say("cylinder"), AsFound: true, Inputs: []entry.Input{{Name: "dry", Texts: []string{"62 psi", "65 psi"}}, {Name: "kick_release", Texts: []string{"no"}}, {Name: "state", Texts: []string{say("test state")}}}}},
		Parts:        []entry.Part{{Part: say("part"), Number: say("number"), Supersedes: say("supersedes"), Vendor: say("vendor"), Warranty: say("warranty"), SuppliedBy: "owner", Qty: "1.1 qt", Deposit: "7.50", Each: "14.25", Source: "on hand", System: "engine", Consumable: true, Answers: []string{say("answers"), "b, c"}, Replaces: say("replaces"), Affects: []string{say("affects")}, Fate: "returned", Tax: "6 %", Shipping: "4.50"}},
		Costs:        []entry.Cost{{For: say("for"), Amount: "22.00"}},
		Defects:      []entry.Defect{{Key: "tine-seal", Defect: say("defect"), Effect: say("effect"), System: "drive", Safety: "yes", Point: "tines stop when the lever is let go"}, {Key: "knob", Defect: say("knob"), System: "controls", Safety: "no"}, {Key: "lamp", Defect: say("lamp"), System: "electrical"}},
		Repaired:     []entry.Repair{{Key: "tine-seal", How: say("how"), Proof: "3: " + say("proof"), Affects: []string{say("affected")}}},
		WorkedAround: []entry.WorkAround{{Key: "knob", How: say("around"), Left: say("left"), Affects: []string{"drive"}}},
		Gone:         []entry.Gone{{Key: "lamp", With: "jet"}},
		Changed:      []entry.Change{{Key: "jet", What: say("changed"), Why: "5 " + say("why"), System: "electrical", Safety: "no", Adds: true, Affects: []string{say("mixture")}, Caution: say("caution")}},
		PutBack:      []entry.PutBack{{Key: "jet", How: say("back"), Affects: []string{"fuel"}}},
		WorkedOn:     []string{"engine", "drive"},
		Service:      []entry.Service{{What: say("service"), Amount: "0.6 qt", Grade: say("grade"), System: "engine", Every: say("every"), Answers: []string{say("point")}}},
		Photos:       []entry.Photo{{File: "pinion.jpg", Alt: say("alt"), Caption: say("caption"), Cover: true, Private: true}, {File: "2.jpg"}},
		Private:      say("private"), Body: say("body"),
	}
}

// back reads an entry as the shop does.
func back(t testing.TB, data []byte) *logbook.Entry {
	t.Helper()
	folder := shop(t)
	put(t, folder, "machines/harrow/photos/pinion.jpg", "")
	put(t, folder, "machines/harrow/photos/2.jpg", "")
	put(t, folder, "machines/harrow/e.md", string(data))
	s, problems, err := logbook.Read(folder, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Fatalf("%s (%s)\n%s", p, p.Mend, data)
	}
	return s.Machines[0].Entries[0]
}

// facts are what came back, in the words that went in.
func facts(e *logbook.Entry) entry.Entry {
	s, c, m, p, k := e.Sessions[0], e.Checks[0], e.Measured[0], e.Parts[0], e.Costs[0]
	got := entry.Entry{
		Date: string(e.Date), Title: e.Title, Time: e.Clock.String(), By: e.By,
		Sessions:      []entry.Session{{From: s.From.String(), To: s.To.String(), Less: s.Less.String(), Task: s.Task, By: s.By}},
		Meter:         e.Meter.Reading.String(),
		MeterReplaced: entry.MeterReplaced{Old: e.MeterReplaced.Old.String(), New: e.MeterReplaced.New.String()}, Odometer: e.Odometer.Reading.String(), Ran: e.Ran.String(),
		Checks:   []entry.Check{{Item: c.Item, Result: c.Result, Note: c.Note, By: c.By, System: c.System, Safety: string(c.Safety), AsFound: c.AsFound}},
		Measured: []entry.Reading{{What: m.What, Where: m.Where, Value: m.Value.String(), Gauge: m.Gauge.String(), State: m.State, System: m.System, AsFound: m.AsFound}},
		Parts:    []entry.Part{{Part: p.Part, Number: p.Number, Supersedes: p.Supersedes, Vendor: p.Vendor, Warranty: p.Warranty, SuppliedBy: p.SuppliedBy, Qty: p.HowMany(), Deposit: p.Core.Deposit.String(), Each: p.Each.String(), Source: p.Source, System: p.System, Replaces: p.Replaces, Fate: p.Fate, Consumable: p.Consumable, Answers: p.Answers, Affects: p.Affects, Tax: p.Tax.String() + " %", Shipping: p.Shipping.String()}},
		Costs:    []entry.Cost{{For: k.For, Amount: k.Amount.String()}},
		Private:  e.Private, Body: strings.TrimSpace(string(e.Body.Text)),
	}
	for _, s := range e.Diagnosis {
		got.Diagnosis = append(got.Diagnosis, entry.Step{Tried: s.Tried, Saw: s.Saw, So: s.So, System: s.System})
	}
	for _, t := range e.Tests {
		test := entry.Test{Test: t.Test, Where: t.Where, AsFound: t.AsFound}
		for _, in := range t.Inputs {
			texts := []string{in.Text}
			if in.List {
				texts = nil
				for _, item := range in.Items {
					texts = append(texts, item.Text)
				}
			}
			test.Inputs = append(test.Inputs, entry.Input{Name: in.Name, Texts: texts})
		}
		got.Tests = append(got.Tests, test)
	}
	for _, d := range e.Defects {
		got.Defects = append(got.Defects, entry.Defect{Key: d.Key, Defect: d.Defect, Effect: d.Effect, System: d.System, Safety: string(d.Safety), Point: d.Point})
	}
	for _, r := range e.Repaired {
		got.Repaired = append(got.Repaired, entry.Repair{Key: r.Key, How: r.How, Proof: r.Proof, Of: r.Of, Affects: r.Affects})
	}
	for _, w := range e.WorkedAround {
		got.WorkedAround = append(got.WorkedAround, entry.WorkAround{Key: w.Key, How: w.How, Left: w.Left, Affects: w.Affects})
	}
	for _, g := range e.Gone {
		got.Gone = append(got.Gone, entry.Gone{Key: g.Key, With: g.With})
	}
	for _, c := range e.Changed {
		got.Changed = append(got.Changed, entry.Change{Key: c.Key, What: c.What, Why: c.Why, System: c.System, Safety: string(c.Safety), Adds: c.Adds, Affects: c.Affects, Caution: c.Caution})
	}
	for _, p := range e.PutBack {
		got.PutBack = append(got.PutBack, entry.PutBack{Key: p.Key, How: p.How, Affects: p.Affects})
	}
	for _, w := range e.WorkedOn {
		got.WorkedOn = append(got.WorkedOn, w.System)
	}
	for _, s := range e.Service {
		got.Service = append(got.Service, entry.Service{What: s.What, Amount: s.Amount, Grade: s.Grade, System: s.System, Every: s.Every.Text, Answers: s.Answers})
	}
	for _, p := range e.Photos {
		got.Photos = append(got.Photos, entry.Photo{File: p.File, Alt: p.Alt, Caption: p.Caption, Cover: p.Cover, Private: p.Private})
	}
	return got
}

// texts draws the texts that are hard on YAML, and any others.
func texts(t *rapid.T, label string) string {
	hard := rapid.SampledFrom([]string{
		"a, b", "a: b", "a:b", "- a", "# a", "a # b", "18:30", "2:30", "yes", "No", "null", "~", "1e3", "0x1F", "017", "1_000", ".5", "2026-03-02", "2026-03-02T10:00:00Z",
		"[a]", "{a}", "a]", "a}", "'a'", `"a"`, `a\b`, `a "b" c`, "%a", "@a", "`a`", "!a", "&a", "*a", "|", ">", "?", "? a", "-", "---", "...", "a\n---\nb", "a\n  b\n\tc", "a\n\n\nb", "a\n...\nb",
		"it's", "100 %", "a:", "½ in", "über", "Öl läuft", "油漏れ", "a\tb", "<<", "=", "y", "n", "on", "OFF", "NaN", ".inf", "0.10", "1,000", "a  b", "a #b", "🛠 x", "a\u00a0b", "\u200bx", "12 345", "1:30 h", "0o7", "a\r\nb", "+1", "-3 degC", ">= 60 psi",
	})
	s := rapid.OneOf(hard, rapid.StringMatching(`[a-z0-9 ,:#'"\[\]{}&*!|>%@\\-]{1,30}`), rapid.String()).Draw(t, label)
	if want(s) == "" {
		return "text"
	}
	return s
}

// seen is a text that tells one thing from another as it is read back: on one line, and
// without what nobody sees.
func seen(s string) string {
	return want(strings.Join(strings.Fields(logbook.WithoutHidden(want(s))), " "))
}

// called is a text that a thing can go by: with a letter that can be seen.
func called(s string) string {
	if strings.ContainsAny(want(s), "abcdefghijklmnopqrstuvwxyz0123456789") {
		return s
	}
	return s + "x"
}

// want is a text as the reader gives it: its line ends LF, trimmed, without the
// characters that the reader refuses.
func want(s string) string {
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n")
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\r' || r == 0x85 || r == 0x2028 || r == 0x2029:
			b.WriteByte('\n')
		case r < ' ' && r != '\n' && r != '\t', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0xfeff, r == 0xfffe, r == 0xffff:
		default:
			b.WriteRune(r)
		}
	}
	return strings.TrimSpace(b.String())
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		// The body is Markdown, where some of the texts are refused for what they
		// mean there; here it has none of them.
		e := full(func(label string) string {
			if label == "body" {
				return "A story.\n\n---\n\n    indented"
			}
			return texts(r, label)
		})
		data := e.Markdown()
		got := facts(back(t, data))
		if diff := cmp.Diff(clean(e), got); diff != "" {
			r.Fatalf("read back (-want, +got):\n%s\n%s", diff, data)
		}
		independent(r, e, data)
	})
}

// clean is the entry with each text as the reader gives it.
func clean(e entry.Entry) entry.Entry {
	into := e
	into.Sessions, into.Checks, into.Measured, into.Parts = slices.Clone(e.Sessions), slices.Clone(e.Checks), slices.Clone(e.Measured), slices.Clone(e.Parts)
	into.Costs, into.Defects, into.Repaired = slices.Clone(e.Costs), slices.Clone(e.Defects), slices.Clone(e.Repaired)
	into.WorkedAround, into.Photos = slices.Clone(e.WorkedAround), slices.Clone(e.Photos)
	into.Title, into.By, into.Private, into.Body = want(e.Title), want(e.By), want(e.Private), strings.TrimSpace(e.Body)
	s, c, m, p := &into.Sessions[0], &into.Checks[0], &into.Measured[0], &into.Parts[0]
	s.Task, s.By = want(s.Task), want(s.By)
	c.Item, c.Note = want(c.Item), want(c.Note)
	m.What, m.Where, m.State = want(m.What), want(m.Where), want(m.State)
	p.Part, p.Number, p.Supersedes, p.Vendor, p.Warranty = want(p.Part), want(p.Number), want(p.Supersedes), want(p.Vendor), want(p.Warranty)
	into.Diagnosis, into.Tests = slices.Clone(e.Diagnosis), slices.Clone(e.Tests)
	step, test := &into.Diagnosis[0], &into.Tests[0]
	step.Tried, step.Saw, step.So = want(step.Tried), want(step.Saw), want(step.So)
	test.Where, test.Inputs = want(test.Where), slices.Clone(test.Inputs)
	for i := range test.Inputs {
		test.Inputs[i].Texts = wants(test.Inputs[i].Texts)
	}
	into.Costs[0].For = want(into.Costs[0].For)
	for i := range into.Defects {
		into.Defects[i].Defect, into.Defects[i].Effect = want(into.Defects[i].Defect), want(into.Defects[i].Effect)
	}
	into.Repaired[0].How, into.Repaired[0].Proof = want(into.Repaired[0].How), want(into.Repaired[0].Proof)
	into.Changed, into.PutBack, into.Service = slices.Clone(e.Changed), slices.Clone(e.PutBack), slices.Clone(e.Service)
	p.Answers, p.Affects, p.Replaces = wants(p.Answers), wants(p.Affects), want(p.Replaces)
	into.Repaired[0].Affects = wants(into.Repaired[0].Affects)
	change, service := &into.Changed[0], &into.Service[0]
	change.What, change.Why, change.Caution, change.Affects = want(change.What), want(change.Why), want(change.Caution), wants(change.Affects)
	into.PutBack[0].How = want(into.PutBack[0].How)
	service.What, service.Grade, service.Every, service.Answers = want(service.What), want(service.Grade), want(service.Every), wants(service.Answers)
	into.WorkedAround[0].How, into.WorkedAround[0].Left = want(into.WorkedAround[0].How), want(into.WorkedAround[0].Left)
	into.Photos[0].Alt, into.Photos[0].Caption = want(into.Photos[0].Alt), want(into.Photos[0].Caption)
	return into
}

func wants(all []string) []string {
	var into []string
	for _, s := range all {
		into = append(into, want(s))
	}
	return into
}

// independent reads the front matter with a parser that is not the shop's, of
// YAML 1.1: every text has to come out as a text, untyped.
func independent(t *rapid.T, e entry.Entry, data []byte) {
	front, _, ok := strings.Cut(strings.TrimPrefix(string(data), "---\n"), "\n---\n")
	if !ok {
		t.Fatalf("no front matter:\n%s", data)
	}
	var got map[string]any
	if err := yaml2.Unmarshal([]byte(front), &got); err != nil {
		t.Fatalf("yaml.v2: %v\n%s", err, data)
	}
	item := func(list, field string) any {
		all, _ := got[list].([]any)
		if len(all) == 0 {
			return nil
		}
		m, _ := all[0].(map[any]any)
		return m[field]
	}
	text := func(v any) string { s, _ := v.(string); return strings.TrimSpace(s) }
	first := func(v any) any {
		if all, _ := v.([]any); len(all) > 0 {
			return all[0]
		}
		return nil
	}
	for _, pair := range [][2]string{
		{text(got["title"]), e.Title}, {text(got["by"]), e.By}, {text(got["time"]), e.Time}, {text(got["ran"]), e.Ran}, {text(got["private"]), e.Private},
		{text(item("hours", "from")), e.Sessions[0].From}, {text(item("hours", "task")), e.Sessions[0].Task},
		{text(item("checks", "item")), e.Checks[0].Item}, {text(item("checks", "note")), e.Checks[0].Note},
		{text(item("measured", "what")), e.Measured[0].What}, {text(item("measured", "value")), e.Measured[0].Value},
		{text(item("parts", "number")), e.Parts[0].Number}, {text(item("costs", "for")), e.Costs[0].For},
		{text(item("repaired", "how")), e.Repaired[0].How}, {text(item("worked_around", "left")), e.WorkedAround[0].Left},
		{text(item("photos", "alt")), e.Photos[0].Alt}, {text(item("defects", "effect")), e.Defects[0].Effect},
		{text(item("diagnosis", "saw")), e.Diagnosis[0].Saw}, {text(item("tests", "where")), e.Tests[0].Where},
		{text(item("changed", "caution")), e.Changed[0].Caution}, {text(first(item("service", "answers"))), e.Service[0].Answers[0]}, {text(first(item("parts", "answers"))), e.Parts[0].Answers[0]},
	} {
		if pair[0] != want(pair[1]) {
			t.Fatalf("yaml.v2 read %q, want %q\n%s", pair[0], want(pair[1]), data)
		}
	}
	if item("parts", "qty") != "1.1 qt" || item("defects", "safety") != true || item("changed", "safety") != false {
		t.Fatalf("yaml.v2 read qty %v, safety %v", item("parts", "qty"), item("defects", "safety"))
	}
}

// An entry as a person would have written it, by eye.
func TestEntryLooksHandwritten(t *testing.T) {
	e := entry.Entry{
		Date: "2026-03-02", Title: "First look", Time: "18:30", By: "JM", Hours: "2.5", Meter: "412.6 h", Ran: "0:45",
		Checks:   []entry.Check{{Item: "belt cover is on and bolted", Result: "fails", Note: "one bolt, of three"}},
		Measured: []entry.Reading{{What: "crankshaft end play", Value: "0.011 in", Gauge: "0.001 in"}},
		Parts:    []entry.Part{{Part: "head gasket", Number: "0123", Each: "14.25", Source: "new", System: "engine", Fate: "not fitted"}},
		Defects:  []entry.Defect{{Key: "tine-seal", Defect: "tine shaft seal leaks", System: "drive", Safety: "no"}, {Key: "knob", Defect: "knob is loose", System: "controls"}},
		Service:  []entry.Service{{What: "engine oil", Amount: "0.6 qt", Grade: "SAE 30", System: "engine", Every: "25 h", Answers: []string{"engine oil is clean and at the mark"}}},
		WorkedOn: []string{"drive"},
		Photos:   []entry.Photo{{File: "2026-03-02-183012.jpg"}},
		Private:  "Bottom price: 300\nNot before May.", Body: "\nPulled the cover.\n",
	}
	const want = `---
date: 2026-03-02
title: First look
time: "18:30"
by: JM
hours: 2.5
meter: 412.6 h
ran: "0:45"
checks:
  - {item: belt cover is on and bolted, result: fails, note: "one bolt, of three"}
measured:
  - {what: crankshaft end play, value: 0.011 in, gauge: 0.001 in}
parts:
  - {part: head gasket, number: "0123", each: 14.25, source: new, system: engine, fate: not fitted}
defects:
  - {key: tine-seal, defect: tine shaft seal leaks, system: drive, safety: no}
  - {key: knob, defect: knob is loose, system: controls}
worked_on:
  - drive
service:
  - {what: engine oil, amount: 0.6 qt, grade: SAE 30, system: engine, every: 25 h, answers: [engine oil is clean and at the mark]}
photos:
  - {file: 2026-03-02-183012.jpg, alt: ""}
private: |
  Bottom price: 300
  Not before May.
---

Pulled the cover.
`
	if diff := cmp.Diff(want, string(e.Markdown())); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func TestMachineIsReadBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		m := entry.Machine{
			Name: called(texts(r, "name")), Kind: "walk-behind tiller", Maker: texts(r, "maker"), Model: texts(r, "model"), Serial: texts(r, "serial"), Year: texts(r, "year"),
			Arrived: "2026-03-01", Asking: "425.00", From: texts(r, "from"), Paid: "40.00", Story: texts(r, "story"),
			Missing: []string{called(texts(r, "missing"))}, Private: texts(r, "private"), Body: "It came on a trailer.",
		}
		if seen(m.Name) == "" {
			m.Name = "text"
		}
		for _, data := range [][]byte{m.Markdown(), m.Form(entry.MachineOffer{Engine: true, Meter: true, Depends: []string{"pull start", "a: b"}}, catalog.English)} {
			folder := shop(t)
			put(t, folder, "machines/new/machine.md", string(data))
			s, problems, err := logbook.Read(folder, logbook.Options{})
			if err != nil || len(problems) > 0 {
				r.Fatalf("%v %v\n%s", problems, err, data)
			}
			g := s.Machines[1]
			got := []string{g.Name, g.Kind, g.Maker, g.Model, g.Serial, g.Year, string(g.Arrived), g.Asking.String(), g.Bought.From, g.Bought.Paid.String(), g.Story, g.Missing[0].Part, strings.TrimSpace(string(g.Body.Text))}
			expect := []string{seen(m.Name), m.Kind, seen(m.Maker), seen(m.Model), seen(m.Serial), seen(m.Year), m.Arrived, m.Asking, want(m.From), m.Paid, want(m.Story), want(m.Missing[0]), m.Body}
			if diff := cmp.Diff(expect, got); diff != "" {
				r.Fatalf("read back (-want, +got):\n%s\n%s", diff, data)
			}
		}
	})
}

var offer = entry.Offer{
	Engine: true, Meter: true, Systems: logbook.Systems,
	Open:     []entry.Defect{{Key: "tine-seal", Defect: "tine shaft seal leaks"}, {Key: "knob", Defect: "knob gone: cold hands, no grip"}},
	Changes:  []entry.Change{{Key: "jet", What: "bigger jet, for the hills"}},
	Items:    []entry.Item{{Item: "tines stop when the lever is let go", How: "With the wheels blocked, let go: look."}, {Item: "fuel tank, lines and cap do not leak"}},
	Readings: []entry.Reading{{What: "compression", Where: "cylinder 1"}},
}

func TestFormIsSoundAsItStands(t *testing.T) {
	form := entry.Entry{Date: "2026-03-02", Title: "x", Body: "Body."}.Form(offer, catalog.English)
	e := back(t, form)
	if e.Title != "x" || len(e.Checks)+len(e.Repaired)+len(e.Measured)+len(e.Gone)+len(e.Changed)+len(e.PutBack)+len(e.WorkedOn)+len(e.Service) != 0 {
		t.Errorf("the form says something by itself: %+v", e)
	}
	if got := entry.Settle(form, form); got != nil {
		t.Errorf("an untouched form is an entry:\n%s", got)
	}
	windows := bytes.ReplaceAll(form, []byte("\n"), []byte("\r\n"))
	if got := entry.Settle(windows, form); got != nil {
		t.Errorf("an untouched form with CRLF is an entry:\n%s", got)
	}
}

// A form filled in with a thumb: the # taken away with and without the space,
// a comment of one's own left in.
func TestSettle(t *testing.T) {
	form := string(entry.Entry{Date: "2026-03-02"}.Form(offer, catalog.English))
	edited := strings.NewReplacer(
		"title:\n", "title: Seal\n",
		"#  - {item: tines stop when the lever is let go, result: }", "  - {item: tines stop when the lever is let go, result: works}",
		"#  - {item: \"fuel tank, lines and cap do not leak\", result: }", " - {item: \"fuel tank, lines and cap do not leak\", result: fails}",
		"hours:\n", "hours: 1.5\n# my own remark\n",
	).Replace(form) + "\nDone.\n"
	const want = `---
date: 2026-03-02
title: Seal
hours: 1.5
# my own remark
checks:
  - {item: tines stop when the lever is let go, result: works}
  - {item: "fuel tank, lines and cap do not leak", result: fails}
---

Done.
`
	if diff := cmp.Diff(want, string(entry.Settle([]byte(edited), []byte(form)))); diff != "" {
		t.Errorf("(-want, +got):\n%s\nform:\n%s", diff, form)
	}
}

func TestSlug(t *testing.T) {
	for in, want := range map[string]string{
		"First look": "first-look", "\ufeffIt's \u202ethe ground!": "its-the-ground", "油漏れ": "",
		strings.Repeat("word ", 30): strings.TrimSuffix(strings.Repeat("word-", 12), "-"), strings.Repeat("x", 200): strings.Repeat("x", 60),
	} {
		if got := entry.Slug(in); got != want {
			t.Errorf("Slug(%q) = %q, want %q", in, got, want)
		}
	}
	if got := (entry.Entry{Date: "2026-03-02", Title: "油漏れ"}).Stem(); got != "2026-03-02-entry" {
		t.Errorf("got %q", got)
	}
}

func TestFreeKey(t *testing.T) {
	taken := map[string]bool{"fuel-line": true, "defect": true, "defect-2": true}
	for what, want := range map[string]string{
		"the tine shaft seal leaks": "the-tine-shaft-seal",
		"Fuel line":                 "fuel-line-2",
		"Öltank":                    "oltank",
		"???":                       "defect-3",
		"":                          "defect-3",
	} {
		if got := entry.FreeKey(what, "defect", func(key string) bool { return taken[key] }); got != want {
			t.Errorf("%q: %q, not %q", what, got, want)
		}
	}
}

// The program knows the system of what it knows; it takes nobody's word away.
func TestKnow(t *testing.T) {
	e := entry.Entry{Measured: []entry.Reading{{What: "Compression"}, {What: "compression", System: "drive"}, {What: "wheel wobble"}}}
	e.Know()
	if e.Measured[0].System != "engine" || e.Measured[1].System != "drive" || e.Measured[2].System != "" {
		t.Errorf("got %+v", e.Measured)
	}
}

// Safety is yes or no, and nothing else is taken for either.
func TestSaysSafety(t *testing.T) {
	for in, want := range map[string]string{"yes": "yes", " Y ": "yes", "No": "no", "n": "no", "": "", "maybe": "", "true": "", "nope": ""} {
		if got, ok := entry.SaysSafety(in); got != want || ok != (want != "") {
			t.Errorf("%q: got %q, %v", in, got, ok)
		}
	}
}

// What a person fills in of the rare fields is kept, and a safety of maybe is
// written as it was typed.
func TestSettleRareFields(t *testing.T) {
	form := string(entry.Entry{Date: "2026-03-02", Title: "x"}.Form(offer, catalog.English))
	edited := strings.NewReplacer(
		"worked_on:\n", "worked_on: [engine]\n",
		"#  - {what: , amount: , grade: , system: , every: }", "  - {what: engine oil, amount: 0.6 qt, system: engine}",
		"#  - {key: jet, how: }    # bigger jet, for the hills", " - {key: jet, how: old jet back in}",
	).Replace(form)
	const want = "---\ndate: 2026-03-02\ntitle: x\nput_back:\n  - {key: jet, how: old jet back in}\nworked_on: [engine]\nservice:\n  - {what: engine oil, amount: 0.6 qt, system: engine}\n---\n"
	if diff := cmp.Diff(want, string(entry.Settle([]byte(edited), []byte(form)))); diff != "" {
		t.Errorf("(-want, +got):\n%s\nform:\n%s", diff, form)
	}
	if got := string(entry.Entry{Defects: []entry.Defect{{Key: "a", Defect: "d", Safety: "maybe"}}}.Markdown()); !strings.Contains(got, "safety: maybe}") {
		t.Errorf("got %s", got)
	}
}
