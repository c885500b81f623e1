package generator_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/page"
)

// shopsOfChance is how many shops the oracle reads: few in a plain run,
// ASLEFT_ORACLE_SHOPS where more are wanted. Their seeds begin at
// ASLEFT_ORACLE_SEED, so that one shop can be looked at again.
func shopsOfChance(t testing.TB) (first, shops uint64) {
	t.Helper()
	return uint64(setting(t, "ASLEFT_ORACLE_SEED", 1)), uint64(setting(t, "ASLEFT_ORACLE_SHOPS", 60)) //nolint:gosec // small numbers
}

func setting(t testing.TB, name string, usual int) int {
	t.Helper()
	s := os.Getenv(name)
	if s == "" {
		return usual
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 {
		t.Fatalf("%s=%s is no number of one or more", name, s)
	}
	return n
}

// Tellings are all that the program tells of one machine.
type tellings struct {
	record      recordTwo
	front       string // the front sheet
	sections    map[string]string
	condition   string
	listing     string
	damaged     bool   // so says the listing's data for search engines
	long, short string // to paste
}

// recordTwo is as much of record.json, schema 2, as the oracle reads.
type recordTwo struct {
	Schema   int              `json:"schema"`
	Subjects []toldOfASubject `json:"subjects"`
}

type toldOfASubject struct {
	Kind     string   `json:"kind"`
	Name     string   `json:"name"`
	Key      string   `json:"key"`
	Systems  []string `json:"systems"`
	Safety   string   `json:"safety"`
	Standing string   `json:"standing"`
	Open     bool     `json:"open"`
	History  []struct {
		Date  string `json:"date"`
		Entry string `json:"entry"`
		Said  string `json:"said"`
	} `json:"history"`
	Touched *struct {
		Date    string   `json:"date"`
		Entry   string   `json:"entry"`
		By      string   `json:"by"`
		Systems []string `json:"systems"`
	} `json:"touched"`
	Absent *struct {
		Of    string `json:"of"`
		Since string `json:"since"`
	} `json:"absent"`
	Told     string   `json:"told"`
	Evidence []string `json:"evidence"`
}

// says are all words of the subject, in small letters.
func (s toldOfASubject) says() string {
	var b strings.Builder
	b.WriteString(s.Name + "\n" + s.Key + "\n" + s.Told + "\n")
	for _, h := range s.History {
		b.WriteString(h.Said + "\n")
	}
	return plainWords(b.String())
}

// plainWords are a text's words in small letters, with one space between.
func plainWords(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// tellAll has the program tell of a shop: every machine, by its key.
func tellAll(t testing.TB, files map[string]string) map[string]tellings {
	t.Helper()
	folder, parent := memoryShop(t, files), afero.NewMemMapFs()
	_, r, err := generator.Writeup(folder, parent, "site", generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range r.Problems {
		t.Errorf("%s (%s)\n%s", p, p.Mend, files[p.File])
	}
	if len(r.Problems) > 0 {
		t.FailNow()
	}
	site, err := filesIn(parent)
	if err != nil {
		t.Fatal(err)
	}
	if r, err = generator.Read(folder, generator.Options{}); err != nil {
		t.Fatal(err)
	}
	all, pages := map[string]tellings{}, &page.Site{Shop: r.Shop, Count: r.Count, Reports: r.Reports, Words: r.Words}
	for n, m := range r.Shop.Machines {
		one := tellOne(t, site, m.Key)
		one.long, one.short = offerTexts(pages, n)
		all[m.Key] = one
	}
	return all
}

func tellOne(t testing.TB, site map[string]string, key string) tellings {
	t.Helper()
	at := "machines/" + key + "/"
	one := tellings{sections: map[string]string{}}
	if err := json.Unmarshal([]byte(site[at+"record.json"]), &one.record); err != nil {
		t.Fatalf("the record of %s: %v", key, err)
	}
	one.condition, one.sections = pageTexts(t, site[at+"condition/index.html"])
	one.front = one.sections["front"]
	one.damaged = strings.Contains(site[at+"listing/index.html"], "https://schema.org/DamagedCondition")
	one.listing, _ = pageTexts(t, site[at+"listing/index.html"])
	return one
}

// offerTexts are the two texts to paste about the n-th machine, as `asleft
// listing KEY` prints them and with --short.
func offerTexts(site *page.Site, n int) (long, short string) {
	return plainWords(site.OfferText(n, false)), plainWords(site.OfferText(n, true))
}

// pageTexts is the text of a page, and of each of its sections by its id.
func pageTexts(t testing.TB, page string) (all string, sections map[string]string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	sections = map[string]string{}
	for n := range doc.Descendants() {
		if n.DataAtom != atom.Section {
			continue
		}
		for _, a := range n.Attr {
			if a.Key == "id" {
				sections[a.Val] = nodeText(n)
			}
		}
	}
	return nodeText(doc), sections
}

func nodeText(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch {
		case n.Type == html.TextNode:
			b.WriteString(n.Data)
		case n.DataAtom == atom.Script, n.DataAtom == atom.Style, n.DataAtom == atom.Textarea:
			return
		case blocks[n.DataAtom]:
			b.WriteString(" ")
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(n)
	return plainWords(b.String())
}

// blocks are the elements that a word cannot run across.
var blocks = map[atom.Atom]bool{atom.P: true, atom.Li: true, atom.Div: true, atom.Td: true, atom.Th: true, atom.H1: true, atom.H2: true, atom.H3: true, atom.H4: true, atom.Dt: true, atom.Dd: true, atom.Section: true, atom.Br: true, atom.Figcaption: true, atom.Summary: true}

// A toldPlace is one of those where bad news must be found by its own words: what
// the place says, and whether a fact has to be there.
type toldPlace struct {
	name string
	says func(tellings) string
	due  func(fact) bool
}

func (f fact) wrong() bool { return f.is("wrong") }

func (f fact) openOrWrong() bool { return f.open() == yes || f.wrong() }

// toldPlaces are where bad news must stand. A place that does not exist yet is left
// out of the list by hand, never by the test.
var toldPlaces = []toldPlace{
	{"front sheet", func(t tellings) string { return t.front }, fact.openOrWrong},
	{"listing", func(t tellings) string { return t.listing }, fact.openOrWrong},
	{"text to paste", func(t tellings) string { return t.long }, fact.openOrWrong},
	{"short text to paste", func(t tellings) string { return t.short }, fact.openOrWrong},
}

// leavesOut are what the program does not tell of a machine.
func leavesOut(m *rawMachine, t tellings) []string {
	var out []string
	taken := map[int]bool{}
	for _, f := range m.facts() {
		n := f.subject(t.record.Subjects)
		if n < 0 {
			if !f.missing && !slices.Contains(f.want, "in order") {
				out = append(out, fmt.Sprintf("record.json has no %s %s %q, wanted: %v", f.kind, f.key, f.id, f.want))
			}
			continue
		}
		taken[n] = true
		if f.wrong() && !t.damaged {
			out = append(out, fmt.Sprintf("the listing's data do not say that it is damaged: %s %s %q", f.kind, f.key, f.id))
		}
		out = append(out, f.recorded(t.record.Subjects[n])...)
		out = append(out, f.placed(t)...)
	}
	for n, s := range t.record.Subjects {
		if !taken[n] && s.Kind != "meter" && s.Kind != "measurement" {
			out = append(out, fmt.Sprintf("record.json tells of a %s %s %q, of which the log holds nothing", s.Kind, s.Key, s.Name))
		}
	}
	return out
}

// subject is the place of a fact among the subjects, -1 where there is none.
func (f fact) subject(all []toldOfASubject) int {
	for _, exact := range []bool{true, false} { // a name may be part of another
		at := slices.IndexFunc(all, func(s toldOfASubject) bool {
			switch {
			case s.Kind != f.kind:
				return false
			case f.id == "":
				return true
			case exact && f.kind == "point":
				return strings.EqualFold(s.Name, f.id)
			}
			return strings.Contains(s.says(), plainWords(f.id))
		})
		if at >= 0 {
			return at
		}
	}
	return -1
}

// recorded holds a fact against its subject.
func (f fact) recorded(s toldOfASubject) []string {
	var out []string
	name := fmt.Sprintf("record.json: the %s %s %q", f.kind, f.key, s.Name)
	if len(f.want) > 0 && !slices.Contains(f.want, s.Standing) {
		out = append(out, fmt.Sprintf("%s is %q, want %q", name, s.Standing, f.want))
	}
	if !slices.Contains(f.safety, s.Safety) {
		out = append(out, fmt.Sprintf("%s has safety %q, want %q", name, s.Safety, f.safety))
	}
	if o := f.open(); o != maybe && s.Open != (o == yes) {
		out = append(out, fmt.Sprintf("%s (%s) has open %v", name, s.Standing, s.Open))
	}
	if s.Open && (s.Safety == "no" || good(s.Standing)) {
		out = append(out, fmt.Sprintf("%s is open with standing %q and safety %q", name, s.Standing, s.Safety))
	}
	for _, w := range slices.Concat(f.all, f.notes) {
		if !strings.Contains(s.says(), plainWords(w)) {
			out = append(out, fmt.Sprintf("%s lost %q", name, w))
		}
	}
	return out
}

// placed looks for a fact in every place where it is due, by its own words.
func (f fact) placed(t tellings) []string {
	var out []string
	for _, p := range toldPlaces {
		if !p.due(f) {
			continue
		}
		says := p.says(t)
		if len(f.names) > 0 && !anyIn(says, f.names) {
			out = append(out, fmt.Sprintf("%s: no %s by the name of %q (%s)", p.name, f.kind, f.names, f.want))
		}
		for _, w := range f.words {
			if !strings.Contains(says, plainWords(w)) {
				out = append(out, fmt.Sprintf("%s: no %s %s %q (%s)", p.name, f.kind, f.key, w, f.want))
			}
		}
	}
	var where strings.Builder
	for _, id := range f.parts() {
		where.WriteString(t.sections[id] + " ")
	}
	if f.missing && (len(f.want) == 0 || f.kind == "point") {
		return out
	}
	if len(f.all) == 0 && len(f.names) > 0 && !anyIn(where.String(), f.names) {
		out = append(out, fmt.Sprintf("parts %v: no %s %q (%s)", f.parts(), f.kind, f.names, f.want))
	}
	for _, w := range f.all {
		if !strings.Contains(where.String(), plainWords(w)) && !(f.kind == "point" && anyIn(where.String(), f.names)) {
			out = append(out, fmt.Sprintf("parts %v: no %s %s %q (%s)", f.parts(), f.kind, f.key, w, f.want))
		}
	}
	if f.is("does not apply") { // by name with the shop's reason
		for _, n := range f.reasons {
			if !strings.Contains(t.sections["not-checked"], plainWords(n)) {
				out = append(out, fmt.Sprintf("part not-checked: %q does not apply, and its reason %q is not there", f.id, n))
			}
			if f.safety[0] == "yes" && (!strings.Contains(t.front, plainWords(n)) || !anyIn(t.front, f.names)) {
				out = append(out, fmt.Sprintf("front sheet: %q does not apply, and its name or its reason %q is not there", f.id, n))
			}
		}
	}
	return out
}

func anyIn(text string, names []string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return strings.Contains(text, plainWords(n)) })
}

// parts are the parts of the report in which a fact may stand in full: one,
// where the rules leave no doubt of its standing.
func (f fact) parts() []string {
	var all []string
	open := f.open()
	if open != no {
		all = append(all, "safety")
	}
	switch f.kind {
	case "measurement":
		return []string{"measured"}
	case "meter":
		return []string{"hours", "wrong"}
	case "list":
		if f.is("missing") {
			return []string{"safety"}
		}
		return []string{"not-checked"}
	}
	if open == yes {
		return all
	}
	for _, w := range f.want {
		all = append(all, partsOf[f.kind+" "+w]...)
	}
	return all
}

// partsOf is the table of the report, for what is not open.
var partsOf = map[string][]string{
	"defect wrong": {"wrong"}, "defect worked around": {"wrong"}, "defect not proven": {"wrong"},
	"defect out of date": {"not-checked", "repaired", "wrong"}, "defect in order": {"repaired"},
	"point wrong": {"wrong"}, "point out of date": {"not-checked"}, "point not checked": {"not-checked"},
	"point in order": {"in-order"}, "point does not apply": {"not-checked"},
	"point too close to call": {"not-checked", "wrong"}, "point no limit given": {"not-checked"},
	"missing part missing": {"wrong"}, "missing part in order": {"changed"},
	"change changed": {"changed"}, "change in order": {"changed"},
}

// atMost keeps a failure readable.
func atMost(all []string, n int) string {
	if len(all) > n {
		all = append(slices.Clone(all[:n]), fmt.Sprintf("and %d more", len(all)-n))
	}
	return strings.Join(all, "\n  ")
}

// filesOf are the files of one machine, for a failure.
func filesOf(files map[string]string, key string) string {
	var names []string
	for name := range files {
		if strings.Contains(name, "/"+key+"/") || strings.HasPrefix(name, "sheets/") {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	var b strings.Builder
	for _, name := range names {
		b.WriteString("-- " + name + " --\n" + files[name])
	}
	return b.String()
}

// eachShop has the program tell of shops of chance, one after the other, until a
// few have failed.
func eachShop(t *testing.T, look func(t *testing.T, seed uint64, files map[string]string, all map[string]tellings)) {
	t.Helper()
	first, shops := shopsOfChance(t)
	failed := 0
	for seed := first; seed < first+shops && failed < 3; seed++ {
		if !t.Run(fmt.Sprintf("shop %d", seed), func(t *testing.T) {
			files := writeShop(t, seed)
			look(t, seed, files, tellAll(t, files))
		}) {
			failed++
		}
	}
}

// Whatever bad the log holds is told, in every place where a buyer looks first,
// by its own words.
func TestLeavesNothingOut(t *testing.T) {
	eachShop(t, func(t *testing.T, seed uint64, files map[string]string, all map[string]tellings) {
		for key, m := range rawMachines(t, files) {
			if out := leavesOut(m, all[key]); len(out) > 0 {
				t.Errorf("seed %d, machine %s:\n  %s\n%s", seed, key, atMost(out, 12), filesOf(files, key))
				return
			}
		}
	})
}

// bad are the subjects that hold bad news, by kind and name or key.
func bad(r recordTwo) map[string]string {
	all := map[string]string{}
	for _, s := range r.Subjects {
		if s.Open || s.Standing == "wrong" {
			name := s.Key
			if name == "" {
				name = s.Name
			}
			all[s.Kind+" "+strings.ToLower(name)] = s.Standing
		}
	}
	return all
}

// One more bad fact never makes fewer matters open.
func TestMoreBadNewsIsNeverFewer(t *testing.T) {
	eachShop(t, func(t *testing.T, seed uint64, files map[string]string, before map[string]tellings) {
		chance := rand.New(rand.NewPCG(seed, 7)) //nolint:gosec // chance for a test
		more, added := map[string]string{}, map[string]string{}
		for name, text := range files {
			more[name] = text
		}
		for key, m := range rawMachines(t, files) {
			added[key] = worse(chance, m)
			more["machines/"+key+"/2027-01-01-worse.md"] = added[key]
		}
		for key, after := range tellAll(t, more) {
			still := bad(after.record)
			for name, standing := range bad(before[key].record) {
				if still[name] == "" {
					t.Errorf("seed %d, machine %s: %s was %s, and is no more after one more bad fact:\n%s\n%s", seed, key, name, standing, added[key], filesOf(files, key))
				}
			}
		}
	})
}

// worse is an entry with one more bad fact.
func worse(chance *rand.Rand, m *rawMachine) string {
	head := "---\ndate: 2027-01-01\ntitle: Worse\n"
	points, safety := m.allPoints(), []string{"yes", "no", ""}[chance.IntN(3)]
	switch kind := chance.IntN(5); {
	case kind == 0 && len(points) > 0:
		p := points[chance.IntN(len(points))]
		if len(p.systems) > 0 {
			return head + "checks:\n  - " + flow("item", p.written, "result", "fails") + "\n---\n"
		}
	case kind == 1 && len(points) > 0:
		p := points[chance.IntN(len(points))]
		return head + "defects:\n  - " + flow("key", "worse", "defect", "it got worse qz0z", "system", "frame", "safety", safety, "point", p.written) + "\n---\n"
	case kind == 2:
		return head + "changed:\n  - " + flow("key", "worse", "what", "a hole qz0z was cut", "why", "to get at the bolt", "system", "guards", "safety", safety) + "\n---\n"
	case kind == 3:
		for _, d := range m.defects {
			if w := d.wordings[len(d.wordings)-1]; w.state == "proven" || w.state == "unproven" || w.state == "around" {
				return head + "defects:\n  - " + flow("key", d.key, "defect", "only a trifle qz0z", "system", "frame", "safety", "no") + "\n---\n"
			}
		}
	}
	return head + "defects:\n  - " + flow("key", "worse", "defect", "it got worse qz0z", "system", "guards", "safety", safety) + "\n---\n"
}

// The order of the items within the lists of an entry changes no standing.
func TestOrderWithinAnEntryDoesNotMatter(t *testing.T) {
	eachShop(t, func(t *testing.T, seed uint64, files map[string]string, before map[string]tellings) {
		chance := rand.New(rand.NewPCG(seed, 8)) //nolint:gosec // chance for a test
		turned := map[string]string{}
		for name, text := range files {
			turned[name] = text
			if strings.HasPrefix(name, "machines/") && !strings.HasSuffix(name, "machine.md") {
				turned[name] = shuffled(t, chance, name, text)
			}
		}
		for key, after := range tellAll(t, turned) {
			was, is := standings(before[key].record), standings(after.record)
			for name, s := range was {
				if is[name] != s {
					t.Errorf("seed %d, machine %s: %s was %s, and is %s in another order\n%s", seed, key, name, s, is[name], filesOf(files, key))
				}
			}
			if len(was) != len(is) || len(was) == 0 {
				t.Errorf("seed %d, machine %s: %d subjects, %d in another order", seed, key, len(was), len(is))
			}
		}
	})
}

func standings(r recordTwo) map[string]string {
	all := map[string]string{}
	for _, s := range r.Subjects {
		all[s.Kind+" "+s.Key+" "+strings.ToLower(s.Name)] = fmt.Sprint(s.Standing, ", safety ", s.Safety, ", open ", s.Open)
	}
	return all
}

// shuffled is an entry with the items of each list in another order.
func shuffled(t testing.TB, chance *rand.Rand, name, text string) string {
	t.Helper()
	parts := strings.SplitN(text, "---\n", 3)
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(parts[1]), &doc); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	top := doc.Content[0]
	for i := 1; i < len(top.Content); i += 2 {
		if list := top.Content[i]; list.Kind == yaml.SequenceNode && top.Content[i-1].Value != "hours" {
			chance.Shuffle(len(list.Content), func(a, b int) { list.Content[a], list.Content[b] = list.Content[b], list.Content[a] })
		}
	}
	data, err := yaml.Marshal(&doc)
	if err != nil {
		t.Fatal(err)
	}
	return "---\n" + string(data) + "---\n" + parts[2]
}
