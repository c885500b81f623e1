package tally

import (
	"fmt"
	"math/big"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A metered is what one entry says of the meter: a reading or a word, and old/new
// where it was replaced.
type metered struct{ meter, old, new string }

func meterMachine(entries ...metered) *logbook.Machine {
	m := machineOf("alder")
	for i, s := range entries {
		m.Entries = append(m.Entries, entryOf("alder", fmt.Sprintf("2026-03-%02d", i+1), func(e *logbook.Entry) {
			switch s.meter {
			case "":
			case logbook.MeterUnknown, logbook.MeterBroken, logbook.MeterNone:
				e.Meter = &logbook.Meter{Place: e.In("meter"), State: s.meter}
			default:
				e.Meter = &logbook.Meter{Place: e.In("meter"), State: logbook.MeterRead, Reading: hours(s.meter)}
			}
			if s.old != "" || s.new != "" {
				e.MeterReplaced = &logbook.MeterReplaced{Place: e.In("meter_replaced"), Old: hours(s.old), New: hours(s.new)}
			}
		}))
	}
	return m
}

// The statements are those of 49 CFR 580, Appendices B and C, brought to an
// hour meter: the reading is right as far as the shop knows, or it is not. The
// sum of a replaced meter is the design's own.
func TestWhatIsSaidOfTheHoursOnTheMachine(t *testing.T) {
	for name, tc := range map[string]struct {
		entries []metered
		state   string
		total   string
		wrong   []string
	}{
		"no word of a meter":            {[]metered{{}}, NotKnown, "", nil},
		"no entry at all":               {nil, NotKnown, "", nil},
		"one reading":                   {[]metered{{meter: "412.6 h"}}, BelievedRight, "412.6 h", nil},
		"a meter at 0":                  {[]metered{{meter: "0 h"}}, BelievedRight, "0 h", nil},
		"the last of several":           {[]metered{{meter: "412.6 h"}, {}, {meter: "412.6 h"}, {meter: "413.0 h"}}, BelievedRight, "413.0 h", nil},
		"a reading in minutes":          {[]metered{{meter: "90 min"}}, BelievedRight, "1.50 h", nil},
		"unknown":                       {[]metered{{meter: "unknown"}}, NotKnown, "", nil},
		"no meter":                      {[]metered{{meter: "none"}}, NotKnown, "", nil},
		"broken":                        {[]metered{{meter: "broken"}}, NotKnown, "", nil},
		"broke in the shop":             {[]metered{{meter: "412.6 h"}, {meter: "broken"}}, NotKnown, "", nil},
		"mended, hours were missed":     {[]metered{{meter: "412.6 h"}, {meter: "broken"}, {meter: "412.9 h"}}, NotKnown, "", nil},
		"unknown, then a reading of it": {[]metered{{meter: "unknown"}, {meter: "412.6 h"}}, NotKnown, "", nil},

		"replaced":                           {[]metered{{meter: "412.2 h"}, {old: "412.6 h", new: "0 h", meter: "0.4 h"}, {meter: "0.7 h"}}, Replaced, "413.3 h", nil},
		"replaced, not read since":           {[]metered{{meter: "412.6 h"}, {old: "412.6 h", new: "0 h"}}, Replaced, "412.6 h", nil},
		"replaced by a used one":             {[]metered{{old: "412.6 h", new: "85.5 h"}, {meter: "90.25 h"}}, Replaced, "417.35 h", nil},
		"replaced twice":                     {[]metered{{meter: "100 h"}, {old: "110 h", new: "5 h", meter: "6 h"}, {meter: "25 h"}, {old: "30 h", new: "0 h"}, {meter: "7.5 h"}}, Replaced, "142.5 h", nil},
		"broke in the shop, then replaced":   {[]metered{{meter: "412.6 h"}, {meter: "broken"}, {old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}}, Replaced, "413.0 h", nil},
		"broken and replaced in one entry":   {[]metered{{meter: "412.6 h"}, {meter: "broken", old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}}, Replaced, "413.0 h", nil},
		"broken, replaced, not read since":   {[]metered{{meter: "412.6 h"}, {meter: "broken", old: "412.6 h", new: "0 h"}}, NotKnown, "", nil},
		"came broken, then replaced":         {[]metered{{meter: "broken"}, {old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}}, NotKnown, "", nil},
		"came unknown, then replaced":        {[]metered{{meter: "unknown"}, {old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}}, NotKnown, "", nil},
		"came broken, read, then replaced":   {[]metered{{meter: "broken"}, {meter: "412.6 h"}, {old: "412.6 h", new: "0 h", meter: "0.4 h"}}, NotKnown, "", nil},
		"came with none, one put in":         {[]metered{{meter: "none"}, {new: "0 h"}, {meter: "0.4 h"}}, NotKnown, "", nil},
		"old one not read":                   {[]metered{{meter: "412.6 h"}, {new: "0 h", meter: "0.4 h"}}, NotKnown, "", nil},
		"new one not read":                   {[]metered{{meter: "412.6 h"}, {old: "412.6 h"}, {meter: "0.4 h"}}, NotKnown, "", nil},
		"the new one broke":                  {[]metered{{old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}, {meter: "broken"}}, NotKnown, "", nil},
		"the new one broke and a third was":  {[]metered{{old: "412.6 h", new: "0 h"}, {meter: "0.4 h"}, {meter: "broken", old: "0.4 h", new: "0 h"}, {meter: "1 h"}}, Replaced, "414.0 h", nil},
		"the new one broke before a reading": {[]metered{{old: "412.6 h", new: "0 h"}, {meter: "broken"}, {old: "0.4 h", new: "0 h"}, {meter: "1 h"}}, Replaced, "414.0 h", nil},

		"backwards": {[]metered{{meter: "412.6 h"}, {meter: "412.5 h"}, {meter: "413 h"}}, NotKnown, "", []string{
			"machines/alder/2026-03-02.md:2: meter: the meter reads 412.5 h here, less than the 412.6 h in machines/alder/2026-03-01.md:2: meter"}},
		"backwards in another unit": {[]metered{{meter: "2 h"}, {meter: "119 min"}}, NotKnown, "", []string{
			"machines/alder/2026-03-02.md:2: meter: the meter reads 119 min here, less than the 2 h in machines/alder/2026-03-01.md:2: meter"}},
		"one slip is one problem": {[]metered{{meter: "412 h"}, {meter: "4130 h"}, {meter: "413 h"}, {meter: "414 h"}}, NotKnown, "", []string{
			"machines/alder/2026-03-03.md:2: meter: the meter reads 413 h here, less than the 4130 h in machines/alder/2026-03-02.md:2: meter"}},
		"old below the last reading": {[]metered{{meter: "412.6 h"}, {old: "412.5 h", new: "0 h"}}, NotKnown, "", []string{
			"machines/alder/2026-03-02.md:2: meter_replaced.old: the old meter ends at 412.5 h here, less than the 412.6 h in machines/alder/2026-03-01.md:2: meter"}},
		"below what the new one began at": {[]metered{{old: "412.6 h", new: "85.5 h"}, {meter: "85.4 h"}}, NotKnown, "", []string{
			"machines/alder/2026-03-02.md:2: meter: the new meter reads 85.4 h here, but it began at 85.5 h in machines/alder/2026-03-01.md:2: meter_replaced.new"}},
		"the old one's reading beside its change": {[]metered{{meter: "412.6 h", old: "412.6 h", new: "0 h"}}, NotKnown, "", []string{
			"machines/alder/2026-03-01.md:2: meter: the new meter began at 0 h and cannot read 412.6 h the same evening"}},
		"an evening of 24 h": {[]metered{{meter: "24 h", old: "412.6 h", new: "0 h"}}, Replaced, "436.6 h", nil},
	} {
		t.Run(name, func(t *testing.T) {
			c, problems := Count(shopOf("USD", 2, meterMachine(tc.entries...)), catalog.English)
			if diff := cmp.Diff(append([]string{}, tc.wrong...), said(problems)); diff != "" {
				t.Errorf("problems (-want, +got):\n%s", diff)
			}
			m := c.Machines[0].Meter
			if m.State != tc.state || m.HasTotal != (tc.total != "") || m.Total.String() != tc.total {
				t.Errorf("got %s, %q; want %s, %q", m.State, m.Total, tc.state, tc.total)
			}
		})
	}
}

func TestSpansOfAReplacedMeter(t *testing.T) {
	m := meterMachine(metered{meter: "100 h"}, metered{old: "110 h", new: "5 h"}, metered{meter: "25.5 h"})
	spans := count(t, shopOf("USD", 2, m)).Machines[0].Meter.Spans
	got := []string{}
	for _, s := range spans {
		got = append(got, fmt.Sprint(s.From, " to ", s.To, " in ", s.Read))
	}
	want := []string{
		"0 h to 110 h in machines/alder/2026-03-02.md:2: meter_replaced.old",
		"5 h to 25.5 h in machines/alder/2026-03-03.md:2: meter",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

// tenths is a reading of so many tenths of an hour.
func tenths(n int64) quantity.Quantity { return quantity.New(big.NewRat(n, 10), 1, quantity.Hour) }

// A machine runs through any number of meters; what they counted is kept aside
// and has to come out as the total.
func TestPropertyTheTotalIsWhatTheMetersCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := machineOf("alder")
		at := rapid.Int64Range(0, 50_000).Draw(t, "came with")
		truth := at
		want := BelievedRight
		for i := range rapid.IntRange(1, 8).Draw(t, "entries") {
			e := entryOf("alder", fmt.Sprintf("2026-03-%02d", i+1), nil)
			ran := rapid.Int64Range(0, 500).Draw(t, "ran")
			at, truth = at+ran, truth+ran
			if rapid.IntRange(0, 3).Draw(t, "change") == 0 {
				begins := rapid.Int64Range(0, 20_000).Draw(t, "new")
				e.MeterReplaced = &logbook.MeterReplaced{Place: e.In("meter_replaced"), Old: tenths(at), New: tenths(begins)}
				at, want = begins, Replaced
			} else {
				e.Meter = &logbook.Meter{Place: e.In("meter"), State: logbook.MeterRead, Reading: tenths(at)}
			}
			m.Entries = append(m.Entries, e)
		}
		c, problems := Count(shopOf("USD", 2, m), catalog.English)
		got := c.Machines[0].Meter
		if len(problems) > 0 || got.State != want || got.Total.Rat().Cmp(big.NewRat(truth, 10)) != 0 {
			t.Fatalf("got %s, %s, %v; want %s, %d tenths", got.State, got.Total, said(problems), want, truth)
		}
	})
}

// Whatever else a log holds, a word of doubt is never followed by the claim that
// the meter is right, and a log that ends in doubt has no total.
func TestPropertyDoubtIsNotForgotten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reading := rapid.Custom(func(t *rapid.T) string {
			return fmt.Sprint(rapid.IntRange(0, 9).Draw(t, "read"), " h")
		})
		word := rapid.SampledFrom([]string{logbook.MeterUnknown, logbook.MeterBroken, logbook.MeterNone})
		either := rapid.OneOf(reading, word, rapid.Just(""))
		var all []metered
		doubt := false
		for range rapid.IntRange(1, 8).Draw(t, "entries") {
			s := metered{meter: either.Draw(t, "meter")}
			if rapid.IntRange(0, 2).Draw(t, "change") == 0 {
				s.old, s.new = rapid.OneOf(reading, rapid.Just("")).Draw(t, "old"), reading.Draw(t, "new")
			}
			doubt = doubt || s.meter == "unknown" || s.meter == "broken" || s.meter == "none"
			all = append(all, s)
		}
		c, problems := Count(shopOf("USD", 2, meterMachine(all...)), catalog.English)
		m := c.Machines[0].Meter
		if doubt && m.State == BelievedRight || len(problems) > 0 && m.State != NotKnown || m.HasTotal != (m.State != NotKnown) {
			t.Fatalf("%v: %s %s, %v", all, m.State, m.Total, said(problems))
		}
		c, _ = Count(shopOf("USD", 2, meterMachine(append(all, metered{meter: word.Draw(t, "last word")})...)), catalog.English)
		if m := c.Machines[0].Meter; m.State != NotKnown || m.HasTotal {
			t.Fatalf("%v and then in doubt: %s %s", all, m.State, m.Total)
		}
	})
}
