package logbook

import (
	"fmt"
	"strings"
	"testing"
)

func TestPlates(t *testing.T) {
	for _, c := range []struct{ fields, want, says string }{
		{"motor: {power: 1-1/2 hp, volts: 115/230, amps: 14/7 A, hertz: 60, phases: 1, rpm: 1725}", "motor  power=1-1/2 hp volts=115 V / 230 V amps=14 A / 7 A hertz=60 Hz phases=1 rpm=1725 rpm", ""},
		{"motor: {power: 750 W, volts: 230 V}", "motor  power=750 W volts=230 V", ""},
		{"alternator: {power: 2200 VA, volts: 120}", "alternator  power=2200 VA volts=120 V", ""},
		{"battery: [{name: left, volts: 12 V, capacity: 35 Ah, cells: 6}, {name: right, kind: lithium, volts: 36 V}]", "battery left volts=12 V capacity=35 Ah cells=6;battery right volts=36 V", ""},
		{"motor: {volts: 115 psi}", "motor ", "4:motor.volts=quantity"},
		{"motor: {volts: a lot}", "motor ", "4:motor.volts=quantity"},
		{"motor: {power: 2}", "motor ", "4:motor.power=quantity"},
		{"motor: {volts: 115/x}", "motor ", "4:motor.volts=quantity"},
		{"motor: {volts: 0/230 V}", "motor ", "4:motor.volts=plate-nothing"},
		{"motor: {phases: 0}", "motor ", "4:motor.phases=whole-number"},
		{"motor: [{volts: 12}, {volts: 24}]", "motor  volts=12 V;motor  volts=24 V", "4:motor[0]=several-no-name 4:motor[1]=several-no-name"},
		{"motor: [{name: feed, volts: 12}, {name: Feed, volts: 24}]", "motor feed volts=12 V;motor Feed volts=24 V", "4:motor[1]=several-same-name"},
	} {
		shop, problems := readAll(t, folder(t, shopFile+machineOf(c.fields)), keysOnly)
		var got []string
		for _, p := range shop.Machines[0].Plates {
			line := p.Of + " " + p.Name
			for _, f := range p.Figures {
				line += " " + f.Name + "=" + f.String()
			}
			got = append(got, line)
		}
		if says := strings.Join(said(problems, "machines/m/machine.md"), " "); strings.Join(got, ";") != strings.TrimSpace(c.want) && strings.Join(got, ";") != c.want || says != c.says {
			t.Errorf("%s:\ngot  %s (%s)\nwant %s (%s)", c.fields, strings.Join(got, ";"), says, c.want, c.says)
		}
	}
}

// Of several engines a place names one by its name; of a single one nobody needs to
// ask.
func TestEngineForAPlace(t *testing.T) {
	two := "engines: [{name: port, strokes: 2}, {name: starboard, strokes: 4}]"
	for _, c := range []struct {
		fields, where string
		strokes       int
	}{
		{"engine: {strokes: 4}", "", 4},
		{"engine: {strokes: 4}", "cylinder 2", 4},
		{two, "", 0},
		{two, "Port engine, cylinder 1", 2},
		{two, "starboard", 4},
		{"stage: keeping", "port", 0},
	} {
		shop, problems := readAll(t, folder(t, shopFile+machineOf(c.fields)), keysOnly)
		strokes := 0
		if e := shop.Machines[0].EngineFor(c.where); e != nil {
			strokes = e.Strokes
		}
		if len(problems) > 0 || strokes != c.strokes {
			t.Errorf("%s at %q: got %d, %v", c.fields, c.where, strokes, problems)
		}
	}
	var none *Plate
	if got := fmt.Sprint(none.Value("volts").IsZero()); got != "true" {
		t.Error("no plate has a value")
	}
}
