package quantity

import (
	"errors"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func mustReading(t testing.TB, s string) Reading {
	t.Helper()
	r, err := ParseReading(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestParseReading(t *testing.T) {
	for _, c := range []struct {
		text, want, low, high string
		lowOpen, highOpen     bool
	}{
		{"60 psi", "60 psi", "60 psi", "60 psi", false, false},
		{"0 psi", "0 psi", "0 psi", "0 psi", false, false},
		{"about 60 psi", "about 60 psi", "60 psi", "60 psi", false, false},
		{"About 60 psi", "about 60 psi", "60 psi", "60 psi", false, false},
		{"~60psi", "about 60 psi", "60 psi", "60 psi", false, false},
		{"≈ 60 psi", "about 60 psi", "60 psi", "60 psi", false, false},
		{"approx. 60 psi", "about 60 psi", "60 psi", "60 psi", false, false},
		{"60 to 70 psi", "60 to 70 psi", "60 psi", "70 psi", false, false},
		{"60 psi to 70 psi", "60 to 70 psi", "60 psi", "70 psi", false, false},
		{"between 60 and 70 psi", "60 to 70 psi", "60 psi", "70 psi", false, false},
		{"10 mm to 0.5 in", "10 mm to 0.5 in", "10 mm", "0.5 in", false, false},
		{"-10 to -5 degC", "-10 to -5 degC", "-10 degC", "-5 degC", false, false},
		{"> 550 Mohm", "> 550 Mohm", "550 Mohm", "", false, true},
		{">550Mohm", "> 550 Mohm", "550 Mohm", "", false, true},
		{"over 550 Mohm", "> 550 Mohm", "550 Mohm", "", false, true},
		{">= 550 Mohm", "≥ 550 Mohm", "550 Mohm", "", false, true},
		{"≥ 550 Mohm", "≥ 550 Mohm", "550 Mohm", "", false, true},
		{"at least 550 Mohm", "≥ 550 Mohm", "550 Mohm", "", false, true},
		{"< 0.1 V", "< 0.1 V", "", "0.1 V", true, false},
		{"less than 0.1 V", "< 0.1 V", "", "0.1 V", true, false},
		{"<= 0.1 V", "≤ 0.1 V", "", "0.1 V", true, false},
		{"at most 0.1 V", "≤ 0.1 V", "", "0.1 V", true, false},
		{"OL", "OL", "", "", true, true},
		{" ol ", "OL", "", "", true, true},
		{"O.L.", "OL", "", "", true, true},
		{"open", "OL", "", "", true, true},
		{"infinity", "OL", "", "", true, true},
	} {
		r, err := ParseReading(c.text)
		low, high, lowOpen, highOpen := r.Bounds()
		if err != nil || r.String() != c.want || low.String() != c.low || high.String() != c.high || lowOpen != c.lowOpen || highOpen != c.highOpen {
			t.Errorf("ParseReading(%q) = %q, %v: %q (%v) to %q (%v); want %q", c.text, r, err, low, lowOpen, high, highOpen, c.want)
		}
		if r.IsZero() || r.IsAbout() != strings.HasPrefix(c.want, "about") || r.IsOpen() != (c.want == "OL") {
			t.Errorf("ParseReading(%q) does not know its own form", c.text)
		}
		if q, plain := r.Plain(); plain != (c.want == c.low) || plain && q.String() != c.low {
			t.Errorf("ParseReading(%q): the plain value is %q, %v", c.text, q, plain)
		}
	}
}

func TestParseReadingMistakes(t *testing.T) {
	const forms = "expected " + readingForms + "; "
	for s, want := range map[string]string{
		"0L":                       `read "0L", ` + forms + "write OL if the meter showed no value, or 0 L for no liters",
		"about > 60 psi":           `read "about > 60 psi", ` + forms + "leave out one of the two marks before the number",
		"about 60 to 70 psi":       `read "about 60 to 70 psi", ` + forms + "leave out the word before the first number; a range says it already",
		"> 60 to 70 psi":           `read "> 60 to 70 psi", ` + forms + "write the range alone, or the sign with one value",
		"70 to 60 psi":             `read "70 to 60 psi", expected the lower end first; swap the two ends`,
		"60 psi to 70 V":           "60 psi is a pressure, but 70 V is a voltage; give both in units of the same kind",
		"> 60 psu":                 `read "> 60 psu", expected a unit after the number; "psu" is not a unit; did you mean psi?`,
		strings.Repeat(">", 1<<20): `read ">>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>...", ` + forms + "that is too long to be one",
	} {
		r, err := ParseReading(s)
		if err == nil || err.Error() != want {
			t.Errorf("ParseReading(%.40q)\n got %v\nwant %s", s, err, want)
		}
		if !r.IsZero() {
			t.Errorf("ParseReading(%.40q) returned %s beside its error", s, r)
		}
	}
}

func TestReadingOf(t *testing.T) {
	r := ReadingOf(must(t, "0 psi"))
	if q, plain := r.Plain(); !plain || q.String() != "0 psi" || r.IsZero() || r.Dimension() != Pressure || !r.Equal(mustReading(t, "0 psi")) {
		t.Errorf("the reading of 0 psi is %q", r)
	}
	var none Reading
	if !ReadingOf(Quantity{}).IsZero() || !none.IsZero() || none.String() != "" || none.Dimension() != None {
		t.Error("the reading of nothing is not plain nothing")
	}
	if _, plain := none.Plain(); plain {
		t.Error("nothing counts as a plain value")
	}
	if mustReading(t, "OL").Dimension() != None || mustReading(t, "OL").IsZero() {
		t.Error("OL has a dimension, or counts as not given")
	}
	if r.Equal(none) || r.Equal(mustReading(t, "about 0 psi")) || mustReading(t, "< 5 V").Equal(mustReading(t, "<= 5 V")) {
		t.Error("readings of different forms count as written alike")
	}
}

// A range or an open reading is inside only if all of it is, and outside only
// if none of it is.
func TestJudgeReading(t *testing.T) {
	for _, c := range []struct {
		reading, gauge, limit string
		want                  Verdict
	}{
		{"60 to 70 psi", "", ">= 60 psi", Inside},
		{"60 to 70 psi", "", "> 60 psi", TooClose},
		{"59 to 70 psi", "", ">= 60 psi", TooClose},
		{"50 to 59 psi", "", ">= 60 psi", Outside},
		{"50 to 60 psi", "", ">= 60 psi", TooClose},
		{"50 to 60 psi", "", "> 60 psi", Outside},
		{"60 to 70 psi", "2 psi", ">= 60 psi", TooClose},
		{"62 to 70 psi", "2 psi", ">= 60 psi", Inside},
		{"50 to 57 psi", "2 psi", ">= 60 psi", Outside},
		{"50 to 58 psi", "2 psi", ">= 60 psi", TooClose},
		{"3550 to 3650 rpm", "", "3600 rpm +- 50 rpm", Inside},
		{"3550 to 3651 rpm", "", "3600 rpm +- 50 rpm", TooClose},
		{"3000 to 4000 rpm", "", "3600 rpm +- 50 rpm", TooClose},
		{"> 550 Mohm", "", ">= 5 Mohm", Inside},
		{"> 550 Mohm", "", ">= 550 Mohm", Inside},
		{"> 550 Mohm", "", "> 550 Mohm", Inside},
		{">= 550 Mohm", "", "> 550 Mohm", TooClose},
		{"> 550 Mohm", "", ">= 1000 Mohm", TooClose},
		{"> 550 Mohm", "2 %", ">= 550 Mohm", TooClose},
		{"> 550 Mohm", "2 %", ">= 539 Mohm", Inside},
		{"> 550 Mohm", "", "<= 550 Mohm", Outside},
		{">= 550 Mohm", "", "<= 550 Mohm", TooClose},
		{">= 550 Mohm", "", "< 550 Mohm", Outside},
		{"> 550 Mohm", "", "<= 600 Mohm", TooClose},
		{"> 5 V", "", "1 V to 9 V", TooClose},
		{"> 9 V", "", "1 V to 9 V", Outside},
		{"< 0.1 V", "", "<= 0.2 V", Inside},
		{"< 0.2 V", "", "< 0.2 V", Inside},
		{"<= 0.2 V", "", "< 0.2 V", TooClose},
		{"< 0.3 V", "", "<= 0.2 V", TooClose},
		{"< 12 V", "", ">= 12 V", Outside},
		{"<= 12 V", "", ">= 12 V", TooClose},
		{"<= 12 V", "", "> 12 V", Outside},
		{"< 12 V", "0.1 V", ">= 12 V", TooClose},
		{"< 0.002 in", "", "0 in to 0.003 in", Inside}, // neither was thought to go below zero
		{"< 0.002 in", "", "0.001 in to 0.003 in", TooClose},
		{"< -1 V", "", "0 V to 5 V", Outside},
		{"< 0 V", "", ">= 0 V", Outside},
		{"< 5 degC", "", "0 degC to 10 degC", TooClose},
		{"about 60 psi", "", ">= 60 psi", TooClose},
		{"about 600 psi", "", ">= 60 psi", TooClose},
		{"about 600 psi", "2 psi", ">= 60 psi", Inside},
		{"about 58 psi", "2 psi", ">= 60 psi", TooClose},
		{"about 50 psi", "2 psi", ">= 60 psi", Outside},
		{"about 60 psi", "", "", NotLimited},
		{"OL", "", ">= 5 Mohm", Inside},
		{"OL", "2 %", "> 5 Mohm", Inside},
		{"OL", "", "<= 5 ohm", Outside},
		{"OL", "", "3 kohm to 5 kohm", Outside},
		{"OL", "", "<= 0.2 V", TooClose},
		{"OL", "", ">= 12 V", TooClose},
		{"OL", "", "", NotLimited},
		{"> 550 Mohm", "", "", NotLimited},
		{"0 psi", "", ">= 60 psi", Outside},
		{"0 V", "", "<= 0.2 V", Inside},
		{"20 to 30 degC", "", "<= 86 degF", Inside},
		{"0.1 mm to 0.006 in", "", "<= 0.15 mm", TooClose},
	} {
		got, err := JudgeReading(mustReading(t, c.reading), optionalGauge(t, c.gauge), optionalLimit(t, c.limit))
		if err != nil || got != c.want {
			t.Errorf("%s read with %q against %q is %s, %v; want %s", c.reading, c.gauge, c.limit, got, err, c.want)
		}
	}
}

func TestJudgeReadingRefuses(t *testing.T) {
	_, err := JudgeReading(mustReading(t, "> 12 V"), Gauge{}, mustLimit(t, ">= 60 psi"))
	if want := "the reading > 12 V is a voltage, but the limit >= 60 psi is a pressure; give both in units of the same kind"; err == nil || err.Error() != want {
		t.Errorf("a voltage against a pressure\n got %v\nwant %s", err, want)
	}
	var mismatch *MismatchError
	if v, err := JudgeReading(mustReading(t, "12 to 13 V"), mustGauge(t, "1 psi"), Limit{}); !errors.As(err, &mismatch) || v != "" {
		t.Errorf("a voltage read with a pressure gauge: %q, %v", v, err)
	}
	if v, err := JudgeReading(Reading{}, Gauge{}, mustLimit(t, ">= 60 psi")); !errors.Is(err, ErrNothing) || v != "" {
		t.Errorf("no reading: %q, %v", v, err)
	}
}

// A difference of temperatures is held against a limit in another scale as a
// difference.
func TestJudgeReadingOfADifference(t *testing.T) {
	rise := ReadingOf(must(t, "9 degF").AsDifference())
	if got, err := JudgeReading(rise, Gauge{}, mustLimit(t, "<= 5 degC")); err != nil || got != Inside {
		t.Errorf("a rise of 9 degF against <= 5 degC is %s, %v", got, err)
	}
}

// The verdict, checked by trying single values: those of the reading, and those
// just beside the ends.
func TestPropertyJudgeReadingTriesEveryValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(n int64) Quantity { return New(big.NewRat(n, 2), 1, Psi) }
		ends := rapid.SliceOfNDistinct(rapid.Int64Range(-6, 6), 2, 2, rapid.ID).Draw(t, "limit")
		kind := LimitKind(rapid.IntRange(int(AtLeast), int(Between)).Draw(t, "kind"))
		limit, err := NewLimit(kind, at(ends[0]))
		if kind == Between {
			limit, err = NewRange(at(min(ends[0], ends[1])), at(max(ends[0], ends[1])))
		}
		check(t, limit, err)
		form := rapid.SampledFrom([]readingForm{plainReading, rangeReading, aboveReading, atLeastReading, belowReading, atMostReading}).Draw(t, "form")
		low, high := rapid.Int64Range(-6, 6).Draw(t, "low"), rapid.Int64Range(-6, 6).Draw(t, "high")
		low, high = min(low, high), max(low, high)
		if form != rangeReading {
			high = low
		}
		got, err := JudgeReading(Reading{form: form, low: at(low), high: at(high)}, Gauge{}, limit)
		check(t, got, err)
		if want := triedVerdict(t, form, low, high, limit, at); got != want {
			t.Fatalf("%s against %s is %s, want %s", Reading{form: form, low: at(low), high: at(high)}, limit, got, want)
		}
	})
}

// triedVerdict judges by trying the values from far below to far above.
func triedVerdict(t *rapid.T, form readingForm, low, high int64, limit Limit, at func(int64) Quantity) Verdict {
	allowed, refused := 0, 0
	begin, _ := limit.Low()
	fromZero := !begin.IsZero() && begin.Sign() == 0
	for n := int64(-100); n <= 100; n++ { // quarters of a psi
		value := New(big.NewRat(n, 4), 2, Psi)
		stands := map[readingForm]bool{
			plainReading: n == 2*low, rangeReading: 2*low <= n && n <= 2*high,
			aboveReading: n > 2*low, atLeastReading: n >= 2*low, belowReading: n < 2*low, atMostReading: n <= 2*low,
		}[form]
		if below := form == belowReading || form == atMostReading; below && fromZero && low > 0 && n < 0 {
			continue // the reading was not thought to go below zero
		}
		in, err := limit.Contains(value)
		switch {
		case check(t, stands, err) && in:
			allowed++
		case stands:
			refused++
		}
	}
	switch {
	case refused == 0:
		return Inside
	case allowed == 0:
		return Outside
	}
	return TooClose
}

func TestPropertyReadingPrintAndParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit.Draw(t, "unit")
		r := Reading{form: readingForm(rapid.IntRange(int(plainReading), int(openReading)).Draw(t, "form"))}
		switch r.form {
		case openReading:
		case rangeReading:
			r.low = written(t, u, "lower end")
			r.high = check2(t)(r.low.Add(size(t, unitLike(t, u, "unit of width"), "width").AsDifference()))
		default:
			r.low = written(t, u, "value")
			r.high = r.low
		}
		again, err := ParseReading(r.String())
		if err != nil {
			t.Fatal(err)
		}
		if again.String() != r.String() {
			t.Fatalf("%s read back as %s", r, again)
		}
	})
}

// A reading that is multiplied keeps its form, and so does its gauge.
func TestReadingTimes(t *testing.T) {
	for text, want := range map[string]string{
		"60 psi": "75.0 psi", "about 60 psi": "about 75.0 psi", "60 to 70 psi": "75.0 to 87.5 psi", "> 60 psi": "> 75.0 psi",
		"<= 60 psi": "\u2264 75.0 psi", "OL": "OL", "5 ft 3 in": "78.8 in", "1/2 in": "0.6 in",
	} {
		r := mustReading(t, text)
		if got := r.Times(big.NewRat(5, 4), 1).String(); got != want || r.String() == got && text != "OL" {
			t.Errorf("%s times 5/4 is %s, want %s", text, got, want)
		}
	}
	if !(Reading{}).Times(big.NewRat(5, 4), 1).IsZero() {
		t.Error("nothing times 5/4 is something")
	}
	for text, want := range map[string]string{"2 psi": "2.5 psi", "2 %": "2 %", "2 % of reading": "2 % of reading", "5 % of 300 psi": "18.8 psi"} {
		g, err := ParseGauge(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := g.Times(big.NewRat(5, 4), 1).String(); got != want {
			t.Errorf("%s times 5/4 is %s, want %s", text, got, want)
		}
	}
	if !(Gauge{}).Times(big.NewRat(5, 4), 1).IsZero() {
		t.Error("no gauge times 5/4 is one")
	}
}
