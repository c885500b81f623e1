package tally

import (
	"maps"
	"math/big"
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// Gaps are what a shop should look at again in its hours and meters. None of it is
// certain to be wrong, so none of it is a problem and all of it counts as it is
// written: sessions at the same time that name nobody, a session in which the
// clocks were set forward or back, and an engine that ran longer than its hour
// meter counted.
func Gaps(shop *logbook.Shop, words *catalog.Catalog) []logbook.Problem {
	t := &teller{words: words}
	people := stretches(shop)
	for _, pair := range overlaps(people[TheShop], shop.Zone) {
		t.overlap("gap.overlap-unnamed", pair)
	}
	for _, s := range people[TheShop] {
		if !s.Timed && s.Work > day {
			t.report(s.Place, "gap.day-over-unnamed", "work", s.Work)
		}
	}
	for _, person := range slices.Sorted(maps.Keys(people)) {
		for _, s := range people[person] {
			checkClocks(s, shop.Zone, t)
		}
	}
	for _, m := range shop.Machines {
		checkRuns(m, t)
	}
	return t.problems
}

// A dated is an entry with a run or a reading of the hour meter, set on the line
// of time: a minute where it has a time of day, else its whole day.
type dated struct {
	*logbook.Entry
	first, last int64 // minutes since 1970 began
	reads       bool
	shows, step int64 // the reading and its last place, in seconds
}

// quarter is what a run that somebody wrote down may be off by, in minutes: nobody
// looks at a watch for it (common practice, no source).
const quarter = 15

// checkRuns holds how long the engine ran against what one hour meter counted. What
// is not certain is not held: an entry of a date that is no one day, two of a day
// without a time, a meter in doubt, the run of the evening in which it was read.
// Only the run beside the meter's last reading counts as before it; a later reading
// shows whether it was. It is no use to hold work against a meter, nor a meter
// against runs the other way round: a machine runs when nobody writes.
func checkRuns(m *logbook.Machine, t *teller) {
	if m.MeterTrue == logbook.MeterIsWrong {
		return
	}
	var one []dated // of one meter
	doubt := false
	for _, e := range m.Entries {
		if e.Meter != nil && e.Meter.State != logbook.MeterRead || e.MeterReplaced != nil {
			t.checkDial(one)
			one, doubt = nil, e.MeterReplaced == nil
		}
		if d, ok := datedOf(e); ok && !doubt {
			one = append(one, d)
		}
	}
	t.checkDial(one)
}

func datedOf(e *logbook.Entry) (d dated, ok bool) {
	d.Entry = e
	d.reads = e.Meter != nil && e.Meter.State == logbook.MeterRead && !e.Meter.Reading.IsZero()
	if !e.Date.Exact() || !d.reads && e.Ran == 0 {
		return d, false
	}
	d.first = e.Date.Time().Unix() / 60
	d.last = d.first + day - 1
	if e.HasClock {
		d.first += int64(e.Clock)
		d.last = d.first
	}
	if d.reads {
		q := e.Meter.Reading
		d.shows = seconds(q.Base())
		ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(q.Places())), nil)
		d.step = seconds(quantity.New(new(big.Rat).SetFrac(big.NewInt(1), ten), q.Places(), q.Unit()).Base())
	}
	return d, true
}

// seconds are whole, rounded down; no meter shows as little as one.
func seconds(r *big.Rat) int64 { return new(big.Int).Quo(r.Num(), r.Denom()).Int64() }

// checkDial holds each reading of a meter against those before it, the nearest
// first, and what ran in between.
func (t *teller) checkDial(one []dated) {
	final := len(one) - 1
	for final >= 0 && !one[final].reads {
		final--
	}
	start := 0 // where what was told of ends
	for n := range one {
		if one[n].reads && t.checkReading(one[start:n], one[n], n == final) {
			start = n
		}
	}
}

// checkReading tells of a reading that cannot be, after those before.
func (t *teller) checkReading(before []dated, now dated, final bool) bool {
	var ran, runs int64
	if final && now.Ran > 0 {
		ran, runs = int64(now.Ran), 1
	}
	from := now.first
	var waiting []dated // runs that may be as early as the readings seen so far
	for _, e := range slices.Backward(before) {
		if e.reads && e.last < from {
			from = e.last
			waiting = slices.DeleteFunc(waiting, func(w dated) bool {
				if w.first <= from {
					return false
				}
				ran, runs = ran+int64(w.Ran), runs+1
				return true
			})
			if t.compare(e, now, ran, runs) {
				return true
			}
		}
		if e.Ran > 0 && e.last < now.first {
			waiting = append(waiting, e)
		}
	}
	return false
}

// compare holds two readings of a meter against each other: what ran in between,
// and the time in between (a day more, for an evening may end past midnight). A
// meter that runs backwards is a problem already.
func (t *teller) compare(then, now dated, ran, runs int64) bool {
	moved, step := now.shows-then.shows, max(then.step, now.step)
	if moved < 0 {
		return true
	}
	days := now.Date.Time().Sub(then.Date.Time()).Hours()/24 + 2
	most := int64(days) * 24
	counted, err := now.Meter.Reading.Sub(then.Meter.Reading)
	key := ""
	switch {
	case err != nil: // not two times: the logbook lets none of these through
	case ran > 0 && ran*60 > moved+step+runs*quarter*60:
		key = "gap.ran-over-meter"
	case moved > most*3600+step:
		key = "gap.meter-over-days"
	}
	if key != "" {
		t.report(now.Meter.Place, key, "ran", logbook.Minutes(ran), "moved", counted, "last", then.Meter.Reading, "other", then.Meter.Place, "most", most)
	}
	return key != ""
}
