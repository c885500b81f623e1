package quantity

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

var anyUnit = rapid.SampledFrom(Units())

// unitLike draws a unit of u's dimension.
func unitLike(t *rapid.T, u Unit, label string) Unit {
	return anyUnit.Filter(func(o Unit) bool { return Convertible(u, o) }).Draw(t, label)
}

// written draws a quantity in unit u as a shop might write it.
func written(t *rapid.T, u Unit, label string) Quantity {
	d := decimal{
		coefficient: rapid.Int64Range(-99_999, 99_999).Draw(t, label+" digits"),
		places:      rapid.IntRange(0, 5).Draw(t, label+" places"),
	}
	return Quantity{number: d.rat(), places: d.places, unit: u}
}

// size draws a quantity above zero.
func size(t *rapid.T, u Unit, label string) Quantity {
	d := decimal{
		coefficient: rapid.Int64Range(1, 99_999).Draw(t, label+" digits"),
		places:      rapid.IntRange(0, 5).Draw(t, label+" places"),
	}
	return Quantity{number: d.rat(), places: d.places, unit: u}
}

// check stops a property on an error that must not happen.
func check[T any](t *rapid.T, v T, err error) T {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestPropertyPrintAndParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := written(t, anyUnit.Draw(t, "unit"), "value")
		again, err := Parse(q.String())
		if back := check(t, again, err); !back.Equal(q) {
			t.Fatalf("%s read back as %s", q, back)
		}
	})
}

func TestPropertyConversionIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := written(t, anyUnit.Draw(t, "unit"), "value")
		if rapid.Bool().Draw(t, "difference") {
			q = q.AsDifference()
		}
		there, err := q.In(unitLike(t, q.Unit(), "other unit"))
		check(t, there, err)
		back, err := there.In(q.Unit())
		check(t, back, err)
		if back.Rat().Cmp(q.Rat()) != 0 || there.Base().Cmp(q.Base()) != 0 {
			t.Fatalf("%s became %s and then %s", q, there, back)
		}
		order, err := q.Cmp(there)
		if check(t, order, err) != 0 {
			t.Fatalf("%s is not equal to itself as %s", q, there)
		}
	})
}

// A converted value shows the last written digit and at most one digit more.
func TestPropertyConversionKeepsDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := written(t, anyUnit.Draw(t, "unit"), "value")
		there, err := q.In(unitLike(t, q.Unit(), "other unit"))
		check(t, there, err)
		step := func(q Quantity) *big.Rat {
			return new(big.Rat).Mul(big.NewRat(1, pow10[q.Places()]), q.unit.def.factor)
		}
		coarse := step(q)
		if fine := step(there); there.Places() > 0 && there.Places() < maxPlaces {
			if fine.Cmp(coarse) > 0 || new(big.Rat).Mul(fine, big.NewRat(10, 1)).Cmp(coarse) <= 0 {
				t.Fatalf("%s became %s: too many or too few digits", q, there)
			}
		}
	})
}

func TestPropertyCmpIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := written(t, anyUnit.Draw(t, "unit"), "a")
		b := written(t, unitLike(t, a.Unit(), "unit of b"), "b")
		forward, err := a.Cmp(b)
		check(t, forward, err)
		backward, err := b.Cmp(a)
		check(t, backward, err)
		if forward != -backward || forward != a.Base().Cmp(b.Base()) {
			t.Fatalf("%s against %s: %d and %d", a, b, forward, backward)
		}
	})
}

func TestPropertySubUndoesAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := written(t, anyUnit.Draw(t, "unit"), "a")
		b := written(t, unitLike(t, a.Unit(), "unit of b"), "b")
		sum, err := a.Add(b)
		check(t, sum, err)
		back, err := sum.Sub(b.AsDifference())
		check(t, back, err)
		if back.Rat().Cmp(a.Rat()) != 0 || back.IsDifference() != a.IsDifference() {
			t.Fatalf("%s + %s - %s = %s", a, b, b, back)
		}
		gap, err := a.Sub(b)
		check(t, gap, err)
		again, err := b.Add(gap)
		check(t, again, err)
		if order, err := again.Cmp(a); err != nil || order != 0 {
			t.Fatalf("%s + (%s - %s) = %s", b, a, b, again)
		}
	})
}

// ends are the two ends of a limit drawn at random, and its form.
type ends struct {
	kind      LimitKind
	low, high Quantity
}

func drawEnds(t *rapid.T, u Unit) ends {
	e := ends{kind: LimitKind(rapid.IntRange(int(AtLeast), int(Between)).Draw(t, "kind"))}
	e.low = written(t, u, "lower end")
	e.high = check2(t)(e.low.Add(size(t, u, "width")))
	return e
}

// check2 is check for a call that returns a value and an error.
func check2(t *rapid.T) func(Quantity, error) Quantity {
	return func(q Quantity, err error) Quantity { return check(t, q, err) }
}

func (e ends) limit(t *rapid.T) Limit {
	switch e.kind {
	case AtLeast, MoreThan:
		l, err := NewLimit(e.kind, e.low)
		return check(t, l, err)
	case AtMost, LessThan:
		l, err := NewLimit(e.kind, e.high)
		return check(t, l, err)
	}
	l, err := NewRange(e.low, e.high)
	return check(t, l, err)
}

// near draws a value within a few widths of the gauge from an end of the limit,
// so that every verdict comes up.
func near(t *rapid.T, e ends, gauge Quantity) Quantity {
	end := rapid.SampledFrom([]Quantity{e.low, e.high}).Draw(t, "near end")
	tenths := rapid.Int64Range(-30, 30).Draw(t, "tenths of the gauge away")
	away := New(new(big.Rat).Mul(gauge.Rat(), big.NewRat(tenths, 10)), maxPlaces, gauge.Unit())
	return check2(t)(end.Add(away))
}

// The verdict hangs on the value, not on the units of value, gauge or limit.
func TestPropertyVerdictInAnyUnits(t *testing.T) {
	seen := map[Verdict]int{}
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit.Draw(t, "unit")
		e, half := drawEnds(t, u), size(t, u, "gauge")
		value := near(t, e, half)
		g, err := NewGauge(half)
		check(t, g, err)
		want, err := Judge(value, g, e.limit(t))
		check(t, want, err)
		seen[want]++

		in := check2(t)
		e.low, e.high = in(e.low.In(unitLike(t, u, "unit of low"))), in(e.high.In(unitLike(t, u, "unit of high")))
		g, err = NewGauge(in(half.AsDifference().In(unitLike(t, u, "unit of gauge"))))
		check(t, g, err)
		got, err := Judge(in(value.In(unitLike(t, u, "unit of value"))), g, e.limit(t))
		if check(t, got, err) != want {
			t.Fatalf("%s read with %s against %s is %s, in other units %s", value, half, e.limit(t), want, got)
		}
	})
	for _, v := range []Verdict{Inside, Outside, TooClose} {
		if seen[v] == 0 {
			t.Errorf("no case came out %q", v)
		}
	}
}

// A poorer gauge can only move a verdict to "too close to call".
func TestPropertyPoorerGaugeNeverDecides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit.Draw(t, "unit")
		e, fine := drawEnds(t, u), size(t, u, "gauge")
		value := near(t, e, fine)
		coarse := check2(t)(fine.AsDifference().Add(size(t, u, "poorer by")))
		narrow, err := NewGauge(fine)
		check(t, narrow, err)
		wide, err := NewGauge(coarse)
		check(t, wide, err)
		before, err := Judge(value, narrow, e.limit(t))
		check(t, before, err)
		after, err := Judge(value, wide, e.limit(t))
		check(t, after, err)
		if after != before && after != TooClose {
			t.Fatalf("%s against %s: %s read with %s, %s read with %s", value, e.limit(t), before, fine, after, coarse)
		}
	})
}

// Judge against the rule spelled out with bare fractions: acceptance limits
// moved inward by the gauge, rejection limits moved outward by it.
func TestPropertyJudgeIsTheGuardBandRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit.Draw(t, "unit")
		e, half := drawEnds(t, u), size(t, u, "gauge")
		value := near(t, e, half)
		g, err := NewGauge(half)
		check(t, g, err)
		got, err := Judge(value, g, e.limit(t))
		if want := guardBand(e, value.Rat(), half.Rat()); check(t, got, err) != want {
			t.Fatalf("%s read with %s against %s is %s, want %s", value, half, e.limit(t), got, want)
		}
	})
}

func guardBand(e ends, y, u *big.Rat) Verdict {
	minus := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }
	plus := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }
	low, high := e.low.Rat(), e.high.Rat()
	var accepted, rejected bool
	switch e.kind {
	case AtLeast:
		accepted, rejected = y.Cmp(plus(low, u)) >= 0, y.Cmp(minus(low, u)) < 0
	case MoreThan:
		accepted, rejected = y.Cmp(plus(low, u)) > 0, y.Cmp(minus(low, u)) <= 0
	case AtMost:
		accepted, rejected = y.Cmp(minus(high, u)) <= 0, y.Cmp(plus(high, u)) > 0
	case LessThan:
		accepted, rejected = y.Cmp(minus(high, u)) < 0, y.Cmp(plus(high, u)) >= 0
	case Between:
		accepted = y.Cmp(plus(low, u)) >= 0 && y.Cmp(minus(high, u)) <= 0
		rejected = y.Cmp(minus(low, u)) < 0 || y.Cmp(plus(high, u)) > 0
	}
	switch {
	case accepted:
		return Inside
	case rejected:
		return Outside
	}
	return TooClose
}

func TestPropertyLimitPrintAndParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit.Draw(t, "unit")
		l := drawEnds(t, u).limit(t)
		if rapid.Bool().Draw(t, "around") {
			var err error
			l, err = NewTolerance(written(t, u, "nominal"), size(t, unitLike(t, u, "unit of tolerance"), "tolerance"))
			check(t, l, err)
		}
		again, err := ParseLimit(l.String())
		if back := check(t, again, err); !back.Equal(l) {
			t.Fatalf("%s read back as %s", l, back)
		}
	})
}
