package logbook

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/govalues/decimal"
)

// A Date is a calendar day as YYYY-MM-DD; the empty Date is no date. Two dates
// compare as their texts do. A day of the logs is the shop's own day: no zone
// is attached to it.
type Date string

// ParseDate reads YYYY-MM-DD and refuses days that no calendar has.
func ParseDate(s string) (Date, error) {
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return "", fmt.Errorf("%q is not a day of the calendar written YYYY-MM-DD: %w", s, err)
	}
	return Date(s), nil
}

// Time is the day's midnight in UTC; the zero time for no date.
func (d Date) Time() time.Time {
	t, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return time.Time{}
	}
	return t
}

// Span is the first and the last day that the date may be.
func (d Date) Span() (first, last time.Time) { return d.Time(), d.Time() }

// Exact tells whether the date is one day.
func (d Date) Exact() bool { return true }

// Compare sorts dates at their start.
func (d Date) Compare(other Date) int { return strings.Compare(string(d), string(other)) }

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
