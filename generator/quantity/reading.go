package quantity

import "math/big"

// Reading is what a gauge showed, as exactly as it was written: a plain value
// ("60 psi"), one that is about right ("about 60 psi"), a range ("60 to 70
// psi"), an open one ("> 550 Mohm", "< 0.1 V"), or OL. The zero Reading stands
// for "not given".
//
// OL is what a meter shows when there is nothing it can read: an open circuit,
// or more than its range. Its dimension is not known. It counts as above every
// limit of a resistance, and decides nothing against a limit of anything else.
type Reading struct {
	form      readingForm
	low, high Quantity // the ends; both the value itself when there is just one
}

type readingForm uint8

const (
	noReading readingForm = iota
	plainReading
	aboutReading
	rangeReading
	aboveReading   // > 550 Mohm
	atLeastReading // >= 550 Mohm
	belowReading   // < 0.1 V
	atMostReading  // <= 0.1 V
	openReading    // OL
)

// openText is how a reading without a value is written.
const openText = "OL"

var readingSigns = [...]string{
	plainReading: "", aboutReading: "about ", aboveReading: "> ", atLeastReading: "\u2265 ",
	belowReading: "< ", atMostReading: "\u2264 ",
}

// ReadingOf returns the plain reading of q; the zero Reading when q is not given.
func ReadingOf(q Quantity) Reading { return readingWith(plainReading, q) }

// OpenReading returns the reading of more than q, or of less; with its end, of q too:
// "> 3 s", "≥ 3 s". It is the zero Reading when q is not given.
func OpenReading(q Quantity, above, withEnd bool) Reading {
	switch {
	case above && withEnd:
		return readingWith(atLeastReading, q)
	case above:
		return readingWith(aboveReading, q)
	case withEnd:
		return readingWith(atMostReading, q)
	}
	return readingWith(belowReading, q)
}

// readingWith builds a reading that names one value.
func readingWith(form readingForm, q Quantity) Reading {
	if q.IsZero() {
		return Reading{}
	}
	return Reading{form: form, low: q, high: q}
}

// IsZero reports whether no reading was given. It is false for 0 psi and OL.
func (r Reading) IsZero() bool { return r.form == noReading }

// IsAbout reports whether the value is only about right.
func (r Reading) IsAbout() bool { return r.form == aboutReading }

// IsOpen reports whether the reading is OL.
func (r Reading) IsOpen() bool { return r.form == openReading }

// WithEnd reports whether the reading is open and may be the value that it names: "≥ 3
// s" may be 3 s, which "> 3 s" is not.
func (r Reading) WithEnd() bool { return r.form == atLeastReading || r.form == atMostReading }

// Plain returns the value of a plain reading; false for every other form.
func (r Reading) Plain() (Quantity, bool) {
	if r.form != plainReading {
		return Quantity{}, false
	}
	return r.low, true
}

// Dimension returns what the reading measures; None when not given and for OL.
func (r Reading) Dimension() Dimension { return r.low.Dimension() }

// Bounds returns the least and the greatest value that the reading may stand
// for. An end that nothing bounds is the zero Quantity and open: "> 550 Mohm"
// has an open high end, OL has two. Of "about 60 psi" both ends are 60 psi, for
// how far off it may be is not known.
func (r Reading) Bounds() (low, high Quantity, lowOpen, highOpen bool) {
	low, high = r.low, r.high
	switch r.form {
	case aboveReading, atLeastReading:
		return low, Quantity{}, false, true
	case belowReading, atMostReading:
		return Quantity{}, high, true, false
	case openReading:
		return Quantity{}, Quantity{}, true, true
	}
	return low, high, false, false
}

// AsDifference returns r taken as a difference, as [Quantity.AsDifference] does.
func (r Reading) AsDifference() Reading {
	r.low, r.high = r.low.AsDifference(), r.high.AsDifference()
	return r
}

// Times returns the reading with its ends times a factor above zero, printed with
// the given decimals; OL stays OL.
func (r Reading) Times(factor *big.Rat, places int) Reading {
	r.low, r.high = r.low.scaled(factor, places), r.high.scaled(factor, places)
	return r
}

// Equal reports whether both readings would be written alike.
func (r Reading) Equal(o Reading) bool {
	return r.form == o.form && r.low.Equal(o.low) && r.high.Equal(o.high)
}

// String prints the reading as it was written, its signs as signs: "about 60
// psi", "60 to 70 psi", "> 550 Mohm", "≥ 60 psi", "OL"; "" when not given.
func (r Reading) String() string {
	switch r.form {
	case noReading:
		return ""
	case openReading:
		return openText
	case rangeReading:
		if r.low.unit == r.high.unit && r.low.upper.def == nil && r.high.upper.def == nil {
			return r.low.numeral() + " to " + r.high.String()
		}
		return r.low.String() + " to " + r.high.String()
	}
	return readingSigns[r.form] + r.low.String()
}
