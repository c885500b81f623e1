package benchtest

import "strings"

// nearest is the known name that a mistyped one is likely to mean, or "" when
// none is close: at most one slip for each three letters.
func nearest(name string, known []string) string {
	name = strings.ToLower(name)
	best, least := "", max(1, len(name)/3)+1
	for _, k := range known {
		if d := slips(name, strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// slips is the number of letters to put in, leave out or change to turn a into b
// (edit distance).
func slips(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
