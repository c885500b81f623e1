package benchtest

import (
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/quantity"
)

const (
	single = "engine: {strokes: 4, cylinders: 1}\n"
	twin   = "engine: {strokes: 4, cylinders: 2}\n"
	three  = "engine: {strokes: 4, cylinders: 3}\n"
	sixty  = "limits:\n  - {what: compression, limit: \">= 60 psi\", source: maker's sheet}\n"
)

func TestCompressionPointsCarefully(t *testing.T) {
	for _, tc := range []struct{ machine, test, says, not string }{
		{single + sixty, "{test: compression, dry: 40 psi, wet: 60 psi}", "points to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 41 psi}", "points to the valves", "rings or"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 43 psi}", "too little to point to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 46 psi, gauge: 2 psi}", "too little to point to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 80 psi, wet: 120 psi}", "inside the limits", "points to"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 60 psi, kick_release: yes}", "low readings are normal", "points to"},
		{single + sixty, "{test: compression, dry: 40 psi, kick_release: yes}", "Compression is low here: cylinder 1.", "points to"},
		{single, "{test: compression, dry: 40 psi, kick_release: yes}", "low readings are normal", "is low"},
		{single + sixty, "{test: compression, dry: 80 psi}", "was not recorded", "give or take"},
		{single + sixty, "{test: compression, dry: 80 psi, gauge: 2 psi}", "inside the limits", "was not recorded"},
		{single, "{test: compression, dry: 40 psi}", "does not tell if it is low", "points to"},
		{twin, "{test: compression, dry: [120 psi, 118 psi]}", "No cylinder is far below the others. No limit was given", "points to"},
		{three, "{test: compression, dry: [60 psi, 60 psi, 150 psi]}", "head gasket between", "All cylinders"},
		{three, "{test: compression, dry: [60 psi, 150 psi, 60 psi]}", "cylinder 1, cylinder 3", "head gasket between"},
		{three + sixty, "{test: compression, dry: [40 psi, 41 psi, 42 psi]}", "All cylinders are low", "head gasket between"},
	} {
		o := sound(t, tc.machine, tc.test)
		if !o.says(tc.says) || o.says(tc.not) {
			t.Errorf("%s: says %q; want %q and not %q", tc.test, o.Says, tc.says, tc.not)
		}
		if o.says(" is worn") || o.says("must be replaced") {
			t.Errorf("%s: says what it cannot know: %q", tc.test, o.Says)
		}
	}
}

// At 5000 ft the standard air pressure is 12.230 psia of 14.696 (U.S. Standard
// Atmosphere, 1976), so 100 psi there is 100 x 14.696/12.230 by the pressure of the
// air; by its density, 0.8617 of that at sea level (the same), it is 116.
func TestCompressionAtAltitude(t *testing.T) {
	for _, shop := range []string{"altitude: 5000 ft\n", "altitude: 1524 m\n"} {
		s, m, e := read(t, "---\nshop: S\ncurrency: USD\n"+shop+"---\n", single, "{test: compression, dry: 100 psi}")
		o, problems := Judge(s, m, e, e.Tests[0], catalog.English)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		if r := o.result(t, "compression, cylinder 1"); r.Value != "100 psi (116 psi to 120 psi at sea level)" || r.Verdict != quantity.NotLimited || r.number() != 100 {
			t.Errorf("%q: got %s, %s", shop, r.Value, r.Verdict)
		}
	}
	for limit, want := range map[string]quantity.Verdict{
		">= 115 psi": quantity.Inside, ">= 116.1 psi": quantity.TooClose, ">= 120 psi": quantity.TooClose, ">= 121 psi": quantity.Outside,
		"60 psi to 115 psi": quantity.Outside, "100 psi to 118 psi": quantity.TooClose, "100 psi to 121 psi": quantity.Inside,
	} {
		machine := single + "limits:\n  - {what: compression, limit: \"" + limit + "\", source: maker's sheet}\n"
		o := sound(t, machine, "{test: compression, dry: 100 psi, altitude: 5000 ft}")
		if r := o.result(t, "compression, cylinder 1"); r.Verdict != want || !o.says("made at 5000 ft") || o.says("Sources differ") != (want == quantity.TooClose) {
			t.Errorf("%s: got %s, %q", limit, r.Verdict, o.Says)
		}
	}
	// With a gauge the whole interval has to agree: 116 psi ± 1.2 psi reaches below.
	machine := single + "limits:\n  - {what: compression, limit: \">= 115 psi\", source: maker's sheet}\n"
	if r := sound(t, machine, "{test: compression, dry: 100 psi, altitude: 5000 ft, gauge: 1 psi}").Results[0]; r.Verdict != quantity.TooClose {
		t.Errorf("± 1 psi: %s", r.Verdict)
	}
}

// Of a machine with two engines the same cylinder of each is another place: the good
// one read last does not stand for the dead one.
func TestCompressionOfTwoEngines(t *testing.T) {
	engines := "engines:\n  - {name: port, strokes: 2, cylinders: 2}\n  - {name: starboard, strokes: 2, cylinders: 2}\n"
	for where, want := range map[string]quantity.Verdict{"port": quantity.Outside, "starboard": quantity.Inside} {
		dry := map[string]string{"port": "[105 psi, 5 psi]", "starboard": "[108 psi, 106 psi]"}[where]
		o := sound(t, engines+sixty, "{test: compression, where: "+where+", dry: "+dry+"}")
		if r := o.Results[1]; r.Where != where+", cylinder 2" || r.Verdict != want {
			t.Errorf("%s: cylinder 2 is told of %q, %s", where, r.Where, r.Verdict)
		}
	}
	one := sound(t, engines+sixty, "{test: leak-down, where: port, loss: [10 %, 40 %]}").Results[1]
	if one.Where != "port, cylinder 2" {
		t.Errorf("leak-down is told of %q", one.Where)
	}
}
