package page

import (
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// money is an amount as the shop's language writes it.
func (s *Site) money(a logbook.Amount) string { return tally.Said(s.Shop, a) }
