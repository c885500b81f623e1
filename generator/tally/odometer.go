package tally

import (
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// An Odometer is what the log says last of the way that a machine went. Nothing
// makes it more than what was read: whether it is right, nobody asks.
type Odometer struct {
	Said    bool
	Reading quantity.Quantity // not given where the shop says that it is broken, not known or not there
	Before  quantity.Quantity // what it read before that; not given where it was never read
	Day     logbook.Date      // of Before
	Entry   *logbook.Entry    // that says so
}

// readOdometer goes through the entries in their order. One that runs backwards is
// a problem.
func readOdometer(m *logbook.Machine, t *teller) Odometer {
	var o Odometer
	var at logbook.Place
	for _, e := range m.Entries {
		switch read := e.Odometer; {
		case read == nil:
		case below(read.Reading, o.Before): // also where it could not be read between
			t.report(read.Place, "problem.odometer-backwards", "read", read.Reading, "last", o.Before, "other", at)
		default:
			o.Said, o.Reading, o.Entry = true, read.Reading, e
			if !read.Reading.IsZero() {
				o.Before, o.Day, at = read.Reading, e.Date, read.Place
			}
		}
	}
	return o
}
