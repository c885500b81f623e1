package quantity

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// The units that the shop folder promises to read.
func TestPromisedUnits(t *testing.T) {
	promised := map[Dimension][]string{
		Pressure:        {"psi", "kPa", "bar", "inHg", "Pa", "MPa", "mbar", "kgf/cm2", "inH2O"},
		Length:          {"in", "thou", "mm", "um", "ft", "m", "cm", "mi", "km"},
		Voltage:         {"V", "mV", "kV", "VDC", "VAC"},
		Current:         {"A", "mA", "uA"},
		Resistance:      {"ohm", "mohm", "kohm", "Mohm", "Gohm"},
		Power:           {"W", "kW", "hp"},
		RotationalSpeed: {"rpm"},
		Frequency:       {"Hz", "kHz"},
		Time:            {"h", "min", "s"},
		Torque:          {"N·m", "lbf-ft", "lbf-in", "N·cm", "kgf-m", "kgf-cm"},
		Temperature:     {"degC", "degF", "kelvin"},
		Volume:          {"mL", "L", "fl oz", "qt", "gal", "cc", "cu in", "pt"},
		Mass:            {"kg", "g", "lb", "oz"},
		Velocity:        {"mph", "km/h", "ft/min", "m/s"},
		Ratio:           {"%"},
		Proportion:      {":1"},
		Capacitance:     {"uF", "nF", "pF"},
		ApparentPower:   {"VA", "kVA"},
		Charge:          {"Ah", "mAh"},
		Energy:          {"Wh", "kWh"},
		Force:           {"N", "lbf", "kgf"},
		Angle:           {"deg", "turns"},
		Flow:            {"gpm", "L/min", "cfm", "gph", "L/h"},
		Viscosity:       {"mPa·s"},
		ColdCranking:    {"CCA"},
		ThreadCount:     {"TPI"},
		WireSize:        {"AWG"},
	}
	count := 0
	for d, symbols := range promised {
		for _, s := range symbols {
			count++
			u := named(t, s)
			if u.Symbol() != s || u.Dimension() != d {
				t.Errorf("%q is %q, %s; want %s", s, u, u.Dimension(), d)
			}
		}
	}
	if got := len(Units()); got != count {
		t.Errorf("%d units, want %d", got, count)
	}
}

func TestOtherSpellings(t *testing.T) {
	for want, spellings := range map[Unit][]string{
		PoundFoot:           {"ft-lb", "ft-lbs", "ft lb", "ft·lb", "ft.-lb.", "lb-ft", "lbf·ft", "lbf ft", "ft-lbf", "FT-LB", "foot-pounds"},
		PoundInch:           {"in-lb", "in-lbs", "in lb", "in·lb", "in.-lb.", "lb-in", "lbf·in", "in.lb", "IN-LB"},
		NewtonMeter:         {"N·m", "Nm", "N-m", "N m", "N⋅m", "N•m", "N.m", "N*m"},
		CubicInch:           {"cu in", "cu. in.", "cu  in", "CU IN", "in3", "in³"},
		FluidOunce:          {"fl oz", "fl. oz.", "floz", "fl-oz", "FL OZ"},
		Micrometer:          {"um", "\u00b5m", "\u03bcm", "micron"},
		Ohm:                 {"ohm", "\u2126", "\u03a9", "Ohm", "ohms"},
		Milliohm:            {"mohm", "m\u2126", "m\u03a9", "milliohm", "Milliohms"},
		Megohm:              {"Mohm", "M\u2126", "M\u03a9", "megohm", "MegOhm"},
		Kilohm:              {"kohm", "k\u2126", "Kohm", "KOHM"},
		Celsius:             {"degC", "C", "°C", "ºC", "deg C", "degc", "℃", "° C"},
		Fahrenheit:          {"degF", "F", "degrees F", "°F", "ºF", "deg F", "℉"},
		Inch:                {"in", "in.", "\"", "\u2033", "\u201d", "IN", "inches"},
		Foot:                {"ft", "'", "\u2032", "feet"},
		Thou:                {"thou", "mil", "mils"},
		Liter:               {"L", "l", "liter", "litre"},
		Milliliter:          {"mL", "ml"},
		CubicCentimeter:     {"cc", "CC", "cm3", "cm³"},
		InchHg:              {"inHg", "in Hg", "in. Hg", "inhg", "INHG"},
		Psi:                 {"psi", "PSI", "Psi"},
		RPM:                 {"rpm", "RPM"},
		Hertz:               {"Hz", "hz", "HZ"},
		Hour:                {"h", "hr", "hrs", "hours", "Hours"},
		Volt:                {"V", "v", "volts"},
		Ampere:              {"A", "amps"},
		Kilowatt:            {"kW", "KW", "kw"},
		Horsepower:          {"hp", "HP"},
		FootPerMinute:       {"ft/min", "fpm"},
		Percent:             {"%", "percent"},
		VoltDC:              {"VDC", "V DC", "Vdc", "volts DC", "vdc"},
		VoltAC:              {"VAC", "V AC", "Vac", "volts AC"},
		Microfarad:          {"uF", "µF", "\u03bcF", "UF", "MFD", "mfd", "microfarads"},
		PoundForce:          {"lbf", "LBF", "pounds-force"},
		Turn:                {"turns", "turn", "revs"},
		Degree:              {"deg", "degrees", "°", "º", "deg."},
		Mile:                {"mi", "miles", "Miles"},
		AmpereHour:          {"Ah", "AH", "A·h", "amp-hours"},
		Gigohm:              {"Gohm", "GΩ", "gigohms"},
		LiterPerMinute:      {"L/min", "l/min", "LPM"},
		MillipascalSecond:   {"mPa·s", "mPa-s", "cP", "mPas"},
		KilogramForcePerCm2: {"kgf/cm2", "kgf/cm²", "kg/cm2"},
		NewtonCentimeter:    {"N·cm", "N-cm", "Ncm", "N cm"},
	} {
		for _, s := range spellings {
			if got, ok := UnitNamed(s); !ok || got != want {
				t.Errorf("UnitNamed(%q) = %q, %v; want %q", s, got, ok, want)
			}
		}
	}
}

// A wrong prefix is a factor of a million or a billion; these must never be guessed.
func TestCapitalsThatMatter(t *testing.T) {
	for _, s := range []string{
		"MOHM", "MΩm", "MM", "Mm", "M", "MV", "MA", "ML", "Ml", "mpa", "mPa", "MPA", "PA", "pa", "nm", "NM", "nM",
		"H", "S", "G", "w", "a", "k", "K", "n", "mF", "MF", "NF", "mva", "MVA", "mw", "mW", "MW", "M/S", "UM", "Um", "psia", "", " ", "-", "0", "in-in",
	} {
		if u, ok := UnitNamed(s); ok {
			t.Errorf("UnitNamed(%q) = %q, want none", s, u)
		}
	}
}

// No spelling stands for two units, and in a spelling whose capitals do not
// matter no mix of capitals hides another unit.
func TestSpellingsAreUnambiguous(t *testing.T) {
	owner := map[string]Unit{}
	claim := func(key string, u Unit) {
		if o, taken := owner[key]; taken && o != u {
			t.Errorf("%q means %q and %q", key, o, u)
		}
		owner[key] = u
	}
	for _, u := range Units() {
		claim(nameKey(u.Symbol()), u)
		for _, n := range u.def.names {
			claim(nameKey(n), u)
		}
		for _, w := range u.def.words {
			claim(w, u)
			if w != strings.ToLower(nameKey(w)) {
				t.Errorf("word %q of %q is not in small letters and hyphens, so it is never found", w, u)
			}
		}
	}
	for name, u := range byName {
		if o, ok := byFoldedName[strings.ToLower(nameKey(name))]; ok && o != u {
			t.Errorf("%q is %q, but in other capitals %q", name, u, o)
		}
	}
}

func TestNearest(t *testing.T) {
	for name, want := range map[string][]Unit{
		"psu":                    {Psi},
		"C":                      {Celsius},
		"F":                      {Fahrenheit},
		"MOHM":                   {Megohm, Milliohm},
		"psii":                   {Psi},
		"lbt":                    nil, // a mass or a force
		"kVB":                    nil, // a voltage or an apparent power
		"vd":                     nil, // too short for a slip
		"MM":                     {Millimeter},
		"MPA":                    {Megapascal},
		"nm":                     {NewtonMeter},
		"M":                      {Meter},
		"ampss":                  {Ampere},
		"degrF":                  {Fahrenheit},
		"furlongs per fortnight": nil,
		"":                       nil,
		"§":                      nil,
	} {
		if got := nearest(name, field{}); !slices.Equal(got, want) {
			t.Errorf("nearest(%q) = %v, want %v", name, got, want)
		}
	}
	if got := nearest(strings.Repeat("p", 100_000), field{}); got != nil {
		t.Errorf("nearest of a very long name = %v", got)
	}
}

func TestDimensions(t *testing.T) {
	seen := map[string]bool{}
	for d := None; d <= WireSize; d++ {
		if seen[d.String()] {
			t.Errorf("two dimensions are called %q", d)
		}
		seen[d.String()] = true
	}
	if got := Dimension(200).String(); got != None.String() {
		t.Errorf("unknown dimension is %q", got)
	}
	if Convertible(RPM, Hertz) || Convertible(Unit{}, Unit{}) || !Convertible(Psi, InchHg) || !Convertible(Liter, CubicInch) {
		t.Error("Convertible is wrong about rpm and Hz, no unit, psi and inHg, or L and cu in")
	}
}

func TestUnitsIsACopy(t *testing.T) {
	Units()[0] = Unit{}
	if Units()[0] != Psi {
		t.Error("a caller can change the list of units")
	}
}

func TestUnitPrintsAndCompares(t *testing.T) {
	if got := fmt.Sprint(NewtonMeter, Unit{}); got != "N·m " {
		t.Errorf("a unit and no unit print as %q", got)
	}
	if !Psi.Equal(Psi) || Psi.Equal(Bar) || Psi.Equal(Unit{}) {
		t.Error("Equal of units is wrong")
	}
}
