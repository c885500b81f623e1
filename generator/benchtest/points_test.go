package benchtest

import (
	"slices"
	"testing"

	"asleft/generator/logbook"
)

// named tells whether a point's list of what answers it has a result of a test in it:
// by the test's name, or by the result's own.
func named(by []string, k *kind, result string) bool {
	return slices.ContainsFunc(by, func(n string) bool {
		return logbook.Same(n, k.name) || logbook.Same(MeasuredAs(n), MeasuredAs(result))
	})
}

func itemOf(t *testing.T, all []*logbook.Sheet, kind, item string) logbook.Item {
	t.Helper()
	for _, s := range all {
		for _, i := range s.Items {
			if s.Kind == kind && i.Item == item {
				return i
			}
		}
	}
	t.Fatalf("no point %q on the sheet of a %s", item, kind)
	return logbook.Item{}
}

// Nothing is "not checked" that a built-in test measured: what a test of a safety matter
// finds answers a point of each list of a kind that it is for. Where no list asks for it,
// it says why.
func TestSafetyTestsAnswerTheirPoints(t *testing.T) {
	const pin, megohm, holds = "frame is joined to the ground pin", "insulation resistance is above the limit", "parking brake holds on a slope"
	points := map[string]map[string][]string{ // by the test and the point, the kinds
		"parking brake":             {holds: {"ride-on mower", "golf cart", "any powered machine"}},
		"chain brake stopping time": {"chain brake stops the chain at once": {"chainsaw", "electric chainsaw"}},
		"ground-fault trip time":    {"ground-fault outlets trip on the test button": {"generator", "inverter generator"}},
		"blade stopping time": {
			"blade stops within three seconds of release": {"walk-behind mower", "electric mower"}, "blades stop soon after being switched off": {"ride-on mower"},
			"blade stops within the manual's time": {"table saw", "band saw"}, "blades stop when the trigger is let go": {"hedge trimmer"},
			"working part stops soon after switching off": {"any powered machine"},
		},
		"grounding continuity":  {pin: nil, "ground pins are joined to the frame": nil, "case is joined to the ground pin": {"welder"}},
		"insulation resistance": {megohm: nil},
	}
	reasons := map[string]string{
		"blade tip speed": "no list asks for it: the points of full speed are of the engine's, and which blade makes what of that the test alone tells",
		"leakage current": "no list asks for it: it is what the points of the ground pin and of the insulation are there to keep small",
	}
	shop, _, _ := read(t, testShop, plainMachine, kindNamed(t, "torque").example)
	for _, k := range registered() {
		if !k.safety {
			continue
		}
		if (points[k.name] == nil) != (reasons[k.name] != "") {
			t.Errorf("%s answers no point, and nothing says why", k.name)
		}
		for item, kinds := range points[k.name] {
			for _, s := range shop.Sheets {
				if kinds == nil && slices.ContainsFunc(s.Items, func(i logbook.Item) bool { return i.Item == item }) {
					kinds = append(kinds, s.Kind)
				}
			}
			if len(kinds) == 0 {
				t.Errorf("%s: no list has %q", k.name, item)
			}
			for _, kind := range kinds {
				by := itemOf(t, shop.Sheets, kind, item).AnsweredBy
				for _, result := range slices.Concat([]string{k.name}, k.results) {
					if result == k.name && k.reads != "" && k.reads != k.name {
						continue // that is the name of what it reads
					}
					if !named(by, k, result) {
						t.Errorf("%s of the test %s does not answer %q of a %s: %q", result, k.name, item, kind, by)
					}
				}
			}
		}
	}
}

// A point that goes by another name of a test goes by what the test finds too: results
// are told by their own names.
func TestPointsNameWhatATestFinds(t *testing.T) {
	shop, _, _ := read(t, testShop, plainMachine, kindNamed(t, "torque").example)
	seen := 0
	for _, s := range shop.Sheets {
		for _, i := range s.Items {
			for _, n := range i.AnsweredBy {
				for _, k := range registered() {
					if !slices.ContainsFunc(slices.Concat([]string{k.name}, k.also, k.results), func(name string) bool { return logbook.Same(name, n) }) {
						continue
					}
					seen++
					o := sound(t, plainMachine, k.example)
					if !slices.ContainsFunc(o.Results, func(r Result) bool { return named(i.AnsweredBy, k, r.What) }) && !logbook.Same(n, crankshaftRunout) {
						t.Errorf("%s, %q: %q answers it, but nothing that the test %s finds", s.Kind, i.Item, n, k.name)
					}
				}
			}
		}
	}
	if seen < 40 {
		t.Errorf("%d names of tests in all lists", seen)
	}
}
