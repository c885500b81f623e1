// Package spelling finds the name that a mistyped one most likely meant, for every
// "did you mean" of the program: fields, units, bench tests, commands, machines.
package spelling

import (
	"strings"
	"unicode/utf8"
)

// Nearest is the known name that a mistyped one most likely meant, case aside, or ""
// when none is close: at most one slip for each three letters.
func Nearest(name string, known []string) string {
	name = strings.ToLower(name)
	best, least := "", max(1, utf8.RuneCountInString(name)/3)+1
	for _, k := range known {
		if d := Slips(name, strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// longest is how long a name may be, in letters, to be compared at all.
const longest = 120

// Slips is the number of letters put in, left out, mistaken or swapped with their
// neighbor between two names (optimal string alignment). It is far more than any
// bound for names that are too long.
func Slips(one, other string) int {
	a, b := []rune(one), []rune(other)
	if len(a) > longest || len(b) > longest {
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
