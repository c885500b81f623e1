package catalog

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/language"
)

// monthFirst are the regions whose long dates begin with the month where
// English is written (CLDR, dateFormats of type long; from memory).
var monthFirst = []string{"US", "CA", "PH", "PR", "GU", "VI", "AS", "MP", "UM"}

// In is the catalog with dates as that language tag's region writes them.
func (c *Catalog) In(tag string) *Catalog {
	region, _ := language.Make(tag).Region()
	as := *c
	as.dayFirst = !slices.Contains(monthFirst, region.String())
	return &as
}

// InYear is the catalog with the days of that year told without it, for a text
// that says at its top which year it is about. 0 is no year.
func (c *Catalog) InYear(year int) *Catalog {
	as := *c
	if !c.withYears {
		as.year = year
	}
	return &as
}

// WithYears is the catalog with each day told with its year, whatever InYear says: for
// a text that is kept, and read when that year is over.
func (c *Catalog) WithYears() *Catalog {
	as := *c
	as.year, as.withYears = 0, true
	return &as
}

var monthKeys = [...]string{
	"month.1", "month.2", "month.3", "month.4", "month.5", "month.6",
	"month.7", "month.8", "month.9", "month.10", "month.11", "month.12",
}

// Date is a day as a reader says it: "March 2, 2026", or "2 March 2026"; without
// the year where that is the one that goes without saying.
func (c *Catalog) Date(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	year, month, day := t.Date()
	key := "date.long"
	if year == c.year {
		key = "date.day"
	}
	if c.dayFirst {
		key += "-day-first"
	}
	return fill(c.Say(key), func(place string) string {
		switch place {
		case "day":
			return strconv.Itoa(day)
		case "month":
			return isolated(c.Say(monthKeys[month-1]))
		case "year":
			return strconv.Itoa(year)
		}
		return "{" + place + "}"
	})
}

// Exactness is how much of the calendar a date names.
type Exactness uint8

// The kinds of dates, from the most exact to the least.
const (
	WholeDay Exactness = iota
	WholeMonth
	WholeYear
)

// Day is a date as exactly as it is known. The zero Day is no date.
type Day struct {
	Start time.Time // of the day, the month or the year
	Of    Exactness
	About bool // a guess
}

// Day is a date as a reader says it, as exact as it is: "March 2, 2026", "March
// 2026", "2008" or "about 2008"; "" for no date.
func (c *Catalog) Day(d Day) string {
	if text := c.whole(d); d.About && text != "" {
		return c.Say("date.about", "date", text)
	}
	return c.whole(d)
}

// whole is Day without saying that it is a guess.
func (c *Catalog) whole(d Day) string {
	switch {
	case d.Start.IsZero():
		return ""
	case d.Of == WholeYear:
		return strconv.Itoa(d.Start.Year())
	case d.Of == WholeMonth:
		return c.Say("date.month", "month", c.Say(monthKeys[d.Start.Month()-1]), "year", d.Start.Year())
	}
	return c.Date(d.Start)
}

// When is Day with the word that it takes inside a sentence: "on March 2, 2026",
// "in March 2026", "about 2008"; "" for no date.
func (c *Catalog) When(d Day) string { return c.when(d, "when.day", "when.span", "when.about") }

// WhenOpening is When at the beginning of a sentence: "On March 2, 2026".
func (c *Catalog) WhenOpening(d Day) string {
	return c.when(d, "opening.day", "opening.span", "opening.about")
}

func (c *Catalog) when(d Day, day, span, about string) string {
	text := c.whole(d)
	switch {
	case text == "":
		return ""
	case d.About:
		return c.Say(about, "date", text)
	case d.Of == WholeDay:
		return c.Say(day, "date", text)
	}
	return c.Say(span, "date", text)
}

// Length is a length of time in minutes as a reader says it: "2 h 30 min".
func (c *Catalog) Length(minutes int) string {
	h, m := minutes/60, minutes%60
	switch {
	case h == 0:
		return c.Say("length.minutes", "m", m)
	case m == 0:
		return c.Say("length.hours", "h", h)
	}
	return c.Say("length.both", "h", h, "m", m)
}

// List joins things as a sentence lists them: "a, b and c". In all lists each
// thing keeps its direction to itself.
func (c *Catalog) List(items []string) string {
	switch n := len(items); n {
	case 0:
		return ""
	case 1:
		return items[0]
	default:
		return c.Say("list.last", "items", c.Row(items[:n-1]), "last", items[n-1])
	}
}

// Row joins things with commas: "a, b, c".
func (c *Catalog) Row(items []string) string { return c.join(items, "list.comma") }

// Each joins things that may hold commas themselves: "a; b; c".
func (c *Catalog) Each(items []string) string { return c.join(items, "list.each") }

func (c *Catalog) join(items []string, between string) string {
	if len(items) == 1 {
		return items[0]
	}
	apart := make([]string, len(items))
	for i, item := range items {
		apart[i] = isolated(item)
	}
	return strings.Join(apart, c.Say(between))
}
