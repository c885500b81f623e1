package entry

import (
	"asleft/generator/catalog"
	"asleft/generator/frontmatter/yamlvalue"
	"asleft/generator/logbook"
)

// A Machine is a machine to be written down for the first time.
type Machine struct {
	Name, Kind, Maker, Model, Serial, Year string
	Stage                                  string // "in the shop" where empty
	Arrived, Asking                        string
	From, Paid                             string // private
	Owner                                  string // of a machine that is not the shop's; private
	Story                                  string
	Missing                                []string
	Private, Body                          string
}

// MachineFile is the name of a machine's file in the shop folder.
func MachineFile(key string) string { return dirOf(key) + "/machine.md" }

// Markdown is the machine as a file.
func (m Machine) Markdown() []byte {
	var f logFile
	f.line("---")
	for _, r := range m.rows() {
		f.row(r.row)
	}
	return f.close(m.Body)
}

// helped is a field with the remark that asks for it in a form; no remark where
// a form does not ask.
type helped struct {
	row
	help string // key of the sentence
}

// seen is a name without what nobody sees in it, which no reader of the folder takes.
func seen(s string) string { return logbook.WithoutHidden(yamlvalue.Tidy(s)) }

func (m Machine) rows() []helped {
	var missing []string
	for _, part := range m.Missing {
		if t := text(part); t != "" {
			missing = append(missing, t)
		}
	}
	return []helped{
		{row{name: "name", written: text(seen(m.Name))}, "entry.help-name"},
		{row{name: "kind", written: text(m.Kind)}, "entry.help-kind"},
		{row{name: "maker", written: text(seen(m.Maker))}, "entry.help-maker"},
		{row{name: "model", written: text(seen(m.Model))}, "entry.help-model"},
		{row{name: "serial", written: text(seen(m.Serial))}, "entry.help-serial"},
		{row{name: "year", written: value(seen(m.Year))}, "entry.help-year"},
		{row{name: "stage", written: text(m.Stage)}, ""},
		{row{name: "arrived", written: value(m.Arrived)}, "entry.help-arrived"},
		{row{name: "asking", written: value(m.Asking)}, ""},
		{row{name: "owner", written: text(m.Owner)}, ""},
		{row{name: "bought", written: filled(flow("from", text(m.From), "paid", value(m.Paid)))}, ""},
		{row{name: "story", written: block(m.Story)}, "entry.help-story"},
		{row{name: "missing", items: missing}, "entry.help-missing"},
		{row{name: "private", written: block(m.Private)}, ""},
	}
}

// A MachineOffer is what the form of a machine holds ready because it matters
// for one of this kind.
type MachineOffer struct {
	Engine  bool     // it has an engine
	Meter   bool     // it has an hour meter
	Depends []string // the things that points of its list depend on
}

// Form is the machine as a file, with a remark above each field that matters
// and has no value yet, and with examples of what it can hold besides. The form
// is a sound file as it stands.
func (m Machine) Form(o MachineOffer, words *catalog.Catalog) []byte {
	var f logFile
	f.line("---")
	for _, r := range m.rows() {
		if r.help != "" && r.written == "" && len(r.items) == 0 {
			f.comment(words.Say(r.help))
			f.line(r.name + ":")
			continue
		}
		f.row(r.row)
	}
	if len(o.Depends) > 0 {
		var has []string
		for _, what := range o.Depends {
			has = append(has, text(what), "yes")
		}
		f.comment(words.Say("entry.help-has"))
		f.line("#has: " + flow(has...))
	}
	if o.Meter {
		f.comment(words.Say("entry.help-meter-true"))
		f.line("#meter_true: yes")
	}
	if o.Engine {
		f.comment(words.Say("entry.help-engine"))
		f.line("#engine: {strokes: 4, cylinders: 1, bore: 68 mm, stroke: 54 mm, fuel: gasoline}")
	}
	if !o.Engine {
		f.comment(words.Say("entry.help-motor"))
		f.line("#motor: {power: 1/2 hp, volts: 115 V, amps: 8 A, hertz: 60 Hz, phases: 1, rpm: 1725 rpm}")
	}
	f.comment(words.Say("entry.help-limits"))
	f.line("limits:")
	example := `#  - {what: belt width, where: outside face, limit: ">= 0.60 in", source: "maker's sheet"}`
	if o.Engine {
		example = `#  - {what: compression, where: cylinder 1, limit: ">= 60 psi", source: "maker's sheet"}`
	}
	f.line(example)
	f.comment(words.Say("entry.help-opening"))
	return f.close(m.Body)
}
