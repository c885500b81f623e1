package tally

import (
	"time"

	"asleft/generator/logbook"
)

// A turn is a moment at which the shop's clocks were set forward or back: what
// they showed before and after, in minutes since 1970 began on those clocks.
type turn struct{ before, after int64 }

func (t turn) forward() bool { return t.after > t.before }

// skips tells whether no clock showed that time.
func (t turn) skips(at int64) bool { return t.before < at && at < t.after }

// twice tells whether the clocks showed that time twice.
func (t turn) twice(at int64) bool { return t.after <= at && at < t.before }

// turnOf is the first turn of the clocks that from or to can lie in, or between.
func turnOf(zone *time.Location, from, to int64) (turn, bool) {
	if zone == nil || zone == time.UTC {
		return turn{}, false
	}
	// No clock is more than 14 hours off UTC, so this is before from on any.
	at := time.Unix((from-day)*60, 0).In(zone)
	for {
		_, next := at.ZoneBounds()
		if next.IsZero() {
			return turn{}, false
		}
		t := turn{shown(next.Add(-time.Second)) + 1, shown(next)}
		if min(t.before, t.after) > to {
			return turn{}, false
		}
		if t.before != t.after && max(t.before, t.after) >= from {
			return t, true
		}
		at = next
	}
}

// shown is what the clock shows, in whole minutes since 1970 began on it.
func shown(t time.Time) int64 {
	_, offset := t.Zone()
	return floorDiv(t.Unix()+int64(offset), 60)
}

// shownTwice tells whether both times lie in an hour that the clocks showed twice.
func shownTwice(zone *time.Location, from, to int64) bool {
	t, ok := turnOf(zone, from, to)
	return ok && t.twice(from) && t.twice(to-1)
}

// checkClocks tells of a session that the clocks were set forward or back in. What
// counts stays what the log says: whether the clock on the wall was set, nobody
// knows but the shop.
func checkClocks(s stretch, zone *time.Location, t *teller) {
	if !s.Timed {
		return
	}
	turn, ok := turnOf(zone, s.start, s.end)
	if !ok {
		return
	}
	length, off := logbook.Minutes(s.end-s.start), logbook.Minutes(turn.before-turn.after)
	say := func(at logbook.Place, key string, read logbook.Clock) {
		t.report(at, key, "before", clockOf(turn.before), "after", clockOf(turn.after), "date", dateOf(floorDiv(turn.before, day)),
			"from", s.From, "to", s.To, "read", read, "length", length, "true", length+off, "work", max(s.Work+off, 0))
	}
	switch {
	case turn.forward() && turn.skips(s.start):
		say(s.In("from"), "gap.clocks-skipped", s.From)
	case turn.forward() && turn.skips(s.end):
		say(s.In("to"), "gap.clocks-skipped", s.To)
	case turn.forward() && s.start < turn.before && turn.after <= s.end:
		say(s.Place, "gap.clocks-forward", 0)
	case turn.forward():
	case s.start < turn.after && turn.before < s.end:
		say(s.Place, "gap.clocks-back", 0)
	case turn.twice(s.start) && turn.before < s.end:
		say(s.In("from"), "gap.clocks-twice", s.From)
	case turn.twice(s.end) && s.start < turn.after:
		say(s.In("to"), "gap.clocks-twice", s.To)
	}
}

func clockOf(at int64) logbook.Clock { return logbook.Clock(at - floorDiv(at, day)*day) }
