package desk

import (
	"slices"
	"strings"

	"asleft/generator/logbook"
)

// A field is one field of a file of the shop as a form asks for it.
type field struct {
	name string // in the file
	path string // from the top of the file: parts/core/deposit
	ask  asking
	list bool     // several of it, one below the other
	of   []*field // the fields in it; none for a text
}

// An asking is how a text is asked for.
type asking int

// A line is the plainest; paragraph grows; lines are several texts, each on its own;
// systems are boxes to tick; choice is one of some words and nothing else; features and
// inputs are fields whose names depend on the machine and on the bench test; length is a
// length of time.
const (
	line asking = iota
	paragraph
	lines
	systems
	choice
	date
	clock
	length
	money
	features
	inputs
)

// asked are the fields that are not asked for as a line, by file and path.
var asked = map[string]map[string]asking{
	logbook.FileShop: {
		"terms": paragraph, "show/hours": choice, "show/parts_cost": choice, "show/serial": choice, "publish/bucket": choice, "publish/tls": choice, "systems/part_of": systems, "labor_rate": money,
	},
	logbook.FileMachine: {
		"story": paragraph, "private": paragraph, "stage": choice, "arrived": date, "asking": money, "bought/paid": money, "sold/date": date,
		"sold/price": money, "sheet": lines, "was": lines, "has": features, "missing/system": choice, "missing/safety": choice,
		"limits/system": choice, "limits/safety": choice, "meter_true": choice,
	},
	logbook.FileEntry: {
		"date": date, "time": clock, "private": paragraph, "hours/from": clock, "hours/to": clock, "hours/less": length, "hours/lasted": length, "ran": length,
		"checks/result": choice, "checks/note": paragraph, "checks/as_found": choice, "checks/system": choice, "checks/safety": choice,
		"diagnosis/tried": paragraph, "diagnosis/saw": paragraph, "diagnosis/so": paragraph, "diagnosis/system": choice,
		"measured/as_found": choice, "measured/system": choice, "tests": inputs,
		"defects/effect": paragraph, "defects/system": choice, "defects/safety": choice,
		"repaired/how": paragraph, "repaired/proof": paragraph, "repaired/affects": systems,
		"worked_around/how": paragraph, "worked_around/left": paragraph, "worked_around/affects": systems,
		"parts/source": choice, "parts/system": choice, "parts/consumable": choice, "parts/price_unknown": choice, "parts/affects": systems,
		"parts/answers": lines, "parts/fate": choice, "parts/each": money, "parts/shipping": money, "parts/core/deposit": money,
		"parts/supplied_by": choice, "costs/amount": money,
		"changed/why": paragraph, "changed/caution": paragraph, "changed/system": choice, "changed/safety": choice, "changed/adds": choice, "changed/affects": systems,
		"put_back/how": paragraph, "put_back/affects": systems, "worked_on": systems,
		"service/system": choice, "service/answers": lines,
		"photos/caption": paragraph, "photos/cover": choice, "photos/private": choice,
	},
	logbook.FileSheet: {
		"also": lines, "blade": choice, "generator": choice, "general": choice, "items/system": choice, "items/safety": choice,
		"items/how": paragraph, "items/look": paragraph, "items/answered_by": lines, "leave_out/why": paragraph,
	},
}

// fieldsOf are the fields of a file, those that stand in others below them.
func fieldsOf(file string) []*field {
	top := &field{}
	for _, f := range logbook.Fields {
		if f.File != file {
			continue
		}
		into := top
		names := strings.Split(f.Path, "/")
		for _, name := range names[:len(names)-1] {
			into = into.find(name)
		}
		into.of = append(into.of, &field{
			name: names[len(names)-1], path: f.Path, ask: asked[file][f.Path], list: isList(f.Example),
		})
	}
	return top.of
}

// isList tells whether an example is a list of fields.
func isList(example string) bool { return strings.HasPrefix(example, "[{") }

func (f *field) find(name string) *field { return find(f.of, name) }

func find(all []*field, name string) *field {
	if n := slices.IndexFunc(all, func(f *field) bool { return f.name == name }); n >= 0 {
		return all[n]
	}
	return nil
}

// A group is some fields of a form that belong together; seldom ones are folded.
type group struct {
	name   string // its title is in the catalog
	fields []string
	seldom bool
}

// story stands for the text below the fields, and listed for the points of the machine's
// list.
const (
	story  = "*story"
	listed = "*listed"
)

// groups are the forms, in the order of the work.
var groups = map[string][]group{
	logbook.FileShop: {
		{"shop", []string{"shop", "place", "contact", "currency", "timezone", "altitude", "labor_rate"}, false},
		{"shop-story", []string{story}, false},
		{"shop-site", []string{"web", "theme", "language", "show", "terms"}, false},
		{"shop-systems", []string{"systems"}, true},
	},
	logbook.FileMachine: {
		{"machine", []string{"name", "kind", "maker", "model", "serial", "year", "arrived", "stage", "asking"}, false},
		{"machine-sale", []string{"sold"}, true},
		{"machine-story", []string{"story", story}, false},
		{"machine-plate", []string{"engine", "engines", "motor", "alternator", "battery"}, true},
		{"machine-missing", []string{"missing", "attachments"}, true},
		{"machine-limits", []string{"limits"}, true},
		{"machine-list", []string{"has", "leave_out", "sheet"}, true},
		{"machine-own", []string{"bought", "owner", "private", "meter_true", "was"}, true},
	},
	logbook.FileEntry: {
		{"evening", []string{"date", "time", "title", story}, false},
		{"photos", []string{"photos"}, false},
		{"hours", []string{"hours", "meter", "ran"}, false},
		{"listed", []string{listed}, true},
		{"found", []string{"checks", "diagnosis"}, true},
		{"measured", []string{"measured", "tests"}, true},
		{"defects", []string{"defects"}, true},
		{"parts", []string{"parts", "costs"}, true},
		{"repairs", []string{"repaired", "worked_around", "gone"}, true},
		{"changed", []string{"changed", "put_back"}, true},
		{"service", []string{"service", "worked_on"}, true},
		{"evening-more", []string{"by", "odometer", "meter_replaced", "private"}, true},
	},
	logbook.FileSheet: {
		{"sheet", []string{"sheet", "also", story}, false},
		{"points", []string{"items"}, false},
		{"sheet-more", []string{"leave_out", "blade", "generator", "general"}, true},
	},
}

// often are the fields of a row that stand in sight; the rest of the row is folded.
// A row that is not named here has all of them in sight.
var often = map[string][]string{
	"hours": {"from", "to", "lasted", "task"}, "checks": {"item", "result", "note"}, "measured": {"what", "where", "value", "gauge"},
	"defects": {"defect", "effect", "system", "safety"}, "parts": {"part", "qty", "each", "tax", "source", "system"},
	"repaired": {"key", "how", "proof"}, "worked_around": {"key", "how", "left"}, "changed": {"what", "why", "system", "safety"},
	"put_back": {"key", "how"}, "service": {"what", "amount", "grade", "system"}, "photos": {"file", "alt", "caption"},
	"limits": {"what", "where", "limit", "source"}, "items": {"item", "system", "safety", "how", "look"},
	"missing": {"part", "system", "safety"},
}
