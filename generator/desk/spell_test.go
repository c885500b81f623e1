package desk

import (
	"strings"
	"testing"
)

// The ways to write a day, an hour and an amount are common practice, no source.
func TestSpelled(t *testing.T) {
	for _, c := range []struct {
		ask         asking
		typed, want string
	}{
		{money, "$40", "40"}, {money, "$ 1,200.50", "1200.50"}, {money, "12,50", "12,50"}, {money, "40 USD", "40"}, {money, "USD 1,390.50", "1390.50"}, {money, "US$40", "40"}, {money, "40 $", "40"}, {money, "€40", "€40"}, {money, "£ 40", "£ 40"}, {money, "40 CAD", "40 CAD"}, {money, "-$40", "-$40"}, {money, "USD", "USD"}, {money, "$", "$"}, {money, "1,20", "1,20"},
		{clock, "7 pm", "19:00"}, {clock, "7:30 PM", "19:30"}, {clock, "12 am", "00:00"}, {clock, "12:15 p.m.", "12:15"}, {clock, "19 pm", "19 pm"}, {clock, "18:30", "18:30"}, {clock, "7", "7"},
		{length, "20 minutes", "0:20"}, {length, "90 min", "1:30"}, {length, "1 h 20 min", "1:20"}, {length, "1 hour and 5 minutes", "1:05"}, {length, "1.5 hours", "1.5"}, {length, "1.5 h", "1.5 h"}, {length, "1 h 75 min", "1 h 75 min"}, {length, "2,75", "2.75"}, {length, "2,75 hours", "2.75"}, {length, "2,750", "2,750"}, {length, "45", "45"}, {length, "a while", "a while"},
		{date, "March 2, 2026", "2026-03-02"}, {date, "2 Mar 2026", "2026-03-02"}, {date, "3/25/2026", "2026-03-25"}, {date, "25.3.2026", "2026-03-25"}, {date, "3/3/2026", "2026-03-03"},
		{date, "3/2/2026", "3/2/2026"}, {date, "2/31/2026", "2/31/2026"}, {date, "about 2012", "about 2012"}, {date, "2026-03-02", "2026-03-02"},
		{line, "$40", "$40"},
	} {
		if got := spelled(c.ask, "x", c.typed, "USD"); got != c.want {
			t.Errorf("%q gives %q, want %q", c.typed, got, c.want)
		}
	}
	for _, c := range []struct{ currency, typed, want string }{
		{"EUR", "€40", "40"}, {"EUR", "40 €", "40"}, {"EUR", "40 EUR", "40"}, {"EUR", "$40", "$40"}, {"EUR", "40 USD", "40 USD"},
		{"GBP", "£40", "40"}, {"CAD", "$40", "40"}, {"CAD", "CA$40", "40"}, {"CAD", "US$40", "US$40"}, {"", "$40", "$40"},
	} {
		if got := spelled(money, "x", c.typed, c.currency); got != c.want {
			t.Errorf("in %s %q gives %q, want %q", c.currency, c.typed, got, c.want)
		}
	}
	for typed, want := range map[string]string{"12,6 V": "12.6 V", "12,65": "12.65", "1,265": "1,265", "41 psi, 42 psi": "41 psi, 42 psi", "left, rear": "left, rear"} {
		if got := decimalComma.ReplaceAllString(typed, "$1.$2$3"); got != want {
			t.Errorf("of a test that takes one reading, %q gives %q, want %q", typed, got, want)
		}
	}
	if got := spelled(line, "tests.where", "7 pm", "USD"); got != "7 pm" {
		t.Errorf("a test's field gives %q", got)
	}
}

func TestReadings(t *testing.T) {
	for typed, want := range map[string]string{
		"105 psi, 98 psi": "105 psi|98 psi", "105 psi,98 psi": "105 psi|98 psi", "12,14": "12|14", "1.265, 1.270": "1.265|1.270", "0.5,0.25 in": "0.5|0.25 in", "1/2,3/4 in": "1/2|3/4 in", "a\nb": "a|b",
		"41,5 psi": "41,5 psi", "41,5 psi, 42,5 psi": "41,5 psi|42,5 psi", "1,250 rpm": "1,250 rpm", "12,5 %": "12,5 %",
	} {
		if got := strings.Join(readings(typed), "|"); got != want {
			t.Errorf("%q is taken for %q, want %q", typed, got, want)
		}
	}
}
