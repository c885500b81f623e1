package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// parasiticDraw is the current that flows with everything switched off, and
// how long a battery lasts at it: capacity over current, from full or from the
// charge given, without the battery's own loss. No published limit: the maker's
// figure counts.
var parasiticDraw = kind{
	name: "parasitic draw", also: []string{"key-off draw"}, system: "electrical",
	about: "bench.parasitic.about", caution: "bench.parasitic.caution", source: "bench.parasitic.source",
	inputs: []input{
		measure("current", quantity.Current, "bench.parasitic.current").needed().orZero().such("18 mA"),
		number("amp_hours", "bench.parasitic.amp-hours").needed(),
		measure("charge", quantity.Ratio, "bench.parasitic.charge").such("90 %"),
		accuracy("gauge", quantity.Current),
	},
	example: `{test: parasitic draw, current: 18 mA, amp_hours: 24, charge: 90 %, gauge: 1 mA}`,
	run:     runParasiticDraw,
}

func runParasiticDraw(b *bench) {
	charge := big.NewRat(1, 1)
	if b.has("charge") {
		charge = b.one("charge").Base()
	}
	if charge.Cmp(big.NewRat(1, 1)) > 0 {
		b.refuse("charge", "problem.bench-charge", "read", b.one("charge"))
	}
	draw := b.reading("current")
	verdict := b.whisker(finding{what: "parasitic draw", value: draw, main: true})
	switch {
	case draw.Sign() == 0:
		b.say("bench.parasitic.none")
	case draw.least().Sign() <= 0:
		b.say("bench.parasitic.coarse")
	default:
		b.daysUntilFlat(verdict, draw, charge)
	}
}

// daysUntilFlat adds the time until nothing is left, and until half is.
func (b *bench) daysUntilFlat(verdict quantity.Verdict, draw reading, charge *big.Rat) {
	days := map[string]string{}
	for _, stage := range []struct {
		what string
		left *big.Rat
	}{{"time until half full", big.NewRat(1, 2)}, {"time until flat", new(big.Rat)}} {
		use := new(big.Rat).Sub(charge, stage.left)
		if use.Sign() <= 0 {
			continue
		}
		coulombs := times(b.number("amp_hours"), use, big.NewRat(3600, 1))
		r := b.derive(quantity.Hour, 2, func(x []*big.Rat) *big.Rat { return quotient(coulombs, x[0]) }, draw)
		days[stage.what] = b.inDays(r)
		shown := b.words.Say("bench.parasitic.days-hours", "days", days[stage.what], "hours", r)
		b.find(finding{what: stage.what, value: r, shown: shown})
	}
	b.say("bench.parasitic.days", "days", days["time until flat"])
	if verdict == quantity.Outside {
		b.say("bench.parasitic.outside")
	}
}

// inDays is a time as whole days, cut and not rounded up, so that nobody counts
// on a day that is not there.
func (b *bench) inDays(r reading) string {
	seconds := r.Base()
	days := new(big.Int).Div(seconds.Num(), new(big.Int).Mul(seconds.Denom(), big.NewInt(86400)))
	if !days.IsInt64() || days.Int64() > 10_000 {
		return b.words.Say("bench.parasitic.years")
	}
	return r.marked(b.words.Count("bench.parasitic.day", int(days.Int64())))
}
