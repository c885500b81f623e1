package quantity

import (
	"fmt"
	"slices"
	"strings"
)

// What is said of a quantity that is not sound. No unit is ever proposed that
// the field cannot take; where that is not known, only units of one dimension.

// kinds says what a field takes.
func kinds(want []Dimension) string {
	if len(want) == 0 {
		return "a number and a unit"
	}
	words := make([]string, len(want))
	for i, d := range want {
		words[i] = d.String()
	}
	return either(words)
}

// example is a quantity that the field could take.
func example(want []Dimension) string {
	if u, ok := firstOf(want); ok {
		return "60" + u.gap() + u.Symbol()
	}
	return "60 psi"
}

// firstOf is the most usual unit of the first dimension.
func firstOf(want []Dimension) (Unit, bool) {
	for _, d := range want {
		if all := unitsOf(d); len(all) > 0 {
			return all[0], true
		}
	}
	return Unit{}, false
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
func unitMissing(s string, n number, want []Dimension) *ParseError {
	var such []string
	for _, d := range want {
		if u, ok := firstOf([]Dimension{d}); ok {
			such = append(such, n.String()+u.gap()+u.Symbol())
		}
	}
	if len(such) == 0 {
		return malformed(s, kinds(want), "add the unit it was read in, such as psi, in, mm, V or h")
	}
	return malformed(s, kinds(want), "add the unit, such as "+either(such))
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
func otherKind(s string, q Quantity, want []Dimension) *ParseError {
	var near []string
	for _, u := range meant[q.unit] {
		if slices.Contains(want, u.Dimension()) {
			near = append(near, q.numeral()+u.gap()+u.Symbol())
		}
	}
	if len(near) > 0 {
		return malformed(s, kinds(want), fmt.Sprintf("%s is %s; did you mean %s?", q, q.Dimension(), either(near)))
	}
	return malformed(s, kinds(want), fmt.Sprintf("%s is %s; write it in %s", q, q.Dimension(), usual(want)))
}

// usual lists the most usual units of the dimensions.
func usual(want []Dimension) string {
	var symbols []string
	for _, d := range want {
		for i, u := range unitsOf(d) {
			if i < 4 {
				symbols = append(symbols, u.Symbol())
			}
		}
	}
	return either(symbols)
}

// unclear are names that stand for several units, or for none by themselves.
var unclear = map[string][]Unit{
	"K": {Kilohm, Kelvin}, "k": {Kilohm, Kelvin}, "M": {Meter, Megohm}, "R": {Ohm}, "r": {Ohm},
	"#": {Psi, Pound, PoundForce}, "mF": {Microfarad}, "MF": {Microfarad}, "DC": {VoltDC}, "dc": {VoltDC}, "AC": {VoltAC}, "ac": {VoltAC},
	"ga": {WireGauge}, "gauge": {WireGauge}, "ton": {Pound, PoundForce}, "tons": {Pound, PoundForce},
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
	"db":     "a sound level cannot be written here; write it in a note",
}

// unknownUnit builds the error for a name that no unit has.
func unknownUnit(read string, n number, name string, want []Dimension) *ParseError {
	const expected = "a unit after the number"
	shown := shorten(name, 24)
	if units, ok := unclear[name]; ok {
		if near := inEach(n, units, want); near != "" {
			return malformed(read, expected, fmt.Sprintf("%q alone says too little; write %s, if that is what it was", shown, near))
		}
	}
	if say, ok := remarks[lastWord(name)]; ok {
		return malformed(read, expected, say)
	}
	if u, more, ok := unitBefore(name); ok {
		return malformed(read, expected, fmt.Sprintf("write %s%s%s alone, and %q in a note", n, u.gap(), u.symbolFor(n.value), shorten(more, 24)))
	}
	if near := nearest(name, want); len(near) > 0 {
		return malformed(read, expected, fmt.Sprintf("%q is not a unit; did you mean %s?", shown, either(symbols(near))))
	}
	if len(want) > 0 {
		return malformed(read, expected, fmt.Sprintf("%q is not a unit; %s is written in %s", shown, kinds(want), usual(want)))
	}
	return malformed(read, expected, fmt.Sprintf("%q is not a unit; write one such as psi, in, mm, V, rpm or degF", shown))
}

// inEach lists the number in those of the units that the field takes.
func inEach(n number, units []Unit, want []Dimension) string {
	var all []string
	for _, u := range units {
		if len(want) == 0 || slices.Contains(want, u.Dimension()) {
			all = append(all, n.String()+u.gap()+u.Symbol())
		}
	}
	return either(all)
}

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
		if u, ok := UnitNamed(strings.TrimSpace(name[:at])); ok && !strings.HasPrefix(more, "to ") && !isDigit(more[0]) {
			return u, strings.Trim(more, "(),; "), true
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
