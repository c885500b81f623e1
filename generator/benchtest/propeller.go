package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// propellerSlip is how far a boat stays behind what its propeller would screw itself
// through: pitch x speed over the reduction. 24 in at 6000 rpm and 2 to 1 are 68.18 mph,
// of which 60 mph is 12 % short (pages of calculators, read at second hand: common
// practice). No limit.
var _ = add(kind{
	name: "propeller slip", also: []string{"prop slip"}, system: "drive",
	about: "bench.propeller.about", caution: "bench.propeller.caution", source: "bench.propeller.source",
	inputs: []input{
		measure("pitch", quantity.Length, "bench.propeller.pitch").such("24 in").needed(),
		measure("rpm", quantity.RotationalSpeed, "bench.propeller.rpm").such("6000 rpm").needed(),
		number("reduction", "bench.propeller.reduction").needed(),
		measure("speed", quantity.Velocity, "bench.propeller.speed").such("60 mph").needed(),
		accuracy("gauge", quantity.Velocity),
		accuracyOf("rpm_gauge", quantity.RotationalSpeed, "bench.generator.rpm-gauge"),
	},
	example: `{test: propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 60 mph, gauge: 1 mph, rpm_gauge: 50 rpm}`,
	run: func(b *bench) {
		pitch, rpm, speed := b.fixed("pitch"), b.with("rpm", "rpm_gauge"), b.reading("speed")
		screwed := func(x []*big.Rat) *big.Rat {
			return quotient(times(x[0], x[1]), times(b.number("reduction"), big.NewRat(60, 1)))
		}
		b.sum(finding{what: "speed without slip"}, speed.Unit(), 4, screwed, pitch, rpm)
		verdict := b.sum(finding{what: "propeller slip", main: true}, quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
			return fallBelow(x[2], screwed(x))
		}, pitch, rpm, speed)
		if b.last().read().most().Sign() < 0 {
			b.belowNothing()
			b.say("bench.propeller.fast")
		} else {
			b.sayFor(verdict, "bench.propeller.inside", sides{above: "bench.propeller.outside"})
		}
	},
})
