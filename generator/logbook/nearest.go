package logbook

import (
	"strings"
	"unicode/utf8"
)

// Nearest is the known name that a mistyped one most likely meant, or "" when
// none is close.
func Nearest(name string, known []string) string { return nearest(name, known) }

// OneLetterFrom is the first known name that is one letter from a name, in any
// case: one letter put in, left out, mistaken or swapped with its neighbor. It is
// "" when there is none.
func OneLetterFrom(name string, known []string) string {
	for _, k := range known {
		if slips(joined(name), joined(k)) == 1 {
			return k
		}
	}
	return ""
}

// nearest is the known name that a mistyped one most likely meant, or "" when
// none is close: at most one slip for each three letters.
func nearest(name string, known []string) string {
	name = strings.ToLower(name)
	best, most := "", max(1, utf8.RuneCountInString(name)/3)
	for _, k := range known {
		if d := slips(name, strings.ToLower(k)); d < most || d == most && best == "" {
			best, most = k, d
		}
	}
	return best
}

// longestName is how long a name may be, in letters, to be compared at all.
const longestName = 120

// slips is the number of letters put in, left out, mistaken or swapped with
// their neighbor between two names (optimal string alignment). It is far more
// than any bound for names that are too long.
func slips(one, other string) int {
	a, b := []rune(one), []rune(other)
	if len(a) > longestName || len(b) > longestName {
		return 1000
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(row[j-1]+1, last[j]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
