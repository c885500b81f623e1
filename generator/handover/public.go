package handover

import (
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// Sealed is what the public may know of a sealed report: never who has it.
type Sealed struct {
	Machine string // key
	Code    string
	Date    logbook.Date
	Number  int
	// FactsDigest is of the facts and Copies of the buyer's files as they are,
	// so that a page can check a report by itself.
	FactsDigest string
	Copies      Copies
	// Key is the public key that it is signed with, empty for none.
	Key string
	// Changed tells whether the logs say of the machine's condition today what
	// the report did not. A sale alone is no change.
	Changed bool
}

// Public lists the whole sealed reports of a shop, the oldest first. The site
// is that of today; a machine that is not in it any more counts as changed.
func (c *Chain) Public(site *page.Site, today logbook.Date) []Sealed {
	var all []Sealed
	for _, l := range c.Links {
		if l.flaw != noFlaw {
			continue
		}
		s := Sealed{
			Machine: l.Machine(), Code: l.Seal.Code, Date: logbook.Date(l.Seal.Facts.Sealed),
			Number: l.Seal.Number, FactsDigest: l.Seal.FactsDigest, Copies: l.Seal.Copies, Key: text(l.Seal.Key), Changed: true,
		}
		if n := find(site, s.Machine); n >= 0 {
			s.Changed = slices.ContainsFunc(Since(&l.Seal.Facts, Today(site, n, today), site.Words), func(ch Change) bool { return ch.Kind != SinceStage })
		}
		all = append(all, s)
	}
	return all
}

// Machine is the key of the machine that a link is about.
func (l *Link) Machine() string { return l.Seal.Facts.Record.Machine.Key }

func find(site *page.Site, key string) int {
	return slices.IndexFunc(site.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == key })
}

// Sentence is what the condition page says of a machine's last sealed report,
// empty where there is none.
func Sentence(all []Sealed, machine string, words *catalog.Catalog) string {
	for _, s := range slices.Backward(all) {
		if s.Machine != machine {
			continue
		}
		key := "handover.public"
		if s.Changed {
			key = "handover.public-changed"
		}
		return words.Say(key, "date", words.Date(s.Date.Time()), "code", s.Code)
	}
	return ""
}
