package tally

import (
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// A Shop is what a whole shop's logs come to.
type Shop struct {
	// Currency is the ISO 4217 code; empty where shop.md gives none, and then
	// no money is counted.
	Currency string
	// Digits are the decimals of the currency's minor unit.
	Digits int
	// Machines are in the order of the logbook's.
	Machines []Machine
	// Work is the work on all machines.
	Work Work
	// Money is the machines' figures summed: LeftOver is of the machines that
	// have one, and PerHour is that for each hour worked on those machines.
	Money Money

	one bool // narrowed to one machine
}

// A Machine is what one machine's log comes to.
type Machine struct {
	Key      string
	Name     string
	Work     Work
	Meter    Meter
	Odometer Odometer
	Money    Money
	// Lines are the machine's parts and costs in the order of its log, but for what
	// its owner brought.
	Lines []Line
	// Fitted are the parts among them that are in the machine: what a buyer is told
	// that the parts came to. What was bought as a tool or went back is no part of it.
	Fitted PartSum
	// Cares are what was serviced, with when it is due next.
	Cares []Care
}

// Count counts the hours, meters and money of a shop. The machines it returns
// are in the order of shop.Machines, one for each. The problems are what the
// log says against itself (a person at two jobs at once, a day of more than 24
// hours, a meter that runs backwards) and amounts too large to be counted; they
// are sorted. A figure that a problem touches is not made up: it is not Set, or
// the hours on the machine are not known.
func Count(shop *logbook.Shop, words *catalog.Catalog) (*Shop, []logbook.Problem) {
	t := &teller{words: words}
	count := &Shop{Currency: shop.Currency, Digits: shop.Digits, Work: newWork()}
	for _, m := range shop.Machines {
		work := workOn(m)
		count.Work.merge(work)
		count.Machines = append(count.Machines, Machine{Key: m.Key, Name: m.Name, Work: work, Meter: readMeter(m, t), Odometer: readOdometer(m, t), Cares: upkeepOf(m)})
	}
	checkHours(shop, t)
	countMoney(shop, count, t)
	return count, logbook.Sort(t.problems)
}

// Only is the count of one machine; of all of them for an empty key. The
// figures of the shop stay those of the whole shop, whichever machine is asked
// for: WriteJSON still gives them, WriteText leaves them out and WriteCSV has none.
func (s *Shop) Only(key string) *Shop {
	if key == "" {
		return s
	}
	only := *s
	only.one = true
	only.Machines = nil
	if i := slices.IndexFunc(s.Machines, func(m Machine) bool { return m.Key == key }); i >= 0 {
		only.Machines = []Machine{s.Machines[i]}
	}
	return &only
}

// A teller gathers problems, worded by the catalog.
type teller struct {
	words    *catalog.Catalog
	problems []logbook.Problem
}

// report notes a problem by its catalog key.
func (t *teller) report(at logbook.Place, key string, pairs ...any) {
	t.problems = append(t.problems, logbook.ProblemAt(t.words, at, key, pairs...))
}
