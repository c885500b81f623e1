package condition

import (
	"strings"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// madeOf tells what is on the machine's plates, and what comes with it.
func (j *judge) madeOf(sec *Section) {
	say := func(key, said string) {
		if said != "" {
			sec.Statements = append(sec.Statements, Statement{Text: j.words.Say(key, "said", said), Evidence: []Evidence{j.itself}})
		}
	}
	for _, p := range j.machine.Plates {
		say(plateKeys[p.Of], PlateSaid(j.words, p))
	}
	say("made.attachments", AttachmentsSaid(j.words, j.machine))
}

var plateKeys = map[string]string{
	logbook.PlateMotor: "made.motor", logbook.PlateAlternator: "made.alternator", logbook.PlateBattery: "made.battery",
}

// PlateSaid is what the plate of a motor, an alternator or a battery says, in a row;
// of one of several with its name.
func PlateSaid(words *catalog.Catalog, p logbook.Plate) string {
	var parts []string
	if p.Kind != "" {
		parts = append(parts, clause(p.Kind))
	}
	for _, f := range p.Figures {
		if f.Count > 0 {
			parts = append(parts, words.Count("plate."+f.Name, f.Count))
		} else {
			parts = append(parts, f.String())
		}
	}
	said := words.Row(parts)
	if p.Name != "" && said != "" {
		return words.Say("plate.named", "name", clause(p.Name), "said", said)
	}
	return said
}

// AttachmentsSaid are what goes on a machine and comes with it, for the report and for the
// head of its pages.
func AttachmentsSaid(words *catalog.Catalog, m *logbook.Machine) string {
	var all []string
	for _, a := range m.Attachments {
		name := clause(strings.Join(strings.Fields(a.Name+" "+a.Maker+" "+a.Model), " "))
		if a.Note != "" {
			name = words.Say("made.attachment-note", "name", name, "note", clause(a.Note))
		}
		all = append(all, name)
	}
	return words.Each(all)
}
