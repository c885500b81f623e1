package quantity

import (
	"errors"
	"strings"
	"testing"
)

func mustLimit(t testing.TB, s string) Limit {
	t.Helper()
	l, err := ParseLimit(s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestParseLimit(t *testing.T) {
	for _, c := range []struct {
		text, want, low, high string
		kind                  LimitKind
	}{
		{">= 60 psi", ">= 60 psi", "60 psi", "", AtLeast},
		{">=60psi", ">= 60 psi", "60 psi", "", AtLeast},
		{"≥ 60 psi", ">= 60 psi", "60 psi", "", AtLeast},
		{"> 60.0 psi", "> 60.0 psi", "60.0 psi", "", MoreThan},
		{"<= 0.2 V", "<= 0.2 V", "", "0.2 V", AtMost},
		{"≤ 0.2 V", "<= 0.2 V", "", "0.2 V", AtMost},
		{"< -5 degC", "< -5 degC", "", "-5 degC", LessThan},
		{"0.004 in to 0.006 in", "0.004 in to 0.006 in", "0.004 in", "0.006 in", Between},
		{"0.004 to 0.006 in", "0.004 in to 0.006 in", "0.004 in", "0.006 in", Between},
		{"0.004 in to 0.006", "0.004 in to 0.006 in", "0.004 in", "0.006 in", Between},
		{"-10 to -5 degC", "-10 degC to -5 degC", "-10 degC", "-5 degC", Between},
		{"0.004-0.006 in", "0.004 in to 0.006 in", "0.004 in", "0.006 in", Between},
		{"0.004 in – 0.006 in", "0.004 in to 0.006 in", "0.004 in", "0.006 in", Between},
		{"1/2-3/4 in", "1/2 in to 3/4 in", "1/2 in", "3/4 in", Between},
		{"5-1/2 - 6-1/2 in", "5-1/2 in to 6-1/2 in", "5-1/2 in", "6-1/2 in", Between},
		{"5' 3\" to 5' 4\"", "5 ft 3 in to 5 ft 4 in", "5 ft 3 in", "5 ft 4 in", Between},
		{"8:1 to 9:1", "8:1 to 9:1", "8:1", "9:1", Between},
		{">= 1-3/8 in", ">= 1-3/8 in", "1-3/8 in", "", AtLeast},
		{"1-3/8 in +- 1/64 in", "1-3/8 in +- 1/64 in", "1.359375 in", "1.390625 in", Around},
		{"0.1 mm to 0.006 in", "0.1 mm to 0.006 in", "0.1 mm", "0.006 in", Between},
		{"5 psi to 5 psi", "5 psi to 5 psi", "5 psi", "5 psi", Between},
		{"3600 rpm +- 50 rpm", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600 rpm ± 50 rpm", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600 rpm +/- 50 rpm", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600 +- 50 rpm", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600±50rpm", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600 rpm +- 50", "3600 rpm +- 50 rpm", "3550 rpm", "3650 rpm", Around},
		{"3600 rpm +- 2 %", "3600 rpm +- 2 %", "3528 rpm", "3672 rpm", Around},
		{"12.0 V +- 2.5 %", "12.0 V +- 2.5 %", "11.7 V", "12.3 V", Around},
		{"-12 V +- 5 %", "-12 V +- 5 %", "-12.6 V", "-11.4 V", Around},
		{"10 % +- 2 %", "10 % +- 2 %", "8 %", "12 %", Around},
		{"80 degC +- 9 degF", "80 degC +- 9 degF", "75.0 degC", "85.0 degC", Around},
		{"1 in +- 0.1 mm", "1 in +- 0.1 mm", "0.99606 in", "1.00394 in", Around},
	} {
		l, err := ParseLimit(c.text)
		if err != nil {
			t.Errorf("ParseLimit(%q): %v", c.text, err)
			continue
		}
		low, hasLow := l.Low()
		high, hasHigh := l.High()
		if l.String() != c.want || low.String() != c.low || high.String() != c.high || l.Kind() != c.kind {
			t.Errorf("ParseLimit(%q) = %q, %q to %q, kind %d", c.text, l, low, high, l.Kind())
		}
		if hasLow != (c.low != "") || hasHigh != (c.high != "") || l.IsZero() {
			t.Errorf("ParseLimit(%q) has the wrong ends", c.text)
		}
		if want := max(low.Dimension(), high.Dimension()); l.Dimension() != want {
			t.Errorf("ParseLimit(%q) is %s, want %s", c.text, l.Dimension(), want)
		}
	}
}

func TestParseLimitMistakes(t *testing.T) {
	const forms = "expected " + limitForms + "; "
	for s, want := range map[string]string{
		"":                   `read "", ` + forms + "write it in one of these forms",
		"good":               `read "good", ` + forms + "write it in one of these forms",
		"60 psi":             `read "60 psi", ` + forms + "say how far off it may be, like 60 psi +- 3 psi, or on which side: >= 60 psi or <= 60 psi",
		"0.030 in":           `read "0.030 in", ` + forms + "say how far off it may be, like 0.030 in +- 0.002 in, or on which side: >= 0.030 in or <= 0.030 in",
		"3600 rpm":           `read "3600 rpm", ` + forms + "say how far off it may be, like 3600 rpm +- 180 rpm, or on which side: >= 3600 rpm or <= 3600 rpm",
		"80 degC":            `read "80 degC", ` + forms + "say how far off it may be, like 80 degC +- 4 degC, or on which side: >= 80 degC or <= 80 degC",
		"-4 degC":            `read "-4 degC", ` + forms + "say how far off it may be, like -4 degC +- 0.2 degC, or on which side: >= -4 degC or <= -4 degC",
		"0 in":               `read "0 in", ` + forms + "say on which side: >= 0 in or <= 0 in",
		"=> 60 psi":          `read "=> 60 psi", ` + forms + "put the = after the sign, like >= or <=",
		"1-3/8 in":           `read "1-3/8 in", ` + forms + "say how far off it may be, like 1-3/8 in +- 0.07 in, or on which side: >= 1-3/8 in or <= 1-3/8 in",
		"1/4-20 in":          `read "1/4-20 in", ` + forms + "write it in one of these forms",
		"0.006-0.004 in":     `read "0.006 in to 0.004 in", expected the lower end first; swap the two ends`,
		"5 to 5 ft 3 in":     `read "5 to 5 ft 3 in", expected a unit behind both numbers; give both ends with their units, such as 5 ft 3 in to 5 ft 4 in`,
		">= ":                `read ">=", expected a number and a unit; write it like 60 psi`,
		">= 60":              `read ">= 60", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`,
		">= 60 psu":          `read ">= 60 psu", expected a unit after the number; "psu" is not a unit; did you mean psi?`,
		"4 to 6":             `read "4 to 6", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`,
		"4 psu to 6 psi":     `read "4 psu to 6 psi", expected a unit after the number; "psu" is not a unit; did you mean psi?`,
		"x to 6 psi":         `read "x to 6 psi", expected a number and a unit; begin with the number, like 60 psi`,
		"4 to 6,5 psi":       `read "4 to 6,5 psi", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`,
		"0.006 to 0.004 in":  `read "0.006 in to 0.004 in", expected the lower end first; swap the two ends`,
		"4 V to 6 A":         "4 V is a voltage, but 6 A is a current; give both in units of the same kind",
		"3600 +- 2 %":        `read "3600 +- 2 %", expected a unit after the first number; write it like 3600 rpm +- 2 %`,
		"3600 rpm +- -5 rpm": `read "3600 rpm +- -5 rpm", expected a tolerance above zero; leave out its minus sign`,
		"3600 rpm +- 5 V":    "3600 rpm is a turning speed, but 5 V is a voltage; give both in units of the same kind",
		"80 degC +- 2 %":     `read "80 degC +- 2 %", expected a tolerance in degrees; write it like 80 degC +- 5 degC`,
		">= 5 psi to 9 psi":  `read ">= 5 psi to 9 psi", expected a unit after the number; "psi to 9 psi" is not a unit; write one such as psi, in, mm, V, rpm or degF`,

		strings.Repeat(">", 1<<20): `read ">>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>>...", ` + forms + "that is too long to be one",
	} {
		l, err := ParseLimit(s)
		if err == nil {
			t.Errorf("ParseLimit(%.40q) = %s, want an error", s, l)
			continue
		}
		if err.Error() != want {
			t.Errorf("ParseLimit(%.40q)\n got %s\nwant %s", s, err, want)
		}
		if !l.IsZero() {
			t.Errorf("ParseLimit(%.40q) returned a limit beside its error", s)
		}
	}
}

func TestContains(t *testing.T) {
	for _, c := range []struct {
		limit, value string
		want         bool
	}{
		{">= 60 psi", "60 psi", true},
		{"> 60 psi", "60 psi", false},
		{"<= 0.2 V", "200 mV", true},
		{"< 0.2 V", "200 mV", false},
		{"0.004 to 0.006 in", "4 thou", true},
		{"0.004 to 0.006 in", "0.16 mm", false},
	} {
		if got, err := mustLimit(t, c.limit).Contains(must(t, c.value)); err != nil || got != c.want {
			t.Errorf("%s contains %s: %v, %v", c.limit, c.value, got, err)
		}
	}
	if got, err := (Limit{}).Contains(must(t, "1 V")); err != nil || !got {
		t.Errorf("no limit contains 1 V: %v, %v", got, err)
	}
	if got, err := mustLimit(t, "> 1 V").Contains(must(t, "2 A")); err == nil || got {
		t.Errorf("a voltage limit contains 2 A: %v, %v", got, err)
	}
}

func TestLimitConstructorsRefuse(t *testing.T) {
	if _, err := NewLimit(AtLeast, Quantity{}); !errors.Is(err, ErrNothing) {
		t.Errorf("a limit without end: %v", err)
	}
	if l, err := NewLimit(Between, must(t, "1 V")); err == nil || !l.IsZero() {
		t.Errorf("a range with one end: %v, %v", l, err)
	}
	if _, err := NewRange(Quantity{}, must(t, "1 V")); !errors.Is(err, ErrNothing) {
		t.Errorf("a range without lower end: %v", err)
	}
	if _, err := NewTolerance(must(t, "1 V"), Quantity{}); !errors.Is(err, ErrNothing) {
		t.Errorf("a tolerance of nothing: %v", err)
	}
	if (Limit{}).String() != "" || !(Limit{}).IsZero() || (Limit{}).Dimension() != None {
		t.Error("the zero Limit is not plain nothing")
	}
}
