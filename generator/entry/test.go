package entry

import (
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/frontmatter/yamlvalue"
)

// A Test is a bench test with the readings taken for it, in the order in which
// they are to be written.
type Test struct {
	Test, Where string
	AsFound     bool
	Inputs      []Input
}

// An Input is one field of a bench test; several texts are written as a list.
type Input struct {
	Name  string
	Texts []string
}

// NewTest is a bench test with what was typed for its inputs, by their names, and
// for where and as_found. A comma or a new line parts the readings of an input that
// takes several. Inputs that the test does not have come last, for the reader to
// tell of.
func NewTest(kind benchtest.Kind, typed map[string]string) Test {
	t := Test{Test: kind.Name, Where: typed["where"], AsFound: typed["as_found"] == "yes"}
	rest := map[string]string{}
	for name, s := range typed {
		s = strings.TrimSpace(s)
		// A few tests have a reading as found, so that as_found: is the reading there.
		if s != "" && name != "where" && (name != "as_found" || s != "yes" && s != "no") {
			rest[name] = s
		}
	}
	add := func(name string, texts ...string) {
		t.Inputs = append(t.Inputs, Input{name, texts})
		delete(rest, name)
	}
	for _, in := range kind.Inputs {
		s, given := rest[in.Name]
		if !given {
			continue
		}
		var texts []string
		for one := range strings.FieldsFuncSeq(strings.Trim(s, "[]"), func(r rune) bool { return r == ',' || r == '\n' }) {
			texts = append(texts, strings.TrimSpace(one))
		}
		if !in.Several {
			texts = []string{s}
		}
		add(in.Name, texts...)
	}
	var others []string
	for name := range rest {
		others = append(others, name)
	}
	slices.Sort(others)
	for _, name := range others {
		add(name, rest[name])
	}
	return t
}

func (t Test) flow() string {
	pairs := []string{"test", text(t.Test), "where", text(t.Where), "as_found", yes(t.AsFound)}
	for _, in := range t.Inputs {
		if name := text(in.Name); name != "" {
			pairs = append(pairs, name, in.written())
		}
	}
	return flow(pairs...)
}

func (i Input) written() string {
	if len(i.Texts) == 1 {
		return yamlvalue.Written(i.Texts[0])
	}
	return yamlvalue.ListOf(i.Texts, yamlvalue.Written)
}
