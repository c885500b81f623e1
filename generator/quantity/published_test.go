package quantity

import (
	"math/big"
	"strings"
	"testing"
)

// published lists NIST Special Publication 811 (2008 edition), Appendix B.8, as
// printed: the digits, the power of ten, and whether the factor is exact (bold
// in B.8, or stated in full by its footnotes 13, 22 and 23).
var published = []struct {
	from, to string
	digits   string
	power    int
	exact    bool
}{
	{"in", "m", "2.54", -2, true},
	{"ft", "m", "3.048", -1, true},
	{"mil", "m", "2.54", -5, true},
	{"psi", "kPa", "6.894757", 0, false},
	{"bar", "kPa", "1.0", 2, true},
	{"inHg", "Pa", "3.386389", 3, false}, // inch of mercury, conventional
	{"lbf-in", "N·m", "1.129848", -1, false},
	{"lbf-ft", "N·m", "1.355818", 0, false},
	{"gal", "L", "3.785412", 0, false},
	{"qt", "L", "9.463529", -1, false},
	{"fl oz", "mL", "2.957353", 1, false},
	{"cu in", "cc", "1.6387064", 1, true}, // footnote 13, printed in m3
	{"lb", "kg", "4.5359237", -1, true},   // footnote 22
	{"oz", "g", "2.834952", 1, false},
	{"hp", "W", "7.456999", 2, false}, // horsepower (550 ft·lbf/s)
	{"mph", "m/s", "4.4704", -1, true},
	{"mph", "km/h", "1.609344", 0, true},
	{"h", "s", "3.6", 3, true},
	{"lbf", "N", "4.4482216152605", 0, true}, // footnote 23
	// From memory, of the same appendix.
	{"mi", "m", "1.609344", 3, true},
	{"pt", "L", "4.731765", -1, false},
	{"kgf", "N", "9.80665", 0, true},
	{"kgf-m", "N·m", "9.80665", 0, true},
	{"kgf/cm2", "kPa", "9.80665", 1, true},
	{"inH2O", "Pa", "2.490889", 2, false}, // conventional
	{"mbar", "Pa", "1.0", 2, true},
	{"cfm", "L/min", "2.831685", 1, false}, // printed in L/s: 4.719474 E-01
	{"gpm", "L/min", "3.785412", 0, false},
}

func TestFactorsOfNISTSP811(t *testing.T) {
	for _, p := range published {
		t.Run(p.from+" to "+p.to, func(t *testing.T) {
			got := factor(t, p.from, p.to)
			if p.exact {
				if want := rational(t, p.digits, p.power); got.Cmp(want) != 0 {
					t.Errorf("factor %s, want exactly %s", got.RatString(), want.RatString())
				}
				return
			}
			places := len(p.digits) - strings.Index(p.digits, ".") - 1
			mantissa := new(big.Rat).Quo(got, rational(t, "1", p.power))
			if text := format(mantissa, places); text != p.digits {
				t.Errorf("factor %s E%+03d, printed %s", text, p.power, p.digits)
			}
		})
	}
}

// NIST SP 811 (2008), B.8, footnote 23: the pound-force is exactly
// 4.448 221 615 260 5 N.
func TestPoundForce(t *testing.T) {
	if want := rational(t, "4.4482216152605", 0); poundf.Cmp(want) != 0 {
		t.Errorf("pound-force %s N, want %s", poundf.RatString(), want.RatString())
	}
}

// The factors behind the printed digits, recomputed from the definitions in
// NIST SP 811 (2008), Appendix B, to every decimal of the check.
func TestUnroundedFactors(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"psi", "kPa", "6.894757293168361"},
		{"inHg", "Pa", "3386.388640341"},
		{"lbf-in", "N·m", "0.1129848290276167"},
		{"lbf-ft", "N·m", "1.3558179483314004"},
		{"gal", "L", "3.785411784"},
		{"qt", "L", "0.946352946"},
		{"fl oz", "mL", "29.5735295625"},
		{"cu in", "cc", "16.387064"},
		{"oz", "g", "28.349523125"},
		{"hp", "W", "745.69987158227"},
		{"bar", "psi", "14.503773773"},
		{"kPa", "psi", "0.145037738"},
		{"N·m", "lbf-in", "8.850745791"},
		{"N·m", "lbf-ft", "0.737562149"},
	} {
		places := len(c.want) - strings.Index(c.want, ".") - 1
		if got := format(factor(t, c.from, c.to), places); got != c.want {
			t.Errorf("1 %s = %s %s, want %s", c.from, got, c.to, c.want)
		}
	}
}

// NIST Handbook 44, Appendix C: one US gallon is exactly 231 cubic inches and
// 128 fluid ounces. The rest is from the definition of the prefix or the unit.
func TestExactRatios(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     *big.Rat
	}{
		{"gal", "cu in", big.NewRat(231, 1)},
		{"gal", "fl oz", big.NewRat(128, 1)},
		{"gal", "qt", big.NewRat(4, 1)},
		{"lb", "oz", big.NewRat(16, 1)},
		{"in", "thou", big.NewRat(1000, 1)},
		{"in", "mm", big.NewRat(254, 10)},
		{"ft", "in", big.NewRat(12, 1)},
		{"m", "cm", big.NewRat(100, 1)},
		{"mm", "um", big.NewRat(1000, 1)},
		{"MPa", "kPa", big.NewRat(1000, 1)},
		{"kPa", "Pa", big.NewRat(1000, 1)},
		{"lbf-ft", "lbf-in", big.NewRat(12, 1)},
		{"V", "mV", big.NewRat(1000, 1)},
		{"A", "mA", big.NewRat(1000, 1)},
		{"Mohm", "kohm", big.NewRat(1000, 1)},
		{"kohm", "ohm", big.NewRat(1000, 1)},
		{"ohm", "mohm", big.NewRat(1000, 1)},
		{"kW", "W", big.NewRat(1000, 1)},
		{"h", "min", big.NewRat(60, 1)},
		{"min", "s", big.NewRat(60, 1)},
		{"L", "mL", big.NewRat(1000, 1)},
		{"mL", "cc", big.NewRat(1, 1)},
		{"kg", "g", big.NewRat(1000, 1)},
		{"m/s", "ft/min", big.NewRat(60*10_000, 3048)},
		{"m/s", "km/h", big.NewRat(36, 10)},
		{"mi", "ft", big.NewRat(5280, 1)},
		{"km", "m", big.NewRat(1000, 1)},
		{"gal", "pt", big.NewRat(8, 1)},
		{"kV", "V", big.NewRat(1000, 1)},
		{"VDC", "V", big.NewRat(1, 1)},
		{"VAC", "V", big.NewRat(1, 1)},
		{"mA", "uA", big.NewRat(1000, 1)},
		{"uF", "nF", big.NewRat(1000, 1)},
		{"nF", "pF", big.NewRat(1000, 1)},
		{"kVA", "VA", big.NewRat(1000, 1)},
		{"Ah", "mAh", big.NewRat(1000, 1)},
		{"kWh", "Wh", big.NewRat(1000, 1)},
		{"Gohm", "Mohm", big.NewRat(1000, 1)},
		{"kHz", "Hz", big.NewRat(1000, 1)},
		{"N·m", "N·cm", big.NewRat(100, 1)},
		{"kgf-m", "kgf-cm", big.NewRat(100, 1)},
		{"turns", "deg", big.NewRat(360, 1)},
		{"gpm", "gph", big.NewRat(60, 1)},
		{"L/min", "L/h", big.NewRat(60, 1)},
	} {
		if got := factor(t, c.from, c.to); got.Cmp(c.want) != 0 {
			t.Errorf("1 %s = %s %s, want %s", c.from, got.RatString(), c.to, c.want.RatString())
		}
	}
}

// NIST SP 811 (2008), Appendix B.9: t/degC = (t/degF - 32)/1.8,
// T/K = t/degC + 273.15, T/K = (t/degF + 459.67)/1.8.
func TestTemperatureScales(t *testing.T) {
	for _, c := range []struct{ f, c, k string }{
		{"32", "0", "273.15"},
		{"212", "100", "373.15"},
		{"-40", "-40", "233.15"},
		{"-459.67", "-273.15", "0"},
	} {
		same := []Quantity{
			New(rational(t, c.f, 0), 2, Fahrenheit),
			New(rational(t, c.c, 0), 2, Celsius),
			New(rational(t, c.k, 0), 2, Kelvin),
		}
		for _, a := range same {
			for _, b := range same {
				got, err := a.In(b.Unit())
				if err != nil || got.Rat().Cmp(b.Rat()) != 0 {
					t.Errorf("%s is %s, %v; want %s", a, got, err, b)
				}
			}
			if got := a.Base(); got.Cmp(same[2].Rat()) != 0 {
				t.Errorf("base of %s is %s K, want %s", a, got.RatString(), c.k)
			}
		}
	}
}

// NIST SP 811 (2008), B.7.1: of a final 5 the even digit is kept.
func TestRoundingOfNISTSP811(t *testing.T) {
	for _, c := range []struct {
		number string
		places int
		want   string
	}{
		{"6.9749505", 6, "6.974950"},
		{"6.9749515", 6, "6.974952"},
		{"-6.9749515", 6, "-6.974952"},
		{"6.97495051", 6, "6.974951"},
		{"0.5", 0, "0"},
		{"1.5", 0, "2"},
		{"-0.4", 0, "0"},
		{"-0.6", 0, "-1"},
		{"999.95", 1, "1000.0"},
	} {
		if got := format(rational(t, c.number, 0), c.places); got != c.want {
			t.Errorf("%s to %d decimals is %s, want %s", c.number, c.places, got, c.want)
		}
	}
}

// factor returns how many of unit to make one of unit from.
func factor(t *testing.T, from, to string) *big.Rat {
	t.Helper()
	q, err := New(one, 0, named(t, from)).In(named(t, to))
	if err != nil {
		t.Fatal(err)
	}
	return q.Rat()
}

func named(t *testing.T, name string) Unit {
	t.Helper()
	u, ok := UnitNamed(name)
	if !ok {
		t.Fatalf("no unit %q", name)
	}
	return u
}

// rational returns digits x 10^power.
func rational(t *testing.T, digits string, power int) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(digits)
	if !ok {
		t.Fatalf("not a number: %q", digits)
	}
	scale := big.NewRat(pow10[max(power, -power)], 1)
	if power < 0 {
		return r.Quo(r, scale)
	}
	return r.Mul(r, scale)
}
