package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// groundSpeed is pi x tire diameter x axle speed, against a timed run where
// there was one: the difference is what the wheels slip, and what the tire is
// flattened by its load. Plain geometry.
var groundSpeed = kind{
	name: "ground speed", also: []string{"travel speed"}, system: "drive",
	results: []string{"wheel slip"},
	about:   "bench.ground.about", caution: "bench.ground.caution", source: "bench.ground.source",
	inputs: []input{
		measure("axle_rpm", quantity.RotationalSpeed, "bench.ground.axle-rpm").needed().such("62 rpm"),
		measure("tire", quantity.Length, "bench.ground.tire").needed().such("20 in"),
		measure("distance", quantity.Length, "bench.ground.distance").such("100 ft"),
		measure("time", quantity.Time, "bench.ground.time").such("18.9 s"),
		accuracy("gauge", quantity.RotationalSpeed),
		accuracyOf("length_gauge", quantity.Length, "bench.in.length-gauge"),
		accuracyOf("time_gauge", quantity.Time, "bench.in.time-gauge"),
	},
	example: `{test: ground speed, axle_rpm: 62 rpm, tire: 20 in, distance: 100 ft, time: 18.9 s, gauge: 1 rpm, length_gauge: 1 %, time_gauge: 0.3 s}`,
	run:     runGroundSpeed,
}

func runGroundSpeed(b *bench) {
	if b.has("distance") || b.has("time") {
		b.need("distance", "time")
	}
	unit := quantity.KilometerPerHour
	if inInches(b.one("tire")) {
		unit = quantity.MilePerHour
	}
	roll := func(x []*big.Rat) *big.Rat { return times(pi, x[0], x[1], big.NewRat(1, 60)) }
	axle, tire := b.reading("axle_rpm"), b.with("tire", "length_gauge")
	verdict := b.whisker(finding{what: "ground speed", value: b.derive(unit, 3, roll, axle, tire), main: true})
	b.sayFor(verdict, "bench.ground.inside", sides{"bench.ground.outside", "bench.ground.outside"})
	b.say("bench.ground.flattened")
	if b.has("distance") {
		b.timedRun(unit, roll, axle, tire)
	}
}

// timedRun adds the speed of a timed run, and how far it fell short.
func (b *bench) timedRun(unit quantity.Unit, roll func(x []*big.Rat) *big.Rat, axle, tire reading) {
	way, time := b.with("distance", "length_gauge"), b.with("time", "time_gauge")
	b.sum(finding{what: "timed ground speed"}, unit, 3, func(x []*big.Rat) *big.Rat { return quotient(x[0], x[1]) }, way, time)
	b.sum(finding{what: "wheel slip"}, quantity.Percent, 2, func(x []*big.Rat) *big.Rat {
		return fallBelow(quotient(x[2], x[3]), roll(x[:2]))
	}, axle, tire, way, time)
	if b.belowNothing() {
		b.say("bench.ground.fast")
	}
}
