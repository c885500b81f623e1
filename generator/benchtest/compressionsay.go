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
func (b *bench) sayCompression(verdicts []quantity.Verdict, rises []reading) {
	if b.yes("kick_release") {
		b.sayReleased(verdicts)
		return
	}
	low, closeCall := b.cylindersThat(verdicts, quantity.Outside), b.cylindersThat(verdicts, quantity.TooClose)
	unlimited := b.cylindersThat(verdicts, quantity.NotLimited)
	if low != "" {
		b.say("bench.compression.low", "where", low)
		b.sayNeighbors(verdicts)
	}
	if closeCall != "" {
		b.say(sayClose, "where", closeCall)
	}
	switch {
	case low == "" && closeCall == "" && unlimited == "":
		b.say("bench.compression.none-low")
	case len(verdicts) == 1 && unlimited != "":
		b.say("bench.compression.no-limit")
	case low == "" && closeCall == "":
		b.say("bench.compression.alike")
	}
	b.sayRises(verdicts, rises)
}

// sayReleased says that low readings are normal with a compression release,
// and all the same which ones lie outside a limit that was given.
func (b *bench) sayReleased(verdicts []quantity.Verdict) {
	b.say("bench.compression.release")
	if low := b.cylindersThat(verdicts, quantity.Outside); low != "" {
		b.say("bench.compression.low", "where", low)
	}
	if closeCall := b.cylindersThat(verdicts, quantity.TooClose); closeCall != "" {
		b.say(sayClose, "where", closeCall)
	}
}

// cylindersThat names the cylinders of that verdict; "" for none.
func (b *bench) cylindersThat(verdicts []quantity.Verdict, are quantity.Verdict) string {
	var names []string
	for i, v := range verdicts {
		if v == are {
			names = append(names, b.cylinder(i, len(verdicts)))
		}
	}
	return strings.Join(names, ", ")
}

// sayNeighbors points to the gasket between two low cylinders side by side,
// unless all are low.
func (b *bench) sayNeighbors(verdicts []quantity.Verdict) {
	side, all := false, true
	for i, v := range verdicts {
		low := v == quantity.Outside
		all = all && low
		side = side || i > 0 && low && verdicts[i-1] == quantity.Outside
	}
	switch {
	case all && len(verdicts) > 1:
		b.say("bench.compression.all-low")
	case side:
		b.say("bench.compression.neighbors")
	}
}

// sayRises says what oil did in the cylinders that are not inside their limit.
func (b *bench) sayRises(verdicts []quantity.Verdict, rises []reading) {
	for i, r := range rises {
		if verdicts[i] == quantity.Inside || verdicts[i] == quantity.NotLimited && len(verdicts) > 1 {
			continue
		}
		b.say(riseKey(r), "where", b.cylinder(i, len(rises)), "rise", r)
	}
}

// riseKey is what a rise points to, as far as the gauge can tell.
func riseKey(r reading) string {
	least, most, err := r.gauge.Interval(r.Quantity)
	switch {
	case err != nil:
	case least.Base().Cmp(clearRise) >= 0:
		return "bench.compression.rise-rings"
	case most.Base().Cmp(noRise) <= 0:
		return "bench.compression.rise-valves"
	}
	return "bench.compression.rise-unclear"
}
