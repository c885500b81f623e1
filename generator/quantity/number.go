package quantity

import (
	"math/big"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// decimal is a number as written: coefficient / 10^places.
type decimal struct {
	coefficient int64
	places      int
}

func (d decimal) rat() *big.Rat { return big.NewRat(d.coefficient, pow10[d.places]) }

// number is a number as written: a decimal, or a fraction with or without a
// whole number before it.
type number struct {
	value    *big.Rat
	places   int
	top      int64 // of a fraction
	over     int64 // below the stroke of a fraction; 0 for none
	mixed    bool  // a whole number stands before the fraction
	negative bool
	wire     bool // written over 0, as thick wires are: 2/0
	zeros    int  // how many zeros it is when it is nothing else, as 00 for 2/0
}

func (n number) String() string {
	return Quantity{number: n.value, places: n.places, over: n.over}.numeral()
}

// whole reports whether n was written without decimals and without a fraction.
func (n number) whole() bool { return n.places == 0 && n.over == 0 && !n.wire }

// of gives n its unit. A fraction has to be one that people write for such a
// unit, so that "12/24 V" is not taken for half a volt.
func (n number) of(s string, u Unit) (Quantity, error) {
	switch {
	case n.wire && u != WireGauge:
		return Quantity{}, malformed(s, fractionForm, "write a number other than 0 below the stroke")
	case n.wire && n.top < 1:
		return Quantity{}, malformed(s, "a wire like 2/0 AWG", "write 1/0 AWG")
	case n.over != 0 && !n.usual(u):
		return Quantity{}, malformed(s, fractionForm, "if these are two values, write the one that was read; write other fractions as decimals")
	case u == WireGauge && n.over != 0:
		return Quantity{}, malformed(s, "a wire like 14 AWG or 2/0 AWG", "leave out the fraction")
	}
	q := Quantity{number: n.value, places: n.places, over: n.over, unit: u}
	if u == WireGauge && n.zeros > 1 {
		q.number = big.NewRat(int64(1-n.zeros), 1)
	}
	if q.number.IsInt() && q.over != 0 { // 8/8 in
		q.places, q.over = 0, 0
	}
	return q, nil
}

const fractionForm = "a number with a fraction like 1/2, 3/64 or 1-3/8"

// strokes are what a shop writes below the stroke of a fraction.
var strokes = []int64{2, 3, 4, 8, 16, 32, 64, 128}

// usual reports whether people write that fraction. Of a length they write 2/4
// and 9/8 too, and the plates of small motors have any part of a horsepower: 1/10
// hp, 1/15 hp (common practice, no source).
func (n number) usual(u Unit) bool {
	if u == Horsepower && n.top == 1 && !n.mixed {
		return n.over > 1
	}
	if !slices.Contains(strokes, n.over) {
		return false
	}
	if u.Dimension() == Length && !n.mixed {
		return true
	}
	lowest := new(big.Int).GCD(nil, nil, big.NewInt(n.top), big.NewInt(n.over)).Int64() == 1
	return n.top < n.over && (lowest || u.Dimension() == Length)
}

// addTo returns rest + first x ratio, below zero when first is.
func addTo(first number, ratio, rest *big.Rat) *big.Rat {
	sum := new(big.Rat).Mul(first.value, ratio)
	if first.negative {
		return sum.Sub(sum, rest)
	}
	return sum.Add(sum, rest)
}

// vulgar spells out the fractions that are one character.
var vulgar = map[rune]string{
	'\u00bc': "1/4", '\u00bd': "1/2", '\u00be': "3/4", '\u2153': "1/3", '\u2154': "2/3",
	'\u215b': "1/8", '\u215c': "3/8", '\u215d': "5/8", '\u215e': "7/8",
}

// spelledOut writes the fractions that are one character, and the stroke of a
// fraction, in plain characters.
func spelledOut(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return vulgar[r] != "" || r == '\u2044' }) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		switch plain := vulgar[r]; {
		case r == '\u2044': // fraction slash
			b.WriteByte('/')
		case plain == "":
			b.WriteRune(r)
		default:
			if n := b.Len(); n > 0 && isDigit(b.String()[n-1]) {
				b.WriteByte('-')
			}
			b.WriteString(plain)
		}
	}
	return b.String()
}

// head reads the number at the head of text and returns what follows it.
func head(s, text string, want field) (number, string, error) {
	d, taken, digits := scan(text)
	rest := text[taken:]
	n := number{places: d.places, negative: strings.HasPrefix(text, "-") || strings.HasPrefix(text, "\u2212")}
	if digits >= 0 && digits <= 9 && d.places == 0 {
		if after, ok := n.fraction(d.coefficient, rest); ok {
			return n, after, misread(s, after, 1, want)
		}
	}
	if err := misread(s, rest, digits, want); err != nil {
		return number{}, "", err
	}
	n.value = d.rat()
	if d == (decimal{}) {
		n.zeros = digitsOf(text)
	}
	return n, rest, nil
}

// fraction reads a fraction of which first is the top, or the whole number
// before it, and returns what follows.
func (n *number) fraction(first int64, rest string) (string, bool) {
	first = max(first, -first)
	top, below, ok := strings.Cut(rest, "/")
	if !ok {
		return "", false
	}
	whole := int64(0)
	switch top, n.mixed = strings.TrimSpace(strings.TrimPrefix(top, "-")), top != ""; {
	case !n.mixed:
		n.top = first
	case digitsOf(top) != len(top) || top == "":
		return "", false
	default:
		whole, n.top = first, small(top)
	}
	end := digitsOf(below)
	if end == 0 || end > 4 || len(top) > 4 || end > 1 && below[0] == '0' {
		return "", false
	}
	n.over = small(below[:end])
	n.value, n.places = new(big.Rat), 0
	if n.over == 0 {
		n.wire = !n.mixed && !n.negative
		n.value.SetInt64(1 - n.top)
		return below[end:], n.wire
	}
	n.value.Add(big.NewRat(whole, 1), big.NewRat(n.top, n.over))
	if n.negative {
		n.value.Neg(n.value)
	}
	n.places = 1 + len(below[:end])
	return below[end:], true
}

// digitsOf counts the digits at the head of text.
func digitsOf(text string) int {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	return n
}

// small is the number of a few digits.
func small(digits string) int64 {
	n := int64(0)
	for i := 0; i < len(digits) && i < 4; i++ {
		n = 10*n + int64(digits[i]-'0')
	}
	return n
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

// misread explains the usual ways in which a number is not one, given what
// follows it; nil when the number is sound.
func misread(s, rest string, digits int, want field) error {
	const number = "a plain number with a decimal point"
	next, _ := utf8.DecodeRuneInString(rest)
	switch {
	case digits < 0 && strings.ContainsRune("+-\u2212", next) && len(rest) > 1 && unicode.IsSpace(rune(rest[1])):
		return malformed(s, want.kinds(), "leave no space between the sign and the number")
	case digits < 0:
		return malformed(s, want.kinds(), "begin with the number, like "+want.example())
	case digits > maxDigits:
		return malformed(s, "a number of at most 18 digits", "round it to what the tool can read")
	case rest == "":
		return nil
	case next == ',':
		return malformed(s, number, "write 1250, not 1,250, and 0.5, not 0,5")
	case next == '.':
		return malformed(s, number, "put digits after the point, or leave the point out")
	case next == '/':
		return malformed(s, fractionForm, "write the fraction in one of these ways, or as a decimal")
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
		return malformed(s, fractionForm, "write the fraction in one of these ways, or as a decimal")
	}
	return malformed(s, "one number and a unit", "leave out the second number")
}
