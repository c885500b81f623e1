package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// torqueExtension is what a torque wrench is set to with an extension on its head: T x
// L/(L + A cos a), of an extension of A at an angle of a to a wrench of L. TM
// 1-1500-204-23-9, fig. 8-16: 300 lbf-in with 10 in and 4 in are 214; TM 9-254, fig. 45:
// 60 lbf-in set with 12 in and 2 in give 70. At a right angle nothing changes, and
// turned back the extension counts the other way (NAVEDTRA 14008).
var _ = add(kind{
	name: "torque with an extension", also: []string{"torque extension"}, system: "engine",
	about: "bench.extension.about", caution: "bench.torque.caution", source: "bench.extension.source",
	inputs: []input{
		measure("torque", quantity.Torque, "bench.extension.torque"),
		measure("set", quantity.Torque, "bench.extension.set"),
		measure("wrench", quantity.Length, "bench.extension.wrench").such("10 in").needed(),
		measure("extension", quantity.Length, "bench.extension.extension").such("4 in").needed(),
		measure("angle", quantity.Angle, "bench.extension.angle").orZero(),
		accuracy("gauge", quantity.Torque),
	},
	example: `{test: torque with an extension, torque: 300 lbf-in, wrench: 10 in, extension: 4 in, gauge: 4 %}`,
	run:     runExtension,
})

func runExtension(b *bench) {
	if b.has("torque") == b.has("set") {
		b.refuse("set", "problem.bench-torque-or-set")
	}
	part := exact(math.Cos(float(b.one("angle").Base()) * math.Pi / 180))
	if b.one("angle").Base().Cmp(big.NewRat(90, 1)) == 0 {
		part = new(big.Rat) // of which floating point makes not quite nothing
	}
	// What part of the torque the wrench shows; none where an extension that is turned
	// back reaches past the hand.
	share := func(x []*big.Rat) *big.Rat { return quotient(x[1], new(big.Rat).Add(x[1], times(x[2], part))) }
	wrench, extension := b.fixed("wrench"), b.fixed("extension")
	if b.has("set") {
		set := b.reading("set")
		gives := func(x []*big.Rat) *big.Rat { return quotient(x[0], share(x)) }
		verdict := b.sum(finding{what: "torque with an extension", main: true}, set.Unit(), 3, gives, set, wrench, extension)
		b.sayFor(verdict, "bench.extension.inside", sides{"bench.extension.below", "bench.extension.above"})
		return
	}
	wanted := b.reading("torque")
	setting := func(x []*big.Rat) *big.Rat { return times(x[0], share(x)) }
	b.sum(finding{what: "wrench setting"}, wanted.Unit(), 3, setting, wanted, wrench, extension)
	b.say("bench.extension.set-to", "value", b.last().Value, "torque", wanted)
}
