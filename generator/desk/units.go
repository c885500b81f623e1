package desk

import (
	"encoding/json"
	"slices"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// unitsOf are the units in which each thing has been measured on a machine, or is limited,
// with those that measure the same; as JSON, by the thing's name in small letters. What was
// never measured on this one is offered as on the shop's others.
func unitsOf(m *logbook.Machine, shop *logbook.Shop) string {
	all := map[string][]string{}
	if m != nil {
		units(all, m)
	}
	for _, other := range shop.Machines {
		theirs := map[string][]string{}
		units(theirs, other)
		for name, of := range theirs {
			if all[name] == nil {
				all[name] = of
			}
		}
	}
	data, err := json.Marshal(all)
	if err != nil || len(all) == 0 {
		return ""
	}
	return string(data)
}

// units puts those of one machine into all.
func units(all map[string][]string, m *logbook.Machine) {
	add := func(what string, u quantity.Unit) {
		name := logbook.Folded(what)
		if name == "" || u.Symbol() == "" || slices.Contains(all[name], u.Symbol()) {
			return
		}
		all[name] = append(all[name], quantity.Offered(u)...)
	}
	for _, e := range slices.Backward(m.Entries) { // as it was measured last
		for _, r := range e.Measured {
			low, high, _, highOpen := r.Value.Bounds()
			if highOpen {
				high = low
			}
			add(r.What, high.Unit())
		}
	}
	for _, l := range m.Limits {
		if high, ok := l.Limit.High(); ok {
			add(l.What, high.Unit())
		} else if low, ok := l.Limit.Low(); ok {
			add(l.What, low.Unit())
		}
	}
}
