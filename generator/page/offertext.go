package page

import (
	"strings"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// OfferText is a text about the n-th machine to paste elsewhere. Both of them
// name all that may hurt someone, and all that is wrong, before anything else;
// the short one does no more than that. What the shop added to make the machine
// safer is named as its own word.
func (s *Site) OfferText(n int, short bool) string {
	m, r := s.Shop.Machines[n], s.Report(n)
	text := []string{s.offerTop(m)}
	if short {
		text = append(text, s.shortOffer(r)...)
	} else {
		text = append(text, s.longOffer(r)...)
	}
	return strings.Join(append(text, s.ending(m)...), "\n\n") + "\n"
}

// offerTop says what it is, and what the shop asks for it.
func (s *Site) offerTop(m *logbook.Machine) string {
	top := m.Name
	if what := joined(m.Maker, m.Model); what != "" {
		top = s.say("page.plain-top", "name", m.Name, "what", what)
	}
	if p := s.Price(m); p != "" {
		top = s.say("page.plain-price", "top", top, "price", p)
	}
	return top
}

func (s *Site) shortOffer(r *condition.Report) []string {
	text := []string{s.describe(r)}
	if added := addedNames(r); len(added) > 0 {
		text = append(text, s.say("page.plain-adds", "names", s.Words.Each(added)))
	}
	return text
}

// addedNames are the changes that the shop says make it safer, that are still there,
// and that are not open.
func addedNames(r *condition.Report) []string {
	var all []string
	for _, x := range r.Subjects {
		if x.Adds && x.Standing == condition.Changed && !x.Open {
			all = append(all, x.Wordings())
		}
	}
	return all
}

// longOffer is the front sheet, and then each thing that is open or wrong as the
// report tells it.
func (s *Site) longOffer(r *condition.Report) []string {
	text := []string{s.asOf(r)}
	for _, part := range r.FrontParts(s.Words) {
		lines := []string{strings.ToUpper(part.Title)}
		for _, l := range part.Lines {
			lines = append(lines, s.say("page.plain-line", "text", l.Text))
		}
		if len(part.Lines) == 0 {
			lines = append(lines, part.Empty)
		}
		text = append(text, strings.Join(lines, "\n"))
	}
	for _, id := range []string{condition.SectionSafety, condition.SectionWrong, condition.SectionTerms} {
		text = append(text, s.plainSection(r.Section(id)))
	}
	return text
}

// plainSection is a part of the report as plain text. What is told together has a
// line each, as on the page.
func (s *Site) plainSection(sec condition.Section) string {
	lines := []string{strings.ToUpper(sec.Title)}
	for _, st := range sec.Statements {
		if len(st.Items) < 2 {
			lines = append(lines, s.say("page.plain-line", "text", st.Text))
			continue
		}
		lines = append(lines, s.say("page.plain-line", "text", st.Lead))
		for _, it := range st.Items {
			lines = append(lines, s.say("page.plain-item", "text", it.Text))
		}
	}
	return strings.Join(append(lines, sec.Notes...), "\n")
}

// ending is where the whole report is, and how to reach the shop.
func (s *Site) ending(m *logbook.Machine) []string {
	var all []string
	if to := s.absolute(conditionPath(m.Key)); to != "" {
		all = append(all, s.say("page.plain-report", "address", to))
	}
	if s.Shop.Contact != "" {
		all = append(all, s.say("page.plain-contact", "shop", s.Shop.Name, "contact", s.Shop.Contact))
	}
	return all
}
