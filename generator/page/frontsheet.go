package page

import (
	"html/template"
	"regexp"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// frontSheet is the front sheet of a report.
func (s *composer) frontSheet(m *logbook.Machine, r *condition.Report) FrontSheet {
	f := FrontSheet{AsOf: s.asOf(r)}
	if m.Offered() {
		f.Contact = s.contact()
	}
	for _, p := range r.FrontParts(s.Words) {
		part := FrontPart{ID: p.ID, Title: p.Title}
		for _, l := range p.Lines {
			line := Link{Text: l.Text}
			switch {
			case l.Subject != nil:
				line.To = "#" + l.Subject.ID
			case l.Part != "":
				line.To = "#" + l.Part
			}
			part.Lines = append(part.Lines, line)
		}
		if len(p.Lines) == 0 {
			part.Empty = p.Empty
		}
		f.Parts = append(f.Parts, part)
	}
	return f
}

// asOf is the day up to which the log goes, and the year of the days that are told
// without one: whoever reads the report a year later would take them for days of then.
func (s *Site) asOf(r *condition.Report) string {
	if len(r.Machine.Entries) == 0 {
		return s.say("page.as-of-none")
	}
	if r.Year == 0 || r.Year != r.AsOf.Time().Year() {
		return s.say("page.as-of", "date", s.date(r.AsOf))
	}
	return s.say("page.as-of-year", "date", s.Words.InYear(r.Year).Day(r.AsOf.Day()), "year", r.Year)
}

// contact is who to call: a link that writes where the shop gives an address for
// letters, or dials where it gives a number.
func (s *Site) contact() *Contact {
	if s.Shop.Contact == "" {
		return nil
	}
	l := Contact{Text: s.Shop.Contact}
	if mail := mailAddress.FindString(s.Shop.Contact); mail != "" {
		l.To = template.URL("mailto:" + mail) //nolint:gosec // letters, digits and a few signs
	} else if number := phoneNumber.FindString(s.Shop.Contact); number != "" {
		l.To = template.URL("tel:" + strings.Map(dialed, number)) //nolint:gosec // digits alone
	}
	return &l
}

var (
	mailAddress = regexp.MustCompile(`[A-Za-z0-9._+-]+@[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+`)
	phoneNumber = regexp.MustCompile(`\+?[0-9(][0-9()./ -]{5,}[0-9]`)
)

// dialed is a sign of a number as a phone wants it, -1 for one that it does not.
func dialed(r rune) rune {
	if r == '+' || r >= '0' && r <= '9' {
		return r
	}
	return -1
}
