package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// leakageCurrent is what flows off a machine that is plugged in: through whoever
// touches it, or down its ground wire. DIN VDE 0701-0702 (read at second hand): less
// than 0.5 mA at a touch, 3.5 mA at most in the ground wire.
var _ = add(kind{
	name: "leakage current", also: []string{"earth leakage", "touch current"}, system: "electrical", safety: true,
	reads:   "leakage current",
	ceiling: atMost(mostInGround, "bench.source.vde0701-wire"),
	about:   "bench.leakage.about", caution: "bench.leakage.caution", source: "bench.leakage.source",
	inputs: []input{
		measure("current", quantity.Current, "bench.leakage.current").such("0.2 mA").orZero().needed(),
		choice("path", "bench.leakage.path", pathTouch, pathGround).needed(),
		accuracy("gauge", quantity.Current),
	},
	example: `{test: leakage current, current: 0.21 mA, path: touch, gauge: 0.02 mA}`,
	run: func(b *bench) {
		limit := lessThan(quantity.New(big.NewRat(5, 10), 1, quantity.Milliampere), "bench.source.vde0701")
		if b.word("path") == pathGround {
			limit = atMost(mostInGround, "bench.source.vde0701")
		}
		f := finding{what: "leakage current", value: b.reading("current"), main: true, published: limit}
		b.sayFor(b.whisker(f), "bench.leakage.inside", sides{above: "bench.leakage.outside"})
	},
})

// mostInGround is the most that may flow in the ground wire.
var mostInGround = quantity.New(big.NewRat(35, 10), 1, quantity.Milliampere)

const (
	pathTouch  = "touch"
	pathGround = "ground wire"
)
