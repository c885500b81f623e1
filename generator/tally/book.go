package tally

import (
	"github.com/govalues/decimal"

	"asleft/generator/logbook"
)

// A book is a machine's money, or the shop's, while it is counted.
type book struct {
	*teller
	at     logbook.Place // where a total that is too large is reported
	digits int           // -1 without a currency: nothing is entered
	sums   [len(figures)]sum
}

func (t *teller) book(at logbook.Place, digits int) *book {
	b := &book{teller: t, at: at, digits: digits}
	for _, f := range fromNothing {
		b.add(f, nothing)
	}
	return b
}

// spend enters what was paid for the machine and each line of its log. The
// value of salvaged parts goes into the donors' books as well; a donor that the
// shop does not have gives nothing, and the logbook reports it.
func (b *book) spend(m *logbook.Machine, books map[string]*book) []Line {
	if m.Bought != nil {
		b.add(paid, b.written(m.Bought.In("paid"), m.Bought.Paid))
	}
	var lines []Line
	bought := false
	for _, e := range m.Entries {
		for _, p := range e.Parts {
			if p.SuppliedBy == logbook.ByOwner {
				continue // it cost the shop nothing
			}
			bought = true
			lines = append(lines, b.part(e, p, books[p.From]))
		}
		for _, c := range e.Costs {
			amount := b.written(c.In("amount"), c.Amount)
			b.add(costs, amount)
			lines = append(lines, Line{Place: c.Place, Entry: e, IsCost: true, What: c.For, Qty: decimal.One, Amount: amount.Amount})
		}
	}
	if !bought {
		b.add(parts, nothing)
	}
	return lines
}

// fitted is what the parts of a machine's lines come to that are in it.
func (b *book) fitted(lines []Line) PartSum {
	var in PartSum
	var all sum
	for _, l := range lines {
		if !l.Fitted {
			continue
		}
		if in.All += l.Pieces; l.Amount.Set {
			in.Priced += l.Pieces
		}
		all.add(sum{Amount: l.Amount}, b.digits) // what is too large was reported
	}
	if in.All == 0 && b.digits >= 0 {
		all = nothing
	}
	in.Amount = all.Amount
	return in
}

// part enters a part line.
func (b *book) part(e *logbook.Entry, p logbook.Part, donor *book) Line {
	amount := b.product(p.EachAt, sum{Amount: p.Each}, p.Qty, 1)
	b.add(parts, amount)
	if p.Source == logbook.Salvaged && donor != nil {
		b.add(salvagedIn, amount)
		donor.add(salvagedOut, amount)
	}
	taxed, core := b.written(p.In("tax"), p.TaxAmount), sum{}
	if !p.Tax.IsZero() {
		taxed = b.product(p.In("tax"), amount, p.Tax, 100)
	}
	if p.Core != nil && p.Core.Returned == "" {
		core = b.product(p.Core.In("deposit"), sum{Amount: p.Core.Deposit}, p.Qty, 1)
	}
	shipped := b.written(p.In("shipping"), p.Shipping)
	b.add(tax, taxed)
	b.add(shipping, shipped)
	b.add(coresOpen, core)
	return Line{
		Place: p.Place, Entry: e, What: p.Part, Qty: p.Qty, Pieces: pieces(p), Source: p.Source, From: p.From, Fitted: p.Fate == logbook.Fitted,
		Amount: amount.Amount, Tax: taxed.Amount, Shipping: shipped.Amount, Core: core.Amount,
	}
}

// pieces is how many parts a line is: its count, or one where it is an amount of
// something, such as 1.1 qt, or no whole number.
func pieces(p logbook.Part) int {
	whole, _, ok := p.Qty.Int64(0)
	if !p.Measure.IsZero() || !p.Qty.IsInt() || !ok || whole < 1 || whole > mostPieces {
		return 1
	}
	return int(whole)
}

// mostPieces are more than anybody puts in, and few enough to be added up.
const mostPieces = 1_000_000

// strike works out the figures that follow from the lines of all machines.
func (b *book) strike(m *logbook.Machine, rate logbook.Amount, work logbook.Minutes) {
	for _, f := range []figure{paid, parts, tax, shipping, costs, coresOpen} {
		b.add(cashIn, b.sums[f])
	}
	b.add(cashIn, b.sums[salvagedOut].negative())
	b.add(labor, b.product(b.at, sum{Amount: rate}, minutes(work), 60))
	b.add(breakEven, b.sums[cashIn])
	if b.exists(labor) {
		b.add(breakEvenWithLabor, b.sums[cashIn])
		b.add(breakEvenWithLabor, b.sums[labor])
	}
	if m.Sold != nil {
		b.add(sold, b.written(m.Sold.In("price"), m.Sold.Price))
	}
	if b.exists(sold) {
		b.add(leftOver, b.sums[sold])
		b.add(leftOver, b.sums[cashIn].negative())
	}
	b.hourly(work)
}

// hourly is what was left over for each hour: x 60 / minutes.
func (b *book) hourly(work logbook.Minutes) {
	if work > 0 {
		b.add(perHour, b.product(b.at, b.sums[leftOver], minutes(60), int64(work)))
	}
}

func minutes(m logbook.Minutes) decimal.Decimal { return decimal.MustNew(int64(m), 0) }

// product is a x times / by as a rounded amount of its own; it does not exist
// where a does not.
func (b *book) product(at logbook.Place, a sum, times decimal.Decimal, by int64) sum {
	switch {
	case b.digits < 0:
		return sum{}
	case !a.Set:
		return a
	}
	v, err := rounded(a.Decimal, times, by, b.digits)
	if err != nil {
		b.report(at, "problem.amount-too-large", "read", a.Decimal, "times", times)
		return sum{over: true}
	}
	return sum{Amount: logbook.Amount{Decimal: v, Set: true}}
}

// written is an amount as it stands in the log, with the currency's decimals.
func (b *book) written(at logbook.Place, a logbook.Amount) sum {
	return b.product(at, sum{Amount: a}, decimal.One, 1)
}

func (b *book) add(f figure, s sum) {
	if b.digits >= 0 && b.sums[f].add(s, b.digits) {
		b.report(b.at, "problem.total-too-large", "figure", b.words.Say(figures[f].label))
	}
}

func (b *book) exists(f figure) bool { return b.sums[f].Set || b.sums[f].over }

func (b *book) money() Money {
	var m Money
	for f, s := range b.sums {
		*figures[f].of(&m) = s.Amount
	}
	return m
}
