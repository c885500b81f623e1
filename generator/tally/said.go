package tally

import (
	"github.com/bojanz/currency"

	"asleft/generator/logbook"
)

// Said is an amount as the shop's language writes it (CLDR); "" for none.
func Said(shop *logbook.Shop, a logbook.Amount) string {
	if !a.Set {
		return ""
	}
	plain := a.Rescale(shop.Digits).String()
	amount, err := currency.NewAmount(plain, shop.Currency)
	if err != nil {
		return plain + " " + shop.Currency
	}
	f := currency.NewFormatter(currency.NewLocale(shop.Language))
	f.MinDigits, f.MaxDigits = uint8(shop.Digits), uint8(shop.Digits) //nolint:gosec // a minor unit has 0 to 4 decimals
	return f.Format(amount)
}
