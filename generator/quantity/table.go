package quantity

import "math/big"

// Exact definitions on which the table rests.
var (
	one      = big.NewRat(1, 1)
	inch     = big.NewRat(254, 10_000)                   // m; international inch
	foot     = big.NewRat(3048, 10_000)                  // m
	pound    = big.NewRat(45_359_237, 100_000_000)       // kg; avoirdupois pound
	gravity  = big.NewRat(980_665, 100_000)              // m/s2; standard acceleration of free fall
	mercury  = big.NewRat(135_951, 10)                   // kg/m3; conventional density of mercury
	poundf   = product(pound, gravity)                   // N
	cubicIn  = product(inch, inch, inch)                 // m3
	gallon   = product(big.NewRat(231, 1), cubicIn)      // m3; US gallon, 231 cubic inches
	perInch2 = new(big.Rat).Inv(product(inch, inch))     // 1/m2
	kelvin0  = big.NewRat(27_315, 100)                   // 0 degC in K
	rankine0 = big.NewRat(45_967, 100)                   // 0 degF in degrees Rankine
	hp       = product(big.NewRat(550, 1), foot, poundf) // W; mechanical horsepower, 550 ft·lbf/s
	inchHg   = product(mercury, gravity, inch)           // Pa; conventional inch of mercury
	mile     = product(big.NewRat(5280, 1), foot)        // m
	liter    = big.NewRat(1, 1000)                       // m3
	perHour  = big.NewRat(1, 3600)                       // 1/s
	perMin   = big.NewRat(1, 60)                         // 1/s
	milli    = big.NewRat(1, 1000)
	kilo     = big.NewRat(1000, 1)
	mega     = big.NewRat(1_000_000, 1)
	micro    = big.NewRat(1, 1_000_000)
)

func product(first *big.Rat, rest ...*big.Rat) *big.Rat {
	p := new(big.Rat).Set(first)
	for _, r := range rest {
		p.Mul(p, r)
	}
	return p
}

// allUnits and the name tables are filled while the variables below are set.
var (
	allUnits     []Unit
	byName       = map[string]Unit{} // by name with its capitals
	byFoldedName = map[string]Unit{} // by name in small letters, where capitals do not matter
)

// The units. "mil" is the thousandth of an inch, as in NIST SP 811; it is
// never a millimeter. "oz" is the ounce of mass; the fluid ounce is "fl oz".
// Gallon, quart and fluid ounce are the US liquid measures.
var (
	Psi        = unit("psi", Pressure, product(poundf, perInch2), nil, words("psi", "lbf/in2", "lbf/in²"))
	Pascal     = unit("Pa", Pressure, one, nil, words("pascal", "pascals"))
	Kilopascal = unit("kPa", Pressure, kilo, nil, words("kpa"))
	Megapascal = unit("MPa", Pressure, mega, nil, nil)
	Bar        = unit("bar", Pressure, big.NewRat(100_000, 1), nil, words("bar", "bars"))
	InchHg     = unit("inHg", Pressure, inchHg, nil, words("inhg", "in-hg", `"hg`))

	Inch       = unit("in", Length, inch, nil, words("in", "inch", "inches", `"`))
	Thou       = unit("thou", Length, product(inch, milli), nil, words("thou", "mil", "mils", "thousandth", "thousandths"))
	Millimeter = unit("mm", Length, milli, nil, words("millimeter", "millimeters", "millimetre", "millimetres"))
	Micrometer = unit("um", Length, micro, []string{"µm"}, words("micron", "microns", "micrometer", "micrometers", "micrometre", "micrometres"))
	Centimeter = unit("cm", Length, big.NewRat(1, 100), nil, words("cm", "centimeter", "centimeters", "centimetre", "centimetres"))
	Meter      = unit("m", Length, one, nil, words("meter", "meters", "metre", "metres"))
	Foot       = unit("ft", Length, foot, nil, words("ft", "foot", "feet", "'"))

	Volt      = unit("V", Voltage, one, []string{"v"}, words("volt", "volts"))
	Millivolt = unit("mV", Voltage, milli, nil, words("millivolt", "millivolts"))

	Ampere      = unit("A", Current, one, nil, words("amp", "amps", "ampere", "amperes"))
	Milliampere = unit("mA", Current, milli, nil, words("milliamp", "milliamps"))

	Ohm      = unit("ohm", Resistance, one, []string{"Ω"}, words("ohm", "ohms"))
	Milliohm = unit("mohm", Resistance, milli, []string{"mΩ"}, words("milliohm", "milliohms"))
	Kilohm   = unit("kohm", Resistance, kilo, []string{"kΩ", "KΩ"}, words("kohm", "kohms", "kilohm", "kilohms"))
	Megohm   = unit("Mohm", Resistance, mega, []string{"MΩ"}, words("megohm", "megohms"))

	Watt       = unit("W", Power, one, nil, words("watt", "watts"))
	Kilowatt   = unit("kW", Power, kilo, nil, words("kw", "kilowatt", "kilowatts"))
	Horsepower = unit("hp", Power, hp, nil, words("hp", "horsepower"))

	RPM   = unit("rpm", RotationalSpeed, one, nil, words("rpm", "r/min", "rev/min"))
	Hertz = unit("Hz", Frequency, one, nil, words("hz", "hertz"))

	Hour   = unit("h", Time, big.NewRat(3600, 1), nil, words("hr", "hrs", "hour", "hours"))
	Minute = unit("min", Time, big.NewRat(60, 1), nil, words("min", "mins", "minute", "minutes"))
	Second = unit("s", Time, one, nil, words("sec", "secs", "second", "seconds"))

	NewtonMeter = unit("N·m", Torque, one, []string{"Nm"}, words("newton-meter", "newton-meters", "newton-metre", "newton-metres"))
	PoundFoot   = unit("lbf-ft", Torque, product(poundf, foot), nil,
		words("lbf-ft", "lb-ft", "lbs-ft", "ft-lb", "ft-lbs", "ft-lbf", "ftlb", "ftlbs", "foot-pound", "foot-pounds"))
	PoundInch = unit("lbf-in", Torque, product(poundf, inch), nil,
		words("lbf-in", "lb-in", "lbs-in", "in-lb", "in-lbs", "in-lbf", "inlb", "inlbs", "inch-pound", "inch-pounds"))

	Celsius    = scale("degC", one, kelvin0, words("degc", "°c", "℃", "deg-c", "°-c", "celsius"))
	Fahrenheit = scale("degF", big.NewRat(5, 9), rankine0, words("degf", "°f", "℉", "deg-f", "°-f", "fahrenheit"))
	Kelvin     = scale("K", one, nil, words("kelvin"))

	Milliliter      = unit("mL", Volume, product(liter, milli), []string{"ml"}, words("milliliter", "milliliters", "millilitre", "millilitres"))
	Liter           = unit("L", Volume, liter, []string{"l"}, words("liter", "liters", "litre", "litres"))
	CubicCentimeter = unit("cc", Volume, micro, []string{"cm3", "cm³"}, words("cc", "ccm"))
	CubicInch       = unit("cu in", Volume, cubicIn, nil, words("cu-in", "in3", "in³", "cuin", "cubic-inch", "cubic-inches"))
	FluidOunce      = unit("fl oz", Volume, product(gallon, big.NewRat(1, 128)), nil, words("fl-oz", "floz", "fluid-ounce", "fluid-ounces"))
	Quart           = unit("qt", Volume, product(gallon, big.NewRat(1, 4)), nil, words("qt", "qts", "quart", "quarts"))
	Gallon          = unit("gal", Volume, gallon, nil, words("gal", "gals", "gallon", "gallons"))

	Gram     = unit("g", Mass, milli, nil, words("gram", "grams"))
	Kilogram = unit("kg", Mass, one, nil, words("kg", "kilogram", "kilograms"))
	Pound    = unit("lb", Mass, pound, nil, words("lb", "lbs", "pound", "pounds"))
	Ounce    = unit("oz", Mass, product(pound, big.NewRat(1, 16)), nil, words("oz", "ounce", "ounces"))

	MilePerHour      = unit("mph", Velocity, product(mile, perHour), nil, words("mph", "mi/h"))
	KilometerPerHour = unit("km/h", Velocity, product(kilo, perHour), nil, words("km/h", "km/hr", "kmh", "kph"))
	FootPerMinute    = unit("ft/min", Velocity, product(foot, perMin), nil, words("ft/min", "fpm"))
	MeterPerSecond   = unit("m/s", Velocity, one, nil, nil)

	Percent = unit("%", Ratio, big.NewRat(1, 100), nil, words("percent", "pct"))
)

func words(w ...string) []string { return w }

// scale registers a temperature scale.
func scale(symbol string, factor, offset *big.Rat, anyCase []string) Unit {
	u := unit(symbol, Temperature, factor, nil, anyCase)
	u.def.offset = offset
	return u
}

// unit registers a unit under its symbol, the names whose capitals matter and
// the words whose capitals do not.
func unit(symbol string, d Dimension, factor *big.Rat, names, anyCase []string) Unit {
	u := Unit{&definition{symbol: symbol, dimension: d, factor: factor, names: names, words: anyCase}}
	allUnits = append(allUnits, u)
	byName[symbol] = u
	byName[nameKey(symbol)] = u
	for _, n := range names {
		byName[nameKey(n)] = u
	}
	for _, w := range anyCase {
		byFoldedName[w] = u
	}
	return u
}
