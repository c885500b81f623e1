package tally

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"asleft/generator/logbook"
)

// Keys of Work for what was not written. No name or task is empty, so nothing
// that somebody wrote can share them.
const (
	// TheShop stands in ByPerson for hours that name nobody.
	TheShop = ""
	// NoTask stands in ByTask for hours that name no task.
	NoTask = ""
)

// Work is time worked, in whole minutes. The minutes of ByPerson add up to
// Total, and so do those of ByTask and of ByMonth. Names are told apart just as
// written.
type Work struct {
	Total    logbook.Minutes
	ByPerson map[string]logbook.Minutes
	ByTask   map[string]logbook.Minutes
	// ByMonth is by the months of the entries; by their years where nobody knows
	// the month.
	ByMonth map[logbook.Date]logbook.Minutes
}

func newWork() Work {
	return Work{ByPerson: map[string]logbook.Minutes{}, ByTask: map[string]logbook.Minutes{}, ByMonth: map[logbook.Date]logbook.Minutes{}}
}

func workOn(m *logbook.Machine) Work {
	w := newWork()
	for _, e := range m.Entries {
		for _, s := range e.Sessions {
			if s.Work > 0 { // none where the times could not be read
				w.Total += s.Work
				w.ByPerson[s.By] += s.Work
				w.ByTask[s.Task] += s.Work
				w.ByMonth[monthOf(e.Date)] += s.Work
			}
		}
	}
	return w
}

func (w *Work) merge(o Work) {
	w.Total += o.Total
	for person, m := range o.ByPerson {
		w.ByPerson[person] += m
	}
	for task, m := range o.ByTask {
		w.ByTask[task] += m
	}
	for month, m := range o.ByMonth {
		w.ByMonth[month] += m
	}
}

// A stretch is a session set on the line of time.
type stretch struct {
	logbook.Session
	date       logbook.Date
	start, end int64 // minutes since 1970 began, on the shop's own clock
}

const day = 24 * 60 // minutes

// stretchOf places a session. Bare hours have a day and no time of day: they
// start and end at its midnight.
func stretchOf(e *logbook.Entry, s logbook.Session) stretch {
	at := stretch{Session: s, date: e.Date, start: e.Date.Time().Unix() / 60}
	if s.Timed {
		at.start += int64(s.From)
	}
	at.end = at.start
	if s.Timed {
		at.end += int64(s.Work + s.Less)
	}
	return at
}

// checkHours holds each person's sessions against each other, over all
// machines. Hours that name nobody may be anybody's: see Gaps.
func checkHours(shop *logbook.Shop, t *teller) {
	people := stretches(shop)
	delete(people, TheShop)
	for _, person := range slices.Sorted(maps.Keys(people)) {
		all := people[person]
		for _, pair := range overlaps(all, shop.Zone) {
			t.overlap("problem.overlap", pair)
		}
		checkDays(all, t)
	}
}

// stretches are each person's sessions in the order of their start. Those of a
// date that is not one day are left out: nobody can tell what they overlap.
func stretches(shop *logbook.Shop) map[string][]stretch {
	people := map[string][]stretch{}
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			if !e.Date.Exact() {
				continue
			}
			for _, s := range e.Sessions {
				if s.Work > 0 {
					people[s.By] = append(people[s.By], stretchOf(e, s))
				}
			}
		}
	}
	for _, all := range people {
		slices.SortStableFunc(all, func(a, b stretch) int {
			return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Field, b.Field))
		})
	}
	return people
}

// overlaps are the timed sessions that begin before an earlier one is over, each
// once, beside the earlier one that lasts longest. One that begins as another
// ends is fine, and so is one that begins in the hour that the clocks showed
// twice, as they went back: the earlier one can have ended in the first of them.
func overlaps(all []stretch, zone *time.Location) (pairs [][2]stretch) {
	var last *stretch
	for i := range all {
		s := &all[i]
		if !s.Timed {
			continue
		}
		if last != nil && s.start < last.end && !shownTwice(zone, s.start, last.end) {
			pairs = append(pairs, [2]stretch{*s, *last})
		}
		if last == nil || s.end > last.end {
			last = s
		}
	}
	return pairs
}

// overlap tells of two sessions at the same time.
func (t *teller) overlap(key string, pair [2]stretch) {
	s, last := pair[0], pair[1]
	t.report(s.Place, key, "person", s.By, "from", s.From, "to", s.To, "date", s.date,
		"other-from", last.From, "other-to", last.To, "other-date", last.date, "other", last.Place)
}

// checkDays reports each day on which a person's hours come to more than 24,
// at the session that goes over.
func checkDays(all []stretch, t *teller) {
	sums := map[int64]logbook.Minutes{}
	parts := map[int64][]stretch{}
	over := map[int64]stretch{}
	for _, s := range all {
		for _, p := range s.days() {
			sums[p.day] += p.work
			parts[p.day] = append(parts[p.day], s)
			if _, already := over[p.day]; sums[p.day] > day && !already {
				over[p.day] = s
			}
		}
	}
	for _, d := range slices.Sorted(maps.Keys(over)) {
		s := over[d]
		var others []string
		for _, o := range parts[d] {
			if o.Place != s.Place {
				others = append(others, o.Place.String())
			}
		}
		key := "problem.day-over"
		if len(others) == 0 {
			key = "problem.day-over-alone"
		}
		t.report(s.Place, key, "person", s.By, "work", sums[d], "date", dateOf(d), "others", t.words.List(others))
	}
}

// A dayPart is the part of a session that falls on one calendar day.
type dayPart struct {
	day  int64 // days since 1970 began
	work logbook.Minutes
}

// days splits a session at midnight. Nobody wrote when the break (less) was; it
// comes off the first day as far as it goes. The parts add up to the session's
// work.
func (s stretch) days() []dayPart {
	if !s.Timed {
		return []dayPart{{floorDiv(s.start, day), s.Work}}
	}
	var parts []dayPart
	less := int64(s.Less)
	for from := s.start; from < s.end; {
		d := floorDiv(from, day)
		to := min(s.end, (d+1)*day)
		off := min(less, to-from)
		less -= off
		if work := to - from - off; work > 0 {
			parts = append(parts, dayPart{d, logbook.Minutes(work)})
		}
		from = to
	}
	return parts
}

// floorDiv is a/b rounded down, for days before 1970 too.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func dateOf(d int64) logbook.Date {
	return logbook.Date(time.Unix(d*day*60, 0).UTC().Format(time.DateOnly))
}
