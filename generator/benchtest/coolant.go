package benchtest

import (
	"math/big"

	"asleft/generator/quantity"
)

// coolant is the freeze point of water and glycol, by the mix or as a
// refractometer shows it, against the coldest that the machine will stand in.
// The tables are those of the ASHRAE Handbook, Fundamentals (physical
// properties of secondary coolants), read at second hand in open property data.
var coolant = kind{
	name: "coolant", also: []string{"antifreeze", "coolant freeze point"}, system: "cooling",
	results: []string{"freeze point"},
	about:   "bench.coolant.about", caution: "bench.coolant.caution", source: "bench.source.ashrae",
	inputs: []input{
		measure("glycol", quantity.Ratio, "bench.coolant.glycol").orZero(),
		choice("kind", "bench.coolant.kind", "ethylene", "propylene"),
		measure("freeze_point", quantity.Temperature, "bench.coolant.freeze-point").signed(),
		measure("coldest", quantity.Temperature, "bench.coolant.coldest").signed(),
		accuracy("gauge", quantity.Ratio),
		accuracyOf("freeze_point_gauge", quantity.Temperature, "bench.coolant.freeze-point-gauge").reads("freeze_point"),
	},
	example: `{test: coolant, glycol: 50 %, kind: ethylene, coldest: -20 degF, gauge: 2 %}`,
	run:     runCoolant,
}

// Freeze points in degC by the volume of glycol in %. ASHRAE Handbook,
// Fundamentals, read at second hand.
var (
	ethyleneFreezes = []row{
		rowOf(0, 0), rowOf(440, -140), rowOf(890, -320), rowOf(1360, -540), rowOf(1810, -780), rowOf(2290, -1070),
		rowOf(2770, -1410), rowOf(3260, -1790), rowOf(3750, -2230), rowOf(4250, -2750), rowOf(4760, -3380),
		rowOf(5270, -4110), rowOf(5780, -4830),
	}
	propyleneFreezes = []row{
		rowOf(0, 0), rowOf(480, -160), rowOf(960, -330), rowOf(1450, -510), rowOf(1940, -710), rowOf(2440, -960),
		rowOf(2940, -1270), rowOf(3440, -1640), rowOf(3960, -2110), rowOf(4470, -2670), rowOf(4990, -3350),
		rowOf(5090, -3500), rowOf(5300, -3820), rowOf(5500, -4160), rowOf(5700, -4520), rowOf(6000, -5110),
	}
)

func runCoolant(b *bench) {
	f := finding{what: "freeze point", value: b.freezePoint(), main: true}
	f.show = func(q quantity.Quantity) string { return both(q, 2, otherScale(q.Unit())) }
	if b.has("coldest") {
		f.published = atMost(b.one("coldest"), "bench.source.coldest")
	}
	b.against(sides{above: "bench.coolant.outside"}, f)
	if b.has("glycol") {
		b.say("bench.coolant.pure")
	}
}

// otherScale is the scale that a temperature is given in too.
func otherScale(u quantity.Unit) quantity.Unit {
	if u == quantity.Celsius {
		return quantity.Fahrenheit
	}
	return quantity.Celsius
}

// freezePoint is as read, or by the mix.
func (b *bench) freezePoint() reading {
	if b.has("glycol") && b.has("freeze_point") {
		b.refuse("freeze_point", "problem.bench-coolant-twice")
	}
	if b.has("freeze_point") {
		return b.with("freeze_point", "freeze_point_gauge")
	}
	b.need("glycol")
	b.need("kind")
	return b.freezeByMix()
}

func (b *bench) freezeByMix() reading {
	table := ethyleneFreezes
	if b.word("kind") == "propylene" {
		table = propyleneFreezes
	}
	most := table[len(table)-1].at
	glycol := b.reading("glycol")
	share := func(x *big.Rat) *big.Rat { return new(big.Rat).Mul(x, big.NewRat(100, 1)) }
	if share(glycol.Base()).Cmp(most) > 0 {
		key := "problem.bench-ethylene-range" // which freezes less well again beyond 60 %
		if b.word("kind") == "propylene" {
			key = "problem.bench-propylene-range"
		}
		b.refuse("glycol", key, "read", glycol, "most", most.FloatString(0))
	}
	u := quantity.Fahrenheit
	if b.one("coldest").Unit() == quantity.Celsius {
		u = quantity.Celsius
	}
	return b.derive(u, 2, func(x []*big.Rat) *big.Rat {
		celsius := between(table, share(x[0]))
		return new(big.Rat).Add(celsius, big.NewRat(27315, 100))
	}, glycol)
}
