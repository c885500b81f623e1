package benchtest

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// A value is an input as it was read.
type value struct {
	quantity quantity.Quantity
	number   *big.Rat // of a number or a count
	gauge    quantity.Gauge
	word     string
	yes      bool
	items    []value // all of a list, or of the parts; else the one itself

	// Of a reading that is no plain value (see loose.go).
	about  bool
	open   openness
	ended  bool              // the value that an open one names may be it: >= 3 s
	half   quantity.Quantity // of the width of a range
	broken bool              // OL: no path at all
}

// number is the plain number of an input; nil when not given.
func (b *bench) number(name string) *big.Rat { return b.given[name].number }

// count is the whole number of an input; 0 when not given.
func (b *bench) count(name string) int {
	if n := b.number(name); n != nil {
		return int(n.Num().Int64())
	}
	return 0
}

// read checks every input against what the test takes and keeps it. What is wrong is
// reported, and its value counts for nothing, for the sums are not begun then.
func (b *bench) read() {
	takes := b.kind.takes()
	for _, in := range b.test.Inputs {
		if !slices.ContainsFunc(takes, func(t input) bool { return t.name == in.Name }) {
			b.unknown(in, takes)
		}
	}
	for _, t := range takes {
		i := slices.IndexFunc(b.test.Inputs, func(in logbook.Input) bool { return in.Name == t.name })
		switch {
		case i >= 0:
			v := b.readInput(t, b.test.Inputs[i])
			b.given[t.name] = v
			b.show(t, v)
		case t.need:
			b.missing(t.name)
		}
	}
	b.checkGauges(takes)
}

func (b *bench) unknown(in logbook.Input, takes []input) {
	var known []string
	for _, t := range takes {
		known = append(known, t.name)
	}
	key, near := "problem.bench-unknown-input", spelling.Nearest(in.Name, known)
	if near != "" {
		key = "problem.bench-unknown-input-near"
	}
	b.report(in.Name, key, "test", b.kind.name, "near", near, "fields", strings.Join(known, ", "))
}

// show shows an input among the readings as they were written.
func (b *bench) show(t input, v value) {
	name := strings.ReplaceAll(t.name, "_", " ")
	add := func(label, text string) { b.out.Given = append(b.out.Given, Given{label, text}) }
	switch {
	case t.name == systemInput.name:
	case t.parts != nil:
		for i, item := range v.items {
			add(b.words.Say("bench.label.part", "name", name, "part", t.parts[i]), item.word)
		}
	case len(v.items) > 1:
		for i, item := range v.items {
			add(b.words.Say(t.each, "name", name, "n", i+1), item.word)
		}
	default:
		for _, item := range v.items {
			add(name, item.word)
		}
	}
}

// readInput reads one input as what the test takes under that name.
func (b *bench) readInput(t input, in logbook.Input) value {
	switch {
	case t.parts != nil:
		return b.readParts(t, in)
	case t.several:
		return b.readSeveral(t, in)
	case t.each != "" && in.List:
		return b.readList(t, in)
	}
	v := b.readOne(t, in)
	v.items = []value{v}
	return v
}

// mostItems is how many readings a list may have: more cylinders or cells than any
// machine of a shop, and few enough to hold each against all the others.
const mostItems = 100

func (b *bench) readList(t input, in logbook.Input) value {
	if len(in.Items) == 0 {
		b.wrong(t, in, "problem.bench-empty-list")
	}
	if len(in.Items) > mostItems {
		b.wrong(t, in, "problem.bench-long-list", "n", len(in.Items), "most", mostItems)
	}
	var all value
	for _, item := range in.Items {
		all.items = append(all.items, b.readOne(t, item))
	}
	return all
}

// readSeveral reads a list of which each may be several words, with "and" between them.
// Where the input that it goes by has one reading alone, all of them are of that one.
func (b *bench) readSeveral(t input, in logbook.Input) value {
	each := []logbook.Input{in}
	if in.List {
		if each = in.Items; len(each) == 0 {
			b.wrong(t, in, "problem.bench-empty-list")
		}
	}
	one := slices.ContainsFunc(t.per, func(other string) bool { return len(b.given[other].items) == 1 })
	var all value
	for n, item := range each {
		if n == 0 || !one {
			all.items = append(all.items, value{})
		}
		last := &all.items[len(all.items)-1]
		for word := range strings.SplitSeq(item.Text, " and ") {
			part := item
			part.Text = strings.TrimSpace(word)
			v := b.readOne(t, part)
			last.items = append(last.items, v)
			last.word = strings.TrimPrefix(last.word+", "+v.word, ", ")
		}
	}
	return all
}

// readParts reads [1 in, 2 in] or {along: 1 in, across: 2 in} into the order
// of the parts.
func (b *bench) readParts(t input, in logbook.Input) value {
	all := value{items: make([]value, len(t.parts))}
	var seen []int
	for i, item := range in.Items {
		if !in.List {
			i = slices.Index(t.parts, item.Name)
		}
		if i < 0 || i >= len(t.parts) || slices.Contains(seen, i) {
			break
		}
		all.items[i], seen = b.readOne(t, item), append(seen, i)
	}
	if len(seen) != len(t.parts) || len(in.Items) != len(t.parts) {
		b.wrong(t, in, "problem.bench-parts")
	}
	return all
}

// wrong reports what stands at an input, and says what is wanted there.
func (b *bench) wrong(t input, in logbook.Input, key string, pairs ...any) {
	pairs = append([]any{
		"field", t.name, "read", shown(in), "wants", t.wants(b.words), "parts", strings.Join(t.parts, ", "), "form", t.form(),
		"words", strings.Join(t.words, ", "), "example", t.example(),
	}, pairs...)
	b.problems = append(b.problems, logbook.ProblemAt(b.words, in.Place, key, pairs...))
}

// shown is an input for a message.
func shown(in logbook.Input) string {
	if !in.List && in.Items == nil {
		return strconv.Quote(in.Text)
	}
	var parts []string
	for _, item := range in.Items {
		part := item.Text
		if item.Items != nil {
			part = "..."
		}
		if !in.List {
			part = item.Name + ": " + part
		}
		parts = append(parts, part)
	}
	if in.List {
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
