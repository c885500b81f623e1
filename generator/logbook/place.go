package logbook

import (
	"cmp"
	"fmt"
	"slices"

	"asleft/generator/catalog"
)

// A Place is where a fact stands: a file of the shop folder (slash-separated,
// relative to it), the line, and the field as written from the front matter's
// top, like parts[1].each (the first item of a list is 0). Line 0 means the
// file as a whole, an empty Field the front matter or the body as a whole.
type Place struct {
	File  string
	Line  int
	Field string
}

// In is the place of a field below this one, on the same line.
func (p Place) In(field string) Place {
	p.Field = join(p.Field, field)
	return p
}

// on is the place on the line where its field stands, as far as that is known.
func (p Place) on(f *finder) Place {
	if p.Field == "" {
		return p
	}
	if line := f.line(p.File, p.Field); line > 0 {
		p.Line = line
	}
	return p
}

// String is file:line: field.
func (p Place) String() string {
	s := p.File
	if p.Line > 0 {
		s += fmt.Sprintf(":%d", p.Line)
	}
	if p.Field != "" {
		s += ": " + p.Field
	}
	return s
}

// A Problem is something in the shop folder that the mechanic has to mend
// before the logs can be trusted: what was read, and how to mend it.
type Problem struct {
	Place
	// Says tells what was read and what was expected.
	Says string
	// Mend tells how to put it right.
	Mend string
}

// ProblemAt words a problem by its key in the catalog; key+".mend" tells how to mend it.
func ProblemAt(words *catalog.Catalog, at Place, key string, pairs ...any) Problem {
	return Problem{Place: at, Says: words.Say(key, pairs...), Mend: words.Say(key+".mend", pairs...)}
}

// String is the problem on one line, without the mending.
func (p Problem) String() string { return p.Place.String() + ": " + p.Says }

// Sort puts problems in the order in which a person would go through them:
// by file, then line, then field; those that are the same in all are dropped.
func Sort(ps []Problem) []Problem {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Field, b.Field),
			cmp.Compare(a.Says, b.Says),
			cmp.Compare(a.Mend, b.Mend),
		)
	})
	return slices.Compact(ps)
}

// Pinpoint moves each problem to the line on which its field stands. A fact
// knows the line of its item only; whoever finds a problem with one of the
// item's fields names it with Place.In and has it pinpointed. The problems of
// Read itself are in their places already.
func (s *Shop) Pinpoint(ps []Problem) {
	for i := range ps {
		ps[i].Place = ps[i].on(s.finder)
	}
}

func join(path, field string) string {
	if path == "" {
		return field
	}
	if field == "" {
		return path
	}
	return path + "." + field
}
