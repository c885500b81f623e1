package benchtest

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// A kind is a test as the registry holds it. About, caution and source are
// keys of the catalog.
type kind struct {
	name   string
	also   []string
	system string
	// safety tells that what it tests can hurt someone. Its published limits are
	// then never loosened by a limit of the machine's own.
	safety bool
	// results are the names of what it finds, other than its own, that a log may
	// also write under measured:.
	results []string
	about   string
	caution string
	source  string
	inputs  []input
	example string
	// run computes and judges; it may report problems, and is only called with
	// inputs that are all there and of the right sort.
	run func(b *bench)
}

// kindsEngine are the tests of engines, fuel, ignition and cooling.
var kindsEngine = []kind{
	compression, leakDown, bore, journal, ringEndGap, crankshaftEndPlay, valveClearance, runout,
	displacement, compressionRatio, pistonSpeed,
	fuelMix, oilConsumption, fuelRate,
	torque, coolant, pressureAtTemperature, headTemperature,
	plugGap, armatureAirGap, coilResistance,
}

var byName = sync.OnceValue(func() map[string]*kind { return index(kindsEngine, kindsOther) })

// index files the tests under each of their names, in small letters.
func index(lists ...[]kind) map[string]*kind {
	all := map[string]*kind{}
	for _, list := range lists {
		for i := range list {
			for _, name := range append([]string{list[i].name}, list[i].also...) {
				all[strings.ToLower(name)] = &list[i]
			}
		}
	}
	return all
}

// Kinds is the help on every test, in English, sorted by name.
func Kinds() []Kind { return KindsIn(catalog.English) }

// KindsIn is Kinds in the language of a catalog.
func KindsIn(words *catalog.Catalog) []Kind {
	var all []Kind
	for _, list := range [][]kind{kindsEngine, kindsOther} {
		for i := range list {
			all = append(all, list[i].help(words))
		}
	}
	slices.SortFunc(all, func(a, b Kind) int { return strings.Compare(a.Name, b.Name) })
	return all
}

func (k *kind) help(words *catalog.Catalog) Kind {
	h := Kind{
		Name: k.name, Also: slices.Clone(k.also), System: k.system, Safety: k.safety, Example: k.example,
		About: words.Say(k.about), Source: words.Say(k.source), Caution: words.Say(k.caution),
	}
	for _, in := range k.takes() {
		h.Inputs = append(h.Inputs, InputHelp{
			Name: in.name, Takes: in.wants(words), Needed: in.need, Help: words.Say(in.help),
		})
	}
	return h
}

// takes are the inputs of a test: its own, and those that all have.
func (k *kind) takes() []input { return append(slices.Clone(k.inputs), systemInput) }

// names are the test's names for a message, sorted.
func names() []string {
	var all []string
	for _, k := range Kinds() {
		all = append(all, k.Name)
	}
	return all
}

// Measurand tells of a thing that can be measured, by the exact name of a bench
// test or of what one finds: the system that it belongs to, and whether it can
// hurt someone.
func Measurand(name string) (system string, safety, known bool) {
	m, known := measurands()[logbook.Folded(name)]
	return m.system, m.safety, known
}

// Measurands are the names that Measurand knows, sorted.
func Measurands() []string { return slices.Sorted(maps.Keys(measurands())) }

type measurand struct {
	system string
	safety bool
}

// measurands are by their folded names. Governed speed has no test of its own;
// on a machine with a blade or a generator it is a matter of safety, which the
// machine's sheet says.
var measurands = sync.OnceValue(func() map[string]measurand {
	all := map[string]measurand{"governed speed": {system: "engine"}, "idle speed": {system: "engine"}}
	for _, list := range [][]kind{kindsEngine, kindsOther} {
		for _, k := range list {
			for _, name := range slices.Concat([]string{k.name}, k.also, k.results) {
				all[logbook.Folded(name)] = measurand{k.system, k.safety}
			}
		}
	}
	return all
})
