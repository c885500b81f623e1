package benchtest

import (
	"errors"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// What nobody expected in the sums is told as a problem; a fault of the program is
// not hidden.
func TestSumsThatEndEarly(t *testing.T) {
	b := &bench{words: catalog.English, kind: &kind{run: func(*bench) { sure(0, errors.New("no such unit")) }}}
	b.run()
	if len(b.problems) != 1 || b.problems[0].Says != "this test cannot be judged: no such unit" {
		t.Errorf("%v", b.problems)
	}
	defer func() {
		if recover() != "a fault" {
			t.Error("a fault of the program was hidden")
		}
	}()
	b.kind.run = func(*bench) { panic("a fault") }
	b.run()
}

// No answer stays none through every sum.
func TestNoAnswerStaysNone(t *testing.T) {
	one := big.NewRat(1, 1)
	for n, got := range []*big.Rat{
		quotient(nil, one), quotient(one, nil), quotient(one, new(big.Rat)), quotient(one, big.NewRat(-1, 1)),
		minus(nil, one), minus(one, nil), times(one, nil), times(nil, one), exact(math.Inf(1)), exact(math.NaN()),
	} {
		if got != nil {
			t.Errorf("%d: got %v", n, got)
		}
	}
}

// What an input takes is said for each sort of input.
func TestWhatAnInputTakes(t *testing.T) {
	for _, tc := range []struct {
		in   input
		want string
	}{
		{measure("a", quantity.Pressure, ""), "a pressure, such as 62 psi"},
		{measure("a", quantity.Pressure, "").such("7 psi"), "a pressure, such as 7 psi"},
		{measure("a", quantity.Pressure, "").list("x"), "a pressure, such as 62 psi, or a list such as [62 psi, 62 psi]"},
		{number("a", ""), "a plain number above zero"},
		{count("a", ""), "a whole number above zero"},
		{count("a", "").list("x"), "a whole number above zero, or a list such as [12, 14]"},
		{choice("a", "", "hot", "cold"), "one of these words: hot, cold"},
		{yesNo("a", ""), "yes or no"},
		{text("a", ""), "a few words"},
		{accuracy("a", quantity.Pressure), "a pressure, or a percentage of the reading, such as 2 %"},
		{measure("a", quantity.Pressure, "").split("one", "other"), "a pressure for each of one, other, such as [62 psi, 62 psi]"},
	} {
		if got := tc.in.wants(catalog.English); got != tc.want {
			t.Errorf("got %q, want %q", got, tc.want)
		}
	}
}

// Words lead to a test by the whole of a word's beginning, in the order of names,
// systems, tools and help.
func TestFindByWords(t *testing.T) {
	names := func(text string) string {
		var all []string
		for _, trial := range Trials(text) {
			all = append(all, trial.Kind.Name)
		}
		return strings.Join(all, ", ")
	}
	for text, want := range map[string]string{
		"Brakes":                       "parking brake",                               // a system
		"ignition":                     "armature air gap, coil resistance, plug gap", // a system, and a word of names
		"leak":                         "crankcase leak, leak-down, leakage current",  // beginnings of words in names
		"gear":                         "gear reduction",                              // and no end of one
		"ears":                         "",
		"scale":                        "shaft power", // tools
		"load tester":                  "battery load test",
		"lasts":                        "fuel rate, parasitic draw", // words of the help
		"stands":                       "tailstock height",
		"no start":                     "plug gap, compression, armature air gap, coil resistance, valve clearance, crankcase leak, leak-down",
		"It will not start, no spark!": "plug gap, compression, armature air gap, coil resistance, valve clearance, crankcase leak, leak-down", // the longer name
		"it clicks":                    "battery at rest, voltage drop, cranking, battery load test, hydrometer",
		"nostart":                      "", "": "", "soup": "",
	} {
		if got := names(text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// The limit as people say it; what is no limit stays as it is.
func TestLimitSaid(t *testing.T) {
	for text, want := range map[string]string{
		">= 60 psi": "60 psi or more", "> 60 psi": "more than 60 psi", "<= 60 psi": "60 psi or less", "< 60 psi": "less than 60 psi",
		"60 psi to 70 psi": "60 psi to 70 psi", "60 psi +- 5 psi": "60 psi, give or take 5 psi", ">= 1.5": "1.5 or more", "": "", "soup": "soup",
	} {
		if got := LimitSaid(catalog.English, text); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// The system of a test is the one that it says, else that of its kind.
func TestSystemOfATest(t *testing.T) {
	for _, tc := range []struct {
		name, system, want string
	}{{"torque", "", "engine"}, {"torque", "frame", "frame"}, {"soup", "frame", "frame"}, {"soup", "", ""}} {
		test := logbook.Test{Test: tc.name, Inputs: []logbook.Input{{Name: "where", Text: "x"}, {Name: "system", Text: tc.system}}}
		if got := System(nil, test); got != tc.want {
			t.Errorf("%+v: %q", tc, got)
		}
	}
}

// A drawing is told in words, each point with all that is known of it.
func TestDrawingInWords(t *testing.T) {
	limit := "limits: [{what: plug gap, where: cylinder 1, limit: <= 0.03 in, source: sheet}]\n"
	for test, want := range map[string]string{
		"gap: [0.02 in, 0.02 in]":                  "plug gap, cylinder 1: 0.02 in. The limit is 0.03 in or less. plug gap, cylinder 2: 0.02 in. No limit was given.",
		"gap: [0.02 in, 0.02 in], gauge: 0.001 in": "plug gap, cylinder 1: 0.02 in, give or take 0.001 in. The limit is 0.03 in or less. plug gap, cylinder 2: 0.02 in, give or take 0.001 in. No limit was given.",
	} {
		if got := sound(t, limit, "{test: plug gap, "+test+"}").Drawing.Alt; got != want {
			t.Errorf("%s: %s", test, got)
		}
	}
	// A picture at altitude is of the pressure at sea level; its words are of the reading.
	o := sound(t, plainMachine, "{test: compression, dry: 100 psi, altitude: 5000 ft, gauge: 2 psi}")
	if want := "compression, cylinder 1: 100 psi (116 psi to 120 psi at sea level), give or take 2 psi. No limit was given."; o.Drawing.Alt != want {
		t.Errorf("%s", o.Drawing.Alt)
	}
	o = sound(t, plainMachine, "{test: bore, top: [2 in, 2 in], bottom: [2 in, 2 in], standard: 2 in}")
	if want := "top, along: 2 in. top, across: 2 in. bottom, along: 2 in. bottom, across: 2 in. The size when new is 2 in."; o.Drawing.Alt != want {
		t.Errorf("%s", o.Drawing.Alt)
	}
}

// Each term of the tests is in the glossary once, and a word that explains one
// already takes its place.
func TestGlossaryTakesInTheTests(t *testing.T) {
	all := Glossary([]catalog.Term{{Term: "zero"}, {Term: "BORE"}, {Term: "alpha", Also: []string{"Tip speed"}}}, catalog.English)
	find := func(name string) int {
		return slices.IndexFunc(all, func(term catalog.Term) bool { return term.Term == name })
	}
	if find("alpha") < 0 || find("zero") < 0 || find("bore") >= 0 || find("blade tip speed") >= 0 || find("journal") < 0 {
		t.Errorf("%+v", all)
	}
	if j := all[find("journal")]; !slices.Equal(j.Also, []string{"crankshaft journal", "crankpin"}) || j.Means == "" {
		t.Errorf("%+v", j)
	}
}

// A figure gets as many decimals as tell it from its limit, up to nine; where those do
// not tell, it stays as it was.
func TestApart(t *testing.T) {
	for text, want := range map[string]string{
		"19.94 %": "19.9 %", "19.96 %": "19.96 %", "19.9999999994 %": "19.999999999 %", "19.9999999996 %": "20.0 %",
		"20.04 %": "20.04 %", "20.06 %": "20.1 %", "20 %": "20.0 %",
	} {
		q, err := quantity.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := apart(q.WithPlaces(1), percent(20)).String(); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// A problem is where its field stands, or at the test where the field is missing.
func TestProblemsAreAtTheirLine(t *testing.T) {
	for test, line := range map[string]int{
		"test: compression\n    dry: 60 psi\n    altitude: 20000 m": 8, "test: compression\n    wet: 60 psi": 6,
	} {
		if _, problems := judge(t, plainMachine, test); len(problems) != 1 || problems[0].Line != line {
			t.Errorf("%s: %v, want line %d", test, problems, line)
		}
	}
}

// The help has each field with what it takes.
func TestHelpOnFields(t *testing.T) {
	k, _ := KindNamed("bore")
	want := map[string]InputHelp{
		"top":       {Needed: true, Several: true, Takes: "a length for each of along, across, such as [0.010 in, 0.010 in]"},
		"standard":  {Takes: "a length, such as 0.010 in"},
		"oversizes": {Several: true, Takes: "a length, such as 0.010 in, or a list such as [0.010 in, 0.010 in]"},
		"gauge":     {Takes: "a length, or a percentage of the reading, such as 2 %"},
		"state":     {Takes: "a few words"},
	}
	for _, in := range k.Inputs {
		w, asked := want[in.Name]
		delete(want, in.Name)
		if asked && (in.Needed != w.Needed || in.Several != w.Several || in.Takes != w.Takes) || in.Help == "" {
			t.Errorf("%+v", in)
		}
	}
	for _, in := range kindNamed(t, "charging").help(catalog.English).Inputs {
		if in.Name == "ripple_gauge" && in.Help != "how far off the meter may be on AC" {
			t.Errorf("%+v", in)
		}
	}
	if len(want) > 0 || len(k.Inputs) != 10 {
		t.Errorf("without %v; %d fields", want, len(k.Inputs))
	}
}
