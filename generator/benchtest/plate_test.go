package benchtest

import (
	"fmt"
	"testing"

	"asleft/generator/quantity"
)

// What stands on the machine's plate need not stand in the test; what the test says
// itself goes before it, and a plate with two voltages says nothing.
func TestInputsFromThePlate(t *testing.T) {
	const test = "{test: generator output, volts: 240 V, hertz: 61 Hz, loaded_volts: 230 V, loaded_hertz: 60 Hz, load: 1900 W}"
	byHand := sound(t, plainMachine, test[:len(test)-1]+", rated_volts: 240 V, rated_hertz: 60 Hz, rated_load: 2000 W}")
	plate := sound(t, "alternator: {power: 2000 W, volts: 240 V, hertz: 60 Hz}\n", test)
	if fmt.Sprint(plate.Says) != fmt.Sprint(byHand.Says) || len(plate.Results) != len(byHand.Results) {
		t.Errorf("by the plate %q, by hand %q", plate.Says, byHand.Says)
	}
	if o := sound(t, "alternator: {power: 2000 W, volts: 120/240 V, hertz: 60 Hz}\n", test); !o.says("held against no plate") {
		t.Errorf("two voltages: %q", o.Says)
	}
	if o := sound(t, "alternator: {volts: 120 V, hertz: 60 Hz}\n", test[:len(test)-1]+", rated_volts: 240 V}"); o.says("no plate") || o.result(t, "voltage, no load").Verdict != byHand.result(t, "voltage, no load").Verdict {
		t.Errorf("the test's own: %q", o.Says)
	}
	if _, wrong := judge(t, "alternator: [{name: port, hertz: 60 Hz}, {name: starboard, hertz: 50 Hz}]\n", test); len(wrong) != 1 {
		t.Errorf("two plates, and nobody says which: %v", wrong)
	}
	if _, wrong := judge(t, "alternator: [{name: port, hertz: 60 Hz}, {name: starboard, hertz: 50 Hz}]\n", test[:len(test)-1]+", where: starboard set}"); len(wrong) != 0 {
		t.Errorf("two plates: %v", wrong)
	}
}

// The log gives the power of a motor where its plate does. A small one is held to the
// limit all the same, unless the test says so itself.
func TestPowerOnThePlate(t *testing.T) {
	const test = "{test: insulation resistance, resistance: 3 Mohm, temperature: 40 degC, winding: random-wound, rated_volts: 240 V}"
	for machine, want := range map[string]string{
		plainMachine:               "does not give the rated power",
		"motor: {power: 450 W}\n":  "By its plate this one has 450 W.",
		"motor: {power: 1.5 hp}\n": "",
	} {
		o := sound(t, machine, test)
		if o.result(t, "insulation resistance at 40 degC").Verdict != quantity.Outside {
			t.Errorf("%q: not outside", machine)
		}
		for _, text := range []string{"does not give the rated power", "By its plate this one has 450 W."} {
			if o.says(text) != (text == want) {
				t.Errorf("%q: %q, want %q: %q", machine, text, want, o.Says)
			}
		}
	}
}

// Of several engines a test is of the one that its place names.
func TestTestsOfSeveralEngines(t *testing.T) {
	const two = "engines: [{name: port, strokes: 2, cylinders: 1}, {name: starboard, strokes: 4, cylinders: 1}]\n"
	for where, valves := range map[string]bool{"port": false, "starboard engine": true} {
		o := sound(t, two, "{test: compression, where: "+where+", dry: 40 psi, wet: 41 psi}")
		if o.says("points to the valves") != valves {
			t.Errorf("%s: %q", where, o.Says)
		}
	}
}
