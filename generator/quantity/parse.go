package quantity

import (
	"strings"
)

const (
	maxText   = 64 // bytes of a written quantity
	maxDigits = 18 // digits of a number, leading zeros not counted; fits an int64
	maxPlaces = maxDigits
)

var pow10 = func() (p [maxDigits + 1]int64) {
	p[0] = 1
	for i := 1; i < len(p); i++ {
		p[i] = 10 * p[i-1]
	}
	return p
}()

// Parse reads a number and a unit, such as "0.011 in", "-3 degC", "60psi",
// "1-3/8 in", `5' 3"`, "50:1" or "68 F". The number has at most 18 digits and
// neither exponent nor comma. The error is a *[ParseError].
func Parse(s string) (Quantity, error) { return parse(s, field{}) }

// ParseAs is [Parse] for a field that takes only the given dimensions. What it
// says of a mistake then fits the field: a number without a unit is told with a
// unit that the field could take, and no other is proposed. K is read as kelvin
// only where a temperature is wanted and a resistance is not.
func ParseAs(s string, want ...Dimension) (Quantity, error) { return parse(s, field{dims: want}) }

// ParseLike is [ParseAs] for a field that takes what is measured in the given
// units, and in which those are the usual ones: an odometer's are mi and km.
func ParseLike(s string, like ...Unit) (Quantity, error) { return parse(s, fieldLike(like)) }

func parse(s string, want field) (Quantity, error) {
	n, name, err := split(s, want)
	if err != nil {
		return Quantity{}, err
	}
	if name == "" {
		return Quantity{}, unitMissing(s, n, want)
	}
	q, err := compose(s, n, name, want)
	if err != nil {
		return Quantity{}, err
	}
	if !want.takes(q.Dimension()) {
		return Quantity{}, otherKind(s, q, want)
	}
	return q, nil
}

// split reads the number at the head of s and returns what follows it, trimmed.
func split(s string, want field) (number, string, error) {
	text := strings.TrimSpace(s)
	if text == "" {
		return number{}, "", malformed(s, want.kinds(), "write it like "+want.example())
	}
	if len(text) > maxText {
		return number{}, "", malformed(s, want.kinds(), "that is too long to be one; write it like "+want.example())
	}
	n, rest, err := head(s, spelledOut(text), want)
	return n, strings.TrimSpace(rest), err
}

// compose makes a quantity of a number and what was written behind it.
func compose(s string, n number, name string, want field) (Quantity, error) {
	if u, ok := UnitNamed(name); ok {
		return n.of(s, u)
	}
	if name == "K" && want.named(Temperature) && !want.named(Resistance) {
		return n.of(s, Kelvin)
	}
	if ratio, ok := strings.CutPrefix(name, ":"); ok {
		return toOne(s, n, ratio)
	}
	if q, ok, err := compound(s, n, name); ok || err != nil {
		return q, err
	}
	return Quantity{}, unknownUnit(s, n, name, want)
}

// toOne reads what stands behind the colon of a ratio.
func toOne(s string, n number, other string) (Quantity, error) {
	if strings.TrimSpace(other) == "1" {
		return n.of(s, ToOne)
	}
	return Quantity{}, malformed(s, "a number and a unit", "write a ratio as a number to 1, such as 50:1, and a time in h or min")
}

// smaller is the unit in which the rest is given behind whole units: feet and
// inches, hours and minutes, pounds and ounces.
var smaller = map[Unit]Unit{Foot: Inch, Hour: Minute, Minute: Second, Pound: Ounce}

// compound reads a number behind which stand a unit, a second number and a
// smaller unit, such as `5' 3"`. Inches may leave out their mark behind feet.
func compound(s string, first number, rest string) (Quantity, bool, error) {
	at := secondAt(rest)
	if at <= 0 {
		return Quantity{}, false, nil
	}
	upper, ok := UnitNamed(strings.TrimRight(rest[:at], " \t-,"))
	lower, has := smaller[upper]
	if !ok || !has {
		return Quantity{}, false, nil
	}
	second, name, err := head(s, rest[at:], field{})
	if err != nil {
		return Quantity{}, false, err
	}
	name = strings.TrimSpace(name)
	if u, ok := UnitNamed(name); !(ok && u == lower) && !(name == "" && upper == Foot) {
		return Quantity{}, false, nil
	}
	return joined(s, first, second, upper, lower)
}

// secondAt finds where the second number begins, with its point when it begins
// with one that does not end an abbreviation.
func secondAt(rest string) int {
	at := strings.IndexFunc(rest, func(r rune) bool { return '0' <= r && r <= '9' })
	if at > 1 && rest[at-1] == '.' && (rest[at-2] == ' ' || rest[at-2] == '\'') {
		return at - 1
	}
	return at
}

// joined adds up whole units and a rest in a smaller unit.
func joined(s string, first, second number, upper, lower Unit) (Quantity, bool, error) {
	ratio := upper.in(lower)
	q, err := second.of(s, lower)
	if err != nil {
		return Quantity{}, false, err
	}
	q.number = addTo(first, ratio, q.number)
	switch {
	case !first.whole():
		return Quantity{}, false, malformed(s, "whole "+upper.Symbol()+" before the "+lower.Symbol(), "give it in one unit, such as 5.25 "+upper.Symbol())
	case second.value.Cmp(ratio) >= 0:
		return Quantity{}, false, malformed(s, "less than "+ratio.RatString()+" "+lower.Symbol()+" behind the "+upper.Symbol(), "give it in one unit, such as "+q.String())
	}
	q.upper = upper
	return q, true, nil
}
