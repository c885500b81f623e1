package logbook

import (
	"fmt"
	"strings"
	"testing"

	"github.com/govalues/decimal"

	"asleft/generator/quantity"
)

func TestDates(t *testing.T) {
	for _, c := range []struct {
		date string
		want Date
		says string
	}{
		{"2026-11-25", "2026-11-25", ""}, // today
		{`"2026-02-01"`, "2026-02-01", ""},
		{"2026-11-26", "", "2:date=future-date"},
		{"2026-02-30", "", "2:date=date"},
		{"1899-12-31", "", "2:date=long-ago"},
		{"0206-03-02", "", "2:date=long-ago"},
		{"2025-12-31", "2025-12-31", "2:date=before-arrival"},
		{"", "", "2:date=required"},
		{"~", "", "2:date=required"},
		{`""`, "", "2:date=required"},
		{`"  "`, "", "2:date=required"},
		{"[2026-02-01]", "", "2:date=not-text"},
	} {
		archive := shopFile + machineFile + "-- machines/m/e.md --\n---\ndate: " + c.date + "\ntitle: T\n---\n"
		shop, problems := readAll(t, folder(t, archive), keysOnly)
		got := shop.Machines[0].Entries[0].Date
		if says := strings.Join(said(problems, "machines/m/e.md"), " "); got != c.want || says != c.says {
			t.Errorf("%s: got %q, %s; want %q, %s", c.date, got, says, c.want, c.says)
		}
	}
	fs := folder(t, shopFile+machineFile+"-- machines/m/e.md --\n---\ndate: 2999-01-01\ntitle: T\n---\n")
	if _, problems, err := Read(fs, Options{}); err != nil || len(problems) > 0 {
		t.Errorf("without a today, any date goes: %v, %v", problems, err)
	}
}

func TestMoney(t *testing.T) {
	for _, c := range []struct{ currency, read, want, says string }{
		{"USD", "14.25", "14.25", ""},
		{"USD", "14.2", "14.2", ""},
		{"USD", "14", "14", ""},
		{"USD", "0", "0", ""},
		{"USD", "14.255", "", "money-decimals"},
		{"USD", "14.250", "", "money-decimals"},
		{"USD", "1000000000", "1000000000", ""},
		{"USD", "1000000000.01", "", "money-too-big"},
		{"USD", "123456789012345678", "", "money-too-big"},
		{"USD", "14,25", "", "money"},
		{"USD", "1,234.50", "", "money"},
		{"USD", "$14.25", "", "money"},
		{"USD", "14.25 USD", "", "money"},
		{"USD", "-14.25", "", "money"},
		{"USD", "1e2", "", "money"},
		{"USD", "0x10", "", "money"},
		{"USD", ".5", "", "money"},
		{"USD", "5.", "", "money"},
		{"USD", "forty", "", "money"},
		{"USD", ".inf", "", "money"},
		{"USD", "", "", ""},
		{"USD", "{a: 1}", "", "not-text"},
		{"JPY", "1425", "1425", ""},
		{"JPY", "1425.0", "", "money-no-decimals"},
		{"KWD", "14.255", "14.255", ""},
		{"KWD", "14.2555", "", "money-decimals"},
		{"HUF", "14.25", "14.25", ""},
		{"IDR", "14.25", "14.25", ""},
	} {
		archive := "-- shop.md --\n---\nshop: S\ncurrency: " + c.currency + "\nlabor_rate: " + c.read + "\n---\n"
		shop, problems := readAll(t, folder(t, archive), keysOnly)
		got := ""
		if shop.LaborRate.Set {
			got = shop.LaborRate.String()
		}
		if c.says != "" {
			c.says = "4:labor_rate=" + c.says
		}
		if says := strings.Join(said(problems, "shop.md"), " "); got != c.want || says != c.says {
			t.Errorf("%s %q: got %q, %q; want %q, %q", c.currency, c.read, got, says, c.want, c.says)
		}
	}
}

func TestMoneySaysHowManyDecimals(t *testing.T) {
	for currency, want := range map[string]string{
		"USD": "14.25555 has five decimals; USD has two",
		"KWD": "14.25555 has five decimals; KWD has three",
		"JPY": "14.25555 has decimals; JPY has none",
		"CLF": "14.25555 has five decimals; CLF has four",
	} {
		_, problems := readAll(t, folder(t, "-- shop.md --\n---\nshop: S\ncurrency: "+currency+"\nlabor_rate: 14.25555\n---\n"), nil)
		if len(problems) != 1 || problems[0].Says != want {
			t.Errorf("got %v, want %s", problems, want)
		}
	}
}

func TestYesNo(t *testing.T) {
	for read, want := range map[string]string{
		"yes": "true", "Yes": "true", "true": "true", `"yes"`: "true", "no": "false", "NO": "false", "false": "false",
		"": "true", "~": "true", "y": "4:show.hours=not-yes-no", "on": "4:show.hours=not-yes-no", "1": "4:show.hours=not-yes-no",
		"maybe": "4:show.hours=not-yes-no", "[yes]": "4:show.hours=not-text",
	} {
		shop, problems := readAll(t, folder(t, "-- shop.md --\n---\nshop: S\ncurrency: USD\nshow: {hours: "+read+"}\n---\n"), keysOnly)
		got := fmt.Sprint(shop.Show.Hours)
		if len(problems) > 0 {
			got = strings.Join(said(problems, "shop.md"), " ")
		}
		if got != want {
			t.Errorf("%q: got %s, want %s", read, got, want)
		}
	}
}

func TestChoices(t *testing.T) {
	for _, c := range []struct{ read, want, mend string }{
		{"for sale", ForSale, ""},
		{"", InTheShop, ""},
		{"for sael", InTheShop, "write for sale (the words are: in the shop | for sale | sold | keeping | parted out | customer's)"},
		{"For Sale", InTheShop, "write for sale (the words are: in the shop | for sale | sold | keeping | parted out | customer's)"},
		{"kept", InTheShop, "write one of these: in the shop | for sale | sold | keeping | parted out | customer's"},
	} {
		shop, problems := readAll(t, folder(t, shopFile+"-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\nstage: "+c.read+"\n---\n"), nil)
		mend := ""
		if len(problems) > 0 {
			mend = problems[0].Mend
		}
		if got := shop.Machines[0].Stage; got != c.want || mend != c.mend || len(problems) > 1 {
			t.Errorf("%q: got %q, %v", c.read, got, problems)
		}
	}
}

func TestUnknownFields(t *testing.T) {
	for _, c := range []struct{ fields, says, mend string }{
		{"tilte: U", "tilte is not a field here", "write title"},
		{"Title: U", "Title is not a field here", "write title"},
		{"weather: fair", "weather is not a field here", "take it out, or put it in the text below, which is published, or under private:, which is not; the fields here are date, title, time, by, hours, meter, odometer, meter_replaced, ran, checks, diagnosis, measured, tests, defects, parts, costs, repaired, worked_around, gone, changed, put_back, worked_on, service, photos, private"},
		{"buyer: Bob 555-1234", "buyer is not a field here", "put it under sold: in machine.md, where price and buyer stay private, as in sold: {date: 2026-06-01, price: 390.00, buyer: a name}"},
		{"Owner: Bob 555-1234", "Owner is not a field here", "put it under private:, which is published nowhere"},
		{"costs: [{for: x, amount: 1, note: 2}]", "note is not a field here", ""},
		{"costs: [{for: x, amount: 1, amuont: 2}]", "amuont is not a field here", "write amount"},
		{"costs: [{for: fuel, and oil, amount: 1}]", "and oil is not a field here; it looks like the rest of a text that a comma cut off", "put the whole text in quotes: between curly brackets a comma ends a value; in a number write a point, as in 14.25"},
		{"<<: {by: A}", "<< is not a field here", ""},
		{"date : 2026-02-01", "this field stands here twice", "keep one of the two"},
	} {
		_, problems := readAll(t, folder(t, shopFile+machineFile+entryFile("e", c.fields, "")), nil)
		if len(problems) != 1 || problems[0].Says != c.says || c.mend != "" && problems[0].Mend != c.mend || problems[0].Line != 4 {
			t.Errorf("%s: got %+v", c.fields, problems)
		}
	}
}

func TestNumbersOfThings(t *testing.T) {
	one, tax := decimal.One, decimal.Zero
	for _, c := range []struct {
		qty, tax         string
		wantQty, wantTax decimal.Decimal
		says             string
	}{
		{"", "", one, tax, ""},
		{"2", "6 %", decimal.MustParse("2"), decimal.MustParse("6"), ""},
		{"1.5", "8.25%", decimal.MustParse("1.5"), decimal.MustParse("8.25"), ""},
		{"0.000001", "7 %", decimal.MustParse("0.000001"), decimal.MustParse("7"), ""},
		{"0.0000001", "", one, tax, "4:parts[0].qty=number-size"},
		{"1000000.000001", "", one, tax, "4:parts[0].qty=number-size"},
		{"0", "", decimal.Zero, tax, "4:parts[0].qty=no-quantity"},
		{"-1", "", one, tax, "4:parts[0].qty=how-many"},
		{"two", "", one, tax, "4:parts[0].qty=how-many"},
		{"1", "%", one, tax, "4:parts[0].tax=number"},
		{"1", "7", one, tax, "4:parts[0].tax=tax-bare"},
		{"1", "six", one, tax, "4:parts[0].tax=tax"},
	} {
		e, says := entry(t, fmt.Sprintf("parts: [{part: p, source: new, qty: '%s', tax: '%s'}]", c.qty, c.tax), "")
		p := e.Parts[0]
		if got := strings.Join(says, " "); p.Qty != c.wantQty || p.Tax != c.wantTax || got != c.says {
			t.Errorf("%+v: got %v, %v, %s", c, p.Qty, p.Tax, got)
		}
	}
}

func TestQuantities(t *testing.T) {
	archive := shopFile + `-- machines/m/machine.md --
---
name: M
arrived: 2026-01-01
engine: {strokes: 4, cylinders: 1, bore: 68 mm, stroke: 2.125 in, fuel: gasoline}
limits:
  - {what: compression, where: cylinder 1, limit: ">= 60 psi", source: "maker's sheet"}
  - {what: compression, limit: ">= 55 psi"}
  - {what: end play, limit: 0.004 in to 0.006 in}
---
-- machines/m/e.md --
---
date: 2026-02-01
title: T
measured:
  - {what: Compression, where: Cylinder 1, value: 62 psi, gauge: 2 %, state: cold}
  - {what: end play, value: 0.10 mm, gauge: 0.001 in}
  - {what: air, value: 12 degC, gauge: 1 %}
  - {what: air, value: 12 degC, gauge: 1 degC}
  - {what: air, value: 12, gauge: 1 degC}
  - {what: air, value: 12 degC, gauge: 1}
  - {what: compression, value: 62 mm}
---
`
	shop, problems := readAll(t, folder(t, archive), keysOnly)
	same(t, said(problems, "machines/m/e.md"),
		"7:measured[2].gauge=gauge-dimension", "9:measured[4].value=quantity", "10:measured[5].gauge=quantity", "11:measured[6].value=limit-dimension")
	m := machine(t, shop, "m")
	if e := m.Engine; e.Strokes != 4 || e.Cylinders != 1 || e.Bore.String() != "68 mm" || e.Stroke.String() != "2.125 in" || e.Fuel != "gasoline" || e.Line != 4 {
		t.Errorf("engine %+v", e)
	}
	r := m.Entries[0].Measured
	if r[0].Value.String() != "62 psi" || !r[0].HasGauge || r[0].Gauge.String() != "2 %" || r[0].State != "cold" || r[2].HasGauge || !r[3].HasGauge {
		t.Errorf("readings %+v", r)
	}
	for _, c := range []struct{ what, where, want string }{
		{"compression", "cylinder 1", ">= 60 psi, >= 55 psi"}, {"COMPRESSION", "cylinder 2", ">= 55 psi"}, {"compression", "", ">= 55 psi"}, {"end play", "left", "0.004 in to 0.006 in"}, {"oil", "", ""},
	} {
		var all []string
		for _, l := range m.LimitsFor(c.what, c.where) {
			all = append(all, l.Limit.String())
		}
		if got := strings.Join(all, ", "); got != c.want {
			t.Errorf("limits for %s at %s: %s", c.what, c.where, got)
		}
	}
}

func TestNothingGivenIsNothing(t *testing.T) {
	e, says := entry(t, "by:\ntime: ~\nhours:\nmeter: \"\"\nran:\nchecks:\nmeasured: []\nparts:\nphotos: null\nprivate: ''", "")
	same(t, says)
	if e.By != "" || e.HasClock || e.Sessions != nil || e.Meter != nil || e.Ran != 0 || e.Checks != nil || e.Parts != nil || e.Photos != nil || e.Private != "" {
		t.Errorf("got %+v", e)
	}
	_, says = entry(t, "checks: [{}]\nmeasured: [~]\nparts:\n  -\ncosts: [{for: '', amount: ''}]\ndefects: [{key: '', system: ''}]\nchanged: [{affects: [a, '', ~]}]", "")
	same(t, says,
		"4:checks[0].item=required", "4:checks[0].result=required",
		"5:measured[0].value=required", "5:measured[0].what=required",
		"7:parts[0].part=required", "7:parts[0].source=required",
		"8:costs[0].amount=required", "8:costs[0].for=required",
		"9:defects[0].defect=required", "9:defects[0].key=required", "9:defects[0].system=required",
		"10:changed[0].what=required")
}

func TestListsAndMappings(t *testing.T) {
	for _, c := range []struct{ fields, says string }{
		{"checks: {item: a, result: works}", "4:checks=not-a-list"},
		{"checks: works", "4:checks=not-a-list"},
		{"checks: [works]", "4:checks[0]=not-fields"},
		{"checks: [[works]]", "4:checks[0]=not-fields"},
		{"diagnosis: [looked]", "4:diagnosis[0]=not-fields"},
		{"hours: {from: '18:00', to: '19:00'}", "4:hours=not-a-list"},
		{"hours: [2.5]", "4:hours[0]=not-fields"},
		{"meter_replaced: 12 h", "4:meter_replaced=not-fields"},
		{"by: {name: A}", "4:by=not-text"},
		{"by: [A, B]", "4:by=not-text"},
		{"changed: [{what: w, affects: speed}]", "4:changed[0].affects=not-a-list"},
		{"changed: [{what: w, affects: [[speed]]}]", "4:changed[0].affects[0]=not-text"},
		{"parts: [{part: p, source: new, core: 15.00}]", "4:parts[0].core=not-fields"},
		{"? [by]\n: A", "4:=not-a-name"},
		{"costs: [{? [a] : b, for: c, amount: 1}]", "4:costs[0]=not-a-name"},
	} {
		_, says := entry(t, c.fields, "")
		if got := strings.Join(says, " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.fields, got, c.says)
		}
	}
}

// A message is one line, whatever was read.
func TestWhatWasReadIsCutShort(t *testing.T) {
	long := strings.Repeat("long ", 40)
	for _, fields := range []string{
		"time: |\n  half\n  past\n  six", `ran: "` + long + `"`, `"a\nb": 1`, long + ": 1", `"` + long + `\n` + long + `": 1`,
		"parts: [{part: p, source: salvaged, from: " + long + "}]", "photos: [{file: \"" + long + "\"}]", "checks: [{item: " + long + ", result: works}]",
		"meter: " + long, "defects: [{key: " + long + ", defect: d, system: drive}]",
	} {
		_, problems := readAll(t, folder(t, shopFile+machineFile+entryFile("e", fields, "")), nil)
		if len(problems) != 1 {
			t.Errorf("%s: got %v", fields, problems)
		}
		for _, p := range problems {
			if s := p.String(); strings.Contains(s, "\n") || len(s) > 330 || strings.Contains(p.Mend, "\n") {
				t.Errorf("too long or on two lines: %q %q", s, p.Mend)
			}
		}
	}
}

func TestDimensionsAreNamed(t *testing.T) {
	_, problems := readAll(t, folder(t, strings.Replace(shopFile, "currency:", "altitude: 12 psi\ncurrency:", 1)+machineFile), nil)
	if len(problems) != 1 || problems[0].Says != "12 psi is "+quantity.Pressure.String()+", but "+quantity.Length.String()+" was expected" {
		t.Errorf("got %v", problems)
	}
}
