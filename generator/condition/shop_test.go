package condition

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/tally"
)

// A rig is a shop of one machine, as its files.
type rig struct {
	shop, machine, sheet string
	entries              []string
	photos               []string // the files that the entries can name
	problems             bool     // the logbook has something to say; judge all the same
}

// sheetOfRig is the list of the rig's kind. What a bench test or a reading
// answers stands in it.
const sheetOfRig = `sheet: test rig
items:
  - {item: the blade stops at once, short: blade stop, system: guards, safety: yes, look: Watch from far off., answered_by: [blade stopping time]}
  - {item: the belt guard is on, short: belt guard, system: guards, safety: yes, look: Look at the belt from behind.}
  - {item: the brake holds, short: brake, system: brakes, safety: yes}
  - {item: it starts cold, short: cold start, system: engine, safety: no}
  - {item: it reaches full speed, short: full speed, system: engine, safety: yes, answered_by: [governed speed]}
  - {item: the tank does not leak, short: tank, system: fuel, safety: yes}
  - {item: reverse works, short: reverse, system: drive, safety: no, only_if: reverse}
  - {item: reverse stops, short: reverse stop, system: drive, safety: yes, only_if: reverse}
  - {item: the paint is whole, short: paint, system: frame, safety: no}
`

// judge reads the rig's files and judges its machine.
func (r rig) judge(t *testing.T) *Report {
	t.Helper()
	shop, tests := r.read(t)
	count, _ := tally.Count(shop, catalog.English)
	return Judge(shop, shop.Machines[0], count.Machines[0], tests, catalog.English)
}

// read reads the rig's files and works out its bench tests.
func (r rig) read(t *testing.T) (*logbook.Shop, []*benchtest.Outcome) {
	t.Helper()
	fs := afero.NewMemMapFs()
	write := func(name, front string) {
		if err := afero.WriteFile(fs, name, []byte("---\n"+front+"\n---\nA story.\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("shop.md", "shop: A shop\ncurrency: USD\n"+r.shop)
	if r.sheet == "" {
		r.sheet = sheetOfRig
	}
	write("sheets/rig.md", r.sheet)
	machine := "name: The rig\n" + r.machine
	if !strings.Contains(r.machine, "arrived:") {
		machine = "arrived: 2026-01-01\n" + machine
	}
	if !strings.Contains(r.machine, "kind:") {
		machine += "\nkind: test rig"
	}
	write("machines/rig/machine.md", machine)
	for i, e := range r.entries {
		if !strings.Contains(e, "title:") {
			e += fmt.Sprintf("\ntitle: Evening %d", i+1)
		}
		write(fmt.Sprintf("machines/rig/e%02d.md", i+1), e)
	}
	for _, name := range r.photos {
		if err := afero.WriteFile(fs, "machines/rig/photos/"+name, []byte("a photo"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	shop, problems, err := logbook.Read(fs, logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		if !r.problems {
			t.Errorf("the rig has a problem: %s", p)
		}
	}
	m := shop.Machines[0]
	ownList(m)
	var tests []*benchtest.Outcome
	for _, e := range m.Entries {
		for _, test := range e.Tests {
			out, problems := benchtest.Judge(shop, m, e, test, catalog.English)
			for _, p := range problems {
				t.Errorf("the rig's test has a problem: %s", p)
			}
			if out != nil {
				tests = append(tests, out)
			}
		}
	}
	return shop, tests
}

// ownList takes the general sheet out of a machine's list, which each kind without
// a sheet that comes with the program has besides its own: a rig's list is all
// that its rule needs.
func ownList(m *logbook.Machine) {
	general := func(s *logbook.Sheet) bool { return s.General }
	i := slices.IndexFunc(m.Sheets, general)
	if i < 0 {
		return
	}
	file := m.Sheets[i].File
	m.Sheets = slices.DeleteFunc(m.Sheets, general)
	m.Sheet.Items = slices.DeleteFunc(m.Sheet.Items, func(it logbook.Item) bool { return it.File == file })
	m.Sheet.Blade = slices.ContainsFunc(m.Sheets, func(s *logbook.Sheet) bool { return s.Blade })
	for _, s := range m.Sheets {
		s.BuiltIn = true
	}
	m.Sheet.Generator = slices.ContainsFunc(m.Sheets, func(s *logbook.Sheet) bool { return s.Generator })
}

// find is the subject of that kind and name; the last of several.
func find(t *testing.T, r *Report, kind Kind, name string) *Subject {
	t.Helper()
	var found *Subject
	for _, s := range r.Subjects {
		if s.Kind == kind && (logbook.Same(s.Name, name) || s.Key == name && name != "") {
			found = s
		}
	}
	if found == nil {
		t.Fatalf("no %s %q among the subjects", kind, name)
	}
	return found
}

// on is an entry of a day.
func on(day string, fields ...string) string {
	return "date: " + day + "\n" + strings.Join(fields, "\n")
}

// at is an entry of a day and a time.
func at(day, clock string, fields ...string) string {
	return on(day, append(fields, `time: "`+clock+`"`)...)
}

// check, defect and the like are fields of an entry.
func check(item, result string, more ...string) string {
	return "checks: [{item: " + item + ", result: " + result + joined(more) + "}]"
}

func defects(key, words, system string, more ...string) string {
	return "defects: [{key: " + key + ", defect: " + words + ", system: " + system + joined(more) + "}]"
}

func repaired(key string, more ...string) string {
	return "repaired: [{key: " + key + joined(more) + "}]"
}

func part(name string, more ...string) string {
	return "parts: [{part: " + name + ", source: new" + joined(more) + "}]"
}

func changes(what string, more ...string) string {
	return "changed: [{what: " + what + joined(more) + "}]"
}

func reading(what, value string, more ...string) string {
	return "measured: [{what: " + what + ", value: " + value + joined(more) + "}]"
}

func joined(more []string) string {
	if len(more) == 0 {
		return ""
	}
	return ", " + strings.Join(more, ", ")
}
