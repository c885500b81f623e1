package benchtest

import (
	"math"
	"math/big"

	"asleft/generator/quantity"
)

// groundFaultTrip is how fast, and at what current, a ground-fault outlet of class A
// opens. UL 943: within (20/I)^1.43 s of I mA, from 6 to 264 mA; by a note of the
// NEC it trips at 6 mA or more and not below 4 mA (all read at second hand).
var _ = add(kind{
	name: "ground-fault trip time", also: []string{"ground-fault trip", "GFCI trip time"}, system: "electrical", safety: true,
	results: []string{tripCurrent}, reads: "ground-fault trip time",
	ceiling: atMost(mostTime(leastFault), "bench.source.ul943-longest"),
	about:   "bench.gfci.about", caution: "bench.gfci.caution", source: "bench.gfci.source",
	inputs: []input{
		measure("current", quantity.Current, "bench.gfci.current").such("6 mA").needed(),
		measure("time", quantity.Time, "bench.gfci.time").such("0.03 s").needed(),
		measure("trips_at", quantity.Current, "bench.gfci.trips-at").such("5.1 mA"),
		accuracyOf("time_gauge", quantity.Time, "bench.in.time-gauge"),
		accuracy("gauge", quantity.Current).reads("trips_at"),
	},
	example: `{test: ground-fault trip time, current: 6 mA, time: 0.03 s, trips_at: 5.1 mA, time_gauge: 0.005 s, gauge: 0.1 mA}`,
	run:     runGroundFault,
})

// The currents of UL 943, in A.
var (
	leastFault = big.NewRat(6, 1000)
	mostFault  = big.NewRat(264, 1000)
)

const tripCurrent = "ground-fault trip current"

// tripCurrents are the currents at which such an outlet may open.
func tripCurrents() published {
	span := sure(quantity.NewRange(quantity.New(big.NewRat(4, 1), 0, quantity.Milliampere), quantity.New(big.NewRat(6, 1), 0, quantity.Milliampere)))
	return published{limit: span, source: "bench.source.nec-gfci"}
}

// mostTime is the longest time that it may take at a current in A; the least current
// has the longest.
func mostTime(amps *big.Rat) quantity.Quantity {
	return significant(exact(math.Pow(20/(1000*float(amps)), 1.43)), 3, quantity.Second)
}

func runGroundFault(b *bench) {
	amps := b.one("current").Base()
	if amps.Cmp(leastFault) < 0 || amps.Cmp(mostFault) > 0 {
		b.refuse("current", "problem.bench-fault-current", "read", b.one("current"))
	}
	limit := atMost(mostTime(amps), "bench.source.ul943")
	f := finding{what: "ground-fault trip time", value: b.with("time", "time_gauge"), main: true, published: limit}
	b.sayFor(b.whisker(f), "bench.gfci.inside", sides{above: "bench.gfci.slow"})
	if !b.has("trips_at") {
		return
	}
	verdict := b.find(finding{what: tripCurrent, value: b.reading("trips_at"), published: tripCurrents()})
	if verdict == quantity.Outside {
		b.say(sides{below: "bench.gfci.early", above: "bench.gfci.late"}.beyond(*b.last()), "value", b.last().Value)
	}
}
