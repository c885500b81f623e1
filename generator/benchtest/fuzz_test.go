package benchtest

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Whatever stands at an input, a test comes to an outcome or to problems, and
// every problem says where it is and how to mend it.
func FuzzInput(f *testing.F) {
	for n, text := range []string{"60 psi", "-1 in", "0", "50:1", "2 %", "yes", "exhaust", "", "1e9 V", "999999999999999999 m", "0.000000000000000001 in"} {
		f.Add(uint8(n), uint8(0), text, uint8(n%3))
	}
	all := examplesOf(f)
	f.Fuzz(func(t *testing.T, kind, field uint8, text string, shape uint8) {
		x := all[int(kind)%len(all)]
		takes := x.kind.takes()
		at := takes[int(field)%len(takes)]
		in := logbook.Input{Name: at.name, Text: text, Place: x.test.In(at.name)}
		switch shape % 3 {
		case 1:
			in = logbook.Input{Name: at.name, List: true, Items: []logbook.Input{{Text: text, Place: in.Place}, {Text: text, Place: in.Place}}, Place: in.Place}
		case 2:
			in = logbook.Input{Name: at.name, Items: []logbook.Input{{Name: text, Text: text, Place: in.Place}, {Name: "across", Text: text, Place: in.Place}}, Place: in.Place}
		}
		inputs := slices.DeleteFunc(slices.Clone(x.test.Inputs), func(old logbook.Input) bool { return old.Name == at.name })
		o, problems := x.judge(append(inputs, in))
		if (o == nil) == (len(problems) == 0) {
			t.Fatalf("outcome %v, problems %v", o != nil, problems)
		}
		for _, p := range problems {
			if p.File == "" || p.Says == "" || p.Mend == "" || strings.Contains(p.Says, "cannot be judged") || strings.HasPrefix(p.Says, "[") && !strings.Contains(p.Says, "was read") && !strings.Contains(text, "[") {
				t.Fatalf("%+v", p)
			}
		}
	})
}

// A result, however made, has a verdict, and its drawing is in numbers.
func FuzzTestName(f *testing.F) {
	f.Add("compression")
	f.Add("COMPRESION")
	f.Fuzz(func(t *testing.T, name string) {
		o, problems := Judge(&logbook.Shop{}, &logbook.Machine{}, &logbook.Entry{}, logbook.Test{Test: name}, catalog.English)
		if o != nil || (name == "") != (len(problems) == 0) {
			t.Fatalf("%q: %v, %v", name, o, problems)
		}
	})
}
