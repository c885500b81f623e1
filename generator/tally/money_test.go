package tally

import (
	"fmt"
	"math/big"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/govalues/decimal"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// billed is Money as name: amount, with "-" for what does not exist.
func billed(s *Shop, m Money) map[string]string {
	all := map[string]string{}
	for _, f := range figures {
		all[f.name] = s.amount(*f.of(&m))
		if all[f.name] == "" {
			all[f.name] = "-"
		}
	}
	return all
}

var handFolder = map[string]string{
	"shop.md": "---\nshop: Test shop\ncurrency: USD\nlabor_rate: 47.95\n---\n",
	"machines/alder/machine.md": `---
name: Alder tiller
arrived: 2026-03-01
stage: sold
bought: {paid: 40}
sold: {date: 2026-04-01, price: 425.00}
---
`,
	"machines/alder/2026-03-02-a.md": `---
date: 2026-03-02
title: Parts
by: JM
hours: "7:11"
parts:
  - {part: head gasket, each: 14.25, source: new, tax: 6 %}
  - {part: wire, qty: 2.5, each: 1.15, source: new, tax: 8.25 %, shipping: 4.50}
  - {part: starter brush, qty: 2, each: 30, source: rebuilt, core: {deposit: 7.50}}
  - {part: battery, each: 54.00, source: new, core: {deposit: 12.00, returned: 2026-03-09}}
  - {part: seat, each: 12.00, source: salvaged, from: birch}
  - {part: washer, qty: 3, each: 0.05, source: on hand}
  - {part: bracket, source: made}
costs:
  - {for: fetching it, amount: 22}
---
`,
	"machines/birch/machine.md": "---\nname: Birch rider\narrived: 2026-02-01\nstage: parted out\n---\n",
	"machines/birch/2026-02-07-a.md": `---
date: 2026-02-07
title: Fetched
hours: 1.5
costs: [{for: trailer, amount: 5.00}]
---
`,
}

// Worked out by hand:
//
//	gasket  1   x 14.25 = 14.25           tax 6 %    0.855  -> 0.86
//	wire    2.5 x  1.15 =  2.875 -> 2.88  tax 8.25 % 0.2376 -> 0.24
//	brushes 2   x 30    = 60.00           core 2 x 7.50 = 15.00 still out
//	battery 54.00  seat 12.00  washers 3 x 0.05 = 0.15
//	parts 143.28  tax 1.10  cash in 40 + 143.28 + 1.10 + 4.50 + 22 + 15 = 225.88
//	labor 431 min x 47.95 / 60 = 344.4408... -> 344.44
//	left over 425 - 225.88 = 199.12, x 60 / 431 = 27.7197... -> 27.72
//	donor: 5.00 - 12.00 = -7.00, labor 90 min = 71.925 -> 71.93
func TestMoneyOfAShopWorkedOutByHand(t *testing.T) {
	c := count(t, folder(t, handFolder))
	for name, tc := range map[string]struct{ got, want map[string]string }{
		"alder": {billed(c, c.Machines[0].Money), map[string]string{
			"paid": "40.00", "parts": "143.28", "tax": "1.10", "shipping": "4.50", "costs": "22.00", "cores_open": "15.00",
			"salvaged_in": "12.00", "salvaged_out": "0.00", "cash_in": "225.88", "labor": "344.44", "break_even": "225.88",
			"break_even_with_labor": "570.32", "sold": "425.00", "left_over": "199.12", "per_hour": "27.72",
		}},
		"birch": {billed(c, c.Machines[1].Money), map[string]string{
			"paid": "-", "parts": "0.00", "tax": "0.00", "shipping": "0.00", "costs": "5.00", "cores_open": "0.00",
			"salvaged_in": "0.00", "salvaged_out": "12.00", "cash_in": "-7.00", "labor": "71.93", "break_even": "-7.00",
			"break_even_with_labor": "64.93", "sold": "-", "left_over": "-", "per_hour": "-",
		}},
		"shop": {billed(c, c.Money), map[string]string{
			"paid": "40.00", "parts": "143.28", "tax": "1.10", "shipping": "4.50", "costs": "27.00", "cores_open": "15.00",
			"salvaged_in": "12.00", "salvaged_out": "12.00", "cash_in": "218.88", "labor": "416.37", "break_even": "218.88",
			"break_even_with_labor": "635.25", "sold": "425.00", "left_over": "199.12", "per_hour": "27.72",
		}},
	} {
		if diff := cmp.Diff(tc.want, tc.got); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", name, diff)
		}
	}
}

// What a part came to where it is measured, where the tax was written as money, and
// where the owner of the machine brought it. Worked out by hand:
//
//	gear oil 1.1 qt x 8.00 = 8.80  tax 0.53
//	hose     1/2 ft x 3.50 = 1.75  tax 6 % 0.105 -> 0.11
//	belt     the owner's: nothing, whatever it is worth
//	parts 10.55  tax 0.64
func TestPartsThatAreNoPieces(t *testing.T) {
	c := count(t, folder(t, map[string]string{
		"shop.md":                   "---\nshop: Test shop\ncurrency: USD\n---\n",
		"machines/alder/machine.md": "---\nname: Alder\narrived: 2026-03-01\n---\n",
		"machines/alder/2026-03-02-a.md": `---
date: 2026-03-02
title: Parts
parts:
  - {part: gear oil, qty: 1.1 qt, each: 8.00, source: new, tax: 0.53 USD}
  - {part: hose, qty: 1/2 ft, each: 3.50, source: new, tax: 6 %}
  - {part: belt, each: 19.00, source: new, tax: 6 %, shipping: 5.00, core: {deposit: 4.00}, supplied_by: owner}
---
`,
	}))
	m := c.Machines[0].Money
	if parts, tax, cash := c.amount(m.Parts), c.amount(m.Tax), c.amount(m.CashIn); parts != "10.55" || tax != "0.64" || cash != "11.19" || len(c.Machines[0].Lines) != 2 {
		t.Errorf("parts %s, tax %s, cash in %s, lines %v", parts, tax, cash, c.Machines[0].Lines)
	}
}

func TestLinesOfAMachine(t *testing.T) {
	c := count(t, folder(t, handFolder))
	got := []string{}
	for _, l := range c.Machines[0].Lines {
		got = append(got, fmt.Sprintf("%s: %s %s %s %s|%s|%s|%s|%s", l.Field, l.Qty, l.What, l.Source, l.From, c.amount(l.Amount), c.amount(l.Tax), c.amount(l.Shipping), c.amount(l.Core)))
	}
	want := []string{
		"parts[0]: 1 head gasket new |14.25|0.86||",
		"parts[1]: 2.5 wire new |2.88|0.24|4.50|",
		"parts[2]: 2 starter brush rebuilt |60.00|||15.00",
		"parts[3]: 1 battery new |54.00|||",
		"parts[4]: 1 seat salvaged birch|12.00|||",
		"parts[5]: 3 washer on hand |0.15|||",
		"parts[6]: 1 bracket made ||||",
		"costs[0]: 1 fetching it  |22.00|||",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func TestWhatDoesNotExist(t *testing.T) {
	part := func(each string) *logbook.Entry {
		return entryOf("alder", "2026-03-02", func(e *logbook.Entry) {
			e.Parts = []logbook.Part{{Place: e.In("parts[0]"), Part: "plug", Qty: decimal.One, Each: amount(each), Tax: decimal.Ten, Source: logbook.Made}}
		})
	}
	worked := entryOf("alder", "2026-03-03", func(e *logbook.Entry) { bare(e, "JM", 60) })
	for name, tc := range map[string]struct {
		rate    string
		bought  *logbook.Purchase
		sold    *logbook.Sale
		entries []*logbook.Entry
		want    map[string]string // the figures that matter here
	}{
		"an empty log":           {want: map[string]string{"paid": "-", "parts": "0.00", "cash_in": "0.00", "labor": "-", "break_even": "0.00", "break_even_with_labor": "-", "sold": "-", "left_over": "-", "per_hour": "-"}},
		"a gift, written so":     {bought: &logbook.Purchase{Paid: amount("0")}, want: map[string]string{"paid": "0.00", "cash_in": "0.00"}},
		"bought, price left out": {bought: &logbook.Purchase{From: "a neighbor"}, want: map[string]string{"paid": "-", "cash_in": "0.00"}},
		"a part without a price": {entries: []*logbook.Entry{part("")}, want: map[string]string{"parts": "-", "tax": "0.00", "cash_in": "0.00"}},
		"one with and one without": {
			entries: []*logbook.Entry{part(""), part("3.00")},
			want:    map[string]string{"parts": "3.00", "tax": "0.30", "cash_in": "3.30"},
		},
		"no hours, a rate":     {rate: "48", want: map[string]string{"labor": "0.00", "break_even_with_labor": "0.00"}},
		"sold, price left out": {sold: &logbook.Sale{}, entries: []*logbook.Entry{worked}, want: map[string]string{"sold": "-", "left_over": "-", "per_hour": "-"}},
		"sold, no hours":       {sold: &logbook.Sale{Price: amount("10")}, want: map[string]string{"sold": "10.00", "left_over": "10.00", "per_hour": "-"}},
		"sold at a loss": { // -3.30 in one hour
			sold: &logbook.Sale{Price: amount("0")}, entries: []*logbook.Entry{part("3.00"), worked},
			want: map[string]string{"sold": "0.00", "left_over": "-3.30", "per_hour": "-3.30"},
		},
	} {
		m := machineOf("alder", tc.entries...)
		m.Bought, m.Sold = tc.bought, tc.sold
		shop := shopOf("USD", 2, m)
		shop.LaborRate = amount(tc.rate)
		c := count(t, shop)
		got, all := billed(c, c.Machines[0].Money), billed(c, c.Money)
		for figure, want := range tc.want {
			if got[figure] != want || all[figure] != want {
				t.Errorf("%s: %s is %s, of the shop %s, want %s", name, figure, got[figure], all[figure], want)
			}
		}
	}
	c := count(t, shopOf("USD", 2))
	if got := billed(c, c.Money); got["parts"] != "0.00" || got["paid"] != "-" || got["cash_in"] != "0.00" {
		t.Errorf("a shop without machines: %v", got)
	}
}

func TestWithoutACurrencyThereIsNoMoney(t *testing.T) {
	for _, digits := range []int{-1, 0} { // the logbook gives -1
		shop := folder(t, handFolder)
		shop.Currency, shop.Digits = "", digits
		c := count(t, shop)
		for _, m := range []Money{c.Money, c.Machines[0].Money, c.Machines[1].Money} {
			for name, got := range billed(c, m) {
				if got != "-" {
					t.Errorf("%s is %s", name, got)
				}
			}
		}
		if c.Work.Total != 431+90 || len(c.Machines[0].Lines) != 8 || c.Machines[0].Lines[0].Amount.Set {
			t.Errorf("hours %v, lines %v", c.Work.Total, c.Machines[0].Lines)
		}
	}
}

// Both are problems that the logbook reports; the money stays where it is.
func TestOnlyASalvagedPartOfAMachineThatIsThereMoves(t *testing.T) {
	for _, p := range []logbook.Part{{Source: logbook.Salvaged, From: "nowhere"}, {Source: logbook.Used, From: "birch"}} {
		p.Part, p.Qty, p.Each = "seat", decimal.One, amount("5")
		e := entryOf("alder", "2026-03-02", func(e *logbook.Entry) { e.Parts = []logbook.Part{p} })
		c := count(t, shopOf("USD", 2, machineOf("alder", e), machineOf("birch")))
		got := billed(c, c.Money)
		if got["parts"] != "5.00" || got["salvaged_in"] != "0.00" || got["salvaged_out"] != "0.00" || got["cash_in"] != "5.00" {
			t.Errorf("%s from %s: got %v", p.Source, p.From, got)
		}
	}
}

// A price and a quantity that the logbook lets through can together be more
// than a decimal of the currency's digits holds.
func TestTooMuchMoneyIsAProblem(t *testing.T) {
	line := func(key string, n int, qty string) *logbook.Entry {
		return entryOf(key, "2026-03-02", func(e *logbook.Entry) {
			for i := range n {
				p := logbook.Part{Place: e.In(fmt.Sprintf("parts[%d]", i)), Part: "gold", Qty: decimal.MustParse(qty), Each: amount("1000000000"), Tax: decimal.One, Source: logbook.Salvaged, From: "birch"}
				p.EachAt = p.In("each")
				e.Parts = append(e.Parts, p)
			}
		})
	}
	for name, tc := range map[string]struct {
		digits int
		lines  int
		qty    string
		want   []string
		parts  string
		in     string
	}{
		"as much as there can be": {2, 9, "1000000", nil, "9000000000000000.00", "9090000000000000.00"},
		"a line":                  {4, 1, "1000000", []string{"machines/alder/2026-03-02.md:2: parts[0].each: 1000000000 times 1000000 is more money than can be counted"}, "-", "-"},
		"a total": {4, 2, "900000", []string{
			"machines/alder/machine.md:2: this figure is more money than can be counted: Parts, salvaged ones too",
			"machines/alder/machine.md:2: this figure is more money than can be counted: Salvaged parts put in (counted in parts)",
			"machines/birch/machine.md:2: this figure is more money than can be counted: Salvaged parts taken out",
		}, "-", "-"},
	} {
		t.Run(name, func(t *testing.T) {
			shop := shopOf("XTS", tc.digits, machineOf("alder", line("alder", tc.lines, tc.qty)), machineOf("birch"))
			shop.Machines[0].Sold = &logbook.Sale{Price: amount("1")}
			shop.LaborRate = amount("1")
			c, problems := Count(shop, catalog.English)
			if diff := cmp.Diff(append([]string{}, tc.want...), said(problems)); diff != "" {
				t.Errorf("(-want, +got):\n%s", diff)
			}
			got, all := billed(c, c.Machines[0].Money), billed(c, c.Money)
			if got["parts"] != tc.parts || got["cash_in"] != tc.in || all["parts"] != tc.parts {
				t.Errorf("got %v", got)
			}
			for _, f := range []string{"break_even_with_labor", "left_over"} {
				if (got[f] == "-") != (tc.in == "-") || (all[f] == "-") != (tc.in == "-") {
					t.Errorf("%s is %s, of the shop %s", f, got[f], all[f])
				}
			}
		})
	}
}

func TestTheShopsTotalCanBeTooMuchToo(t *testing.T) {
	shop := shopOf("XTS", 4)
	for _, key := range []string{"alder", "birch"} {
		e := entryOf(key, "2026-03-02", func(e *logbook.Entry) {
			e.Parts = []logbook.Part{{Part: "gold", Qty: decimal.MustParse("900000"), Each: amount("1000000000"), Source: logbook.New}}
		})
		shop.Machines = append(shop.Machines, machineOf(key, e))
	}
	c, problems := Count(shop, catalog.English)
	if got := billed(c, c.Money); got["parts"] != "-" || got["cash_in"] != "-" || got["costs"] != "0.0000" {
		t.Errorf("got %v", got)
	}
	if len(problems) == 0 || problems[0].File != "shop.md" {
		t.Errorf("got %v", said(problems))
	}
}

// Decimals of the currencies as check-values has them: golang.org/x/text v0.44.0
// and Unicode CLDR 48.2.0 (supplemental currency data).
func TestDecimalsOfCurrencies(t *testing.T) {
	for currency, want := range map[string]string{
		"USD": "3.00", "EUR": "3.00", "GBP": "3.00", "CHF": "3.00", "CAD": "3.00",
		"JPY": "3", "KRW": "3",
		"KWD": "3.000", "BHD": "3.000", "TND": "3.000",
	} {
		c := count(t, folder(t, map[string]string{
			"shop.md":                     "---\nshop: s\ncurrency: " + currency + "\n---\n",
			"machines/alder/machine.md":   "---\nname: Alder\narrived: 2026-03-01\n---\n",
			"machines/alder/2026-03-2.md": "---\ndate: 2026-03-02\ntitle: t\nparts: [{part: p, qty: 3, each: 1, source: new}]\n---\n",
		}))
		if got := c.amount(c.Money.Parts); got != want {
			t.Errorf("%s: got %s, want %s", currency, got, want)
		}
	}
}

// halfUp is the reference for rounding: the floor of x + 1/2 minor units, in
// fractions, and the mirror of it below nothing.
func halfUp(x *big.Rat, digits int) string {
	scaled := new(big.Rat).Mul(new(big.Rat).Abs(x), new(big.Rat).SetInt(tenTo(digits)))
	scaled.Add(scaled, big.NewRat(1, 2))
	units := new(big.Int).Div(scaled.Num(), scaled.Denom())
	if x.Sign() < 0 {
		units.Neg(units)
	}
	return new(big.Rat).SetFrac(units, tenTo(digits)).FloatString(digits)
}

func fraction(t interface{ Fatal(...any) }, d decimal.Decimal) *big.Rat {
	r, ok := new(big.Rat).SetString(d.String())
	if !ok {
		t.Fatal(d)
	}
	return r
}

func TestRoundingAtTheHalf(t *testing.T) {
	for _, tc := range []struct {
		a, b   string
		by     int64
		digits int
		want   string
	}{
		{"2.345", "1", 1, 2, "2.35"},
		{"2.355", "1", 1, 2, "2.36"},
		{"2.3449999999999999", "1", 1, 2, "2.34"},
		{"0.5", "1", 1, 0, "1"},
		{"1.5", "1", 1, 0, "2"},
		{"2.5", "1", 1, 0, "3"},
		{"-2.5", "1", 1, 0, "-3"},
		{"0.0005", "1", 1, 3, "0.001"},
		{"10", "1", 3, 2, "3.33"},
		{"-10", "2", 3, 2, "-6.67"},
		// Both are 0.49999999999999999995: rounded to 19 digits first, that would
		// be 0.5 and come out as 1.
		{"0.9999999999999999999", "0.5", 1, 0, "0"},
		{"3.333333333333333333", "0.15", 1, 0, "0"},
	} {
		got, err := rounded(decimal.MustParse(tc.a), decimal.MustParse(tc.b), tc.by, tc.digits)
		if err != nil || got.String() != tc.want {
			t.Errorf("%s x %s / %d: got %s, %v, want %s", tc.a, tc.b, tc.by, got, err, tc.want)
		}
	}
}

func TestPropertyLinesAgainstFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.SampledFrom([]int{0, 2, 3}).Draw(t, "digits")
		p := anyPart(t, digits, entryOf("alder", "2026-03-02", nil), 0, []string{"alder", "birch"})
		if !p.Each.Set {
			p.Each = amount("1")
		}
		e := entryOf("alder", "2026-03-02", func(e *logbook.Entry) { e.Parts = []logbook.Part{p}; bare(e, "", 77) })
		m := machineOf("alder", e)
		m.Sold = &logbook.Sale{Price: amount("1")}
		shop := shopOf("XTS", digits, m, machineOf("birch"))
		shop.LaborRate = anyAmount(t, digits, "rate")
		c, problems := Count(shop, catalog.English)
		if len(problems) > 0 {
			t.Fatal(said(problems))
		}
		got := c.Machines[0]
		line := halfUp(new(big.Rat).Mul(fraction(t, p.Qty), fraction(t, p.Each.Decimal)), digits)
		if at := c.amount(got.Lines[0].Amount); at != line {
			t.Fatalf("%s x %s: got %s, want %s", p.Qty, p.Each, at, line)
		}
		onLine, _ := new(big.Rat).SetString(line)
		tax := halfUp(onLine.Mul(onLine, new(big.Rat).Quo(fraction(t, p.Tax), big.NewRat(100, 1))), digits)
		if at := c.amount(got.Money.Tax); at != tax {
			t.Fatalf("%s %% of %s: got %s, want %s", p.Tax, line, at, tax)
		}
		if shop.LaborRate.Set {
			labor := halfUp(new(big.Rat).Mul(fraction(t, shop.LaborRate.Decimal), big.NewRat(77, 60)), digits)
			if at := c.amount(got.Money.Labor); at != labor {
				t.Fatalf("77 minutes at %s: got %s, want %s", shop.LaborRate, at, labor)
			}
		}
		each := halfUp(new(big.Rat).Mul(fraction(t, got.Money.LeftOver.Decimal), big.NewRat(60, 77)), digits)
		if at := c.amount(got.Money.PerHour); at != each {
			t.Fatalf("%s in 77 minutes: got %s, want %s", got.Money.LeftOver, at, each)
		}
	})
}

func TestPropertyTheOrderOfTheLogsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := anyShop(t, 2)
		before, was := Count(shop, catalog.English)
		shop.Machines = rapid.Permutation(shop.Machines).Draw(t, "machines")
		for _, m := range shop.Machines {
			m.Entries = rapid.Permutation(m.Entries).Draw(t, "entries")
		}
		after, is := Count(shop, catalog.English)
		if diff := cmp.Diff(said(was), said(is)); diff != "" {
			t.Fatalf("problems (-before, +after):\n%s", diff)
		}
		if diff := cmp.Diff(billed(before, before.Money), billed(after, after.Money)); diff != "" {
			t.Fatalf("shop (-before, +after):\n%s", diff)
		}
		if diff := cmp.Diff(before.Work, after.Work); diff != "" {
			t.Fatalf("work (-before, +after):\n%s", diff)
		}
		for _, m := range before.Machines {
			i := slices.IndexFunc(after.Machines, func(o Machine) bool { return o.Key == m.Key })
			if diff := cmp.Diff(billed(before, m.Money), billed(after, after.Machines[i].Money)); diff != "" {
				t.Fatalf("%s (-before, +after):\n%s", m.Key, diff)
			}
			if diff := cmp.Diff(m.Work, after.Machines[i].Work); diff != "" {
				t.Fatalf("%s (-before, +after):\n%s", m.Key, diff)
			}
		}
	})
}

// total is the sum over the machines of a figure, in fractions; nil where none
// has it.
func total(t *rapid.T, c *Shop, f figure) *big.Rat {
	var all *big.Rat
	for _, m := range c.Machines {
		if a := *figures[f].of(&m.Money); a.Set {
			if all == nil {
				all = new(big.Rat)
			}
			all.Add(all, fraction(t, a.Decimal))
		}
	}
	return all
}

func TestPropertyTheShopIsTheSumOfItsMachines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := anyShop(t, rapid.SampledFrom([]int{0, 2, 3}).Draw(t, "digits"))
		c, _ := Count(shop, catalog.English)
		for f := range perHour {
			want, got := total(t, c, f), *figures[f].of(&c.Money)
			if got.Set != (want != nil) || got.Set && fraction(t, got.Decimal).Cmp(want) != 0 {
				t.Fatalf("%s: got %v, want %v", figures[f].name, got, want)
			}
		}
		work := newWork()
		for _, m := range c.Machines {
			work.merge(m.Work)
			if byHand(m.Work.ByPerson) != m.Work.Total || byHand(m.Work.ByTask) != m.Work.Total {
				t.Fatalf("%s: %v", m.Key, m.Work)
			}
		}
		if diff := cmp.Diff(work, c.Work); diff != "" {
			t.Fatalf("(-want, +got):\n%s", diff)
		}
	})
}

func byHand(by map[string]logbook.Minutes) logbook.Minutes {
	var all logbook.Minutes
	for _, m := range by {
		all += m
	}
	return all
}

// Over the whole shop, cash in is what really went over the counter: everything
// but the salvaged lines, however parts moved between machines.
func TestPropertySalvageMakesAndLosesNoMoney(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := anyShop(t, 2)
		c, _ := Count(shop, catalog.English)
		spent := new(big.Rat)
		for _, f := range []figure{paid, tax, shipping, costs, coresOpen} {
			if all := total(t, c, f); all != nil {
				spent.Add(spent, all)
			}
		}
		for _, m := range c.Machines {
			for _, l := range m.Lines {
				if !l.IsCost && l.Source != logbook.Salvaged && l.Amount.Set {
					spent.Add(spent, fraction(t, l.Amount.Decimal))
				}
			}
		}
		if got := fraction(t, c.Money.CashIn.Decimal); got.Cmp(spent) != 0 {
			t.Fatalf("cash in %s, spent %s", got.FloatString(2), spent.FloatString(2))
		}
		if c.Money.SalvagedIn.Cmp(c.Money.SalvagedOut.Decimal) != 0 {
			t.Fatalf("salvaged in %s, out %s", c.Money.SalvagedIn, c.Money.SalvagedOut)
		}
	})
}
