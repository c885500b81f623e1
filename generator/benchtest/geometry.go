package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// The geometry of a bench machine, as found and as left. No formula and no
// published limit: the limit is the machine's own (limits: in machine.md), else
// the entry's, with the source that it names. Where an entry's limit is for
// another length than was measured over, the reading is brought to that length:
// reading x limit_over / over.
var (
	squareness = geometry("squareness", "frame", "bench.square.about", "bench.square.how",
		`{test: squareness, where: fence to table, as_found: 0.012 in, as_left: 0.002 in, over: 6 in, limit: "<= 0.003 in", limit_over: 6 in, source: maker's sheet, gauge: 0.001 in}`)
	parallelism = geometry("parallelism", "frame", "bench.parallel.about", "bench.parallel.how",
		`{test: parallelism, where: blade to slot, as_found: 0.018 in, as_left: 0.003 in, limit: "<= 0.005 in", source: maker's sheet, gauge: 0.001 in}`)
	backlash = geometry("backlash", "drive", "bench.backlash.about", "bench.backlash.how",
		`{test: backlash, where: cross slide screw, as_found: 0.022 in, as_left: 0.006 in, limit: "<= 0.010 in", source: maker's sheet, gauge: 0.001 in}`)
	spindleRunout = geometry("spindle runout", "drive", "bench.spindle.about", "bench.spindle.how",
		`{test: spindle runout, where: drill spindle, as_found: 0.09 mm, as_left: 0.03 mm, limit: "<= 0.05 mm", source: maker's sheet, gauge: 0.01 mm}`)
)

func geometry(name, system, about, how, example string) kind {
	found := measure("as_found", quantity.Length, how).orZero()
	left := measure("as_left", quantity.Length, "bench.geometry.as-left").orZero()
	return kind{
		name: name, system: system, about: about, caution: "bench.geometry.caution", source: "bench.geometry.source",
		inputs: []input{
			found, left,
			measure("over", quantity.Length, "bench.geometry.over").such("6 in"),
			text("limit", "bench.geometry.limit"),
			measure("limit_over", quantity.Length, "bench.geometry.limit-over").such("6 in"),
			text("source", "bench.geometry.limit-source"),
			accuracy("gauge", quantity.Length),
		},
		example: example,
		run:     runGeometry,
	}
}

func runGeometry(b *bench) {
	own := b.ownLimit()
	b.checkGeometry()
	verdict := quantity.NotLimited
	for _, state := range []struct{ input, where string }{{"as_found", "as found"}, {"as_left", "as left"}} {
		if !b.has(state.input) {
			continue
		}
		verdict = b.find(b.geometryFinding(state.input, state.where, own))
		b.nameOwnSource()
	}
	b.draw(Whisker, b.out.Results)
	b.sayGeometry(verdict)
}

// geometryFinding is a reading, brought to the length that its limit is for.
func (b *bench) geometryFinding(name, where string, own published) finding {
	f := finding{what: b.kind.name, where: where, value: b.reading(name), main: true, published: own, turn: true, asFound: name == "as_found"}
	if !b.has("limit_over") || b.one("over").Base().Cmp(b.one("limit_over").Base()) == 0 {
		return f
	}
	part := new(big.Rat).Quo(b.one("limit_over").Base(), b.one("over").Base())
	f.value = b.derive(f.value.Unit(), 3, func(x []*big.Rat) *big.Rat { return times(x[0], part) }, f.value)
	f.what, f.main = b.kind.name+" over "+b.one("limit_over").String(), false
	return f
}

// checkGeometry refuses a test without any reading, and a limit for a length where
// the length of the measurement is not known.
func (b *bench) checkGeometry() {
	if !b.has("as_left") {
		b.need("as_found")
	}
	if b.has("limit_over") {
		b.need("over", "limit")
	}
	if b.has("source") {
		b.need("limit")
	}
}

// ownLimit is the limit that the entry gives.
func (b *bench) ownLimit() published {
	if !b.has("limit") {
		return published{}
	}
	limit, err := quantity.ParseLimit(b.word("limit"))
	if err != nil || limit.Dimension() != quantity.Length {
		b.refuse("limit", "problem.bench-own-limit", "read", b.word("limit"))
	}
	return published{limit: limit, source: "bench.source.entry"}
}

// nameOwnSource puts the source that the entry names on the last result, where
// its limit is the entry's.
func (b *bench) nameOwnSource() {
	if r := b.last(); b.has("source") && r.Source == b.words.Say("bench.source.entry") {
		r.Source = b.word("source")
		r.Limits = []Sourced{{r.Limit, r.Source}}
	}
}

// sayGeometry goes by how the machine was left, or by how it was found where
// that is all there is.
func (b *bench) sayGeometry(verdict quantity.Verdict) {
	if !b.has("as_left") {
		b.sayFor(verdict, "bench.geometry.found-inside", sides{"bench.geometry.found-outside", "bench.geometry.found-outside"})
		return
	}
	b.sayFor(verdict, "bench.geometry.left-inside", sides{"bench.geometry.left-outside", "bench.geometry.left-outside"})
	if !b.has("as_found") {
		return
	}
	change := b.difference(b.reading("as_found"), b.reading("as_left"))
	switch {
	case change.most().Sign() < 0:
		b.say("bench.geometry.worse", "from", b.one("as_found"), "to", b.one("as_left"))
	case change.least().Sign() <= 0:
		b.say("bench.geometry.same", "from", b.one("as_found"), "to", b.one("as_left"))
	}
}
