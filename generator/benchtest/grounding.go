package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// groundingContinuity is the resistance of the ground path of a machine with a
// cord. UL 507, 42.1, has 0.1 ohm at most for an appliance without its cord; DIN VDE
// 0701-0702 has 0.3 ohm with a cord of up to 5 m, 0.1 ohm more for each further 7.5 m,
// and 1 ohm at most (both read at second hand).
var _ = add(kind{
	name: "grounding continuity", also: []string{"ground continuity"}, system: "electrical", safety: true,
	results: []string{"ground path resistance"}, reads: "ground path resistance",
	ceiling: atMost(quantity.New(big.NewRat(1, 1), 1, quantity.Ohm), "bench.source.vde0701-longest"),
	about:   "bench.grounding.about", caution: "bench.caution.unplugged", source: "bench.grounding.source",
	inputs: []input{
		measure("resistance", quantity.Resistance, "bench.grounding.resistance").such("0.12 ohm").orZero().orOpen().needed(),
		measure("cord", quantity.Length, "bench.grounding.cord").such("10 ft").orZero().needed(),
		accuracy("gauge", quantity.Resistance),
	},
	example: `{test: grounding continuity, resistance: 0.12 ohm, cord: 10 ft, gauge: 0.02 ohm}`,
	run:     runGrounding,
})

func runGrounding(b *bench) {
	f := finding{what: "ground path resistance", main: true, published: b.mostGround()}
	if b.given["resistance"].broken {
		b.findOpen(f)
		b.say("bench.grounding.open")
		return
	}
	f.value = b.reading("resistance")
	b.sayFor(b.whisker(f), "bench.grounding.inside", sides{above: "bench.grounding.outside"})
}

// mostGround is the most resistance of the path with that cord.
func (b *bench) mostGround() published {
	cord := b.one("cord").Base()
	if cord.Sign() == 0 {
		return atMost(quantity.New(big.NewRat(1, 10), 1, quantity.Ohm), "bench.source.ul507")
	}
	tenths := int64(3)
	for length := big.NewRat(5, 1); cord.Cmp(length) > 0 && tenths < 10; length.Add(length, big.NewRat(75, 10)) {
		tenths++
	}
	return atMost(quantity.New(big.NewRat(tenths, 10), 1, quantity.Ohm), "bench.source.vde0701")
}
