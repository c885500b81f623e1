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
	nano     = product(milli, micro)
	pico     = product(micro, micro)
	giga     = product(kilo, mega)
	centi    = big.NewRat(1, 100)
	kilogf   = gravity                      // N; kilogram-force
	perCm2   = big.NewRat(10_000, 1)        // 1/m2
	inchH2O  = product(kilo, gravity, inch) // Pa; conventional inch of water, of 1000 kg/m3 (from memory)
	cubicFt  = product(foot, foot, foot)    // m3
	hour     = big.NewRat(3600, 1)          // s
	circle   = big.NewRat(360, 1)           // deg
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

// The units; of each dimension the most usual first, for messages propose those.
//
// Factors are of NIST SP 811 (2008), Appendix B.8, or follow from the meaning of
// the prefix and from the definitions above; those marked "from memory" were not
// found in a retrieved text. "mil" is the thousandth of an inch, as in NIST SP
// 811; it is never a millimeter. "oz" is the ounce of mass; the fluid ounce is
// "fl oz". Gallon, quart, pint and fluid ounce are the US liquid measures.
var (
	Psi                 = unit("psi", Pressure, product(poundf, perInch2), nil, words("psi", "psig", "lbf/in2", "lbf/in²"))
	Kilopascal          = unit("kPa", Pressure, kilo, nil, words("kpa"))
	Bar                 = unit("bar", Pressure, big.NewRat(100_000, 1), nil, words("bar", "bars"))
	InchHg              = unit("inHg", Pressure, inchHg, nil, words("inhg", "in-hg", `"hg`, `"-hg`, "inches-hg", "inches-of-mercury", "in-of-mercury"))
	Pascal              = unit("Pa", Pressure, one, nil, words("pascal", "pascals"))
	Megapascal          = unit("MPa", Pressure, mega, nil, nil)
	Millibar            = unit("mbar", Pressure, big.NewRat(100, 1), nil, words("mbar", "millibar", "millibars"))
	KilogramForcePerCm2 = unit("kgf/cm2", Pressure, product(kilogf, perCm2), nil, words("kgf/cm2", "kgf/cm²", "kg/cm2", "kg/cm²"))
	InchH2O             = unit("inH2O", Pressure, inchH2O, nil, words("inh2o", "in-h2o", `"h2o`, `"-h2o`, "inches-h2o", "inches-of-water", "in-of-water", "inwc", "in-wc"))

	Inch       = unit("in", Length, inch, nil, words("in", "inch", "inches", `"`, "''"))
	Thou       = unit("thou", Length, product(inch, milli), nil, words("thou", "mil", "mils", "thousandth", "thousandths", "thousandths-of-an-inch"))
	Millimeter = unit("mm", Length, milli, nil, words("millimeter", "millimeters", "millimetre", "millimetres"))
	Micrometer = unit("um", Length, micro, []string{"µm"}, words("micron", "microns", "micrometer", "micrometers", "micrometre", "micrometres"))
	Centimeter = unit("cm", Length, centi, nil, words("cm", "centimeter", "centimeters", "centimetre", "centimetres"))
	Meter      = unit("m", Length, one, nil, words("meter", "meters", "metre", "metres"))
	Foot       = unit("ft", Length, foot, nil, words("ft", "foot", "feet", "'"))
	Mile       = unit("mi", Length, mile, nil, words("mi", "mile", "miles"))
	Kilometer  = unit("km", Length, kilo, nil, words("km", "kms", "kilometer", "kilometers", "kilometre", "kilometres"))

	Volt      = unit("V", Voltage, one, []string{"v"}, words("volt", "volts"))
	Millivolt = unit("mV", Voltage, milli, nil, words("millivolt", "millivolts"))
	Kilovolt  = unit("kV", Voltage, kilo, nil, words("kv", "kilovolt", "kilovolts"))
	VoltDC    = unit("VDC", Voltage, one, nil, words("vdc", "v-dc", "volt-dc", "volts-dc", "dc-volts", "dc-v"))
	VoltAC    = unit("VAC", Voltage, one, nil, words("vac", "v-ac", "volt-ac", "volts-ac", "ac-volts", "ac-v"))

	Ampere      = unit("A", Current, one, nil, words("amp", "amps", "ampere", "amperes"))
	Milliampere = unit("mA", Current, milli, nil, words("milliamp", "milliamps", "milliampere", "milliamperes"))
	Microampere = unit("uA", Current, micro, []string{"µA"}, words("microamp", "microamps", "microampere", "microamperes"))

	Ohm      = unit("ohm", Resistance, one, []string{"Ω"}, words("ohm", "ohms"))
	Kilohm   = unit("kohm", Resistance, kilo, []string{"kΩ", "KΩ"}, words("kohm", "kohms", "kilohm", "kilohms", "k-ohm", "k-ohms", "kiloohm", "kiloohms"))
	Megohm   = unit("Mohm", Resistance, mega, []string{"MΩ", "M-ohm", "M-ohms", "Mohms"}, words("megohm", "megohms", "megaohm", "megaohms", "meg", "megs"))
	Gigohm   = unit("Gohm", Resistance, giga, []string{"GΩ"}, words("gohm", "gohms", "gigohm", "gigohms", "gigaohm", "gigaohms"))
	Milliohm = unit("mohm", Resistance, milli, []string{"mΩ", "m-ohm", "m-ohms", "mohms"}, words("milliohm", "milliohms"))

	Watt       = unit("W", Power, one, nil, words("watt", "watts"))
	Kilowatt   = unit("kW", Power, kilo, nil, words("kw", "kilowatt", "kilowatts"))
	Horsepower = unit("hp", Power, hp, nil, words("hp", "horsepower"))

	VoltAmpere     = unit("VA", ApparentPower, one, nil, words("va", "volt-amp", "volt-amps", "volt-ampere", "volt-amperes"))
	KilovoltAmpere = unit("kVA", ApparentPower, kilo, nil, words("kva"))

	RPM       = unit("rpm", RotationalSpeed, one, nil, words("rpm", "rpms", "r/min", "rev/min"))
	Hertz     = unit("Hz", Frequency, one, nil, words("hz", "hertz"))
	Kilohertz = unit("kHz", Frequency, kilo, nil, words("khz", "kilohertz"))

	Hour   = unit("h", Time, hour, nil, words("hr", "hrs", "hour", "hours"))
	Minute = unit("min", Time, big.NewRat(60, 1), nil, words("min", "mins", "minute", "minutes"))
	Second = unit("s", Time, one, nil, words("sec", "secs", "second", "seconds"))

	PoundFoot = unit("lbf-ft", Torque, product(poundf, foot), nil,
		words("lbf-ft", "lb-ft", "lbs-ft", "ft-lb", "ft-lbs", "ft-lbf", "ftlb", "ftlbs", "foot-pound", "foot-pounds", "foot-lb", "foot-lbs", "ft-pound", "ft-pounds", "pound-foot", "pound-feet"))
	PoundInch = unit("lbf-in", Torque, product(poundf, inch), nil,
		words("lbf-in", "lb-in", "lbs-in", "in-lb", "in-lbs", "in-lbf", "inlb", "inlbs", "inch-pound", "inch-pounds", "inch-lb", "inch-lbs", "in-pound", "in-pounds"))
	NewtonMeter        = unit("N·m", Torque, one, []string{"Nm"}, words("newton-meter", "newton-meters", "newton-metre", "newton-metres"))
	NewtonCentimeter   = unit("N·cm", Torque, centi, []string{"Ncm"}, words("newton-centimeter", "newton-centimeters"))
	KilogramForceMeter = unit("kgf-m", Torque, kilogf, nil, words("kgf-m", "kgfm", "kg-m", "kgm", "m-kg", "mkg"))
	KilogramForceCm    = unit("kgf-cm", Torque, product(kilogf, centi), nil, words("kgf-cm", "kgfcm", "kg-cm", "kgcm"))

	PoundForce    = unit("lbf", Force, poundf, nil, words("lbf", "lbsf", "pound-force", "pounds-force", "pounds-of-force"))
	Newton        = unit("N", Force, one, nil, words("newton", "newtons"))
	KilogramForce = unit("kgf", Force, kilogf, nil, words("kgf", "kilogram-force", "kilograms-force"))

	Fahrenheit = scale("degF", big.NewRat(5, 9), rankine0, words("degf", "°f", "℉", "deg-f", "°-f", "f", "fahrenheit", "degrees-f", "degree-f", "degrees-fahrenheit"))
	Celsius    = scale("degC", one, kelvin0, words("degc", "°c", "℃", "deg-c", "°-c", "c", "celsius", "degrees-c", "degree-c", "degrees-celsius"))
	Kelvin     = scale("kelvin", one, nil, words("kelvin", "kelvins"))

	FluidOunce      = unit("fl oz", Volume, product(gallon, big.NewRat(1, 128)), nil, words("fl-oz", "floz", "fluid-ounce", "fluid-ounces"))
	Quart           = unit("qt", Volume, product(gallon, big.NewRat(1, 4)), nil, words("qt", "qts", "quart", "quarts"))
	Milliliter      = unit("mL", Volume, product(liter, milli), []string{"ml"}, words("milliliter", "milliliters", "millilitre", "millilitres"))
	Liter           = unit("L", Volume, liter, []string{"l"}, words("liter", "liters", "litre", "litres"))
	CubicCentimeter = unit("cc", Volume, micro, []string{"cm3", "cm³"}, words("cc", "ccm"))
	CubicInch       = unit("cu in", Volume, cubicIn, nil, words("cu-in", "in3", "in³", "cuin", "ci", "cid", "cubic-inch", "cubic-inches"))
	Pint            = unit("pt", Volume, product(gallon, big.NewRat(1, 8)), nil, words("pt", "pts", "pint", "pints"))
	Gallon          = unit("gal", Volume, gallon, nil, words("gal", "gals", "gallon", "gallons"))

	GallonPerMinute    = unit("gpm", Flow, product(gallon, perMin), nil, words("gpm", "gal/min"))
	LiterPerMinute     = unit("L/min", Flow, product(liter, perMin), nil, words("l/min", "lpm"))
	CubicFootPerMinute = unit("cfm", Flow, product(cubicFt, perMin), nil, words("cfm", "ft3/min", "ft³/min", "cu-ft/min"))
	GallonPerHour      = unit("gph", Flow, product(gallon, perHour), nil, words("gph", "gal/h", "gal/hr"))
	LiterPerHour       = unit("L/h", Flow, product(liter, perHour), nil, words("l/h", "l/hr", "lph"))

	MillipascalSecond = unit("mPa·s", Viscosity, milli, []string{"cP"}, words("mpas", "centipoise"))

	Pound    = unit("lb", Mass, pound, nil, words("lb", "lbs", "pound", "pounds"))
	Ounce    = unit("oz", Mass, product(pound, big.NewRat(1, 16)), nil, words("oz", "ounce", "ounces"))
	Kilogram = unit("kg", Mass, one, nil, words("kg", "kgs", "kilogram", "kilograms"))
	Gram     = unit("g", Mass, milli, nil, words("gram", "grams"))

	MilePerHour      = unit("mph", Velocity, product(mile, perHour), nil, words("mph", "mi/h"))
	KilometerPerHour = unit("km/h", Velocity, product(kilo, perHour), nil, words("km/h", "km/hr", "kmh", "kph"))
	FootPerMinute    = unit("ft/min", Velocity, product(foot, perMin), nil, words("ft/min", "fpm"))
	MeterPerSecond   = unit("m/s", Velocity, one, nil, nil)

	// A capacitor's label says MFD for microfarad, which is not a millifarad.
	Microfarad = unit("uF", Capacitance, micro, []string{"µF"}, words("uf", "mfd", "mfds", "microfarad", "microfarads"))
	Nanofarad  = unit("nF", Capacitance, nano, nil, words("nanofarad", "nanofarads"))
	Picofarad  = unit("pF", Capacitance, pico, nil, words("picofarad", "picofarads"))

	AmpereHour      = unit("Ah", Charge, hour, nil, words("ah", "a-h", "amp-hour", "amp-hours", "ampere-hour", "ampere-hours", "ahr"))
	MilliampereHour = unit("mAh", Charge, product(milli, hour), nil, words("mah"))
	WattHour        = unit("Wh", Energy, hour, nil, words("wh", "watt-hour", "watt-hours"))
	KilowattHour    = unit("kWh", Energy, product(kilo, hour), nil, words("kwh", "kilowatt-hour", "kilowatt-hours"))

	Degree = unit("deg", Angle, one, []string{"°"}, words("deg", "degs", "degree", "degrees"))
	Turn   = plural("turn", "turns", Angle, circle, words("turn", "turns", "rev", "revs", "revolution", "revolutions"))

	Percent = unit("%", Ratio, centi, nil, words("percent", "per-cent", "pct"))
	ToOne   = unit(":1", Proportion, one, nil, nil)

	// These are ratings and sizes: none converts into anything else.
	ColdCrankingAmp = unit("CCA", ColdCranking, one, nil, words("cca", "cold-cranking-amps", "cold-cranking-amperes"))
	ThreadsPerInch  = unit("TPI", ThreadCount, one, nil, words("tpi", "threads-per-inch", "threads/in", "threads/inch"))
	WireGauge       = unit("AWG", WireSize, one, nil, words("awg"))
)

func words(w ...string) []string { return w }

// scale registers a temperature scale.
func scale(symbol string, factor, offset *big.Rat, anyCase []string) Unit {
	u := unit(symbol, Temperature, factor, nil, anyCase)
	u.def.offset = offset
	return u
}

// plural registers a unit that is printed otherwise behind 1 and less.
func plural(single, symbol string, d Dimension, factor *big.Rat, anyCase []string) Unit {
	u := unit(symbol, d, factor, nil, anyCase)
	u.def.single = single
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
