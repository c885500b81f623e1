package handover

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// A Tag is the card that hangs on a machine while people look at it: what it is, its
// price, how many safety matters are open, what to look for oneself, and where the
// condition page is. There is none without the safety matters.
type Tag struct {
	Name string // of the file
	PDF  []byte
	// Web tells whether the shop has an address on the web. Without one, there is no QR
	// code to scan.
	Web bool
	// Missing tells that the type lacks a sign of it.
	Missing bool
}

// Tags prints the tags of machines of a site, by their numbers there, on a paper:
// sheet.CardPaper for a card a page, any other for four a page. One machine alone fills
// such a page.
func Tags(folder afero.Fs, site *page.Site, machines []int, today logbook.Date, paper sheet.Paper) (*Tag, error) {
	chain, err := ReadChain(folder, site.Words, today)
	if err != nil {
		return nil, err
	}
	var cards []sheet.Card
	for _, n := range machines {
		cards = append(cards, card(chain, site, n, today))
	}
	name := "tags"
	if len(machines) == 1 {
		name = site.Shop.Machines[machines[0]].Key + "-tag"
		if paper != sheet.CardPaper {
			cards = slices.Repeat(cards, 4)
		}
	}
	t := &Tag{Name: fmt.Sprintf("%s-%s.pdf", name, today), Web: site.Shop.Web != ""}
	about := sheet.About{Title: site.Words.Say("tag.title", "shop", site.Shop.Name), Author: site.Shop.Name, Lang: site.Words.Lang, Created: today.Time()}
	if t.PDF, t.Missing, err = sheet.Cards(paper, about, cards); err != nil {
		return nil, fmt.Errorf("printing a tag: %w", err)
	}
	return t, nil
}

// Put writes the tag into a folder. One of the same day and machine is replaced: a price
// may have changed since.
func (t *Tag) Put(to afero.Fs) error {
	return put(to, t.Name, t.PDF, 0o644)
}

// card is a machine's card.
func card(chain *Chain, site *page.Site, n int, today logbook.Date) sheet.Card {
	words, facts := site.Words, Today(site, n, today)
	m := site.Shop.Machines[n]
	c := sheet.Card{Name: m.Name, Under: facts.Record.Machine.Kind, Price: facts.Price, Heavy: openSays(site, facts)}
	for _, p := range facts.Front {
		if p.ID != "look" || len(p.Lines) == 0 {
			continue
		}
		c.Title = p.Title
		for _, l := range p.Lines {
			c.Lines = append(c.Lines, l.Text)
		}
	}
	s := facts.Shop
	c.Foot = []string{s.Name}
	if at := cmp.Or(s.Contact, s.Place); at != "" {
		c.Foot = []string{words.Say("handover.shop-contact", "shop", s.Name, "contact", at)}
	}
	if all := chain.Earlier(m); len(all) > 0 {
		c.Foot = append(c.Foot, sealedSays(site, all[len(all)-1], facts))
	}
	if s.Page != "" {
		c.Code = &sheet.Code{Text: s.Page, Under: words.Say("tag.qr")}
	}
	return c
}

// openSays is how many safety matters are open, in words.
func openSays(site *page.Site, facts *Facts) string {
	open, unsaid := len(facts.Open()), len(facts.NotSaid())
	switch {
	case open == 0:
		return site.Words.Say("tag.none-open")
	case unsaid == 0:
		return site.Words.Count("tag.open", open)
	}
	return site.Words.Count("tag.open-unsaid", open, "unsaid", unsaid)
}

// sealedSays is what a tag says of the last sealed report, and of the log since.
func sealedSays(site *page.Site, l *Link, today *Facts) string {
	key := "tag.sealed-same"
	switch held := l.Held(today, site.Words); {
	case held.Same:
		key = "tag.sealed"
	case held.Changed():
		key = "tag.sealed-changed"
	}
	return site.Words.Say(key, "date", date(site.Words, l.Seal.Facts.Sealed), "code", GroupedCode(l.Seal.Code))
}
