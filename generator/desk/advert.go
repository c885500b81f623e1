package desk

import (
	"slices"

	"asleft/generator"
	"asleft/generator/logbook"
)

// An adView is the text about a machine to put into an advertisement.
type adView struct {
	Long, Short string // empty where a log has a problem: it would say less than it should
	Open        bool   // the machine is for sale
	NoContact   bool   // a buyer of it has no way to reach the shop
}

func adOf(reading *generator.Reading, m *logbook.Machine) *adView {
	n := slices.Index(reading.Shop.Machines, m)
	if n < 0 || m.Stage == logbook.Sold || m.Stage == logbook.PartedOut {
		return nil
	}
	v := &adView{Open: m.Stage == logbook.ForSale, NoContact: m.Stage == logbook.ForSale && reading.Shop.Contact == ""}
	if len(reading.Problems) == 0 {
		site := reading.Site()
		v.Long, v.Short = site.OfferText(n, false), site.OfferText(n, true)
	}
	return v
}
