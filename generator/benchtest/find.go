package benchtest

import (
	"math/big"
	"slices"
	"strings"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A reading is a quantity with the accuracy of the tool that read it.
type reading struct {
	quantity.Quantity
	gauge quantity.Gauge
	open  openness
	about bool
	// ended tells of an open one that it may be the value itself: >= 3 s.
	ended bool
	// vague tells that nobody said how far off an "about" in it may be.
	vague bool
	// between tells that it is a range, whose half width is in the gauge.
	between bool
	text    string // how it is shown, where it is no plain value
}

// A finding is a result before it is judged.
type finding struct {
	what  string // the result's name, under which a machine may have a limit
	where string // "cylinder 1"; "" for the test as a whole
	value reading
	// trials are several values of the same thing, of which the worst is the value.
	trials []reading
	shown  string // how to show the value, where not as it prints itself
	// show is shown for a value that may have to tell more digits.
	show func(quantity.Quantity) string
	// between are the values to judge by, where the reading itself does not tell: all
	// of them have to agree.
	between []reading
	// turn tells that where names no place but a turn of the work: as found, or as
	// left. asFound tells which.
	turn, asFound bool
	// part tells that where is a part of the test's own place: least, of cylinder 2;
	// cylinder 2, of the port engine.
	part bool
	// main results are the ones that a limit under the test's own name is for.
	main bool
	// reading tells of a reading that is a result too, under no name but its own.
	reading bool
	// floor is the least that the value can be but for a slip of the pen, where it cannot
	// be just anything: below it, nothing good is proven.
	floor *big.Rat
	// published is the limit to use where the machine has none.
	published published
}

// A published limit is one from outside; source is a key of the catalog. A firm one is
// never loosened by a limit of the machine's own, and so are all of a test of safety.
type published struct {
	limit  quantity.Limit
	source string
	firm   bool
}

// firmly makes a published limit a firm one.
func firmly(p published) published { p.firm = true; return p }

// atMost, atLeast and lessThan make published limits.
func atMost(q quantity.Quantity, source string) published {
	return oneEnd(quantity.AtMost, q, source)
}

func atLeast(q quantity.Quantity, source string) published {
	return oneEnd(quantity.AtLeast, q, source)
}

func lessThan(q quantity.Quantity, source string) published {
	return oneEnd(quantity.LessThan, q, source)
}

func oneEnd(kind quantity.LimitKind, q quantity.Quantity, source string) published {
	return published{limit: sure(quantity.NewLimit(kind, q)), source: source}
}

// find judges a finding and adds it to the results. Against two limits the worse
// verdict counts.
func (b *bench) find(f finding) quantity.Verdict {
	if len(f.trials) > 0 {
		f.value = f.trials[0] // the limits hang on its dimension, and that is the others' too
	}
	limits := b.limitsFor(f)
	trial := worst(f.trials, limits)
	if len(f.trials) > 0 {
		f.value = f.trials[trial]
	}
	verdict := quantity.NotLimited
	r := Result{
		Name: b.name(f), What: f.what, Where: f.where, Main: f.main || f.reading, Value: f.shown, Gauge: f.value.gauge,
		trial: trial,
	}
	if !r.Gauge.IsZero() {
		r.Accuracy = r.Gauge.String()
	}
	f.value, limits = deciding(f.value, limits)
	r.Quantity = f.value.Quantity
	for _, l := range limits {
		v := f.judged(l.limit)
		if was := verdict; quantity.Worse(v, verdict) != was || r.Limit == "" {
			r.Limit, r.Source, r.limit = l.limit.String(), l.source, l.limit
		}
		verdict = quantity.Worse(v, verdict)
		r.held(l)
	}
	r.Verdict = verdict
	switch {
	case r.Value != "":
	case f.show != nil:
		r.Value = f.value.marked(f.show(f.value.Quantity))
	default:
		r.Value = f.value.String()
	}
	if f.turn {
		r.Where, r.AsFound = "", f.asFound
	}
	switch {
	case r.Where == "":
		r.Where = b.test.Where
	case f.part && b.test.Where != "" && b.test.Where != r.Where:
		r.Where = b.words.Say("bench.label.where", "what", b.test.Where, "where", r.Where)
	}
	b.out.Results = append(b.out.Results, r)
	if f.floor != nil && verdict != quantity.Outside && r.read().most().Base().Cmp(f.floor) < 0 {
		b.unheld(f.what + " below nothing")
		return quantity.NotLimited
	}
	return verdict
}

// held puts down a limit that a result was held against.
func (r *Result) held(l sourced) {
	r.Limits = append(r.Limits, Sourced{l.limit.String(), l.source})
	if l.own.Limit.IsZero() {
		r.Published = append(r.Published, PublishedLimit{l.limit, l.source})
	} else {
		r.Own = append(r.Own, l.own)
	}
}

// judged is the verdict on a finding; where it may be one of several values, they
// have to agree.
func (f finding) judged(limit quantity.Limit) quantity.Verdict {
	if len(f.between) == 0 {
		return f.value.judged(limit)
	}
	verdict := f.between[0].judged(limit)
	for _, r := range f.between[1:] {
		if r.judged(limit) != verdict {
			verdict = quantity.TooClose
		}
	}
	return verdict
}

// worst is the place of the trial that decides among several: of the worst verdict, and
// of those the one that reads most. "> 2 s" beside 2.5 s may be the longer one.
func worst(trials []reading, limits []sourced) (at int) {
	judged := func(r reading) quantity.Verdict {
		verdict := quantity.NotLimited
		for _, l := range limits {
			verdict = quantity.Worse(verdict, r.judged(l.limit))
		}
		return verdict
	}
	for i, r := range trials {
		was, v := judged(trials[at]), judged(r)
		if v != was && quantity.Worse(v, was) == v || v == was && r.Base().Cmp(trials[at].Base()) > 0 {
			at = i
		}
	}
	return at
}

// mostDigits is how many decimals a rounded figure may be given to tell it from its
// limit.
const mostDigits = 9

// deciding gives a value, or a limit that was worked out, the decimals that tell
// on which side of the limit it is: 19.97 % is not 20.0 % where the limit is 20 %.
func deciding(value reading, limits []sourced) (reading, []sourced) {
	q := value.Quantity
	for i, l := range limits {
		low, _ := l.limit.Low()
		high, _ := l.limit.High()
		for _, end := range []quantity.Quantity{low, high} {
			if end.IsZero() || value.between {
				continue
			}
			q = apart(q, end)
			if l.limit.Kind() < quantity.Between {
				limits[i].limit = sure(quantity.NewLimit(l.limit.Kind(), apart(end, q)))
			}
		}
	}
	if q.Places() != value.Places() {
		value.Quantity = q
		value.mark()
	}
	return value, limits
}

// apart is q with as many decimals as show on which side of end it lies. A number that
// shows in full stays as it was written.
func apart(q, end quantity.Quantity) quantity.Quantity {
	if shows, _ := quantity.Parse(q.String()); shows.Rat().Cmp(q.Rat()) == 0 {
		return q
	}
	other := sure(end.In(q.Unit()))
	order := q.Rat().Cmp(other.Rat())
	for n := q.Places(); n <= mostDigits; n++ {
		if toPlaces(q.Rat(), n).Cmp(other.Rat()) == order {
			return q.WithPlaces(n)
		}
	}
	return q
}

// toPlaces is a number rounded to so many decimals, as a quantity prints it.
func toPlaces(r *big.Rat, n int) *big.Rat {
	text, _, _ := strings.Cut(quantity.New(r, n, quantity.Percent).String(), " ")
	rounded, _ := new(big.Rat).SetString(text)
	return rounded
}

// name is a finding's name with its place.
func (b *bench) name(f finding) string {
	if f.where == "" {
		return f.what
	}
	return b.words.Say("bench.label.where", "what", f.what, "where", f.where)
}

// tell adds a result that has no unit of quantity and no limit, such as a
// force.
func (b *bench) tell(what, shown string) {
	b.out.Results = append(b.out.Results, Result{Name: what, What: what, Where: b.test.Where, Value: shown, Verdict: quantity.NotLimited})
}

// A sourced is a limit with where it comes from.
type sourced struct {
	limit  quantity.Limit
	source string
	own    logbook.Limit // the machine's own, where it is that
}

// limitsFor are the machine's own limits, or else the published one. Of a safety
// matter both count, for nobody can loosen a published limit; where they allow
// nothing in common, that is a problem.
func (b *bench) limitsFor(f finding) []sourced {
	all := b.machineLimits(f)
	own := len(all)
	for i, l := range all {
		for _, o := range all[:i] {
			// A limit for every place and one of its name are compared as they are read.
			if quantity.Apart(l.limit, o.limit) && (!logbook.Same(l.own.What, o.own.What) || (l.own.Where != "") == (o.own.Where != "")) {
				b.problems = append(b.problems, logbook.ProblemAt(b.words, l.own.In("limit"), "problem.limits-apart",
					"what", f.what, "limit", l.limit, "other", o.limit, "line", o.own.Line))
			}
		}
	}
	for _, p := range b.publishedFor(f) {
		if p.limit.IsZero() || own > 0 && !b.kind.safety && !p.firm {
			continue
		}
		published := sourced{limit: p.limit, source: b.words.Say(p.source)}
		for _, l := range all[:own] {
			if quantity.Apart(l.limit, published.limit) {
				b.problems = append(b.problems, logbook.ProblemAt(b.words, l.own.In("limit"), "problem.bench-limits-apart",
					"what", f.what, "own", l.limit, "published", published.limit, "source", published.source))
			}
		}
		all = append(all, published)
	}
	return all
}

// publishedFor is the published limit that a test's own readings ask for, and beside it
// the one that the machine's kind asks for: what a test says of the machine never takes
// that away.
func (b *bench) publishedFor(f finding) []published {
	var of *kind
	if f.main {
		of = b.kind
	}
	kind := always(b.machine, f.what, of)
	if kind.source == f.published.source && kind.limit.String() == f.published.limit.String() {
		return []published{f.published}
	}
	return []published{f.published, kind}
}

// machineLimits are the machine's limits under the result's name, or for a main result
// under the test's names. They may be for the finding's place or for the test's.
//
// A test that finds several things, such as the clearance of each valve, has its own name
// for all of them: a limit under that is for those that have none under theirs. Of a
// matter of safety it stands beside the more exact one, which cannot loosen it.
func (b *bench) machineLimits(f finding) []sourced {
	limits := limitsBy(b.machine, []string{f.what}, f.where, b.test.Where)
	if f.main {
		own := len(limits) > 0 && !b.kind.safety && !slices.Contains(b.kind.names(), f.what)
		for _, l := range limitsBy(b.machine, b.kind.names(), f.where, b.test.Where) {
			if (!own || l.Safety == logbook.SafetyYes) && !slices.Contains(limits, l) {
				limits = append(limits, l)
			}
		}
	}
	var all []sourced
	for _, l := range limits {
		switch {
		case l.Limit.Dimension() == f.value.Dimension():
			b.fit[l.Place] = true
			all = append(all, sourced{limit: l.Limit, source: l.Source, own: l})
		case len(all) == 0:
			b.unfit = append(b.unfit, unfit{l, f.what, f.value})
		}
	}
	return all
}

// unfit is a limit of the machine that a result could not be held against.
type unfit struct {
	limit logbook.Limit
	what  string
	value reading
}

// reportUnfit reports the limits that measure something else than every result
// that goes by their name.
func (b *bench) reportUnfit() {
	for _, u := range b.unfit {
		if b.fit[u.limit.Place] {
			continue
		}
		b.fit[u.limit.Place] = true // once is enough
		b.problems = append(b.problems, logbook.ProblemAt(b.words, u.limit.In("limit"), "problem.bench-limit-dimension",
			"limit", u.limit.Limit, "what", u.what, "value", u.value, "want", u.value.Dimension().String()))
	}
}

// derive computes a result from readings. The formula takes them in base units
// (see quantity.Quantity.Base) and answers in the base unit of u; nil where it
// has no answer. The result is shown with so many significant digits. Its
// accuracy is the widest departure that the readings' tools allow, taking each
// reading to the end that moves the result up, then down; that is the true
// worst case where the formula only rises or only falls in each reading.
//
// The sums end, and a problem is reported, where the formula has no answer for the
// readings or somewhere within their accuracy.
func (b *bench) derive(u quantity.Unit, digits int, formula func(x []*big.Rat) *big.Rat, of ...reading) reading {
	x := make([]*big.Rat, len(of))
	for i, r := range of {
		x[i] = r.Base()
	}
	middle := formula(x)
	if middle == nil {
		b.refuse("", "problem.bench-no-answer")
	}
	off := departure(middle, formula, x, of)
	if off == nil {
		b.refuse("gauge", "problem.bench-gauge-too-coarse")
	}
	r := reading{Quantity: significant(middle, digits, u)}
	r.open, r.ended, r.about = opens(middle, formula, x, of)
	pulled := r.open == closed // apart by two open ones, where one is
	r.vague = r.about && slices.ContainsFunc(of, func(r reading) bool { return r.unbounded() || r.open != closed && pulled })
	r.mark()
	if off.Sign() != 0 {
		r.gauge = sure(quantity.NewGauge(rounded(off, 2, u)))
	}
	return r
}

// departure is how far the formula can move from its middle answer; nil where it has
// no answer on the way.
func departure(middle *big.Rat, formula func(x []*big.Rat) *big.Rat, x []*big.Rat, of []reading) *big.Rat {
	up, down := slices.Clone(x), slices.Clone(x)
	for i, r := range of {
		down[i], up[i] = r.least().Base(), r.most().Base()
		bottom, top := formula(with(x, i, down[i])), formula(with(x, i, up[i]))
		if bottom == nil || top == nil {
			return nil
		}
		if bottom.Cmp(top) > 0 {
			down[i], up[i] = up[i], down[i]
		}
	}
	above, below := minus(formula(up), middle), minus(middle, formula(down))
	if above == nil || below == nil {
		return nil
	}
	return slices.MaxFunc([]*big.Rat{above, below}, (*big.Rat).Cmp)
}

// with is x with another number in one place.
func with(x []*big.Rat, i int, n *big.Rat) []*big.Rat {
	x = slices.Clone(x)
	x[i] = n
	return x
}
