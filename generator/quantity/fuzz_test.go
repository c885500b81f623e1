package quantity

import (
	"errors"
	"strings"
	"testing"
)

var seeds = []string{
	"0.011 in", "-3 degC", "\u22123 °C", "12.31 V", "60psi", ".5 in", "-0.0 psi", "00.50 mm", "25 ft·lb", "0.011\"", "6%",
	"5 MΩ", "5 m\u2126", "12.9 cu. in.", "1e3 psi", "1,250 rpm", "3 1/2 in", "NaN V", "Inf V", "- 3 degC", "+-5 psi",
	"999999999999999999 mm", "1000000000000000000 mm", ".000000000000000001 m", "60 psu", "\xff 5 V", "5 V\x00", "5\u00a0V", "5 .in.",
}

var limitSeeds = []string{
	">= 60 psi", "≥60psi", "> 1 V", "<= 0.2 V", "≤ 0.2 V", "< -5 degC", "0.004 in to 0.006 in", "0.004 to 0.006 in",
	"0.1 mm to 0.006 in", "3600 rpm +- 50 rpm", "3600±50 rpm", "3600 rpm +/- 2 %", "10 % +- 2 %", "3600 +- 2 %",
	"80 degC +- 9 degF", "80 degC +- 2 %", "6 to 4 in", "0.004-0.006 in", ">= ", "to", " to ", "+-", "1 in to", ">=<= 5 V", "5 psi to 6 V",
}

func FuzzParse(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s)
		if err != nil {
			checkError(t, s, err)
			if !q.IsZero() {
				t.Fatalf("Parse(%q) returned %s beside its error", s, q)
			}
			return
		}
		again, err := Parse(q.String())
		if err != nil || !again.Equal(q) {
			t.Fatalf("Parse(%q) printed %q, which read back as %s, %v", s, q, again, err)
		}
		if again.String() != q.String() {
			t.Fatalf("Parse(%q) printed %q and then %q", s, q, again)
		}
		if len(q.String()) > maxText {
			t.Fatalf("Parse(%q) printed %d bytes", s, len(q.String()))
		}
	})
}

func FuzzParseLimit(f *testing.F) {
	for _, s := range append(limitSeeds, seeds...) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		l, err := ParseLimit(s)
		if err != nil {
			checkError(t, s, err)
			if !l.IsZero() {
				t.Fatalf("ParseLimit(%q) returned %s beside its error", s, l)
			}
			return
		}
		again, err := ParseLimit(l.String())
		if err != nil || !again.Equal(l) {
			t.Fatalf("ParseLimit(%q) printed %q, which read back as %s, %v", s, l, again, err)
		}
		checkEnds(t, s, l)
	})
}

// checkEnds demands that a limit has an end, that its ends are in order, and
// that it admits an end that is not strict.
func checkEnds(t *testing.T, s string, l Limit) {
	t.Helper()
	low, hasLow := l.Low()
	high, hasHigh := l.High()
	if !hasLow && !hasHigh || l.IsZero() || l.Dimension() == None {
		t.Fatalf("ParseLimit(%q) has no end", s)
	}
	if hasLow && hasHigh {
		if order, err := low.Cmp(high); err != nil || order > 0 {
			t.Fatalf("ParseLimit(%q) runs from %s to %s, %v", s, low, high, err)
		}
	}
	end := low
	if !hasLow {
		end = high
	}
	strict := l.Kind() == MoreThan || l.Kind() == LessThan
	if in, err := l.Contains(end); err != nil || in == strict {
		t.Fatalf("ParseLimit(%q) contains its end %s: %v, %v", s, end, in, err)
	}
}

func FuzzParseGauge(f *testing.F) {
	for _, s := range append([]string{"2 %", "2 % of reading", "± 0.001 in", "+-2 psi", "0 in", "-1 in", "2 psi of reading", "5 % of 300 psi", "2% of 10 bar", "5 % of full scale", "1 % of 100 degC", "0.5 % + 2 digits"}, seeds...) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		g, err := ParseGauge(s)
		if err != nil {
			checkError(t, s, err)
			return
		}
		again, err := ParseGauge(g.String())
		if err != nil || !again.Equal(g) {
			t.Fatalf("ParseGauge(%q) printed %q, which read back as %s, %v", s, g, again, err)
		}
		if g.Size().Sign() <= 0 {
			t.Fatalf("ParseGauge(%q) accepted a gauge of %s", s, g)
		}
	})
}

// checkError demands an error that a caller can take apart and a mechanic can
// read on a line or two.
func checkError(t *testing.T, s string, err error) {
	t.Helper()
	var parse *ParseError
	var mismatch *MismatchError
	switch {
	case errors.As(err, &parse):
		if parse.Expected == "" || parse.Mend == "" {
			t.Fatalf("%q: the error has an empty part: %#v", s, parse)
		}
	case errors.As(err, &mismatch):
		if mismatch.Have == mismatch.Want {
			t.Fatalf("%q: a mismatch of like with like: %v", s, err)
		}
	default:
		t.Fatalf("%q: an error of another type: %v", s, err)
	}
	if len(err.Error()) > 400 || strings.Contains(err.Error(), "\n") {
		t.Fatalf("%q: the error is too long or has several lines: %v", s, err)
	}
}

var readingSeeds = []string{
	"about 60 psi", "~60psi", "60 to 70 psi", "60 psi to 1 bar", "between 60 and 70 psi", "> 550 Mohm", "\u2265 5 V", "<= 0.1 V", "<0.1V",
	"1-3/8 in", "½ in", "5' 3-1/2\"", "1 h 30 min", "2/0 AWG", "00 AWG", "50:1", "60-70 psi", "1/2-3/4 in", "12/24 V", "1/4-20", "8.2 K", "550+ V",
	"OL", "ol", "0L", "open", "about > 5 V", "about 60 to 70 psi", "over 9000 rpm", "between 5 V", "> OL", "about", ">", "to", "70 to 60 psi",
}

func FuzzParseReading(f *testing.F) {
	for _, s := range append(readingSeeds, seeds...) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ParseReading(s)
		if err != nil {
			checkError(t, s, err)
			if !r.IsZero() {
				t.Fatalf("ParseReading(%q) returned %s beside its error", s, r)
			}
			return
		}
		again, err := ParseReading(r.String())
		if err != nil || !again.Equal(r) || again.String() != r.String() {
			t.Fatalf("ParseReading(%q) printed %q, which read back as %s, %v", s, r, again, err)
		}
		if low, high, lowOpen, highOpen := r.Bounds(); !lowOpen && !highOpen {
			if order, err := low.Cmp(high); err != nil || order > 0 {
				t.Fatalf("ParseReading(%q) runs from %s to %s, %v", s, low, high, err)
			}
		}
		if v, err := JudgeReading(r, Gauge{}, Limit{}); err != nil || v != NotLimited {
			t.Fatalf("ParseReading(%q) without a limit is %s, %v", s, v, err)
		}
	})
}
