package benchtest

import (
	"math/big"
	"slices"

	"asleft/generator/quantity"
)

// rollerChain is how far a roller chain has grown. Two makers of chain, after ANSI
// B29.1 (read at second hand): replace it at 3 % with sprockets of up to 66 teeth, at
// 200/N % with N teeth above that, and at 1.5 % where the shafts cannot be moved apart.
// Ten pitches of 1/2 in are at 3 % 5.150 in long.
var _ = add(kind{
	name: "roller chain wear", also: []string{"chain wear", "chain stretch"}, system: "drive",
	about: "bench.chain.about", caution: "bench.belt.caution", source: "bench.chain.source",
	inputs: []input{
		measure("length", quantity.Length, "bench.chain.length").such("5.08 in").needed(),
		count("pitches", "bench.chain.pitches").needed(),
		measure("pitch", quantity.Length, "bench.chain.pitch").such("0.5 in").needed(),
		count("teeth", "bench.chain.teeth"),
		yesNo("fixed", "bench.chain.fixed"),
		accuracy("gauge", quantity.Length).reads("length"),
	},
	example: `{test: roller chain wear, length: 5.08 in, pitches: 10, pitch: 0.5 in, teeth: 48, gauge: 0.01 in}`,
	run:     runRollerChain,
})

func runRollerChain(b *bench) {
	most := big.NewRat(3, 100)
	if n := b.count("teeth"); n > 66 {
		most = big.NewRat(2, int64(n))
	}
	if b.yes("fixed") {
		most = slices.MinFunc([]*big.Rat{most, big.NewRat(15, 1000)}, (*big.Rat).Cmp)
	}
	limit := atMost(short(significant(most, 3, quantity.Percent)), "bench.source.b29")
	verdict := b.sum(finding{what: "roller chain wear", main: true, published: limit}, quantity.Percent, 3, func(x []*big.Rat) *big.Rat {
		should := times(x[1], b.number("pitches"))
		return quotient(minus(x[0], should), should)
	}, b.reading("length"), b.fixed("pitch"))
	short := b.belowNothing()
	b.draw(Whisker, b.out.Results)
	if short {
		b.say("bench.chain.short")
		return
	}
	b.sayFor(verdict, "bench.chain.inside", sides{above: "bench.chain.outside"})
}

// sawChain is the pitch of a saw chain, half the span of three rivets in a row (an
// encyclopedia, read at second hand), and the height of its depth gauges, usually 0.025
// in by makers. No limit but the maker's.
var _ = add(kind{
	name: "saw chain", also: []string{"saw chain pitch", "depth gauge"}, system: "implement",
	results: []string{"depth gauge height", "saw chain pitch"},
	about:   "bench.saw-chain.about", caution: "bench.saw-chain.caution", source: "bench.saw-chain.source",
	inputs: []input{
		measure("span", quantity.Length, "bench.saw-chain.span").such("0.75 in").needed(),
		measure("depth", quantity.Length, "bench.saw-chain.depth").such("0.025 in").list("bench.label.nth"),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: saw chain, span: 0.75 in, depth: [0.025 in, 0.027 in, 0.024 in], gauge: 0.001 in}`,
	run: func(b *bench) {
		half := func(x []*big.Rat) *big.Rat { return quotient(x[0], big.NewRat(2, 1)) }
		span := b.reading("span")
		b.sum(finding{what: "saw chain pitch", main: true}, span.Unit(), 3, half, span)
		b.say("bench.saw-chain.pitch", "value", b.last().Value)
		var findings []finding
		for i, r := range b.readings("depth") {
			findings = append(findings, finding{what: "depth gauge height", where: nth("cutter", i, len(b.list("depth")), b.test.Where), part: true, main: true, value: r})
		}
		b.against(sides{"bench.saw-chain.shallow", "bench.saw-chain.deep"}, findings...)
	},
})
