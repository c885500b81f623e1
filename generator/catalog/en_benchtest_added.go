package catalog

// englishBenchtestAdded is what the bench tests say that each stand in a file of
// their own. What is common practice has no verdict.
var englishBenchtestAdded = map[string]string{
	"bench.caution.unplugged": "Unplug the machine before you touch a wire. Leave fixed wiring to a licensed electrician. Go by the maker's manual.",
	"bench.source.maker-only": "no published figure was found, so only the maker's counts",
	"bench.source.ul507":      "UL 507, 42.1, read at second hand (ground path of an appliance, no cord)",
	"bench.source.vde0701":    "DIN VDE 0701-0702, read at second hand",
	"bench.source.ul943":      "UL 943, (20/I)^1.43 s, read at second hand (class A)",
	"bench.source.nec-gfci":   "note of the NEC, read at second hand (class A: 4 mA to 6 mA)",

	"bench.grounding.about":      "Whether the metal of a machine is joined to the ground pin of its plug. A broken ground can make the case live.",
	"bench.grounding.source":     "UL 507, 42.1, for 0.1 ohm with no cord; DIN VDE 0701-0702 for 0.3 ohm with a cord up to 5 m, 0.1 ohm more for each further 7.5 m, 1 ohm at most; both read at second hand",
	"bench.grounding.resistance": "from bare metal of the machine to the ground pin, leads taken off; OL if there is no path",
	"bench.grounding.cord":       "length of the cord that was measured through; 0 ft if there was none",
	"bench.grounding.inside":     "The ground path reads {value}, within the limit used here. Bend the cord while you measure, for a wire may be broken inside.",
	"bench.grounding.outside":    "The ground path reads {value}, which is too much. Do not use the machine until that is put right. It points to a loose or dirty ground screw, a bad plug or a cord that is broken inside. Measure each piece by itself.",
	"bench.grounding.open":       "The meter found no ground path at all. Do not use the machine until that is put right. It points to a broken wire, a cut pin or a plug of the wrong kind. Measure each piece by itself.",

	"bench.leakage.about":   "How much current strays from a machine that is plugged in. Too much of it can be felt, and more can kill.",
	"bench.leakage.caution": "The machine is live for this, so use a leakage tester made for it and touch nothing else. Test the ground path first. Leave fixed wiring to a licensed electrician.",
	"bench.leakage.source":  "DIN VDE 0701-0702, read at second hand: less than 0.5 mA at a touch, 3.5 mA at most in the ground wire",
	"bench.leakage.current": "the highest that the tester showed",
	"bench.leakage.path":    "touch from metal that can be touched, ground wire for what flows down that wire",
	"bench.leakage.inside":  "The leakage of {value} is within the limit used here.",
	"bench.leakage.outside": "The leakage of {value} is too much. Unplug it and do not use it until that is put right. It points to damp, carbon dust or bad insulation. Dry and clean it, then test the insulation.",

	"bench.gfci.about":    "How fast a ground-fault outlet cuts the power when current strays. It is there to save a life.",
	"bench.gfci.caution":  "Use a tester made for this outlet, and never your own body or a bare wire. Leave fixed wiring to a licensed electrician.",
	"bench.gfci.source":   "UL 943 for the time, from 6 to 264 mA; a note of the NEC for 4 to 6 mA; all read at second hand",
	"bench.gfci.current":  "what the tester let stray, from 6 to 264 mA",
	"bench.gfci.time":     "until the power was cut",
	"bench.gfci.trips-at": "the current at which it trips as it is slowly raised",
	"bench.gfci.inside":   "It cut the power in {value}, within the limit for that current.",
	"bench.gfci.slow":     "It took {value} to cut the power, which is too long. Do not use this outlet. It points to an outlet that is worn out or wired wrong. Put in a new one and test that.",
	"bench.gfci.late":     "It trips only at {value}, which is too much. Do not use this outlet. It points to one that is worn out or of another class.",
	"bench.gfci.early":    "It trips at {value} already. That is not unsafe, but it cuts out for no cause. It points to an outlet that is worn out, or to a leak in what is plugged in.",

	"problem.bench-fault-current":      "{read} is not in the range of the rule",
	"problem.bench-fault-current.mend": "write a current from 6 mA to 264 mA, as the tester lets it stray",

	"bench.parking.about":    "Whether the parking brake holds the machine on a slope.",
	"bench.parking.caution":  "Have a wheel chock at hand and nobody below the machine. Go no steeper than the maker allows, and no steeper than the tires hold.",
	"bench.parking.creep":    "how far it moved; 0 in if it held",
	"bench.parking.slope":    "how steep the slope is",
	"bench.parking.time":     "how long it was left to stand",
	"bench.parking.held":     "It did not move in {time} on a slope of {slope}.",
	"bench.parking.crept":    "It moved {creep} in {time} on a slope of {slope}. Do not leave it on a slope until that is put right. It points to a brake that needs setting, worn linings or an oily drum. Look at the linkage first.",
	"bench.parking.no-limit": "No rule with a figure was found, so the maker's slope counts.",

	"bench.chain-brake.about":    "How long the chain of a saw runs on after its brake is thrown.",
	"bench.chain-brake.caution":  "A running chain cuts to the bone. Hold the saw down on a stump with both hands, wear leg and eye protection, and keep others away. Go by the maker's manual.",
	"bench.chain-brake.time":     "from the brake thrown to the chain at rest, at full speed; a list for several trials, of which the longest counts",
	"bench.chain-brake.inside":   "The chain stopped in {value} at the longest, within the limit used here.",
	"bench.chain-brake.outside":  "The chain took {value} to stop, which is too long. Do not use the saw until that is put right. It points to a worn or oily band or a weak spring. Clean the brake first.",
	"bench.chain-brake.no-limit": "ISO 6535 says how to measure this and gives no figure, so only the maker's counts.",
}
