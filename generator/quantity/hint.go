package quantity

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// What is said of a quantity that is not sound. No unit is ever proposed that
// the field cannot take; where that is not known, only units of one dimension.

// field is what a field of a file takes; the zero field takes everything.
type field struct {
	dims []Dimension
	like []Unit // the units to propose; where there are none, the usual ones
}

func fieldLike(like []Unit) field {
	f := field{like: like}
	for _, u := range like {
		f.dims = append(f.dims, u.Dimension())
	}
	return f
}

// takes reports whether a quantity of that dimension may be written.
func (f field) takes(d Dimension) bool { return len(f.dims) == 0 || f.named(d) }

// named reports whether the field takes that dimension among few.
func (f field) named(d Dimension) bool { return slices.Contains(f.dims, d) }

// kinds says what the field takes.
func (f field) kinds() string {
	var words []string
	for _, d := range f.dims {
		if !slices.Contains(words, d.String()) {
			words = append(words, d.String())
		}
	}
	if len(words) == 0 {
		return "a number and a unit"
	}
	return either(words)
}

// proposed are units to write in the field: up to so many of each dimension.
func (f field) proposed(most int) []Unit {
	if len(f.like) > 0 {
		return f.like
	}
	var units []Unit
	for _, d := range f.dims {
		all := unitsOf(d)
		units = append(units, all[:min(most, len(all))]...)
	}
	return units
}

// example is a quantity that the field could take.
func (f field) example() string {
	if units := f.proposed(1); len(units) > 0 {
		return "60" + units[0].gap() + units[0].Symbol()
	}
	return "60 psi"
}

// unitsOf are the units of a dimension, the most usual first.
func unitsOf(d Dimension) []Unit {
	var all []Unit
	for _, u := range allUnits {
		if u.Dimension() == d {
			all = append(all, u)
		}
	}
	return all
}

// unitMissing is said of a number alone.
func unitMissing(s string, n number, want field) *ParseError {
	if units := want.proposed(1); len(units) > 0 {
		return malformed(s, want.kinds(), "add the unit, such as "+either(inEach(n, units)))
	}
	return malformed(s, want.kinds(), "add the unit it was read in, such as psi, in, mm, V or h")
}

// inEach writes the number in each of the units.
func inEach(n number, units []Unit) []string {
	all := make([]string, len(units))
	for i, u := range units {
		all[i] = n.String() + u.gap() + u.Symbol()
	}
	return all
}

// meant are the units that people leave a part out of, by what they write.
var meant = map[Unit][]Unit{
	Pound:    {PoundForce, Psi, PoundFoot},
	Kilogram: {KilogramForce, KilogramForcePerCm2, KilogramForceMeter},
	Ounce:    {FluidOunce},
	Degree:   {Fahrenheit, Celsius},
	Ampere:   {ColdCrankingAmp},
	Watt:     {VoltAmpere},
	Kilowatt: {KilovoltAmpere},
}

// otherKind is said of a quantity that the field does not take.
func otherKind(s string, q Quantity, want field) *ParseError {
	var near []string
	for _, u := range meant[q.unit] {
		if want.named(u.Dimension()) {
			near = append(near, q.numeral()+u.gap()+u.Symbol())
		}
	}
	if len(near) > 0 {
		return malformed(s, want.kinds(), fmt.Sprintf("%s is %s; did you mean %s?", q, q.Dimension(), either(near)))
	}
	return malformed(s, want.kinds(), fmt.Sprintf("%s is %s; for %s write %s", q, q.Dimension(), want.kinds(), either(symbols(want.proposed(4)))))
}

// unclear are names that stand for several units, or for none by themselves.
var unclear = map[string][]Unit{
	"K": {Kilohm, Kelvin}, "k": {Kilohm, Kelvin}, "M": {Meter, Megohm}, "R": {Ohm}, "r": {Ohm},
	"#": {Psi, Pound, PoundForce}, "mF": {Microfarad}, "MF": {Microfarad}, "DC": {VoltDC}, "dc": {VoltDC}, "AC": {VoltAC}, "ac": {VoltAC},
	"ga": {WireGauge}, "gauge": {WireGauge}, "cycles": {Hertz}, "cps": {Hertz},
}

// remarks answer words that are no unit of measure, in small letters.
var remarks = map[string]string{
	"grit":   "grit is the name of a paper and not a measure; write it with the paper's name",
	"btdc":   "write the angle alone, such as 8 deg, and BTDC where or in which state it was read",
	"atdc":   "write the angle alone, such as 8 deg, and ATDC where or in which state it was read",
	"psia":   "write what the gauge showed, in psi; a pressure above a vacuum cannot be written here",
	"teeth":  "a count has no unit; write it in a note",
	"clicks": "a count has no unit; write it in a note",
	"days":   "write it in h, min or s",
	"ton":    "write it in lb, or in lbf for a force; a short ton is 2000 of them",
	"tons":   "write it in lb, or in lbf for a force; a short ton is 2000 of them",
	"db":     "a sound level cannot be written here; write it in a note",
}

// unknownUnit builds the error for a name that no unit has.
func unknownUnit(read string, n number, name string, want field) *ParseError {
	const expected = "a unit after the number"
	shown := shorten(name, 24)
	if say := remark(n, name, want); say != "" {
		return malformed(read, expected, say)
	}
	if u, more, ok := unitBefore(name); ok {
		return malformed(read, expected, fmt.Sprintf("write %s%s%s alone, and %q in a note", n, u.gap(), u.symbolFor(n.value), shorten(more, 24)))
	}
	if near := nearest(name, want); len(near) > 0 {
		return malformed(read, expected, fmt.Sprintf("%q is not a unit; did you mean %s?", shown, either(symbols(near))))
	}
	if units := want.proposed(4); len(units) > 0 {
		return malformed(read, expected, fmt.Sprintf("%q is not a unit; for %s write %s", shown, want.kinds(), either(symbols(units))))
	}
	return malformed(read, expected, fmt.Sprintf("%q is not a unit; write one such as psi, in, mm, V, rpm or degF", shown))
}

// remark answers what is often written behind a number and is no unit.
func remark(n number, name string, want field) string {
	var units []Unit
	for _, u := range unclear[name] {
		if want.takes(u.Dimension()) {
			units = append(units, u)
		}
	}
	switch len(units) {
	case 0:
	case 1:
		return fmt.Sprintf("%q alone says too little; write %s if that is what it was", name, inEach(n, units)[0])
	default:
		return fmt.Sprintf("%q alone says too little; write %s, whichever it was", name, either(inEach(n, units)))
	}
	for _, sign := range plusMinus {
		if strings.HasPrefix(name, sign) {
			return "a tolerance belongs to a limit; write the value alone, and how exact the tool is as gauge"
		}
	}
	switch after, _ := utf8.DecodeRuneInString(name); {
	case strings.ContainsRune("-\u2013\u2014", after):
		return `write the word "to" between the two ends of a range; the name of a thread goes in a note`
	case strings.ContainsRune("xX\u00d7", after) && (len(name) == 1 || !unicode.IsLetter(rune(name[1]))):
		return "write one measure here, and the other for itself"
	}
	if first, _, more := strings.Cut(strings.ToLower(name), " "); more && slices.Contains(imperial, strings.TrimRight(first, ".")) {
		return "gallons, quarts, pints and fluid ounces are those of the U.S. here; write it in L or mL; an imperial gallon is 4.54609 L"
	}
	return remarks[lastWord(name)]
}

// imperial are words before the name of a measure of British size. The gallon of 4.54609
// L is from memory (Weights and Measures Act 1985).
var imperial = []string{"imp", "imperial", "uk", "british"}

func lastWord(name string) string {
	words := strings.Fields(strings.ToLower(name))
	if len(words) == 0 {
		return ""
	}
	return words[len(words)-1]
}

// unitBefore finds a unit at the head of a name behind which more was written,
// such as "V at rest".
func unitBefore(name string) (u Unit, more string, ok bool) {
	for at := len(name) - 1; at > 0; at-- {
		if name[at] != ' ' && name[at] != '(' && name[at] != ',' && name[at] != ';' {
			continue
		}
		more = strings.TrimSpace(name[at:])
		if u, found := UnitNamed(strings.TrimSpace(name[:at])); found && !strings.HasPrefix(more, "to ") && !isDigit(more[0]) {
			more = strings.Trim(more, "(),; ")
			return u, more, more != ""
		}
	}
	return Unit{}, "", false
}

func symbols(units []Unit) []string {
	all := make([]string, len(units))
	for i, u := range units {
		all[i] = u.Symbol()
	}
	return all
}

// either lists words of which one is to be chosen.
func either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
