package quantity

import (
	"errors"
	"math/big"
	"strings"
	"unicode/utf8"
)

const limitForms = "a limit like >= 60 psi, <= 0.2 V, 0.004 in to 0.006 in or 3600 rpm +- 50 rpm"

// signs lists the written signs, longer ones before their beginnings.
var signs = []struct {
	text string
	kind LimitKind
}{
	{">=", AtLeast}, {"\u2265", AtLeast}, {">", MoreThan},
	{"<=", AtMost}, {"\u2264", AtMost}, {"<", LessThan},
}

// plusMinus lists the written signs of a tolerance.
var plusMinus = []string{"+-", "\u00b1", "+/-"}

// ParseLimit reads a limit: ">= 60 psi", "> ", "<= ", "< ", "0.004 in to
// 0.006 in", "3600 rpm +- 50 rpm" (also with the sign ± or +/-), "240 V +- 5 %"
// of the nominal. A range or tolerance may give its unit once. The error is a
// *[ParseError] or a *[MismatchError].
func ParseLimit(s string) (Limit, error) {
	text := strings.TrimSpace(s)
	if len(text) > 2*maxText {
		return Limit{}, malformed(s, limitForms, "that is too long to be one")
	}
	for _, sign := range signs {
		if end, ok := strings.CutPrefix(text, sign.text); ok {
			q, err := Parse(end)
			if err != nil {
				return Limit{}, within(s, err)
			}
			return NewLimit(sign.kind, q)
		}
	}
	for _, sign := range plusMinus {
		if nominal, tolerance, ok := strings.Cut(text, sign); ok {
			return parseTolerance(s, nominal, tolerance)
		}
	}
	if low, high, ok := cutWord(text, "to"); ok {
		return parseRangeLimit(s, low, high)
	}
	if low, high, ok := cutDash(text); ok {
		return parseRangeLimit(s, low, high)
	}
	return Limit{}, notALimit(s, text)
}

func parseRangeLimit(s, low, high string) (Limit, error) {
	a, b, err := pair(s, low, high, field{})
	if err != nil {
		return Limit{}, err
	}
	return NewRange(a, b)
}

// parseTolerance reads the two sides of a +- sign.
func parseTolerance(s, nominal, tolerance string) (Limit, error) {
	if _, name, err := split(nominal, field{}); err == nil && name == "" {
		if q, err := Parse(tolerance); err == nil && q.unit == Percent {
			return Limit{}, malformed(s, "a unit after the first number", "write it like 3600 rpm +- 2 %")
		}
	}
	a, b, err := pair(s, nominal, tolerance, field{})
	if err != nil {
		return Limit{}, err
	}
	return NewTolerance(a, b)
}

// pair reads two quantities, of which one may leave its unit to the other.
func pair(s, first, second string, want field) (a, b Quantity, err error) {
	x, xName, err := split(first, want)
	if err != nil {
		return a, b, within(s, err)
	}
	y, yName, err := split(second, want)
	if err != nil {
		return a, b, within(s, err)
	}
	if xName == "" && yName == "" {
		return a, b, unitMissing(s, y, want)
	}
	if a, err = composeOr(s, x, xName, yName, want); err != nil {
		return a, b, err
	}
	b, err = composeOr(s, y, yName, xName, want)
	return a, b, err
}

// composeOr is compose for an end that may leave its unit to the other end.
func composeOr(s string, n number, name, other string, want field) (Quantity, error) {
	if name != "" {
		return compose(s, n, name, want)
	}
	if secondAt(other) >= 0 && !strings.HasPrefix(other, ":") {
		if _, ok := UnitNamed(other); !ok {
			return Quantity{}, malformed(s, "a unit behind both numbers", "give both ends with their units, such as 5 ft 3 in to 5 ft 4 in")
		}
	}
	return compose(s, n, other, want)
}

// within widens an error about a part of s so that it shows the whole of s.
func within(s string, err error) error {
	var e *ParseError
	if errors.As(err, &e) {
		return malformed(s, e.Expected, e.Mend)
	}
	return err
}

// cutWord cuts text around a word that stands between spaces.
func cutWord(text, word string) (before, after string, ok bool) {
	for i := 0; ; {
		at := strings.Index(text[i:], word)
		if at < 0 {
			return "", "", false
		}
		before, after = text[:i+at], text[i+at+len(word):]
		if strings.TrimSpace(before) != before && strings.TrimSpace(after) != after {
			return before, after, true
		}
		i += at + len(word)
	}
}

// notALimit explains text that has none of the forms.
func notALimit(s, text string) error {
	if q, err := Parse(text); err == nil {
		return malformed(s, limitForms, sayHow(q))
	}
	if strings.HasPrefix(text, "=") {
		return malformed(s, limitForms, "put the = after the sign, like >= or <=")
	}
	return malformed(s, limitForms, "write it in one of these forms")
}

// sayHow says how a value alone becomes a limit: one to be kept to, such as a gap, with
// how far off it may be, or one that is an end. A twentieth, in one figure, shows the
// form; how much it really is, its source says.
func sayHow(q Quantity) string {
	sides := "on which side: >= " + q.String() + " or <= " + q.String()
	if q.number.Sign() == 0 {
		return "say " + sides
	}
	off := percentOf(q, New(big.NewRat(5, 1), 0, Percent))
	places, most := 0, big.NewRat(1, 1)
	for ; off.number.Cmp(most) < 0 && places < maxPlaces; places++ {
		most = new(big.Rat).Quo(most, big.NewRat(10, 1))
	}
	return "say how far off it may be, like " + q.String() + " +- " + off.WithPlaces(places).String() + ", or " + sides
}

// cutDash cuts a range written with a dash, such as "60-70 psi". The dash of a
// fraction (1-3/8 in) is none, nor is one between a fraction and a whole number,
// which is a thread (1/4-20).
func cutDash(text string) (low, high string, ok bool) {
	if _, err := Parse(text); err == nil {
		return "", "", false
	}
	for i, r := range text {
		if i == 0 || !strings.ContainsRune("-\u2013\u2014", r) {
			continue
		}
		low, high = text[:i], text[i+utf8.RuneLen(r):]
		_, lowName, err := split(low, field{})
		if err != nil || strings.Contains(low, "/") != strings.Contains(high, "/") {
			continue
		}
		if _, known := UnitNamed(lowName); lowName != "" && !known {
			continue
		}
		_, highName, err := split(high, field{})
		if _, wrong := Parse(high); wrong == nil || err == nil && highName == "" {
			return low, high, true
		}
	}
	return "", "", false
}
