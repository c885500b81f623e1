package page

import (
	"asleft/generator/logbook"
	"asleft/generator/record"
)

// money is an amount as the shop's language writes it.
func (s *Site) money(a logbook.Amount) string { return record.Priced(s.Shop, a) }
