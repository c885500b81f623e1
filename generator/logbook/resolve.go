package logbook

import (
	"slices"

	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// resolve holds what the files say of each other against what is there. What
// a file that could not be read may have said is given the benefit of the
// doubt: one mistake should not be told as twenty.
func (r *reader) resolve(shop *Shop) {
	r.shopPhotos(shop)
	for _, m := range shop.Machines {
		r.sheetsOf(shop, m)
		r.limits(m)
		r.checks(m, shop.Sheets)
		r.defects(m)
		r.references(m, shop.Sheets)
		r.donors(m)
	}
}

// LimitsFor are the limits that a reading is held against: the one for that very
// place, and the one for any place. The more exact one comes first, and takes nothing
// away from the other: what both allow counts.
func (m *Machine) LimitsFor(what, where string) []Limit {
	var exact, general []Limit
	for _, l := range m.Limits {
		switch {
		case !Same(l.What, what):
		case l.Where == "":
			general = append(general, l)
		case Same(l.Where, where):
			exact = append(exact, l)
		}
	}
	return append(exact, general...)
}

func (r *reader) limits(m *Machine) {
	seen := map[[2]string]Limit{}
	general := map[string]Limit{}
	for _, l := range m.Limits {
		if l.Where == "" {
			general[Folded(l.What)] = l
		}
	}
	for _, l := range m.Limits {
		if g := general[Folded(l.What)]; l.Where != "" && quantity.Apart(l.Limit, g.Limit) {
			r.report(l.In("limit"), "problem.limits-apart", "what", l.What, "limit", l.Limit, "other", g.Limit, "line", g.Line)
		}
		name := [2]string{Folded(l.What), Folded(l.Where)}
		before, twice := seen[name]
		switch {
		case l.What == "":
		case twice:
			r.report(l.Place, "problem.limit-twice", "what", l.What, "line", before.Line)
		default:
			seen[name] = l
		}
	}
	for _, e := range m.Entries {
		for _, reading := range e.Measured {
			for _, l := range m.LimitsFor(reading.What, reading.Where) {
				r.fitsLimit(reading, l)
			}
		}
	}
}

// fitsLimit reports a reading that cannot be held against its limit.
func (r *reader) fitsLimit(reading Reading, l Limit) {
	switch {
	case l.Limit.IsZero() || reading.Value.IsZero() || reading.Value.IsOpen():
	case l.Limit.Dimension() != reading.Value.Dimension() || l.Limit.OtherCurrent(reading.Value):
		r.report(reading.In("value"), "problem.limit-dimension", "read", reading.Value.String(), "limit", l.Limit, "line", l.Line)
	case twoScales(reading, l.Limit):
		r.report(reading.In("value"), "problem.limit-scale", "read", reading.Value.String(), "limit", l.Limit, "line", l.Line)
	}
}

// twoScales tells whether a reading of a temperature is good or not by whether it is one
// or a difference of two, such as a rise: a difference converts without the 32 of the
// scales. Only where both are written in one scale it makes none.
func twoScales(r Reading, limit quantity.Limit) bool {
	if r.Value.Dimension() != quantity.Temperature {
		return false
	}
	one, err := quantity.JudgeReading(r.Value, r.Gauge, limit)
	other, also := quantity.JudgeReading(r.Value.AsDifference(), r.Gauge, limit)
	return err == nil && also == nil && one != other
}

// donors holds the machines that parts came from against those that there are.
func (r *reader) donors(m *Machine) {
	for _, e := range m.Entries {
		for _, p := range e.Parts {
			if p.Core != nil && p.Core.Returned.Before(e.Date) {
				r.report(p.Core.In("returned"), "problem.core-before", "read", p.Core.Returned, "date", e.Date)
			}
			switch {
			case p.From == "" || p.From != m.Key && slices.Contains(r.folders, p.From):
			case p.From == m.Key:
				r.report(p.FromAt, "problem.from-itself", "read", p.From)
			default:
				r.noDonor(p)
			}
		}
	}
}

func (r *reader) noDonor(p Part) {
	if near := spelling.Nearest(p.From, r.folders); near != "" {
		r.report(p.FromAt, "problem.no-such-donor-near", "read", p.From, "near", near)
	} else {
		r.report(p.FromAt, "problem.no-such-donor", "read", p.From)
	}
}
