package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// bladeStoppingTime is how long the blade turns after the control is let go.
// 16 CFR 1205.5(a)(1)(iii): a consumer walk-behind rotary mower of 12 in cut or
// more stops within 3.0 s. Other mowers have the maker's figure (a limit in
// machine.md) and no other: the workplace rule of 15 s (Oregon Administrative Code
// 437-004-2240(2)(e)) is no measure of a sound brake, and is no limit here.
var bladeStoppingTime = kind{
	name: stoppingTime, also: []string{"blade stop"}, system: "guards", safety: true, reads: stoppingTime,
	about: "bench.stop.about", caution: "bench.stop.caution", source: "bench.stop.source",
	inputs: []input{
		measure("time", quantity.Time, "bench.stop.time").needed().list("bench.label.trial").such("2.5 s"),
		choice("mower", "bench.stop.mower", walkBehind, riding, otherMower).needed(),
		measure("cut", quantity.Length, "bench.stop.cut").such("21 in"),
		accuracy("gauge", quantity.Time),
	},
	example: `{test: blade stopping time, time: [2.4 s, 2.6 s, 2.5 s], mower: walk-behind rotary, cut: 21 in, gauge: 0.2 s}`,
	run:     runStoppingTime,
}

const stoppingTime = "blade stopping time"

const (
	walkBehind = "walk-behind rotary"
	riding     = "riding rotary"
	otherMower = "other"
)

// leastConsumerCut is the cut from which 16 CFR 1205 covers a mower (1205.1(b)).
var leastConsumerCut = quantity.New(big.NewRat(12, 1), 0, quantity.Inch)

func runStoppingTime(b *bench) {
	verdict := b.whisker(finding{what: stoppingTime, trials: b.readings("time"), main: true, published: b.stopLimit()})
	b.sayFor(verdict, "bench.stop.inside", sides{above: "bench.stop.outside"}, "trials", len(b.list("time")))
	if verdict == quantity.NotLimited {
		b.say("bench.stop.maker")
	}
}

// walkBehindStop is the limit of 16 CFR 1205.5(a)(1)(iii).
func walkBehindStop() published {
	return atMost(quantity.New(big.NewRat(3, 1), 1, quantity.Second), "bench.source.cpsc-stop")
}

func (b *bench) stopLimit() published {
	small := b.has("cut") && b.one("cut").Base().Cmp(leastConsumerCut.Base()) < 0
	if b.word("mower") == walkBehind && !small {
		return walkBehindStop()
	}
	return published{}
}
