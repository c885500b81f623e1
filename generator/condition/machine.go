package condition

import (
	"slices"

	"asleft/generator/logbook"
)

// list makes a subject of the machine's list of points: whether there is one for
// its kind, and what the shop left out of it.
func (j *judge) list() {
	s := j.subject(KindList, j.words.Say("list.name"))
	s.Safety, s.Standing = logbook.SafetyYes, InOrder
	if !j.machine.Listed {
		s.Name = j.words.Say("list.name-none")
		s.Standing, s.Absent = Missing, &Absence{Of: NoList}
	}
	for _, l := range j.machine.LeaveOut {
		ev := j.itself
		ev.File = l.File
		s.tell(Event{Entry: ev, What: LeftOut, Said: l.Item + ": " + l.Why})
	}
	s.settle()
}

// meter makes a subject of the hour meter.
func (j *judge) meter() {
	s := j.subject(KindMeter, j.words.Say("meter.name"))
	s.Safety, s.Standing = logbook.SafetyNo, NotChecked
	none := false
	for i, e := range j.machine.Entries {
		if m := e.Meter; m != nil {
			said := m.State
			if m.State == logbook.MeterRead {
				said = m.Reading.String()
			}
			s.tell(Event{Entry: j.evidence(i), What: MeterRead, Said: said, By: e.By})
			none = m.State == logbook.MeterNone
		}
		if r := e.MeterReplaced; r != nil {
			s.tell(Event{Entry: j.evidence(i), What: MeterChanged, Said: r.Old.String() + " / " + r.New.String(), By: e.By})
		}
	}
	switch {
	case j.machine.MeterTrue == logbook.MeterIsWrong || j.broken():
		s.Standing = Wrong
	case j.machine.MeterTrue == logbook.MeterIsTrue && j.report.Count.Meter.HasTotal: // else there is no figure that is right
		s.Standing = InOrder
	case none:
		s.Standing = DoesNotApply
	case j.machine.MeterTrue == "":
		s.Absent = &Absence{Of: NoStatement}
	}
	if t := j.machine.MeterTrue; t != "" {
		s.tell(Event{Entry: j.itself, What: ShopSays, Said: t})
	}
	s.settle()
}

// byOdometer tells whether the machine goes by an odometer, and the log has no hour
// meter of it.
func (j *judge) byOdometer() bool {
	o := j.report.Count.Odometer
	had := o.Said && (!o.Before.IsZero() || o.Entry.Odometer.State != logbook.MeterNone)
	return had && j.machine.MeterTrue == "" &&
		!slices.ContainsFunc(j.machine.Entries, func(e *logbook.Entry) bool { return e.Meter != nil || e.MeterReplaced != nil })
}

// lastRead are what the meter read last, each meter's where it was replaced, and when;
// nothing where it was never read.
func (j *judge) lastRead() (read []string, when logbook.Date) {
	last := ""
	for _, e := range j.machine.Entries {
		if m := e.Meter; m != nil && m.State == logbook.MeterRead {
			last, when = m.Reading.String(), e.Date
		}
		if r := e.MeterReplaced; r != nil {
			if !r.Old.IsZero() {
				last, when = r.Old.String(), e.Date
			}
			if last != "" {
				read = append(read, last)
			}
			last = ""
		}
	}
	if last != "" {
		read = append(read, last)
	}
	return read, when
}

// broken tells whether the shop last wrote that the meter is broken.
func (j *judge) broken() bool {
	broken := false
	for _, e := range j.machine.Entries {
		if e.Meter != nil {
			broken = e.Meter.State == logbook.MeterBroken
		}
		broken = broken && e.MeterReplaced == nil
	}
	return broken
}
