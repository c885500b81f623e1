package benchtest

import (
	"slices"
	"strings"
	"sync"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
)

// A Symptom is what is wrong with a machine in the words of whoever brings it, and the
// tests that split its causes best, the cheapest and safest first. Which those are is
// common practice, no source.
type Symptom struct {
	Name string
	Also []string
	Try  []Trial
}

// A Trial is one test for a symptom, and what it splits.
type Trial struct {
	Kind   Kind
	Splits string // a whole sentence
}

// symptom and trial are a Symptom as it is declared; splits is a key of the catalog.
type symptom struct {
	name string
	also []string
	try  []trial
}

type trial struct{ test, splits string }

var symptoms = []symptom{
	{"will not crank", []string{"does not crank", "clicks", "starter does not turn", "dead"}, []trial{
		{"battery at rest", "bench.try.battery"}, {"voltage drop", "bench.try.starter-cables"},
		{"cranking", "bench.try.cranking"}, {"battery load test", "bench.try.load-test"}, {"hydrometer", "bench.try.cells"}}},
	{"will not start", []string{"does not start", "hard to start", "no start"}, []trial{
		{"plug gap", "bench.try.plug"}, {"compression", "bench.try.compression"}, {"armature air gap", "bench.try.air-gap"},
		{"coil resistance", "bench.try.coil"}, {"valve clearance", "bench.try.valves"}, {"crankcase leak", "bench.try.crankcase"},
		{"leak-down", "bench.try.leak-down"}}},
	{"no spark", []string{"weak spark", "misfires"}, []trial{
		{"plug gap", "bench.try.plug"}, {"armature air gap", "bench.try.air-gap"}, {"coil resistance", "bench.try.coil"}}},
	{"no charge", []string{"battery goes flat", "does not charge", "battery runs down"}, []trial{
		{"battery at rest", "bench.try.battery"}, {"charging", "bench.try.charging"}, {"voltage drop", "bench.try.charge-cables"},
		{"parasitic draw", "bench.try.parasitic"}, {"battery load test", "bench.try.load-test"}}},
	{"no output", []string{"no power from the outlets", "low voltage", "dim lights"}, []trial{
		{"generator output", "bench.try.generator"}, {"governor", "bench.try.governed-speed"}, {"ground-fault trip time", "bench.try.outlet"},
		{"winding resistance", "bench.try.windings"}, {"insulation resistance", "bench.try.insulation"}}},
	{"surges", []string{"hunts", "runs unevenly", "speed goes up and down"}, []trial{
		{"governor", "bench.try.hunting"}, {"valve clearance", "bench.try.valves"}, {"crankcase leak", "bench.try.crankcase"}}},
	{"smokes", []string{"blue smoke", "burns oil", "uses oil"}, []trial{
		{"oil consumption", "bench.try.oil-use"}, {"fuel mix", "bench.try.mix"}, {"compression", "bench.try.compression"},
		{"leak-down", "bench.try.leak-down"}, {"bore", "bench.try.bore"}}},
	{"low power", []string{"no power", "bogs down", "weak"}, []trial{
		{"governor", "bench.try.governed-speed"}, {"compression", "bench.try.compression"}, {"valve clearance", "bench.try.valves"},
		{"head temperature", "bench.try.head"}, {"leak-down", "bench.try.leak-down"}, {"shaft power", "bench.try.power"}}},
	{"runs hot", []string{"overheats", "too hot"}, []trial{
		{"coolant", "bench.try.coolant"}, {"fuel mix", "bench.try.mix"}, {"head temperature", "bench.try.head"},
		{"crankcase leak", "bench.try.crankcase"}, {"leak-down", "bench.try.leak-down"}}},
	{"shocks", []string{"tingles", "electric shock", "trips the outlet", "trips the breaker"}, []trial{
		{"grounding continuity", "bench.try.ground"}, {"insulation resistance", "bench.try.insulation"},
		{"ground-fault trip time", "bench.try.outlet"}, {"leakage current", "bench.try.leakage"}}},
	{"blade does not stop", []string{"blade keeps turning", "brake does not hold", "does not stop"}, []trial{
		{"parking brake", "bench.try.parking"}, {"blade stopping time", "bench.try.blade-stop"}, {"chain brake stopping time", "bench.try.chain-brake"}}},
	{"vibrates", []string{"shakes", "bent shaft"}, []trial{
		{"runout", "bench.try.runout"}, {"crankshaft end play", "bench.try.end-play"}, {"blade tip speed", "bench.try.tip-speed"}}},
	{"moves slowly", []string{"slips", "no drive", "jumps teeth", "belt slips", "chain jumps"}, []trial{
		{"roller chain wear", "bench.try.chain"}, {"belt drive", "bench.try.belt"}, {"ground speed", "bench.try.ground-speed"},
		{"hydraulic power", "bench.try.hydraulics"}}},
	{"motor hums", []string{"motor does not start", "motor runs slow", "motor gets hot"}, []trial{
		{"capacitor", "bench.try.capacitor"}, {"winding resistance", "bench.try.windings"}, {"insulation resistance", "bench.try.insulation"},
		{"motor slip", "bench.try.slip"}, {"voltage unbalance", "bench.try.phases"}}},
	{"cuts out of true", []string{"cuts a taper", "chatter", "poor finish"}, []trial{
		{"backlash", "bench.try.backlash"}, {"squareness", "bench.try.square"}, {"parallelism", "bench.try.parallel"},
		{"spindle runout", "bench.try.runout"}, {"two-collar test", "bench.try.collars"}, {"tailstock height", "bench.try.tailstock"}}},
	{"knocks", []string{"low oil pressure", "rattles"}, []trial{
		{"valve clearance", "bench.try.valves"}, {"crankshaft end play", "bench.try.end-play"}, {"journal", "bench.try.journal"}, {"bore", "bench.try.bore"}}},
}

// Symptoms are all the symptoms, in English, in the order in which they are listed.
func Symptoms() []Symptom { return SymptomsIn(catalog.English) }

// SymptomsIn is Symptoms in the language of a catalog.
func SymptomsIn(words *catalog.Catalog) []Symptom {
	var all []Symptom
	for _, s := range symptoms {
		made := Symptom{Name: s.name, Also: slices.Clone(s.also)}
		for _, t := range s.try {
			made.Try = append(made.Try, Trial{byName()[t.test].help(words), words.Say(t.splits)})
		}
		all = append(all, made)
	}
	return all
}

// SymptomNamed is the symptom that goes by that name, or by one of its other names; a
// name within a longer text does too, the longest first: "it will not start when warm".
func SymptomNamed(text string) (Symptom, bool) {
	folded := " " + logbook.Folded(text) + " "
	best, length := -1, 0
	for i, s := range symptoms {
		for _, name := range append([]string{s.name}, s.also...) {
			if strings.Contains(folded, " "+logbook.Folded(name)+" ") && len(name) > length {
				best, length = i, len(name)
			}
		}
	}
	if best < 0 {
		return Symptom{}, false
	}
	return Symptoms()[best], true
}

// toolsByDimension are the tools that read each sort of quantity.
var toolsByDimension = map[quantity.Dimension][]string{
	quantity.Pressure: {"pressure gauge"}, quantity.Length: {"caliper", "micrometer", "feeler gauge", "dial indicator"},
	quantity.Voltage: {"multimeter"}, quantity.Resistance: {"multimeter"}, quantity.Frequency: {"multimeter"},
	quantity.Capacitance: {"multimeter"}, quantity.Current: {"clamp meter"}, quantity.Power: {"watt meter"},
	quantity.RotationalSpeed: {"tachometer"}, quantity.Time: {"stopwatch"}, quantity.Temperature: {"thermometer"},
	quantity.Torque: {"torque wrench"}, quantity.Volume: {"measuring cup"}, quantity.Force: {"scale"}, quantity.Flow: {"flow meter"},
	quantity.Velocity: {"speedometer"},
}

// toolsOfTest are the tools of tests that take others than their readings tell.
var toolsOfTest = map[string][]string{
	"insulation resistance": {"insulation tester"}, "leakage current": {"leakage tester"}, "ground-fault trip time": {"outlet tester"},
	"leak-down": {"leak-down tester"}, "compression": {"compression gauge"}, "coolant": {"coolant tester"}, "hydrometer": {"hydrometer"},
	"battery load test": {"load tester"}, "parking brake": {"tape measure"},
}

// tools are what a test is done with.
func (k *kind) tools() []string {
	if own := toolsOfTest[k.name]; own != nil {
		return own
	}
	var all []string
	for _, in := range k.inputs {
		if in.sort != anAccuracy {
			continue
		}
		for _, tool := range toolsByDimension[in.of] {
			if !slices.Contains(all, tool) {
				all = append(all, tool)
			}
		}
	}
	return all
}

// Tools are all the tools that tests are done with, sorted.
var Tools = sync.OnceValue(func() []string {
	var all []string
	for _, k := range registered() {
		all = append(all, k.tools()...)
	}
	slices.Sort(all)
	return slices.Compact(all)
})

// Find is the tests of Trials.
func Find(text string) []Kind {
	var all []Kind
	for _, t := range Trials(text) {
		all = append(all, t.Kind)
	}
	return all
}

// Trials are the tests that a text is about: by the name of one, of a system, of a tool
// or of a symptom, else by the words of their help. A symptom's tests come in its order,
// each with what it splits, others by name, each with what it is about. None where
// nothing goes by it.
func Trials(text string) []Trial {
	folded := logbook.Folded(text)
	if folded == "" {
		return nil
	}
	if s, ok := SymptomNamed(text); ok {
		return s.Try
	}
	for _, fits := range []func(k *kind) bool{
		func(k *kind) bool { return k.system == folded },
		func(k *kind) bool { return holds(append([]string{k.name}, k.also...), folded) },
		func(k *kind) bool { return holds(k.tools(), folded) },
		func(k *kind) bool {
			return strings.Contains(" "+logbook.Folded(catalog.English.Say(k.about))+" ", " "+folded)
		},
	} {
		var all []Trial
		for _, k := range registered() {
			if fits(k) {
				all = append(all, Trial{k.help(catalog.English), catalog.English.Say(k.about)})
			}
		}
		if all != nil {
			return all
		}
	}
	return nil
}

// holds tells whether one of the names has the words in it.
func holds(names []string, folded string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return strings.Contains(" "+logbook.Folded(n)+" ", " "+folded) })
}
