package quantity

import (
	"slices"
	"strings"
	"unicode"

	"asleft/generator/spelling"
)

// UnitNamed finds a unit by its symbol or another usual spelling. Capitals
// matter where they change the meaning (mohm and Mohm), not elsewhere (PSI).
// Words of a name may be joined by a space, a hyphen or a raised dot. A bare K
// is not a unit, for it can be kilohms or kelvins.
func UnitNamed(name string) (Unit, bool) {
	if u, ok := byName[name]; ok {
		return u, true
	}
	if len(name) > maxText {
		return Unit{}, false
	}
	key := nameKey(name)
	if u, ok := byName[key]; ok {
		return u, true
	}
	u, ok := byFoldedName[strings.ToLower(key)]
	return u, ok
}

// nameKey brings look-alike characters and separators to one form: the two
// micro signs, the two ohm signs, degree signs, dots, dashes, quotation marks,
// and the full stop that ends an abbreviation.
func nameKey(name string) string {
	rs := []rune(strings.TrimSpace(name))
	var b strings.Builder
	for i, r := range rs {
		if r == '.' && (i+1 == len(rs) || !unicode.IsLetter(rs[i+1])) {
			continue
		}
		r = plainRune(r)
		if r == '-' && strings.HasSuffix(b.String(), "-") {
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

func plainRune(r rune) rune {
	switch r {
	case '\u03bc': // Greek mu
		return '\u00b5' // micro sign
	case '\u2126': // ohm sign
		return '\u03a9' // Greek omega
	case '\u00ba', '\u02da': // masculine ordinal, ring above
		return '°'
	case '.', '·', '*', '\u22c5', '\u2022', '\u2219', '\u2010', '\u2011', '\u2013', '\u2212':
		return '-'
	case '\u2033', '\u201d', '\u201c':
		return '"'
	case '\u2032', '\u2019':
		return '\''
	}
	if unicode.IsSpace(r) {
		return '-'
	}
	return r
}

// nearest is up to three units whose names are closest to one that was not found, of
// the dimensions that a field takes, for "did you mean". It is none when nothing is
// close, or when what is close does not all measure the same kind of thing.
func nearest(name string, want field) []Unit {
	key := strings.ToLower(nameKey(name))
	if key == "" || len(name) > maxText {
		return nil
	}
	best, found := farthest(key)+1, []Unit(nil)
	for _, u := range allUnits {
		if !want.takes(u.Dimension()) || len(want.like) > 0 && !slices.Contains(want.like, u) {
			continue
		}
		switch d := u.distance(key); {
		case d < best:
			best, found = d, []Unit{u}
		case d == best && found != nil:
			found = append(found, u)
		}
	}
	other := func(u Unit) bool { return u.Dimension() != found[0].Dimension() }
	if len(found) > 3 || slices.ContainsFunc(found, other) {
		return nil
	}
	return found
}

// farthest is how many edits a slip of the pen may be: a short name is soon
// turned into quite another one.
func farthest(key string) int {
	switch n := len([]rune(key)); {
	case n <= 2:
		return 0
	case n <= 4:
		return 1
	}
	return 2
}

// distance is the smallest number of slips from key to a spelling of the unit,
// capitals ignored.
func (u Unit) distance(key string) int {
	least := spelling.Slips(key, strings.ToLower(nameKey(u.def.symbol)))
	for _, list := range [][]string{u.def.names, u.def.words} {
		for _, n := range list {
			least = min(least, spelling.Slips(key, strings.ToLower(nameKey(n))))
		}
	}
	return least
}
