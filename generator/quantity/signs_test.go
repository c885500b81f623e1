package quantity

import "testing"

func TestSigns(t *testing.T) {
	for printed, want := range map[string]string{
		"1-3/8 in":            "1⅜ in",
		"-1-3/8 in":           "-1⅜ in",
		"-1/2 in":             "-½ in",
		"3/64 in":             "3⁄64 in",
		"-3/64 in":            "-3⁄64 in",
		"1-3/64 in":           "1 3⁄64 in",
		"5 ft 3-1/2 in":       "5 ft 3½ in",
		"1/4 to 3/8 in":       "¼ to ⅜ in",
		"about 1-1/2 turns":   "about 1½ turns",
		"3600 rpm +- 50 rpm":  "3600 rpm ± 50 rpm",
		"1-3/8 in +- 1/64 in": "1⅜ in ± 1⁄64 in",
		">= 60 psi":           "≥ 60 psi",
		"<= 3/16 in":          "≤ 3⁄16 in",
		"2/0 AWG":             "2/0 AWG",
		"19000 ft/min":        "19000 ft/min",
		"10 km/h":             "10 km/h",
		"14 kgf/cm2":          "14 kgf/cm2",
		"-5 to -3 degC":       "-5 to -3 degC",
		"OL":                  "OL",
		"":                    "",
	} {
		if got := Signs(printed); got != want {
			t.Errorf("%q is written %q, want %q", printed, got, want)
		}
	}
}

// What is written with signs reads back to the same.
func TestSignsReadBack(t *testing.T) {
	for _, c := range wellWritten {
		r, err := readIn(c.text, c.of)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := readIn(Signs(r.String()), c.of); err != nil || !again.Equal(r) {
			t.Errorf("%q is written %q, which reads back as %q, %v", r, Signs(r.String()), again, err)
		}
	}
	for _, s := range []string{"3600 rpm +- 50 rpm", "1-3/8 in +- 1/64 in", ">= 1-3/8 in", "<= 3/64 in"} {
		l := mustLimit(t, s)
		if again, err := ParseLimit(Signs(l.String())); err != nil || !again.Equal(l) {
			t.Errorf("%q is written %q, which reads back as %q, %v", l, Signs(l.String()), again, err)
		}
	}
}
