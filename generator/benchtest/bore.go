package benchtest

import (
	"math/big"
	"slices"
	"strings"

	"asleft/generator/quantity"
)

// bore is the wear of a cylinder. Out-of-round is the difference of two
// diameters at right angles on one level; taper is the difference of the
// diameters at the top and at the bottom of the ring travel, the larger of the
// two ways. The published limits, 0.001 in of wear for each inch of diameter
// and 0.0005 in of taper for each inch of travel, are from U.S. Army
// TM 10-3930-647-14&P (sleeve bores of one engine). The usual oversizes are
// common practice, no source.
var bore = kind{
	name: "bore", also: []string{"cylinder bore", "bore wear"}, system: "engine",
	results: []string{"bore wear", "bore out-of-round", "bore taper", "piston clearance"},
	about:   "bench.bore.about", caution: "bench.bore.caution", source: "bench.bore.source",
	inputs: []input{
		measure("top", quantity.Length, "bench.bore.top").needed().split("along", "across"),
		measure("middle", quantity.Length, "bench.bore.middle").split("along", "across"),
		measure("bottom", quantity.Length, "bench.bore.bottom").needed().split("along", "across"),
		measure("standard", quantity.Length, "bench.bore.standard"),
		strokeInput,
		measure("piston", quantity.Length, "bench.bore.piston"),
		measure("oversizes", quantity.Length, "bench.bore.oversizes").list("bench.label.nth"),
		accuracy("gauge", quantity.Length),
	},
	example: `{test: bore, top: [2.7560 in, 2.7540 in], middle: [2.7545 in, 2.7535 in], bottom: [2.7530 in, 2.7530 in], standard: 2.7520 in, stroke: 2.500 in, piston: 2.7500 in, oversizes: [0.010 in, 0.020 in, 0.030 in], gauge: 0.0002 in}`,
	run:     runBore,
}

// levels of a bore, from the top down.
var levels = []string{"top", "middle", "bottom"}

func runBore(b *bench) {
	standard := b.builtIn("standard", b.engine().Bore)
	standard.gauge = quantity.Gauge{}
	b.proceed()
	b.nearStandard(standard, append(levels, "piston")...)
	all := b.readingsOf(levels...)
	var taperLimit published
	if b.has("stroke") || b.engine().Stroke.Sign() > 0 {
		taperLimit = partOf(b.stroke(), 5, 10000, "bench.source.army-bore")
	}
	var wear []reading
	for _, r := range all {
		wear = append(wear, b.difference(r, standard))
	}
	b.against(sides{above: "bench.bore.worn"},
		finding{what: "bore wear", trials: wear, floor: below(standard), published: partOf(standard, 1, 1000, "bench.source.army-bore")},
		finding{what: "bore out-of-round", trials: b.outOfRound(levels...)},
		finding{what: "bore taper", trials: b.taper("top", "bottom"), published: taperLimit})
	b.oversize(standard, all)
	b.pistonClearance(outermost(all, openBelow), outermost(all, openAbove))
	b.boreSection(standard)
}

// The oversizes that pistons often come in, in in and in mm. Common practice,
// no source; the test takes others under oversizes.
var (
	inchOversizes   = []int64{10, 20, 30, 40}
	metricOversizes = []int64{25, 50, 75, 100}
)

// stock is what has to be left on the diameter to clean up a bore: 0.02 mm and 0.01
// mm are makers' figures, so the larger is taken. Common practice, and no limit.
var stock = quantity.New(big.NewRat(2, 100), 2, quantity.Millimeter)

// oversize finds the least oversize that leaves stock to clean up over every reading,
// as wide as its tool lets it be.
func (b *bench) oversize(standard reading, all []reading) {
	widest := outermost(all, openAbove)
	if widest.open == openAbove || widest.unbounded() {
		b.say("bench.bore.oversize-open")
		return
	}
	list := b.list("oversizes")
	if len(list) == 0 {
		list = usualOversizes(inInches(standard.Quantity))
	}
	need := new(big.Rat).Add(widest.most().Base(), stock.Base())
	fit := slices.DeleteFunc(list, func(o quantity.Quantity) bool { return new(big.Rat).Add(standard.Base(), o.Base()).Cmp(need) < 0 })
	if len(fit) == 0 {
		b.say("bench.bore.no-oversize")
		return
	}
	least, _ := extremes(fit)
	over, size := fit[least], sure(standard.Add(fit[least]))
	b.find(finding{what: "next oversize", value: reading{Quantity: over}, shown: b.words.Say("bench.bore.oversize", "over", over, "size", size)})
	b.say("bench.bore.stock", "over", over, "size", size)
}

func usualOversizes(inches bool) []quantity.Quantity {
	var all []quantity.Quantity
	if inches {
		for _, n := range inchOversizes {
			all = append(all, quantity.New(big.NewRat(n, 1000), 3, quantity.Inch))
		}
		return all
	}
	for _, n := range metricOversizes {
		all = append(all, quantity.New(big.NewRat(n, 100), 2, quantity.Millimeter))
	}
	return all
}

// pistonClearance is the room around the piston where the bore is narrowest
// and where it is widest.
func (b *bench) pistonClearance(narrow, wide reading) {
	if !b.has("piston") {
		return
	}
	piston := b.reading("piston")
	if piston.Base().Cmp(narrow.Base()) >= 0 {
		b.refuse("piston", "problem.bench-piston-too-big", "read", piston, "bore", narrow)
	}
	b.find(finding{what: "piston clearance", where: "least", part: true, value: b.difference(narrow, piston)})
	b.find(finding{what: "piston clearance", where: "greatest", part: true, value: b.difference(wide, piston)})
}

// boreSection draws the readings level by level, against the standard size and
// the limit of wear.
func (b *bench) boreSection(standard reading) {
	u := standard.Unit()
	var edge Band
	for _, r := range b.out.Results {
		if high, ok := r.limit.High(); ok && r.Name == "bore wear" {
			edge = Band{Low: in(standard.Quantity, u), HasLow: true, High: in(standard.Quantity, u) + in(high, u), HasHigh: true}
		}
	}
	d := &Drawing{Shape: Section, Unit: u.Symbol()}
	var facts []string
	for _, level := range levels {
		for i, r := range b.readings(level) {
			label := b.words.Say("bench.label.part", "name", level, "part", []string{"along", "across"}[i])
			p := point(Result{Name: label, Value: r.String(), Quantity: r.Quantity, Gauge: r.gauge}, u)
			p.Band = edge
			d.Points = append(d.Points, p)
			facts = append(facts, b.words.Say("bench.draw.reading", "name", label, "value", r))
		}
	}
	d.Alt = strings.Join(append(facts, b.words.Say("bench.draw.standard", "standard", standard)), " ")
	b.out.Drawing = d
}
