package generator_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"
)

// The mirror of the oracle: what a report says that the log does not hold is
// held against the raw front matter, sentence by sentence as data.

// Nothing that the log lacks is told of what it holds.
func TestAccusesNobody(t *testing.T) {
	told := 0
	eachShop(t, func(t *testing.T, seed uint64, files map[string]string, all map[string]tellings) {
		for key, m := range rawMachines(t, files) {
			var wrong []string
			for _, s := range all[key].record.Subjects {
				if s.Absent != nil {
					told++
				}
				wrong = append(wrong, m.accused(s)...)
			}
			wrong = append(wrong, m.accusedInText(all[key])...)
			if len(wrong) > 0 {
				t.Errorf("seed %d, machine %s:\n  %s\n%s", seed, key, atMost(wrong, 12), filesOf(files, key))
				return
			}
		}
	})
	if told == 0 {
		t.Error("no record says of anything that the log lacks it")
	}
}

// accused are the absences and the works told of a subject which the raw log
// does not bear out.
func (m *rawMachine) accused(s toldOfASubject) []string {
	var wrong []string
	say := func(format string, args ...any) {
		wrong = append(wrong, fmt.Sprintf("record.json: %s %s %q (%s): ", s.Kind, s.Key, s.Name, s.Standing)+fmt.Sprintf(format, args...))
	}
	if s.Absent != nil {
		if why := m.untrue(s); why != "" {
			say("says that there is no %s since %q: %s", s.Absent.Of, s.Absent.Since, why)
		}
	}
	if s.Touched != nil {
		if why := m.untouched(s); why != "" {
			say("says that %q touched it on %s: %s", s.Touched.By, s.Touched.Date, why)
		}
	}
	text := plainWords(s.Told)
	for sentence, of := range map[string]string{"lists no check": "check", "lists no proof": "proof", "no reading since": "reading"} {
		if strings.Contains(text, sentence) && (s.Absent == nil || s.Absent.Of != of) {
			say("is told of with %q, and its data do not say so: %q", sentence, s.Told)
		}
	}
	if strings.Contains(text, "did not say if") && s.Safety != "not said" && s.Kind != "meter" {
		say("is told of as not said, with safety %q", s.Safety)
	}
	if strings.Contains(text, "does not say where") && s.Touched != nil && !m.workNowhere(s.Touched.Entry) {
		say("is told of with work of which the log does not say where, and it always says: %q", s.Told)
	}
	return wrong
}

// workNowhere tells whether an entry has work without a system.
func (m *rawMachine) workNowhere(file string) bool {
	return slices.ContainsFunc(m.works, func(w rawWork) bool { return m.entries[w.entry].file == file && w.plain == "" })
}

// untrue says what the raw log holds of which a record says that there is none.
func (m *rawMachine) untrue(s toldOfASubject) string {
	switch s.Absent.Of {
	case "check":
		return m.untrueCheck(s)
	case "verdict": // there is a reading, and it has none
		for _, p := range m.allPoints() {
			elsewhere, _ := m.otherPlaces(p)
			for _, a := range p.answers {
				if a.measured != nil && len(elsewhere) > 0 {
					continue // one place is no verdict on a point that has several
				}
				if strings.EqualFold(p.written, s.Name) && (a.result == "works" || a.result == "fails") && m.after(s, a.entry, a.found) {
					return fmt.Sprintf("%q %s in %s", p.written, a.result, m.entries[a.entry].file)
				}
			}
			if strings.EqualFold(p.written, s.Name) && len(p.measured) == 0 {
				return "nothing was measured of it"
			}
		}
	case "proof":
		return m.untrueProof(s)
	case "reading":
		for _, g := range m.gauged {
			if strings.Contains(s.says(), plainWords(g.where)) {
				for _, r := range g.readings {
					if m.after(s, r.entry, r.found) {
						return fmt.Sprintf("%s in %s", r.value, m.entries[r.entry].file)
					}
				}
			}
		}
	case "replacement":
		for _, f := range m.list("missing") {
			if fact := m.missingFact(f); strings.Contains(s.says(), plainWords(fact.id)) && fact.is("in order") {
				return "it was replaced"
			}
		}
	case "list":
		if m.listed {
			return "there is one for " + m.text("kind")
		}
	case "statement":
		if s.Kind == "meter" && m.text("meter_true") != "" {
			return "machine.md says " + m.text("meter_true")
		}
		if s.Kind != "meter" && s.Safety != "not said" {
			return "its safety is " + s.Safety
		}
	case "limit":
		for _, g := range m.gauged {
			if strings.Contains(s.says(), plainWords(g.where)) && g.limited {
				return "it has a limit"
			}
		}
	default:
		return "the oracle knows no such thing"
	}
	return ""
}

// after tells whether evidence of an entry is surely from after the day on which
// a record says that nothing came any more.
func (m *rawMachine) after(s toldOfASubject, entry int, asFound bool) bool {
	if s.Absent.Since == "" {
		return true
	}
	e := m.entries[entry]
	if s.Touched == nil && e.text("date") == s.Absent.Since && m.overlappedOnDay(entry) {
		return false // of several entries of a day the data do not say which
	}
	for _, w := range m.entries {
		if s.Touched != nil && s.Touched.Entry != "" && w.file != s.Touched.Entry || w.text("date") != s.Absent.Since {
			continue
		}
		if w.file == e.file {
			return !asFound && !m.overlapped(entry) && !slices.ContainsFunc(m.defects, func(d *rawDefect) bool {
				return slices.ContainsFunc(d.findings, func(f finding) bool { return m.entries[f.entry].file == w.file })
			})
		}
		if !w.surelyBefore(e) {
			return false
		}
	}
	return e.text("date") >= s.Absent.Since
}

// overlapped tells whether another entry may be before or after this one.
func (m *rawMachine) overlapped(entry int) bool {
	e := m.entries[entry]
	return slices.ContainsFunc(m.entries, func(o rawEntry) bool { return o.file != e.file && !o.surelyBefore(e) && !e.surelyBefore(o) })
}

// overlappedOnDay tells whether another entry is of the same day.
func (m *rawMachine) overlappedOnDay(entry int) bool {
	return slices.ContainsFunc(m.entries, func(o rawEntry) bool {
		return o.file != m.entries[entry].file && o.text("date") == m.entries[entry].text("date")
	})
}

// namesPoint tells whether a defect says which point it fails.
func (m *rawMachine) namesPoint(key string) bool {
	return slices.ContainsFunc(m.defects, func(d *rawDefect) bool { return d.key == key && len(d.points) > 0 })
}

func (m *rawMachine) untrueCheck(s toldOfASubject) string {
	for _, p := range m.allPoints() {
		own := s.Kind == "point" && strings.EqualFold(p.written, s.Name)
		itself := own && s.Touched == nil // nothing since the day of its failure
		if !own && (s.Kind == "point" || m.namesPoint(s.Key) || !p.systems.meets(setOf(s.Systems...)) || s.Absent.Since == "") {
			continue
		}
		if d := m.defect(s.Key); d != nil && slices.ContainsFunc(d.wordings, func(w *wording) bool { return !p.systems.meets(w.systems) }) {
			continue // each wording has to be proven in its own systems
		}
		for _, a := range p.answers {
			if a.result == "works" || own && (a.result == "fails" || a.measured != nil) {
				if itself && a.result == "fails" && m.entries[a.entry].text("date") == s.Absent.Since {
					continue
				}
				if m.after(s, a.entry, a.found) && (own || !p.failsIn(a.entry)) {
					return fmt.Sprintf("%q %s in %s", p.written, a.result, m.entries[a.entry].file)
				}
			}
		}
	}
	return ""
}

func (m *rawMachine) untrueProof(s toldOfASubject) string {
	for _, d := range m.defects {
		if d.key != s.Key || !strings.Contains(s.says(), plainWords(d.wordings[0].text)) {
			continue
		}
		if !slices.ContainsFunc(d.wordings, func(w *wording) bool {
			return w.state != "proven" || s.Absent.Since != "" && !m.after(s, w.proved, false)
		}) {
			return "every wording of it has its proof"
		}
	}
	return ""
}

var nonceWord = regexp.MustCompile(`qz\d+z`)

// untouched says why the work that a record names is not in the raw log.
func (m *rawMachine) untouched(s toldOfASubject) string {
	n := slices.IndexFunc(m.entries, func(e rawEntry) bool { return e.file == s.Touched.Entry })
	if n < 0 {
		return "there is no such entry"
	}
	e := m.entries[n]
	if e.text("date") != s.Touched.Date {
		return "that entry is of " + e.text("date")
	}
	if s.Kind == "measurement" || s.Kind == "point" || s.Kind == "defect" {
		systems, vague := m.systems(s.Systems...)
		names := []string{s.Name, strings.Split(s.Name, ",")[0]}
		for _, g := range m.gauged {
			if s.Kind == "measurement" && strings.Contains(plainWords(s.Name), plainWords(g.where)) {
				names = append(names, g.names...)
			}
		}
		for _, item := range slices.Concat(m.items, m.off) {
			if s.Kind == "point" && item.text("item") == s.Name {
				names = append(names, item.text("short"))
			}
		}
		worked := m.worked(n, systems, vague, names...) != no
		for _, p := range m.allPoints() {
			for _, g := range p.measured { // what touched one place of it
				worked = worked || s.Kind == "point" && p.written == s.Name && m.worked(n, g.systems, g.vague, g.names...) != no
			}
		}
		for _, d := range m.defects {
			for _, f := range d.findings {
				worked = worked || f.entry == n
			}
		}
		if !worked {
			return "that entry shows no work on it"
		}
	}
	for _, word := range nonceWord.FindAllString(s.Touched.By, -1) {
		if !strings.Contains(asText(e.fields), word) && !strings.Contains(asText(m.fields), word) && !m.saidOf(word) {
			return "that entry does not say " + word
		}
	}
	return ""
}

// saidOf tells whether a word is one of a defect or a change: a repair goes by
// the name of what it mends.
func (m *rawMachine) saidOf(word string) bool {
	for _, d := range m.defects {
		if strings.Contains(strings.Join(d.said, " ")+d.key, word) {
			return true
		}
	}
	return slices.ContainsFunc(m.works, func(w rawWork) bool { return strings.Contains(w.says+w.key, word) })
}

// asText are all the words of a mapping.
func asText(v any) string {
	switch v := v.(type) {
	case fields:
		var b strings.Builder
		for _, x := range v {
			b.WriteString(asText(x) + " ")
		}
		return b.String()
	case []any:
		var b strings.Builder
		for _, x := range v {
			b.WriteString(asText(x) + " ")
		}
		return b.String()
	case string:
		return v
	}
	return ""
}

// neverSaid are sentences that turn "nobody wrote it down" into "nobody did it",
// or say a number that nobody wrote. No generated log has terms, hours of zero
// or a run time.
var neverSaid = []string{
	"nobody checked", "nobody has proven", "was worked on", "ran 0 min", "put into it: 0 min", "sold as is",
	"the shop believes", "nobody looked",
}

// accusedInText are the accusations in the words of the pages and the texts.
func (m *rawMachine) accusedInText(t tellings) []string {
	var wrong []string
	pages := map[string]string{"condition page": t.condition, "listing": t.listing, "text to paste": t.long, "short text to paste": t.short}
	for page, text := range pages {
		for _, words := range neverSaid {
			if strings.Contains(text, words) {
				wrong = append(wrong, fmt.Sprintf("the %s says %q", page, words))
			}
		}
		for _, f := range m.facts() {
			for _, name := range f.names {
				if f.kind == "point" && f.is("in order") && strings.Contains(text, "no check of "+plainWords(name)) {
					wrong = append(wrong, fmt.Sprintf("the %s says that the log lists no check of %q, which works", page, name))
				}
			}
		}
	}
	return wrong
}

// What stands better since a report was sealed, because the log says more of what it leans
// on, is nothing that the log no longer says.
func TestAccusesNobodyBetweenSeals(t *testing.T) {
	const tank = "\"fuel tank, lines and cap do not leak\""
	works := entryOf("2026-04-02-c", "checks: [{item: "+flapPoint+", result: works}]\n")
	for name, c := range map[string]struct{ sealed, since, limits string }{
		"a repair that a point proves":      {sealed: entryOf("2026-03-02-a", "defects: [{key: f, defect: flap is torn, system: guards}]\nrepaired: [{key: f, how: a new flap, proof: looks like a new flap}]\n"), since: works},
		"what is gone, by a point":          {sealed: entryOf("2026-03-02-a", "defects: [{key: f, defect: flap is torn, system: guards}]\nparts: [{part: deck, source: used, system: guards}]\ngone: [{key: f, with: deck}]\n"), since: works},
		"a point whose defect is mended":    {sealed: entryOf("2026-03-02-a", "checks: [{item: "+tank+", result: fails}]\ndefects: [{key: f, defect: tank leaks, system: fuel, safety: yes, point: "+tank+"}]\n"), since: entryOf("2026-04-02-c", "repaired: [{key: f, how: a new tank, proof: dry after two days}]\n")},
		"a repair that a reading proves":    {sealed: entryOf("2026-03-02-a", "defects: [{key: f, defect: the blade turns on, system: guards, point: "+stopPoint+"}]\nrepaired: [{key: f, how: a new brake}]\n"), since: entryOf("2026-04-02-c", "measured: [{what: blade stopping time, value: 2 s, gauge: 0.1 s}]\n")},
		"a reading that has a limit by now": {sealed: entryOf("2026-03-02-a", "measured: [{what: compression, value: 80 psi}]\n"), limits: "limits: [{what: compression, limit: \">= 60 psi\"}]\n"},
	} {
		t.Run(name, func(t *testing.T) {
			folder := memoryShop(t, mowerShop(t, c.sealed))
			sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-04-01")
			now := mowerShop(t, c.sealed+c.since)
			now["machines/m/machine.md"] = strings.Replace(now["machines/m/machine.md"], "arrived:", c.limits+"arrived:", 1)
			for file, text := range now {
				if err := afero.WriteFile(folder, file, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if _, _, made := sealReport(t, folder, afero.NewMemMapFs(), "m", "2026-05-01"); len(made.Seal.Facts.Gone) > 0 {
				t.Errorf("it tells as gone: %+v", made.Seal.Facts.Gone)
			}
		})
	}
}
