package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// voltageDrop is what a cable or a ground eats of the voltage while current
// flows in it. 0.20 V per 100 A, and 0.4 V on the positive cable with its
// connections while cranking, are from U.S. Army TM 10-3930-671-24 (12 V); for
// 6 V SAE J541 allows 0.12 V per 100 A (read at second hand). 0.2 V on the
// ground side, battery post to engine block while cranking: common practice, no
// source. All of these are of starting circuits; other loads have no published
// limit.
var voltageDrop = kind{
	name: "voltage drop", also: []string{"cable drop"}, system: "electrical",
	results: []string{"voltage drop per 100 A"},
	about:   "bench.drop.about", caution: "bench.drop.caution", source: "bench.drop.source",
	inputs: []input{
		measure("volts", quantity.Voltage, "bench.drop.volts").dc().needed().orZero().such("0.15 V"),
		choice("side", "bench.drop.side", sidePositive, sideGround).needed(),
		choice("load", "bench.drop.load", loadCranking, loadOther).needed(),
		measure("current", quantity.Current, "bench.drop.current").such("120 A"),
		nominalInput,
		accuracy("gauge", quantity.Voltage),
		accuracyOf("current_gauge", quantity.Current, "bench.drop.current-gauge"),
	},
	example: `{test: voltage drop, where: battery to starter, volts: 0.28 V, side: positive, load: cranking, current: 120 A, gauge: 0.01 V, current_gauge: 3 %}`,
	run:     runVoltageDrop,
}

const (
	sidePositive = "positive"
	sideGround   = "ground"
	loadCranking = "cranking"
	loadOther    = "other"
)

func runVoltageDrop(b *bench) {
	six := b.sixVolt()
	verdict := b.whisker(finding{what: "voltage drop", value: b.reading("volts"), main: true, published: b.dropLimit(six)})
	if b.has("current") {
		verdict = quantity.Worse(verdict, b.dropByCurrent(six))
	}
	if verdict == quantity.NotLimited && b.word("load") == loadOther {
		b.say("bench.drop.other")
	} else {
		b.sayFor(verdict, "bench.drop.inside", sides{above: "bench.drop.outside"})
	}
}

// sixVolt tells whether the system is one of 6 V, and refuses one that is neither
// that nor of 12 V.
func (b *bench) sixVolt() bool {
	n := b.one("nominal").Base()
	six := n.Cmp(big.NewRat(6, 1)) == 0
	if b.has("nominal") && !six && n.Cmp(big.NewRat(12, 1)) != 0 {
		b.refuse("nominal", "problem.bench-nominal", "read", b.one("nominal"))
	}
	return six
}

// dropLimit is what the whole drop may be while cranking on 12 V.
func (b *bench) dropLimit(six bool) published {
	switch {
	case six || b.word("load") != loadCranking:
		return published{}
	case b.word("side") == sideGround:
		return atMost(volts(big.NewRat(2, 10)), "bench.source.ground-drop")
	}
	return atMost(volts(big.NewRat(4, 10)), "bench.source.army-drop")
}

// dropPer100 is what a starting circuit may lose for each 100 A. Its sources are of
// no other circuits: at a lamp's few amperes it would let most of the voltage go.
func (b *bench) dropPer100(six bool) published {
	switch {
	case b.word("load") != loadCranking:
		return published{}
	case six:
		return atMost(volts(big.NewRat(12, 100)), "bench.source.sae-drop-6v")
	}
	return atMost(volts(big.NewRat(20, 100)), "bench.source.army-drop")
}

// dropByCurrent adds the drop per 100 A and the resistance.
func (b *bench) dropByCurrent(six bool) quantity.Verdict {
	readings := []reading{b.reading("volts"), b.with("current", "current_gauge")}
	ohms := func(x []*big.Rat) *big.Rat { return quotient(x[0], x[1]) }
	at100 := func(x []*big.Rat) *big.Rat { return quotient(times(x[0], big.NewRat(100, 1)), x[1]) }
	b.sum(finding{what: "cable resistance"}, quantity.Milliohm, 2, ohms, readings...)
	verdict := b.sum(finding{what: "voltage drop per 100 A", published: b.dropPer100(six)}, quantity.Volt, 2, at100, readings...)
	b.draw(Whisker, []Result{b.out.Results[0], *b.last()})
	return verdict
}
