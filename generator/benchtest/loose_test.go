package benchtest

import (
	"strings"
	"testing"

	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A range is inside only if all of it is, an open reading only if all that it may
// stand for is, and "about" without a gauge never is; through the sums too.
func TestLooseReadings(t *testing.T) {
	// A maker gives such a limit as a ratio to one.
	const toOne = "limits: [{what: compression ratio, limit: \"<= 9:1\"}, {what: mix as made, limit: \"<= 51:1\"}, {what: reduction, limit: \"9.5:1 to 10:1\"}]\n"
	const insulation = "{test: insulation resistance, temperature: 30 degC, winding: random-wound, rated_volts: 240 V, power: 1 hp, resistance: %}"
	for _, tc := range []struct {
		machine, test, result, value string
		verdict                      quantity.Verdict
	}{
		{single + sixty, "{test: compression, dry: 60 to 70 psi}", "compression, cylinder 1", "60 to 70 psi", quantity.Inside},
		{single + sixty, "{test: compression, dry: 59 to 70 psi}", "compression, cylinder 1", "59 to 70 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: 61 to 70 psi, gauge: 2 psi}", "compression, cylinder 1", "61 to 70 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: 62 to 70 psi, gauge: 2 psi}", "compression, cylinder 1", "62 to 70 psi", quantity.Inside},
		{single + sixty, "{test: compression, dry: 50-59 psi}", "compression, cylinder 1", "50 to 59 psi", quantity.Outside},
		{single + sixty, "{test: compression, dry: about 90 psi}", "compression, cylinder 1", "about 90 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: about 90 psi, gauge: 5 psi}", "compression, cylinder 1", "about 90 psi", quantity.Inside},
		{single + sixty, "{test: compression, dry: about 90 psi, altitude: 5000 ft}", "compression, cylinder 1", "about 90 psi (about 104 psi to about 108 psi at sea level)", quantity.TooClose},
		{single + sixty, "{test: compression, dry: 60 to 70 psi, altitude: 5000 ft}", "compression, cylinder 1", "60 to 70 psi (69.6 psi to 84.1 psi at sea level)", quantity.Inside},
		{single + sixty, "{test: compression, dry: 58 to 70 psi, altitude: 200 ft}", "compression, cylinder 1", "58 to 70 psi (58.3 psi to 70.5 psi at sea level)", quantity.TooClose},
		{single + "limits: [{what: compression, limit: \">= 114 psi\"}]\n", "{test: compression, dry: 98.2 psi, altitude: 5000 ft}", "compression, cylinder 1", "98.2 psi (113.96 psi to 118 psi at sea level)", quantity.TooClose},
		{single + sixty, "{test: compression, dry: \"> 90 psi\"}", "compression, cylinder 1", "> 90 psi", quantity.Inside},
		{single + sixty, "{test: compression, dry: \"< 90 psi\"}", "compression, cylinder 1", "< 90 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: \"< 59 psi\"}", "compression, cylinder 1", "< 59 psi", quantity.Outside},
		{"", strings.Replace(insulation, "%", "\"> 550 Mohm\"", 1), "insulation resistance at 40 degC", "> 275 Mohm", quantity.Inside},
		{"", strings.Replace(insulation, "%", "\"> 9 Mohm\"", 1), "insulation resistance at 40 degC", "> 4.50 Mohm", quantity.TooClose},
		{"", strings.Replace(insulation, "%", "\"< 9 Mohm\"", 1), "insulation resistance at 40 degC", "< 4.50 Mohm", quantity.Outside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"< 0.1 V\"}", "voltage drop", "< 0.1 V", quantity.Inside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"< 0.1 V\", current: 100 A}", "voltage drop per 100 A", "< 0.10 V", quantity.Inside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: 0.1 V, current: \"> 100 A\"}", "voltage drop per 100 A", "< 0.10 V", quantity.Inside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: 0.1 V, current: \"< 100 A\"}", "voltage drop per 100 A", "> 0.10 V", quantity.TooClose},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"< 0.1 V\", current: \"< 100 A\"}", "voltage drop per 100 A", "about 0.10 V", quantity.TooClose},
		{single + sixty, "{test: compression, dry: \"< 60 psi\"}", "compression, cylinder 1", "< 60 psi", quantity.Outside},
		{single + sixty, "{test: compression, dry: \"<= 60 psi\"}", "compression, cylinder 1", "\u2264 60 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: \"< 60 psi\", gauge: 1 psi}", "compression, cylinder 1", "< 60 psi", quantity.TooClose},
		{single + sixty, "{test: compression, dry: \">= 60 psi\"}", "compression, cylinder 1", "\u2265 60 psi", quantity.Inside},
		{"", "{test: blade stopping time, mower: walk-behind rotary, time: \"> 3 s\"}", "blade stopping time", "> 3 s", quantity.Outside},
		{"", "{test: blade stopping time, mower: walk-behind rotary, time: \">= 3 s\"}", "blade stopping time", "\u2265 3 s", quantity.TooClose},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: \"< 60 psi\"}", "leak-down, cylinder 1", "> 25.0 %", quantity.Outside},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: \"<= 60 psi\"}", "leak-down, cylinder 1", "\u2265 25.0 %", quantity.TooClose},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: \">= 60 psi\"}", "leak-down, cylinder 1", "\u2264 25.0 %", quantity.Inside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"> 0 V\", current: 100 A}", "voltage drop per 100 A", "> 0 V", quantity.TooClose},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 320 degF]}", "head temperature spread", "22 degF", quantity.Inside},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 300 to 340 degF]}", "head temperature spread", "22 degF", quantity.TooClose},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [330 to 354 degF, 320 degF]}", "head temperature spread", "22 degF", quantity.TooClose},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 319 to 321 degF]}", "head temperature spread", "22 degF", quantity.Inside},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 319 to 321 degF], gauge: 1 degF}", "head temperature spread", "22 degF", quantity.Inside},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 318 to 322 degF], gauge: 1 degF}", "head temperature spread", "22 degF", quantity.TooClose},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 320 degF], gauge: 1.5 degF}", "head temperature spread", "22 degF", quantity.Inside},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [342 degF, 320 degF], gauge: 1.6 degF}", "head temperature spread", "22 degF", quantity.TooClose},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: about 0.1 V, current: 100 A, current_gauge: 3 %}", "voltage drop per 100 A", "about 0.10 V", quantity.TooClose},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: about 0.1 V, gauge: 0.01 V, current: 100 A, current_gauge: 3 %}", "voltage drop per 100 A", "about 0.10 V", quantity.Inside},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: about 0.1 V, current: 100 to 110 A}", "voltage drop per 100 A", "about 0.095 V", quantity.TooClose},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"< 0.1 V\", gauge: 0.01 V, current: \"< 100 A\"}", "voltage drop per 100 A", "about 0.10 V", quantity.TooClose},
		{"", "{test: voltage drop, side: ground, load: cranking, volts: \"< 0.1 V\", gauge: 0.01 V, current: about 100 A}", "voltage drop per 100 A", "< 0.10 V", quantity.TooClose},
		{single + "limits: [{what: compression, limit: <= 109 psi}]\n", "{test: compression, dry: 60 to 100 psi, gauge: 10 %}", "compression, cylinder 1", "60 to 100 psi", quantity.TooClose},
		{single + "limits: [{what: compression, limit: <= 110 psi}]\n", "{test: compression, dry: 60 to 100 psi, gauge: 10 %}", "compression, cylinder 1", "60 to 100 psi", quantity.Inside},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: 70 to 76 psi}", "leak-down, cylinder 1", "8.75 %", quantity.Inside},
		{"", "{test: leak-down, regulated: 80 psi, cylinder: 58 to 66 psi}", "leak-down, cylinder 1", "22.5 %", quantity.TooClose},
		{"", "{test: battery at rest, volts: \"< 12.65 V\"}", "state of charge", "\u2264 100 %", quantity.NotLimited},
		{"", "{test: battery at rest, volts: \"< 14 V\"}", "state of charge", "\u2264 100 %", quantity.NotLimited},
		{"", "{test: battery at rest, volts: \"> 12.65 V\"}", "state of charge", "100 %", quantity.NotLimited},
		{"", "{test: battery at rest, volts: \"> 11 V\"}", "state of charge", "\u2265 0 %", quantity.NotLimited},
		{"", "{test: coolant, glycol: \"< 60 %\", kind: propylene, coldest: -20 degF}", "freeze point", "> -60 degF (-51 degC)", quantity.TooClose},
		{"", "{test: coolant, glycol: \"<= 57.8 %\", kind: ethylene, coldest: -20 degF}", "freeze point", "\u2265 -55 degF (-48 degC)", quantity.TooClose},
		{"", "{test: bore, standard: 2.7500 in, top: [\"> 2.7585 in\", 2.7500 in], bottom: [2.7500 in, 2.7500 in]}", "bore wear", "> 0.0085 in", quantity.Outside},
		{"", "{test: bore, standard: 2.7500 in, top: [about 2.7565 in, 2.7500 in], bottom: [2.7500 in, 2.7500 in]}", "bore taper", "about 0.0065 in", quantity.NotLimited},
		{"", strings.Replace(insulation, "%", "\"> 9.999 Mohm\"", 1), "insulation resistance at 40 degC", "> 4.9995 Mohm", quantity.TooClose},
		{"", "{test: torque, torque: about 20 lbf-ft}", "torque in lbf-in", "about 240.0 lbf-in", quantity.NotLimited},
		{"", "{test: parasitic draw, current: \"> 18 mA\", amp_hours: 24}", "time until flat", "< 55 days (< 1333 h)", quantity.NotLimited},
		{toOne, "{test: compression ratio, bore: 68 mm, stroke: 54 mm, chamber: 24.5 cc}", "compression ratio", "9.005 to 1", quantity.Outside},
		{toOne, "{test: compression ratio, bore: 68 mm, stroke: 54 mm, chamber: 24.5 cc, deck: 0.3 mm}", "compression ratio", "8.66 to 1", quantity.Inside},
		{toOne, "{test: compression ratio, bore: about 68 mm, stroke: 54 mm, chamber: 24.5 cc}", "compression ratio", "about 9.005 to 1", quantity.TooClose},
		{toOne, "{test: fuel mix, fuel: 5 L, oil: 99 mL}", "mix as made", "50.5 to 1", quantity.Inside},
		{toOne, "{test: fuel mix, fuel: 5 L, oil: 99 mL, gauge: 1 mL}", "mix as made", "50.5 to 1", quantity.TooClose},
		{toOne, "{test: fuel mix, fuel: 5 L, oil: \"< 99 mL\"}", "mix as made", "> 50.5 to 1", quantity.TooClose},
		{toOne, "{test: gear reduction, driving_teeth: 12, driven_teeth: 120}", "reduction", "10 to 1", quantity.Inside},
		{toOne, "{test: gear reduction, driving_teeth: 12, driven_teeth: 121}", "reduction", "10.08 to 1", quantity.Outside},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [\"> 342 degF\", 320 degF], gauge: 1 degF}", "head temperature spread", "> 22 degF", quantity.TooClose},
		{"limits: [{what: head temperature spread, limit: <= 25 degF}]\n", "{test: head temperature, temperature: [\"< 342 degF\", 320 degF]}", "head temperature spread", "about 22 degF", quantity.TooClose},
	} {
		o := sound(t, tc.machine, tc.test)
		if r := o.result(t, tc.result); r.Value != tc.value || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s, %s; want %s, %s", tc.test, r.Value, r.Verdict, tc.value, tc.verdict)
		}
	}
}

// Each of three windings that read alike may be off by the tool: one high and two low by
// 0.05 of 2.41 ohm are (2.46 - 2.3933)/2.3933 = 2.79 % apart, by hand.
func TestUnbalanceWithinTheTool(t *testing.T) {
	for _, tc := range []struct {
		read, value, off string
		verdict          quantity.Verdict
	}{
		{"2.41 ohm, 2.41 ohm, 2.41 ohm], gauge: 0.05 ohm", "0 %", "2.8 %", quantity.TooClose},
		{"2.41 ohm, 2.41 ohm, 2.41 ohm], gauge: 0.03 ohm", "0 %", "1.7 %", quantity.Inside},
		{"2.41 ohm, 2.41 ohm, 2.41 ohm]", "0 %", "", quantity.Inside},
		{"2.55 ohm, 2.41 ohm, 2.41 ohm], gauge: 0.001 ohm", "3.8 %", "0.055 %", quantity.Outside},
		{"2.27 ohm, 2.41 ohm, 2.41 ohm], gauge: 0.001 ohm", "3.9 %", "0.056 %", quantity.Outside},
		{"about 2.41 ohm, 2.41 ohm, 2.41 ohm]", "about 0 %", "", quantity.TooClose},
		{"\"> 2.41 ohm\", 2.41 ohm, 2.41 ohm], gauge: 0.001 ohm", "about 0 %", "0.055 %", quantity.TooClose},
		{"2.36 to 2.46 ohm, 2.41 ohm, 2.41 ohm]", "0 %", "1.4 %", quantity.Inside},
	} {
		r := sound(t, "", "{test: winding resistance, temperature: 71 degF, winding: random-wound, resistance: ["+tc.read+"}").result(t, "resistance unbalance")
		if r.Value != tc.value || r.Accuracy != tc.off || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s, %s, %s; want %s, %s, %s", tc.read, r.Value, r.Accuracy, r.Verdict, tc.value, tc.off, tc.verdict)
		}
	}
}

// A clearance goes by all that the narrowest and the widest reading may be, whichever of
// them that is. The sums are by hand: a bore of 2.7510 in or, next to it, of 2.7505 to
// 2.7530 in is at its narrowest 2.7505 to 2.7510 in, and around a piston of 2.7500 in that
// leaves 0.0005 to 0.0010 in.
func TestClearancesOfLooseReadings(t *testing.T) {
	const (
		own  = "limits: [{what: piston clearance, limit: 0.0008 in to 0.0040 in, source: book}, {what: oil clearance, limit: 0.0008 in to 0.0040 in, source: book}]\n"
		bore = "bore, standard: 2.7500 in, piston: 2.7500 in, bottom: [2.7520 in, 2.7520 in], top: "
		pin  = "journal, standard: 1.0000 in, bearing: 1.0020 in, rear: [1.0000 in, 1.0000 in], front: "
	)
	for _, tc := range []struct {
		test, where, value, off string
		verdict                 quantity.Verdict
	}{
		{bore + "[2.7510 in, 2.7530 in]", "piston clearance, least", "0.0010 in", "", quantity.Inside},
		{bore + "[2.7510 in, 2.7530 in]", "piston clearance, greatest", "0.0030 in", "", quantity.Inside},
		{bore + "[2.7510 in, 2.7530 in], gauge: 0.0001 in", "piston clearance, least", "0.0010 in", "0.0002 in", quantity.Inside},
		{bore + "[2.7510 in, 2.7505 to 2.7530 in]", "piston clearance, least", "0.00075 in", "0.00025 in", quantity.TooClose},
		{bore + "[2.7510 in, 2.7509 to 2.7530 in]", "piston clearance, least", "0.00095 in", "0.00005 in", quantity.Inside},
		{bore + "[2.7510 in, 2.7505 to 2.7507 in]", "piston clearance, least", "0.0006 in", "0.0001 in", quantity.Outside},
		{bore + "[2.7510 in, \"< 2.7530 in\"]", "piston clearance, least", "\u2264 0.0010 in", "", quantity.TooClose},
		{bore + "[2.7510 in, \"< 2.7506 in\"]", "piston clearance, least", "< 0.0006 in", "", quantity.Outside},
		{bore + "[2.7510 in, \"> 2.7505 in\"]", "piston clearance, least", "0.00075 in", "0.00025 in", quantity.TooClose},
		{bore + "[2.7510 in, about 2.7530 in]", "piston clearance, least", "about 0.0010 in", "", quantity.TooClose},
		{bore + "[2.7510 in, about 2.7530 in], gauge: 0.0001 in", "piston clearance, least", "0.0010 in", "0.0002 in", quantity.Inside},
		{bore + "[2.7535 in, 2.7510 to 2.7545 in]", "piston clearance, greatest", "0.0040 in", "0.0005 in", quantity.TooClose},
		{bore + "[2.7535 in, \"> 2.7510 in\"]", "piston clearance, greatest", "\u2265 0.0035 in", "", quantity.TooClose},
		{bore + "[2.7535 in, \"> 2.7550 in\"]", "piston clearance, greatest", "> 0.0050 in", "", quantity.Outside},
		{bore + "[2.7535 in, \"< 2.7545 in\"]", "piston clearance, greatest", "0.0040 in", "0.0005 in", quantity.TooClose},
		{bore + "[\"> 2.7520 in\", \"> 2.7530 in\"]", "piston clearance, greatest", "> 0.0030 in", "", quantity.TooClose},
		{pin + "[1.0010 in, 1.0005 to 1.0017 in]", "oil clearance, least", "0.00065 in", "0.00035 in", quantity.TooClose},
		{pin + "[1.0010 in, \"> 1.0005 in\"]", "oil clearance, least", "\u2264 0.0010 in", "", quantity.TooClose},
		{pin + "[1.0010 in, 0.9970 to 1.0006 in]", "oil clearance, greatest", "0.0035 in", "0.0015 in", quantity.TooClose},
		{pin + "[1.0010 in, 1.0000 to 1.0006 in]", "oil clearance, greatest", "0.0020 in", "", quantity.Inside},
		{"journal, standard: 1.0000 in, bearing: 1.0020 in, front: [\"> 0.9995 in\", \"> 0.9990 in\"], rear: [\"> 0.9990 in\", \"> 0.9990 in\"]", "oil clearance, greatest", "< 0.0030 in", "", quantity.TooClose},
	} {
		if r := sound(t, own, "{test: "+tc.test+"}").result(t, tc.where); r.Value != tc.value || r.Accuracy != tc.off || r.Verdict != tc.verdict {
			t.Errorf("%s: %s: got %s, %q, %s; want %s, %q, %s", tc.test, tc.where, r.Value, r.Accuracy, r.Verdict, tc.value, tc.off, tc.verdict)
		}
	}
	for top, known := range map[string]bool{"2.7535 in": true, "\"> 2.7535 in\"": false, "about 2.7510 in": false, "\"< 2.7535 in\"": true, "2.7510 to 2.7535 in": true} {
		o := sound(t, own, "{test: "+bore+"[2.7510 in, "+top+"]}")
		if o.says("on the diameter to clean up") != known || o.says("which oversize cleans it up is not known") == known {
			t.Errorf("%s: %q", top, o.Says)
		}
	}
}

// Of several trials the one counts that is worst for what its form leaves open, not the
// one whose number is greatest.
func TestTheWorstOfLooseTrials(t *testing.T) {
	const brake = "limits: [{what: chain brake stopping time, limit: <= 0.15 s, source: book}]\n"
	for _, tc := range []struct {
		machine, test, value string
		verdict              quantity.Verdict
	}{
		{"", "blade stopping time, mower: walk-behind rotary, time: [2.5 s, 2.4 s]", "2.5 s", quantity.Inside},
		{"", "blade stopping time, mower: walk-behind rotary, time: [2.5 s, \"> 2 s\"]", "> 2 s", quantity.TooClose},
		{"", "blade stopping time, mower: walk-behind rotary, time: [\"> 2 s\", 2.5 s]", "> 2 s", quantity.TooClose},
		{"", "blade stopping time, mower: walk-behind rotary, time: [3.5 s, \"> 2 s\"]", "3.5 s", quantity.Outside},
		{"", "blade stopping time, mower: walk-behind rotary, time: [2.9 s, 2.0 to 3.4 s]", "2.0 to 3.4 s", quantity.TooClose},
		{"", "blade stopping time, mower: walk-behind rotary, time: [2.9 s, 2.0 to 2.4 s]", "2.9 s", quantity.Inside},
		{"", "blade stopping time, mower: walk-behind rotary, time: [2.5 s, about 2 s]", "about 2 s", quantity.TooClose},
		{"", "blade stopping time, mower: riding rotary, time: [2.5 s, \"> 2 s\"]", "2.5 s", quantity.NotLimited},
		{brake, "chain brake stopping time, time: [0.12 s, \"> 0.10 s\"]", "> 0.10 s", quantity.TooClose},
		{brake, "chain brake stopping time, time: [0.12 s, \"< 0.10 s\"]", "0.12 s", quantity.Inside},
		{"", "bore, standard: 50.00 mm, top: [50.03 mm, 50.02 mm], bottom: [50.01 mm, 50.01 mm]", "0.03 mm", quantity.Inside},
		{"", "bore, standard: 50.00 mm, top: [50.03 mm, 49.98 to 50.06 mm], bottom: [50.01 mm, 50.01 mm]", "0.02 mm", quantity.TooClose},
		{"", "bore, standard: 50.00 mm, top: [50.03 mm, 50.02 mm], bottom: [\"> 50.01 mm\", 50.01 mm]", "> 0.01 mm", quantity.TooClose},
		{"", "bore, standard: 50.00 mm, top: [50.09 mm, 49.98 to 50.06 mm], bottom: [50.01 mm, 50.01 mm]", "0.09 mm", quantity.Outside},
		{"", "journal, front: [25.000 mm, 24.995 mm], rear: [24.998 mm, 24.998 mm]", "0.005 mm", quantity.Inside},
		{"", "journal, front: [25.000 mm, 24.996 mm], rear: [24.998 mm, \"> 24.997 mm\"]", "about 0.001 mm", quantity.TooClose},
		{"", "journal, front: [25.000 mm, 24.995 mm], rear: [24.998 mm, 24.980 to 25.015 mm]", "0.0005 mm", quantity.TooClose},
	} {
		if r := sound(t, tc.machine, "{test: "+tc.test+"}").Results[0]; r.Value != tc.value || r.Verdict != tc.verdict {
			t.Errorf("%s: got %s, %s; want %s, %s", tc.test, r.Value, r.Verdict, tc.value, tc.verdict)
		}
	}
}

// How far cells, heads and cylinders are apart goes by all that their readings leave
// open, and the sentence names those that the result is of.
func TestTheFarthestOfLooseReadings(t *testing.T) {
	const own = "limits: [{what: cell imbalance, limit: <= 0.1 V, source: book}, {what: head temperature spread, limit: <= 40 degF, source: book}]\n"
	for _, tc := range []struct {
		test, result, value, says string
		verdict                   quantity.Verdict
	}{
		{"battery pack, cells: [3.31 V, 3.29 V, 3.30 V]", "cell imbalance", "0.02 V", "Cell 2 is lower than cell 1 by 0.02 V.", quantity.Inside},
		{"battery pack, cells: [3.0 to 3.6 V, 3.29 V, 3.31 V]", "cell imbalance", "0.01 V", "Cell 2 is lower than cell 1", quantity.TooClose},
		{"battery pack, cells: [3.29 V, \"> 3.25 V\", 3.31 V]", "cell imbalance", "about 0.06 V", "Cell 2 is lower than cell 3", quantity.TooClose},
		{"battery pack, cells: [3.1 V, 3.2 to 3.6 V, 3.5 V]", "cell imbalance", "0.4 V", "Cell 1 is lower than cell 3", quantity.Outside},
		{"battery pack, cells: [3.30 V, 3.30 V, 3.30 V]", "cell imbalance", "0.00 V", "All cells read alike.", quantity.Inside},
		{"head temperature, temperature: [340 degF, 320 degF, 290 to 345 degF]", "head temperature spread", "22.5 degF", "cylinder 1 is hotter than that of cylinder 3", quantity.TooClose},
		{"compression, dry: [100 psi, 92 psi, 60 to 128 psi]", "lowest below the average", "1.40 %", "", quantity.TooClose},
		{"compression, dry: [100 psi, 92 psi, 90 to 94 psi]", "lowest below the average", "2.82 %", "", quantity.Inside},
	} {
		o := sound(t, own, "{test: "+tc.test+"}")
		if r := o.result(t, tc.result); r.Value != tc.value || r.Verdict != tc.verdict || !o.says(tc.says) {
			t.Errorf("%s: got %s, %s, %q; want %s, %s", tc.test, r.Value, r.Verdict, o.Says, tc.value, tc.verdict)
		}
	}
}

// What a limit says of safety holds for an open circuit too.
func TestOpenCircuitKeepsItsLimit(t *testing.T) {
	r := sound(t, "limits: [{what: coil primary resistance, limit: 0.5 ohm to 2 ohm, source: book, safety: yes}]\n", "{test: coil resistance, primary: OL}").result(t, "coil primary resistance")
	if r.Verdict != quantity.Outside || len(r.Own) != 1 || r.Own[0].Safety != logbook.SafetyYes {
		t.Errorf("%+v", r)
	}
}

// A limit that allows nothing with the published one is told of once, however many
// trials there were.
func TestTrialsTellOfALimitOnce(t *testing.T) {
	_, problems := judge(t, "limits: [{what: blade stopping time, limit: \">= 5 s\", source: book}]\n", "{test: blade stopping time, mower: walk-behind rotary, time: [2.5 s, 2.4 s]}")
	if len(problems) != 1 {
		t.Errorf("%v", problems)
	}
}

// Where a sum takes a reading as exact that is not, nothing is called inside or
// outside.
func TestLooseReadingsThatASumTakesAsExact(t *testing.T) {
	for temperature, sure := range map[string]bool{"20 degC": true, "about 20 degC": false, "15 to 25 degC": false} {
		o := sound(t, "", "{test: insulation resistance, resistance: 500 Mohm, winding: random-wound, rated_volts: 240 V, power: 1 hp, temperature: "+temperature+"}")
		if r := o.Results[0]; (r.Verdict == quantity.Inside) != sure || o.says("was not exact") == sure {
			t.Errorf("%s: %s, %q", temperature, r.Verdict, o.Says)
		}
	}
}

// Fractions and zero go in as they are written; OL and a wrong sign are told of in
// the input's own units.
func TestFormsOfReadings(t *testing.T) {
	o := sound(t, "", "{test: displacement, bore: 2-3/4 in, stroke: 2 1/8 in, cylinders: 1}")
	if got := o.result(t, "displacement").Value; !strings.HasPrefix(got, "12.62 cu in") {
		t.Errorf("got %s", got)
	}
	for test, mend := range map[string]string{
		"{test: compression, dry: OL}":               "dry: > 62 psi",
		"{test: compression, dry: 60 to 12 V}":       "a pressure",
		"{test: compression, dry: 70 to 60 psi}":     "a pressure",
		"{test: compression, dry: about -5 psi}":     "check the sign",
		"{test: runout, tir: \"> 3 V\"}":             "0.010 in",
		"{test: battery at rest, volts: about 12 A}": "12.4 V",
	} {
		_, problems := judge(t, "", test)
		if len(problems) != 1 || !strings.Contains(problems[0].Mend, mend) {
			t.Errorf("%s: %v", test, problems)
			for _, p := range problems {
				t.Error(p.Mend)
			}
		}
	}
}

// Of several tools the one is named whose accuracy was left out, if it read
// anything.
func TestTheMissingGaugeIsNamed(t *testing.T) {
	for test, want := range map[string]string{
		"volts: 14.1 V, gauge: 0.05 V":                                                     "",
		"volts: 14.1 V, ripple: 0.1 V, gauge: 0.05 V":                                      "as it was: ripple gauge.",
		"volts: 14.1 V, ripple: 0.1 V, amps: 2 A, gauge: 0.05 V":                           "as it was: ripple gauge and amps gauge.",
		"volts: 14.1 V, ripple: 0.1 V, gauge: 0.05 V, ripple_gauge: 0.01 V":                "",
		"volts: 14.1 V, ripple: 0.1 V, ripple_gauge: 0.01 V":                               "as it was: gauge.",
		"volts: 14.1 V, ripple: 0.1 V":                                                     "so the reading itself was judged",
		"volts: 14.1 V, ripple: 0.1 V, amps: 2 A, amps_gauge: 1 %, gauge: 1 %, rpm: 5 rpm": "as it was: ripple gauge.",
	} {
		o := sound(t, "", "{test: charging, "+test+"}")
		if said := o.says("was not recorded"); said != (want != "") || !o.says(want) {
			t.Errorf("%s: %q", test, o.Says)
		}
	}
}
