package main

import (
	"slices"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// offer is what matters for this machine now: its open defects, the points of
// its sheet that nobody has answered since the last work, what it has limits
// for, and whether it has an engine and an hour meter.
func (l *logging) offer() entry.Offer {
	o := entry.Offer{Systems: l.shop.Systems, Engine: l.hasEngine(), Meter: l.hasMeter(), Odometer: l.hasOdometer()}
	for _, s := range l.report.Subjects {
		switch {
		case s.Kind == condition.KindDefect && (s.Standing == condition.Wrong || s.Standing == condition.WorkedAround):
			o.Open = append(o.Open, entry.Defect{Key: s.Key, Defect: s.Name})
		case s.Kind == condition.KindChange && s.Standing == condition.Changed && s.Key != "":
			o.Changes = append(o.Changes, entry.Change{Key: s.Key, What: s.Name})
		case s.Unanswered():
			o.Items = append(o.Items, entry.Item{Item: s.Name, How: howOf(s)})
		}
	}
	for _, limit := range l.machine.Limits {
		o.Readings = append(o.Readings, entry.Reading{What: limit.What, Where: limit.Where})
	}
	return o
}

// howOf is how to look at a point; empty for one that no sheet has.
func howOf(s *condition.Subject) string {
	if s.Item == nil {
		return ""
	}
	return s.Item.How
}

// knowsSystem tells whether the log or the program knows what a reading of that
// name belongs to.
func (l *logging) knowsSystem(what string) bool {
	if _, _, known := benchtest.Measurand(what); known {
		return true
	}
	for _, limit := range l.machine.Limits {
		if limit.System != "" && logbook.Same(limit.What, what) {
			return true
		}
	}
	for _, e := range l.machine.Entries {
		for _, m := range e.Measured {
			if m.System != "" && logbook.Same(m.What, what) {
				return true
			}
		}
	}
	return false
}

func (l *logging) hasEngine() bool {
	if l.machine.Engine != nil || l.machine.Sheet == nil {
		return true
	}
	for _, i := range l.machine.Sheet.Items {
		if i.System == "engine" {
			return true
		}
	}
	return false
}

// hasOdometer tells whether an entry has ever read an odometer.
func (l *logging) hasOdometer() bool {
	return slices.ContainsFunc(l.machine.Entries, func(e *logbook.Entry) bool { return e.Odometer != nil && e.Odometer.State == logbook.MeterRead })
}

// hasMeter tells whether an entry has ever read an hour meter.
func (l *logging) hasMeter() bool {
	for _, e := range l.machine.Entries {
		if e.Meter != nil && e.Meter.State == logbook.MeterRead || e.MeterReplaced != nil {
			return true
		}
	}
	return false
}

// lastBy is who wrote the last entry that says so.
func (l *logging) lastBy() string {
	for n := len(l.machine.Entries) - 1; n >= 0; n-- {
		if by := l.machine.Entries[n].By; by != "" {
			return by
		}
	}
	return ""
}
