package benchtest

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/testenv"
)

// Each file of testdata/outcomes is tests as a log has them, and under each all that it
// comes to: what was given, each result with its accuracy, verdict and limit, what is
// said by its key of the catalog, and what is drawn. The values of the tests are chosen
// at both sides of each limit, with a tool's accuracy and without, and in other units.
// Where a value is published, a comment names its source; the others follow from the
// formula beside the test by hand.
//
//	## a line of machine.md, for the tests under it
//	# a comment
//	{test: ...}
//		what it comes to
func TestOutcomes(t *testing.T) {
	files, err := filepath.Glob("testdata/outcomes/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files: %v", len(files), err)
	}
	for _, file := range files {
		have, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		testenv.Golden(t, file, outcomes(t, string(have)))
	}
}

// outcomes writes a file of tests anew with what they come to.
func outcomes(t *testing.T, text string) string {
	t.Helper()
	var out strings.Builder
	var machine, tests []string
	flush := func() {
		for i, o := range judgedAll(t, strings.Join(machine, "\n"), tests) {
			out.WriteString(tests[i] + "\n" + o)
		}
		tests = nil
	}
	fresh := false
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		field, isField := strings.CutPrefix(line, "## ")
		switch {
		case strings.HasPrefix(line, "\t"):
			continue
		case strings.HasPrefix(line, "{"):
			tests, fresh = append(tests, line), false
			continue
		}
		flush()
		if isField {
			if !fresh {
				machine = nil
			}
			machine, fresh = append(machine, field), true
		}
		out.WriteString(line + "\n")
	}
	flush()
	return out.String()
}

// judgedAll is what tests of one entry come to.
func judgedAll(t *testing.T, machine string, tests []string) []string {
	t.Helper()
	if len(tests) == 0 {
		return nil
	}
	s, m, e := read(t, testShop, machine+"\n", strings.Join(tests, "\n  - "))
	var all []string
	for _, test := range e.Tests {
		o, problems := Judge(s, m, e, test, keys)
		all = append(all, outcome(o, problems))
	}
	return all
}

// outcome is one outcome, or the problems instead, a line each.
func outcome(o *Outcome, problems []logbook.Problem) string {
	var out strings.Builder
	line := func(form string, args ...any) { fmt.Fprintf(&out, "\t"+form+"\n", args...) }
	for _, p := range problems {
		_, field, _ := strings.Cut(p.Field, "].")
		line("! %s: %s", field, p.Says)
	}
	if o == nil {
		return out.String()
	}
	var given []string
	for _, g := range o.Given {
		given = append(given, g.Label+" "+g.Value)
	}
	line("given %s", strings.Join(given, "; "))
	for _, r := range o.Results {
		about := string(r.Verdict)
		if r.Main {
			about = "main, " + about
		}
		if r.Accuracy != "" {
			about += ", ± " + r.Accuracy
		}
		if r.Where != "" && !strings.HasSuffix(r.Name, r.Where) {
			about += ", at " + r.Where
		}
		if r.AsFound {
			about += ", as found"
		}
		if len(r.Limits) > 0 && r.Limit != r.Limits[0].Limit {
			about += ", against " + r.Limit
		}
		for _, l := range r.Limits {
			about += fmt.Sprintf(", %s (%s)", l.Limit, l.Source)
		}
		line("%s: %s | %s", r.Name, r.Value, about)
	}
	for _, s := range o.Says {
		line("> %s", s)
	}
	if d := o.Drawing; d != nil {
		line("%s in %q: %s", d.Shape, d.Unit, strings.Join(points(d), "; "))
	}
	return out.String()
}

// points are the points of a drawing, each with what its tool leaves open and its band.
func points(d *Drawing) []string {
	var all []string
	for _, p := range d.Points {
		text := fmt.Sprintf("%s %.6g", p.Label, p.Value)
		if p.Low != p.Value || p.High != p.Value {
			text += fmt.Sprintf(" (%.6g to %.6g)", p.Low, p.High)
		}
		if p.Band.HasLow {
			text += fmt.Sprintf(", from %.6g", p.Band.Low)
		}
		if p.Band.HasHigh {
			text += fmt.Sprintf(", up to %.6g", p.Band.High)
		}
		all = append(all, text)
	}
	return all
}

// placeForm is a place in a sentence.
var placeForm = regexp.MustCompile(`\{([^{}]*)\}`)

// keys is a catalog in which a sentence is its key and what stands in its places, but
// for what only names or shows a value.
var keys = func() *catalog.Catalog {
	c := *catalog.English
	c.Sentences = map[string]string{}
	for key, text := range catalog.English.Sentences {
		c.Sentences[key] = text
		plain := false
		for _, prefix := range []string{"bench.label.", "bench.value.", "bench.draw.", "bench.takes.", "limit.", "list."} {
			plain = plain || strings.HasPrefix(key, prefix)
		}
		if plain || strings.HasSuffix(key, ".mend") {
			continue
		}
		said := strings.TrimPrefix(strings.TrimPrefix(key, "bench."), "problem.bench-")
		for _, m := range placeForm.FindAllStringSubmatch(text, -1) {
			place := m[1]
			if p := " " + place + "={" + place + "}"; place != "example" && place != "wants" && !strings.Contains(said, p) {
				said += p
			}
		}
		c.Sentences[key] = said
	}
	return &c
}()
