package quantity

import (
	"errors"
	"math/big"
	"strings"
	"testing"
)

func must(t testing.TB, s string) Quantity {
	t.Helper()
	q, err := Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// Each mistake is answered with what was read and how to mend it.
func TestParseMistakes(t *testing.T) {
	for s, want := range map[string]string{
		"":                         `read "", expected a number and a unit; write it like 60 psi`,
		"60":                       `read "60", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`,
		"psi":                      `read "psi", expected a number and a unit; begin with the number, like 60 psi`,
		"60 psu":                   `read "60 psu", expected a unit after the number; "psu" is not a unit; did you mean psi?`,
		"2 MOHM":                   `read "2 MOHM", expected a unit after the number; "MOHM" is not a unit; did you mean Mohm or mohm?`,
		"3 cubits":                 `read "3 cubits", expected a unit after the number; "cubits" is not a unit; write one such as psi, in, mm, V, rpm or degF`,
		"1,250 rpm":                `read "1,250 rpm", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`,
		"0,5 mm":                   `read "0,5 mm", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`,
		"1e3 psi":                  `read "1e3 psi", expected a plain number with a decimal point; write the number out in full, such as 1000 for 1e3`,
		"1E-3 in":                  `read "1E-3 in", expected a plain number with a decimal point; write the number out in full, such as 1000 for 1e3`,
		"12 31 V":                  `read "12 31 V", expected one number and a unit; leave out the second number`,
		"5. V":                     `read "5. V", expected a plain number with a decimal point; put digits after the point, or leave the point out`,
		"1.2.3 V":                  `read "1.2.3 V", expected a plain number with a decimal point; put digits after the point, or leave the point out`,
		"- 3 degC":                 `read "- 3 degC", expected a number and a unit; leave no space between the sign and the number`,
		"--3 degC":                 `read "--3 degC", expected a number and a unit; begin with the number, like 60 psi`,
		"NaN V":                    `read "NaN V", expected a number and a unit; begin with the number, like 60 psi`,
		"Inf V":                    `read "Inf V", expected a number and a unit; begin with the number, like 60 psi`,
		"0x10 V":                   `read "0x10 V", expected a unit after the number; write one measure here, and the other for itself`,
		"1_000 V":                  `read "1_000 V", expected a unit after the number; "_000 V" is not a unit; write one such as psi, in, mm, V, rpm or degF`,
		"1000000000000000000 V":    `read "1000000000000000000 V", expected a number of at most 18 digits; round it to what the tool can read`,
		"0.0000000000000000000 V":  `read "0.0000000000000000000 V", expected a number of at most 18 digits; round it to what the tool can read`,
		strings.Repeat("9", 70):    `read "999999999999999999999999999999999999999999999999...", expected a number and a unit; that is too long to be one; write it like 60 psi`,
		strings.Repeat("µ", 1<<20): `read "µµµµµµµµµµµµµµµµµµµµµµµµ...", expected a number and a unit; that is too long to be one; write it like 60 psi`,
	} {
		q, err := Parse(s)
		var parse *ParseError
		if !errors.As(err, &parse) {
			t.Errorf("Parse(%.40q) = %s, %v; want a *ParseError", s, q, err)
			continue
		}
		if err.Error() != want {
			t.Errorf("Parse(%.40q)\n got %s\nwant %s", s, err, want)
		}
	}
}

func TestInKeepsTheWrittenDigits(t *testing.T) {
	for _, c := range []struct{ from, unit, want string }{
		{"60 psi", "kPa", "414 kPa"},
		{"0.011 in", "mm", "0.28 mm"},
		{"0.0110 in", "mm", "0.279 mm"},
		{"0.011 in", "thou", "11 thou"},
		{"11 thou", "in", "0.011 in"},
		{"12.31 V", "mV", "12310 mV"},
		{"54 degF", "degC", "12.2 degC"},
		{"-40 degF", "degC", "-40.0 degC"},
		{"1450 ft", "m", "442.0 m"},
		{"25 lbf-ft", "N·m", "34 N·m"},
		{"2.2 Mohm", "ohm", "2200000 ohm"},
		{"90 min", "h", "1.50 h"},
		{"60 psi", "psi", "60 psi"},
		{"0.10000000000000000 um", "m", "0.000000100000000000 m"},
	} {
		got, err := must(t, c.from).In(named(t, c.unit))
		if err != nil || got.String() != c.want {
			t.Errorf("%s in %s is %q, %v; want %q", c.from, c.unit, got, err, c.want)
		}
	}
}

func TestInRefuses(t *testing.T) {
	_, err := must(t, "60 Hz").In(RPM)
	var mismatch *MismatchError
	if !errors.As(err, &mismatch) || mismatch.Have != Frequency || mismatch.Want != RotationalSpeed {
		t.Fatalf("60 Hz in rpm: %v", err)
	}
	if want := "60 Hz is a frequency, but the unit rpm is a turning speed; give both in units of the same kind"; err.Error() != want {
		t.Errorf("got %s\nwant %s", err, want)
	}
	if _, err := (Quantity{}).In(RPM); !errors.Is(err, ErrNothing) {
		t.Errorf("nothing in rpm: %v", err)
	}
	if _, err := must(t, "60 Hz").In(Unit{}); !errors.As(err, &mismatch) {
		t.Errorf("60 Hz in no unit: %v", err)
	}
}

func TestCmp(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"1 in", "25.4 mm", 0},
		{"1 in", "25.40000000000001 mm", -1},
		{"1 thou", "25.4 um", 0},
		{"32 degF", "0 degC", 0},
		{"1 psi", "1 kPa", 1},
		{"-1 V", "-1000 mV", 0},
		{"-2 V", "-1000 mV", -1},
		{"231 cu in", "1 gal", 0},
		{"1.0 V", "1.00 V", 0},
	} {
		if got, err := must(t, c.a).Cmp(must(t, c.b)); err != nil || got != c.want {
			t.Errorf("%s against %s: %d, %v; want %d", c.a, c.b, got, err, c.want)
		}
		if got, err := must(t, c.b).Cmp(must(t, c.a)); err != nil || got != -c.want {
			t.Errorf("%s against %s: %d, %v; want %d", c.b, c.a, got, err, -c.want)
		}
	}
	var mismatch *MismatchError
	if _, err := must(t, "1 V").Cmp(must(t, "1 A")); !errors.As(err, &mismatch) {
		t.Errorf("1 V against 1 A: %v", err)
	}
	if _, err := must(t, "1 V").Cmp(Quantity{}); !errors.Is(err, ErrNothing) {
		t.Errorf("1 V against nothing: %v", err)
	}
}

func TestAddAndSub(t *testing.T) {
	add := func(a, b Quantity) (Quantity, error) { return a.Add(b) }
	sub := func(a, b Quantity) (Quantity, error) { return a.Sub(b) }
	for _, c := range []struct {
		a, sign, b string
		op         func(a, b Quantity) (Quantity, error)
		want       string
	}{
		{"2.6250 in", "-", "2.624 in", sub, "0.0010 in"},
		{"1 in", "+", "25.4 mm", add, "2.000 in"},
		{"60 degF", "-", "50 degF", sub, "10 degF"},
		{"20 degC", "-", "50 degF", sub, "10.0 degC"},
		{"20 degC", "+", "9 degF", add, "25.0 degC"},
		{"-1 V", "-", "-1.5 V", sub, "0.5 V"},
	} {
		got, err := c.op(must(t, c.a), must(t, c.b))
		if err != nil || got.String() != c.want {
			t.Errorf("%s %s %s = %q, %v; want %q", c.a, c.sign, c.b, got, err, c.want)
		}
	}
	var mismatch *MismatchError
	if _, err := must(t, "1 V").Add(must(t, "1 A")); !errors.As(err, &mismatch) {
		t.Errorf("1 V + 1 A: %v", err)
	}
	if _, err := (Quantity{}).Sub(must(t, "1 A")); !errors.Is(err, ErrNothing) {
		t.Errorf("nothing - 1 A: %v", err)
	}
}

// A difference of temperatures leaves the zero of the scale out.
func TestTemperatureDifferences(t *testing.T) {
	rise, err := must(t, "68 degF").Sub(must(t, "59 degF"))
	if err != nil {
		t.Fatal(err)
	}
	if got, err := rise.In(Celsius); err != nil || got.String() != "5.0 degC" || !got.IsDifference() {
		t.Errorf("a rise of 9 degF is %s, %v; want 5.0 degC", got, err)
	}
	if got := rise.Base(); got.Cmp(big.NewRat(5, 1)) != 0 {
		t.Errorf("a rise of 9 degF is %s K, want 5", got.RatString())
	}
	if got, err := rise.Cmp(must(t, "5 degC")); err != nil || got != 0 {
		t.Errorf("a rise of 9 degF against 5 degC: %d, %v; want 0", got, err)
	}
	back, err := must(t, "68 degF").Sub(rise)
	if err != nil || back.IsDifference() || back.String() != "59 degF" {
		t.Errorf("68 degF less the rise is %s, %v; want 59 degF", back, err)
	}
	if got, err := rise.Sub(must(t, "5 degC")); err != nil || got.Sign() != 0 || !got.IsDifference() {
		t.Errorf("the rise less 5 degC is %s, %v; want 0", got, err)
	}
	if must(t, "5 V").AsDifference().IsDifference() {
		t.Error("a voltage counts as a difference of temperatures")
	}
}

func TestZeroQuantity(t *testing.T) {
	var q Quantity
	if !q.IsZero() || q.String() != "" || q.Dimension() != None || q.Unit() != (Unit{}) || q.Places() != 0 ||
		q.Rat().Sign() != 0 || q.Base().Sign() != 0 || q.Float() != 0 || q.Sign() != 0 {
		t.Error("the zero Quantity is not plain nothing")
	}
	if must(t, "0 psi").IsZero() {
		t.Error("0 psi counts as not given")
	}
	if !New(nil, 2, Psi).IsZero() || !New(big.NewRat(1, 1), 2, Unit{}).IsZero() || !FromBase(nil, 0, Psi).IsZero() {
		t.Error("a quantity without number or unit is not zero")
	}
	if q.Equal(must(t, "0 psi")) || !q.Equal(Quantity{}) {
		t.Error("Equal confuses nothing with 0 psi")
	}
}

func TestNewCopiesItsNumber(t *testing.T) {
	r := big.NewRat(60, 1)
	q := New(r, 1, Psi)
	r.SetInt64(1)
	q.Rat().SetInt64(2)
	q.Base().SetInt64(3)
	if q.String() != "60.0 psi" {
		t.Errorf("a caller changed 60.0 psi to %s", q)
	}
}

func TestNewPlacesAndRounding(t *testing.T) {
	third := big.NewRat(1, 3)
	for places, want := range map[int]string{-5: "0 V", 0: "0 V", 3: "0.333 V", 99: "0.333333333333333333 V"} {
		if got := New(third, places, Volt).String(); got != want {
			t.Errorf("New(1/3, %d) = %q, want %q", places, got, want)
		}
		if got := New(third, 0, Volt).WithPlaces(places).String(); got != want {
			t.Errorf("WithPlaces(%d) = %q, want %q", places, got, want)
		}
	}
	if got := New(third, 0, Volt).Rat(); got.Cmp(third) != 0 {
		t.Errorf("printing without decimals lost the value: %s", got.RatString())
	}
	if got := FromBase(big.NewRat(1, 1000), 1, CubicCentimeter).String(); got != "1000.0 cc" {
		t.Errorf("a liter is %s", got)
	}
	if got := FromBase(big.NewRat(27315, 100), 0, Fahrenheit).String(); got != "32 degF" {
		t.Errorf("273.15 K is %s", got)
	}
}

func TestEqualIsAboutWriting(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"1.0 in", "1.0 in.", true},
		{"1.0 in", "1.00 in", false},
		{"1.0 in", "25.4 mm", false},
		{"1.0 in", "1.1 in", false},
	} {
		if got := must(t, c.a).Equal(must(t, c.b)); got != c.want {
			t.Errorf("%s equal to %s: %v", c.a, c.b, got)
		}
	}
}

func TestFloatForDrawings(t *testing.T) {
	if got := must(t, "-2.5 V").Float(); got != -2.5 {
		t.Errorf("-2.5 V is drawn at %v", got)
	}
}

func TestShortenCutsBetweenCharacters(t *testing.T) {
	for s, want := range map[string]string{"µµ": "µµ", "aµµµ": "aµ...", " abcd ": "abcd", "abcde": "abcd..."} {
		if got := shorten(s, 4); got != want {
			t.Errorf("shorten(%q, 4) = %q, want %q", s, got, want)
		}
	}
}
