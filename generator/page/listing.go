package page

import (
	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// listing makes the page of a machine that is for sale, in the order in which
// a careful buyer asks. It exists only while the machine is for sale; one that
// is gone leaves a page that says so.
func (s *Site) listing(n int, put Put) error {
	m, r := s.Shop.Machines[n], s.Report(n)
	switch m.Stage {
	case logbook.ForSale:
	case logbook.Sold, logbook.PartedOut:
		return s.gone(m, put)
	default:
		return nil
	}
	sh := s.composer(listingPath(m.Key))
	v := Listing{Page: sh.page("listing", s.say("page.listing-title", "name", m.Name), s.describe(r)), Head: sh.head(m, r)}
	v.Trail = sh.way(m, s.say("page.listing"))
	v.Preview = sh.preview(v.Head.Cover)
	var err error
	if v.Data, err = sh.offer(n, v.Head.Cover); err != nil {
		return err
	}
	v.Policy += scriptPolicy(string(v.Data))
	if v.Body, err = s.Theme.own("listing-body", sh.offered(m, r)); err != nil {
		return err
	}
	return s.Theme.frame(put, sh.path, "listing.html", v, v.Body)
}

// offered is what the program's own templates are handed of a machine for sale.
// The front sheet's lines lead into the whole report.
func (s *composer) offered(m *logbook.Machine, r *condition.Report) Offer {
	report := s.to(conditionPath(m.Key))
	v := Offer{Price: s.Price(m), Contact: s.contact(), Report: report, Front: s.frontSheet(m, r), Photos: s.allPictures(m)}
	v.Front.Contact = nil // it stands beside the price
	for i := range v.Front.Parts {
		for k := range v.Front.Parts[i].Lines {
			if l := &v.Front.Parts[i].Lines[k]; l.To != "" {
				l.To = report + l.To
			}
		}
	}
	for _, st := range r.Section(condition.SectionRepaired).Statements {
		told := s.statement(m, st)
		told.Notes, told.Photos = "", nil
		v.Repaired = append(v.Repaired, told)
	}
	return v
}

// gone makes what is left of the listing, for links to it that are about: no
// price, no offer, and the story as the address that counts.
func (s *Site) gone(m *logbook.Machine, put Put) error {
	if !s.Theme.has("gone.html") {
		return nil
	}
	sh := s.composer(listingPath(m.Key))
	v := Gone{
		Page:      sh.page("gone", s.say("page.gone-title", "name", m.Name), s.say("page.gone", "name", m.Name)),
		Says:      s.say("page.gone", "name", m.Name),
		Story:     Link{To: sh.to(storyPath(m.Key)), Text: s.say("page.gone-story", "name", m.Name)},
		Condition: Link{To: sh.to(conditionPath(m.Key)), Text: s.say("page.condition")},
	}
	v.Canonical = s.absolute(storyPath(m.Key))
	v.Trail = sh.way(m, s.say("page.gone-here"))
	return s.Theme.fill(put, sh.path, "gone.html", v)
}

func (s *composer) allPictures(m *logbook.Machine) []Picture {
	var all []Picture
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if pic, ok := s.picture(p); ok {
				link := s.evidence(m, condition.Evidence{File: e.File, Date: e.Date, Title: e.Title})
				pic.Credit = &link
				all = append(all, pic)
			}
		}
	}
	return all
}
