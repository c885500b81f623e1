package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// boltPreload is the torque that clamps with a wanted force, T = K D F. Common
// practice, no source, as the pages of calculators have it: M16 with 50 kN and 0.2 takes
// 160 N·m, M12 with 10 kN 24 N·m, 3/8 in with 4940 lbf 30.875 lbf-ft. The same torque
// clamps 30 % harder or less hard.
var _ = add(kind{
	name: "bolt preload", also: []string{"preload"}, system: "engine",
	about: "bench.preload.about", caution: "bench.torque.caution", source: "bench.preload.source",
	inputs: []input{
		measure("preload", quantity.Force, "bench.preload.preload").needed(),
		measure("diameter", quantity.Length, "bench.torque.diameter").such("0.375 in").needed(),
		number("nut_factor", "bench.torque.nut-factor"),
	},
	example: `{test: bolt preload, preload: 4940 lbf, diameter: 0.375 in, nut_factor: 0.20}`,
	run: func(b *bench) {
		k := b.nutFactor()
		u, other := quantity.NewtonMeter, quantity.PoundFoot
		if inInches(b.one("diameter")) {
			u, other = other, u
		}
		f := finding{what: "torque for the preload", main: true, show: func(q quantity.Quantity) string { return both(q, 3, other) }}
		b.sum(f, u, 3, func(x []*big.Rat) *big.Rat { return times(k, x[0], x[1]) }, b.fixed("preload"), b.fixed("diameter"))
		b.say("bench.preload.says", "value", b.last().Value, "preload", b.one("preload"))
		b.say("bench.torque.scatter", "k", k.FloatString(2))
	},
	results: []string{"torque for the preload"},
})
