package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// charging is the battery voltage with the engine running, and what is left of
// the alternating voltage on it. 13 to 15.5 V is from U.S. Army TM
// 5-3805-254-20-1, malfunction 26 (12 V, engine at 1100 rpm); half of it is
// taken for 6 V. A ripple of less than 0.5 V AC on 12 V: common practice, no
// source, from memory.
var charging = kind{
	name: "charging", also: []string{"charging voltage"}, system: "electrical",
	results: []string{"AC ripple"},
	about:   "bench.charging.about", caution: "bench.charging.caution", source: "bench.charging.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.charging.volts").needed().such("14.1 V"),
		measure("before", quantity.Voltage, "bench.charging.before"),
		measure("ripple", quantity.Voltage, "bench.charging.ripple").orZero().such("0.08 V"),
		measure("rpm", quantity.RotationalSpeed, "bench.charging.rpm"),
		nominalInput,
		accuracy("gauge", quantity.Voltage),
		accuracyOf("ripple_gauge", quantity.Voltage, "bench.charging.ripple-gauge"),
	},
	example: `{test: charging, volts: 14.1 V, before: 12.5 V, ripple: 0.08 V, rpm: 2400 rpm, nominal: 12 V, gauge: 0.05 V}`,
	run:     runCharging,
}

var (
	leastCharging = big.NewRat(13, 1)
	mostCharging  = big.NewRat(155, 10)
	mostRipple    = big.NewRat(5, 10)
)

func runCharging(b *bench) {
	share, ok := b.batteryShare("volts", big.NewRat(2, 1))
	if !ok {
		return
	}
	limit, err := quantity.NewRange(volts(times(leastCharging, share)), volts(times(mostCharging, share)))
	f := finding{what: "charging voltage", value: b.reading("volts"), main: true}
	if err == nil {
		f.published = published{limit, "bench.source.army-charging"}
	}
	verdict := b.whisker(f)
	outside := "bench.charging.high"
	if r := b.last(); r != nil && below(r.Quantity, r.limit) {
		outside = "bench.charging.low"
	}
	b.sayFor(verdict, "bench.charging.inside", outside)
	b.chargingRise()
	b.chargingRipple(share)
}

// below tells whether a value is under the low end of a limit.
func below(q quantity.Quantity, l quantity.Limit) bool {
	end, ok := l.Low()
	return ok && q.Base().Cmp(end.Base()) < 0
}

// chargingRise adds what running the engine added to the voltage.
func (b *bench) chargingRise() {
	if !b.has("before") {
		return
	}
	rise := func(x []*big.Rat) *big.Rat { return new(big.Rat).Sub(x[0], x[1]) }
	r, ok := b.derive(quantity.Volt, 3, rise, b.reading("volts"), b.reading("before"))
	if !ok {
		return
	}
	b.find(finding{what: "rise over the engine off", value: r})
	if r.Sign() <= 0 {
		b.say("bench.charging.no-rise")
	}
}

func (b *bench) chargingRipple(share *big.Rat) {
	if !b.has("ripple") {
		return
	}
	rule := lessThan(volts(times(mostRipple, share)), "bench.source.ripple")
	verdict := b.find(finding{what: "AC ripple", value: b.with("ripple", "ripple_gauge"), published: rule})
	switch verdict {
	case quantity.Outside:
		b.say("bench.charging.ripple-high", "value", b.one("ripple"))
	case quantity.TooClose:
		b.say("bench.charging.ripple-close")
	}
}
