package desk

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/currency"
)

// People write a price with its sign and a day as their calendar has it. What can be meant
// in one way only is spelled as a file has it; all else stays as it was typed, and is told
// of at its field.

// spelled is an answer as a file has it, in a shop of that currency. What a bench test takes
// is left to the test.
func spelled(ask asking, path, text, currency string) string {
	switch {
	case strings.HasPrefix(path, "tests."):
		return text
	case ask == date:
		return spelledDate(text)
	case ask == clock:
		return spelledClock(text)
	case ask == length:
		return spelledLength(text)
	case ask == money:
		return spelledMoney(text, currency)
	}
	return text
}

var thousands = regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d+)?$`)

// decimalComma is a number with a comma for its point, where one number is asked for. With
// three digits behind it, it may part thousands.
var decimalComma = regexp.MustCompile(`^(\d+),(\d{1,2}|\d{4,})(\s*\D*)$`)

// spelledMoney is an amount without the sign or the code of the shop's own currency, and
// without the commas of its thousands. Any other money stays as it was typed, to be asked about.
func spelledMoney(text, of string) string {
	unit, err := currency.ParseISO(of)
	if err != nil {
		return text
	}
	number := text
	for _, mark := range []string{unit.String(), fmt.Sprint(currency.Symbol(unit)), fmt.Sprint(currency.NarrowSymbol(unit))} {
		rest, before := strings.CutPrefix(text, mark)
		if !before {
			rest, before = strings.CutSuffix(text, mark)
		}
		if rest = strings.TrimSpace(rest); before && rest != "" && rest[0] >= '0' && rest[0] <= '9' && rest[len(rest)-1] >= '0' && rest[len(rest)-1] <= '9' {
			number = rest
			break
		}
	}
	if thousands.MatchString(number) {
		number = strings.ReplaceAll(number, ",", "")
	}
	return number
}

var halfDay = regexp.MustCompile(`^(\d{1,2})(?:[:.](\d{2}))?\s*([ap])\.?\s*m\.?$`)

// spelledClock is a time of day of two halves as one of 24 hours: 7 pm as 19:00.
func spelledClock(text string) string {
	m := halfDay.FindStringSubmatch(strings.ToLower(text))
	if m == nil {
		return text
	}
	hour, _ := strconv.Atoi(m[1])
	if hour < 1 || hour > 12 {
		return text
	}
	hour %= 12
	if m[3] == "p" {
		hour += 12
	}
	minute := m[2]
	if minute == "" {
		minute = "00"
	}
	return fmt.Sprintf("%02d:%s", hour, minute)
}

var (
	minutesAlone = regexp.MustCompile(`^(\d{1,4})\s*(?:min|mins|minutes?|m)\.?$`)
	commaHours   = regexp.MustCompile(`^(\d{1,3}),(\d{1,2})(\s*(?:h|hours?|hrs?)?\.?)$`)
	hoursAlone   = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*(?:hours?|hrs?)\.?$`)
	hoursAndMore = regexp.MustCompile(`^(\d{1,3})\s*(?:hours?|hrs?|h)\.?\s*(?:and\s+)?(\d{1,2})\s*(?:min|mins|minutes?|m)\.?$`)
)

// spelledLength is a length of time as hours and minutes: 20 minutes as 0:20.
func spelledLength(text string) string {
	text = commaHours.ReplaceAllString(text, "$1.$2$3")
	small := strings.ToLower(text)
	if m := minutesAlone.FindStringSubmatch(small); m != nil {
		n, _ := strconv.Atoi(m[1])
		return fmt.Sprintf("%d:%02d", n/60, n%60)
	}
	if m := hoursAndMore.FindStringSubmatch(small); m != nil {
		if n, _ := strconv.Atoi(m[2]); n < 60 {
			return fmt.Sprintf("%s:%02d", m[1], n)
		}
	}
	if m := hoursAlone.FindStringSubmatch(small); m != nil {
		return m[1]
	}
	return text
}

// dayForms are ways to write a day in which the month has its name.
var dayForms = []string{"January 2, 2006", "January 2 2006", "Jan 2, 2006", "Jan 2 2006", "2 January 2006", "2 Jan 2006", "2. January 2006"}

var dayNumbers = regexp.MustCompile(`^(\d{1,2})[/.](\d{1,2})[/.](\d{4})$`)

// spelledDate is a day as ISO 8601 has it. Of two numbers that may both be the month it
// makes nothing: 3/2/2026 is March here and February there.
func spelledDate(text string) string {
	for _, form := range dayForms {
		if t, err := time.Parse(form, text); err == nil {
			return t.Format(time.DateOnly)
		}
	}
	m := dayNumbers.FindStringSubmatch(text)
	if m == nil {
		return text
	}
	a, _ := strconv.Atoi(m[1])
	b, _ := strconv.Atoi(m[2])
	switch {
	case a > 12 && b <= 12:
		a, b = b, a
	case a == b, b > 12 && a <= 12:
	default:
		return text
	}
	if t, err := time.Parse(time.DateOnly, fmt.Sprintf("%s-%02d-%02d", m[3], a, b)); err == nil {
		return t.Format(time.DateOnly)
	}
	return text
}
