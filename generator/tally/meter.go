package tally

import (
	"math/big"
	"time"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// What can be said of the hours on a machine: one of three, after the three
// statements that a seller chooses from on an odometer (the pattern of 49 CFR
// 580, Appendices B and C; the rule itself is about motor vehicles, and no hour
// meter falls under it).
const (
	// BelievedRight: one meter, and the log says nothing against it.
	BelievedRight = "believed right"
	// Replaced: the meter was changed, and the total is the sum of the spans.
	Replaced = "replaced"
	// NotKnown: the true hours are not known.
	NotKnown = "not known"
)

// A Meter is what is known of the hours on a machine.
type Meter struct {
	State string // BelievedRight, Replaced or NotKnown
	// Total is the spans added up, in hours; only where HasTotal, which is
	// everywhere but where the hours are NotKnown.
	Total    quantity.Quantity
	HasTotal bool
	// Spans are the stretches that the log holds both ends of, in order.
	Spans []Span
}

// A Span is what one hour meter counted, from where it began to its last
// reading. The meter that a machine came with began at 0 h.
type Span struct {
	From, To quantity.Quantity
	// Read is where To stands in the log.
	Read logbook.Place
}

// A dial is one hour meter while it is on the machine.
type dial struct {
	start  quantity.Quantity // not given where nobody wrote what it began at
	last   quantity.Quantity // not given before the first reading
	read   logbook.Place     // of last
	unread bool              // last is only what it began at
	seen   bool              // the shop read it before it was in doubt
	doubt  bool              // written down as unknown, broken or none
}

// A meterLog follows a machine's hour meters through its log.
//
// Where a log can be read two ways, the one that promises a buyer less is
// taken:
//
//   - A meter that was once written down as unknown, broken or none stays in
//     doubt. A later reading of the same meter says nothing of the hours that
//     it did not count.
//   - Putting in a new meter ends the doubt only where the shop had read the
//     old one before: then it stopped under the shop's eyes, and old says where.
//     It also takes a reading of the new one to show that it counts. An old
//     meter that came in doubt leaves the total not known for good.
//   - Without old or new the spans cannot be added up.
//   - A meter that runs backwards is a problem, and the total is not known.
type meterLog struct {
	*teller
	dial
	spans    []Span
	replaced bool
	lost     bool // no later entry can bring the total back
	untried  bool // the last meter was in doubt, this one has not been read yet
}

var noHours = quantity.New(new(big.Rat), 0, quantity.Hour)

// readMeter goes through the entries in their order. In an entry that replaces
// the meter, a reading is the new one's, and unknown, broken or none is said
// of the old one.
func readMeter(m *logbook.Machine, t *teller) Meter {
	l := &meterLog{teller: t, dial: dial{start: noHours}}
	for _, e := range m.Entries {
		if e.Meter != nil && e.Meter.State != logbook.MeterRead {
			l.doubt = true
		}
		if e.MeterReplaced != nil {
			l.change(e.MeterReplaced)
		}
		switch {
		case e.Meter == nil || e.Meter.State != logbook.MeterRead || e.Meter.Reading.IsZero():
		case e.MeterReplaced != nil && l.ofTheOld(e.Meter.Reading):
			l.lost = true
			t.report(e.Meter.Place, "problem.meter-of-old", "read", e.Meter.Reading, "new", e.MeterReplaced.New)
		default:
			l.reading(e.Meter)
		}
	}
	return l.sum()
}

// reading takes a reading of the present meter.
func (l *meterLog) reading(m *logbook.Meter) {
	if below(m.Reading, l.last) {
		l.lost = true
		key := "problem.meter-backwards"
		if l.unread {
			key = "problem.meter-below-new"
		}
		l.report(m.Place, key, "read", m.Reading, "last", l.last, "other", l.read)
	}
	l.last, l.read, l.unread = m.Reading, m.Place, false
	if !l.doubt {
		l.seen, l.untried = true, false
	}
}

// change ends the present meter and begins the next.
func (l *meterLog) change(r *logbook.MeterReplaced) {
	switch {
	case r.Old.IsZero():
		l.lost = true
	case below(r.Old, l.last):
		l.lost = true
		l.report(r.In("old"), "problem.meter-old-below", "read", r.Old, "last", l.last, "other", l.read)
	}
	if !r.Old.IsZero() {
		l.last, l.read = r.Old, r.In("old")
	}
	if l.doubt && !l.seen || r.New.IsZero() {
		l.lost = true
	}
	l.end()
	l.replaced, l.untried = true, l.untried || l.doubt
	l.dial = dial{start: r.New, last: r.New, read: r.In("new"), unread: true, seen: !r.New.IsZero()}
}

// ofTheOld tells whether a reading in the entry that replaced the meter must be
// the old one's: an entry is one evening, and no meter counts more than 24 h in
// that.
func (l *meterLog) ofTheOld(q quantity.Quantity) bool {
	counted, err := q.Sub(l.start)
	return err == nil && counted.Base().Cmp(big.NewRat(int64(24*time.Hour/time.Second), 1)) > 0
}

// end sets down the span of the present meter, if the log holds both ends.
func (l *meterLog) end() {
	if !l.start.IsZero() && !l.last.IsZero() {
		l.spans = append(l.spans, Span{From: l.start, To: l.last, Read: l.read})
	}
}

// sum is what the log comes to after its last entry.
func (l *meterLog) sum() Meter {
	unknown := l.lost || l.untried || l.doubt || l.last.IsZero()
	l.end()
	m := Meter{State: NotKnown, Spans: l.spans}
	if unknown {
		return m
	}
	total := noHours
	for _, s := range l.spans {
		counted, err := s.To.Sub(s.From)
		if err == nil {
			total, err = total.Add(counted)
		}
		if err != nil {
			return m // not two times: the logbook lets none of these through
		}
	}
	m.State, m.Total, m.HasTotal = BelievedRight, total, true
	if l.replaced {
		m.State = Replaced
	}
	return m
}

// below tells whether a is less than b; false where either is not given.
func below(a, b quantity.Quantity) bool {
	order, err := a.Cmp(b)
	return err == nil && order < 0
}
