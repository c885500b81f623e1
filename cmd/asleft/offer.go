package main

import (
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/pen"
)

// offer is what matters for this machine now: its open defects, the points of
// its sheet that nobody has answered since the last work, what it has limits
// for, and whether it has an engine and an hour meter.
func (l *logging) offer() pen.Offer {
	o := pen.Offer{Systems: l.shop.Systems, Engine: l.hasEngine(), Meter: l.hasMeter()}
	for _, d := range l.report.Defects {
		if d.Open() {
			o.Open = append(o.Open, pen.Defect{Key: d.Key, Defect: d.Defect})
		}
	}
	for _, c := range l.report.Checks {
		if unanswered(c) {
			o.Items = append(o.Items, pen.Item{Item: c.Item, How: c.How})
		}
	}
	for _, limit := range l.machine.Limits {
		o.Readings = append(o.Readings, pen.Reading{What: limit.What, Where: limit.Where})
	}
	return o
}

// unanswered tells whether a point of the sheet has no answer that holds now.
func unanswered(c *condition.Check) bool {
	return c.Result == condition.NotChecked || c.Result == condition.Stale || c.StaleSince != ""
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
