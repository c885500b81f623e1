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
// of time.
type dated struct {
	*logbook.Entry
	at          int64 // minutes since 1970 began
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
	d.at = e.Date.Time().Unix()/60 + int64(e.Clock)
	if d.reads {
		q := e.Meter.Reading
		d.shows = seconds(q.Base())
		ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(q.Places())), nil)
		d.step = seconds(quantity.New(new(big.Rat).SetFrac(big.NewInt(1), ten), q.Places(), q.Unit()).Base())
	}
	return d, true
}

// seconds are whole, rounded down: no meter shows as little as one. What no meter
// can show, which a log can hold all the same, is cut to what can be reckoned with.
func seconds(r *big.Rat) int64 {
	whole := new(big.Int).Quo(r.Num(), r.Denom())
	if most := big.NewInt(1 << 48); whole.CmpAbs(most) > 0 {
		whole = most
	}
	return whole.Int64()
}

// A mark is a reading to hold later ones against: the run of the engine up to and
// with its evening, in seconds, and in how many entries.
type mark struct {
	dated
	ran, runs int64
}

// over is by how much the log's run may be ahead of the meter, after allowing for
// what each entry may be off by.
func (m mark) over() int64 { return m.ran - m.runs*quarter*60 - m.shows }

// checkDial holds each reading of a meter against the one before which the log's run
// is the least ahead of, so that all of a run that the meter did not count is told,
// and told once.
func (t *teller) checkDial(one []dated) {
	c := dialCheck{teller: t}
	for final := len(one) - 1; final >= 0 && c.final == nil; final-- {
		if one[final].reads {
			c.final = one[final].Entry
		}
	}
	for len(one) > 0 {
		n := 1
		for n < len(one) && floorDiv(one[n].at, day) == floorDiv(one[0].at, day) {
			n++
		}
		c.oneDay(one[:n])
		one = one[n:]
	}
}

// A dialCheck goes along the readings of a meter.
type dialCheck struct {
	*teller
	final       *logbook.Entry // with the last reading
	ran, runs   int64          // so far
	least, last *mark          // among the readings so far
}

// oneDay holds the readings of one day. Where nobody can tell which of its entries
// came first, its only reading is after no run of that day for what came before it,
// and after all of them for what comes; of two nobody knows anything.
func (c *dialCheck) oneDay(entries []dated) {
	ordered, readings := true, 0
	for n, e := range entries {
		ordered = ordered && (len(entries) == 1 || e.HasClock && (n == 0 || entries[n-1].at < e.at))
		if e.reads {
			readings++
		}
	}
	before := mark{ran: c.ran, runs: c.runs}
	for _, e := range entries {
		if ordered {
			before.ran, before.runs = c.ran, c.runs
		}
		if e.Ran > 0 {
			c.ran, c.runs = c.ran+int64(e.Ran)*60, c.runs+1
		}
		if e.reads && (ordered || readings == 1) {
			before.dated = e
			c.hold(before)
			if ordered {
				c.keep(e)
			}
		}
	}
	if !ordered && readings == 1 {
		c.keep(before.dated)
	}
}

// hold holds a reading against those before it. The run of its own evening counts
// as before it only where it is the meter's last.
func (c *dialCheck) hold(now mark) {
	if now.Entry == c.final && now.Ran > 0 {
		now.ran, now.runs = now.ran+int64(now.Ran)*60, now.runs+1
	}
	if c.last != nil && c.compare(c.least, c.last, &now) {
		c.least = nil
	}
}

// keep keeps a reading to hold later ones against, as after all that ran so far.
func (c *dialCheck) keep(e dated) {
	c.last = &mark{e, c.ran, c.runs}
	if c.least == nil || c.last.over() <= c.least.over() {
		c.least = c.last
	}
}

// compare holds a reading against an earlier one: what ran in between, and the time
// in between (a day more, for an evening may end past midnight). After it told
// something, or where the meter runs backwards, which is a problem already, it
// begins anew.
func (t *teller) compare(least, last, now *mark) bool {
	most := (floorDiv(now.at, day) - floorDiv(last.at, day) + 2) * 24
	then, key := last, ""
	switch {
	case now.shows < last.shows:
		return true
	case now.over() > least.over()+max(now.step, least.step) && now.ran > least.ran:
		then, key = least, "gap.ran-over-meter"
	case now.shows-last.shows > most*3600+max(now.step, last.step):
		key = "gap.meter-over-days"
	default:
		return false
	}
	moved, err := now.Meter.Reading.Sub(then.Meter.Reading)
	if err == nil { // two times: the logbook lets nothing else through
		t.report(now.Meter.Place, key, "ran", logbook.Minutes((now.ran-then.ran)/60), "moved", moved,
			"last", then.Meter.Reading, "other", then.Meter.Place, "most", most)
	}
	return true
}
