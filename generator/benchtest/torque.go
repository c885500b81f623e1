package benchtest

import (
	"math/big"
	"strconv"

	"asleft/generator/quantity"
)

// torque is the torque of a fastener in the other units, what clamp load it may
// give, F = T/(K D), and how far an angle moves the nut along its thread. The
// formula and the scatter of 30 % are common practice, no source; K of 0.20 for
// dry steel likewise.
var torque = kind{
	name: "torque", also: []string{"bolt torque", "clamp load"}, system: "engine",
	about: "bench.torque.about", caution: "bench.torque.caution", source: "bench.torque.source",
	inputs: []input{
		measure("torque", quantity.Torque, "bench.torque.torque").needed(),
		measure("diameter", quantity.Length, "bench.torque.diameter"),
		number("nut_factor", "bench.torque.nut-factor"),
		number("angle", "bench.torque.angle"),
		measure("pitch", quantity.Length, "bench.torque.pitch"),
		accuracy("gauge", quantity.Torque),
	},
	example: `{test: torque, where: head bolts, torque: 20 lbf-ft, diameter: 0.3125 in, nut_factor: 0.20, angle: 90, pitch: 0.0556 in, gauge: 4 %}`,
	run:     runTorque,
}

// drySteel is the nut factor taken where none is given.
var drySteel = big.NewRat(1, 5)

func runTorque(b *bench) {
	t := b.reading("torque")
	b.against(sides{below: "bench.torque.below", above: "bench.torque.above"}, finding{what: "torque", value: t, main: true})
	for _, u := range []quantity.Unit{quantity.PoundFoot, quantity.PoundInch, quantity.NewtonMeter} {
		if u != t.Unit() {
			b.sum(finding{what: "torque in " + u.Symbol()}, u, 4, func(x []*big.Rat) *big.Rat { return x[0] }, t)
		}
	}
	b.clampLoad(t)
	b.turn()
}

// clampLoad adds the estimate of T/(K D). A force is no quantity here, so the
// result is only shown.
func (b *bench) clampLoad(t reading) {
	if b.has("nut_factor") {
		b.need("diameter")
	}
	if !b.has("diameter") {
		return
	}
	k := b.nutFactor()
	force := clampForce(t.Base(), k, b.one("diameter").Base())
	b.tell("clamp load, about", b.words.Say("bench.value.force", "lbf", threeDigits(poundsForce(force)), "kn", threeDigits(new(big.Rat).Quo(force, big.NewRat(1000, 1)))))
	b.say("bench.torque.scatter", "k", k.FloatString(2))
}

// nutFactor is what the log says of the thread, else that of dry steel.
func (b *bench) nutFactor() *big.Rat {
	if !b.has("nut_factor") {
		return drySteel
	}
	k := b.number("nut_factor")
	if k.Cmp(big.NewRat(1, 1)) >= 0 {
		b.refuse("nut_factor", "problem.bench-nut-factor", "read", plainNumberText(k))
	}
	return k
}

// clampForce is T/(K D) in N, of N·m and m.
func clampForce(t, k, d *big.Rat) *big.Rat { return new(big.Rat).Quo(t, times(k, d)) }

// poundsForce is a force in N as lbf: 4.4482216152605 N by definition.
func poundsForce(n *big.Rat) *big.Rat {
	return new(big.Rat).Quo(n, big.NewRat(44_482_216_152_605, 10_000_000_000_000))
}

// threeDigits is a number with three significant digits.
func threeDigits(r *big.Rat) string {
	places := placesFor(quantity.New(r, 0, quantity.Percent), 3)
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(float(r), 'e', 2, 64), 64)
	return strconv.FormatFloat(rounded, 'f', places, 64)
}

// turn adds how far a nut moves along its thread in so many degrees.
func (b *bench) turn() {
	if !b.has("angle") && !b.has("pitch") {
		return
	}
	b.need("angle", "pitch")
	angle := b.number("angle")
	if angle.Cmp(big.NewRat(720, 1)) > 0 {
		b.refuse("angle", "problem.bench-angle", "read", plainNumberText(angle))
	}
	moves := func(x []*big.Rat) *big.Rat { return times(x[0], angle, big.NewRat(1, 360)) }
	b.sum(finding{what: "movement along the thread"}, b.one("pitch").Unit(), 2, moves, reading{Quantity: b.one("pitch")})
	b.say("bench.torque.turn", "angle", plainNumberText(angle), "value", b.last().Value)
}
