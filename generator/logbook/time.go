package logbook

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/govalues/decimal"

	"asleft/generator/catalog"
)

// A Date is a day, a month or a year as exactly as the log knows it: 2026-03-02,
// 2026-03 or 2026, each also with "about " in front. The empty Date is no date.
// It is told as it was written and never made more exact. A day of the logs is
// the shop's own day: no zone is attached to it.
//
// Dates are not to be compared as texts: Compare gives their order on a page,
// Before what is certain.
type Date string

const about = "about "

// ParseDate reads a date as exactly as it is known and refuses days that no
// calendar has. "About" may be in capitals, or a ~.
func ParseDate(s string) (Date, error) {
	text, guess := cutAbout(s)
	if _, _, ok := parsed(text); !ok {
		return "", fmt.Errorf("%q is not a date like 2026-03-02, 2026-03 or 2026, with or without about in front", s)
	}
	if guess {
		return Date(about + text), nil
	}
	return Date(text), nil
}

func cutAbout(s string) (text string, guess bool) {
	if rest, ok := strings.CutPrefix(s, "~"); ok {
		return strings.TrimSpace(rest), true
	}
	if len(s) > len(about) && strings.EqualFold(s[:len(about)], about) {
		return strings.TrimSpace(s[len(about):]), true
	}
	return s, false
}

// dateForms are the ways to write a date, by how exact it is.
var dateForms = [...]string{catalog.WholeDay: time.DateOnly, catalog.WholeMonth: "2006-01", catalog.WholeYear: "2006"}

// parsed is the start of a date that stands without about, and which of the forms
// it has.
func parsed(text string) (start time.Time, of catalog.Exactness, ok bool) {
	for of, form := range dateForms {
		if len(text) == len(form) {
			t, err := time.Parse(form, text)
			return t, catalog.Exactness(of), err == nil && t.Year() > 2 // the first year is the zero time
		}
	}
	return time.Time{}, 0, false
}

// Day is the date for the catalog to say: see [catalog.Catalog.Day] and
// [catalog.Catalog.When].
func (d Date) Day() catalog.Day {
	text, guess := cutAbout(string(d))
	start, of, ok := parsed(text)
	if !ok {
		return catalog.Day{}
	}
	return catalog.Day{Start: start, Of: of, About: guess}
}

// ISO is the date as ISO 8601 has it, as exact as it is and without saying that it
// is a guess: what the attribute of a page can hold.
func (d Date) ISO() string {
	text, _ := cutAbout(string(d))
	return text
}

// Time is the start of the day, month or year that was written, at midnight in
// UTC; the zero time for no date.
func (d Date) Time() time.Time { return d.Day().Start }

// Exact tells whether the date is one day and no guess.
func (d Date) Exact() bool {
	day := d.Day()
	return !day.Start.IsZero() && day.Of == catalog.WholeDay && !day.About
}

// Span is the first and the last day that the date may stand for, both at
// midnight in UTC; zero times for no date. "About" is the next larger span: of a
// day its month, of a month its year, of a year also the year before and after.
func (d Date) Span() (first, last time.Time) {
	day := d.Day()
	if day.Start.IsZero() {
		return first, last
	}
	year, month, of := day.Start.Year(), day.Start.Month(), day.Of
	if day.About && of != catalog.WholeYear {
		of++
	} else if day.About {
		return yearBegins(year - 1), yearBegins(year+2).AddDate(0, 0, -1)
	}
	switch of {
	case catalog.WholeDay:
		return day.Start, day.Start
	case catalog.WholeMonth:
		first = time.Date(year, month, 1, 0, 0, 0, 0, time.UTC)
		return first, first.AddDate(0, 1, -1)
	}
	return yearBegins(year), yearBegins(year+1).AddDate(0, 0, -1)
}

func yearBegins(year int) time.Time { return time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC) }

// Compare puts dates in order by their starts: -1, 0 or 1. No date comes before
// any other. Of two that start together the more exact one comes first, so that
// 0 means the same date. What comes first on a page was not for certain earlier:
// see Before.
func (d Date) Compare(other Date) int {
	if d == other {
		return 0
	}
	if d.wholeDay() && other.wholeDay() {
		return strings.Compare(string(d), string(other)) // most are, and ISO 8601 sorts as text
	}
	a, b := d.Day(), other.Day()
	vague := 0
	switch {
	case a.About && !b.About:
		vague = 1
	case b.About && !a.About:
		vague = -1
	}
	return cmp.Or(a.Start.Compare(b.Start), cmp.Compare(a.Of, b.Of), vague, strings.Compare(string(d), string(other)))
}

// wholeDay tells whether the date has the form of a day and no about before it.
func (d Date) wholeDay() bool { return len(d) == len(time.DateOnly) && d[0] != about[0] }

// Before tells whether d was for certain earlier: all that it may stand for is
// before all that other may stand for. It is false where either is no date.
func (d Date) Before(other Date) bool {
	_, last := d.Span()
	first, _ := other.Span()
	return !last.IsZero() && !first.IsZero() && last.Before(first)
}

// Later is the date that comes last in the order of Compare.
func Later(a, b Date) Date {
	if a.Compare(b) < 0 {
		return b
	}
	return a
}

// seasonStarts are the months in which the seasons of the north begin.
var seasonStarts = map[string]string{"spring": "04", "summer": "07", "fall": "10", "autumn": "10", "winter": "01"}

// writtenDates are other ways to write a date that can be read in one way only.
var writtenDates = []string{
	"January 2, 2006", "January 2 2006", "Jan 2, 2006", "Jan 2 2006", "2 January 2006", "2 Jan 2006", "January 2006", "Jan 2006",
	"2006/01/02", "2006/1/2", "2006.01.02", "20060102", "2006-1-2", "2006-1", "2006/01", "2006/1", time.RFC3339, "2006-01-02 15:04", "2006-01-02 15:04:05",
}

// nearDate is how to write a date that was written in another way; "" where
// that is not sure. A season is no date: its year is, or about its first month.
func nearDate(s string) (near, season string) {
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(s, ",", " ")))
	year, month := "", ""
	for _, w := range words {
		if _, of, ok := parsed(w); ok && of == catalog.WholeYear {
			year = w
		}
		month = max(month, seasonStarts[w])
	}
	if year != "" && month != "" {
		return year, about + year + "-" + month
	}
	text, guess := cutAbout(strings.TrimSpace(s))
	for _, form := range writtenDates {
		t, err := time.Parse(form, text)
		if err != nil {
			continue
		}
		near = t.Format(time.DateOnly)
		if !strings.ContainsAny(strings.ReplaceAll(form, "2006", ""), "2") {
			near = t.Format(dateForms[catalog.WholeMonth])
		}
		if _, _, ok := parsed(near); !ok {
			break // a year in which nobody kept a log: the answer would be refused too
		}
		if guess {
			near = about + near
		}
		return near, ""
	}
	return "", ""
}

// A Clock is a time of day in whole minutes since midnight, 0 to 1439.
type Clock int

// ParseClock reads HH:MM (or H:MM) on the 24-hour clock.
func ParseClock(s string) (Clock, error) {
	t, err := time.Parse("15:04", s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a time of day written HH:MM: %w", s, err)
	}
	return Clock(t.Hour()*60 + t.Minute()), nil
}

// String is HH:MM.
func (c Clock) String() string { return fmt.Sprintf("%02d:%02d", int(c)/60, int(c)%60) }

// Minutes is a length of time in whole minutes.
type Minutes int

// maxMinutes keeps sums of any number of entries far from overflow: no single
// entry lasts longer than a year.
const maxMinutes = 366 * 24 * 60

// longestHours is how many characters a number of hours may have; more would
// not fit the 19 digits of a decimal once multiplied.
const longestHours = 16

// ParseMinutes reads a length of time: H:MM, or hours with a decimal point
// that come to whole minutes (2.5); an h may follow either.
func ParseMinutes(s string) (Minutes, error) {
	s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "h"))
	if h, m, ok := strings.Cut(s, ":"); ok {
		return hoursMinutes(h, m)
	}
	if !plainNumber(s) || len(s) > longestHours {
		return 0, fmt.Errorf("%q is neither hours like 2.5 nor hours and minutes like 2:30", s)
	}
	d, err := decimal.Parse(s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number of hours: %w", s, err)
	}
	m, err := d.Mul(decimal.MustNew(60, 0))
	if err != nil {
		return 0, fmt.Errorf("%q is not a number of hours: %w", s, err)
	}
	if !m.IsInt() {
		return 0, fmt.Errorf("%s hours are not whole minutes", s)
	}
	whole, _, ok := m.Int64(0)
	if !ok || whole > maxMinutes {
		return 0, fmt.Errorf("%s hours are more than a year", s)
	}
	return Minutes(whole), nil
}

func hoursMinutes(h, m string) (Minutes, error) {
	hours, err := strconv.ParseUint(h, 10, 16)
	if err != nil || len(m) != 2 {
		return 0, fmt.Errorf("%s:%s is not hours and minutes like 2:30", h, m)
	}
	mins, err := strconv.ParseUint(m, 10, 8)
	if err != nil || mins > 59 {
		return 0, fmt.Errorf("%s:%s is not hours and minutes like 2:30", h, m)
	}
	total := Minutes(hours*60 + mins)
	if total > maxMinutes {
		return 0, fmt.Errorf("%s:%s is more than a year", h, m)
	}
	return total, nil
}

// String is H:MM.
func (m Minutes) String() string { return fmt.Sprintf("%d:%02d", int(m)/60, int(m)%60) }

// plainNumber tells whether s is digits with at most one decimal point inside:
// no sign, no exponent, no grouping.
func plainNumber(s string) bool {
	whole, frac, point := strings.Cut(s, ".")
	return digits(whole) && (!point || digits(frac))
}

func digits(s string) bool {
	if s == "" || len(s) > 18 {
		return false
	}
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return true
}
