package main

import (
	"fmt"
	"slices"
)

// A spread is the least, the median and the most of some numbers.
type spread struct {
	Min    float64
	Median float64
	Max    float64
}

func (s spread) String() string { return fmt.Sprintf("%.2f / %.2f / %.2f", s.Min, s.Median, s.Max) }

func spreadOf(values []float64) spread {
	s := slices.Sorted(slices.Values(values))
	n := len(s)
	return spread{s[0], (s[(n-1)/2] + s[n/2]) / 2, s[n-1]}
}

// A ratio is asleft's figure over the other's, by the clock and by the
// processor time of all cores together, which other programs hardly change.
type ratio struct{ clock, processor spread }

// only is a single number, which no clock was needed for.
func only(value float64) ratio { return ratioOf([]float64{value}) }

// ratioOf is of numbers for which no clock was needed.
func ratioOf(values []float64) ratio { return ratio{spreadOf(values), spreadOf(values)} }

// A measured is what both sides of a line took or held.
type measured struct {
	Asleft figure
	Other  *figure
}

// A figure is the median of a side's runs: seconds on the clock and on all
// cores together, or bytes.
type figure struct {
	Seconds   float64
	Processor float64
	Bytes     float64
}

func (m measured) String() string {
	switch {
	case m.Other == nil:
		return mb(m.Asleft.Bytes)
	case m.Asleft.Bytes > 0:
		return mb(m.Asleft.Bytes) + " / " + mb(m.Other.Bytes)
	}
	return fmt.Sprintf("%.3g s / %.3g s (processor %.3g s / %.3g s)", m.Asleft.Seconds, m.Other.Seconds, m.Asleft.Processor, m.Other.Processor)
}

// times are the medians of both sides.
func times(a, b []run) measured {
	of := func(runs []run) figure {
		return figure{Seconds: spreadOf(each(runs, clock)).Median, Processor: spreadOf(each(runs, processor)).Median}
	}
	other := of(b)
	return measured{of(a), &other}
}

// held are bytes against bytes.
func held(a, b float64) measured { return measured{figure{Bytes: a}, &figure{Bytes: b}} }

// versus is a's time over b's, run by run.
func versus(a, b []run) ratio {
	of := func(time func(run) float64) spread {
		var all []float64
		for i := range a {
			all = append(all, time(a[i])/time(b[i]))
		}
		return spreadOf(all)
	}
	return ratio{of(clock), of(processor)}
}

func clock(r run) float64     { return r.seconds }
func processor(r run) float64 { return r.cpu }

func each(runs []run, of func(run) float64) []float64 {
	var all []float64
	for _, r := range runs {
		all = append(all, of(r))
	}
	return all
}
