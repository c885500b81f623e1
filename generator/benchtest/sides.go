package benchtest

import (
	"math/big"
	"strings"

	"asleft/generator/quantity"
)

// sides are the keys of what readings outside their limit point to, with a
// place {where} for their names. Without a key for a side there is no such
// side to the limits that make sense.
type sides struct{ below, above string }

// Outcomes that are the same in all tests.
const (
	sayInside  = "bench.side.inside"
	sayClose   = "bench.side.close"
	sayNoLimit = "bench.side.none"
	sayOutside = "bench.side.outside"
)

// against judges findings of one sort, draws the first sort against their
// limits, and says once for each outcome which of them it is.
func (b *bench) against(s sides, findings ...finding) {
	first := len(b.out.Results)
	names, order := map[string][]string{}, []string{}
	for _, f := range findings {
		b.find(f)
		key := s.key(*b.last())
		if names[key] == nil {
			order = append(order, key)
		}
		names[key] = append(names[key], b.last().Name)
	}
	if b.out.Drawing == nil {
		b.draw(Whisker, b.out.Results[first:])
	}
	for _, key := range order {
		b.say(key, "where", strings.Join(names[key], "; "))
	}
}

// key is what to say of a result.
func (s sides) key(r Result) string {
	switch r.Verdict {
	case quantity.Inside:
		return sayInside
	case quantity.TooClose:
		return sayClose
	case quantity.NotLimited:
		return sayNoLimit
	}
	if key := s.beyond(r); key != "" {
		return key
	}
	return sayOutside
}

// always is what to say of a result outside its limit, also on a side that the
// test has no sentence for.
func (s sides) always(r Result) string {
	if key := s.beyond(r); key != "" {
		return key
	}
	return sides{below: "bench.other.below", above: "bench.other.above"}.beyond(r)
}

// beyond is the key for the side on which a result lies outside its limit.
func (s sides) beyond(r Result) string {
	if r.below() {
		return s.below
	}
	return s.above
}

// below tells whether a result lies under the low end of its limit, or on one that is
// no part of it.
func (r Result) below() bool {
	low, ok := r.limit.Low()
	return ok && r.Quantity.Base().Cmp(low.Base()) <= 0
}

// belowNothing tells of a share that is less than nothing by more than 1 %, which is more
// than tools and roundings make of none: a count or a reading is wrong then. Common
// practice, no source. Within a limit it proves nothing good, so it is held against none,
// under another name.
func (b *bench) belowNothing() bool {
	r := b.last()
	if r.read().most().Base().Cmp(big.NewRat(-1, 100)) >= 0 {
		return false
	}
	if r.Verdict != quantity.Outside {
		b.unheld(r.What + " below nothing")
	}
	return true
}

// unheld holds the last result against no limit, under that name: what was read proves
// nothing good of what the limit is for.
func (b *bench) unheld(name string) {
	r := b.last()
	*r = Result{
		Name: name, What: name, Where: r.Where, Main: r.Main, AsFound: r.AsFound, Value: r.Value, Quantity: r.Quantity,
		Gauge: r.Gauge, Accuracy: r.Accuracy, Verdict: quantity.NotLimited,
	}
}
