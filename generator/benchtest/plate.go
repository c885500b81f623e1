package benchtest

import "asleft/generator/logbook"

// onPlate names the plate and the figure of it that an input is, so that a test
// need not repeat what the machine's own file says.
func (i input) onPlate(of, figure string) input { i.plate = [2]string{of, figure}; return i }

// facing is the machine as a test at a place on it sees it: of several engines
// the one that the place names.
func facing(m *logbook.Machine, where string) *logbook.Machine {
	if len(m.Engines) < 2 {
		return m
	}
	one := *m
	one.Engine = m.EngineFor(where)
	return &one
}

// withPlate is a test with the inputs that stand on the machine's plate, where the
// test does not give them itself. A plate of two voltages says nothing of which one
// the machine is wired for.
func withPlate(m *logbook.Machine, k *kind, t logbook.Test) logbook.Test {
	for _, in := range k.inputs {
		p := m.PlateOf(in.plate[0], t.Where)
		value := p.Value(in.plate[1])
		if in.plate[0] == "" || value.IsZero() || value.Dimension() != in.of || given(t, in.name) {
			continue
		}
		t.Inputs = append(t.Inputs[:len(t.Inputs):len(t.Inputs)], logbook.Input{Place: p.In(in.plate[1]), Name: in.name, Text: value.String()})
	}
	return t
}

func given(t logbook.Test, name string) bool {
	for _, in := range t.Inputs {
		if in.Name == name {
			return true
		}
	}
	return false
}
