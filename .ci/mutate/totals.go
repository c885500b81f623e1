package main

import (
	"fmt"
	"io"
)

// The totals are what became of all mutants.
type totals struct {
	same               map[name]bool // those that are said to change nothing
	killed, equivalent int
	survivors          []mutant
	doubts             []string // what is wrong with what is said of them
}

// count takes in one mutant. One that is said to change nothing must survive.
func (t *totals) count(m mutant, f fate) {
	switch {
	case f == killed:
		t.killed++
		if t.same[m.name] {
			t.doubts = append(t.doubts, fmt.Sprintf("%s: %s: said to change nothing, and a test fails", m.file, m.change))
		}
	case t.same[m.name]:
		t.equivalent++
	default:
		t.survivors = append(t.survivors, m)
	}
}

func (t *totals) print(w io.Writer) {
	for _, m := range t.survivors {
		fmt.Fprintln(w, m)
	}
	for _, d := range t.doubts {
		fmt.Fprintln(w, d)
	}
	fmt.Fprintf(w, "%d mutants: %d killed, %d survived; besides %d that change nothing\n%.1f %% killed\n",
		t.killed+len(t.survivors), t.killed, len(t.survivors), t.equivalent, t.percent())
}

// percent is the share of mutants that tests noticed, without those that change
// nothing.
func (t *totals) percent() float64 {
	all := t.killed + len(t.survivors)
	if all == 0 {
		return 100
	}
	return 100 * float64(t.killed) / float64(all)
}

// err is what is wrong with the totals: what equivalent.tsv says wrongly, and less
// than the least percent.
func (t *totals) err(least float64) error {
	if t.percent() < least {
		return fmt.Errorf("the tests notice %.1f %% of the mutants, and have to notice %g %%", t.percent(), least)
	}
	if len(t.doubts) > 0 {
		return fmt.Errorf("%d mutants are not what equivalent.tsv says", len(t.doubts))
	}
	return nil
}
