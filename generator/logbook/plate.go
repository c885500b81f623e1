package logbook

import (
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"asleft/generator/quantity"
)

// What a machine can have a plate of.
const (
	PlateMotor      = "motor"
	PlateAlternator = "alternator"
	PlateBattery    = "battery"
)

// A Plate is what the plate of a motor, an alternator or a battery says.
type Plate struct {
	Place
	Of   string // PlateMotor, PlateAlternator or PlateBattery
	Name string // which one, where there are several
	Kind string // of a battery: lead-acid, lithium ...
	// Figures are its figures, in the order of plateFigures.
	Figures []Figure
}

// A Figure is one figure of a plate. A plate that can be wired in two ways has two
// values. Count is that of what has no unit: phases, cells.
type Figure struct {
	Name   string
	Values []quantity.Quantity
	Count  int
}

// PlateOf is the plate of that kind: the only one, or of several the one whose name
// stands in a place on the machine. Nil where nobody can tell.
func (m *Machine) PlateOf(of, where string) *Plate {
	var all []*Plate
	for i := range m.Plates {
		if m.Plates[i].Of == of {
			all = append(all, &m.Plates[i])
		}
	}
	if len(all) == 1 {
		return all[0]
	}
	for _, p := range all {
		if name := Folded(p.Name); name != "" && strings.Contains(Folded(where), name) {
			return p
		}
	}
	return nil
}

// String is the figure as it is told, without its name.
func (f Figure) String() string {
	if f.Count > 0 {
		return strconv.Itoa(f.Count)
	}
	var all []string
	for _, v := range f.Values {
		all = append(all, v.String())
	}
	return strings.Join(all, " / ")
}

// Value is a figure of the plate; none where it is not there, or has two values.
func (p *Plate) Value(name string) quantity.Quantity {
	if p != nil {
		for _, f := range p.Figures {
			if f.Name == name && len(f.Values) == 1 {
				return f.Values[0]
			}
		}
	}
	return quantity.Quantity{}
}

// A plateFigure is a figure that a plate can have: its dimension, None for a plain
// count, and the unit that its own name is.
type plateFigure struct {
	name string
	of   quantity.Dimension
	unit string
}

// plateFigures are what each plate can say.
var plateFigures = map[string][]plateFigure{
	PlateMotor:      {{"power", quantity.Power, ""}, {"volts", quantity.Voltage, "V"}, {"amps", quantity.Current, "A"}, {"hertz", quantity.Frequency, "Hz"}, {"phases", quantity.None, ""}, {"rpm", quantity.RotationalSpeed, "rpm"}},
	PlateAlternator: {{"power", quantity.Power, ""}, {"volts", quantity.Voltage, "V"}, {"amps", quantity.Current, "A"}, {"hertz", quantity.Frequency, "Hz"}, {"phases", quantity.None, ""}},
	PlateBattery:    {{"volts", quantity.Voltage, "V"}, {"capacity", quantity.Charge, ""}, {"cells", quantity.None, ""}},
}

// readPlates reads the plates of one kind: one as fields, or a list of them.
func readPlates(f *mapping, of string) []Plate {
	all := oneOrSeveral(f, of, func(i *mapping) Plate {
		p := Plate{Place: i.place(), Of: of, Name: i.text("name")}
		if of == PlateBattery {
			p.Kind = i.text("kind")
		}
		for _, g := range plateFigures[of] {
			figure := Figure{Name: g.name}
			if g.of == quantity.None {
				figure.Count = i.whole(g.name)
			} else {
				figure.Values = i.plated(g)
			}
			if figure.Count > 0 || len(figure.Values) > 0 {
				p.Figures = append(p.Figures, figure)
			}
		}
		return p
	})
	f.src.tellApart(of, len(all), func(i int) (string, Place) { return all[i].Name, all[i].Place })
	return all
}

// oneOrSeveral reads a field that is one mapping, or a list of them.
func oneOrSeveral[T any](f *mapping, name string, read func(*mapping) T) []T {
	if n := f.value(name); n == nil || n.Kind == yaml.SequenceNode {
		return list(f, name, read)
	}
	sub := f.sub(name)
	one := read(sub)
	sub.done()
	return []T{one}
}

// tellApart asks for the names of several of a kind, by which the rest of the log
// can tell them apart.
func (s *source) tellApart(what string, n int, named func(int) (string, Place)) {
	seen := map[string]bool{}
	for i := 0; n > 1 && i < n; i++ {
		name, at := named(i)
		switch folded := Folded(name); {
		case name == "":
			s.report(at, "problem.several-no-name", "what", what, "n", n)
		case seen[folded]:
			s.report(at, "problem.several-same-name", "what", what, "name", name)
		default:
			seen[folded] = true
		}
	}
}

// plated is a figure as a plate has it: "115 V", "115/230 V", or a bare number
// where the field's own name is the unit.
func (f *mapping) plated(g plateFigure) []quantity.Quantity {
	s := f.text(g.name)
	if s == "" {
		return nil
	}
	dimensions := []quantity.Dimension{g.of}
	if g.of == quantity.Power {
		dimensions = append(dimensions, quantity.ApparentPower)
	}
	whole, err := quantity.ParseAs(s, dimensions...)
	all := []quantity.Quantity{whole}
	if err != nil {
		all = nil
		parts := strings.Split(s, "/")
		unit := strings.TrimLeft(parts[len(parts)-1], " 0123456789.")
		if unit == "" {
			unit = g.unit
		}
		for _, part := range parts {
			number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(part), unit))
			q, wrong := quantity.ParseAs(number+" "+unit, dimensions...)
			if wrong != nil || unit == "" {
				f.unreadable(g.name, s, err)
				return nil
			}
			all = append(all, q)
		}
	}
	for _, q := range all {
		if q.Sign() <= 0 {
			f.report(g.name, "problem.plate-nothing", "read", q.String())
			return nil
		}
	}
	return all
}

// An Attachment is something that goes on the machine and comes with it.
type Attachment struct {
	Place
	Name, Maker, Model, Note string
}

// EngineFor is the engine that a place on the machine names: the only one, or of
// several the one whose name stands in it. Nil where nobody can tell.
func (m *Machine) EngineFor(where string) *Engine {
	if len(m.Engines) == 1 {
		return &m.Engines[0]
	}
	for i := range m.Engines {
		if name := Folded(m.Engines[i].Name); name != "" && strings.Contains(Folded(where), name) {
			return &m.Engines[i]
		}
	}
	return nil
}
