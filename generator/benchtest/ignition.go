package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// plugGap is the gap of the spark plugs. What a wide or a narrow one points to
// is common practice, no source.
var plugGap = kind{
	name: "plug gap", also: []string{"spark plug gap"}, system: "ignition",
	about: "bench.plug-gap.about", caution: "bench.caution.spark", source: "bench.source.none",
	inputs: []input{
		measure("gap", quantity.Length, "bench.plug-gap.gap").needed().orZero().list("bench.label.cylinder"),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: plug gap, gap: 0.028 in, gauge: 0.001 in}`,
	run: func(b *bench) {
		b.gaps("plug gap", "cylinder", sides{below: "bench.plug-gap.narrow", above: "bench.plug-gap.wide"})
	},
}

// armatureAirGap is the room between the coil's legs and the flywheel magnet.
var armatureAirGap = kind{
	name: "armature air gap", also: []string{"coil air gap", "ignition air gap"}, system: "ignition",
	about: "bench.air-gap.about", caution: "bench.caution.spark", source: "bench.source.none",
	inputs: []input{
		measure("gap", quantity.Length, "bench.air-gap.gap").needed().orZero().list("bench.label.nth"),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: armature air gap, gap: [0.010 in, 0.012 in], gauge: 0.001 in}`,
	run: func(b *bench) {
		b.gaps("armature air gap", "leg", sides{below: "bench.air-gap.narrow", above: "bench.air-gap.wide"})
	},
}

// gaps judges the readings under gap.
func (b *bench) gaps(what, each string, s sides) {
	read := b.readings("gap")
	var findings []finding
	for i, r := range read {
		where := nth(each, i, len(read), b.test.Where)
		if len(read) == 1 && b.test.Where == "" && each != "cylinder" {
			where = ""
		}
		findings = append(findings, finding{what: what, where: where, part: true, value: r, main: true})
	}
	b.against(s, findings...)
}

// coilResistance is the resistance of an ignition coil's windings, corrected
// to 20 degC: R20 = R/(1 + 0.00393 (t - 20)), with copper's temperature
// coefficient of IEC 60028 (from memory).
var coilResistance = kind{
	name: "coil resistance", also: []string{"ignition coil resistance"}, system: "ignition",
	results: []string{"coil primary resistance", "coil secondary resistance"},
	about:   "bench.coil.about", caution: "bench.caution.spark", source: "bench.coil.source",
	inputs: []input{
		measure("primary", quantity.Resistance, "bench.coil.primary").orZero().orOpen(),
		measure("secondary", quantity.Resistance, "bench.coil.secondary").orZero().orOpen(),
		choice("open", "bench.coil.open", "primary", "secondary", "both"),
		measure("temperature", quantity.Temperature, "bench.coil.temperature").signed(),
		accuracy("gauge", quantity.Resistance),
	},
	example: `{test: coil resistance, primary: 1.1 ohm, secondary: 4.6 kohm, temperature: 86 degF, gauge: 1 %}`,
	run:     runCoilResistance,
}

// copperPerKelvin is the temperature coefficient of annealed copper at 20 degC.
var copperPerKelvin = big.NewRat(393, 100_000)

func runCoilResistance(b *bench) {
	if !b.has("secondary") && !b.has("open") {
		b.need("primary")
	}
	var findings []finding
	var open []string
	for _, winding := range []string{"primary", "secondary"} {
		said := b.word("open") == winding || b.word("open") == "both"
		broken := b.given[winding].broken
		switch {
		case said && b.has(winding) && !broken:
			b.refuse("open", "problem.bench-open-and-read", "winding", winding)
		case said || broken:
			open = append(open, winding)
		case b.has(winding):
			findings = append(findings, finding{what: coilWinding(winding), value: b.at20(winding)})
		}
	}
	if len(findings) > 0 {
		b.against(sides{below: "bench.coil.low", above: "bench.coil.high"}, findings...)
		if !b.has("temperature") {
			b.say("bench.coil.not-corrected")
		}
	}
	for _, winding := range open {
		b.findOpen(finding{what: coilWinding(winding), main: true})
	}
	if len(open) > 0 {
		b.say("bench.coil.is-open", "winding", b.words.List(open))
	}
}

// coilWinding is the name of what a winding reads.
func coilWinding(winding string) string { return "coil " + winding + " resistance" }

// at20 is a winding's resistance at 20 degC; as read where the temperature was
// not written down.
func (b *bench) at20(winding string) reading {
	r := b.reading(winding)
	if !b.has("temperature") {
		return r
	}
	b.checkAir("temperature")
	return b.derive(r.Unit(), 3, func(x []*big.Rat) *big.Rat { return copperAt20(x[0], x[1]) }, r, reading{Quantity: b.one("temperature")})
}

// copperAt20 is what a resistance of copper at so many kelvins is at 20 degC.
func copperAt20(r, kelvin *big.Rat) *big.Rat {
	warmer := new(big.Rat).Sub(kelvin, big.NewRat(29315, 100))
	factor := warmer.Mul(warmer, copperPerKelvin)
	return quotient(r, factor.Add(factor, big.NewRat(1, 1)))
}
