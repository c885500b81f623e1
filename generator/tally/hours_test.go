package tally

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

func TestWorkIsAddedUpByPersonAndTask(t *testing.T) {
	first := entryOf("alder", "2026-03-02", func(e *logbook.Entry) {
		timed(e, "18:30", "00:15", "JM", "teardown", 20) // 5:45 - 0:20 = 5:25
		timed(e, "19:00", "20:05", "RT", "", 0)          // 1:05
	})
	second := entryOf("alder", "2026-03-03", func(e *logbook.Entry) { bare(e, "", 150) })
	third := entryOf("birch", "2026-03-04", func(e *logbook.Entry) { bare(e, "JM", 30) })
	broken := entryOf("birch", "2026-03-05", func(e *logbook.Entry) {
		e.Sessions = []logbook.Session{{Place: e.In("hours[0]"), Timed: true, By: "JM", From: 1100}} // no to
	})
	c := count(t, shopOf("USD", 2, machineOf("alder", first, second), machineOf("birch", third, broken)))
	want := Work{540, map[string]logbook.Minutes{"JM": 325, "RT": 65, TheShop: 150}, map[string]logbook.Minutes{"teardown": 325, NoTask: 215}, map[logbook.Date]logbook.Minutes{"2026-03": 540}}
	if diff := cmp.Diff(want, c.Machines[0].Work); diff != "" {
		t.Errorf("alder (-want, +got):\n%s", diff)
	}
	want = Work{570, map[string]logbook.Minutes{"JM": 355, "RT": 65, TheShop: 150}, map[string]logbook.Minutes{"teardown": 325, NoTask: 245}, map[logbook.Date]logbook.Minutes{"2026-03": 570}}
	if diff := cmp.Diff(want, c.Work); diff != "" {
		t.Errorf("shop (-want, +got):\n%s", diff)
	}
}

func TestOneBodyCannotBeInTwoPlaces(t *testing.T) {
	const monday, tuesday = "2026-03-02", "2026-03-03"
	type work func(*logbook.Entry)
	at := func(from, to, by string) work { return func(e *logbook.Entry) { timed(e, from, to, by, "", 0) } }
	for name, tc := range map[string]struct {
		alder map[string][]work // sessions of the machine alder by date
		birch map[string][]work
		want  []string
	}{
		"one after the other": {alder: map[string][]work{monday: {at("18:00", "19:00", "JM"), at("19:00", "20:00", "JM")}}},
		"two people":          {alder: map[string][]work{monday: {at("18:00", "19:00", "JM"), at("18:00", "19:00", "RT")}}},
		"nobody named":        {alder: map[string][]work{monday: {at("18:00", "19:00", ""), at("18:00", "19:00", "")}}},
		"bare hours have no time of day": {
			alder: map[string][]work{monday: {at("00:00", "06:00", "JM")}},
			birch: map[string][]work{monday: {func(e *logbook.Entry) { bare(e, "JM", 300) }}},
		},
		"in one entry": {
			alder: map[string][]work{monday: {at("18:00", "19:01", "JM"), at("19:00", "20:00", "JM")}},
			want:  []string{"machines/alder/2026-03-02.md:2: hours[1]: JM is at two jobs at once: here from 19:00 to 20:00 on 2026-03-02, and from 18:00 to 19:01 on 2026-03-02 in machines/alder/2026-03-02.md:2: hours[0]"},
		},
		"on two machines": {
			alder: map[string][]work{monday: {at("18:00", "20:00", "JM")}},
			birch: map[string][]work{monday: {at("17:00", "18:30", "JM")}},
			want:  []string{"machines/alder/2026-03-02.md:2: hours[0]: JM is at two jobs at once: here from 18:00 to 20:00 on 2026-03-02, and from 17:00 to 18:30 on 2026-03-02 in machines/birch/2026-03-02.md:2: hours[0]"},
		},
		"across midnight": {
			alder: map[string][]work{monday: {at("22:00", "01:00", "JM")}},
			birch: map[string][]work{tuesday: {at("00:30", "02:00", "JM")}},
			want:  []string{"machines/birch/2026-03-03.md:2: hours[0]: JM is at two jobs at once: here from 00:30 to 02:00 on 2026-03-03, and from 22:00 to 01:00 on 2026-03-02 in machines/alder/2026-03-02.md:2: hours[0]"},
		},
		"until midnight, then on": {
			alder: map[string][]work{monday: {at("22:00", "00:00", "JM")}},
			birch: map[string][]work{tuesday: {at("00:00", "02:00", "JM")}},
		},
		"two short ones inside a long one": {
			alder: map[string][]work{monday: {at("08:00", "17:00", "JM"), at("09:00", "10:00", "JM"), at("12:00", "13:00", "JM")}},
			want: []string{
				"machines/alder/2026-03-02.md:2: hours[1]: JM is at two jobs at once: here from 09:00 to 10:00 on 2026-03-02, and from 08:00 to 17:00 on 2026-03-02 in machines/alder/2026-03-02.md:2: hours[0]",
				"machines/alder/2026-03-02.md:2: hours[2]: JM is at two jobs at once: here from 12:00 to 13:00 on 2026-03-02, and from 08:00 to 17:00 on 2026-03-02 in machines/alder/2026-03-02.md:2: hours[0]",
			},
		},
	} {
		t.Run(name, func(t *testing.T) {
			build := func(key string, days map[string][]work) *logbook.Machine {
				m := machineOf(key)
				for _, date := range []string{monday, tuesday} {
					if len(days[date]) > 0 {
						m.Entries = append(m.Entries, entryOf(key, date, func(e *logbook.Entry) {
							for _, w := range days[date] {
								w(e)
							}
						}))
					}
				}
				return m
			}
			_, problems := Count(shopOf("USD", 2, build("alder", tc.alder), build("birch", tc.birch)), catalog.English)
			if diff := cmp.Diff(append([]string{}, tc.want...), said(problems)); diff != "" {
				t.Errorf("(-want, +got):\n%s", diff)
			}
			for _, p := range problems {
				if p.Mend != "check the times in both, and who it was (by)" {
					t.Errorf("mend: %s", p.Mend)
				}
			}
		})
	}
}

func TestADayHas24Hours(t *testing.T) {
	for name, tc := range map[string]struct {
		fill       func(monday, tuesday, other *logbook.Entry)
		want, mend []string
	}{
		"24 hours to the minute": {fill: func(monday, _, _ *logbook.Entry) { bare(monday, "JM", 24*60) }},
		"25 bare hours": {
			fill: func(monday, _, _ *logbook.Entry) { bare(monday, "JM", 25*60) },
			want: []string{"machines/alder/2026-03-02.md:2: hours: JM has 25:00 hours of work on 2026-03-02, and a day has 24"},
			mend: []string{"check the hours, or write an entry for each day"},
		},
		"25 hours of the shop": {fill: func(monday, _, _ *logbook.Entry) { bare(monday, "", 25*60) }},
		"two machines": {
			fill: func(monday, _, other *logbook.Entry) { bare(monday, "JM", 13*60); bare(other, "JM", 11*60+1) },
			want: []string{"machines/birch/2026-03-02.md:2: hours: JM has 24:01 hours of work on 2026-03-02, and a day has 24"},
			mend: []string{"check the hours here and in machines/alder/2026-03-02.md:2: hours"},
		},
		"a session is split at midnight": { // Monday 2 + 22 = 24 hours, Tuesday 1
			fill: func(monday, _, other *logbook.Entry) {
				timed(monday, "22:00", "01:00", "JM", "", 0)
				bare(other, "JM", 22*60)
			},
		},
		"the rest of the night counts for Tuesday": {
			fill: func(monday, tuesday, _ *logbook.Entry) {
				timed(monday, "22:00", "01:00", "JM", "", 0)
				bare(tuesday, "JM", 23*60+1)
			},
			want: []string{"machines/alder/2026-03-03.md:2: hours: JM has 24:01 hours of work on 2026-03-03, and a day has 24"},
			mend: []string{"check the hours here and in machines/alder/2026-03-02.md:2: hours[0]"},
		},
		"a month has more than 24 hours": { // and nobody can tell what it overlaps
			fill: func(monday, _, other *logbook.Entry) {
				monday.Date, other.Date = "2026-03", "about 2026-03-02"
				bare(monday, "JM", 25*60)
				timed(monday, "10:00", "20:00", "JM", "", 0)
				timed(other, "10:00", "20:00", "JM", "", 0)
			},
		},
		"the break is no work": {
			fill: func(monday, _, other *logbook.Entry) {
				timed(monday, "10:00", "20:00", "JM", "", 60)
				bare(other, "JM", 15*60)
			},
		},
	} {
		t.Run(name, func(t *testing.T) {
			monday, tuesday := entryOf("alder", "2026-03-02", nil), entryOf("alder", "2026-03-03", nil)
			other := entryOf("birch", "2026-03-02", nil)
			tc.fill(monday, tuesday, other)
			_, problems := Count(shopOf("USD", 2, machineOf("alder", monday, tuesday), machineOf("birch", other)), catalog.English)
			mend := []string{}
			for _, p := range problems {
				mend = append(mend, p.Mend)
			}
			if diff := cmp.Diff(append([]string{}, tc.want...), said(problems)); diff != "" {
				t.Errorf("(-want, +got):\n%s", diff)
			}
			if diff := cmp.Diff(append([]string{}, tc.mend...), mend); diff != "" {
				t.Errorf("mend (-want, +got):\n%s", diff)
			}
		})
	}
}

// An entry whose date could not be read has no place in time, but it was work.
func TestWithoutADateTheHoursStillCount(t *testing.T) {
	e := entryOf("alder", "", func(e *logbook.Entry) { bare(e, "JM", 30*60) })
	if c := count(t, shopOf("USD", 2, machineOf("alder", e))); c.Work.Total != 30*60 {
		t.Errorf("got %v", c.Work.Total)
	}
}

func TestPropertySplittingAtMidnightLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := entryOf("alder", rapid.SampledFrom([]string{"1969-12-31", "1903-01-01", "2026-02-28", "2028-02-29"}).Draw(t, "day"), nil)
		from := rapid.IntRange(0, day-1).Draw(t, "from")
		length := rapid.IntRange(1, day-1).Draw(t, "for")
		less := rapid.IntRange(0, length-1).Draw(t, "less")
		timed(e, logbook.Clock(from).String(), logbook.Clock((from+length)%day).String(), "JM", "", logbook.Minutes(less))
		s := e.Sessions[0]
		var total logbook.Minutes
		for i, p := range stretchOf(e, s).days() {
			total += p.work
			if dateOf(p.day) < e.Date || i == 0 && less == 0 && dateOf(p.day) != e.Date || p.work <= 0 || p.work > day || i > 1 {
				t.Fatalf("part %d: %v minutes on %s of a session on %s", i, p.work, dateOf(p.day), e.Date)
			}
		}
		if total != s.Work || int(total) != length-less {
			t.Fatalf("%d parts of %d minutes", total, s.Work)
		}
	})
}

// Cutting sessions in two before midnight changes no total and no problem's
// being there.
func TestPropertyCuttingASessionInTwoChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := anyShop(t, 2)
		before, was := Count(shop, catalog.English)
		for _, m := range shop.Machines {
			for _, e := range m.Entries {
				var cut []logbook.Session
				for _, s := range e.Sessions {
					most := min(int(s.Work), day-int(s.From)) - 1
					if !s.Timed || most < 1 {
						cut = append(cut, s)
						continue
					}
					a, b := s, s
					a.Work = logbook.Minutes(rapid.IntRange(1, most).Draw(t, "cut"))
					b.Work -= a.Work
					a.To = s.From + logbook.Clock(a.Work)
					b.From = a.To
					cut = append(cut, a, b)
				}
				e.Sessions = cut
			}
		}
		after, is := Count(shop, catalog.English)
		if diff := cmp.Diff(before.Work, after.Work); diff != "" {
			t.Fatalf("(-before, +after):\n%s", diff)
		}
		if (len(was) > 0) != (len(is) > 0) {
			t.Fatalf("problems before: %v, after: %v", said(was), said(is))
		}
	})
}

// The reference marks every minute and hour of each person one by one.
func TestPropertyOverlapsAndLongDaysAgainstMarkingMinutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := anyShop(t, 2)
		type minute struct {
			person string
			at     int
		}
		marked, days := map[minute]int{}, map[minute]int{}
		for _, m := range shop.Machines {
			for _, e := range m.Entries {
				midnight := int(e.Date.Time().Unix() / 60)
				for _, s := range e.Sessions {
					for i := range int(s.Work) {
						at := midnight + int(s.From) + i
						if s.Timed {
							marked[minute{s.By, at}]++
						} else {
							at = midnight
						}
						days[minute{s.By, at / day}]++
					}
				}
			}
		}
		overlap, long := false, 0
		for m, n := range marked {
			overlap = overlap || m.person != "" && n > 1
		}
		for d, n := range days {
			if d.person != "" && n > day {
				long++
			}
		}
		_, problems := Count(shop, catalog.English)
		overlaps, longs := 0, 0
		for _, p := range problems {
			switch p.Mend {
			case catalog.English.Say("problem.overlap.mend"):
				overlaps++
			default:
				longs++
			}
		}
		if overlap != (overlaps > 0) || long != longs {
			t.Fatalf("overlap %v, %d long days; got %v", overlap, long, said(problems))
		}
	})
}
