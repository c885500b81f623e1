package benchtest

import (
	"math/big"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

// A limit stands in the unit of the reading, with its own beside it. The factors are
// exact by definition: 1 in is 25.4 mm, 1 bar is 100 kPa (NIST SP 811, appendix B.8);
// 1 psi is 6.894757 kPa (same).
func TestLimitBeside(t *testing.T) {
	for _, tc := range []struct{ limit, reading, want string }{
		{">= 8 mm", "0.475 in", "about 0.315 in or more (8 mm or more)"},
		{">= 25.4 mm", "1.2 in", "1.0 in or more (25.4 mm or more)"},
		{"<= 0.010 in", "0.3 mm", "0.254 mm or less (0.010 in or less)"},
		{"<= 0.010 in", "0.254 mm", "0.254 mm or less (0.010 in or less)"},
		{"5 bar to 6 bar", "550 kPa", "500 kPa to 600 kPa (5 bar to 6 bar)"},
		{">= 60 psi", "450 kPa", "about 414 kPa or more (60 psi or more)"},
		{"60 Hz +- 3 Hz", "61.7 Hz", "60 Hz, give or take 3 Hz"},
		{"75 uF +- 6 %", "74.5 uF", "75 uF, give or take 6 %"},
		{"20 mm +- 1 mm", "0.79 in", "about 0.79 in, give or take 0.039 in (20 mm, give or take 1 mm)"},
		{"<= 8 mm", "0.315 in", "about 0.31496 in or less (8 mm or less)"}, // 0.314961 in
		{"<= 8 mm", "0.314 in", "about 0.315 in or less (8 mm or less)"},
		{">= 60 psi", "414 kPa", "about 413.7 kPa or more (60 psi or more)"},
		{">= 60 psi", "413 kPa", "about 414 kPa or more (60 psi or more)"},
		{"<= 25.4 mm", "1 in", "1 in or less (25.4 mm or less)"},
		{">= 60 psi", "412.6 h", "60 psi or more"},
		{">= 2", "3 mm", "2 or more"},
	} {
		q, err := quantity.Parse(tc.reading)
		if err != nil {
			t.Fatal(err)
		}
		if got := LimitBeside(catalog.English, tc.limit, q); got != tc.want {
			t.Errorf("%s beside %s: %q, want %q", tc.limit, tc.reading, got, tc.want)
		}
	}
	spread := quantity.New(big.NewRat(50, 1), 0, quantity.Fahrenheit).AsDifference() // 9 degF of difference are 5 degC
	if got := LimitBeside(catalog.English, "<= 20 degC", spread); got != "36 degF or less (20 degC or less)" {
		t.Errorf("beside a difference: %q", got)
	}
	if got := LimitBeside(catalog.English, ">= 8 mm", quantity.Quantity{}); got != "8 mm or more" {
		t.Errorf("beside a range: %q", got)
	}
}
