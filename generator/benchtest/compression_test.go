package benchtest

import (
	"math"
	"slices"
	"strings"
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

// The rule is that of U.S. Army TM 1-1500-204-23-1 (aircraft piston engines): a
// cylinder 20 % below the average of all needs work. The arithmetic of the
// cases is plain: of 100 and 150 psi the average is 125, and 100 lies 20 %
// below it.
func TestCompressionAgainstTheAverage(t *testing.T) {
	for _, tc := range []struct {
		dry     string
		value   string
		verdict quantity.Verdict
	}{
		{"[100 psi, 150 psi]", "20.0 %", quantity.Outside},
		{"[101 psi, 150 psi]", "19.5 %", quantity.Inside},
		{"[100.01 psi, 150 psi]", "19.995 %", quantity.Inside},           // the digit that decides shows
		{"[689.4757293168361 kPa, 150 psi]", "20.0 %", quantity.Outside}, // 100 psi is 689.475729316836133...
		{"[689.4757293168362 kPa, 150 psi]", "20.0 %", quantity.Inside},  // by less than can be shown
		{"[120 psi, 120 psi]", "0 %", quantity.Inside},
	} {
		o := sound(t, twin, "{test: compression, dry: "+tc.dry+"}")
		r := o.result(t, "lowest below the average")
		if r.Value != tc.value || r.Verdict != tc.verdict || !strings.Contains(r.Source, "TM 1-1500-204-23-1") {
			t.Errorf("%s: got %s, %s (%s); want %s, %s", tc.dry, r.Value, r.Verdict, r.Source, tc.value, tc.verdict)
		}
	}
}

func TestCompressionAgainstTheMakersLimit(t *testing.T) {
	for _, tc := range []struct {
		test    string
		verdict quantity.Verdict
		says    string
	}{
		{"{test: compression, dry: 71 psi}", quantity.Inside, "No cylinder is low"},
		{"{test: compression, dry: 47 psi}", quantity.Outside, "Compression is low here: cylinder 1."},
		{"{test: compression, dry: 61 psi, gauge: 2 psi}", quantity.TooClose, "Too close to the limit"},
		{"{test: compression, dry: 61 psi, gauge: 5 % of reading}", quantity.TooClose, "Too close to the limit"},
		{"{test: compression, dry: 490 kPa, gauge: 2 %}", quantity.Inside, "No cylinder is low"},
		{"{test: compression test, dry: 4 bar, gauge: 2 %}", quantity.Outside, "Compression is low"},
	} {
		o := sound(t, single+sixty, tc.test)
		r := o.result(t, "compression, cylinder 1")
		if r.Verdict != tc.verdict || r.Source != "maker's sheet" || r.Limit != ">= 60 psi" || !o.says(tc.says) {
			t.Errorf("%s: got %s by %s (%s), says %q", tc.test, r.Verdict, r.Limit, r.Source, o.Says)
		}
	}
}

func TestCompressionPointsCarefully(t *testing.T) {
	for _, tc := range []struct{ machine, test, says, not string }{
		{single + sixty, "{test: compression, dry: 40 psi, wet: 60 psi}", "points to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 41 psi}", "points to the valves", "rings or"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 43 psi}", "too little to point to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 46 psi, gauge: 2 psi}", "too little to point to the rings", "valves"},
		{single + sixty, "{test: compression, dry: 80 psi, wet: 120 psi}", "No cylinder is low", "points to"},
		{single + sixty, "{test: compression, dry: 40 psi, wet: 60 psi, kick_release: yes}", "low readings are normal", "points to"},
		{single + sixty, "{test: compression, dry: 40 psi, kick_release: yes}", "Compression is low here: cylinder 1.", "points to"},
		{single, "{test: compression, dry: 40 psi, kick_release: yes}", "low readings are normal", "is low"},
		{single + sixty, "{test: compression, dry: 80 psi}", "was not recorded", "give or take"},
		{single + sixty, "{test: compression, dry: 80 psi, gauge: 2 psi}", "No cylinder is low", "was not recorded"},
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

// Above its range is not low: it has a sentence of its own.
func TestCompressionAboveItsRange(t *testing.T) {
	machine := twin + "limits:\n  - {what: compression, limit: 60 psi to 100 psi, source: maker's sheet}\n"
	for _, tc := range []struct{ dry, says, not string }{
		{"[101 psi, 100 psi]", "above its limit here: cylinder 1. That points to carbon", "is low"},
		{"[60 psi, 59 psi]", "low here: cylinder 2.", "above its limit"},
		{"[60 psi, 100 psi], gauge: 1 psi", "Too close", "above its limit"},
		{"[120 psi, 120 psi], wet: [140 psi, 140 psi]", "above its limit here: cylinder 1, cylinder 2", "rings"},
		{"[120 psi, 120 psi]", "above its limit here", "All cylinders are low"},
		{"[101 psi, 103 psi], kick_release: yes", "above its limit here: cylinder 1, cylinder 2", "is low"},
	} {
		if o := sound(t, machine, "{test: compression, dry: "+tc.dry+"}"); !o.says(tc.says) || o.says(tc.not) {
			t.Errorf("%s: %q", tc.dry, o.Says)
		}
	}
}

// A two-stroke has no valves that oil could tell of.
func TestStrokesInTheWords(t *testing.T) {
	for engine, want := range map[string]struct{ says, not string }{
		"engine: {strokes: 2, cylinders: 1}\n": {"no other valves up there", "the valves or"},
		"engine: {strokes: 4, cylinders: 1}\n": {"points to the valves or the head gasket", "two-stroke"},
		"":                                     {"valves on a four-stroke", "no other valves"},
	} {
		if o := sound(t, engine+sixty, "{test: compression, dry: 40 psi, wet: 41 psi}"); !o.says(want.says) || o.says(want.not) {
			t.Errorf("%q: %q", engine, o.Says)
		}
	}
	for engine, says := range map[string]string{"2": "has no valve there", "4": "an exhaust valve"} {
		if o := sound(t, "engine: {strokes: "+engine+", cylinders: 1}\n", "{test: leak-down, loss: 30 %, heard: exhaust}"); !o.says(says) {
			t.Errorf("%s strokes: %q", engine, o.Says)
		}
	}
	two := "engine: {strokes: 2, cylinders: 2}\n"
	if o := sound(t, two+sixty, "{test: compression, dry: [40 psi, 41 psi]}"); !o.says("All cylinders are low") || o.says("valve") {
		t.Errorf("%q", o.Says)
	}
}

func TestCompressionDrawing(t *testing.T) {
	o := sound(t, twin+sixty, "{test: compression, dry: [62 psi, 448.16 kPa], gauge: 2 psi}")
	d := o.Drawing
	if d == nil || d.Shape != Bars || d.Unit != "psi" || len(d.Points) != 2 {
		t.Fatalf("%+v", d)
	}
	for i, want := range []Point{
		{"compression, cylinder 1", "62 psi", []string{"60 psi or more"}, 62, 60, 64, Band{Low: 60, HasLow: true}},
		{"compression, cylinder 2", "448.16 kPa", []string{"60 psi or more"}, 65, 63, 67, Band{Low: 60, HasLow: true}},
	} {
		got := d.Points[i]
		if got.Label != want.Label || got.Shown != want.Shown || !slices.Equal(got.Limits, want.Limits) || got.Band != want.Band || math.Abs(got.Value-want.Value)+math.Abs(got.Low-want.Low)+math.Abs(got.High-want.High) > 0.01 {
			t.Errorf("got %+v, want %+v", got, want)
		}
	}
	for _, fact := range []string{"cylinder 1: 62 psi", "cylinder 2: 448.16 kPa", "give or take 2 psi", "60 psi or more"} {
		if !strings.Contains(d.Alt, fact) {
			t.Errorf("the text %q does not say %q", d.Alt, fact)
		}
	}
}

// A cylinder with a hole in its piston reads nothing, and that is a reading.
func TestCompressionOfNothing(t *testing.T) {
	o := sound(t, twin+sixty, "{test: compression, dry: [105 psi, 0 psi], wet: [110 psi, 0 psi], gauge: 3 psi, altitude: 5000 ft}")
	if r := o.result(t, "compression, cylinder 2"); r.Value != "0 psi" || r.Verdict != quantity.Outside {
		t.Errorf("got %s, %s", r.Value, r.Verdict)
	}
	if !o.says("low here: cylinder 2") {
		t.Errorf("says %q", o.Says)
	}
	if o := sound(t, twin+sixty, "{test: compression, dry: [0 psi, 0 psi], wet: [20 psi, 0 psi]}"); !o.says("low here: cylinder 1, cylinder 2") {
		t.Errorf("both: says %q", o.Says)
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
