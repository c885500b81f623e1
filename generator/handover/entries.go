package handover

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// entries are what the statements of a report rest on, in the order of the log.
// Statements name them by their numbers, from 1.
type entries []Evidence

func (f *Facts) entries() entries {
	var all entries
	for _, sec := range f.Sections {
		for _, st := range sec.Statements {
			all = append(all, st.Evidence...)
		}
	}
	slices.SortFunc(all, func(a, b Evidence) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.File, b.File), cmp.Compare(a.Title, b.Title))
	})
	return slices.Compact(all)
}

// numbers are those of a statement's entries, ascending.
func (all entries) numbers(evidence []Evidence) []int {
	var numbers []int
	for _, e := range evidence {
		numbers = append(numbers, slices.Index(all, e)+1)
	}
	slices.Sort(numbers)
	return slices.Compact(numbers)
}

// list is the numbers as a print has them: "1, 3".
func (all entries) list(evidence []Evidence) string {
	var list []string
	for _, n := range all.numbers(evidence) {
		list = append(list, strconv.Itoa(n))
	}
	return strings.Join(list, ", ")
}
