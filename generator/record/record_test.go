package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"
	"pgregory.net/rapid"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// records are those of all machines of a shop folder.
func records(t *testing.T, folder afero.Fs) (all []Record, reports []*condition.Report) {
	t.Helper()
	words := catalog.English
	shop, problems, err := logbook.Read(folder, logbook.Options{Words: words})
	if err != nil || len(problems) > 0 {
		t.Fatalf("the shop: %v, %v", problems, err)
	}
	count, problems := tally.Count(shop, words)
	if len(problems) > 0 {
		t.Fatalf("the shop: %v", problems)
	}
	for n, m := range shop.Machines {
		var tests []*benchtest.Outcome
		for _, e := range m.Entries {
			for _, tt := range e.Tests {
				outcome, wrong := benchtest.Judge(shop, m, e, tt, words)
				if len(wrong) > 0 {
					t.Fatalf("the shop: %v", wrong)
				}
				tests = append(tests, outcome)
			}
		}
		report := condition.Judge(shop, m, count.Machines[n], tests, words)
		reports = append(reports, report)
		all = append(all, Of(shop, report, words))
	}
	return all, reports
}

func example(t *testing.T) ([]Record, []*condition.Report) {
	t.Helper()
	return records(t, afero.NewReadOnlyFs(afero.NewBasePathFs(afero.NewOsFs(), "../../content-example")))
}

// written is a shop folder with one machine.
func written(t *testing.T, machine string, entries ...string) afero.Fs {
	t.Helper()
	fs := afero.NewMemMapFs()
	files := map[string]string{
		"shop.md":                  "---\nshop: Test shop\ncurrency: USD\n---\n",
		"machines/pump/machine.md": "---\nname: Small pump\narrived: 2026-03-01\n" + machine + "---\n",
	}
	for i, e := range entries {
		files[fmt.Sprintf("machines/pump/2026-03-%02d-entry.md", i+2)] = fmt.Sprintf("---\ndate: 2026-03-%02d\ntitle: Evening %d\n%s---\n", i+2, i+1, e)
	}
	for name, text := range files {
		if err := afero.WriteFile(fs, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return fs
}

// asJSON is a record as a stranger reads it.
func asJSON(t *testing.T, r Record) any {
	t.Helper()
	var b bytes.Buffer
	if err := r.Write(&b); err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(b.Bytes(), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// The example's records follow the schema; so does none that has a field more or
// less, at any depth.
func TestRecordsFollowTheSchema(t *testing.T) {
	schema := readSchema(t)
	all, _ := example(t)
	if len(all) < 4 {
		t.Fatalf("only %d records", len(all))
	}
	for _, r := range all {
		if wrong := schema.check(asJSON(t, r)); len(wrong) > 0 {
			t.Errorf("%s: %s", r.Machine.Key, strings.Join(wrong, "\n"))
		}
		if len(r.Subjects) < 5 {
			t.Errorf("%s has %d subjects", r.Machine.Key, len(r.Subjects))
		}
	}
	spoiled := 0
	tree := asJSON(t, all[0])
	eachObject(tree, func(o map[string]any) {
		o["more"] = 1.0
		if len(schema.check(tree)) == 0 {
			t.Errorf("a field more passes: %v", o)
		}
		delete(o, "more")
		for name, v := range o {
			delete(o, name)
			if len(schema.check(tree)) == 0 {
				t.Errorf("it passes without %s", name)
			}
			o[name] = v
			spoiled++
		}
	})
	if spoiled < 50 {
		t.Errorf("only %d fields were taken out", spoiled)
	}
}

func eachObject(v any, do func(map[string]any)) {
	switch v := v.(type) {
	case map[string]any:
		do(v)
		for _, inner := range v {
			eachObject(inner, do)
		}
	case []any:
		for _, inner := range v[:min(2, len(v))] { // the others are alike
			eachObject(inner, do)
		}
	}
}

// Logs made up of all that a log can say give records that follow the schema.
func TestGeneratedRecordsFollowTheSchema(t *testing.T) {
	schema := readSchema(t)
	lines := []string{
		"time: \"18:30\"\n", "by: AB\n", "hours: 2\n", "ran: \"0:20\"\n", "meter: 412.6 h\n", "meter: unknown\n",
		"checks:\n  - {item: stops at the switch, result: works, system: guards, safety: yes}\n",
		"checks:\n  - {item: stops at the switch, result: fails, note: runs on, system: guards}\n",
		"measured:\n  - {what: compression, value: 60 psi, gauge: 1 psi, state: cold}\n",
		"measured:\n  - {what: compression, value: 75 psi, state: cold}\n",
		"defects:\n  - {key: leak, defect: seal leaks, effect: drips, system: engine}\n",
		"defects:\n  - {key: knock, defect: knocks when hot, system: engine, safety: no}\n",
		"changed:\n  - {what: switch moved, why: it was out of reach, system: controls, safety: no}\n",
		"parts:\n  - {part: shaft seal, each: 4.00, source: new, system: engine}\n",
		"parts:\n  - {part: drain plug, qty: 2, source: used, system: engine}\n",
		"service:\n  - {what: engine oil, amount: 20 fl oz, grade: SAE 30, system: engine, every: 25 h}\n",
	}
	machines := []string{"", "stage: for sale\nasking: 40.00\n", "missing: [drain plug]\n", "meter_true: no\n", "limits:\n  - {what: compression, limit: \">= 70 psi\", source: maker's sheet}\n", "serial: \"AB-1234567\"\n"}
	var seen Record
	rapid.Check(t, func(rt *rapid.T) {
		var entries []string
		found := map[int]bool{} // a key that is open is not found again
		for range rapid.IntRange(0, 4).Draw(rt, "entries") {
			field := map[string]bool{}
			entry := ""
			for _, i := range rapid.SliceOfDistinct(rapid.IntRange(0, len(lines)-1), func(i int) int { return i }).Draw(rt, "lines") {
				if name, _, _ := strings.Cut(lines[i], ":"); !field[name] && !found[i] {
					field[name], found[i] = true, name == "defects"
					entry += lines[i]
				}
			}
			entries = append(entries, entry)
		}
		if meters(entries) > 1 {
			return // it may run backwards, which is a problem of the log
		}
		all, _ := records(t, written(t, rapid.SampledFrom(machines).Draw(rt, "machine"), entries...))
		if wrong := schema.check(asJSON(t, all[0])); len(wrong) > 0 {
			rt.Fatalf("%s", strings.Join(wrong, "\n"))
		}
		if len(all[0].Subjects) > len(seen.Subjects) {
			seen = all[0]
		}
	})
	if len(seen.Subjects) == 0 {
		t.Error("no record had a subject")
	}
}

func meters(entries []string) int { return strings.Count(strings.Join(entries, ""), "meter:") }

// Each subject of the judge is in the record, with all its history and the same
// words as the report.
func TestTheRecordHoldsEachSubject(t *testing.T) {
	all, reports := example(t)
	for n, r := range all {
		if len(r.Subjects) != len(reports[n].Subjects) {
			t.Fatalf("%s: %d subjects of %d", r.Machine.Key, len(r.Subjects), len(reports[n].Subjects))
		}
		for i, s := range reports[n].Subjects {
			got := r.Subjects[i]
			if got.Name != s.Name || got.Standing != string(s.Standing) || got.Open != s.Open || got.Told != s.Told || len(got.History) < len(s.History) {
				t.Errorf("%s: %s: got %+v", r.Machine.Key, s.Name, got)
			}
			if (got.Touched == nil) != (s.Touched == nil) || (got.Absent == nil) != (s.Absent == nil) {
				t.Errorf("%s: %s: touched %v, absent %v", r.Machine.Key, s.Name, got.Touched, got.Absent)
			}
		}
	}
}

// What a defect does, what a work-around leaves and why something was changed are
// part of the history: whoever takes them out later is found.
func TestDetailsAreInTheHistory(t *testing.T) {
	all, _ := records(t, written(t, "",
		"defects:\n  - {key: leak, defect: seal leaks, effect: drips on the floor, system: engine, safety: no}\n",
		"worked_around:\n  - {key: leak, how: a pan under it, left: it leaks into the pan}\nchanged:\n  - {what: switch moved, why: out of reach before, caution: mind the wire, system: controls, safety: no}\n",
	))
	var said []string
	for _, s := range all[0].Subjects {
		for _, e := range s.History {
			said = append(said, e.Date+" "+e.Said)
		}
	}
	for _, want := range []string{
		"2026-03-02 found: seal leaks", "2026-03-02 effect: drips on the floor", "2026-03-03 worked around: a pan under it",
		"2026-03-03 left: it leaks into the pan", "2026-03-03 changed: switch moved", "2026-03-03 why: out of reach before", "2026-03-03 caution: mind the wire",
	} {
		if !slices.Contains(said, want) {
			t.Errorf("the history does not hold %q: %q", want, said)
		}
	}
}

// What nobody wrote is null and not zero.
func TestUnknownIsNotZero(t *testing.T) {
	all, _ := records(t, written(t, "", "parts:\n  - {part: drain plug, source: used, system: frame}\n  - {part: shaft seal, each: 4.00, source: new, system: engine}\n"))
	r := all[0]
	if r.Hours.WorkMinutes != nil || r.Hours.RunMinutes != nil || r.Hours.RunSinceWorkMinutes != nil || r.Hours.Meter.Total != nil || r.Hours.Meter.True != NotSaid {
		t.Errorf("hours that nobody wrote: %+v", r.Hours)
	}
	if r.Money.PartsPriced != 1 || r.Money.PartsInAll != 2 || r.Money.Parts == nil || *r.Money.Parts != "4.00" {
		t.Errorf("parts: %+v", r.Money)
	}
	if r.Machine.Asking != nil {
		t.Error("a price of a machine that is not for sale")
	}
}

// A price is there only where one is asked: an old one tells what a buyer paid.
func TestAskingIsOfWhatIsForSale(t *testing.T) {
	for _, tc := range []struct{ machine, want string }{
		{"stage: for sale\nasking: 120.00\n", "120.00"},
		{"stage: sold\nasking: 120.00\nsold: {date: 2026-04-01}\n", "null"},
		{"stage: for sale\n", "null"},
	} {
		all, _ := records(t, written(t, tc.machine))
		got := "null"
		if asking := all[0].Machine.Asking; asking != nil {
			got = *asking
		}
		if got != tc.want {
			t.Errorf("%q: asking %s, want %s", tc.machine, got, tc.want)
		}
	}
}

// An odometer that nobody could read has no reading of nothing.
func TestOdometerNotRead(t *testing.T) {
	all, _ := records(t, written(t, "", "odometer: unknown\n"))
	if o := all[0].Hours.Odometer; o != nil {
		t.Errorf("a reading of %q on %s", o.Reading, o.Date)
	}
}

// Service is due again only where the log says how often; what it says last counts, and
// what stands behind it is due all the same.
func TestDueIsWhatComesBack(t *testing.T) {
	all, _ := records(t, written(t, "", "service:\n  - {what: air filter, system: engine}\n  - {what: engine oil, system: engine, every: 25 h}\n"))
	var due []string
	for _, d := range all[0].Due {
		due = append(due, d.What+" every "+d.Every)
	}
	if got := strings.Join(due, ", "); got != "engine oil every 25 h" {
		t.Errorf("due: %s", got)
	}
}

// A file is named once as evidence, however much it says.
func TestEvidenceOnce(t *testing.T) {
	all, _ := records(t, written(t, "",
		"defects: [{key: grip, defect: grip torn, effect: the hand slips, system: controls, safety: no}]\nworked_around: [{key: grip, how: tape, left: it is still torn}]\n"))
	for _, s := range all[0].Subjects {
		if s.Name == "grip torn" && !slices.Equal(s.Evidence, []string{"machines/pump/2026-03-02-entry.md"}) {
			t.Errorf("%s rests on %q", s.Name, s.Evidence)
		}
	}
}

func TestPartsOfAnEvent(t *testing.T) {
	for _, tc := range []struct{ event, what, said string }{
		{"found: seal leaks: badly", "found", "seal leaks: badly"},
		{"works", "works", ""},
	} {
		if what, said := (Event{Said: tc.event}).Parts(); what != tc.what || said != tc.said {
			t.Errorf("%q: %q and %q", tc.event, what, said)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space is left") }

// A disk that is full is told of with the machine, and spoils no record after it.
func TestWriteThatFails(t *testing.T) {
	all, _ := records(t, written(t, ""))
	for range 100 {
		if err := all[0].Write(full{}); err == nil || !strings.Contains(err.Error(), "pump") || !strings.Contains(err.Error(), "no space") {
			t.Fatalf("got %v", err)
		}
		var b bytes.Buffer
		if err := all[0].Write(&b); err != nil || b.Len() == 0 {
			t.Fatalf("after a failure: %d bytes, %v", b.Len(), err)
		}
	}
}

// A result of a test is there with its limit, source, gauge and verdict.
func TestResultsAreWhole(t *testing.T) {
	all, _ := example(t)
	limited, gauged := 0, 0
	for _, r := range all {
		for _, test := range r.Tests {
			for _, res := range test.Results {
				if res.Limit != nil {
					limited++
					if res.Source == "" || res.Verdict == "" {
						t.Errorf("%s: %+v", test.Test, res)
					}
				}
				if res.Gauge != nil {
					gauged++
				}
			}
		}
	}
	if limited == 0 || gauged == 0 {
		t.Errorf("%d results with a limit, %d with a gauge", limited, gauged)
	}
}

func TestSerial(t *testing.T) {
	for _, tc := range []struct{ show, serial, want string }{
		{logbook.SerialNone, "AB-1234567", ""},
		{logbook.SerialAll, "AB-1234567", "AB-1234567"},
		{logbook.SerialLast4, "", ""},
	} {
		if got := Serial(&logbook.Shop{Show: logbook.Show{Serial: tc.show}}, tc.serial, catalog.English); got != tc.want {
			t.Errorf("%s of %s: %q", tc.show, tc.serial, got)
		}
	}
	got := Serial(&logbook.Shop{Show: logbook.Show{Serial: logbook.SerialLast4}}, "AB-1234567", catalog.English)
	if !strings.Contains(got, "4567") || strings.Contains(got, "3456") {
		t.Errorf("the last four: %q", got)
	}
	if got := Serial(&logbook.Shop{Show: logbook.Show{Serial: logbook.SerialLast4}}, "4567", catalog.English); strings.Contains(got, "4567") {
		t.Errorf("a short one is shown whole: %q", got)
	}
}

// A schema is as much of JSON Schema (draft 2020-12) as ours uses. CI holds the
// records against it with another program too.
type schema struct {
	root map[string]any
}

func readSchema(t *testing.T) schema {
	t.Helper()
	var s schema
	if err := json.Unmarshal(Schema, &s.root); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s schema) check(v any) []string { return s.at("", s.root, v) }

func (s schema) at(where string, rule map[string]any, v any) (wrong []string) {
	if ref, ok := rule["$ref"].(string); ok {
		def, _ := s.root["$defs"].(map[string]any)
		inner, _ := def[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
		return s.at(where, inner, v)
	}
	bad := func(what string, args ...any) { wrong = append(wrong, where+": "+fmt.Sprintf(what, args...)) }
	if want, ok := rule["const"]; ok && !reflect.DeepEqual(want, v) {
		bad("%v is not %v", v, want)
	}
	if enum, ok := rule["enum"].([]any); ok && !slices.Contains(enum, v) {
		bad("%v is none of %v", v, enum)
	}
	if types := typesOf(rule); len(types) > 0 && !slices.Contains(types, typeOf(v)) && !(typeOf(v) == "integer" && slices.Contains(types, "number")) {
		bad("%v is no %v", v, types)
	}
	switch v := v.(type) {
	case string:
		if p, ok := rule["pattern"].(string); ok && !regexp.MustCompile(p).MatchString(v) {
			bad("%q does not match %s", v, p)
		}
	case float64:
		if least, ok := rule["minimum"].(float64); ok && v < least {
			bad("%v is too small", v)
		}
	case []any:
		if least, ok := rule["minItems"].(float64); ok && float64(len(v)) < least {
			bad("%d items", len(v))
		}
		items, _ := rule["items"].(map[string]any)
		for i, item := range v {
			wrong = append(wrong, s.at(fmt.Sprintf("%s[%d]", where, i), items, item)...)
		}
	case map[string]any:
		wrong = append(wrong, s.fields(where, rule, v)...)
	}
	return wrong
}

func (s schema) fields(where string, rule map[string]any, v map[string]any) (wrong []string) {
	known, _ := rule["properties"].(map[string]any)
	required, _ := rule["required"].([]any)
	for _, name := range required {
		if _, there := v[name.(string)]; !there {
			wrong = append(wrong, fmt.Sprintf("%s: no %v", where, name))
		}
	}
	for name, inner := range v {
		of, ok := known[name].(map[string]any)
		if !ok {
			wrong = append(wrong, fmt.Sprintf("%s: %s is not of the schema", where, name))
			continue
		}
		wrong = append(wrong, s.at(where+"."+name, of, inner)...)
	}
	return wrong
}

func typesOf(rule map[string]any) []string {
	switch t := rule["type"].(type) {
	case string:
		return []string{t}
	case []any:
		var all []string
		for _, one := range t {
			all = append(all, one.(string))
		}
		return all
	}
	return nil
}

func typeOf(v any) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case string:
		return "string"
	case bool:
		return "boolean"
	case []any:
		return "array"
	case float64:
		if v == float64(int(v)) {
			return "integer"
		}
		return "number"
	}
	return "object"
}

// A meter is believed right where the shop says so, and nowhere else.
func TestOnlyTheShopBelievesItsMeter(t *testing.T) {
	for said, want := range map[string]Meter{
		"meter_true: yes\n":       {State: "believed right", True: "yes"},
		"meter_true: no\n":        {State: "read", True: "no"},
		"meter_true: not known\n": {State: "read", True: "not known"},
		"":                        {State: "read", True: "not said"},
	} {
		all, _ := records(t, written(t, said, "meter: 412.6 h\n"))
		if got := all[0].Hours.Meter; got.State != want.State || got.True != want.True || got.Total == nil || *got.Total != "412.6 h" {
			t.Errorf("%q: %+v, want %+v", said, got, want)
		}
	}
}
