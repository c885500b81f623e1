package quantity

import (
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
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

// Parse reads a number and a unit, such as "0.011 in", "-3 degC" or "60psi".
// The number has at most 18 digits and neither exponent, comma nor fraction.
// The error is a *[ParseError].
func Parse(s string) (Quantity, error) {
	number, name, err := split(s)
	if err != nil {
		return Quantity{}, err
	}
	if name == "" {
		return Quantity{}, malformed(s, "a number and a unit", "add the unit, such as "+number.String()+" psi")
	}
	u, ok := UnitNamed(name)
	if !ok {
		return Quantity{}, unknownUnit(s, name)
	}
	return number.quantity(u), nil
}

// decimal is a number as written: coefficient / 10^places.
type decimal struct {
	coefficient int64
	places      int
}

func (d decimal) rat() *big.Rat { return big.NewRat(d.coefficient, pow10[d.places]) }

func (d decimal) quantity(u Unit) Quantity {
	return Quantity{number: d.rat(), places: d.places, unit: u}
}

func (d decimal) String() string { return format(d.rat(), d.places) }

// split reads the number at the head of s and returns what follows it, trimmed.
func split(s string) (decimal, string, error) {
	text := strings.TrimSpace(s)
	if text == "" {
		return decimal{}, "", malformed(s, "a number and a unit", "write it like 60 psi")
	}
	if len(text) > maxText {
		return decimal{}, "", malformed(s, "a number and a unit", "that is too long to be one; write it like 60 psi")
	}
	d, n, digits := scan(text)
	rest := text[n:]
	if err := misread(s, text, rest, digits); err != nil {
		return decimal{}, "", err
	}
	return d, strings.TrimSpace(rest), nil
}

// scan reads sign, digits, point and digits from the head of text. It returns
// the number, the bytes it took and how many digits count towards maxDigits;
// -1 when there is no digit at all. A point without digits after it is not taken.
func scan(text string) (d decimal, n, digits int) {
	negative := false
	switch {
	case text[0] == '-' || text[0] == '+':
		negative, n = text[0] == '-', 1
	case strings.HasPrefix(text, "\u2212"): // minus sign
		negative, n = true, len("\u2212")
	}
	start, point := n, -1
	for ; n < len(text); n++ {
		c := text[n]
		if c == '.' && point < 0 && n+1 < len(text) && isDigit(text[n+1]) {
			point = n
			continue
		}
		if !isDigit(c) {
			break
		}
		if digits > 0 || c != '0' || point >= 0 {
			digits++
		}
		if digits <= maxDigits {
			d.coefficient = 10*d.coefficient + int64(c-'0')
		}
	}
	if n == start {
		return decimal{}, 0, -1
	}
	if point >= 0 {
		d.places = n - point - 1
	}
	if negative {
		d.coefficient = -d.coefficient
	}
	return d, n, digits
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// misread explains the usual ways in which a number is not one; nil when the
// number is sound.
func misread(s, text, rest string, digits int) error {
	const number = "a plain number with a decimal point"
	next, _ := utf8.DecodeRuneInString(rest)
	switch {
	case digits < 0 && strings.ContainsRune("+-\u2212", next) && len(rest) > 1 && unicode.IsSpace(rune(rest[1])):
		return malformed(s, "a number and a unit", "leave no space between the sign and the number")
	case digits < 0:
		return malformed(s, "a number and a unit", "begin with the number, like 60 psi")
	case digits > maxDigits:
		return malformed(s, "a number of at most 18 digits", "round it to what the tool can read")
	case rest == "":
		return nil
	case next == ',':
		return malformed(s, number, "write 1250, not 1,250, and 0.5, not 0,5")
	case next == '.':
		return malformed(s, number, "put digits after the point, or leave the point out")
	case next == '/':
		return malformed(s, number, "write a fraction as a decimal, such as 0.5 for 1/2")
	case (next == 'e' || next == 'E') && len(rest) > 1 && (isDigit(rest[1]) || rest[1] == '+' || rest[1] == '-'):
		return malformed(s, number, "write the number out in full, such as 1000 for 1e3")
	}
	return secondNumber(s, strings.TrimSpace(rest))
}

// secondNumber rejects a second number where the unit should be.
func secondNumber(s, rest string) error {
	switch {
	case rest == "" || !isDigit(rest[0]):
		return nil
	case strings.Contains(rest, "/"):
		return malformed(s, "one number and a unit", "write a fraction as a decimal, such as 3.5 for 3 1/2")
	}
	return malformed(s, "one number and a unit", "leave out the second number")
}
