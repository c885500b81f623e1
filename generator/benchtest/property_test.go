package benchtest

import (
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// An example is a test's example as the logbook reads it.
type example struct {
	shop    *logbook.Shop
	machine *logbook.Machine
	entry   *logbook.Entry
	kind    *kind
	test    logbook.Test
}

// examplesOf reads the example of every kind, once.
func examplesOf(t checker) []example {
	t.Helper()
	var all []example
	for _, k := range Kinds() {
		s, m, e := read(t, testShop, plainMachine, k.Example)
		all = append(all, example{s, m, e, kindNamed(t, k.Name), e.Tests[0]})
	}
	return all
}

// judge judges the example with other inputs.
func (x example) judge(inputs []logbook.Input) (*Outcome, []logbook.Problem) {
	test := x.test
	test.Inputs = inputs
	return Judge(x.shop, x.machine, x.entry, test, catalog.English)
}

// each is the inputs with every plain value put through a function, which is
// told what the test takes there.
func (x example) each(inputs []logbook.Input, do func(takes input, text string) string) []logbook.Input {
	var all []logbook.Input
	for _, in := range inputs {
		i := slices.IndexFunc(x.kind.takes(), func(t input) bool { return t.name == in.Name })
		all = append(all, through(x.kind.takes()[i], in, do))
	}
	return all
}

func through(takes input, in logbook.Input, do func(takes input, text string) string) logbook.Input {
	if in.Items == nil {
		in.Text = do(takes, in.Text)
		return in
	}
	var items []logbook.Input
	for _, item := range in.Items {
		items = append(items, through(takes, item, do))
	}
	in.Items = items
	return in
}

// near draws a reading near one of the example's, by up to 2 % of it.
func near(t *rapid.T) func(takes input, text string) string {
	return func(takes input, text string) string {
		q, err := quantity.Parse(text)
		if takes.sort != aMeasure || err != nil {
			return text
		}
		part := big.NewRat(int64(rapid.IntRange(9_800, 10_200).Draw(t, takes.name)), 10_000)
		return quantity.New(part.Mul(part, q.Rat()), min(q.Places()+2, 6), q.Unit()).String()
	}
}

// inOtherUnits draws another unit for a reading and writes it with all the
// digits that a reading may have.
func inOtherUnits(t *rapid.T) func(takes input, text string) string {
	return func(takes input, text string) string {
		q, err := quantity.Parse(text)
		if takes.sort != aMeasure || err != nil {
			return text
		}
		var units []quantity.Unit
		for _, u := range quantity.Units() {
			if quantity.Convertible(q.Unit(), u) && u != takes.never && writes(q, u) {
				units = append(units, u)
			}
		}
		c, err := q.In(rapid.SampledFrom(units).Draw(t, takes.name+" unit"))
		if err != nil {
			t.Fatal(err)
		}
		whole := math.Floor(math.Log10(math.Abs(c.Float()) + 1e-18))
		return c.WithPlaces(int(max(0, min(16-max(whole, 0), 17)))).String()
	}
}

// writes tells whether people write such a reading in u: not a bore in miles,
// of which too few digits would be left. A torque is told in the three units
// that it was not written in, so that another unit makes one result more.
func writes(q quantity.Quantity, u quantity.Unit) bool {
	if q.Dimension() == quantity.Torque {
		return slices.Contains([]quantity.Unit{quantity.PoundFoot, quantity.PoundInch, quantity.NewtonMeter}, u)
	}
	c, err := q.In(u)
	return err == nil && (c.Sign() == 0 || math.Abs(c.Float()) >= 1e-5)
}

// oneTwice tells whether two inputs have one and the same reading. Written in two
// units to as many digits as there may be, they need not be the same any more: a
// length and that of its limit, a pressure before and after.
func oneTwice(inputs []logbook.Input) bool {
	seen := map[string]bool{}
	for _, in := range inputs {
		if seen[in.Text] && strings.Contains(in.Text, " ") {
			return true
		}
		seen[in.Text] = true
	}
	return false
}

// Whatever unit a reading is written in, the results are the same to 1e-9 and
// the verdicts too, where the value is not on the limit itself.
func TestUnitsChangeNoResult(t *testing.T) {
	all := examplesOf(t)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SampledFrom(all).Draw(t, "example")
		inputs := x.each(x.test.Inputs, near(t))
		if oneTwice(inputs) {
			t.Skip("one reading that may become two")
		}
		first, problems := x.judge(inputs)
		if len(problems) > 0 {
			t.Skip("the readings do not go together")
		}
		x.machine.Limits = drawLimit(t, x.kind, first)
		defer func() { x.machine.Limits = nil }()
		one, problems := x.judge(inputs)
		two, wrong := x.judge(x.each(inputs, inOtherUnits(t)))
		if len(problems) > 0 && len(problems) == len(wrong) {
			t.Skip("the limit is not for a main result")
		}
		if len(problems) > 0 || len(wrong) > 0 || len(one.Results) != len(two.Results) {
			t.Fatalf("%s: %v, %v", x.kind.name, problems, wrong)
		}
		for i, a := range one.Results {
			alike(t, x.kind.name, a, two.Results[i])
		}
	})
}

// drawLimit is a limit for the test's main results, near the first of them.
func drawLimit(t *rapid.T, k *kind, o *Outcome) []logbook.Limit {
	q := o.Results[0].Quantity
	if q.Sign() <= 0 || q.Dimension() == quantity.Temperature {
		return nil
	}
	part := big.NewRat(int64(rapid.IntRange(900, 1100).Draw(t, "limit")), 1000)
	kind := rapid.SampledFrom([]quantity.LimitKind{quantity.AtLeast, quantity.AtMost}).Draw(t, "kind")
	limit, err := quantity.NewLimit(kind, quantity.New(part.Mul(part, q.Rat()), 6, q.Unit()))
	if err != nil {
		t.Fatal(err)
	}
	return []logbook.Limit{{What: k.name, Limit: limit, Source: "drawn"}}
}

func alike(t *rapid.T, name string, a, b Result) {
	t.Helper()
	x, y := float(a.Quantity.Base()), float(b.Quantity.Base())
	if scale := max(math.Abs(x), math.Abs(y)); math.Abs(x-y) > 1e-9*scale && math.Abs(x-y) > 1e-12 {
		t.Fatalf("%s, %s: %v and %v in base units", name, a.Name, x, y)
	}
	if a.Verdict != b.Verdict && !onTheEdge(a) {
		t.Fatalf("%s, %s: %s (%v) and %s (%v)", name, a.Name, a.Verdict, a.Quantity.Rat(), b.Verdict, b.Quantity.Rat())
	}
}

// onTheEdge tells whether an end of a result's interval is so near an end of
// its limit that the digits of a conversion may decide.
func onTheEdge(r Result) bool {
	low, high, err := r.Gauge.Interval(r.Quantity)
	if err != nil {
		return false
	}
	for _, end := range []func() (quantity.Quantity, bool){r.limit.Low, r.limit.High} {
		edge, ok := end()
		for _, q := range []quantity.Quantity{low, high} {
			if ok && math.Abs(float(q.Base())-float(edge.Base())) <= 1e-9*math.Abs(float(edge.Base())) {
				return true
			}
		}
	}
	return false
}

// A reading of another dimension is a problem at its own place, whatever the
// test and the input.
func TestDimensionsAreKeptApart(t *testing.T) {
	checked := 0
	for _, x := range examplesOf(t) {
		for i, in := range x.test.Inputs {
			for _, u := range oneOfEach() {
				done := false
				inputs := slices.Clone(x.test.Inputs)
				inputs[i] = x.each([]logbook.Input{in}, func(takes input, text string) string {
					if takes.sort != aMeasure || done || u.Dimension() == takes.of {
						return text
					}
					done = true
					return "1 " + u.Symbol()
				})[0]
				if !done {
					continue
				}
				checked++
				o, problems := x.judge(inputs)
				if o != nil || len(problems) != 1 || problems[0].Line == 0 || !slices.ContainsFunc(append(in.Items, in), func(at logbook.Input) bool { return at.Place == problems[0].Place }) {
					t.Errorf("%s: %s in %s: %v", x.kind.name, in.Name, u, problems)
				}
			}
		}
	}
	if checked < 1000 {
		t.Fatalf("only %d readings were tried", checked)
	}
}

// oneOfEach is a unit of each dimension.
func oneOfEach() []quantity.Unit {
	units := slices.Clone(quantity.Units())
	slices.SortStableFunc(units, func(a, b quantity.Unit) int { return int(a.Dimension()) - int(b.Dimension()) })
	return slices.CompactFunc(units, func(a, b quantity.Unit) bool { return a.Dimension() == b.Dimension() })
}

// A better tool never makes a verdict less sure, and a verdict that is sure
// does not turn round with it.
func TestFinerGaugesAreNeverLessSure(t *testing.T) {
	all := examplesOf(t)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SampledFrom(all).Draw(t, "example")
		inputs := x.each(x.test.Inputs, near(t))
		coarse, problems := x.judge(inputs)
		if len(problems) > 0 {
			t.Skip("the readings do not go together")
		}
		fine, problems := x.judge(x.each(inputs, func(takes input, text string) string {
			g, err := quantity.ParseGauge(text)
			if takes.sort != anAccuracy || err != nil {
				return text
			}
			q := g.Size()
			return quantity.New(new(big.Rat).Quo(q.Rat(), big.NewRat(10, 1)), q.Places()+1, q.Unit()).String()
		}))
		if len(problems) > 0 || len(fine.Results) != len(coarse.Results) {
			t.Fatalf("%s: %v", x.kind.name, problems)
		}
		for i, c := range coarse.Results {
			f := fine.Results[i]
			if c.Verdict != quantity.TooClose && f.Verdict != c.Verdict {
				t.Fatalf("%s, %s: %s, with a finer tool %s", x.kind.name, c.Name, c.Verdict, f.Verdict)
			}
		}
	})
}
