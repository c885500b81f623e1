package tally

import (
	"fmt"
	"slices"
	"testing"

	"github.com/govalues/decimal"
	"github.com/spf13/afero"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// amount is money as it stands in a log; empty for none.
func amount(s string) logbook.Amount {
	if s == "" {
		return logbook.Amount{}
	}
	return logbook.Amount{Decimal: decimal.MustParse(s), Set: true}
}

func entryOf(key, date string, fill func(*logbook.Entry)) *logbook.Entry {
	e := &logbook.Entry{Machine: key, Date: logbook.Date(date)}
	e.File, e.Line = "machines/"+key+"/"+date+".md", 2
	if fill != nil {
		fill(e)
	}
	return e
}

func machineOf(key string, entries ...*logbook.Entry) *logbook.Machine {
	m := &logbook.Machine{Key: key, Name: "The " + key, Entries: entries}
	m.File, m.Line = "machines/"+key+"/machine.md", 2
	return m
}

func shopOf(currency string, digits int, machines ...*logbook.Machine) *logbook.Shop {
	s := &logbook.Shop{Currency: currency, Digits: digits, Machines: machines}
	s.File, s.Line = "shop.md", 2
	return s
}

// timed is a session of an entry, as the logbook reads it.
func timed(e *logbook.Entry, from, to, by, task string, less logbook.Minutes) {
	s := logbook.Session{Timed: true, By: by, Task: task, Less: less}
	s.Place = e.In(fmt.Sprintf("hours[%d]", len(e.Sessions)))
	s.From, s.To = clock(from), clock(to)
	s.Work = logbook.Minutes(s.To - s.From)
	if s.Work < 0 {
		s.Work += day
	}
	s.Work -= less
	e.Sessions = append(e.Sessions, s)
}

func clock(s string) logbook.Clock {
	c, err := logbook.ParseClock(s)
	if err != nil {
		panic(err)
	}
	return c
}

// bare is an entry's own hours.
func bare(e *logbook.Entry, by string, work logbook.Minutes) {
	e.Sessions = []logbook.Session{{Place: e.In("hours"), By: by, Work: work}}
}

func hours(s string) quantity.Quantity {
	if s == "" {
		return quantity.Quantity{}
	}
	q, err := quantity.Parse(s)
	if err != nil {
		panic(err)
	}
	return q
}

// said are the problems, each as file:line: field: text.
func said(problems []logbook.Problem) []string {
	all := []string{}
	for _, p := range problems {
		all = append(all, p.String())
	}
	return all
}

func count(t testing.TB, shop *logbook.Shop) *Shop {
	t.Helper()
	c, problems := Count(shop, catalog.English)
	if len(problems) > 0 {
		t.Fatalf("problems: %v", said(problems))
	}
	return c
}

// folder is a shop folder in memory, read by the logbook without a problem.
func folder(t *testing.T, files map[string]string) *logbook.Shop {
	t.Helper()
	fs := afero.NewMemMapFs()
	for name, text := range files {
		if err := afero.WriteFile(fs, name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	shop, problems, err := logbook.Read(fs, logbook.Options{Words: catalog.English})
	if err != nil || len(problems) > 0 {
		t.Fatalf("reading the folder: %v %v", err, said(problems))
	}
	return shop
}

// anyAmount draws an amount with at most the given decimals; sometimes none.
func anyAmount(t *rapid.T, digits int, label string) logbook.Amount {
	n := rapid.Int64Range(-1, 9_999_999).Draw(t, label)
	if n < 0 {
		return logbook.Amount{}
	}
	d, err := decimal.New(n, digits)
	if err != nil {
		t.Fatal(err)
	}
	return logbook.Amount{Decimal: d, Set: true}
}

func anyNumber(t *rapid.T, most int64, label string) decimal.Decimal {
	d, err := decimal.New(rapid.Int64Range(1, most).Draw(t, label), rapid.IntRange(0, 6).Draw(t, label+" places"))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

var anyDay = rapid.SampledFrom([]string{"2026-02-27", "2026-02-28", "2026-03-01", "2026-03-02", "2028-02-29"})
var anyPerson = rapid.SampledFrom([]string{"", "JM", "RT", "=cmd"})
var anyTask = rapid.SampledFrom([]string{"", "teardown", "wiring"})

// anyShop draws a shop of a few machines with random work, parts and sales.
func anyShop(t *rapid.T, digits int) *logbook.Shop {
	keys := []string{"alder", "birch", "cedar"}
	shop := shopOf("XTS", digits)
	shop.LaborRate = anyAmount(t, digits, "rate")
	for _, key := range keys {
		m := machineOf(key)
		for i := range rapid.IntRange(0, 3).Draw(t, "entries") {
			e := entryOf(key, anyDay.Draw(t, "day"), nil)
			e.File += fmt.Sprint(i)
			anyWork(t, e)
			for j := range rapid.IntRange(0, 3).Draw(t, "parts") {
				e.Parts = append(e.Parts, anyPart(t, digits, e, j, keys))
			}
			for j := range rapid.IntRange(0, 2).Draw(t, "costs") {
				e.Costs = append(e.Costs, logbook.Cost{Place: e.In(fmt.Sprintf("costs[%d]", j)), For: "fuel", Amount: anyAmount(t, digits, "cost")})
			}
			m.Entries = append(m.Entries, e)
		}
		if rapid.Bool().Draw(t, "bought") {
			m.Bought = &logbook.Purchase{Paid: anyAmount(t, digits, "paid")}
		}
		if rapid.Bool().Draw(t, "sold") {
			m.Sold = &logbook.Sale{Price: anyAmount(t, digits, "price")}
		}
		shop.Machines = append(shop.Machines, m)
	}
	return shop
}

func anyWork(t *rapid.T, e *logbook.Entry) {
	if rapid.Bool().Draw(t, "bare") {
		bare(e, anyPerson.Draw(t, "by"), logbook.Minutes(rapid.IntRange(0, 30*60).Draw(t, "minutes")))
		return
	}
	for range rapid.IntRange(0, 3).Draw(t, "sessions") {
		from := rapid.IntRange(0, day-1).Draw(t, "from")
		to := (from + rapid.IntRange(1, day-1).Draw(t, "for")) % day
		timed(e, logbook.Clock(from).String(), logbook.Clock(to).String(), anyPerson.Draw(t, "by"), anyTask.Draw(t, "task"), 0)
	}
}

func anyPart(t *rapid.T, digits int, e *logbook.Entry, n int, keys []string) logbook.Part {
	p := logbook.Part{
		Place: e.In(fmt.Sprintf("parts[%d]", n)), Part: "gasket", Qty: anyNumber(t, 5_000_000, "qty"),
		Each: anyAmount(t, digits, "each"), Source: rapid.SampledFrom(logbook.Sources).Draw(t, "source"), Shipping: anyAmount(t, digits, "shipping"),
	}
	p.EachAt = p.In("each")
	if rapid.Bool().Draw(t, "taxed") {
		p.Tax = anyNumber(t, 30_000_000, "tax")
	}
	if p.Source == logbook.Salvaged {
		donors := slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return k == e.Machine })
		p.From = rapid.SampledFrom(donors).Draw(t, "from")
	}
	if rapid.Bool().Draw(t, "core") {
		p.Core = &logbook.Core{Deposit: anyAmount(t, digits, "deposit"), Returned: rapid.SampledFrom([]logbook.Date{"", "2026-05-01"}).Draw(t, "returned")}
	}
	return p
}
