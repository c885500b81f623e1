package generator_test

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"go.yaml.in/yaml/v4"
)

// The oracle reads the YAML of a shop folder by itself and says what a report
// must hold of each machine. It knows nothing of the program's own reader or
// judge: only the rules that users can read. Where the rules can be read two
// ways it takes either, and where they leave no doubt it takes one.

// fields are a YAML mapping, every scalar as it was written.
type fields map[string]any

// frontMatter is the YAML at the top of a file.
func frontMatter(t testing.TB, name, text string) fields {
	t.Helper()
	parts := strings.SplitN(text, "---\n", 3)
	if len(parts) < 3 {
		t.Fatalf("%s has no front matter", name)
	}
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(parts[1]), &doc); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, text)
	}
	if len(doc.Content) == 0 {
		return fields{}
	}
	f, ok := asWritten(doc.Content[0]).(fields)
	if !ok {
		t.Fatalf("%s is no mapping", name)
	}
	return f
}

func asWritten(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		f := fields{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			f[n.Content[i].Value] = asWritten(n.Content[i+1])
		}
		return f
	case yaml.SequenceNode:
		all := []any{}
		for _, c := range n.Content {
			all = append(all, asWritten(c))
		}
		return all
	}
	return n.Value
}

func (f fields) text(name string) string {
	s, _ := f[name].(string)
	return s
}

// texts are the texts of a list, or the one that stands in its place.
func (f fields) texts(name string) []string {
	switch v := f[name].(type) {
	case string:
		return []string{v}
	case []any:
		var all []string
		for _, x := range v {
			if s, ok := x.(string); ok {
				all = append(all, s)
			}
		}
		return all
	}
	return nil
}

// list are the mappings of a list; a plain text among them stands under the
// empty name.
func (f fields) list(name string) []fields {
	v, _ := f[name].([]any)
	var all []fields
	for _, x := range v {
		switch x := x.(type) {
		case fields:
			all = append(all, x)
		case string:
			all = append(all, fields{"": x})
		}
	}
	return all
}

// A tri is no, maybe or yes: maybe where the rules can be read two ways.
type tri int

const (
	no tri = iota
	maybe
	yes
)

// A set is a set of names in small letters.
type set map[string]bool

func setOf(names ...string) set {
	s := set{}
	for _, n := range names {
		if n != "" {
			s[strings.ToLower(n)] = true
		}
	}
	return s
}

func (s set) meets(o set) bool {
	for n := range s {
		if o[n] {
			return true
		}
	}
	return false
}

func (s set) and(o set) set {
	all := maps.Clone(s)
	maps.Copy(all, o)
	return all
}

// alwaysSafety are the systems of which everything is a matter of safety.
var alwaysSafety = []string{"guards", "brakes", "steering"}

func guarding(s set) bool { return s.meets(setOf(alwaysSafety...)) }

var builtInSystems = setOf("engine", "fuel", "ignition", "electrical", "cooling", "exhaust", "drive", "brakes",
	"steering", "hydraulics", "implement", "frame", "tires", "controls", "guards")

// A rawEntry is one file of a machine's log; from and to are the minutes between
// which it was.
type rawEntry struct {
	fields
	file     string
	from, to int
}

func (e rawEntry) surelyBefore(o rawEntry) bool { return e.to < o.from }

// A rawMachine is one machine as its files say it.
type rawMachine struct {
	fields
	key     string
	entries []rawEntry
	items   []fields // of its list
	off     []fields // those that are for things which it does not have
	listed  bool     // there is a list for its kind
	blade   bool     // its sheet says that it cuts, or that it makes electricity
	own     map[string][]string
	works   []rawWork
	defects []*rawDefect
	answers map[string][]rawAnswer // by item in small letters
	gauged  []*rawMeasured
	points  []rawPoint // worked out once
}

// rawMachines reads all machines of a shop folder.
func rawMachines(t testing.TB, files map[string]string) map[string]*rawMachine {
	t.Helper()
	own := map[string][]string{}
	for _, s := range frontMatter(t, "shop.md", files["shop.md"]).list("systems") {
		own[strings.ToLower(s.text("")+s.text("name"))] = s.texts("part_of")
	}
	all := map[string]*rawMachine{}
	for name, text := range files {
		if path.Base(name) == "machine.md" {
			key := path.Base(path.Dir(name))
			all[key] = &rawMachine{fields: frontMatter(t, name, text), key: key, own: own, answers: map[string][]rawAnswer{}}
		}
	}
	for name, text := range files {
		if m := all[path.Base(path.Dir(name))]; m != nil && path.Base(name) != "machine.md" {
			m.entries = append(m.entries, newRawEntry(t, name, text))
		}
	}
	for _, m := range all {
		slices.SortFunc(m.entries, func(a, b rawEntry) int {
			return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.file, b.file))
		})
		m.findList(t, files)
		m.trace(t)
	}
	return all
}

// newRawEntry reads an entry: where no time is written, it was at any time of
// its day.
func newRawEntry(t testing.TB, name, text string) rawEntry {
	t.Helper()
	e := rawEntry{fields: frontMatter(t, name, text), file: name}
	day, err := time.Parse(time.DateOnly, e.text("date"))
	if err != nil {
		t.Fatal(err)
	}
	e.from = int(day.Unix() / 60)
	e.to = e.from + 24*60 - 1
	clock := e.text("time")
	if sessions := e.list("hours"); clock == "" && len(sessions) > 0 {
		clock = sessions[0].text("from")
	}
	if clock != "" {
		at, err := time.Parse("15:04", clock)
		if err != nil {
			t.Fatal(err)
		}
		e.from += at.Hour()*60 + at.Minute()
		e.to = e.from
	}
	return e
}

// findList makes the machine's list: the sheet of its kind or the general one,
// and what the shop adds.
func (m *rawMachine) findList(t testing.TB, files map[string]string) {
	t.Helper()
	sheets := oracleSheets(t)
	kind := m.text("kind")
	builtIn := sheets[kind]
	for _, s := range sheets {
		if slices.Contains(s.texts("also"), kind) {
			builtIn = s
		}
	}
	m.listed = builtIn != nil
	if builtIn == nil {
		for _, s := range sheets {
			if s.text("general") == "yes" {
				builtIn = s
			}
		}
	}
	use := []fields{builtIn}
	for name, text := range files {
		if path.Dir(name) != "sheets" {
			continue
		}
		s := frontMatter(t, name, text)
		for _, ask := range append(m.texts("sheet"), kind) {
			if ask != "" && (ask == s.text("sheet") || ask == strings.TrimSuffix(path.Base(name), ".md")) {
				use = append(use, s)
				m.listed = m.listed || s.text("sheet") == kind && len(s.list("items")) > 0
				break
			}
		}
	}
	left, seen := m.leftOut(use), set{}
	has, _ := m.fields["has"].(fields)
	for _, s := range use {
		m.blade = m.blade || s.text("blade") == "yes" || s.text("generator") == "yes"
		for _, i := range s.list("items") {
			item := strings.ToLower(i.text("item"))
			off := slices.ContainsFunc(i.texts("only_if"), func(thing string) bool {
				return has.text(thing) == "no" || has.text(thing) == "" && has.text("engine") == "no" && partOfEngine[thing]
			})
			switch {
			case seen[item] || left[item]:
			case off:
				m.off = append(m.off, i)
			default:
				m.items = append(m.items, i)
			}
			seen[item] = true
		}
	}
}

// partOfEngine are the things that no machine without an engine has.
var partOfEngine = set{"pull start": true, "electric start": true, "engine oil": true, "low-oil stop": true, "fuel valve": true, "charging system": true}

func (m *rawMachine) leftOut(sheets []fields) set {
	out := set{}
	for _, f := range append([]fields{m.fields}, sheets...) {
		for _, l := range f.list("leave_out") {
			out[strings.ToLower(l.text("item"))] = true
		}
	}
	return out
}

var oracleSheetsRead map[string]fields

func oracleSheets(t testing.TB) map[string]fields {
	t.Helper()
	if oracleSheetsRead == nil {
		oracleSheetsRead = builtInSheets(t)
	}
	return oracleSheetsRead
}

// systems are the systems that a name counts as. Vague tells that it is one of
// the shop's own that is part of no other.
func (m *rawMachine) systems(names ...string) (all set, vague bool) {
	all = setOf(names...)
	for _, n := range names {
		if n = strings.ToLower(n); n == "" || builtInSystems[n] {
			continue
		}
		all = all.and(setOf(m.own[n]...))
		vague = vague || len(m.own[n]) == 0
	}
	return all, vague
}

// A rawWork is work of one entry: what it surely touches, and what it perhaps
// does.
type rawWork struct {
	entry           int
	systems, maybes set
	everywhere      bool
	perhapsAll      bool // it affects a system that is part of no other
	doubtful        bool // whether it is work at all
	names           set  // what it says that it affects
	key             string
	says            string // its own words
	plain           string // the systems as written
}

// touches tells whether the work touches evidence of these systems under these
// names.
func (w rawWork) touches(systems set, vague bool, names ...string) tri {
	t := no
	switch {
	case w.everywhere, len(systems) == 0, w.systems.meets(systems), w.names.meets(setOf(names...)):
		t = yes
	case vague, w.perhapsAll, w.maybes.meets(systems):
		t = maybe
	}
	if w.doubtful && t == yes {
		return maybe
	}
	return t
}

// A wording is one of the texts under which a defect was found; each needs its
// own proof.
type wording struct {
	text     string
	systems  set
	vague    bool   // one of its systems is part of no other
	state    string // open, around, unproven, proven, gone
	repaired int    // the entries of the present repair and of its proof
	proved   int
	first    int
}

// A finding is one time that a defect was found.
type finding struct {
	entry   int
	systems set
	vague   bool
	safety  string
	proven  bool // in the same entry
	mended  bool // in the same entry, proven or not
	wording *wording
}

// A rawDefect is a defect's life.
type rawDefect struct {
	key      string
	wordings []*wording
	findings []finding
	points   set
	said     []string // all that was said of it, in the log's own words
	left     bool     // gone with a part
	vague    bool
}

func (d *rawDefect) systems() set {
	all := set{}
	for _, w := range d.wordings {
		all = all.and(w.systems)
	}
	return all
}

// gravest is what was said of its safety; two where the rules could be read two
// ways.
func (d *rawDefect) gravest() []string {
	said := set{}
	for _, f := range d.findings {
		said[f.safety] = true
	}
	return gravestOf(said)
}

func gravestOf(said set) []string {
	switch {
	case said["yes"]:
		return []string{"yes"}
	case said["no"] && (said[""] || said["not said"]):
		return []string{"not said", "no"}
	case said["no"]:
		return []string{"no"}
	}
	return []string{"not said"}
}

func safetyOf(said string, systems set) string {
	switch {
	case guarding(systems):
		return "yes"
	case said == "":
		return "not said"
	}
	return said
}

// trace follows defects, works, answers and readings through the log.
func (m *rawMachine) trace(t testing.TB) {
	t.Helper()
	for n, e := range m.entries {
		for _, f := range e.list("defects") {
			m.found(n, f)
		}
		for _, f := range e.list("repaired") {
			m.repaired(n, f)
		}
		for _, f := range e.list("worked_around") {
			if d := m.defect(f.text("key")); d != nil {
				w := d.wordings[len(d.wordings)-1]
				w.state = "around"
				d.tell(f, "how", "left")
				m.workOnDefect(n, d, w, f)
			}
		}
		for _, f := range e.list("gone") {
			if d := m.defect(f.text("key")); d != nil {
				d.left = true
				for _, w := range d.wordings {
					if w.state != "proven" {
						w.state, w.repaired = "gone", n
					}
				}
				d.tell(f, "with")
			}
		}
		m.otherWork(n, e)
		for _, f := range e.list("checks") {
			item := strings.ToLower(f.text("item"))
			m.answers[item] = append(m.answers[item], rawAnswer{entry: n, result: f.text("result"), found: f.text("as_found") == "yes", fields: f})
		}
	}
	for n, e := range m.entries {
		for _, f := range e.list("measured") {
			m.read(t, n, f)
		}
		for _, f := range e.list("tests") {
			m.tested(t, n, f)
		}
	}
	for _, g := range m.gauged {
		m.saidElsewhere(g)
	}
}

// saidElsewhere: what is said of a thing at one place is said of its other places, where
// nothing is said of those.
func (m *rawMachine) saidElsewhere(g *rawMeasured) {
	var systems []string
	for _, l := range m.list("limits") {
		if !strings.EqualFold(l.text("what"), g.what) {
			continue
		}
		systems = append(systems, l.text("system"))
		if !g.limited && l.text("safety") == "yes" {
			g.safety = "yes"
		}
	}
	if len(g.systems) == 0 {
		g.systems, g.vague = m.systems(systems...)
	}
	for _, o := range m.gauged {
		if len(g.systems) == 0 && strings.EqualFold(o.what, g.what) {
			g.systems, g.vague = o.systems, o.vague
		}
	}
	if guarding(g.systems) {
		g.safety = "yes"
	}
}

func (d *rawDefect) tell(f fields, names ...string) {
	for _, n := range names {
		if s := f.text(n); s != "" {
			d.said = append(d.said, s)
		}
	}
}

// defect is the defect of that key that is spoken of now.
func (m *rawMachine) defect(key string) *rawDefect {
	for i := len(m.defects) - 1; i >= 0; i-- {
		if m.defects[i].key == key {
			return m.defects[i]
		}
	}
	return nil
}

func (m *rawMachine) found(n int, f fields) {
	d := m.defect(f.text("key"))
	if d == nil || d.left { // what is found after it left is another
		d = &rawDefect{key: f.text("key"), points: set{}}
		m.defects = append(m.defects, d)
	}
	systems, vague := m.systems(f.text("system"))
	var w *wording
	for _, old := range d.wordings {
		if strings.EqualFold(old.text, f.text("defect")) {
			w = old
		}
	}
	d.wordings = slices.DeleteFunc(d.wordings, func(o *wording) bool { return o == w })
	if w == nil {
		w = &wording{text: f.text("defect"), systems: set{}, first: n}
	}
	d.wordings = append(d.wordings, w) // the last one found stands last
	w.state, w.systems, w.vague = "open", w.systems.and(systems), w.vague || vague
	d.vague = d.vague || vague
	d.tell(f, "defect", "effect")
	if p := f.text("point"); p != "" {
		d.points[strings.ToLower(p)] = true
	}
	d.findings = append(d.findings, finding{entry: n, systems: systems, vague: vague, safety: safetyOf(f.text("safety"), systems), wording: w})
}

func (m *rawMachine) repaired(n int, f fields) {
	d := m.defect(f.text("key"))
	if d == nil {
		return
	}
	w := d.wordings[len(d.wordings)-1]
	for _, o := range d.wordings {
		// A proof alone is of the repair that was made last.
		if strings.EqualFold(o.text, f.text("of")) || f.text("how") == "" && o.state == "unproven" && (w.state != "unproven" || o.repaired > w.repaired) {
			w = o
		}
	}
	d.tell(f, "how", "proof")
	last := &d.findings[len(d.findings)-1]
	if f.text("how") != "" {
		w.state, w.repaired = "unproven", n
		last.mended = last.mended || last.entry == n && last.wording == w
		m.workOnDefect(n, d, w, f)
	}
	if f.text("proof") != "" && w.state == "unproven" {
		w.state, w.proved = "proven", n
		last.proven = last.proven || last.entry == n && last.wording == w
	}
}

func (m *rawMachine) workOnDefect(n int, d *rawDefect, w *wording, f fields) {
	others := set{}
	for _, o := range d.wordings {
		others = others.and(o.systems)
	}
	m.work(rawWork{entry: n, systems: w.systems, maybes: others, key: d.key, says: f.text("how"), plain: "known"}, f.texts("affects"))
}

// work notes work, with what it affects.
func (m *rawMachine) work(w rawWork, affects []string) {
	w.systems, w.names = w.systems.and(nil), set{}
	for s := range w.systems {
		if own, there := m.own[s]; there && len(own) == 0 {
			w.everywhere = true // a system that is part of no other counts as all
		}
	}
	for s := range w.maybes {
		if own, there := m.own[s]; there && len(own) == 0 {
			w.perhapsAll = true
		}
	}
	for _, a := range affects {
		low := strings.ToLower(a)
		if _, own := m.own[low]; builtInSystems[low] || own {
			systems, vague := m.systems(low)
			w.systems, w.perhapsAll = w.systems.and(systems), w.perhapsAll || vague
		} else {
			w.names[low] = true
		}
	}
	m.works = append(m.works, w)
}

// otherWork notes changes, parts, services and taking apart.
func (m *rawMachine) otherWork(n int, e rawEntry) {
	note := func(f fields, name, system string, doubtful bool) {
		systems, _ := m.systems(system)
		m.work(rawWork{entry: n, systems: systems, everywhere: system == "", doubtful: doubtful, key: f.text("key"), says: f.text(name), plain: system}, f.texts("affects"))
	}
	for _, f := range e.list("changed") {
		note(f, "what", f.text("system"), false)
	}
	for _, f := range e.list("put_back") {
		note(f, "how", m.changeSystem(f.text("key")), false)
	}
	for _, f := range e.list("parts") {
		systems, vague := m.systems(f.text("system"))
		fate, nowhere := f.text("fate"), vague || len(systems) == 0
		switch {
		case fate == "not fitted" || fate == "returned" && !m.cameOut(n, f) || fate == "tool":
		case f.text("consumable") == "yes" && !guarding(systems) && !nowhere:
		default:
			note(f, "part", f.text("system"), f.text("consumable") == "yes" && nowhere)
		}
	}
	for _, s := range e.texts("worked_on") {
		note(fields{"": s}, "", s, false)
	}
	for _, f := range e.list("service") {
		if systems, vague := m.systems(f.text("system")); guarding(systems) || vague || len(systems) == 0 {
			note(f, "what", f.text("system"), !guarding(systems))
		}
	}
}

// cameOut tells whether a part of an entry that went back to the seller was put in, by its
// name, surely before.
func (m *rawMachine) cameOut(n int, part fields) bool {
	return slices.ContainsFunc(m.entries, func(e rawEntry) bool {
		return e.surelyBefore(m.entries[n]) && slices.ContainsFunc(e.list("parts"), func(in fields) bool {
			return (in.text("fate") == "" || in.text("fate") == "fitted") && strings.EqualFold(in.text("part"), part.text("part"))
		})
	})
}

func (m *rawMachine) changeSystem(key string) string {
	for _, e := range m.entries {
		for _, f := range e.list("changed") {
			if f.text("key") == key {
				return f.text("system")
			}
		}
	}
	return ""
}

// A rawAnswer is one answer to a point, by a check or by what was measured.
type rawAnswer struct {
	fields
	entry    int
	result   string
	found    bool
	measured *rawMeasured
}

// A rawMeasured is one measured thing with its readings, by a test or by hand.
type rawMeasured struct {
	what, where string
	names       []string // under which something can say that it answers or affects it
	systems     set
	vague       bool
	safety      string // by its own nature
	limited     bool
	readings    []rawReading
}

type rawReading struct {
	entry   int
	found   bool
	verdict string // inside, outside, close, none
	value   string
}

// measuredAs is the measured thing of that name.
func (m *rawMachine) measuredAs(what, where, state string) *rawMeasured {
	for _, g := range m.gauged {
		if strings.EqualFold(g.what+"|"+g.where, what+"|"+where+state) {
			return g
		}
	}
	g := &rawMeasured{what: what, where: where + state, names: []string{what}}
	m.gauged = append(m.gauged, g)
	return g
}

func (m *rawMachine) limit(what, where string) fields {
	for _, exact := range []bool{true, false} {
		for _, l := range m.list("limits") {
			if strings.EqualFold(l.text("what"), what) && (exact && strings.EqualFold(l.text("where"), where) || !exact && l.text("where") == "") {
				return l
			}
		}
	}
	return nil
}

// knownSystems are the systems of the built-in tests and measurands that these
// logs use.
var knownSystems = map[string]string{
	"compression": "engine", "blade stopping time": "guards", "blade tip speed": "implement",
	"insulation resistance": "electrical", "governed speed": "engine", "battery at rest": "electrical",
}

// safetyTests are those that are a matter of safety by themselves.
var safetyTests = setOf("blade stopping time", "blade tip speed", "insulation resistance")

func (m *rawMachine) file(g *rawMeasured, what string, limit fields, own string) {
	system := cmp.Or(knownSystems[strings.ToLower(what)], limit.text("system"), own)
	if len(g.systems) == 0 {
		g.systems, g.vague = m.systems(system)
	}
	g.safety = "no"
	if safetyTests[strings.ToLower(what)] || limit.text("safety") == "yes" || guarding(g.systems) || m.blade && strings.EqualFold(what, "governed speed") {
		g.safety = "yes"
	}
}

func (m *rawMachine) read(t testing.TB, n int, f fields) {
	t.Helper()
	what, where := f.text("what"), f.text("where")
	g, limit := m.measuredAs(what, where, f.text("state")), m.limit(what, where)
	m.file(g, what, limit, f.text("system"))
	g.limited = limit != nil
	g.readings = append(g.readings, rawReading{n, f.text("as_found") == "yes", judged(t, f.text("value"), f.text("gauge"), limit.text("limit")), f.text("value")})
}

// tested works out the bench tests that these logs use, as a handbook would.
func (m *rawMachine) tested(t testing.TB, n int, f fields) {
	t.Helper()
	test, where := f.text("test"), f.text("where")
	what, value, limits := test, "", []string{}
	switch test {
	case "compression":
		if value = f.text("dry"); value == "" {
			value = f.texts("dry")[0]
		}
	case "blade stopping time":
		value = longest(t, f.texts("time"))
		limits = append(limits, map[string]string{"walk-behind rotary": "<= 3.0 s", "riding rotary": "<= 15 s"}[f.text("mower")])
	case "blade tip speed":
		value = fmt.Sprintf("%.0f ft/min", number(t, f.text("blade"))*number(t, f.text("spindle_rpm"))*3.14159265/12)
		limits = append(limits, "<= 19000 ft/min")
	case "insulation resistance": // at 68 degF, half for each 10 degC below 40
		value = fmt.Sprintf("%.4f Mohm", number(t, f.text("resistance"))/4)
		limits = append(limits, ">= 5 Mohm")
	default:
		t.Fatalf("the oracle does not know the test %s", test)
	}
	own := m.limit(what, where)
	verdict := judged(t, value, f.text("gauge"), own.text("limit"))
	for _, l := range limits {
		verdict = worseVerdict(verdict, judged(t, value, f.text("gauge"), l))
	}
	g := m.measuredAs(what, where, "")
	m.file(g, what, own, f.text("system"))
	g.limited = own != nil || len(limits) > 0
	g.readings = append(g.readings, rawReading{n, f.text("as_found") == "yes", verdict, value})
}

// verdicts from the mildest, as two limits on one reading make them.
var verdicts = []string{"none", "inside", "close", "outside"}

func worseVerdict(a, b string) string {
	return verdicts[max(slices.Index(verdicts, a), slices.Index(verdicts, b))]
}

func longest(t testing.TB, times []string) string {
	t.Helper()
	return slices.MaxFunc(times, func(a, b string) int { return cmp.Compare(number(t, a), number(t, b)) })
}

var leading = regexp.MustCompile(`^-?[0-9.]+`)

func number(t testing.TB, s string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(leading.FindString(s), 64)
	if err != nil {
		t.Fatalf("the oracle cannot read %q", s)
	}
	return n
}

// judged holds a reading against a limit, in one and the same unit.
func judged(t testing.TB, value, gauge, limit string) string {
	t.Helper()
	if limit == "" {
		return "none"
	}
	about := strings.HasPrefix(value, "about ")
	value = strings.TrimPrefix(value, "about ")
	low := number(t, value)
	high := low
	if _, to, ok := strings.Cut(value, " to "); ok {
		high = number(t, to)
	}
	if gauge != "" {
		low, high = low-number(t, gauge), high+number(t, gauge)
	}
	var least, most float64 = -1e12, 1e12
	switch from, to, span := strings.Cut(limit, " to "); {
	case span:
		least, most = number(t, from), number(t, to)
	case strings.HasPrefix(limit, ">= "):
		least = number(t, limit[3:])
	case strings.HasPrefix(limit, "<= "):
		most = number(t, limit[3:])
	default:
		middle, off, ok := strings.Cut(limit, " +- ")
		if !ok {
			t.Fatalf("the oracle cannot read the limit %q", limit)
		}
		least, most = number(t, middle)-number(t, off), number(t, middle)+number(t, off)
	}
	switch {
	case about && gauge == "":
		return "close"
	case low >= least && high <= most:
		return "inside"
	case high < least || low > most:
		return "outside"
	}
	return "close"
}
