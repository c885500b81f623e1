package tally

import (
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A Care is one thing that is serviced, such as the engine oil, with each time
// that it was.
type Care struct {
	// Done are the services, in the order of the log; one at least. What is told of
	// a care as it stands is that of the last.
	Done []Done
	// Due is when the next one is.
	Due Due
}

// A Done is one service and the entry that it stands in.
type Done struct {
	logbook.Service
	Entry *logbook.Entry
}

// Last is the service done last.
func (c *Care) Last() Done { return c.Done[len(c.Done)-1] }

// Every is how often it is due, as it was written last; "" where nobody wrote it.
func (c *Care) Every() string { return c.interval().Text }

func (c *Care) interval() logbook.Interval {
	for i := len(c.Done) - 1; i >= 0; i-- {
		if every := c.Done[i].Service.Every; every.Text != "" {
			return every
		}
	}
	return logbook.Interval{}
}

// A Due is when a service is due next: at a reading of the hour meter, at one of
// the odometer, or by a date, of which the first that comes counts. What cannot be
// worked out is not given. Each is told as passed where the log itself shows that
// it was: by its last reading, or by the date of its last entry.
type Due struct {
	Meter, Odometer                         quantity.Quantity
	Date                                    logbook.Date
	MeterPassed, OdometerPassed, DatePassed bool
	LastMeter, LastOdometer                 quantity.Quantity
}

// Known tells whether any of it can be worked out.
func (d Due) Known() bool { return !d.Meter.IsZero() || !d.Odometer.IsZero() || d.Date != "" }

// Passed tells whether the log shows that it is past.
func (d Due) Passed() bool { return d.MeterPassed || d.OdometerPassed || d.DatePassed }

// An upkeep follows what is serviced through a log. The readings that a service is
// counted from are the last that were written before it or in its own entry: the
// true one may be later, never earlier, so that nothing is due later than it is
// told.
type upkeep struct {
	cares           []*Care
	meter, odometer quantity.Quantity // not given where nobody knows
}

// upkeepOf is all that was serviced, in the order in which it was first.
func upkeepOf(m *logbook.Machine) []Care {
	u := &upkeep{}
	var last logbook.Date
	for _, e := range m.Entries {
		u.read(e)
		for _, s := range e.Service {
			u.serviced(e, s)
		}
		last = logbook.Later(last, e.Date)
	}
	var all []Care
	for _, c := range u.cares {
		c.Due.DatePassed = c.Due.Date.Before(last)
		c.Due.MeterPassed, c.Due.LastMeter = below(c.Due.Meter, u.meter), u.meter
		c.Due.OdometerPassed, c.Due.LastOdometer = below(c.Due.Odometer, u.odometer), u.odometer
		all = append(all, *c)
	}
	return all
}

// read takes in the hour meter and the odometer of an entry. A new meter counts on
// from where the old one stopped, where both ends are written down; else nobody
// knows any more when what goes by it is due.
func (u *upkeep) read(e *logbook.Entry) {
	if r := e.MeterReplaced; r != nil {
		for _, c := range u.cares {
			c.Due.Meter = carried(c.Due.Meter, r.Old, r.New)
		}
		u.meter = r.New
	}
	u.meter = u.shown(e.Meter, u.meter, func(d *Due) *quantity.Quantity { return &d.Meter })
	u.odometer = u.shown(e.Odometer, u.odometer, func(d *Due) *quantity.Quantity { return &d.Odometer })
}

// shown is what a meter shows by now. Once it cannot be read, nobody knows any more
// when what goes by it is due.
func (u *upkeep) shown(m *logbook.Meter, before quantity.Quantity, due func(*Due) *quantity.Quantity) quantity.Quantity {
	switch {
	case m == nil:
		return before
	case m.State != logbook.MeterRead:
		for _, c := range u.cares {
			*due(&c.Due) = quantity.Quantity{}
		}
	}
	return m.Reading
}

// carried is a reading of an old meter as the new one will show it.
func carried(due, old, now quantity.Quantity) quantity.Quantity {
	if due.IsZero() || old.IsZero() || now.IsZero() {
		return quantity.Quantity{}
	}
	left, err := due.Sub(old)
	if err != nil {
		return quantity.Quantity{}
	}
	return after(now, left)
}

// after is a reading so much later, with no more decimals than the two were written to;
// not given where either is not.
func after(reading, by quantity.Quantity) quantity.Quantity {
	if reading.IsZero() || by.IsZero() {
		return quantity.Quantity{}
	}
	sum, err := reading.Add(by)
	same, also := by.In(reading.Unit())
	if err != nil || also != nil {
		return quantity.Quantity{}
	}
	return sum.WithPlaces(max(reading.Places(), same.Places()))
}

func (u *upkeep) serviced(e *logbook.Entry, s logbook.Service) {
	c := u.care(s)
	c.Done = append(c.Done, Done{s, e})
	every := c.interval() // said once is enough
	c.Due = Due{Meter: after(u.meter, every.Running), Odometer: after(u.odometer, every.Way)}
	if every.Months+every.Days > 0 {
		c.Due.Date = e.Date.After(every.Months, every.Days)
	}
}

// care is the care that a service is of: what is called the same in one system.
func (u *upkeep) care(s logbook.Service) *Care {
	for _, c := range u.cares {
		if last := c.Last(); logbook.Same(last.What, s.What) && last.System == s.System {
			return c
		}
	}
	u.cares = append(u.cares, &Care{})
	return u.cares[len(u.cares)-1]
}
