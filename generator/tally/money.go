package tally

import (
	"github.com/govalues/decimal"

	"asleft/generator/logbook"
)

// Money is what a machine, or the shop, came to. An amount that is not Set does
// not exist. Everything but Parts is private.
type Money struct {
	// Paid for the machine; does not exist where nothing was written about it,
	// and then adds nothing to CashIn.
	Paid logbook.Amount
	// Parts is every part line, salvaged ones at their value. It does not exist
	// where there are part lines and none has a price.
	Parts logbook.Amount
	// Tax on part lines.
	Tax      logbook.Amount
	Shipping logbook.Amount // of part lines
	Costs    logbook.Amount // what was spent on other things than parts
	// CoresOpen is the deposits on cores that are not returned, for each piece of a
	// part line.
	CoresOpen logbook.Amount
	// SalvagedIn is the value of parts from other machines, SalvagedOut of parts
	// that went to them. Tax and shipping stay where they were written.
	SalvagedIn, SalvagedOut logbook.Amount
	// CashIn = Paid + Parts + Tax + Shipping + Costs + CoresOpen - SalvagedOut.
	CashIn logbook.Amount
	// Labor = minutes x the shop's rate / 60, rounded once for each machine; does
	// not exist where the shop has no rate.
	Labor              logbook.Amount
	BreakEven          logbook.Amount // CashIn
	BreakEvenWithLabor logbook.Amount // CashIn + Labor
	Sold               logbook.Amount // the price; does not exist where none was written
	LeftOver           logbook.Amount // Sold - CashIn
	PerHour            logbook.Amount // LeftOver for each hour worked; needs both
}

// large is an amount of which a hundred thousand can still be added up without
// leaving the 19 digits that a decimal has.
var large = decimal.MustNew(1_000_000_000, 0)

// Large tells whether an amount is so large that the total of many such might
// be too large to count.
func (m Money) Large() bool {
	for _, f := range figures {
		if a := f.of(&m); a.Set && a.Abs().Cmp(large) >= 0 {
			return true
		}
	}
	return false
}

// A Line is a part or a cost of a machine's log with its rounded amounts.
type Line struct {
	logbook.Place
	Entry    *logbook.Entry
	IsCost   bool
	What     string // the part, or what the money was for
	Qty      decimal.Decimal
	Pieces   int            // how many parts it is, one at least
	Fitted   bool           // a part that is in the machine
	Source   string         // of a part
	From     string         // the donor's key, of a salvaged part
	Amount   logbook.Amount // Qty x each; not Set where no price was written
	Tax      logbook.Amount // not Set where there is none
	Shipping logbook.Amount // not Set where there is none
	Core     logbook.Amount // an open deposit; not Set where there is none
}

// A PartSum is what the parts come to that are in the machine: of All pieces those
// that are Priced. The Amount is not Set where none is.
type PartSum struct {
	Amount      logbook.Amount
	Priced, All int
}

// figure names an amount of Money.
type figure int

const (
	paid figure = iota
	parts
	tax
	shipping
	costs
	coresOpen
	salvagedIn
	salvagedOut
	cashIn
	labor
	breakEven
	breakEvenWithLabor
	sold
	leftOver
	perHour
)

// figures are the amounts in the order of a bill, each with its name in JSON
// and CSV and the catalog key of its label.
var figures = [...]struct {
	name, label string
	of          func(*Money) *logbook.Amount
}{
	paid:               {"paid", "tally.paid", func(m *Money) *logbook.Amount { return &m.Paid }},
	parts:              {"parts", "tally.parts", func(m *Money) *logbook.Amount { return &m.Parts }},
	tax:                {"tax", "tally.tax", func(m *Money) *logbook.Amount { return &m.Tax }},
	shipping:           {"shipping", "tally.shipping", func(m *Money) *logbook.Amount { return &m.Shipping }},
	costs:              {"costs", "tally.costs", func(m *Money) *logbook.Amount { return &m.Costs }},
	coresOpen:          {"cores_open", "tally.cores-open", func(m *Money) *logbook.Amount { return &m.CoresOpen }},
	salvagedIn:         {"salvaged_in", "tally.salvaged-in", func(m *Money) *logbook.Amount { return &m.SalvagedIn }},
	salvagedOut:        {"salvaged_out", "tally.salvaged-out", func(m *Money) *logbook.Amount { return &m.SalvagedOut }},
	cashIn:             {"cash_in", "tally.cash-in", func(m *Money) *logbook.Amount { return &m.CashIn }},
	labor:              {"labor", "tally.labor", func(m *Money) *logbook.Amount { return &m.Labor }},
	breakEven:          {"break_even", "tally.break-even", func(m *Money) *logbook.Amount { return &m.BreakEven }},
	breakEvenWithLabor: {"break_even_with_labor", "tally.break-even-with-labor", func(m *Money) *logbook.Amount { return &m.BreakEvenWithLabor }},
	sold:               {"sold", "tally.sold", func(m *Money) *logbook.Amount { return &m.Sold }},
	leftOver:           {"left_over", "tally.left-over", func(m *Money) *logbook.Amount { return &m.LeftOver }},
	perHour:            {"per_hour", "tally.per-hour", func(m *Money) *logbook.Amount { return &m.PerHour }},
}

// fromNothing are the figures that are nothing where the log has nothing for
// them, for then nothing was spent.
var fromNothing = []figure{tax, shipping, costs, coresOpen, salvagedIn, salvagedOut, cashIn}

// countMoney fills in the money of the machines and of the shop. Without a
// currency there is none to count, and no figure exists.
func countMoney(shop *logbook.Shop, count *Shop, t *teller) {
	digits := shop.Digits
	if shop.Currency == "" {
		digits = -1
	}
	books := map[string]*book{}
	for _, m := range shop.Machines {
		books[m.Key] = t.book(m.Place, digits)
	}
	for i, m := range shop.Machines {
		lines := books[m.Key].spend(m, books)
		count.Machines[i].Lines, count.Machines[i].Fitted = lines, books[m.Key].fitted(lines)
	}
	total := t.book(shop.Place, digits)
	if len(shop.Machines) == 0 {
		total.add(parts, nothing)
	}
	var hours logbook.Minutes // on the machines that left something over
	for i, m := range shop.Machines {
		b, work := books[m.Key], count.Machines[i].Work.Total
		b.strike(m, shop.LaborRate, work)
		count.Machines[i].Money = b.money()
		for f := range perHour {
			total.add(f, b.sums[f])
		}
		if b.exists(leftOver) {
			hours += work
		}
	}
	total.hourly(hours)
	count.Money = total.money()
}
