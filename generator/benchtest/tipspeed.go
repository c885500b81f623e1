package benchtest

import (
	"math/big"
	"slices"

	"asleft/generator/quantity"
)

// bladeTipSpeed is pi x blade length x spindle speed. The trade's limit of
// 19,000 ft/min is quoted from ANSI B71.1 at second hand (the standard was not
// read); 29 CFR 1910.243(e)(2) is remembered to have the same.
//
// Worked example of the trade: a 21 in blade at 3100 rpm is at 17,042 ft/min
// (17,043.1 by the formula without rounding).
var bladeTipSpeed = kind{
	name: tipSpeed, also: []string{"tip speed"}, system: "implement", safety: true, reads: tipSpeed,
	about: "bench.tip.about", caution: "bench.tip.caution", source: "bench.tip.source",
	inputs: []input{
		measure("blade", quantity.Length, "bench.tip.blade").needed().such("21 in"),
		measure("spindle_rpm", quantity.RotationalSpeed, "bench.tip.spindle-rpm"),
		measure("engine_rpm", quantity.RotationalSpeed, "bench.tip.engine-rpm"),
		measure("engine_pulley", quantity.Length, "bench.tip.engine-pulley").such("4 in"),
		measure("spindle_pulley", quantity.Length, "bench.tip.spindle-pulley").such("4 in"),
		accuracy("gauge", quantity.RotationalSpeed),
		accuracyOf("length_gauge", quantity.Length, "bench.in.length-gauge"),
	},
	example: `{test: blade tip speed, blade: 21 in, engine_rpm: 3100 rpm, engine_pulley: 4 in, spindle_pulley: 4 in, gauge: 20 rpm, length_gauge: 0.06 in}`,
	run:     runTipSpeed,
}

const tipSpeed = "blade tip speed"

// pi to more places than any reading has.
var pi, _ = new(big.Rat).SetString("3.14159265358979323846264338328")

var tipLimit = quantity.New(big.NewRat(19000, 1), 0, quantity.FootPerMinute)

func runTipSpeed(b *bench) {
	spin, drive := b.spindle()
	blade := b.with("blade", "length_gauge")
	tip := func(x []*big.Rat) *big.Rat { return times(pi, x[0], drive(x[1:]), big.NewRat(1, 60)) }
	r := b.derive(quantity.FootPerMinute, 4, tip, append([]reading{blade}, spin...)...)
	verdict := b.whisker(finding{what: tipSpeed, value: r, main: true, published: atMost(tipLimit, "bench.source.tip-speed")})
	b.sayFor(verdict, "bench.tip.inside", sides{above: "bench.tip.outside"})
	b.spindleSpeeds(blade, spin, drive)
}

// spindleSpeeds adds the spindle's own speed where it was computed, and the
// speed at which this blade would be at the limit.
func (b *bench) spindleSpeeds(blade reading, spin []reading, drive func(x []*big.Rat) *big.Rat) {
	if len(spin) > 1 {
		b.sum(finding{what: "spindle speed"}, quantity.RPM, 4, drive, spin...)
	}
	top := func(x []*big.Rat) *big.Rat {
		return quotient(times(tipLimit.Base(), big.NewRat(60, 1)), times(pi, x[0]))
	}
	b.sum(finding{what: "spindle speed at 19,000 ft/min"}, quantity.RPM, 4, top, blade)
}

// spindle is the readings that make the spindle's speed, and the sum that makes
// it from their base units.
func (b *bench) spindle() ([]reading, func(x []*big.Rat) *big.Rat) {
	byPulleys := []string{"engine_rpm", "engine_pulley", "spindle_pulley"}
	pulleys := slices.ContainsFunc(byPulleys, b.has)
	switch {
	case b.has("spindle_rpm") && pulleys:
		b.refuse("spindle_rpm", "problem.bench-two-speeds")
	case b.has("spindle_rpm"):
		return []reading{b.reading("spindle_rpm")}, func(x []*big.Rat) *big.Rat { return x[0] }
	case !pulleys:
		b.refuse("spindle_rpm", "problem.bench-no-speed")
	}
	b.need(byPulleys...)
	readings := []reading{b.reading("engine_rpm"), b.with("engine_pulley", "length_gauge"), b.with("spindle_pulley", "length_gauge")}
	return readings, func(x []*big.Rat) *big.Rat { return quotient(times(x[0], x[1]), x[2]) }
}
