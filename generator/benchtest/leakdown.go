package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// leakDown is the differential compression test: what part of the air that is
// let into a cylinder at top dead center gets out again,
// (regulated - cylinder)/regulated. A loss in excess of 25 % makes a cylinder
// suspect by FAA AC 43.13-1B, paragraph 8-14 (aircraft engines, 80 psi).
// Where the air is heard, and what that points to: common practice, no source.
var leakDown = kind{
	name: "leak-down", also: []string{"leakdown", "leak-down test", "leakdown test"}, system: "engine",
	about: "bench.leak-down.about", caution: "bench.leak-down.caution", source: "bench.leak-down.source",
	inputs: []input{
		measure("regulated", quantity.Pressure, "bench.leak-down.regulated"),
		measure("cylinder", quantity.Pressure, "bench.leak-down.cylinder").orZero().list("bench.label.cylinder"),
		measure("loss", quantity.Ratio, "bench.leak-down.loss").orZero().list("bench.label.cylinder"),
		choice("heard", "bench.leak-down.heard", heardWords...).list("bench.label.cylinder").severalFor("cylinder", "loss"),
		accuracy("gauge", quantity.Pressure),
	},
	example: `{test: leak-down, regulated: 80 psi, cylinder: [72 psi, 56 psi], heard: [crankcase, exhaust], gauge: 1 psi}`,
	run:     runLeakDown,
}

// Where the air may be heard.
var heardWords = []string{"intake", "exhaust", "crankcase", "radiator", "next cylinder", "head gasket", "nowhere"}

var heardSays = map[string]string{
	"intake":        "bench.leak-down.at-intake",
	"exhaust":       "bench.leak-down.at-exhaust",
	"crankcase":     "bench.leak-down.at-crankcase",
	"radiator":      "bench.leak-down.at-radiator",
	"next cylinder": "bench.leak-down.at-next-cylinder",
	"head gasket":   "bench.leak-down.at-head-gasket",
	"nowhere":       "bench.leak-down.nowhere",
}

// heardTwoStroke is what a two-stroke has another sentence for.
var heardTwoStroke = map[string]string{
	"intake":  "bench.leak-down.at-intake-two-stroke",
	"exhaust": "bench.leak-down.at-exhaust-two-stroke",
}

// leakLimit is the published limit; exactly 25 % is not in excess of it.
var leakLimit = atMost(percent(25), "bench.source.faa-leak-down")

func runLeakDown(b *bench) {
	losses := b.losses()
	var findings []finding
	for i, r := range losses {
		findings = append(findings, finding{
			what: "leak-down", where: b.cylinder(i, len(losses)), part: true, value: r, main: true, published: leakLimit,
		})
	}
	b.against(sides{above: "bench.leak-down.outside"}, findings...)
	b.draw(Bars, b.out.Results)
	heard := b.given["heard"].items
	if len(heard) == 0 {
		b.say("bench.leak-down.not-heard")
	}
	for i, places := range heard {
		for _, h := range places.items {
			key := heardSays[h.word]
			if two := heardTwoStroke[h.word]; two != "" {
				key = b.byStrokes(key, two, key)
			}
			b.say(key, "where", b.cylinder(i, len(losses)))
		}
	}
}

// losses are the parts lost, computed or as a tester shows them.
func (b *bench) losses() []reading {
	name := "cylinder"
	if b.has("loss") {
		name = "loss"
		b.checkLoss()
	} else {
		b.need("regulated", "cylinder")
	}
	read := b.readings(name)
	b.cylindersFit(name, len(read))
	b.sameCount("heard", len(b.given["heard"].items), name, len(read))
	if name == "loss" {
		return read
	}
	return b.computedLosses(read)
}

// checkLoss refuses pressures beside a loss, a loss of more than all, and a gauge
// that is not in %.
func (b *bench) checkLoss() {
	if b.has("cylinder") || b.has("regulated") {
		b.refuse("loss", "problem.bench-loss-twice")
	}
	if g := b.gauge(); !g.IsZero() && g.Size().Dimension() != quantity.Ratio {
		b.refuse("gauge", "problem.bench-accuracy-percent", "read", g)
	}
	for _, q := range b.list("loss") {
		if q.Base().Cmp(big.NewRat(1, 1)) > 0 {
			b.refuse("loss", "problem.bench-over-all", "read", q)
		}
	}
}

func (b *bench) computedLosses(cylinder []reading) []reading {
	regulated := b.reading("regulated")
	var all []reading
	for _, c := range cylinder {
		if c.Base().Cmp(regulated.Base()) > 0 {
			b.refuse("cylinder", "problem.bench-above-supply", "read", c, "regulated", regulated)
		}
		all = append(all, b.derive(quantity.Percent, 3, func(x []*big.Rat) *big.Rat { return fallBelow(x[1], x[0]) }, regulated, c))
	}
	return all
}
