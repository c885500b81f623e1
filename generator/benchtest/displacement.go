package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// displacement is the volume that the pistons sweep: pi/4 bore^2 x stroke x
// cylinders (geometry).
var displacement = kind{
	name: "displacement", also: []string{"engine displacement"}, system: "engine",
	about: "bench.displacement.about", caution: "bench.caution.read-only", source: "bench.source.geometry",
	inputs:  []input{boreInput, strokeInput, cylindersInput, accuracy("gauge", quantity.Length)},
	example: `{test: displacement, bore: 68 mm, stroke: 54 mm, cylinders: 1, gauge: 0.02 mm}`,
	run:     runDisplacement,
}

// swept is the volume in m3 of one cylinder of that bore and stroke in m.
func swept(bore, stroke *big.Rat) *big.Rat {
	return times(exact(math.Pi/4*float(times(bore, bore))), stroke)
}

func runDisplacement(b *bench) {
	bore, stroke, n := b.bore(), b.stroke(), b.cylinders()
	b.proceed()
	volume := func(x []*big.Rat) *big.Rat { return times(swept(x[0], x[1]), big.NewRat(int64(n), 1)) }
	u, other := quantity.CubicCentimeter, quantity.CubicInch
	if inInches(bore.Quantity) {
		u, other = other, u
	}
	show := func(q quantity.Quantity) string { return both(q, 4, other) }
	b.sum(finding{what: "displacement", main: true, show: show}, u, 4, volume, bore, stroke)
	b.say("bench.displacement.says", "value", b.last().Value)
}

// compressionRatio is (swept + clearance)/clearance, the clearance volume being
// what is left over the piston at the top: chamber + gasket + deck - dome
// (geometry). Bore and stroke are the engine's where the test has none.
var compressionRatio = kind{
	name: "compression ratio", system: "engine",
	about: "bench.ratio.about", caution: "bench.ratio.caution", source: "bench.source.geometry",
	inputs: []input{
		boreInput, strokeInput,
		measure("chamber", quantity.Volume, "bench.ratio.chamber").needed(),
		measure("gasket_thickness", quantity.Length, "bench.ratio.gasket-thickness").orZero(),
		measure("gasket_bore", quantity.Length, "bench.ratio.gasket-bore"),
		measure("deck", quantity.Length, "bench.ratio.deck").signed(),
		measure("dome", quantity.Volume, "bench.ratio.dome").signed(),
	},
	example: `{test: compression ratio, bore: 68 mm, stroke: 54 mm, chamber: 24.5 cc, gasket_thickness: 1.1 mm, deck: 0.3 mm, dome: -1.5 cc}`,
	run:     runCompressionRatio,
}

// ratioOf is (swept + clearance)/clearance; nil without clearance.
func ratioOf(swept, clearance *big.Rat) *big.Rat {
	return quotient(new(big.Rat).Add(swept, clearance), clearance)
}

func runCompressionRatio(b *bench) {
	bore, stroke := b.bore(), b.stroke()
	b.proceed()
	clearance := b.clearanceVolume(bore)
	if clearance.Sign() <= 0 {
		b.refuse("chamber", "problem.bench-no-clearance")
	}
	r := b.derive(quantity.ToOne, 4, func(x []*big.Rat) *big.Rat { return ratioOf(swept(x[0], x[1]), clearance) }, bore, stroke)
	r.Quantity = r.WithPlaces(2)
	r.mark()
	left := significant(clearance, 3, b.one("chamber").Unit())
	b.find(finding{what: "volume over the piston", value: reading{Quantity: left}})
	b.findToOne(finding{what: "compression ratio", value: r, main: true})
	b.say(b.byStrokes("bench.ratio.says", "bench.ratio.says-two-stroke", "bench.ratio.says-either"), "value", b.last().Value)
	if !b.has("gasket_thickness") {
		b.say("bench.ratio.no-gasket")
	}
	if !b.has("deck") {
		b.say("bench.ratio.no-deck")
	}
	if !b.has("dome") {
		b.say("bench.ratio.no-dome")
	}
}

// clearanceVolume is chamber + gasket + deck - dome, in m3.
func (b *bench) clearanceVolume(bore reading) *big.Rat {
	hole := bore.Base()
	if b.has("gasket_bore") {
		hole = b.one("gasket_bore").Base()
	}
	gasket := swept(hole, b.one("gasket_thickness").Base())
	deck := swept(bore.Base(), b.one("deck").Base())
	all := new(big.Rat).Add(b.one("chamber").Base(), gasket)
	all.Add(all, deck)
	return all.Sub(all, b.one("dome").Base())
}

// pistonSpeed is the mean piston speed, 2 x stroke x revolutions (textbook
// formula; from memory: J. B. Heywood, Internal Combustion Engine
// Fundamentals).
var pistonSpeed = kind{
	name: "piston speed", also: []string{"mean piston speed"}, system: "engine",
	about: "bench.piston-speed.about", caution: "bench.caution.running", source: "bench.piston-speed.source",
	inputs: []input{
		strokeInput,
		measure("rpm", quantity.RotationalSpeed, "bench.piston-speed.rpm").needed(),
		accuracy("gauge", quantity.RotationalSpeed),
	},
	example: `{test: piston speed, stroke: 2.125 in, rpm: 3600 rpm, gauge: 20 rpm}`,
	run:     runPistonSpeed,
}

func runPistonSpeed(b *bench) {
	stroke := b.stroke()
	b.proceed()
	stroke.gauge = quantity.Gauge{} // the gauge is the tachometer's
	u, other := quantity.MeterPerSecond, quantity.FootPerMinute
	if inInches(stroke.Quantity) {
		u, other = other, u
	}
	show := func(q quantity.Quantity) string { return both(q, 4, other) }
	speed := func(x []*big.Rat) *big.Rat { return times(x[0], x[1], big.NewRat(2, 60)) }
	b.sum(finding{what: "mean piston speed", main: true, show: show}, u, 4, speed, stroke, b.reading("rpm"))
	b.say("bench.piston-speed.says", "value", b.last().Value)
}
