package benchtest

import (
	"math/big"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// limitKeys are how each form of a limit is said.
var limitKeys = map[quantity.LimitKind]string{
	quantity.AtLeast: "limit.at-least", quantity.MoreThan: "limit.more-than", quantity.AtMost: "limit.at-most",
	quantity.LessThan: "limit.less-than", quantity.Between: "limit.between", quantity.Around: "limit.around",
}

// LimitSaid is a limit as people say it: "60 psi or more", "3600 rpm, give or
// take 100 rpm". One that it cannot read stays as it was written.
func LimitSaid(words *catalog.Catalog, text string) string {
	l, err := quantity.ParseLimit(text)
	key := limitKeys[l.Kind()]
	if err != nil || key == "" {
		return plainLimit(words, text)
	}
	low, _ := l.Low()
	high, _ := l.High()
	middle, off := l.Around()
	return words.Say(key, "low", low, "high", high, "middle", middle, "off", off)
}

// LimitBeside is a limit as people say it, in the unit of a reading, with the limit's
// own beside it: "about 0.315 in or more (8 mm or more)". A reading that has no one
// number, which is the zero quantity, leaves the limit as it is.
func LimitBeside(words *catalog.Catalog, text string, reading quantity.Quantity) string {
	own := LimitSaid(words, text)
	l, err := quantity.ParseLimit(text)
	if err != nil || reading.IsZero() || l.Dimension() != reading.Dimension() {
		return own
	}
	low, _ := l.Low()
	high, _ := l.High()
	middle, off := l.Around()
	exact, other := true, false
	for n, end := range []*quantity.Quantity{&low, &high, &middle, &off} {
		if end.IsZero() || end.Dimension() != reading.Dimension() || end.Unit().Equal(reading.Unit()) {
			continue // a tolerance in percent stays one
		}
		other = true
		*end, exact = inUnitOf(*end, reading, n < 2, exact)
	}
	if !other {
		return own
	}
	here := words.Say(limitKeys[l.Kind()], "low", low, "high", high, "middle", middle, "off", off)
	if exact {
		return words.Say("limit.here", "here", here, "own", own)
	}
	return words.Say("limit.here-about", "here", here, "own", own)
}

// inUnitOf is an end of a limit in a reading's unit, to as many places as the reading
// has, or as many more as keep it within a hundredth of itself and, of an end by itself,
// show on which side of the reading it is: 0.315 in is more than 8 mm. Exact is whether
// all before it was exact, and this is too.
func inUnitOf(end, reading quantity.Quantity, sided, exact bool) (quantity.Quantity, bool) {
	if reading.IsDifference() { // and so is its limit, whatever its scale begins at
		end = end.AsDifference()
	}
	in, err := end.In(reading.Unit())
	if err != nil {
		return end, false
	}
	most := new(big.Rat).Abs(new(big.Rat).Quo(in.Rat(), big.NewRat(100, 1)))
	var off *big.Rat
	var round quantity.Quantity
	for places := reading.Places(); places <= reading.Places()+3; places++ {
		round = in.WithPlaces(places)
		shown, err := quantity.Parse(round.String())
		if err != nil {
			return in, exact
		}
		off = new(big.Rat).Sub(shown.Rat(), in.Rat())
		tells := !sided || shown.Rat().Cmp(reading.Rat()) == in.Rat().Cmp(reading.Rat())
		if off.Abs(off).Cmp(most) <= 0 && tells {
			break
		}
	}
	return round, exact && off.Sign() == 0
}

// plainLimit is the limit of a plain number, such as ">= 2", as people say it.
func plainLimit(words *catalog.Catalog, text string) string {
	for _, l := range []struct{ sign, key string }{
		{">= ", "limit.at-least"}, {"> ", "limit.more-than"}, {"<= ", "limit.at-most"}, {"< ", "limit.less-than"},
	} {
		if number, ok := strings.CutPrefix(text, l.sign); ok {
			return words.Say(l.key, "low", number, "high", number)
		}
	}
	return text
}
