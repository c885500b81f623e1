package quantity

import (
	"errors"
	"testing"
)

func mustGauge(t testing.TB, s string) Gauge {
	t.Helper()
	g, err := ParseGauge(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestGaugeInterval(t *testing.T) {
	for _, c := range []struct{ gauge, printed, value, low, high string }{
		{"0.001 in", "0.001 in", "0.011 in", "0.010 in", "0.012 in"},
		{"± 0.001 in", "0.001 in", "0.011 in", "0.010 in", "0.012 in"},
		{"+-0.5 thou", "0.5 thou", "0.011 in", "0.0105 in", "0.0115 in"},
		{"2 %", "2 %", "150 psi", "147 psi", "153 psi"},
		{"2 % of reading", "2 % of reading", "150 psi", "147 psi", "153 psi"},
		{"2 % of the reading", "2 % of reading", "-10 V", "-10.2 V", "-9.8 V"},
		{"0.5 %", "0.5 %", "12.31 V", "12.24845 V", "12.37155 V"},
		{"2 %", "2 %", "12 %", "10 %", "14 %"}, // percentage points
		{"2 % of reading", "2 % of reading", "12 %", "11.76 %", "12.24 %"},
		{"5 % of 300 psi", "5 % of 300 psi", "60 psi", "45 psi", "75 psi"},
		{"±2% of 10 bar", "2 % of 10 bar", "100 psi", "97.10 psi", "102.90 psi"}, // 0.2 bar is 2.9008 psi
		{"9 degF", "9 degF", "20 degC", "15.0 degC", "25.0 degC"},
		{"2 degC", "2 degC", "54 degF", "50.4 degF", "57.6 degF"},
	} {
		g := mustGauge(t, c.gauge)
		low, high, err := g.Interval(must(t, c.value))
		if err != nil || low.String() != c.low || high.String() != c.high || g.String() != c.printed {
			t.Errorf("%s read with %q: %s to %s, %v; want %s to %s", c.value, g, low, high, err, c.low, c.high)
		}
	}
}

func TestGaugeMistakes(t *testing.T) {
	for s, want := range map[string]string{
		"":                  `read "", expected a number and a unit; write it like 60 psi`,
		"good":              `read "good", expected a number and a unit; begin with the number, like 60 psi`,
		"± 2":               `read "± 2", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`,
		"-1 psi":            `read "-1 psi", expected an accuracy above zero; leave the gauge out if its accuracy is not known`,
		"0 psi":             `read "0 psi", expected an accuracy above zero; leave the gauge out if its accuracy is not known`,
		"5 % of full scale": `read "5 % of full scale", expected how far the scale goes, after of; write it like 5 % of 300 psi`,
		"5 % of 100 %":      `read "5 % of 100 %", expected how far the scale goes, after of; write it like 5 % of 300 psi`,
		"5 % of 0 psi":      `read "5 % of 0 psi", expected an accuracy above zero; leave the gauge out if its accuracy is not known`,
		"x % of 300 psi":    `read "x % of 300 psi", expected a number and a unit; begin with the number, like 60 psi`,
		"1 % of 100 degC":   `read "1 % of 100 degC", expected the accuracy in degrees; write it like 2 degC`,
		"0.5 % + 2 digits":  `read "0.5 % + 2 digits", expected one accuracy; add both up for this reading: 0.5 % + 2 digits at 12.6 V is 0.063 V and 0.2 V, so write 0.27 V`,
		"2 psi of reading":  `read "2 psi of reading", expected a percentage before of reading; write it like 2 % of reading, or leave those words out`,
	} {
		g, err := ParseGauge(s)
		var parse *ParseError
		if !errors.As(err, &parse) || err.Error() != want {
			t.Errorf("ParseGauge(%q)\n got %v\nwant %s", s, err, want)
		}
		if !g.IsZero() {
			t.Errorf("ParseGauge(%q) returned %q beside its error", s, g)
		}
	}
}

func TestGaugeRefusesAReading(t *testing.T) {
	_, _, err := mustGauge(t, "2 psi").Interval(must(t, "12 V"))
	var mismatch *MismatchError
	if !errors.As(err, &mismatch) || mismatch.Have != Pressure || mismatch.Want != Voltage {
		t.Errorf("12 V read with 2 psi: %v", err)
	}
	var parse *ParseError
	if _, _, err := mustGauge(t, "2 %").Interval(must(t, "12 degC")); !errors.As(err, &parse) {
		t.Errorf("12 degC read with 2 %%: %v", err)
	}
	if _, _, err := mustGauge(t, "2 %").Interval(Quantity{}); !errors.Is(err, ErrNothing) {
		t.Errorf("nothing read with 2 %%: %v", err)
	}
	if _, err := NewGauge(Quantity{}); !errors.Is(err, ErrNothing) {
		t.Errorf("a gauge of nothing: %v", err)
	}
}

func TestNoGauge(t *testing.T) {
	q := must(t, "12.31 V")
	low, high, err := (Gauge{}).Interval(q)
	if err != nil || !low.Equal(q) || !high.Equal(q) {
		t.Errorf("without gauge: %s to %s, %v", low, high, err)
	}
	if (Gauge{}).String() != "" || !(Gauge{}).IsZero() {
		t.Error("the zero Gauge is not plain nothing")
	}
}

func TestGaugeEqual(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"2 %", "± 2 percent", true},
		{"2 %", "2 % of reading", false},
		{"2 %", "2.0 %", false},
		{"1 thou", "0.001 in", false},
	} {
		if got := mustGauge(t, c.a).Equal(mustGauge(t, c.b)); got != c.want {
			t.Errorf("%q equal to %q: %v", c.a, c.b, got)
		}
	}
}
