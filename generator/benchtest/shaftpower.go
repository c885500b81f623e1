package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// shaftPower is 2 pi x torque x speed. TM 9-8000 has for a Prony brake of 2 ft at 3000
// rpm with 300 lb on it 342.55 hp, with 6.28 for 2 pi (342.72 without rounding).
var _ = add(kind{
	name: "shaft power", also: []string{"brake horsepower", "horsepower from torque"}, system: "engine",
	about: "bench.power.about", caution: "bench.caution.running", source: "bench.power.source",
	inputs: []input{
		measure("torque", quantity.Torque, "bench.power.torque"),
		measure("force", quantity.Force, "bench.power.force").such("12 lbf"),
		measure("arm", quantity.Length, "bench.power.arm").such("2 ft"),
		measure("rpm", quantity.RotationalSpeed, "bench.power.rpm").needed(),
		accuracy("gauge", quantity.Torque),
		accuracyOf("force_gauge", quantity.Force, "bench.power.force-gauge"),
		accuracyOf("rpm_gauge", quantity.RotationalSpeed, "bench.generator.rpm-gauge"),
	},
	example: `{test: shaft power, force: 4.1 lbf, arm: 2 ft, rpm: 3400 rpm, force_gauge: 0.1 lbf, rpm_gauge: 10 rpm}`,
	run:     runShaftPower,
})

func runShaftPower(b *bench) {
	rpm := b.with("rpm", "rpm_gauge")
	if b.has("torque") && (b.has("force") || b.has("arm")) {
		b.refuse("torque", "problem.bench-torque-twice")
	}
	readings := []reading{b.reading("torque"), rpm}
	if !b.has("torque") {
		b.need("force", "arm")
		readings = []reading{b.with("force", "force_gauge"), b.fixed("arm"), rpm}
	}
	power := func(x []*big.Rat) *big.Rat { return times(pi, big.NewRat(1, 30), times(x...)) }
	f := finding{what: "shaft power", main: true, show: func(q quantity.Quantity) string { return both(q, 3, quantity.Kilowatt) }}
	verdict := b.sum(f, quantity.Horsepower, 3, power, readings...)
	b.draw(Whisker, b.out.Results)
	b.sayFor(verdict, "bench.power.inside", sides{below: "bench.power.low"})
	b.say("bench.power.weather")
}
