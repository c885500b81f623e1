package page

import (
	"strings"
	"unicode/utf8"

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
	sh := s.sheet(listingPath(m.Key))
	v := Listing{
		Page: sh.page("listing", s.say("page.listing-title", "name", m.Name), describe(r)),
		Head: sh.head(m, r), Contact: s.Shop.Contact,
	}
	v.Trail = sh.way(m, s.say("page.listing"))
	v.Preview = sh.preview(v.Head.Cover)
	var err error
	if v.Data, err = sh.offer(n, v.Head.Cover); err != nil {
		return err
	}
	v.Policy += scriptPolicy(string(v.Data))
	v.First = sh.statements(m, r, condition.ReadFirst)
	v.Defects = sh.statements(m, r, condition.WhatFails)
	v.Short = texts(r, condition.InShort)
	v.Works = texts(r, condition.WhatWorks)
	v.NotAsBuilt = sh.statements(m, r, condition.NotAsBuilt)
	if points, safety := r.Unanswered(); points > 0 {
		v.Gaps = s.say("page.gaps", "points", points, "of", len(r.Checks), "safety", safety)
	}
	v.Terms = append(texts(r, condition.Terms), r.Sections[condition.Terms-1].Notes...)
	v.Photos = sh.allPictures(m)
	v.Texts = s.plainTexts(m, r)
	return s.Theme.fill(put, sh.path, "listing.html", v)
}

// gone makes what is left of the listing, for links to it that are about: no
// price, no offer, and the story as the address that counts.
func (s *Site) gone(m *logbook.Machine, put Put) error {
	if !s.Theme.has("gone.html") {
		return nil
	}
	sh := s.sheet(listingPath(m.Key))
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

func (s *sheet) statements(m *logbook.Machine, r *condition.Report, section int) []Statement {
	var all []Statement
	for _, st := range r.Sections[section-1].Statements {
		all = append(all, s.statement(m, st, true))
	}
	return all
}

func texts(r *condition.Report, section int) []string {
	var all []string
	for _, st := range r.Sections[section-1].Statements {
		all = append(all, st.Text)
	}
	return all
}

func (s *sheet) allPictures(m *logbook.Machine) []Picture {
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

// plainTexts are the listing as plain text to paste elsewhere, long and short.
// Both tell of open safety matters and known defects before anything else.
func (s *Site) plainTexts(m *logbook.Machine, r *condition.Report) []PlainText {
	top := m.Name
	if what := joined(m.Maker, m.Model); what != "" {
		top = s.say("page.plain-top", "name", m.Name, "what", what)
	}
	if p := s.price(m); p != "" {
		top = s.say("page.plain-price", "top", top, "price", p)
	}
	long := []string{top}
	for _, n := range []int{condition.ReadFirst, condition.WhatFails, condition.InShort, condition.WhatWorks, condition.NotAsBuilt, condition.Hours, condition.Terms} {
		sec := r.Sections[n-1]
		lines := []string{strings.ToUpper(sec.Title)}
		for _, st := range sec.Statements {
			lines = append(lines, "- "+st.Text)
		}
		if n == condition.ReadFirst {
			lines = append(lines, sec.Notes...)
		}
		long = append(long, strings.Join(lines, "\n"))
	}
	if points, safety := r.Unanswered(); points > 0 {
		long = append(long, s.say("page.gaps", "points", points, "of", len(r.Checks), "safety", safety))
	}
	long = append(long, s.ending(m)...)
	short := []string{top, strings.Join(texts(r, condition.InShort), " ")}
	if w := s.warning(r); w != "" {
		short = append(short[:1], append([]string{w}, short[1:]...)...)
	}
	short = append(short, s.ending(m)...)
	return []PlainText{
		s.plainText("page.plain-long", strings.Join(long, "\n\n")),
		s.plainText("page.plain-short", strings.Join(short, "\n")),
	}
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

func (s *Site) plainText(key, text string) PlainText {
	return PlainText{Title: s.say(key), Text: text, Count: s.Words.Count("page.characters", utf8.RuneCountInString(text))}
}
