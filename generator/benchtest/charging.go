package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// charging is the battery voltage with the engine running, and what is left of
// the alternating voltage on it. 13 to 15.5 V is from U.S. Army TM
// 5-3805-254-20-1, malfunction 26 (12 V, engine at 1100 rpm); half of it is
// taken for 6 V. A flywheel alternator without a regulator is judged by its
// amperes, of which the maker has the figures. A ripple of less than 0.5 V AC on 12 V: common practice, no
// source, from memory.
var charging = kind{
	name: "charging", also: []string{"charging voltage"}, system: "electrical",
	results: []string{"charging current", "AC ripple"},
	about:   "bench.charging.about", caution: "bench.charging.caution", source: "bench.charging.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.charging.volts").dc().needed().such("14.1 V"),
		measure("before", quantity.Voltage, "bench.charging.before").dc(),
		measure("ripple", quantity.Voltage, "bench.charging.ripple").ac().orZero().such("0.08 V"),
		measure("rpm", quantity.RotationalSpeed, "bench.charging.rpm"),
		choice("regulator", "bench.charging.regulator", regulated, unregulated),
		measure("amps", quantity.Current, "bench.charging.amps").orZero().such("2.4 A"),
		nominalInput,
		accuracy("gauge", quantity.Voltage),
		accuracyOf("ripple_gauge", quantity.Voltage, "bench.charging.ripple-gauge").reads("ripple"),
		accuracyOf("amps_gauge", quantity.Current, "bench.drop.current-gauge"),
	},
	example: `{test: charging, volts: 14.1 V, before: 12.5 V, ripple: 0.08 V, rpm: 2400 rpm, regulator: regulated, nominal: 12 V, gauge: 0.05 V, ripple_gauge: 0.01 V}`,
	run:     runCharging,
}

var (
	leastCharging = big.NewRat(13, 1)
	mostCharging  = big.NewRat(155, 10)
	mostRipple    = big.NewRat(5, 10)
	// clearChargeRise is the least rise that shows a system at work on a 12 V battery.
	// Common practice, no source; it is no limit.
	clearChargeRise = big.NewRat(2, 10)
)

const (
	regulated   = "regulated"
	unregulated = "unregulated"
)

func runCharging(b *bench) {
	share := b.batteryShare(big.NewRat(2, 1))
	volts := b.reading("volts")
	verdict := b.whisker(finding{what: "charging voltage", value: volts, main: true, published: b.chargingLimit(volts, share)})
	b.sayFor(verdict, "bench.charging.inside", sides{below: "bench.charging.low", above: "bench.charging.high"})
	switch {
	case b.word("regulator") == unregulated:
		b.say("bench.charging.by-amperes")
	case b.word("regulator") == "" && verdict == quantity.NotLimited:
		b.say("bench.charging.which-regulator")
	}
	b.chargingAmps()
	b.chargingRise(share)
	b.chargingRipple(share)
}

// chargingLimit is the range of a system with a regulator. One without is judged by
// its amperes; and where the log does not say which it is, a low voltage may be
// either.
func (b *bench) chargingLimit(r reading, share *big.Rat) published {
	least, most := times(leastCharging, share), times(mostCharging, share)
	unsaid := b.word("regulator") == "" && r.Base().Cmp(least) < 0
	if unsaid || b.word("regulator") == unregulated {
		return published{}
	}
	return published{limit: sure(quantity.NewRange(volts(least), volts(most))), source: "bench.source.army-charging"}
}

// chargingAmps adds what flows into the battery.
func (b *bench) chargingAmps() {
	if !b.has("amps") {
		return
	}
	r := b.with("amps", "amps_gauge")
	verdict := b.find(finding{what: "charging current", value: r})
	switch {
	case r.Sign() == 0:
		b.say("bench.charging.no-amps")
	case verdict == quantity.Outside && b.last().below():
		b.say("bench.charging.few-amps", "value", b.last().Value)
	}
}

// chargingRise adds what running the engine added to the voltage.
func (b *bench) chargingRise(share *big.Rat) {
	if !b.has("before") {
		return
	}
	rise := func(x []*big.Rat) *big.Rat { return minus(x[0], x[1]) }
	volts, before := b.reading("volts"), b.reading("before")
	r := b.derive(quantity.Volt, 3, rise, volts, before)
	if volts.Unit() == quantity.Volt && before.Unit() == quantity.Volt { // a difference has no more places than what it is one of
		r.Quantity = r.WithPlaces(min(r.Places(), max(volts.Places(), before.Places())))
		r.mark()
	}
	b.find(finding{what: "rise over the engine off", value: r})
	switch {
	case r.Sign() <= 0:
		b.say("bench.charging.no-rise")
	case r.Base().Cmp(times(clearChargeRise, share)) < 0:
		b.say("bench.charging.small-rise", "rise", r)
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
