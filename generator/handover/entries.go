package handover

import (
	"slices"
	"strconv"
	"strings"
)

// A note is the number of an entry in the list at the end of the report, or of
// three or more in a row: "3" or "3–5". First is the number that it begins with.
type note struct {
	First int
	Text  string
}

// notes are the numbers of the entries that something rests on. What rests on the
// machine's own file has none.
func (f *Facts) notes(evidence []Evidence) []note {
	rests := func(n int) bool {
		return n < len(f.Entries) && slices.ContainsFunc(evidence, func(e Evidence) bool { return e.File == f.Entries[n].File })
	}
	var all []note
	for i := 0; i < len(f.Entries); i++ {
		if !rests(i) {
			continue
		}
		last := i
		for rests(last + 1) {
			last++
		}
		one := note{i + 1, strconv.Itoa(i + 1)}
		if last >= i+2 {
			one.Text += "\u2013" + strconv.Itoa(last+1)
			i = last
		}
		all = append(all, one)
	}
	return all
}

// list is those numbers as a print has them: "1, 3".
func (f *Facts) list(evidence []Evidence) string {
	var list []string
	for _, n := range f.notes(evidence) {
		list = append(list, n.Text)
	}
	return strings.Join(list, ", ")
}
