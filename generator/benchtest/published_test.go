package benchtest

import (
	"math"
	"testing"
)

// TestPublished holds results against published numbers, or against sums by hand, to
// the digits of their source. (TestOutcomes has the tests at both sides of each limit.)
func TestPublished(t *testing.T) {
	type numbers map[string]float64
	const insulated, at40 = "winding: random-wound, rated_volts: 240 V", "insulation resistance at 40 degC"
	const knot = 1852 / 1609.344 // in miles
	for _, tc := range []struct {
		test   string
		want   numbers
		within float64
	}{
		// Power factor is real over apparent power: MIL-STD-704F, 3.22; kW = V A pf/1000,
		// and the root of three for three phases.
		{"load share, volts: 240 V, amps: 10 A, watts: 1920 W, rated_load: 2400 W", numbers{"apparent power": 2400, "power factor": 80, "share of the rated load": 80}, 1e-9},
		{"load share, volts: 480 V, amps: 10 A, watts: 4 kW, phases: 3", numbers{"apparent power": 480 * 10 * math.Sqrt(3), "power factor": 100 * 4000 / (4800 * math.Sqrt(3))}, 1e-9},

		// The factors of a table of copper, to 25 degC: 1/1.058 at 40 degC, 1/1.193 at 75
		// and 1/1.289 at 100, printed to three decimals.
		{"winding resistance, resistance: 10 ohm, temperature: 25 degC", numbers{"winding resistance, winding 1": 10}, 1e-9},
		{"winding resistance, resistance: 10 ohm, temperature: 104 degF", numbers{"winding resistance, winding 1": 10 / 1.058}, 5e-4},
		{"winding resistance, resistance: 10 ohm, temperature: 75 degC", numbers{"winding resistance, winding 1": 10 / 1.193}, 5e-4},
		{"winding resistance, resistance: 10 ohm, temperature: 100 degC", numbers{"winding resistance, winding 1": 10 / 1.289}, 5e-4},

		// Of 3600 rpm 3450 is 4.17 %, and so is 1725 of 1800 (textbook answers).
		{"motor slip, rpm: 3450 rpm, hertz: 60 Hz, poles: 2", numbers{"motor slip": 4.17}, 1e-3},
		{"motor slip, rpm: 1725 rpm, hertz: 60 Hz, poles: 4", numbers{"motor slip": 4.17}, 1e-3},

		// NEMA MG 1, read at second hand: 462, 463 and 455 V are 1.1 % apart (mean 460),
		// 203, 210 and 212 V 2.5 % (2.56 without rounding).
		{"voltage unbalance, volts: [462 V, 463 V, 455 V]", numbers{"voltage unbalance": 1.087}, 0.001},
		{"voltage unbalance, volts: [203 V, 210 V, 212 V]", numbers{"voltage unbalance": 2.56}, 0.001},

		// A trade course, read at second hand: at 60 Hz 8.3 A and 295.4 V are 74.5 uF.
		{"capacitor, amps: 8.3 A, volts: 295.4 V, hertz: 60 Hz", numbers{"capacitor": 74.5}, 0.001},
		{"capacitor, amps: 1 A, volts: 1 V, hertz: 50 Hz", numbers{"capacitor": 3183.1}, 1e-5},

		// 10 AWG is 0.9989 ohm for 1000 ft (HyperPhysics, from Floyd): 50 ft each way at
		// 20 A lose 2.00 V.
		{"cable size, size: 10 AWG, length: 50 ft, amps: 20 A, volts: 120 V", numbers{"cable drop by size": 1.9978, "share of the voltage lost": 1.66483}, 1e-5},
		{"cable size, size: 10 AWG, length: 15.24 m, amps: 20 A, volts: 12 V", numbers{"share of the voltage lost": 16.6483}, 1e-5},

		// A maker's sheet has 1.250 at 20 degF as 1.226 and 1.235 at 100 degF as 1.243, by
		// the rule of TM 5-4210-230-14&P-1; in hundredths.
		{"hydrometer, cells: 1.250, temperature: 20 degF", numbers{"specific gravity, cell 1": 122.6}, 1e-9},
		{"hydrometer, cells: 1.235, temperature: 100 degF", numbers{"specific gravity, cell 1": 124.3}, 1e-9},

		// U.S. Army IT0335: three cells of 2 V and 2 Ah in series are 6 V and 2 Ah, six of
		// 2 V and 1 Ah are 12 V and 1 Ah; cells side by side add their ampere-hours.
		{"battery pack, cells: [2 V, 2 V, 2 V], capacity: 2 Ah", numbers{"pack voltage": 6, "pack capacity": 2, "pack energy": 12, "cell imbalance": 0}, 1e-9},
		{"battery pack, cells: [2 V, 2 V, 2 V, 2 V, 2 V, 2 V], capacity: 1 Ah", numbers{"pack voltage": 12, "pack capacity": 1}, 1e-9},
		{"battery pack, cells: 1.5 V, capacity: 1 Ah, parallel: 3", numbers{"pack voltage": 1.5, "pack capacity": 3, "pack energy": 4.5}, 1e-9},

		// U.S. Army TM 5-3805-262-20, p. 5-142: 11.7 V or less is 0 %, 12.0 25 %, 12.2 50 %,
		// 12.4 75 %, 12.6 or more 100 %; half of each for 6 V, a straight line between.
		{"battery at rest, volts: 11.7 V", numbers{"state of charge": 0}, 1e-9},
		{"battery at rest, volts: 12.0 V", numbers{"state of charge": 25}, 1e-9},
		{"battery at rest, volts: 12.2 V", numbers{"state of charge": 50}, 1e-9},
		{"battery at rest, volts: 12.4 V", numbers{"state of charge": 75}, 1e-9},
		{"battery at rest, volts: 12.6 V", numbers{"state of charge": 100}, 1e-9},
		{"battery at rest, volts: 11.85 V", numbers{"state of charge": 12.5}, 1e-9},
		{"battery at rest, volts: 6.19 V, nominal: 6 V", numbers{"state of charge": 72.5}, 1e-9},

		// R40 = R 0.5^((40-T)/10), IEEE Std 43 as read at second hand: 500 Mohm at 25 degC
		// is 177 Mohm (176.777 without rounding), 100 Mohm at 20 degC is 25 Mohm.
		{"insulation resistance, resistance: 500 Mohm, temperature: 25 degC, " + insulated, numbers{at40: 176.777}, 3e-6},
		{"insulation resistance, resistance: 100 Mohm, temperature: 68 degF, " + insulated, numbers{at40: 25}, 3e-6},
		{"insulation resistance, resistance: 0.1 kohm, temperature: 50 degC, " + insulated, numbers{at40: 2e-4}, 3e-10},
		{"insulation resistance, resistance: 8 Mohm, temperature: 313.15 K, " + insulated, numbers{at40: 8}, 3e-6},
		{"insulation resistance, resistance: 8 Mohm, temperature: 70 degC, " + insulated, numbers{at40: 64}, 3e-6},

		// f = P N / 120: U.S. Navy NEETS, NAVEDTRA 14177, p. 3-14, with its examples.
		{"generator output, volts: 240 V, hertz: 60 Hz, rated_hertz: 60 Hz, poles: 4, rpm: 1800 rpm", numbers{"frequency by the speed": 60, "speed for the rated frequency": 1800}, 1e-9},
		{"generator output, volts: 240 V, hertz: 25 Hz, rated_hertz: 25 Hz, poles: 6, rpm: 500 rpm", numbers{"frequency by the speed": 25, "speed for the rated frequency": 500}, 1e-9},
		{"generator output, volts: 240 V, hertz: 400 Hz, rated_hertz: 400 Hz, poles: 12, rpm: 4000 rpm", numbers{"frequency by the speed": 400, "speed for the rated frequency": 4000}, 1e-9},

		// Droop is of the rated frequency and regulation of the loaded voltage: TM
		// 9-6115-464-34, para 4-14 and 4-13d. 62.0 to 60.0 Hz is 3.33 %.
		{"generator output, volts: 252 V, hertz: 62 Hz, rated_hertz: 60 Hz, rated_load: 2 kW, load: 1800 W, loaded_volts: 240 V, loaded_hertz: 60 Hz", numbers{"frequency droop": 3.3333, "voltage regulation": 5}, 1e-4},

		// ... and of the full-load value in TM 55-1930-209-14&P-9-2.
		{"governor, no_load: 3720 rpm, full_load: 3600 rpm, rated: 3600 rpm", numbers{"speed droop": 100.0 / 30, "speed droop, of the full-load speed": 100.0 / 30, "governed speed": 3720}, 1e-9},
		{"governor, no_load: 3720 rpm, full_load: 3500 rpm, rated: 3600 rpm", numbers{"speed droop": 100 * 220.0 / 3600, "speed droop, of the full-load speed": 100 * 220.0 / 3500}, 1e-9},

		// TM 9-8000: 300 lb on a Prony brake of 2 ft at 3000 rpm are 342.55 hp with 6.28
		// for 2 pi, 342.72 without rounding. hp = lbf-ft x rpm/5252 (5252.113).
		{"shaft power, force: 300 lbf, arm: 2 ft, rpm: 3000 rpm", numbers{"shaft power": 342.72}, 1e-5},
		{"shaft power, torque: 600 lbf-ft, rpm: 3000 rpm", numbers{"shaft power": 600 * 3000 / 5252.113}, 1e-6},

		// By hand, 0.5 psi in 10 s are 3 psi in a minute.
		{"crankcase leak, with: pressure, start: 7.0 psi, end: 6.5 psi, time: 10 s", numbers{"leak in a minute": 3}, 1e-9},

		// SAE J1349 (June 1990) as three texts quote it: 1.0470 at 960 mbar dry and 30
		// degC, 1.0000 at 990 mbar and 25 degC, worked out from it.
		{"standard air, power: 10 hp, pressure: 960 mbar, temperature: 30 degC", numbers{"air factor": 104.70, "power in standard air": 10.470}, 5e-5},
		{"standard air, power: 10 hp, pressure: 99 kPa, temperature: 77 degF", numbers{"air factor": 100, "power in standard air": 10}, 5e-5},

		// TM 1-1500-204-23-9, fig. 8-16: 300 x 10/14 = 214 lbf-in; TM 9-254, fig. 45: 60
		// lbf-in with 12 in and 2 in give 70. At 90 degrees nothing changes; backward the
		// extension counts the other way (NAVEDTRA 14008): 135 x 10/8.5 = 158.82, forward
		// 117.39.
		{"torque with an extension, torque: 300 lbf-in, wrench: 10 in, extension: 4 in", numbers{"wrench setting": 3000.0 / 14}, 1e-5},
		{"torque with an extension, set: 60 lbf-in, wrench: 12 in, extension: 2 in", numbers{"torque with an extension": 70}, 1e-5},
		{"torque with an extension, torque: 300 lbf-in, wrench: 10 in, extension: 4 in, angle: 90 deg", numbers{"wrench setting": 300}, 1e-5},
		{"torque with an extension, torque: 135 lbf-in, wrench: 10 in, extension: 1.5 in, angle: 180 deg", numbers{"wrench setting": 158.8235}, 1e-5},
		{"torque with an extension, torque: 135 lbf-in, wrench: 10 in, extension: 1.5 in", numbers{"wrench setting": 117.3913}, 1e-5},
		{"torque with an extension, set: 60 lbf-in, wrench: 12 in, extension: 2 in, angle: 60 deg", numbers{"torque with an extension": 65}, 1e-5},

		// Pages of calculators (common practice, no source): M16, 50 kN and 0.2 are 160
		// N·m, M12 and 10 kN 24 N·m, 3/8 in and 4940 lbf 30.875 lbf-ft, and with 0.15 23.156.
		{"bolt preload, preload: 50000 N, diameter: 16 mm", numbers{"torque for the preload": 160}, 1e-9},
		{"bolt preload, preload: 10000 N, diameter: 12 mm, nut_factor: 0.2", numbers{"torque for the preload": 24}, 1e-9},
		{"bolt preload, preload: 4940 lbf, diameter: 3/8 in", numbers{"torque for the preload": 30.875}, 1e-9},
		{"bolt preload, preload: 4940 lbf, diameter: 0.375 in, nut_factor: 0.15", numbers{"torque for the preload": 23.15625}, 1e-9},

		// Two makers of chain, after ANSI B29.1: ten pitches of 1/2 in are at 3 % 5.150 in.
		{"roller chain wear, length: 5.150 in, pitches: 10, pitch: 0.5 in", numbers{"roller chain wear": 3}, 1e-9},
		// Half the span of three rivets: 3/4 in is the chain of 3/8 in.
		{"saw chain, span: 3/4 in", numbers{"saw chain pitch": 0.375}, 1e-12},
		// By geometry the tool strayed by half the difference of the diameters.
		{"two-collar test, near: 1.2500 in, far: 1.2508 in, apart: 6 in", numbers{"two-collar error": 0.0004, "two-collar error for each length": 0.04 / 6}, 1e-9},
		// Jones, Turning and Boring, 1914: 60 ft/min on 5 in are 46 rpm (45.84).
		{"surface speed, diameter: 5 in, rpm: 45.8366 rpm", numbers{"surface speed": 60}, 1e-6},
		{"surface speed, diameter: 6 in, rpm: 3450 rpm", numbers{"surface speed": math.Pi * 0.5 * 3450}, 1e-9},

		// A booklet of tool makers: 5/16 in for 3/8-16 and 8.5 mm for M10 x 1.5 both leave
		// 77.0 % of a full thread.
		{"tap drill, diameter: 3/8 in, threads: 16 TPI, drill: 0.3125 in", numbers{"drill for the thread": 0.3125, "share of full thread": 77.0}, 5e-4},
		{"tap drill, diameter: 10 mm, pitch: 1.5 mm, drill: 8.5 mm", numbers{"drill for the thread": 8.5, "share of full thread": 77.0}, 5e-4},

		// gpm x psi/1714: 10 gpm at 1500 psi are 8.75 hp (8.7515), 20 gpm 17.5 hp.
		{"hydraulic power, flow: 10 gpm, pressure: 1500 psi", numbers{"hydraulic power": 8.7500}, 2e-4},
		{"hydraulic power, flow: 20 gpm, pressure: 1500 psi", numbers{"hydraulic power": 17.500}, 2e-4},

		// Pages of calculators (common practice): 24 in, 6000 rpm and 2 to 1 are 68.18 mph,
		// and 60 mph is 12 % short; 19 in, 3000 rpm and 2 to 1 are 23.45 knots (26.99 mph),
		// and 22 knots 6.2 % short.
		{"propeller slip, pitch: 24 in, rpm: 6000 rpm, reduction: 2, speed: 60 mph", numbers{"speed without slip": 68.18, "propeller slip": 12}, 1e-4},
		{"propeller slip, pitch: 19 in, rpm: 3000 rpm, reduction: 2, speed: 25.31716 mph", numbers{"speed without slip": 23.45 * knot, "propeller slip": 6.2}, 5e-3},

		// Exact: fuel/ratio, the U.S. gallon being 128 fl oz (NIST Handbook 44, Appendix C).
		// The usual tables round 2.56 fl oz to 2.6; two gallons are 5.12 all the same.
		{"fuel mix, fuel: 1 gal, ratio: \"50:1\"", numbers{"oil to add": 2.56}, 1e-12},
		{"fuel mix, fuel: 2 gal, ratio: \"50 : 1\"", numbers{"oil to add": 5.12}, 1e-12},
		{"fuel mix, fuel: 5 gal, ratio: 50", numbers{"oil to add": 12.8}, 1e-12},
		{"fuel mix, fuel: 1 L, ratio: \"40:1\"", numbers{"oil to add": 25}, 1e-12},
		{"fuel mix, fuel: 1000 mL, ratio: \"32:1\"", numbers{"oil to add": 31.25}, 1e-12},

		// By hand: 21 fl oz in 45 min are 28 an hour; 1.2 gal are 153.6 fl oz and last
		// 153.6/28 h; 900 W over 45 min are 0.675 kWh, so 21/0.675 fl oz for each.
		{"fuel rate, used: 21 fl oz, ran: 45 min, tank: 1.2 gal, load: 0.9 kW", numbers{"fuel used per hour": 28, "run time on a tank": 153.6 / 28, "fuel for each kWh": 21 / 0.675}, 1e-12},

		// 4 in at 1500 rpm drives 20 in at 300 rpm: Milton and Wohlers, 1919. 16 in at 180
		// rpm drives 8 in at 360 rpm: Applied Science for Metal Workers. The drive of two
		// belts is common practice, no source. pi x 4 in x 1725 rpm: by hand.
		{"belt drive, rpm: 1500 rpm, driver: 101.6 mm, driven: 20 in", numbers{"driven speed": 300}, 1e-12},
		{"belt drive, rpm: 180 rpm, driver: 16 in, driven: 8 in", numbers{"driven speed": 360}, 1e-12},
		{"belt drive, rpm: 1000 rpm, driver: [100 mm, 110 mm], driven: [50 mm, 60 mm]", numbers{"driven speed": 11000.0 / 3}, 1e-12},
		{"belt drive, rpm: 1725 rpm, driver: 4 in, driven: 6 in", numbers{"belt speed": 1806.4}, 3e-5},

		// The trade's mph = rpm x diameter in inches / 336 (from memory; 336.135 without
		// rounding). A run of 88 ft in 10 s is 6 mph: 88 ft/s are 60.
		{"ground speed, axle_rpm: 100 rpm, tire: 20 in, distance: 88 ft, time: 10 s", numbers{"ground speed": 100 * 20 / 336.135, "timed ground speed": 6, "wheel slip": 100 * (1 - 6/(2000/336.1352))}, 2e-5},

		// The rule of gearing handbooks (from memory): the product of the driven over the
		// product of the driving teeth.
		{"gear reduction, driving_teeth: 12, driven_teeth: 40, rpm: 3600 rpm", numbers{"output speed": 1080}, 1e-12},
		{"gear reduction, driving_teeth: [12, 14], driven_teeth: [40, 42], rpm: 3600 rpm", numbers{"output speed": 360}, 1e-12},
		{"gear reduction, driving_teeth: [40], driven_teeth: [20], rpm: 900 rpm", numbers{"output speed": 1800}, 1e-12},

		// FAA-H-8083-32, from memory: 14 cylinders of 5.5 in by 5.5 in sweep 1829.4 cu in.
		{"displacement, bore: 5.5 in, stroke: 5.5 in, cylinders: 14", numbers{"displacement": 1829.389}, 1e-6},
		{"displacement, bore: 68 mm, stroke: 54 mm, cylinders: 1", numbers{"displacement": 196.111}, 1e-5},

		// Common practice, no source: the mean piston speed in ft/min is stroke (in) x rpm/6.
		{"piston speed, stroke: 3 in, rpm: 4000 rpm", numbers{"mean piston speed": 2000}, 1e-9},
		{"piston speed, stroke: 76.2 mm, rpm: 4000 rpm", numbers{"mean piston speed": 10.16}, 1e-9},

		// ASHRAE Handbook, Fundamentals, read at second hand; between two points on the
		// straight line, worked out by hand.
		{"coolant, glycol: 47.6 %, kind: ethylene, coldest: -10 degC", numbers{"freeze point": -33.8}, 1e-9},
		{"coolant, glycol: 40 %, kind: ethylene, coldest: -10 degC", numbers{"freeze point": -22.3 + (40-37.5)/(42.5-37.5)*(-27.5+22.3)}, 1e-9},
		{"coolant, glycol: 49.9 %, kind: propylene, coldest: -10 degC", numbers{"freeze point": -33.5}, 1e-9},
		{"coolant, glycol: 30 %, kind: propylene, coldest: -10 degC", numbers{"freeze point": -12.7 + (30-29.4)/(34.4-29.4)*(-16.4+12.7)}, 1e-9},
	} {
		o := sound(t, plainMachine, "{test: "+tc.test+"}")
		for name, n := range tc.want {
			if got := o.result(t, name).number(); math.Abs(got-n) > tc.within*math.Max(1, math.Abs(n)) {
				t.Errorf("%s: %s is %v, want %v", tc.test, name, got, n)
			}
		}
	}
}
