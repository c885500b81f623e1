package benchtest

import (
	"math/big"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A checker is a test, of testing or of rapid.
type checker interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

const testShop = "---\nshop: Fernhollow\ncurrency: USD\n---\n"

// plainMachine is a machine of which nothing is known.
const plainMachine = ""

// read reads a shop of one machine with one entry of one bench test, as a
// mechanic would write it. Fields are added to machine.md.
func read(t checker, shop, fields, test string) (*logbook.Shop, *logbook.Machine, *logbook.Entry) {
	t.Helper()
	folder := afero.NewMemMapFs()
	for name, text := range map[string]string{
		"shop.md":                       shop,
		"machines/m/machine.md":         "---\nname: Machine\narrived: 2026-01-01\n" + fields + "---\n",
		"machines/m/2026-01-02-test.md": "---\ndate: 2026-01-02\ntitle: Test\nhours: 1\ntests:\n  - " + test + "\n---\n",
	} {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, problems, err := logbook.Read(folder, logbook.Options{Words: catalog.English})
	if err != nil || len(problems) > 0 {
		t.Fatalf("%s: reading the shop: %v %v", test, err, problems)
	}
	return s, s.Machines[0], s.Machines[0].Entries[0]
}

// judge judges one test written as a YAML flow mapping.
func judge(t checker, fields, test string) (*Outcome, []logbook.Problem) {
	t.Helper()
	s, m, e := read(t, testShop, fields, test)
	return Judge(s, m, e, e.Tests[0], catalog.English)
}

// sound is judge for a test that has no problems.
func sound(t checker, fields, test string) *Outcome {
	t.Helper()
	o, problems := judge(t, fields, test)
	if len(problems) > 0 {
		t.Fatalf("%s: %v", test, problems)
	}
	return o
}

// result is the outcome's result of that name.
func (o *Outcome) result(t checker, name string) Result {
	t.Helper()
	var names []string
	for _, r := range o.Results {
		if r.Name == name {
			return r
		}
		names = append(names, r.Name)
	}
	t.Fatalf("no result %q among %q", name, names)
	return Result{}
}

// says tells whether the outcome has a sentence that holds those words.
func (o *Outcome) says(words string) bool {
	return strings.Contains(strings.Join(o.Says, " "), words)
}

// number is the exact number of a result in its own unit.
func (r Result) number() float64 { return r.Quantity.Float() }

// unitless are the results that quantity has no unit for.
var unitless = map[string]bool{"clamp load, about": true}

func TestEveryExampleIsSoundAndComplete(t *testing.T) {
	kinds := Kinds()
	if len(kinds) == 0 {
		t.Fatal("there are no tests")
	}
	for _, k := range kinds {
		o := sound(t, plainMachine, k.Example)
		switch {
		case len(o.Results) == 0 || len(o.Says) == 0 || len(o.Given) == 0:
			t.Errorf("%s: the example comes to %d results, %d sentences, %d readings", k.Name, len(o.Results), len(o.Says), len(o.Given))
		case k.About == "" || k.Source == "" || k.Caution == "" || o.Caution != k.Caution || o.System != k.System:
			t.Errorf("%s: about %q, source %q, caution %q, system %q", k.Name, k.About, k.Source, k.Caution, k.System)
		}
		for _, text := range append(o.Says, k.About, k.Source, k.Caution) {
			unfilled(t, k.Name, text)
		}
		for _, in := range k.Inputs {
			unfilled(t, k.Name, in.Help)
			unfilled(t, k.Name, in.Takes)
		}
		for _, r := range o.Results {
			if r.Verdict == "" || r.Value == "" || r.Quantity.IsZero() && !unitless[r.Name] {
				t.Errorf("%s: %s is %q, %q, %v", k.Name, r.Name, r.Value, r.Verdict, r.Quantity)
			}
		}
	}
}

// unfilled fails on a sentence with a place left open or a key not there.
func unfilled(t *testing.T, name, text string) {
	t.Helper()
	if text == "" || strings.ContainsAny(text, "{}") || strings.HasPrefix(text, "[bench") {
		t.Errorf("%s: %q", name, text)
	}
}

// kindNamed is the registered test of that name.
func kindNamed(t checker, name string) *kind {
	t.Helper()
	k := byName()[name]
	if k == nil {
		t.Fatalf("there is no test %q", name)
	}
	return k
}

// whole is a whole number of some unit.
func whole(n int, u quantity.Unit) quantity.Quantity {
	return quantity.New(big.NewRat(int64(n), 1), 0, u)
}
