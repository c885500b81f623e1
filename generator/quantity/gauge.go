package quantity

import (
	"math/big"
	"strings"
)

// Gauge is the accuracy of the tool that took a reading, as its maker gives it (no
// expanded uncertainty): how far the true value may lie from what the tool showed.
// It is a quantity ("0.001 in"), a part of the reading ("2 %") or of how far the scale
// goes ("5 % of 300 psi"), which is a quantity too. The zero Gauge stands for "not
// recorded".
type Gauge struct {
	size      Quantity
	ofReading bool     // written out as "2 % of reading"
	part, of  Quantity // of "5 % of 300 psi", as it was written
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

// ParseGauge reads "0.001 in", "2 %", "2 % of reading" or "5 % of 300 psi", with or
// without ± (also +- or +/-) in front. The error is a *[ParseError].
func ParseGauge(s string) (Gauge, error) {
	text := strings.TrimSpace(s)
	for _, sign := range plusMinus {
		if rest, ok := strings.CutPrefix(text, sign); ok {
			text = strings.TrimSpace(rest)
			break
		}
	}
	text, relative := cutOfReading(text)
	if part, scale, ok := strings.Cut(text, "% of "); ok && !relative {
		return gaugeOfScale(s, part+"%", scale)
	}
	if say := addedUp(text); say != "" {
		return Gauge{}, malformed(s, "one accuracy", say)
	}
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

// gaugeOfScale reads an accuracy that is a part of how far the scale goes.
func gaugeOfScale(s, part, scale string) (Gauge, error) {
	p, err := Parse(part)
	if err != nil {
		return Gauge{}, within(s, err)
	}
	top, err := Parse(scale)
	if err != nil || top.unit == Percent {
		return Gauge{}, malformed(s, "how far the scale goes, after of", "write it like 5 % of 300 psi")
	}
	if top.Dimension() == Temperature {
		return Gauge{}, malformed(s, "the accuracy in degrees", "write it like 2 degC")
	}
	g, err := NewGauge(percentOf(top, p))
	if err != nil {
		return Gauge{}, within(s, err)
	}
	g.part, g.of = p, top
	return g, nil
}

// addedUp is how to write the accuracy of a meter that gives it as a part of the reading
// and so many of the last digit; empty for any other. The digits may be most of it.
func addedUp(text string) string {
	for _, word := range strings.Fields(strings.ToLower(text)) {
		switch strings.Trim(word, ".,;()") {
		case "digit", "digits", "dgt", "dgts", "count", "counts", "lsd":
			return "add both up for this reading: 0.5 % + 2 digits at 12.6 V is 0.063 V and 0.2 V, so write 0.27 V"
		}
	}
	return ""
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
func (g Gauge) Equal(o Gauge) bool {
	return g.ofReading == o.ofReading && g.size.Equal(o.size) && g.part.Equal(o.part) && g.of.Equal(o.of)
}

// String prints the gauge as it was written, such as "0.001 in" or "2 %".
func (g Gauge) String() string {
	if !g.of.IsZero() {
		return g.part.String() + " of " + g.of.String()
	}
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

// Times returns the gauge for a reading that was multiplied by a factor above zero; a
// percentage stays as it is.
func (g Gauge) Times(factor *big.Rat, places int) Gauge {
	if g.IsZero() || g.size.unit == Percent {
		return g
	}
	return Gauge{size: g.size.scaled(factor, places)}
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
