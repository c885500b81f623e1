package benchtest

import (
	"math/big"
	"strings"

	"asleft/generator/quantity"
)

// Rises with oil that count as none and as clear; between the two the test
// does not tell. Common practice, no source.
var (
	noRise    = big.NewRat(5, 100)
	clearRise = big.NewRat(10, 100)
)

// sayCompression puts the readings into words.
func (b *bench) sayCompression(cylinders []judgedCylinder, rises []reading) {
	low, high := cylindersThat(cylinders, quantity.Outside, false), cylindersThat(cylinders, quantity.Outside, true)
	closeCall, unlimited := cylindersThat(cylinders, quantity.TooClose, false), cylindersThat(cylinders, quantity.NotLimited, false)
	released := b.yes("kick_release")
	if released {
		b.say("bench.compression.release")
	}
	if low != "" {
		b.say("bench.compression.low", "where", low)
	}
	if high != "" {
		b.say("bench.compression.high", "where", high)
	}
	if closeCall != "" {
		b.say(sayClose, "where", closeCall)
	}
	if released {
		return // what low readings point to holds for no engine that lets pressure out
	}
	switch {
	case low+high+closeCall == "" && unlimited == "":
		b.say("bench.compression.none-low")
	case len(cylinders) == 1 && unlimited != "":
		b.say("bench.compression.no-limit")
	case low+high+closeCall == "":
		b.say("bench.compression.alike")
	}
	b.sayNeighbors(cylinders)
	b.sayRises(cylinders, rises)
}

// cylindersThat names the cylinders of that verdict and side; "" for none.
func cylindersThat(cylinders []judgedCylinder, are quantity.Verdict, above bool) string {
	var names []string
	for _, c := range cylinders {
		if c.verdict == are && c.above == above {
			names = append(names, c.where)
		}
	}
	return strings.Join(names, ", ")
}

// low tells whether a cylinder is surely low.
func (c judgedCylinder) low() bool { return c.verdict == quantity.Outside && !c.above }

// sayNeighbors points to the gasket between two low cylinders side by side,
// unless all are low.
func (b *bench) sayNeighbors(cylinders []judgedCylinder) {
	side, all := false, true
	for i, c := range cylinders {
		all = all && c.low()
		side = side || i > 0 && c.low() && cylinders[i-1].low()
	}
	switch {
	case all && len(cylinders) > 1:
		b.say(b.byStrokes("bench.compression.all-low", "bench.compression.all-low-two-stroke", "bench.compression.all-low"))
	case side:
		b.say("bench.compression.neighbors")
	}
}

// byStrokes is the key for what the engine is: one with valves, a two-stroke, which
// has none, or one of which the log does not say.
func (b *bench) byStrokes(four, two, unsaid string) string {
	switch b.engine().Strokes {
	case 4:
		return four
	case 2:
		return two
	}
	return unsaid
}

// sayRises says what oil did in the cylinders that are not inside their limit.
func (b *bench) sayRises(cylinders []judgedCylinder, rises []reading) {
	for i, r := range rises {
		c := cylinders[i]
		if r.IsZero() || c.verdict == quantity.Inside || c.above || c.verdict == quantity.NotLimited && len(cylinders) > 1 {
			continue
		}
		b.say(b.riseKey(r), "where", c.where, "rise", r)
	}
}

// riseKey is what a rise points to, as far as the gauge can tell.
func (b *bench) riseKey(r reading) string {
	switch {
	case r.about || r.open != closed:
	case r.least().Base().Cmp(clearRise) >= 0:
		return "bench.compression.rise-rings"
	case r.most().Base().Cmp(noRise) <= 0:
		return b.byStrokes("bench.compression.rise-valves", "bench.compression.rise-two-stroke", "bench.compression.rise-either")
	}
	return "bench.compression.rise-unclear"
}
