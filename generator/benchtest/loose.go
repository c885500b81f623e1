package benchtest

import (
	"math/big"
	"slices"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// Readings need not be one plain value: "about 60 psi", "60 to 70 psi", "> 550
// Mohm". A range is its middle, as far off as its ends may be, each by what the tool may
// be off there. One that is open at an end stays open through the sums, and so does one
// that is only about right.

// openness is on which side nothing bounds a reading.
type openness int8

const (
	closed    openness = 0
	openAbove openness = 1  // > 550 Mohm
	openBelow openness = -1 // < 0.1 V
)

// readLoose reads a value that is no plain quantity.
func (b *bench) readLoose(t input, in logbook.Input) value {
	r, err := quantity.ParseReadingAs(in.Text, t.of)
	v := value{word: r.String()}
	low, high, lowOpen, highOpen := r.Bounds()
	switch {
	case err != nil:
		b.unread(t, in, "problem.bench-quantity", err)
		return v
	case r.IsOpen() && !t.mayBeOpen:
		b.wrong(t, in, "problem.bench-ol")
		return v
	case r.IsOpen():
		v.broken = true
		return v
	case highOpen:
		v.quantity, v.open, v.ended = low, openAbove, r.WithEnd()
	case lowOpen:
		low = high
		v.quantity, v.open, v.ended = high, openBelow, r.WithEnd()
	case r.IsAbout():
		v.quantity, v.about = low, true
	default:
		v.quantity, v.half = middle(low, high)
	}
	b.fits(t, in, low)
	return v
}

// middle is the middle of a range and half its width, if it has any, in the unit of
// its low end.
func middle(low, high quantity.Quantity) (mid, half quantity.Quantity) {
	u, places := low.Unit(), max(low.Places(), high.Places())+1
	sum := new(big.Rat).Add(low.Base(), high.Base())
	mid = short(quantity.FromBase(sum.Quo(sum, big.NewRat(2, 1)), places, u))
	if width := minus(mid.Rat(), low.Rat()); width.Sign() > 0 {
		half = short(quantity.New(width, places, u).AsDifference())
	}
	return mid, half
}

// readingOf is a value with the accuracy of the tool that read it, and with all
// that its form leaves open.
func (b *bench) readingOf(v value, g quantity.Gauge) reading {
	r := reading{Quantity: v.quantity, gauge: g, about: v.about, open: v.open, ended: v.ended}
	if v.about || v.open != closed || !v.half.IsZero() {
		r.text = v.word
	}
	if v.half.IsZero() {
		return r
	}
	r.between = true
	_, high, err := g.Interval(sure(v.quantity.Add(v.half)))
	high = sure(high, err)
	low, _, err := g.Interval(sure(v.quantity.Sub(v.half)))
	low = sure(low, err)
	off := slices.MaxFunc([]*big.Rat{minus(high.Rat(), v.quantity.Rat()), minus(v.quantity.Rat(), low.Rat())}, (*big.Rat).Cmp)
	r.gauge = sure(quantity.NewGauge(quantity.New(off, v.half.Places(), v.quantity.Unit())))
	return r
}

// ends are how a reading is shown: the two ends of a range, or itself.
func (r reading) ends() []string {
	if r.between {
		return []string{r.least().String(), r.most().String()}
	}
	return []string{r.String()}
}

// least and most are the ends of what a reading may stand for by its tool.
func (r reading) least() quantity.Quantity {
	low, _, err := r.gauge.Interval(r.Quantity)
	return sure(low, err)
}

func (r reading) most() quantity.Quantity {
	_, high, err := r.gauge.Interval(r.Quantity)
	return sure(high, err)
}

// String is a reading as it is shown: as it was written, where it is no plain value.
func (r reading) String() string {
	if r.text != "" {
		return r.text
	}
	return r.Quantity.String()
}

// unbounded tells of a reading that is about right, with nothing to say by how much.
func (r reading) unbounded() bool { return r.vague || r.about && r.gauge.IsZero() }

// judged is the verdict on a reading of any form.
func (r reading) judged(limit quantity.Limit) quantity.Verdict {
	switch {
	case r.unbounded():
		return quantity.TooClose
	case r.open != closed:
		return sure(quantity.JudgeReading(quantity.OpenReading(r.Quantity, r.open == openAbove, r.ended), r.gauge, limit))
	}
	return sure(quantity.Judge(r.Quantity, r.gauge, limit))
}

// opens is how the readings' forms show in what a formula makes of them: a reading
// that is open upward opens the result on the side to which it moves it. Where two
// pull apart, the result is only about right. It ends in its value, as ">= 3 s" does,
// where all that open it do, or where a table has ended there and goes on beyond.
func opens(middle *big.Rat, formula func(x []*big.Rat) *big.Rat, x []*big.Rat, of []reading) (open openness, ended, about bool) {
	ended = true
	for i, r := range of {
		about = about || r.about
		if r.open == closed {
			continue
		}
		side, reached := closed, r.ended
		for n, by := range farther {
			moved := formula(with(x, i, beyond(x[i], r.open, by)))
			if moved == nil && n == 0 {
				return closed, false, true
			}
			if moved != nil && moved.Cmp(middle) != 0 {
				side, reached = openness(moved.Cmp(middle)), reached || n > 0
				break
			}
		}
		if side == closed {
			continue
		}
		if open != closed && side != open {
			return closed, false, true
		}
		open, ended = side, ended && reached
	}
	return open, ended && open != closed, about
}

// farther is how many times an open reading may be what it names, or a part of it: a
// table that has ended there may be read a long way off.
var farther = []*big.Rat{big.NewRat(1001, 1000), big.NewRat(2, 1), big.NewRat(1000, 1)}

// beyond is a number by so much farther on the open side of a reading.
func beyond(x *big.Rat, open openness, by *big.Rat) *big.Rat {
	if x.Sign() == 0 {
		return times(minus(by, big.NewRat(1, 1)), big.NewRat(int64(open), 1))
	}
	if (open == openAbove) != (x.Sign() > 0) {
		by = new(big.Rat).Inv(by)
	}
	return times(x, by)
}

// mark gives a result the text that shows what its readings leave open; none where
// they leave nothing.
func (r *reading) mark() {
	if r.text = r.marked(r.Quantity.String()); r.text == r.Quantity.String() {
		r.text = ""
	}
}

// marked is a result's value as its openness has it: "> 177 Mohm".
func (r reading) marked(value string) string {
	signs := map[openness]string{openAbove: "> ", openBelow: "< "}
	if r.ended {
		signs = map[openness]string{openAbove: "\u2265 ", openBelow: "\u2264 "}
	}
	switch {
	case r.open != closed:
		return signs[r.open] + value
	case r.about:
		return "about " + value
	}
	return value
}

// doubtLoose takes back what was judged by a reading that a sum took as exact
// though the log does not have it so.
func (b *bench) doubtLoose() {
	doubt := false
	for name, v := range b.given {
		for _, v := range append([]value{v}, v.items...) {
			doubt = doubt || !b.asRead[name] && (v.about || v.open != closed || !v.half.IsZero())
		}
	}
	if !doubt {
		return
	}
	for i := range b.out.Results {
		if r := &b.out.Results[i]; r.Limit != "" {
			r.Verdict = quantity.TooClose
		}
	}
	b.out.Says = []string{b.words.Say("bench.other.doubt")}
}

// findOpen adds a result of OL where there has to be a path: that lies outside any
// limit, also one that has no high end.
func (b *bench) findOpen(f finding) {
	f.value = reading{Quantity: quantity.New(new(big.Rat), 0, quantity.Ohm)} // for its dimension alone
	r := Result{Name: b.name(f), What: f.what, Where: b.test.Where, Main: f.main, Value: "OL", Verdict: quantity.NotLimited}
	for _, l := range b.limitsFor(f) {
		r.Limit, r.Source, r.limit, r.Verdict = l.limit.String(), l.source, l.limit, quantity.Outside
		r.held(l)
	}
	b.out.Results = append(b.out.Results, r)
}
