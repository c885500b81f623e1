package benchtest

import (
	"math/big"
	"slices"
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// sum works a result out and judges it; see derive and find.
func (b *bench) sum(f finding, u quantity.Unit, digits int, formula func(x []*big.Rat) *big.Rat, of ...reading) quantity.Verdict {
	f.value = b.derive(u, digits, formula, of...)
	return b.find(f)
}

// plain is sum for a plain number, which is kept in % (see plainRatio) and shown
// with so many digits.
func (b *bench) plain(f finding, digits int, formula func(x []*big.Rat) *big.Rat, of ...reading) quantity.Verdict {
	f.value = b.derive(quantity.Percent, digits, formula, of...)
	return b.findRatio(f)
}

// fixed is a reading that no tool is asked for: of a plate, or of the maker.
func (b *bench) fixed(name string) reading { return b.with(name, "") }

// Glossary is the terms with one for each bench test that they do not explain, so
// that each test is explained where it is named.
func Glossary(terms []catalog.Term, words *catalog.Catalog) []catalog.Term {
	known := map[string]bool{}
	all := slices.Clone(terms)
	for _, t := range terms {
		for _, form := range append([]string{t.Term}, t.Also...) {
			known[strings.ToLower(form)] = true
		}
	}
	for _, k := range registered() {
		forms := slices.DeleteFunc(append([]string{k.name}, k.also...), func(form string) bool { return known[strings.ToLower(form)] })
		if len(forms) == len(k.also)+1 {
			all = append(all, catalog.Term{Term: forms[0], Also: forms[1:], Means: words.Say(k.about)})
		}
	}
	slices.SortStableFunc(all, func(a, b catalog.Term) int {
		return strings.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term))
	})
	return all
}
