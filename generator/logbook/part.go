package logbook

import (
	"math/big"
	"strings"

	"github.com/govalues/decimal"

	"asleft/generator/quantity"
)

// Sources of a part.
const (
	New      = "new"
	Used     = "used"
	Rebuilt  = "rebuilt"
	Salvaged = "salvaged"
	Made     = "made"
	OnHand   = "on hand"
)

// Sources are all of them.
var Sources = []string{New, Used, Rebuilt, Salvaged, Made, OnHand}

// What became of a part. Only one that was fitted is in the machine; one taken
// out again was.
const (
	Fitted    = "fitted"
	NotFitted = "not fitted"
	TakenOut  = "taken out again"
	Returned  = "returned"
	Tool      = "tool"
)

// Fates are all of them.
var Fates = []string{Fitted, NotFitted, TakenOut, Returned, Tool}

// ByOwner is who supplied a part that the shop did not.
const ByOwner = "owner"

// A Part is a line of parts.
type Part struct {
	Place
	Part       string
	Number     string
	Supersedes string          // the number that the maker gave it before
	Qty        decimal.Decimal // 1 where not given
	// Measure is the quantity with its unit where the part is no count of pieces,
	// such as 1.1 qt; Qty is its number.
	Measure quantity.Quantity
	Each    Amount // for one, or for one of the unit
	EachAt  Place
	Source  string
	From    string // the donor's key, of a part salvaged from a machine of this shop
	FromAt  Place
	Vendor  string
	// Warranty is as it was written; the vendor's unless nobody wrote who sold it.
	Warranty   string
	SuppliedBy string // ByOwner, or empty: the shop
	System     string
	// Consumable parts (a plug, a filter) are service, not work, outside guards,
	// brakes and steering.
	Consumable bool
	Answers    []string // the points that a consumable part speaks to
	Replaces   string   // the missing part that it stands in for
	Affects    []string
	Fate       string // Fitted, or what became of it instead
	Core       *Core
	Tax        decimal.Decimal // per cent of the line
	TaxAmount  Amount          // of the line, where it was written as money
	Shipping   Amount
}

// HowMany is the quantity as it is told: a count, or a quantity with its unit.
func (p *Part) HowMany() string {
	if !p.Measure.IsZero() {
		return p.Measure.String()
	}
	return p.Qty.Trim(0).String()
}

// A Core is a deposit that comes back with the old part.
type Core struct {
	Place
	Deposit  Amount // for one
	Returned Date   // empty: still open
}

func readPart(f *mapping) Part {
	f.demand("source")
	p := Part{
		Place: f.place(), Part: f.name("part"), Number: f.text("number"), Supersedes: f.text("supersedes"), Each: f.amount("each"), EachAt: f.at("each"),
		Source: f.oneOf("source", Sources), From: f.text("from"), FromAt: f.at("from"), Vendor: f.text("vendor"), Warranty: f.text("warranty"),
		SuppliedBy: f.oneOf("supplied_by", []string{ByOwner}),
		System:     f.system("system"), Consumable: f.yes("consumable", false), Answers: f.words("answers"), Replaces: f.text("replaces"), Affects: f.words("affects"),
		Fate: f.oneOf("fate", Fates), Shipping: f.amount("shipping"),
	}
	p.Qty, p.Measure = f.howMany("qty")
	p.Tax, p.TaxAmount = f.tax("tax")
	if p.Fate == "" {
		p.Fate = Fitted
	}
	unpriced := f.yes("price_unknown", false)
	switch {
	case p.Qty.IsZero():
		f.report("qty", "problem.no-quantity")
	case p.Source != Salvaged && p.Source != "" && p.From != "":
		f.report("from", "problem.from-not-salvaged", "source", p.Source)
	case unpriced && p.Each.Set:
		f.report("price_unknown", "problem.price-known", "each", f.text("each"))
	}
	if sub := f.sub("core"); sub != nil {
		p.Core = &Core{Place: sub.place(), Deposit: sub.needAmount("deposit"), Returned: sub.date("returned")}
		sub.done()
	}
	return p
}

// howMany is a count, or a quantity with its unit and the number of it. One where
// nothing is written.
func (f *mapping) howMany(name string) (decimal.Decimal, quantity.Quantity) {
	s := f.text(name)
	if s == "" || plainNumber(s) {
		return f.number(name, decimal.One), quantity.Quantity{}
	}
	q, err := quantity.Parse(s)
	if err != nil {
		f.report(name, "problem.how-many", "read", s)
		return decimal.One, quantity.Quantity{}
	}
	number, exact := exactDecimal(q)
	switch {
	case q.Sign() < 0:
		f.report(name, "problem.negative", "read", s)
	case !exact:
		f.report(name, "problem.number-size", "read", s)
	default:
		return number, q
	}
	return decimal.One, quantity.Quantity{}
}

// exactDecimal is the number of a quantity as a decimal; false where it has none
// of maxPlaces, or one that is too large.
func exactDecimal(q quantity.Quantity) (decimal.Decimal, bool) {
	text := q.Rat().FloatString(maxPlaces)
	back, ok := new(big.Rat).SetString(text)
	if !ok || back.Cmp(q.Rat()) != 0 {
		return decimal.Zero, false
	}
	d, err := decimal.Parse(text)
	return d.Trim(0), err == nil && d.Cmp(maxCount) <= 0
}

// tax is a part's tax: in per cent, or as money with the shop's currency behind it.
// A bare number could be either, so it is neither.
func (f *mapping) tax(name string) (percent decimal.Decimal, money Amount) {
	s := f.text(name)
	rest, isPercent := strings.CutSuffix(s, "%")
	amount, isMoney := strings.CutSuffix(strings.ToUpper(s), strings.ToUpper(f.src.rules.currency))
	switch {
	case s == "":
		return percent, money
	case isPercent:
		return f.numberIn(name, strings.TrimSpace(rest), decimal.Zero), money
	case isMoney && f.src.rules.currency != "":
		return percent, f.amountIn(name, strings.TrimSpace(amount))
	case plainNumber(s):
		f.report(name, "problem.tax-bare", "read", s, "currency", f.src.rules.currency)
	default:
		f.report(name, "problem.tax", "read", s, "currency", f.src.rules.currency)
	}
	return percent, money
}
