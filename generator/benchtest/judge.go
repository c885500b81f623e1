package benchtest

import (
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// A bench is one test on its way through: the readings of the log, and the
// outcome so far.
type bench struct {
	shop     *logbook.Shop
	machine  *logbook.Machine
	test     logbook.Test
	words    *catalog.Catalog
	kind     *kind
	given    map[string]value
	out      *Outcome
	problems []logbook.Problem
	unfit    []unfit                // limits that no result so far could be held against
	fit      map[logbook.Place]bool // limits that one could
	asRead   map[string]bool        // inputs that were taken with all that their form leaves open
}

// Judge computes and judges one test. Where its entry is not right the outcome
// is nil and the problems say what to write instead.
func Judge(shop *logbook.Shop, m *logbook.Machine, e *logbook.Entry, t logbook.Test, words *catalog.Catalog) (*Outcome, []logbook.Problem) {
	if t.Test == "" {
		return nil, nil // reading the logbook has reported that the name is missing
	}
	k, ok := byName()[strings.ToLower(t.Test)]
	if !ok {
		return nil, []logbook.Problem{unknownTest(t, words)}
	}
	m = facing(m, t.Where)
	t = withPlate(m, k, t)
	b := &bench{shop: shop, machine: m, test: t, words: words, kind: k, given: map[string]value{}, fit: map[logbook.Place]bool{}, asRead: map[string]bool{}}
	b.out = &Outcome{
		Place: t.Place, Test: k.name, Where: t.Where, System: System(m, t), Entry: e, Caution: words.Say(k.caution),
		AsFound: t.AsFound, Safety: k.safety,
	}
	b.read()
	b.out.State = b.word("state")
	if len(b.problems) == 0 {
		b.run()
		b.reportUnfit()
		b.doubtLoose()
		b.sayNoGauge()
	}
	if len(b.problems) > 0 {
		return nil, logbook.Sort(b.problems)
	}
	return b.out, nil
}

// refused is what ends the sums of a test before their end; it goes no further than
// run. Its problems are told, but for one that nobody expected.
type refused struct{ unexpected error }

// run does the sums, as far as they can be done.
func (b *bench) run() {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case refused:
			if r.unexpected != nil {
				b.report("", "problem.bench-cannot-judge", "why", r.unexpected)
			}
		default:
			panic(r)
		}
	}()
	b.kind.run(b)
}

// refuse reports an input that no sum can be done with, and ends the sums.
func (b *bench) refuse(name, key string, pairs ...any) {
	b.report(name, key, pairs...)
	b.proceed()
}

// proceed ends the sums where a problem was reported.
func (b *bench) proceed() {
	if len(b.problems) > 0 {
		panic(refused{})
	}
}

// sure is a value whose making goes wrong for no readings that were taken: their
// dimensions and their signs were looked at.
func sure[T any](v T, err error) T {
	if err != nil {
		panic(refused{err})
	}
	return v
}

func unknownTest(t logbook.Test, words *catalog.Catalog) logbook.Problem {
	known := names()
	key, near := "problem.bench-unknown-test", spelling.Nearest(t.Test, known)
	if near != "" {
		key = "problem.bench-unknown-test-near"
	}
	return logbook.ProblemAt(words, t.In("test"), key, "read", t.Test, "near", near, "names", strings.Join(known, ", "))
}

// System is where a test is filed: under its own system: where it says one,
// else where its kind belongs; "" for a test that nobody knows. The machine
// does not change that today.
func System(_ *logbook.Machine, t logbook.Test) string {
	for _, in := range t.Inputs {
		if in.Name == systemInput.name && in.Text != "" {
			return in.Text
		}
	}
	if k, ok := byName()[strings.ToLower(t.Test)]; ok {
		return k.system
	}
	return ""
}

// report adds a problem with one of the inputs.
func (b *bench) report(name, key string, pairs ...any) {
	b.problems = append(b.problems, logbook.ProblemAt(b.words, b.at(name), key, append([]any{"field", name}, pairs...)...))
}

// missing reports an input that the sums cannot do without.
func (b *bench) missing(name string) {
	for _, in := range b.kind.inputs {
		if in.name == name {
			b.report(name, "problem.bench-missing", "wants", in.wants(b.words), "test", b.kind.name, "example", b.kind.example)
		}
	}
}

// need ends the sums where one of some inputs is missing, and reports each that is.
func (b *bench) need(names ...string) {
	for _, name := range names {
		if !b.has(name) {
			b.missing(name)
		}
	}
	b.proceed()
}

// say adds a sentence to the outcome.
func (b *bench) say(key string, pairs ...any) {
	b.out.Says = append(b.out.Says, b.words.Say(key, pairs...))
}

// at is where an input stands, or the test where it is not there.
func (b *bench) at(name string) logbook.Place {
	for _, in := range b.test.Inputs {
		if in.Name == name {
			return in.Place
		}
	}
	return b.test.In(name)
}

// has tells whether an input was given.
func (b *bench) has(name string) bool { _, ok := b.given[name]; return ok }

// one is the reading of an input; the zero quantity when not given.
func (b *bench) one(name string) quantity.Quantity { return b.given[name].quantity }

// reading is one with the accuracy of the tool.
func (b *bench) reading(name string) reading { return b.with(name, "gauge") }

// list is the readings of a list, or of the parts in their order.
func (b *bench) list(name string) []quantity.Quantity {
	var all []quantity.Quantity
	for _, v := range b.given[name].items {
		all = append(all, v.quantity)
	}
	return all
}

// readings is list with the accuracy of the tool.
func (b *bench) readings(name string) []reading {
	b.asRead[name] = true
	var all []reading
	for _, v := range b.given[name].items {
		all = append(all, b.readingOf(v, b.gauge()))
	}
	return all
}

// word is the word of a choice or a text; "" when not given.
func (b *bench) word(name string) string { return b.given[name].word }

// yes tells whether the answer was yes.
func (b *bench) yes(name string) bool { return b.given[name].yes }

// gauge is the accuracy under the usual name; zero when not recorded.
func (b *bench) gauge() quantity.Gauge { return b.given["gauge"].gauge }

// gaugeOf is the accuracy of a second tool.
func (b *bench) gaugeOf(name string) quantity.Gauge { return b.given[name].gauge }

// JudgeEntry judges all tests of an entry.
func JudgeEntry(shop *logbook.Shop, m *logbook.Machine, e *logbook.Entry, words *catalog.Catalog) (all []*Outcome, wrong []logbook.Problem) {
	for _, t := range e.Tests {
		outcome, found := Judge(shop, m, e, t, words)
		wrong = append(wrong, found...)
		if outcome != nil {
			all = append(all, outcome)
		}
	}
	return all, wrong
}
