package benchtest

import (
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
	l, _ := quantity.ParseLimit(text)
	key := limitKeys[l.Kind()]
	if most, ok := strings.CutPrefix(text, "<= "); key == "" && ok { // of a plain number
		return words.Say(limitKeys[quantity.AtMost], "high", most)
	}
	if key == "" {
		return text
	}
	low, _ := l.Low()
	high, _ := l.High()
	middle, off := l.Around()
	return words.Say(key, "low", low, "high", high, "middle", middle, "off", off)
}
