package quantity

import "strings"

// Gauge is the accuracy of the tool that took a reading, as its maker gives it (no
// expanded uncertainty): how far the true value may lie from what the tool showed.
// It is a quantity ("0.001 in") or a part of the reading ("2 %"). The zero Gauge
// stands for "not recorded".
type Gauge struct {
	size      Quantity
	ofReading bool // written out as "2 % of reading"
}

const ofReading = "of reading"

// NewGauge returns the gauge for an uncertainty that is above zero. One in % is
// of the reading, but in percentage points when the reading itself is in %. The
// error is [ErrNothing] or a *[ParseError].
func NewGauge(size Quantity) (Gauge, error) {
	switch {
	case size.IsZero():
		return Gauge{}, ErrNothing
	case size.Sign() <= 0:
		return Gauge{}, malformed(size.String(), "an accuracy above zero", "leave the gauge out if its accuracy is not known")
	}
	return Gauge{size: size.AsDifference()}, nil
}

// ParseGauge reads "0.001 in", "2 %" or "2 % of reading", with or without ±
// (also +- or +/-) in front. The error is a *[ParseError].
func ParseGauge(s string) (Gauge, error) {
	text := strings.TrimSpace(s)
	for _, sign := range plusMinus {
		if rest, ok := strings.CutPrefix(text, sign); ok {
			text = strings.TrimSpace(rest)
			break
		}
	}
	text, relative := cutOfReading(text)
	q, err := Parse(text)
	if err != nil {
		return Gauge{}, within(s, err)
	}
	if relative && q.unit != Percent {
		return Gauge{}, malformed(s, "a percentage before "+ofReading, "write it like 2 % of reading, or leave those words out")
	}
	g, err := NewGauge(q)
	g.ofReading = relative
	return g, err
}

func cutOfReading(text string) (string, bool) {
	for _, end := range []string{ofReading, "of the reading"} {
		if rest, ok := strings.CutSuffix(text, end); ok {
			return strings.TrimSpace(rest), true
		}
	}
	return text, false
}

// IsZero reports whether the gauge's accuracy was not recorded.
func (g Gauge) IsZero() bool { return g.size.IsZero() }

// Size returns the uncertainty as written; a percentage for a part of the reading.
func (g Gauge) Size() Quantity { return g.size }

// Equal reports whether both gauges would be written alike.
func (g Gauge) Equal(o Gauge) bool { return g.ofReading == o.ofReading && g.size.Equal(o.size) }

// String prints the gauge as it was written, such as "0.001 in" or "2 %".
func (g Gauge) String() string {
	if g.ofReading {
		return g.size.String() + " " + ofReading
	}
	return g.size.String()
}

// Interval returns the least and the greatest value that the reading q may
// stand for, both in q's unit; without gauge, q and q. A percentage of a
// temperature is refused, since it would depend on the scale. The error is
// [ErrNothing], a *[MismatchError] or a *[ParseError].
func (g Gauge) Interval(q Quantity) (low, high Quantity, err error) {
	if q.IsZero() {
		return low, high, ErrNothing
	}
	if g.IsZero() {
		return q, q, nil
	}
	half, err := g.half(q)
	if err != nil {
		return low, high, err
	}
	if high, err = q.Add(half); err != nil {
		return low, high, err
	}
	low, err = q.Sub(half)
	return low, high, err
}

// half returns the half width of the interval around q.
func (g Gauge) half(q Quantity) (Quantity, error) {
	switch {
	case g.size.unit != Percent:
		if g.size.Dimension() != q.Dimension() {
			return Quantity{}, &MismatchError{Read: "the gauge's " + g.String(), Have: g.size.Dimension(), With: "the reading " + q.String(), Want: q.Dimension()}
		}
		return g.size, nil
	case q.unit == Percent && !g.ofReading:
		return g.size, nil
	case q.Dimension() == Temperature:
		return Quantity{}, malformed(g.String(), "the accuracy in degrees", "write it like 2 degC")
	}
	return percentOf(q, g.size), nil
}
