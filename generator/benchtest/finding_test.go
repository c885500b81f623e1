package benchtest

import (
	"slices"
	"strings"
	"testing"
)

// Every symptom has two tests or more, all of them known, each with its cautions and
// with what it tells apart; and no name is of two symptoms.
func TestSymptoms(t *testing.T) {
	seen := map[string]string{}
	for i, s := range Symptoms() {
		if len(s.Try) != len(symptoms[i].try) || len(s.Try) < 2 {
			t.Errorf("%s: %d tests of %d are known", s.Name, len(s.Try), len(symptoms[i].try))
		}
		tests := map[string]bool{}
		for _, try := range s.Try {
			unfilled(t, s.Name, try.Splits)
			unfilled(t, s.Name, try.Kind.Caution)
			if tests[try.Kind.Name] {
				t.Errorf("%s: %s stands twice", s.Name, try.Kind.Name)
			}
			tests[try.Kind.Name] = true
		}
		for _, name := range append([]string{s.Name}, s.Also...) {
			if other := seen[name]; other != "" {
				t.Errorf("%q is of %s and of %s", name, other, s.Name)
			}
			seen[name] = s.Name
		}
	}
}

// What can hurt most comes last: nothing is measured live before the ground is.
func TestASoundGroundComesBeforeALiveTest(t *testing.T) {
	s, ok := SymptomNamed("It gives me a shock: electric shock at the deck")
	if !ok || s.Name != "shocks" || s.Try[0].Kind.Name != "grounding continuity" || s.Try[len(s.Try)-1].Kind.Name != "leakage current" {
		t.Errorf("%+v", s)
	}
}

// Of two names in one text the longer counts, of two that are as long the first.
func TestSymptomNamed(t *testing.T) {
	for text, want := range map[string]string{
		"no output and no charge": "no charge", "No spark? It does not start!": "will not start", "no sparks": "", "": "",
	} {
		if s, ok := SymptomNamed(text); s.Name != want || ok != (want != "") {
			t.Errorf("%q: %q, %v", text, s.Name, ok)
		}
	}
}

func TestFind(t *testing.T) {
	for text, want := range map[string]struct{ first, among string }{
		"will not start":                  {"plug gap", "compression"},
		"It will not start when it's hot": {"plug gap", "leak-down"},
		"no output":                       {"generator output", "winding resistance"},
		"hunts":                           {"governor", "crankcase leak"},
		"smokes":                          {"oil consumption", "leak-down"},
		"does not charge":                 {"battery at rest", "charging"},
		"hydraulics":                      {"hydraulic power", "hydraulic power"},
		"Insulation tester":               {"insulation resistance", "insulation resistance"},
		"multimeter":                      {"battery at rest", "coil resistance"},
		"chain":                           {"chain brake stopping time", "roller chain wear"},
		"lash":                            {"valve clearance", "valve clearance"},
		"tachometer":                      {"belt drive", "governor"},
		"spark plug":                      {"plug gap", "plug gap"},
	} {
		var names []string
		for _, k := range Find(text) {
			names = append(names, k.Name)
		}
		if len(names) == 0 || names[0] != want.first || !slices.Contains(names, want.among) {
			t.Errorf("%q: %q, want %s first and %s among them", text, names, want.first, want.among)
		}
	}
	for _, text := range []string{"", "  ", "soup", "?"} {
		if found := Find(text); found != nil {
			t.Errorf("%q finds %d tests", text, len(found))
		}
	}
}

// Each test that reads something is done with a tool, and is found by it.
func TestTools(t *testing.T) {
	for _, tool := range Tools() {
		if len(Find(tool)) == 0 {
			t.Errorf("nothing is done with a %s", tool)
		}
	}
	for _, k := range Kinds() {
		reads := slices.ContainsFunc(k.Inputs, func(in InputHelp) bool { return strings.HasSuffix(in.Name, "gauge") })
		if reads && len(k.Tools) == 0 {
			t.Errorf("%s: no tool", k.Name)
		}
	}
	if all := Tools(); !slices.IsSorted(all) || len(slices.Compact(slices.Clone(all))) != len(all) || !slices.Contains(all, "torque wrench") {
		t.Errorf("%q", all)
	}
	if k, _ := KindNamed("charging"); !slices.Equal(k.Tools, []string{"multimeter", "clamp meter"}) {
		t.Errorf("%q", k.Tools)
	}
}
