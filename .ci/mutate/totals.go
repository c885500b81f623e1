package main

import (
	"fmt"
	"io"
)

// The totals are what became of all mutants.
type totals struct {
	killed, unbuilt, equivalent int
	survivors                   []mutant
	doubts                      []string // claims that do not hold
}

// count takes in one mutant. One that is said to change nothing must survive.
func (t *totals) count(m mutant, f fate, c *claim) {
	switch {
	case f == unbuilt:
		t.unbuilt++
	case c != nil && f == survived:
		t.equivalent++
	case f == survived:
		t.survivors = append(t.survivors, m)
	default:
		t.killed++
		if c != nil {
			t.doubts = append(t.doubts, fmt.Sprintf("%s:%d: %s: said to change nothing, and a test fails", m.file, m.line, m.change))
		}
	}
}

func (t *totals) print(w io.Writer) {
	for _, m := range t.survivors {
		fmt.Fprintf(w, "%s:%d\n\t%s\n\t%s\n", m.file, m.line, m.change, m.source)
	}
	for _, d := range t.doubts {
		fmt.Fprintln(w, d)
	}
	fmt.Fprintf(w, "%d mutants: %d killed, %d survived; besides %d that change nothing and %d that do not build\n",
		t.killed+len(t.survivors), t.killed, len(t.survivors), t.equivalent, t.unbuilt)
	fmt.Fprintf(w, "%.1f %% killed\n", t.percent())
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

func (t *totals) err() error {
	if len(t.doubts) > 0 {
		return fmt.Errorf("%d claims of equivalent.tsv do not hold", len(t.doubts))
	}
	return nil
}
