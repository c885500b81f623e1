package quantity

import (
	"math/big"
	"strings"
)

// Dimension is the kind of thing a unit measures. Rotational speed (rpm) and
// frequency (Hz) are different dimensions, for an engine's speed is not its
// generator's frequency.
type Dimension uint8

// The dimensions, each with its base unit (see [Quantity.Base]).
const (
	None            Dimension = iota // no unit at all
	Pressure                         // Pa
	Length                           // m
	Voltage                          // V
	Current                          // A
	Resistance                       // ohm
	Power                            // W
	RotationalSpeed                  // rpm
	Frequency                        // Hz
	Time                             // s
	Torque                           // N·m
	Temperature                      // K
	Volume                           // m3
	Mass                             // kg
	Velocity                         // m/s
	Ratio                            // 1 (so 2 % is 1/50)
	Proportion                       // to 1 (so 50:1 is 50)
	Capacitance                      // F
	ApparentPower                    // VA
	Charge                           // C
	Energy                           // J
	Force                            // N
	Angle                            // deg
	Flow                             // m3/s
	Viscosity                        // Pa·s
	ColdCranking                     // CCA
	ThreadCount                      // TPI
	WireSize                         // AWG: a larger number is a thinner wire
)

var dimensionWords = [...]string{
	None:            "no unit",
	Pressure:        "a pressure",
	Length:          "a length",
	Voltage:         "a voltage",
	Current:         "a current",
	Resistance:      "a resistance",
	Power:           "a power",
	RotationalSpeed: "a turning speed",
	Frequency:       "a frequency",
	Time:            "a time",
	Torque:          "a torque",
	Temperature:     "a temperature",
	Volume:          "a volume",
	Mass:            "a mass",
	Velocity:        "a speed",
	Ratio:           "a percentage",
	Proportion:      "a ratio",
	Capacitance:     "a capacitance",
	ApparentPower:   "an apparent power",
	Charge:          "a battery capacity",
	Energy:          "an energy",
	Force:           "a force",
	Angle:           "an angle",
	Flow:            "a flow",
	Viscosity:       "a viscosity",
	ColdCranking:    "a cold cranking rating",
	ThreadCount:     "a thread count",
	WireSize:        "a wire size",
}

// String names the dimension in plain words with its article, such as
// "a pressure", for use in messages.
func (d Dimension) String() string {
	if int(d) < len(dimensionWords) {
		return dimensionWords[d]
	}
	return dimensionWords[None]
}

// Unit is a unit of measurement. Units are comparable with ==; the zero Unit
// stands for no unit.
type Unit struct{ def *definition }

// definition describes a unit: base value = (number + offset) x factor.
type definition struct {
	symbol    string
	dimension Dimension
	factor    *big.Rat
	offset    *big.Rat // nil but for temperatures
	single    string   // the symbol behind 1 and less, where it is another
	names     []string // other spellings whose capitals matter
	words     []string // other spellings in any mix of capitals
}

// Symbol returns the unit as it is printed, such as "psi"; "" for no unit.
func (u Unit) Symbol() string {
	if u.def == nil {
		return ""
	}
	return u.def.symbol
}

// symbolFor is the symbol as it is printed behind that number.
func (u Unit) symbolFor(number *big.Rat) string {
	if u.def != nil && u.def.single != "" && number.Sign() != 0 && new(big.Rat).Abs(number).Cmp(one) <= 0 {
		return u.def.single
	}
	return u.Symbol()
}

// gap is what stands between a number and the symbol.
func (u Unit) gap() string {
	if strings.HasPrefix(u.Symbol(), ":") {
		return ""
	}
	return " "
}

// in returns how many of unit o make one of u, for units without an offset.
func (u Unit) in(o Unit) *big.Rat { return new(big.Rat).Quo(u.def.factor, o.def.factor) }

// String is Symbol.
func (u Unit) String() string { return u.Symbol() }

// Dimension returns what the unit measures; None for no unit.
func (u Unit) Dimension() Dimension {
	if u.def == nil {
		return None
	}
	return u.def.dimension
}

// Equal reports whether both are the same unit.
func (u Unit) Equal(o Unit) bool { return u == o }

// Convertible reports whether a value in unit a can be given in unit b.
func Convertible(a, b Unit) bool {
	return a.Dimension() != None && a.Dimension() == b.Dimension()
}

// Units returns every unit, in the order of the dimensions.
func Units() []Unit {
	return append([]Unit(nil), allUnits...)
}

// toBase converts a number of unit u to the base unit of its dimension. With
// difference set, the zero point of a temperature scale is left out.
func (u Unit) toBase(number *big.Rat, difference bool) *big.Rat {
	base := new(big.Rat)
	if u.def.offset != nil && !difference {
		base.Add(number, u.def.offset)
		return base.Mul(base, u.def.factor)
	}
	return base.Mul(number, u.def.factor)
}

// fromBase is the exact inverse of toBase.
func (u Unit) fromBase(base *big.Rat, difference bool) *big.Rat {
	number := new(big.Rat).Quo(base, u.def.factor)
	if u.def.offset != nil && !difference {
		number.Sub(number, u.def.offset)
	}
	return number
}
