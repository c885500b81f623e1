package benchtest

import (
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
	// results are the names of what it finds that can be held against a limit, other
	// than its own; a log may also write them under measured:.
	results []string
	// reads is the name of its result where that is the very thing that is read, and not
	// worked out: a plain reading under the test's name is of that then. Ceiling is a
	// published limit beyond which no reading of it can be, whatever its conditions. ReadAs
	// are its other names where those of the test may be of other things: top speed of a
	// cart is in miles an hour.
	reads   string
	readAs  []string
	ceiling published
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

// kindsAdded are the tests that stand in a file of their own and name themselves
// there.
var kindsAdded []kind

// add puts a test among the others: "var _ = add(kind{...})" in its own file is all
// that it takes.
func add(k kind) struct{} {
	kindsAdded = append(kindsAdded, k)
	return struct{}{}
}

// registered are all the tests, sorted by name.
var registered = sync.OnceValue(func() []*kind {
	var all []*kind
	for _, list := range [][]kind{kindsEngine, kindsOther, kindsAdded} {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	slices.SortFunc(all, func(a, b *kind) int { return strings.Compare(a.name, b.name) })
	return all
})

// byName are the tests under each of their names, in small letters.
var byName = sync.OnceValue(func() map[string]*kind {
	all := map[string]*kind{}
	for _, k := range registered() {
		for _, name := range append([]string{k.name}, k.also...) {
			all[strings.ToLower(name)] = k
		}
	}
	return all
})

// Kinds is the help on every test, in English, sorted by name.
func Kinds() []Kind { return KindsIn(catalog.English) }

// KindNamed is the help on the test that goes by that name.
func KindNamed(name string) (Kind, bool) {
	k, ok := byName()[strings.ToLower(strings.TrimSpace(name))]
	if !ok {
		return Kind{}, false
	}
	return k.help(catalog.English), true
}

// KindsIn is Kinds in the language of a catalog.
func KindsIn(words *catalog.Catalog) []Kind {
	var all []Kind
	for _, k := range registered() {
		all = append(all, k.help(words))
	}
	return all
}

// names are a test's own name and the others that it goes by.
func (k *kind) names() []string { return append([]string{k.name}, k.also...) }

func (k *kind) help(words *catalog.Catalog) Kind {
	h := Kind{
		Name: k.name, Also: slices.Clone(k.also), System: k.system, Safety: k.safety, Tools: k.tools(), Example: k.example,
		About: words.Say(k.about), Source: words.Say(k.source), Caution: words.Say(k.caution),
	}
	for _, in := range k.takes() {
		h.Inputs = append(h.Inputs, InputHelp{
			Name: in.name, Takes: in.wants(words), Needed: in.need, Several: in.each != "" || in.parts != nil, Help: words.Say(in.help),
			Example: in.reading(), Parts: in.parts, Words: in.choices(),
		})
	}
	return h
}

// takes are the inputs of a test: its own, and those that all have.
func (k *kind) takes() []input {
	all := append(slices.Clone(k.inputs), systemInput)
	if slices.ContainsFunc(k.inputs, func(i input) bool { return i.name == stateInput.name }) {
		return all
	}
	return append(all, stateInput)
}

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

type measurand struct {
	system string
	safety bool
}

// measurands are by their folded names. Governed speed has no test of its own;
// on a machine with a blade or a generator it is a matter of safety, which the
// machine's sheet says.
var measurands = sync.OnceValue(func() map[string]measurand {
	all := map[string]measurand{"governed speed": {system: "engine"}, "idle speed": {system: "engine"}}
	for _, k := range registered() {
		for _, name := range slices.Concat([]string{k.name}, k.also, k.results) {
			all[logbook.Folded(name)] = measurand{k.system, k.safety}
		}
	}
	return all
})
