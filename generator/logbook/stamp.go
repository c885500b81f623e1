package logbook

import (
	"strings"
	"time"
)

// clockForms are the ways in which a time of day follows a date, and zoneForms
// those in which a zone follows that.
var (
	clockForms = []string{"15:04", "15:04:05", "3:04 PM", "3:04PM"}
	zoneForms  = []string{"", "Z07:00", " Z07:00", "-0700", " -0700", " MST"}
)

// parseStamp reads a date with a time, as other programs write them:
// 2026-03-02T18:30:00Z, 2026-03-02 18:30. With a zone it is a moment, told by the
// clock of the shop where that is known (zone); without, it is what the shop's
// clock showed. Midnight to the second is what programs write that know no time,
// so it says nothing but the day.
func parseStamp(s string, zone *time.Location) (d Date, c Clock, hasClock, ok bool) {
	day := len(time.DateOnly)
	if len(s) <= day || s[day] != ' ' && s[day] != 'T' && s[day] != 't' {
		return "", 0, false, false
	}
	rest := strings.ToUpper(strings.TrimSpace(s[day+1:]))
	for _, clock := range clockForms {
		for _, z := range zoneForms {
			t, err := time.Parse(time.DateOnly+" "+clock+z, s[:day]+" "+rest)
			if err != nil || z == " MST" && t.Location() != time.UTC || t.Year() <= 2 {
				continue // other letters of zones mean one thing here and another there
			}
			if t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 && t.Nanosecond() == 0 {
				return Date(t.Format(time.DateOnly)), 0, false, true
			}
			if z != "" && zone != nil {
				t = t.In(zone)
			}
			return Date(t.Format(time.DateOnly)), Clock(t.Hour()*60 + t.Minute()), true, true
		}
	}
	return "", 0, false, false
}
