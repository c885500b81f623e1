package logbook

import (
	"strconv"
	"strings"
	"time"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// An Interval is how often a service is due: after so long a run, so long a way
// or so much time, of which the first that comes counts. Text is what was written;
// nothing else is set where that is no interval that can be worked out, such as
// "each spring".
type Interval struct {
	Text         string
	Running, Way quantity.Quantity // of the hour meter, of the odometer
	Months, Days int
}

// calendarWords are the spans of the calendar that an interval can be given in,
// as months and days.
var calendarWords = map[string][2]int{
	"day": {0, 1}, "days": {0, 1}, "week": {0, 7}, "weeks": {0, 7},
	"month": {1, 0}, "months": {1, 0}, "year": {12, 0}, "years": {12, 0},
}

// longestSpan keeps what is added to a date inside the years that have four digits.
const longestSpan = 1000

// parseInterval reads an interval: "25 h", "6 months", "100 h or 1 year".
func parseInterval(text string) Interval {
	whole := Interval{Text: text}
	i := whole
	for part := range strings.SplitSeq(text, " or ") {
		if !i.take(strings.TrimSpace(part)) {
			return whole
		}
	}
	return i
}

func (i *Interval) take(part string) bool {
	if months, days, ok := parseSpan(part); ok && i.Months+i.Days == 0 {
		i.Months, i.Days = months, days
		return true
	}
	q, err := quantity.Parse(part)
	switch {
	case err != nil || q.Sign() <= 0:
		return false
	case q.Dimension() == quantity.Time && i.Running.IsZero():
		i.Running = q
	case q.Dimension() == quantity.Length && i.Way.IsZero():
		i.Way = q
	default:
		return false
	}
	return true
}

// parseSpan reads a span of the calendar, such as "90 days" or "a year".
func parseSpan(text string) (months, days int, ok bool) {
	words := strings.Fields(strings.ToLower(text))
	if len(words) == 1 {
		words = []string{"1", words[0]}
	}
	if len(words) != 2 {
		return 0, 0, false
	}
	per, known := calendarWords[words[1]]
	if words[0] == "a" || words[0] == "one" {
		words[0] = "1"
	}
	n, err := strconv.Atoi(words[0])
	if !known || err != nil || n < 1 || n > longestSpan {
		return 0, 0, false
	}
	return n * per[0], n * per[1], true
}

// After is the date that comes so many months and days after d, as exact as d is.
// A month that has no such day gives its last one. It is no date where the span is
// finer than what d tells, or leaves the years that have four digits.
func (d Date) After(months, days int) Date {
	day := d.Day()
	if day.Start.IsZero() {
		return ""
	}
	exact := day.Of == catalog.WholeDay
	if days > 0 && !exact || months%12 != 0 && day.Of == catalog.WholeYear {
		return ""
	}
	first := time.Date(day.Start.Year(), day.Start.Month(), 1, 0, 0, 0, 0, time.UTC).AddDate(0, months, 0)
	last := first.AddDate(0, 1, -1).Day()
	then := first.AddDate(0, 0, min(day.Start.Day(), last)-1+days)
	if then.Year() > 9999 {
		return ""
	}
	text := then.Format(dateForms[day.Of])
	if day.About {
		text = about + text
	}
	return Date(text)
}

// EachOf is an interval as it stands behind "every": a year, for 1 year.
func EachOf(text string) string {
	months, days, ok := parseSpan(text)
	unit := strings.TrimSuffix(strings.ToLower(text[strings.LastIndex(text, " ")+1:]), "s")
	if per, known := calendarWords[unit]; ok && known && per == [2]int{months, days} {
		return unit
	}
	return text
}

// IsSpan tells whether a text is a span of the calendar, such as "90 days".
func IsSpan(text string) bool {
	_, _, ok := parseSpan(text)
	return ok
}
