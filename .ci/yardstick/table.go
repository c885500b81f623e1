package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
)

// A result is a line of the table.
type result struct {
	what, against string
	times         measured
	ratio         ratio
	// bar is the most that the ratio may be; 0 for a line that only informs.
	bar float64
	// shortBar is the band of the short form, at whose small sizes the bar does
	// not hold: CI fails above it. See wide.
	shortBar float64
	unit     string // after the numbers, for a line that is no ratio
	// peak is for a line that is about the most: of its runs the worst counts.
	peak bool
}

// The short form judges processor time, not the clock: on two cores with thirty
// other programs at work the clock's ratios of one row ranged over a factor of
// three within a run (start-up 1.35 to 3.44), while the processor's stayed
// within a third of what they are on a quieter machine (2.0 to 2.7). What the
// processor does not see, such as work no longer done side by side, only the
// full form sees. The bands are what the short form measured when the row was
// last set, times wide (that third, and half as much again for another
// processor), or times heavier for memory, which load does not change. A time
// is out of its band only if its least ratio is, so a burst of load in one run
// does no harm. Growth holds asleft against itself and needs less room. Take the
// figures down with each improvement, so that CI sees when one is lost.
const (
	wide    = 2
	heavier = 1.3
)

// ratio is the one that counts.
func (b *bench) ratio(r result) spread {
	if b.short {
		return r.ratio.processor
	}
	return r.ratio.clock
}

// judged is the number that decides: the median for the bar, the least for the
// band, and the most where the line is about a peak.
func (b *bench) judged(r result) float64 {
	switch s := b.ratio(r); {
	case r.peak:
		return s.Max
	case b.short:
		return s.Min
	default:
		return s.Median
	}
}

// limit is the bar, or the band of the short form; 0 for none.
func (b *bench) limit(r result) float64 {
	if b.short && r.shortBar > 0 {
		return r.shortBar
	}
	return r.bar
}

// judge is for CI: the short form fails where a row is out of its band.
func (b *bench) judge(results []result) error {
	if !b.short {
		return nil
	}
	var far []string
	for _, r := range results {
		if limit := b.limit(r); limit > 0 && b.judged(r) > limit {
			far = append(far, fmt.Sprintf("%s, against %s: %.2f%s; up to %.4g%s is in its band", r.what, r.against, b.judged(r), r.unit, limit, r.unit))
		}
	}
	if len(far) > 0 {
		return fmt.Errorf("out of the band:\n  %s", strings.Join(far, "\n  "))
	}
	return nil
}

// cells are the table, its head first.
func (b *bench) cells(results []result) [][]string {
	head := []string{"what", "against", "measured (medians)", "ratio: least / median / most", "bar", "met"}
	if b.short {
		head = append(head[:4], "bar (full size)", "short band", "within")
	}
	all := [][]string{head}
	for _, r := range results {
		line := []string{r.what, r.against, r.times.String(), b.ratio(r).String() + r.unit, atMost(r.bar, r.unit)}
		if b.short {
			line = append(line, atMost(b.limit(r), r.unit))
		}
		all = append(all, append(line, b.met(r)))
	}
	return all
}

func atMost(limit float64, unit string) string {
	if limit == 0 {
		return "-"
	}
	return fmt.Sprintf("%.3g%s", limit, unit)
}

func (b *bench) met(r result) string {
	switch limit := b.limit(r); {
	case limit == 0:
		return "-"
	case b.judged(r) > limit:
		return "no"
	}
	return "yes"
}

// print is the table for a terminal.
func (b *bench) print(w io.Writer, m machine, results []result) error {
	fmt.Fprintf(w, "%s\n%s\n\n", m, b.turnsSay())
	columns := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, line := range b.cells(results) {
		fmt.Fprintln(columns, strings.ReplaceAll(strings.Join(line, "\t"), "`", ""))
	}
	if err := columns.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w)
	return b.list(w)
}

func (b *bench) turnsSay() string {
	what, judged := "seconds on the clock", "the median has to meet the bar"
	if b.short {
		what, judged = "processor seconds", "the least has to be within the band"
	}
	return fmt.Sprintf("%d alternating runs a row, after one that does not count. A ratio is asleft's figure over the other's of the same round, of %s; %s, of memory the most.", b.runs, what, judged)
}

func (b *bench) list(w io.Writer) error {
	var err error
	for _, n := range b.notes {
		_, err = fmt.Fprintln(w, "-", n)
	}
	return err
}

func mb(bytes float64) string { return fmt.Sprintf("%.0f MB", bytes/1e6) }
