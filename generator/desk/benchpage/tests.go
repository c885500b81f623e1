package benchpage

import (
	"net/url"
	"strconv"
	"strings"
	"sync"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/entry"
)

// mostTests bounds the bench tests of a form.
const mostTests = 20

// A testRow is a bench test of the form with what was typed for it.
type testRow struct {
	N            int
	Kind         benchtest.Kind
	Where        string
	Found, Asks  bool // done before the work; and the form asks for that
	Needed, Rest []inputRow
}

type inputRow struct {
	benchtest.InputHelp
	Field, Label, Typed string
}

// A hint is the tests that tell the causes of something apart, or those that a
// text found.
type hint struct {
	For   string
	Tests []benchtest.Trial
}

// testRows are the bench tests of a form. Which has been taken out leaves a gap.
func testRows(v url.Values) []testRow {
	var all []testRow
	for n := range mostTests {
		prefix := testPrefix(n)
		kind, ok := benchtest.KindNamed(v.Get(prefix))
		if !ok {
			continue
		}
		row := testRow{N: n, Kind: kind, Where: v.Get(prefix + "-where"), Found: v.Get(prefix+"-found") != "", Asks: true}
		for _, in := range kind.Inputs {
			if in.Name == "as_found" {
				row.Asks = false // it is a reading there
			}
			field := prefix + "-in-" + in.Name
			i := inputRow{in, field, strings.ReplaceAll(in.Name, "_", " "), v.Get(field)}
			if in.Needed {
				row.Needed = append(row.Needed, i)
			} else {
				row.Rest = append(row.Rest, i)
			}
		}
		all = append(all, row)
	}
	return all
}

func testPrefix(n int) string { return "test-" + strconv.Itoa(n) }

// entry is a test as it is written; ok is false where nothing was typed for it.
func (r testRow) entry() (t entry.Test, ok bool) {
	typed := map[string]string{"where": r.Where}
	for _, in := range append(r.Needed, r.Rest...) {
		typed[in.Name] = in.Typed
	}
	t = entry.NewTest(r.Kind, typed)
	t.AsFound = t.AsFound || r.Asks && r.Found
	return t, len(t.Inputs) > 0
}

// testField is where the form has a field of the n-th bench test of an entry.
func testField(v url.Values, n int, field string) string {
	for _, r := range testRows(v) {
		if _, ok := r.entry(); !ok {
			continue
		}
		if n--; n >= 0 {
			continue
		}
		for _, in := range append(r.Needed, r.Rest...) {
			if in.Name == field {
				return in.Field
			}
		}
		return testPrefix(r.N) + "-where"
	}
	return ""
}

// addTest puts a test behind the others of a form.
func addTest(v url.Values, name string) {
	kind, ok := benchtest.KindNamed(name)
	if !ok {
		return
	}
	free := 0
	for n := range mostTests {
		if v.Get(testPrefix(n)) != "" {
			free = n + 1
		}
	}
	if free < mostTests {
		v.Set(testPrefix(free), kind.Name)
		v.Del("find")
	}
}

// dropTest takes a test out of a form.
func dropTest(v url.Values, n string) {
	for field := range v {
		if field == "test-"+n || strings.HasPrefix(field, "test-"+n+"-") {
			v.Del(field)
		}
	}
}

// hints are the tests that a text found, else those for the open defects that are
// symptoms, the cheapest and safest first.
func hints(find string, report *condition.Report) (all []hint) {
	if find != "" {
		if s, ok := benchtest.SymptomNamed(find); ok {
			return []hint{{s.Name, s.Try}}
		}
		return []hint{{find, benchtest.Trials(find)}}
	}
	for _, d := range open(report) {
		if s, ok := benchtest.SymptomNamed(d.Name); ok {
			all = append(all, hint{d.Name, s.Try})
		}
	}
	return all
}

// finds are the words that find a test: its name, a symptom, a tool.
var finds = sync.OnceValue(func() []string {
	var all []string
	for _, s := range benchtest.Symptoms() {
		all = append(all, s.Name)
	}
	for _, k := range benchtest.Kinds() {
		all = append(all, k.Name)
	}
	return append(all, benchtest.Tools()...)
})
