package page

import (
	"github.com/bojanz/currency"

	"asleft/generator/logbook"
)

// money is an amount as the shop's language writes it (CLDR).
func (s *Site) money(a logbook.Amount) string {
	if !a.Set {
		return ""
	}
	plain := a.Rescale(s.Shop.Digits).String()
	amount, err := currency.NewAmount(plain, s.Shop.Currency)
	if err != nil {
		return plain + " " + s.Shop.Currency
	}
	f := currency.NewFormatter(currency.NewLocale(s.Shop.Language))
	f.MinDigits, f.MaxDigits = uint8(s.Shop.Digits), uint8(s.Shop.Digits) //nolint:gosec // a minor unit has 0 to 4 decimals
	return f.Format(amount)
}
