package logbook

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
)

// everyday are the names that people give their machines, and the built-in
// sheet that each must find.
var everyday = map[string][]string{
	"walk-behind-mower":  {"walk-behind mower", "Walk behind mower", "mower", "lawn mower", "lawnmower", "lawn mowers", "push mower", "Push Mower", "push-mower", "self-propelled mower", "self propelled lawn mower", "rotary mower", "gas mower"},
	"electric-mower":     {"electric mower", "Electric Mowers", "cordless mower", "battery mower", "cordless lawn mower", "electric lawnmower", "corded mower", "battery lawn mower"},
	"ride-on-mower":      {"ride-on mower", "ride on mower", "riding mower", "riding lawn mower", "Riding Lawnmower", "lawn tractor", "Lawn Tractors", "garden tractor", "zero turn", "zero-turn", "zero-turn mower", "zero turn mower"},
	"walk-behind-tiller": {"walk-behind tiller", "tiller", "rototiller", "Rototillers", "garden tiller", "rear tine tiller", "rear-tine tiller", "front-tine tiller"},
	"cultivator":         {"cultivator", "mini tiller", "garden cultivator", "mini-cultivator", "electric cultivator"},
	"snow-thrower":       {"snow thrower", "snowthrower", "snow blower", "snowblower", "Snow Blowers", "snow-blower", "two-stage snow blower", "single stage snow thrower"},
	"electric-chainsaw":  {"electric chainsaw", "Electric Chain Saws", "cordless chainsaw", "battery chain saw", "corded chainsaw"},
	"chainsaw":           {"chainsaw", "chain saw", "Chain-Saw", "chainsaws", "gas chainsaw"},
	"string-trimmer":     {"string trimmer", "string trimmer and brush cutter", "brush cutter", "brushcutter", "trimmer", "line trimmer", "grass trimmer", "weed trimmer", "string-trimmer", "string trimmers"},
	"hedge-trimmer":      {"hedge trimmer", "hedge-trimmer", "hedge trimmers", "hedge cutter", "pole hedge trimmer"},
	"leaf-blower":        {"leaf blower", "leafblower", "blower", "backpack blower", "leaf blowers", "leaf vacuum"},
	"chipper-shredder":   {"chipper/shredder", "chipper shredder", "chipper", "wood chipper", "shredder", "Wood Chippers", "garden shredder"},
	"log-splitter":       {"log splitter", "log-splitter", "logsplitter", "wood splitter", "hydraulic log splitter"},
	"pressure-washer":    {"pressure washer", "power washer", "pressure-washer", "pressure washers"},
	"generator":          {"generator", "genset", "gensets", "portable generator", "gas generator", "generators"},
	"inverter-generator": {"inverter generator", "inverter-generator", "portable inverter generator", "suitcase generator"},
	"air-compressor":     {"air compressor", "compressor", "air-compressor", "pancake compressor", "shop air compressor"},
	"welder":             {"welder", "arc welder", "stick welder", "MIG welder", "mig welder", "welding machine", "TIG welder", "wire-feed welder"},
	"water-pump":         {"water pump", "trash pump", "transfer pump", "water pumps", "semi-trash pump"},
	"outboard":           {"outboard", "outboard motor", "Outboard Engine", "boat motor", "jon boat motor", "trolling motor", "outboards"},
	"motorcycle":         {"motorcycle", "motorcycle and moped", "moped", "mopeds", "scooter", "motor scooter", "dirt bike", "minibike", "mini bike", "motorbike"},
	"bicycle":            {"bicycle", "bike", "e-bike", "ebike", "E-Bikes", "electric bike", "mountain bike", "bicycle and e-bike"},
	"golf-cart":          {"golf cart", "golf carts", "golf-cart", "golf car", "electric golf cart"},
	"band-saw":           {"band saw", "bandsaw", "band-saw", "metal band saw", "horizontal bandsaw"},
	"table-saw":          {"table saw", "tablesaw", "table saws", "contractor saw", "cabinet saw"},
	"jointer-planer":     {"jointer and planer", "jointer", "planer", "thickness planer", "jointer/planer", "jointer-planer", "wood planer"},
	"bench-grinder":      {"bench grinder", "bench-grinder", "pedestal grinder", "bench grinders", "buffer"},
	"drill-press":        {"drill press", "drillpress", "bench drill", "drill-press", "floor drill press"},
	"metal-lathe":        {"metal lathe", "lathe", "lathes", "engine lathe", "bench lathe", "mini lathe"},
	"wood-lathe":         {"wood lathe", "woodturning lathe", "wood turning lathe", "wood lathes"},
	"milling-machine":    {"milling machine", "mill", "knee mill", "bench mill", "mill/drill", "vertical mill"},
	"sewing-machine":     {"sewing machine", "sewing machines", "industrial sewing machine", "serger", "treadle sewing machine"},
	"bench-machine-tool": {"bench machine tool", "machine tool"},
}

// A mechanic names a machine as people do, in any case, with a hyphen or a
// space, one or many; the sheet is found, and only one.
func TestEverydayKindsFindTheirSheet(t *testing.T) {
	sheets, err := builtInSheets()
	if err != nil {
		t.Fatal(err)
	}
	names := 0
	for want, kinds := range everyday {
		for _, kind := range kinds {
			names++
			if got := sheetsFor(sheets, kind); !slices.Equal(got, []string{want}) {
				t.Errorf("%q finds %v, want %s", kind, got, want)
			}
		}
	}
	if names < 120 {
		t.Errorf("only %d names", names)
	}
	for _, s := range sheets {
		if _, ok := everyday[s.Name]; !ok && s.Name != "general" {
			t.Errorf("no everyday name is tried for the sheet %s", s.Name)
		}
	}
}

// What no sheet is for finds none, so that the report can say so.
func TestOtherKindsFindNoSheet(t *testing.T) {
	sheets, err := builtInSheets()
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range []string{"saw", "walk-behind edger", "farm tractor", "circular saw", "angle grinder", "snowmobile", "machine", "drill", "pump"} {
		if got := sheetsFor(sheets, kind); len(got) > 0 {
			t.Errorf("%q finds %v", kind, got)
		}
	}
}

func sheetsFor(sheets []Sheet, kind string) []string {
	var names []string
	for i := range sheets {
		if sheets[i].isFor(kind) {
			names = append(names, sheets[i].Name)
		}
	}
	return names
}

// sheetText is a sheet as its file has it: the rules below hold for what was
// written, whatever the reader makes of it.
type sheetText struct {
	Sheet string `yaml:"sheet"`
	Items []struct {
		Item   string `yaml:"item"`
		System string `yaml:"system"`
		Safety string `yaml:"safety"`
		Short  string `yaml:"short"`
		How    string `yaml:"how"`
		Look   string `yaml:"look"`
	} `yaml:"items"`
}

// The front sheet names points by their short names and asks a buyer to look:
// each point has both, no two of a sheet are the same, and what keeps people
// from harm is always a matter of safety.
func TestEachPointHasAShortNameAndALook(t *testing.T) {
	names, err := fs.Glob(builtIn, "sheets/*.md")
	if err != nil || len(names) < 32 {
		t.Fatalf("%d sheets, %v", len(names), err)
	}
	for _, name := range names {
		sheet := sheetFile(t, name)
		if n := len(sheet.Items); n < 15 || n > 30 {
			t.Errorf("%s has %d points", name, n)
		}
		seen := map[string]string{}
		for _, i := range sheet.Items {
			at := path.Base(name) + ": " + i.Item
			for field, rule := range map[string]struct {
				text  string
				words int
			}{"item": {i.Item, 10}, "short": {i.Short, 4}, "how": {i.How, 25}, "look": {i.Look, 15}} {
				if n := len(strings.Fields(rule.text)); n == 0 || n > rule.words {
					t.Errorf("%s: %s has %d words: %q", at, field, n, rule.text)
				}
				key := field + " " + strings.ToLower(rule.text)
				if other := seen[key]; other != "" && field != "how" {
					t.Errorf("%s: the %s is that of %q too: %q", at, field, other, rule.text)
				}
				seen[key] = i.Item
			}
			if !slices.Contains(Systems, i.System) {
				t.Errorf("%s: %q is no system", at, i.System)
			}
			always := slices.Contains([]string{"guards", "brakes", "steering"}, i.System)
			if i.Safety != "yes" && (i.Safety != "no" || always) {
				t.Errorf("%s: safety is %q in %s", at, i.Safety, i.System)
			}
		}
	}
}

func sheetFile(t *testing.T, name string) sheetText {
	t.Helper()
	data, err := builtIn.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.SplitN(string(data), "---\n", 3)
	if len(parts) != 3 || strings.TrimSpace(parts[2]) == "" {
		t.Fatalf("%s has no front matter, or no words below it", name)
	}
	var sheet sheetText
	if err := yaml.Unmarshal([]byte(parts[1]), &sheet); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return sheet
}
