package quantity

import (
	"slices"
	"strings"
)

const readingForms = "a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL"

// readingMarks lists what may stand before a value, signs and words, longer
// ones before their beginnings.
var readingMarks = []struct {
	text string
	form readingForm
}{
	{">=", atLeastReading}, {"\u2265", atLeastReading}, {">", aboveReading},
	{"<=", atMostReading}, {"\u2264", atMostReading}, {"<", belowReading},
	{"~", aboutReading}, {"\u2248", aboutReading},
	{"about ", aboutReading}, {"approximately ", aboutReading}, {"approx. ", aboutReading}, {"approx ", aboutReading},
	{"around ", aboutReading}, {"roughly ", aboutReading},
	{"more than ", aboveReading}, {"over ", aboveReading}, {"above ", aboveReading}, {"at least ", atLeastReading},
	{"less than ", belowReading}, {"under ", belowReading}, {"below ", belowReading}, {"at most ", atMostReading}, {"up to ", atMostReading},
}

// openWords are the ways to write OL, in small letters.
var openWords = []string{
	"ol", "o.l.", "o.l", "open", "open circuit", "open line", "open loop", "overload", "over limit", "over range",
	"infinite", "infinity", "\u221e",
}

// ParseReading reads what a gauge showed: a quantity as [Parse] takes it; with
// about (also ~) in front; "60 to 70 psi" or "60-70 psi", whose unit may stand
// once; with one of the signs >, >=, < and <=, or the words for them, in front;
// or OL. The error is a *[ParseError] or a *[MismatchError].
func ParseReading(s string) (Reading, error) { return parseReading(s, field{}) }

// ParseReadingAs is [ParseReading] for a field that takes only the given
// dimensions, as [ParseAs] is for a quantity. It takes OL whatever they are.
func ParseReadingAs(s string, want ...Dimension) (Reading, error) {
	return parseReading(s, field{dims: want})
}

func parseReading(s string, want field) (Reading, error) {
	text := strings.TrimSpace(s)
	switch {
	case len(text) > 2*maxText:
		return Reading{}, malformed(s, readingForms, "that is too long to be one")
	case slices.Contains(openWords, strings.ToLower(text)):
		return Reading{form: openReading}, nil
	case len(text) > 3 && strings.EqualFold(text[:3], openText+" "):
		return Reading{}, malformed(s, readingForms, "write OL alone, and the rest in a note")
	case strings.EqualFold(text, "0L"):
		return Reading{}, malformed(s, readingForms, "write OL if the meter showed no value, or 0 L for no liters")
	}
	if form, rest, ok := cutMark(text); ok {
		return parseMarked(s, form, rest, want)
	}
	if low, high, ok := cutRange(text); ok {
		return parseRange(s, low, high, want)
	}
	q, err := parse(s, want)
	if plain, more := withoutPlus(text); more && err != nil {
		return Reading{}, malformed(s, readingForms, "write >= "+plain.String()+" if it was that much or more")
	}
	return ReadingOf(q), err
}

// withoutPlus reads a quantity with a plus behind the number or the unit.
func withoutPlus(text string) (Quantity, bool) {
	before, after, ok := strings.Cut(text, "+")
	if !ok || before == "" {
		return Quantity{}, false
	}
	q, err := Parse(before + after)
	return q, err == nil
}

// cutMark cuts what stands before the value.
func cutMark(text string) (readingForm, string, bool) {
	for _, m := range readingMarks {
		if len(text) >= len(m.text) && strings.EqualFold(text[:len(m.text)], m.text) {
			return m.form, strings.TrimSpace(text[len(m.text):]), true
		}
	}
	return noReading, text, false
}

// parseMarked reads the one value behind a mark.
func parseMarked(s string, form readingForm, rest string, want field) (Reading, error) {
	_, _, marked := cutMark(rest)
	_, _, ranged := cutRange(rest)
	switch {
	case marked:
		return Reading{}, malformed(s, readingForms, "leave out one of the two marks before the number")
	case ranged && form == aboutReading:
		return Reading{}, malformed(s, readingForms, "leave out the word before the first number; a range says it already")
	case ranged:
		return Reading{}, malformed(s, readingForms, "write the range alone, or the sign with one value")
	}
	q, err := parse(rest, want)
	if err != nil {
		return Reading{}, within(s, err)
	}
	return readingWith(form, q), nil
}

// cutRange cuts "60 to 70 psi", "60-70 psi" and "between 60 and 70 psi" into
// their ends.
func cutRange(text string) (low, high string, ok bool) {
	if rest, between := strings.CutPrefix(text, "between "); between {
		return cutWord(rest, "and")
	}
	if low, high, ok = cutWord(strings.TrimPrefix(text, "from "), "to"); ok {
		return low, high, true
	}
	return cutDash(text)
}

func parseRange(s, low, high string, want field) (Reading, error) {
	if strings.TrimSpace(high) == "1" {
		return Reading{}, malformed(s, readingForms, "write a ratio like 50:1")
	}
	a, b, err := pair(s, low, high, want)
	if err != nil {
		return Reading{}, err
	}
	order, err := a.Cmp(b)
	switch {
	case err != nil:
		return Reading{}, err
	case order > 0:
		return Reading{}, malformed(s, "the lower end first", "swap the two ends")
	case !want.takes(a.Dimension()):
		return Reading{}, otherKind(s, a, want)
	}
	return Reading{form: rangeReading, low: a, high: b}, nil
}
