package main

import (
	"slices"

	"asleft/generator/entry"
)

// A trade is what there is to say of one kind of machine.
type trade struct {
	kind  string // has a built-in sheet
	short string // in keys
	meter bool   // usually has an hour meter
	gone  []string
	// faults and gauges that only this kind has; those of every engine come on
	// top, unless electric is true.
	faults   []flaw
	electric bool
}

// A flaw is a defect that may be found, with the ways of its repair.
type flaw struct {
	key, defect, effect, system string
	safety                      bool
	part                        string // put in to repair it
	cents                       int
	how, proof, around, left    string
}

var trades = []trade{
	{kind: "walk-behind tiller", short: "tiller", gone: []string{"depth skid", "throttle knob", "left wheel pin"}, faults: []flaw{
		{"tine-lever", "tines stay engaged when the lever is let go", "the tines keep turning", "guards", true, "lever return spring", 640, "new spring, pivot cleaned and greased", "let go ten times with the tines off the ground, they stopped each time", "", ""},
		{"tine-seal", "tine shaft seal leaks", "the gear case runs low in an afternoon", "drive", false, "tine shaft seal", 1180, "new seal pressed in deeper, off the groove", "tilled an hour and the level had not moved", "filled with grease that does not run", "the seal still weeps"},
		{"reverse-gear", "two teeth gone from the reverse pinion", "no reverse", "drive", false, "reverse pinion", 3875, "pinion from another case fitted", "backed up ten yards in soft ground", "reverse blocked off with a plate", "the pinion still has two broken teeth"},
		{"loose-tine", "one tine is loose on its hub", "it knocks and can come off", "implement", true, "tine bolt and nut", 310, "new bolts, both nuts to the sheet", "tight again after an hour in stones", "", ""},
	}},
	{kind: "ride-on mower", short: "rider", meter: true, gone: []string{"left deck belt cover", "seat spring", "hood latch"}, faults: []flaw{
		{"seat-interlock", "seat switch does not open", "the engine keeps running with nobody in the seat", "guards", true, "seat switch", 2290, "new switch, plug cleaned", "rose from the seat five times, the engine died each time", "", ""},
		{"brake-pads", "brake pads worn to the plate", "rolls on for twelve feet", "brakes", true, "brake pad", 835, "new pads, rod adjusted", "stopped in four feet from a walk", "", ""},
		{"deck-spindle", "left spindle growls", "the blade has play", "implement", true, "spindle bearing", 1425, "two new bearings, housing cleaned", "quiet after an hour of cutting", "", ""},
		{"steering-slack", "a quarter turn of slack in the steering", "wanders on a slope", "steering", true, "tie rod end", 1690, "two new tie rod ends", "a finger's width of slack left, measured at the rim", "shimmed the sector gear", "the sector gear is still worn"},
		{"belt-slip", "drive belt slips on a hill", "it stands still with the engine pulling", "drive", false, "drive belt", 2860, "new belt, idler freed", "climbed the mill slope twice", "idler spring moved one hole up", "the belt is still narrow"},
	}},
	{kind: "walk-behind mower", short: "mower", gone: []string{"grass flap", "oil fill cap", "wheel cover"}, faults: []flaw{
		{"blade-brake", "blade runs on for nine seconds", "it cuts after the bail is let go", "guards", true, "brake pad and cable", 1875, "new pad, cable set to the mark", "stopped in under three seconds, five times of five", "", ""},
		{"deck-rust", "deck rusted through by the chute", "a stone can fly out", "guards", true, "steel patch", 900, "patch riveted on from inside", "hammered all round, it does not move", "", ""},
		{"bent-crank", "crankshaft bent at the blade end", "it shakes", "engine", true, "short block, used", 4500, "short block from another engine", "four thousandths of runout where it had thirty", "", ""},
		{"drive-cable", "drive cable stretched", "the wheels slip on grass", "drive", false, "drive cable", 1235, "new cable", "pulled itself up the bank", "cable shortened with a clamp", "the cable is still stretched"},
	}},
	{kind: "chainsaw", short: "saw", gone: []string{"bar cover", "chain catcher", "spark screen"}, faults: []flaw{
		{"chain-brake", "chain brake does not trip", "the chain keeps running in a kickback", "guards", true, "brake band", 1540, "new band, lever pivot cleaned of pitch", "tripped ten times of ten by the front guard", "", ""},
		{"oiler", "no oil reaches the chain", "the bar goes blue", "implement", false, "oil pump worm", 985, "new worm, pick-up screen washed", "a line of oil on clean wood", "", ""},
		{"clutch-drags", "chain creeps at idle", "it can cut when it is set down", "drive", true, "clutch spring set", 720, "new springs, drum dressed", "chain stood still for five minutes at idle", "", ""},
		{"av-mount", "rear rubber mount torn", "the handle moves on its own", "frame", true, "rubber mount", 560, "three new mounts", "no metal touches metal when it is twisted", "", ""},
	}},
	{kind: "generator", short: "genset", meter: true, gone: []string{"outlet cover", "fuel cap", "wheel kit"}, faults: []flaw{
		{"no-output", "no voltage at the outlets", "it runs and makes nothing", "electrical", false, "brush set", 1130, "new brushes, rings polished, field flashed", "held its voltage with the heater on for an hour", "", ""},
		{"outlet-burnt", "one outlet is burnt", "a plug gets hot in it", "electrical", true, "duplex outlet", 890, "new outlet, wire ends cut back", "tester shows it wired right, cool after an hour of load", "outlet blanked off", "one outlet less than it had"},
		{"breaker", "breaker does not trip", "nothing stops an overload", "electrical", true, "breaker", 1975, "new breaker of the same rating", "", "", ""},
		{"hunts", "speed hunts under load", "lights flicker", "engine", false, "governor spring", 480, "new spring, linkage freed", "sixty hertz within one, with and without the heater", "", ""},
	}},
	{kind: "pressure washer", short: "washer", gone: []string{"soap hose", "quick nozzle", "wand clip"}, faults: []flaw{
		{"unloader", "unloader sticks shut", "the hose jumps when the trigger is let go", "hydraulics", true, "unloader kit", 2650, "new seals and spring, seat lapped", "", "", ""},
		{"pump-seals", "pump drips at all three seals", "pressure falls off after a minute", "hydraulics", false, "seal kit", 3420, "three new seals, plungers polished", "held its pressure for twenty minutes", "", ""},
		{"trigger-lock", "trigger lock broken off", "it can go off when it is picked up", "guards", true, "spray gun", 2200, "another gun", "locked and squeezed, nothing came", "", ""},
		{"hose-worn", "hose worn to the braid", "it can burst", "hydraulics", true, "hose, 25 ft", 3150, "new hose", "no wet spot at full pressure", "", ""},
	}},
	{kind: "snow thrower", short: "thrower", gone: []string{"clean-out stick", "chute crank handle", "one skid"}, faults: []flaw{
		{"auger-lever", "auger turns with the lever out", "it can take a hand", "guards", true, "auger cable", 1320, "new cable, idler set to the sheet", "stood still ten times of ten", "", ""},
		{"shear-pins", "bolts in place of shear pins", "the gear case takes the blow", "drive", true, "shear pin", 185, "the right pins, greased", "", "", ""},
		{"friction-disc", "friction disc worn to the metal", "no drive uphill", "drive", false, "friction disc", 1760, "new disc, plate cleaned", "pushed a full bank up the yard", "cable taken up to the end", "the disc is still worn"},
		{"chute-stuck", "chute does not turn", "it throws one way only", "implement", false, "chute gear", 1490, "gear from another machine, ring greased", "turned end to end with one hand", "", ""},
	}},
	{kind: "bench machine tool", short: "bench", electric: true, gone: []string{"chuck key", "belt cover screw", "depth stop nut"}, faults: []flaw{
		{"belt-cover", "belt cover is gone", "fingers can reach the belt", "guards", true, "sheet steel", 1150, "cover bent up and bolted on", "a stick does not reach the belt from any side", "", ""},
		{"stop-button", "stop button sticks", "it does not stop at once", "controls", true, "switch", 2480, "new switch with a large stop", "stopped at the first push, ten times", "", ""},
		{"ground-open", "no ground from plug to frame", "the frame can become live", "electrical", true, "cord and plug", 1690, "new cord with a ground", "under a tenth of an ohm from pin to frame", "", ""},
		{"spindle-play", "spindle has play", "holes come out large", "drive", false, "spindle bearing", 3925, "two new bearings, preload set", "one thousandth of runout left", "preload taken up", "the bearings are still the old ones"},
		{"table-cracked", "a crack in the table by the slot", "it can let go under a clamp", "frame", false, "", 0, "", "", "crack drilled at its end", "the crack is still there"},
	}},
}

// engineFaults may be found on everything with an engine.
var engineFaults = []flaw{
	{"no-fuel", "carburetor passes no fuel", "will not start", "fuel", false, "carburetor kit", 1460, "jets cleaned, new needle and gaskets", "started on the second pull, three evenings running", "", ""},
	{"tank-leak", "fuel weeps at the tank seam", "it can catch fire", "fuel", true, "tank", 3300, "another tank, washed and dried", "dry paper under it after a night", "", ""},
	{"no-spark", "no spark", "will not start", "ignition", false, "ignition coil", 2240, "another coil, gap set", "fat spark on the tester, every pull", "", ""},
	{"low-compression", "compression below the limit", "hard to start and short of power", "engine", false, "piston ring set", 1840, "new rings, valves lapped", "98 psi cold where it had 47", "", ""},
	{"rod-knock", "knocks at idle", "it would throw the rod", "engine", false, "connecting rod", 2950, "another rod on a good crankpin", "", "", ""},
	{"exhaust-leak", "leaks at the exhaust gasket", "soot on one fin and louder", "exhaust", false, "exhaust gasket", 410, "new gasket, studs chased", "no soot after an hour", "stop-leak paste on the joint", "the gasket is still blown"},
	{"rope-stuck", "rope does not wind back", "it hangs out after a pull", "engine", false, "starter spring", 780, "new spring and rope", "wound back twenty times", "", ""},
	{"kill-switch", "does not stop at its switch", "it has to be choked to death", "controls", true, "switch lead", 350, "new lead and a clean ground", "died at once, five times of five", "", ""},
	{"fins-packed", "cooling fins packed with chaff", "it runs hot", "cooling", false, "", 0, "shroud off, fins brushed and blown out", "340 degrees at the head after an hour", "", ""},
	{"muffler-guard", "muffler guard missing", "it burns whoever leans on it", "exhaust", true, "muffler guard", 940, "guard cut from expanded steel", "tight after an hour of running", "", ""},
	{"throttle-sticks", "throttle sticks open", "speed does not come down", "controls", true, "throttle cable", 870, "new cable, slide cleaned", "", "", ""},
	{"oil-leak", "oil at the crankcase seam", "a spoonful an evening", "engine", false, "gasket sheet", 260, "new gasket cut, faces stoned", "dry after two evenings", "", ""},
}

func (t *trade) allFaults() []flaw {
	if t.electric {
		return t.faults
	}
	return slices.Concat(t.faults, engineFaults)
}

// A gauged is something to measure, in steps of a decimal: value from low to
// high, held against a limit that some machines have.
type gauged struct {
	what, where, unit string
	low, high         int
	decimals          int
	gauge             string
	limit             string
	state             string
	system            string
	on                string // withEngine or withPlug; empty: on any machine
}

// What a reading needs the machine to have.
const (
	withEngine = "engine"
	withPlug   = "plug"
)

var gauges = []gauged{
	{"compression", "cylinder 1", "psi", 42, 128, 0, "2 psi", ">= 60 psi", "cold", "engine", withEngine},
	{"crankshaft end play", "drive side", "in", 2, 19, 3, "0.001 in", "0.002 in to 0.014 in", "cold", "engine", withEngine},
	{"ring end gap", "top ring", "in", 8, 29, 3, "0.001 in", "<= 0.020 in", "", "engine", withEngine},
	{"governed speed", "no load", "rpm", 3300, 3850, 0, "20 rpm", "3600 rpm +- 100 rpm", "warm", "engine", withEngine},
	{"valve clearance", "intake", "in", 2, 11, 3, "0.001 in", "0.004 in to 0.006 in", "cold", "engine", withEngine},
	{"valve clearance", "exhaust", "in", 3, 14, 3, "0.001 in", "0.007 in to 0.009 in", "cold", "engine", withEngine},
	{"spark plug gap", "", "thou", 18, 41, 0, "1 thou", "0.028 in to 0.032 in", "", "ignition", withEngine},
	{"coil primary resistance", "", "ohm", 4, 32, 1, "", "0.6 ohm to 2.0 ohm", "", "ignition", withEngine},
	{"head temperature", "spark plug seat", "degF", 240, 415, 0, "4 degF", "<= 380 degF", "warm", "cooling", withEngine},
	{"oil level", "above the low mark", "mm", 0, 22, 0, "1 mm", "", "cold", "engine", withEngine},
	{"fuel flow", "line off the tank", "mL", 60, 410, 0, "10 mL", ">= 150 mL", "", "fuel", withEngine},
	{"bolt torque", "flywheel nut", "lbf-ft", 31, 64, 0, "4 %", "50 lbf-ft +- 5 lbf-ft", "", "engine", withEngine},
	{"supply voltage", "at the plug", "V", 1080, 1260, 1, "1 %", "", "", "electrical", withPlug},
	{"ground resistance", "plug to frame", "ohm", 1, 30, 2, "0.02 ohm", "<= 0.1 ohm", "", "electrical", withPlug},
	{"belt width", "outside face", "in", 38, 66, 2, "0.01 in", ">= 0.45 in", "", "drive", ""},
	{"bearing temperature", "output side", "degC", 31, 88, 0, "2 degC", "<= 70 degC", "warm", "drive", ""},
	{"runout", "output shaft", "mm", 2, 31, 2, "0.01 mm", "<= 0.10 mm", "", "drive", ""},
	{"lever force", "at the grip", "%", 40, 130, 0, "", "", "", "controls", ""},
}

var makers = []string{
	"Dunmarrow", "Pellworth", "Orrinsby", "Tarnholt", "Velmere", "Hask & Brindle", "Corvane", "Ludgrove", "Marrowby", "Stavelin",
	"Quillen", "Brackenhurst", "Ostrander Vale", "Ferncott", "Halloway Ridge", "Wexcombe",
}

var nicknames = []string{
	"harrow", "gannet", "heron", "plover", "bittern", "alder", "tansy", "sorrel", "yarrow", "teasel", "linnet", "dunlin", "curlew", "rook",
	"merle", "osier", "rowan", "sedge", "thrift", "whin", "burdock", "clover", "dipper", "fieldfare", "goshawk", "hobby", "jackdaw",
	"kestrel", "lapwing", "martin", "nuthatch", "ouzel", "pipit", "quail", "redpoll", "siskin", "tern", "wagtail", "wren", "yaffle",
}

var people = []string{
	"Corwin Stapledale", "Marguerite Dole", "Alaric Penhallow", "Isidora Crannock", "Barnaby Eckhold", "Tobias Merriden", "Hester Vane",
	"Ambrose Quickfall", "Delphine Arrowby", "Lucian Thistlewood", "Odette Farrowmere", "Silas Brambley", "Wilhelmina Croft-Ayre",
}

var tasks = []string{"looking over", "teardown", "cleaning", "engine", "carburetor", "electrical", "gear case", "brakes", "belts", "fitting up", "trying out", "writing up"}

var changes = []entry.Change{
	{What: "engine swapped for one of the same family", Why: "the block was cracked", System: "engine", Affects: []string{"governed speed"}, Caution: "the governor spring may not be the maker's"},
	{What: "steel fuel line in place of rubber", Why: "rubber was not to be had in that size", System: "fuel"},
	{What: "outside toggle switch added", Why: "the key switch is not made any more", System: "controls", Affects: []string{"stopping"}, Caution: "it has to be on stop before the lead goes on"},
	{What: "muffler from a larger engine", Why: "the old one was rusted through", System: "exhaust", Affects: []string{"noise"}, Caution: "it gets hot farther out than the old one"},
	{Adds: true, What: "guard cut from sheet steel", Why: "the maker's guard was gone", System: "guards", Caution: "not tested as the maker tests his"},
	{What: "one belt in place of two", Why: "the second pulley was cracked", System: "drive", Affects: []string{"pull on a hill"}},
	{What: "handlebar tube bent up from plain tube", Why: "the old one was rusted through", System: "frame", Caution: "do not lift the machine by it"},
}
