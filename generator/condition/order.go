package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// A moment is when something was said: in which entry, and where within its
// evening. Work comes first in an evening and evidence after it, unless the
// evidence says that it is as found.
type moment struct{ entry, phase int }

// The phases of an evening.
const (
	asFound = iota
	found
	worked
	seen
)

// An order is how two moments stand to each other. Open is where the log does
// not say which was first.
type order int

const (
	before order = iota - 1
	open
	after
)

// A span is the stretch of time in which an entry was written, in minutes.
type span struct{ from, to int64 }

// spanOf is an entry's span: a minute where it has a time, else its day, or all
// of the days that its date may be.
func spanOf(e *logbook.Entry) span {
	first, last := e.Date.Span()
	if e.HasClock && e.Date.Exact() {
		at := first.Unix()/60 + int64(e.Clock)
		return span{at, at}
	}
	return span{first.Unix() / 60, last.Unix()/60 + 24*60 - 1}
}

// order tells how the first moment stands to the second.
func (j *judge) order(a, b moment) order {
	if a.entry == b.entry {
		switch {
		case a.phase < b.phase:
			return before
		case a.phase > b.phase:
			return after
		}
		return open
	}
	one, other := j.spans[a.entry], j.spans[b.entry]
	switch {
	case one.to < other.from:
		return before
	case one.from > other.to:
		return after
	}
	return open
}

// evidenceAt is the moment of evidence in an entry.
func evidenceAt(entry int, found bool) moment {
	if found {
		return moment{entry, asFound}
	}
	return moment{entry, seen}
}

// endsAll tells whether a moment certainly ends what began at others, the first of them
// first. In one entry, and the first time, it can only have begun before it ended.
func (j *judge) endsAll(at moment, began []moment) bool {
	return !slices.ContainsFunc(began, func(b moment) bool {
		o := j.order(at, b)
		return o != after && !(o == open && (b.entry == at.entry || b == began[0]))
	})
}
