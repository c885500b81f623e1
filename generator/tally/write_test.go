package tally

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math/big"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// answer is the shape of the JSON as the design has it.
type answer struct {
	Currency *string         `json:"currency"`
	Machines []answerMachine `json:"machines"`
	Shop     answerFigures   `json:"shop"`
}

type answerMachine struct {
	Key string `json:"key"`
	answerFigures
}

type answerFigures struct {
	WorkMinutes int                `json:"work_minutes"`
	ByPerson    map[string]int     `json:"by_person"`
	ByTask      map[string]int     `json:"by_task"`
	Money       map[string]*string `json:"money"`
}

var moneyNames = []string{
	"break_even", "break_even_with_labor", "cash_in", "cores_open", "costs", "labor", "left_over", "paid", "parts",
	"per_hour", "salvaged_in", "salvaged_out", "shipping", "sold", "tax",
}

func readJSON(t interface{ Fatal(...any) }, s *Shop) answer {
	var b bytes.Buffer
	if err := s.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	var a answer
	dec := json.NewDecoder(&b)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&a); err != nil {
		t.Fatal(err)
	}
	return a
}

const wantJSON = `{
 "currency": "USD",
 "machines": [
  {
   "key": "birch",
   "work_minutes": 90,
   "by_person": {
    "": 90
   },
   "by_task": {
    "": 90
   },
   "money": {
    "paid": null,
    "parts": "0.00",
    "tax": "0.00",
    "shipping": "0.00",
    "costs": "5.00",
    "cores_open": "0.00",
    "salvaged_in": "0.00",
    "salvaged_out": "12.00",
    "cash_in": "-7.00",
    "labor": "71.93",
    "break_even": "-7.00",
    "break_even_with_labor": "64.93",
    "sold": null,
    "left_over": null,
    "per_hour": null
   }
  }
 ],
 "shop": {
  "work_minutes": 521,
  "by_person": {
   "": 90,
   "JM": 431
  },
  "by_task": {
   "": 521
  },
  "money": {
   "paid": "40.00",
   "parts": "143.28",
   "tax": "1.10",
   "shipping": "4.50",
   "costs": "27.00",
   "cores_open": "15.00",
   "salvaged_in": "12.00",
   "salvaged_out": "12.00",
   "cash_in": "218.88",
   "labor": "416.37",
   "break_even": "218.88",
   "break_even_with_labor": "635.25",
   "sold": "425.00",
   "left_over": "199.12",
   "per_hour": "27.72"
  }
 }
}
`

func TestJSONOfOneMachineStillHoldsTheWholeShop(t *testing.T) {
	var b bytes.Buffer
	if err := count(t, folder(t, handFolder)).Only("birch").WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wantJSON, b.String()); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func TestOnly(t *testing.T) {
	c := count(t, folder(t, handFolder))
	if got := c.Only(""); got != c {
		t.Errorf("no key narrows to %v", got)
	}
	if got := c.Only("nosuch"); len(got.Machines) != 0 || got.Work.Total != c.Work.Total {
		t.Errorf("an unknown key narrows to %v", got)
	}
	if c.Only("birch"); len(c.Machines) != 2 {
		t.Error("narrowing changed the count itself")
	}
}

func TestJSONOfAShopWithNothing(t *testing.T) {
	c, problems := Count(&logbook.Shop{Digits: -1}, catalog.English)
	a := readJSON(t, c)
	if len(problems) > 0 || a.Currency != nil || a.Machines == nil || a.Shop.ByPerson == nil || a.Shop.ByTask == nil {
		t.Errorf("got %+v, %v", a, said(problems))
	}
	for _, name := range moneyNames {
		if value, ok := a.Shop.Money[name]; !ok || value != nil {
			t.Errorf("%s: %v", name, value)
		}
	}
}

func TestPropertyJSONHoldsTheCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.SampledFrom([]int{0, 2, 3}).Draw(t, "digits")
		shop := anyShop(t, digits)
		c, _ := Count(shop, catalog.English)
		form := regexp.MustCompile(map[int]string{0: `^-?[0-9]+$`, 2: `^-?[0-9]+\.[0-9]{2}$`, 3: `^-?[0-9]+\.[0-9]{3}$`}[digits])
		a := readJSON(t, c)
		same := func(name string, got answerFigures, work Work, money Money) {
			if got.WorkMinutes != int(work.Total) || len(got.ByPerson) != len(work.ByPerson) || len(got.ByTask) != len(work.ByTask) {
				t.Fatalf("%s: %+v, want %+v", name, got, work)
			}
			for person, m := range work.ByPerson {
				if got.ByPerson[person] != int(m) {
					t.Fatalf("%s: %q worked %d, want %d", name, person, got.ByPerson[person], m)
				}
			}
			names := []string{}
			for n := range got.Money {
				names = append(names, n)
			}
			slices.Sort(names)
			if diff := cmp.Diff(moneyNames, names); diff != "" {
				t.Fatalf("%s (-want, +got):\n%s", name, diff)
			}
			for _, f := range figures {
				want, value := *f.of(&money), got.Money[f.name]
				if want.Set != (value != nil) || value != nil && (!form.MatchString(*value) || amount(*value).Cmp(want.Decimal) != 0) {
					t.Fatalf("%s: %s is %v, want %v", name, f.name, value, want)
				}
			}
		}
		if *a.Currency != shop.Currency || len(a.Machines) != len(shop.Machines) {
			t.Fatalf("got %+v", a)
		}
		for i, m := range c.Machines {
			if a.Machines[i].Key != m.Key {
				t.Fatalf("machine %d is %s, want %s", i, a.Machines[i].Key, m.Key)
			}
			same(m.Key, a.Machines[i].answerFigures, m.Work, m.Money)
		}
		same("shop", a.Shop, c.Work, c.Money)
	})
}

func readCSV(t *testing.T, s *Shop, by string) []string {
	t.Helper()
	var b bytes.Buffer
	if err := s.WriteCSV(&b, by); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll() // also fails where rows differ in width
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, row := range rows {
		all = append(all, strings.Join(row, "|"))
	}
	return all
}

func TestCSV(t *testing.T) {
	c := count(t, folder(t, handFolder))
	const header = "machine|name|work_minutes|meter|meter_hours|currency|paid|parts|tax|shipping|costs|cores_open|salvaged_in|salvaged_out|cash_in|labor|break_even|break_even_with_labor|sold|left_over"
	const birch = "birch|Birch rider|90|not known||USD||0.00|0.00|0.00|5.00|0.00|0.00|12.00|-7.00|71.93|-7.00|64.93||"
	for name, tc := range map[string]struct{ got, want []string }{
		"machines": {readCSV(t, c, ByMachine), []string{
			header,
			"alder|Alder tiller|431|not known||USD|40.00|143.28|1.10|4.50|22.00|15.00|12.00|0.00|225.88|344.44|225.88|570.32|425.00|199.12",
			birch,
		}},
		"one machine":        {readCSV(t, c.Only("birch"), ByMachine), []string{header, birch}},
		"persons":            {readCSV(t, c, ByPerson), []string{"person|work_minutes", "|90", "JM|431"}},
		"persons of one":     {readCSV(t, c.Only("alder"), ByPerson), []string{"person|work_minutes", "JM|431"}},
		"tasks":              {readCSV(t, c, ByTask), []string{"task|work_minutes", "|521"}},
		"months":             {readCSV(t, c, ByMonth), []string{"month|work_minutes|currency|parts|tax|shipping|costs|cores_open", "2026-02|90|USD||||5.00|", "2026-03|431|USD|143.28|1.10|4.50|22.00|15.00"}},
		"months of one":      {readCSV(t, c.Only("birch"), ByMonth), []string{"month|work_minutes|currency|parts|tax|shipping|costs|cores_open", "2026-02|90|USD||||5.00|"}},
		"a meter":            {readCSV(t, count(t, shopOf("USD", 2, meterMachine(metered{meter: "412.60 h"}))), ByMachine)[1:2], []string{"alder|The alder|0|believed right|412.60|USD||0.00|0.00|0.00|0.00|0.00|0.00|0.00|0.00||0.00|||"}},
		"months not so sure": {readCSV(t, count(t, vague()), ByMonth), []string{"month|work_minutes|currency|parts|tax|shipping|costs|cores_open", "2008|10|USD|||||", "about 2008|0|USD||||5.00|", "2008-03|20|USD|||||", "about 2008-03|30|USD|||||"}},
	} {
		if diff := cmp.Diff(tc.want, tc.got); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", name, diff)
		}
	}
}

// vague is a shop with entries of dates that nobody knows exactly.
func vague() *logbook.Shop {
	work := func(date string, minutes logbook.Minutes) *logbook.Entry {
		return entryOf("alder", date, func(e *logbook.Entry) { bare(e, "", minutes) })
	}
	cost := entryOf("alder", "about 2008", func(e *logbook.Entry) {
		e.Costs = []logbook.Cost{{Place: e.In("costs[0]"), For: "fuel", Amount: amount("5")}}
	})
	return shopOf("USD", 2, machineOf("alder", work("2008", 10), cost, work("2008-03", 20), work("about 2008-03-12", 30)))
}

// What a spreadsheet makes of a column, added up by hand of exact fractions, is the
// shop's own figure.
func TestPropertyEachColumnOfCSVAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, problems := Count(anyShop(t, 2), catalog.English)
		if slices.ContainsFunc(problems, func(p logbook.Problem) bool { return strings.Contains(p.Says, "can be counted") }) {
			t.Skip("amounts too large to add up")
		}
		want := map[string]string{"work_minutes": number(c.Work.Total)}
		for _, f := range figures {
			want[f.name] = c.amount(*f.of(&c.Money))
		}
		for _, by := range Rows {
			var b bytes.Buffer
			if err := c.WriteCSV(&b, by); err != nil {
				t.Fatal(err)
			}
			rows, err := csv.NewReader(&b).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for i, name := range rows[0] {
				total, said := new(big.Rat), want[name]
				for _, row := range rows[1:] {
					if cell, ok := new(big.Rat).SetString(row[i]); ok {
						total.Add(total, cell)
					}
				}
				if said == "" {
					said = "0"
				}
				if _, figure := want[name]; figure && total.Cmp(ratOf(said)) != 0 {
					t.Fatalf("by %s, %s adds up to %s, the shop has %s:\n%s", by, name, total.FloatString(2), said, b.String())
				}
			}
		}
	})
}

func ratOf(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return r
}

func TestACellIsNoFormula(t *testing.T) {
	for cell, want := range map[string]string{
		"":                     "",
		"JM":                   "JM",
		"a=b":                  "a=b",
		"-12.00":               "-12.00",
		"12.00":                "12.00",
		"-0":                   "-0",
		`=HYPERLINK("x","y")`:  `'=HYPERLINK("x","y")`,
		"=1+1":                 "'=1+1",
		"+1":                   "'+1",
		"-1+cmd|' /C calc'!A0": "'-1+cmd|' /C calc'!A0",
		"-":                    "'-",
		"--1":                  "'--1",
		"-1.":                  "'-1.",
		"-1e3":                 "'-1e3",
		"-1\n=2":               "'-1\n=2",
		"@SUM(A1)":             "'@SUM(A1)",
		"\t=1":                 "'\t=1",
		"\r=1":                 "'\r=1",
		"\n=1":                 "'\n=1",
		"＝1":                   "'＝1",
	} {
		if got := harmless(cell); got != want {
			t.Errorf("%q: got %q, want %q", cell, got, want)
		}
	}
}

func TestNoNameInTheLogBecomesAFormula(t *testing.T) {
	e := entryOf("alder", "2026-03-02", func(e *logbook.Entry) {
		timed(e, "18:00", "19:00", "=cmd|'/C calc'!A0", "@SUM(A1:A9)", 0)
		timed(e, "20:00", "21:00", "a,\"b\"\nc", "-1+2", 0)
	})
	m := machineOf("alder", e)
	m.Name = "+cmd"
	c := count(t, shopOf("USD", 2, m))
	for by, want := range map[string][]string{
		ByMachine: {"alder|'+cmd|120"},
		ByPerson:  {"'=cmd|'/C calc'!A0|60", "a,\"b\"\nc|60"},
		ByTask:    {"'-1+2|60", "'@SUM(A1:A9)|60"},
	} {
		got := readCSV(t, c, by)[1:]
		for i, row := range got {
			if by == ByMachine {
				got[i] = strings.Join(strings.Split(row, "|")[:3], "|")
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("by %s (-want, +got):\n%s", by, diff)
		}
	}
}

const wantText = `alder: Alder tiller
  Work, in hours and minutes                       7:11
    by JM                                          7:11
  Hours on the machine                        not known
  Money in                                          USD
    Bought for                                    40.00
    Parts, salvaged ones too                     143.28
    Tax on parts                                   1.10
    Shipping of parts                              4.50
    Other costs                                   22.00
    Core deposits not back yet                    15.00
    Salvaged parts put in (counted in parts)      12.00
    Salvaged parts taken out                       0.00
    Cash in                                      225.88
    Labor                                        344.44
    Break-even without labor                     225.88
    Break-even with labor                        570.32
    Sold for                                     425.00
    Left over, before labor                      199.12
    Left over for each hour                       27.72
  1 part has no price, so nothing is counted for it.

birch: Birch rider
  Work, in hours and minutes                       1:30
    by the shop                                    1:30
  Hours on the machine                        not known
  Money in                                          USD
    Parts, salvaged ones too                       0.00
    Tax on parts                                   0.00
    Shipping of parts                              0.00
    Other costs                                    5.00
    Core deposits not back yet                     0.00
    Salvaged parts put in (counted in parts)       0.00
    Salvaged parts taken out                      12.00
    Cash in                                       -7.00
    Labor                                         71.93
    Break-even without labor                      -7.00
    Break-even with labor                         64.93
  The log does not say what was paid for it, so nothing is counted for that.

whole shop
  Work, in hours and minutes                       8:41
    by the shop                                    1:30
    by JM                                          7:11
  Money in                                          USD
    Bought for                                    40.00
    Parts, salvaged ones too                     143.28
    Tax on parts                                   1.10
    Shipping of parts                              4.50
    Other costs                                   27.00
    Core deposits not back yet                    15.00
    Salvaged parts put in (counted in parts)      12.00
    Salvaged parts taken out                      12.00
    Cash in                                      218.88
    Labor                                        416.37
    Break-even without labor                     218.88
    Break-even with labor                        635.25
    Sold for                                     425.00
    Left over, before labor                      199.12
    Left over for each hour                       27.72

Machine     Work  Cash in  With labor  Sold for  Left over  Per hour
alder       7:11   225.88      570.32    425.00     199.12     27.72
birch       1:30    -7.00       64.93         -          -         -
whole shop  8:41   218.88      635.25    425.00     199.12     27.72
`

// TestNameOfTwoLines: what somebody wrote stays on its own line, whatever is in it.
func TestNameOfTwoLines(t *testing.T) {
	c := count(t, folder(t, handFolder))
	c.Machines[0].Name = "Alder\nmoney in  1.00\r\tgone"
	var b bytes.Buffer
	if err := c.WriteText(&b, catalog.English); err != nil {
		t.Fatal(err)
	}
	if first, _, _ := strings.Cut(b.String(), "\n"); first != "alder: Alder money in  1.00  gone" {
		t.Errorf("the first line is %q", first)
	}
}

func TestText(t *testing.T) {
	c := count(t, folder(t, handFolder))
	var b bytes.Buffer
	if err := c.WriteText(&b, catalog.English); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(wantText, b.String()); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	b.Reset()
	if err := c.Only("birch").WriteText(&b, catalog.English); err != nil {
		t.Fatal(err)
	}
	if text := b.String(); !strings.HasPrefix(text, "birch: Birch rider\n") || strings.Contains(text, "alder") || strings.Contains(text, "whole shop") {
		t.Errorf("one machine:\n%s", text)
	}
}

func TestTextOfTasksMetersAndAShopWithoutACurrency(t *testing.T) {
	m := meterMachine(metered{meter: "412.6 h"}, metered{old: "412.6 h", new: "0 h"}, metered{meter: "0.4 h"})
	timed(m.Entries[0], "18:00", "19:05", "Zoë", "wiring", 0)
	timed(m.Entries[0], "20:00", "20:10", "Zoë", "", 0)
	m.Name = ""
	c, _ := Count(&logbook.Shop{Digits: -1, Machines: []*logbook.Machine{m}}, catalog.English)
	var b bytes.Buffer
	if err := c.Only("alder").WriteText(&b, catalog.English); err != nil {
		t.Fatal(err)
	}
	const want = `alder
  Work, in hours and minutes                  1:15
    by Zoë                                    1:15
    on no named task                          0:10
    on wiring                                 1:05
  Hours on the machine, old and new meter  413.0 h
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

var errFull = errors.New("the disk is full")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestAFaultOfTheDiskIsTold(t *testing.T) {
	c := count(t, folder(t, handFolder))
	for name, err := range map[string]error{
		"JSON": c.WriteJSON(full{}), "CSV": c.WriteCSV(full{}, ByMachine), "text": c.WriteText(full{}, catalog.English),
	} {
		if !errors.Is(err, errFull) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
