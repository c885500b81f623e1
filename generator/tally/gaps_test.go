package tally

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// The days are those of the IANA time zone database: New York forward on 2026-03-08
// and back on 2026-11-01 at 2:00, London on 2026-03-29 at 1:00, Lord Howe by half an
// hour on 2026-04-05.
func TestASessionOverAChangeOfTheClocks(t *testing.T) {
	const forward, back = "the clocks went forward from 02:00 to 03:00 on 2026-03-08, so ", "the clocks went back from 02:00 to 01:00 on 2026-11-01"
	for _, tc := range []struct {
		zone, date, from, to string
		less                 logbook.Minutes
		want, mend           string
	}{
		{"America/New_York", "2026-03-07", "22:00", "04:00", 20, forward + "from 22:00 to 04:00 was 5:00 and not the 6:00 that is counted", `write hours: "4:40" in`},
		{"America/New_York", "2026-03-08", "01:00", "03:00", 0, forward + "from 01:00 to 03:00 was 1:00 and not the 2:00 that is counted", `"1:00"`},
		{"America/New_York", "2026-03-08", "01:50", "03:10", 30, forward + "from 01:50 to 03:10 was 0:20 and not the 1:20 that is counted", `"0:00"`},
		{"America/New_York", "2026-03-07", "22:00", "02:00", 0, "", ""},
		{"America/New_York", "2026-03-08", "02:00", "04:00", 0, "", ""}, // as the clocks were set
		{"America/New_York", "2026-03-08", "03:00", "04:00", 0, "", ""},
		{"America/New_York", "2026-03-08", "02:01", "04:00", 0, forward + "none of them showed 02:01", "check this time"},
		{"America/New_York", "2026-03-08", "01:00", "02:59", 0, forward + "none of them showed 02:59", "check this time"},
		{"America/New_York", "2026-03-06", "22:00", "04:00", 0, "", ""},
		{"America/New_York", "2026-10-31", "22:00", "04:00", 20, back + ", so from 22:00 to 04:00 was 7:00 and not the 6:00 that is counted", `write hours: "6:40" in`},
		{"America/New_York", "2026-11-01", "00:59", "02:01", 0, back + ", so from 00:59 to 02:01 was 2:02 and not the 1:02 that is counted", `"2:02"`},
		{"America/New_York", "2026-11-01", "01:00", "03:00", 0, back + " and showed 01:00 twice, so from 01:00 to 03:00 was 2:00 or 3:00; 2:00 is counted", `"3:00"`},
		{"America/New_York", "2026-11-01", "00:00", "01:30", 0, back + " and showed 01:30 twice, so from 00:00 to 01:30 was 1:30 or 2:30; 1:30 is counted", `"2:30"`},
		{"America/New_York", "2026-11-01", "01:10", "01:50", 0, "", ""}, // both in the same hour
		{"America/New_York", "2026-11-01", "00:00", "02:00", 0, "", ""}, // some would say it of the moment at which they were set
		{"America/New_York", "2026-11-01", "02:00", "03:00", 0, "", ""},
		{"Europe/London", "2026-03-29", "00:30", "02:30", 0, "the clocks went forward from 01:00 to 02:00 on 2026-03-29, so from 00:30 to 02:30 was 1:00 and not the 2:00 that is counted", `"1:00"`},
		{"Australia/Lord_Howe", "2026-04-04", "23:00", "03:00", 0, "the clocks went back from 02:00 to 01:30 on 2026-04-05, so from 23:00 to 03:00 was 4:30 and not the 4:00 that is counted", `"4:30"`},
		{"Asia/Tokyo", "2026-03-07", "22:00", "04:00", 0, "", ""},
		{"UTC", "2026-03-07", "22:00", "04:00", 0, "", ""},
	} {
		e := entryOf("alder", tc.date, func(e *logbook.Entry) { timed(e, tc.from, tc.to, "JM", "", tc.less) })
		shop := shopOf("USD", 2, machineOf("alder", e))
		shop.Zone = zone(t, tc.zone)
		got := Gaps(shop, catalog.English)
		switch {
		case tc.want == "" && len(got) == 0:
		case tc.want == "" || len(got) != 1 || got[0].Says != tc.want || !strings.Contains(got[0].Mend, tc.mend):
			t.Errorf("%s %s %s-%s: got %v, want %s", tc.zone, tc.date, tc.from, tc.to, got, tc.want)
		}
		if c := count(t, shop); c.Work.Total != e.Sessions[0].Work {
			t.Errorf("%s %s: %v is counted, want what the log says", tc.date, tc.from, c.Work.Total)
		}
	}
}

// The reference is the time package's own: where neither end is skipped or shown
// twice, the length that is told is the time that went by.
func TestPropertyTheTrueLengthIsTheTimeThatWentBy(tt *testing.T) {
	newYork := zone(tt, "America/New_York")
	rapid.Check(tt, func(t *rapid.T) {
		date := rapid.SampledFrom([]string{"2026-03-07", "2026-03-08", "2026-10-31", "2026-11-01", "2026-06-01"}).Draw(t, "date")
		from := rapid.IntRange(0, day-1).Draw(t, "from")
		length := rapid.IntRange(1, 16*60).Draw(t, "length")
		e := entryOf("alder", date, func(e *logbook.Entry) {
			timed(e, logbook.Clock(from).String(), logbook.Clock((from+length)%day).String(), "JM", "", 0)
		})
		shop := shopOf("USD", 2, machineOf("alder", e))
		shop.Zone = newYork
		d := e.Date.Time()
		at := func(minute int) (time.Time, bool) { // and if the clock shows it just once
			u := time.Date(d.Year(), d.Month(), d.Day(), 0, minute, 0, 0, newYork)
			shows := func(u time.Time) string { return u.Format("02 15:04") }
			want := shows(time.Date(d.Year(), d.Month(), d.Day(), 0, minute, 0, 0, time.UTC))
			once := shows(u) == want && shows(u.Add(-time.Hour)) != want && shows(u.Add(time.Hour)) != want
			return u, once
		}
		start, sure := at(from)
		end, sure2 := at(from + length)
		if !sure || !sure2 {
			return
		}
		true := int(end.Sub(start) / time.Minute)
		got := Gaps(shop, catalog.English)
		if true == length {
			if len(got) > 0 {
				t.Fatalf("%v", said(got))
			}
			return
		}
		// 02:00 is when they were set back, and may be meant of that moment.
		if end.Format("02 15:04") == "01 02:00" {
			return
		}
		if len(got) != 1 || !strings.Contains(got[0].Says, "was "+logbook.Minutes(true).String()+" and not the "+logbook.Minutes(length).String()) {
			t.Fatalf("%d minutes went by, %d on the clock; got %v", true, length, said(got))
		}
	})
}

// In the hour that comes twice, one person can follow on in the second of them.
func TestNobodyIsAtTwoJobsInTheHourThatComesTwice(t *testing.T) {
	for name, tc := range map[string]struct {
		zone, to string
		problems int
	}{
		"it came twice":          {"America/New_York", "02:00", 0},
		"it ended later":         {"America/New_York", "02:01", 1},
		"the clocks are not set": {"UTC", "02:00", 1},
	} {
		e := entryOf("alder", "2026-11-01", func(e *logbook.Entry) {
			timed(e, "00:10", tc.to, "JM", "", 0)
			timed(e, "01:00", "04:00", "JM", "", 0)
		})
		shop := shopOf("USD", 2, machineOf("alder", e))
		shop.Zone = zone(t, tc.zone)
		if _, problems := Count(shop, catalog.English); len(problems) != tc.problems {
			t.Errorf("%s: got %v", name, said(problems))
		}
	}
}

func TestHoursThatNameNobody(t *testing.T) {
	first := entryOf("alder", "2026-03-02", func(e *logbook.Entry) {
		timed(e, "18:00", "20:00", "", "", 0)
		timed(e, "19:00", "21:00", "", "", 0)
	})
	named := entryOf("alder", "2026-03-03", func(e *logbook.Entry) {
		timed(e, "18:00", "20:00", "JM", "", 0)
		timed(e, "19:00", "21:00", "", "", 0)
		timed(e, "21:00", "22:00", "", "", 0)
	})
	other := entryOf("birch", "2026-03-03", func(e *logbook.Entry) { timed(e, "21:30", "23:00", "", "", 0) })
	long := entryOf("birch", "2026-03-04", func(e *logbook.Entry) { bare(e, "", 25*60) })
	month := entryOf("birch", "2026-04", func(e *logbook.Entry) { bare(e, "", 25*60) })
	shop := shopOf("USD", 2, machineOf("alder", first, named), machineOf("birch", other, long, month))
	want := []string{
		"machines/alder/2026-03-02.md:2: hours[1]: two sessions that name nobody are at the same time: here from 19:00 to 21:00 on 2026-03-02, and from 18:00 to 20:00 on 2026-03-02 in machines/alder/2026-03-02.md:2: hours[0]; both are counted",
		"machines/birch/2026-03-03.md:2: hours[0]: two sessions that name nobody are at the same time: here from 21:30 to 23:00 on 2026-03-03, and from 21:00 to 22:00 on 2026-03-03 in machines/alder/2026-03-03.md:2: hours[2]; both are counted",
		"machines/birch/2026-03-04.md:2: hours: 25:00 hours of work on one day name nobody, and the day of one person has 24; all of it is counted",
	}
	if diff := cmp.Diff(want, said(Gaps(shop, catalog.English))); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	if c := count(t, shop); c.Work.Total != 4*60+5*60+90+50*60 {
		t.Errorf("counted %v", c.Work.Total)
	}
}

// A ranEntry is an entry with its date, time, reading and run; r marks a meter
// that was replaced.
type ranEntry struct{ date, time, meter, ran string }

func TestARunAgainstItsMeter(t *testing.T) {
	const over = "2026-03-03.md: the log has the engine run for 8:00 hours since the meter read 100.0 h in machines/alder/2026-03-02.md:2: meter, but here the meter reads only 0.1 h more"
	for name, tc := range map[string]struct {
		trust   string
		entries []ranEntry
		want    []string
	}{
		"it moved a tenth":                {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}}, []string{over}},
		"and is called right":             {logbook.MeterIsTrue, []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}}, []string{over}},
		"it is called wrong":              {logbook.MeterIsWrong, []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}}, nil},
		"it moved with the run":           {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "107.9 h", "8:00"}}, nil},
		"read before the run":             {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}, {"2026-03-04", "", "108.1 h", ""}}, nil},
		"no later reading explains it":    {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}, {"2026-03-04", "", "100.1 h", ""}}, []string{strings.Replace(over, "03-03.md", "03-04.md", 1)}},
		"an entry in between":             {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-02", "", "", "3:00"}, {"2026-03-03", "", "", "8:00"}, {"2026-03-04", "", "100.1 h", ""}}, []string{strings.Replace(over, "03-03.md", "03-04.md", 1)}},
		"the run of the first evening":    {"", []ranEntry{{"2026-03-02", "", "100.0 h", "8:00"}, {"2026-03-03", "", "100.1 h", ""}}, nil},
		"one reading":                     {"", []ranEntry{{"2026-03-02", "", "100.0 h", "8:00"}}, nil},
		"to the tenth and a quarter hour": {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "101.0 h", "1:21"}}, nil},
		"a minute more":                   {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "101.0 h", "1:22"}}, []string{"2026-03-03.md: the log has the engine run for 1:22 hours since the meter read 100.0 h in machines/alder/2026-03-02.md:2: meter, but here the meter reads only 1.0 h more"}},
		"a meter of whole hours":          {"", []ranEntry{{"2026-03-02", "", "100 h", ""}, {"2026-03-03", "", "100 h", "1:15"}}, nil},
		"same day, no time":               {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-02", "", "", "8:00"}, {"2026-03-02", "", "100.1 h", ""}}, nil},
		"same day, by the time":           {"", []ranEntry{{"2026-03-02", "08:00", "100.0 h", ""}, {"2026-03-02", "09:00", "", "8:00"}, {"2026-03-02", "19:00", "100.1 h", ""}}, []string{strings.Replace(over, "03-03.md", "03-02.md", 1)}},
		"a month is no day":               {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03", "", "", "8:00"}, {"2026-04-02", "", "100.1 h", ""}}, nil},
		"replaced in between":             {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "replaced", "8:00"}, {"2026-03-04", "", "100.1 h", ""}}, nil},
		"the new one is held":             {"", []ranEntry{{"2026-03-01", "", "replaced", ""}, {"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}}, []string{over}},
		"broken in between":               {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "broken", "8:00"}, {"2026-03-04", "", "100.1 h", ""}}, nil},
		"in doubt from then on":           {"", []ranEntry{{"2026-03-01", "", "unknown", ""}, {"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", "8:00"}}, nil},
		"told once":                       {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "100.1 h", ""}, {"2026-03-04", "", "", "8:00"}, {"2026-03-05", "", "100.2 h", ""}, {"2026-03-06", "", "100.3 h", ""}}, []string{"2026-03-05.md: the log has the engine run for 8:00 hours since the meter read 100.1 h in machines/alder/2026-03-03.md:2: meter, but here the meter reads only 0.1 h more"}},
		"a reading of no meter":           {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "999999999999999 h", "8:00"}, {"2026-03-04", "", "999999999999999 h", "0:05"}}, []string{"2026-03-03.md: the meter reads 999999999999899.0 h more here than in machines/alder/2026-03-02.md:2: meter, and no more than 72 hours can lie between the two"}},
		"it moved and nobody wrote a run": {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "160.0 h", ""}}, nil},
		"more than there are hours":       {"", []ranEntry{{"2026-03-02", "", "100.0 h", ""}, {"2026-03-03", "", "172.2 h", ""}}, []string{"2026-03-03.md: the meter reads 72.2 h more here than in machines/alder/2026-03-02.md:2: meter, and no more than 72 hours can lie between the two"}},
	} {
		m := machineOf("alder")
		m.MeterTrue = tc.trust
		for _, r := range tc.entries {
			m.Entries = append(m.Entries, entryOf("alder", r.date, func(e *logbook.Entry) {
				if r.time != "" {
					e.Clock, e.HasClock = clock(r.time), true
				}
				if r.ran != "" {
					e.Ran, e.HasRan = minutesOf(t, r.ran), true
				}
				switch r.meter {
				case "":
				case "replaced":
					e.MeterReplaced = &logbook.MeterReplaced{Place: e.In("meter_replaced")}
				case logbook.MeterUnknown, logbook.MeterBroken:
					e.Meter = &logbook.Meter{Place: e.In("meter"), State: r.meter}
				default:
					e.Meter = &logbook.Meter{Place: e.In("meter"), State: logbook.MeterRead, Reading: hours(r.meter)}
				}
			}))
		}
		var got []string
		for _, p := range Gaps(shopOf("USD", 2, m), catalog.English) {
			got = append(got, strings.TrimPrefix(strings.Replace(p.String(), ":2: meter:", ":", 1), "machines/alder/"))
		}
		if diff := cmp.Diff(tc.want, got); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", name, diff)
		}
	}
}

func minutesOf(t testing.TB, s string) logbook.Minutes {
	t.Helper()
	m, err := logbook.ParseMinutes(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A log of a meter that counted right has nothing to be told of, wherever in the
// evening it was read and however the runs lie.
func TestPropertyAMeterThatCountsIsNotTold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := machineOf("alder")
		total := 60 * rapid.IntRange(0, 5000).Draw(t, "start") // minutes
		var days []int
		for range rapid.IntRange(0, 8).Draw(t, "entries") {
			days = append(days, rapid.IntRange(1, 20).Draw(t, "day"))
		}
		slices.Sort(days)
		for i, d := range days {
			e := entryOf("alder", fmt.Sprintf("2026-03-%02d", d), nil)
			e.File += fmt.Sprint(i)
			ran := rapid.IntRange(0, 90).Draw(t, "ran")
			before := 0
			if i < len(days)-1 { // the last reading counts as of after the run
				before = rapid.IntRange(0, ran).Draw(t, "before the reading")
			} else {
				before = ran
			}
			if rapid.Bool().Draw(t, "read") || i == len(days)-1 {
				e.Meter = &logbook.Meter{Place: e.In("meter"), State: logbook.MeterRead, Reading: hours(fmt.Sprintf("%d.%d h", (total+before)/60, (total+before)%60/6))}
			}
			e.Ran, e.HasRan = logbook.Minutes(ran), true
			total += ran
			m.Entries = append(m.Entries, e)
		}
		if got := Gaps(shopOf("USD", 2, m), catalog.English); len(got) > 0 {
			t.Fatalf("%v", said(got))
		}
	})
}
