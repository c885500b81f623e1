package main

import (
	"fmt"
	"os"
	"strings"
)

// A result is a line of the table.
type result struct {
	what, against string
	// times are for people: what both sides took, or held.
	times string
	ratio spread
	// bar is the most that the ratio may be; none for a line that only informs.
	bar float64
	// shortBar is the band of the short form; 0 means bar. It is what was
	// measured when it was written, not what is wanted: take it down with each
	// improvement, so that CI sees when one is lost.
	shortBar float64
	unit     string // after the numbers, for a line that is no ratio
}

// margin is how far out of its band a ratio has to be for CI to fail: shared
// machines are noisy.
const margin = 1.5

func (b *bench) limit(r result) float64 {
	if b.short && r.shortBar > 0 {
		return r.shortBar
	}
	return r.bar
}

func (b *bench) print(results []result) {
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("Machine: %s; load when it ended: %s\n", machineName(), strings.Join(strings.Fields(string(load))[:min(3, len(strings.Fields(string(load))))], " "))
	fmt.Printf("%d alternating runs a row; a ratio is asleft's over the other's.\n\n", b.runs)
	fmt.Printf("| what | against | measured (medians) | ratio min / median / max | %s | met |\n", map[bool]string{true: "band", false: "bar"}[b.short])
	fmt.Println("| --- | --- | --- | --- | --- | --- |")
	for _, r := range results {
		limit, bar, met := b.limit(r), "-", "-"
		if limit > 0 {
			bar, met = fmt.Sprintf("%.4g%s", limit, r.unit), "yes"
			if r.ratio.median > limit {
				met = "**no**"
			}
		}
		fmt.Printf("| %s | %s | %s | %.2f / %.2f / %.2f%s | %s | %s |\n", r.what, r.against, r.times, r.ratio.min, r.ratio.median, r.ratio.max, r.unit, bar, met)
	}
	fmt.Println()
	for _, n := range b.notes {
		fmt.Println("-", n)
	}
}

// judge is for CI: the short form fails where a row is far out of its band.
func (b *bench) judge(results []result) error {
	if !b.short {
		return nil
	}
	var far []string
	for _, r := range results {
		if limit := b.limit(r); limit > 0 && r.ratio.median > limit*margin {
			far = append(far, fmt.Sprintf("%s: %.2f where at most %.4g is the band", r.what, r.ratio.median, limit))
		}
	}
	if len(far) > 0 {
		return fmt.Errorf("far out of the band:\n  %s", strings.Join(far, "\n  "))
	}
	return nil
}

func mb(bytes float64) string { return fmt.Sprintf("%.0f MB", bytes/1e6) }

// times are the medians of both sides: on the clock, and on all cores together.
func times(a, b []run) string {
	cpu := func(r run) float64 { return r.cpu }
	return fmt.Sprintf("%.3g s / %.3g s (processor %.3g s / %.3g s)", spreadOf(seconds(a)).median, spreadOf(seconds(b)).median,
		spreadOf(each(a, cpu)).median, spreadOf(each(b, cpu)).median)
}

// versus is the spread of a's time over b's, run by run.
func versus(a, b []run) spread { return spreadOf(ratios(seconds(a), seconds(b))) }
