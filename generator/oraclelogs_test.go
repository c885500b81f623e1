package generator_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"
)

// The logs of the oracle are written here: whole shop folders as text, made by
// chance and always valid. Every wording carries a word of its own, such as
// qz17, so that a page can be asked for it.

// machinesAShop is how many machines a shop of chance has: reading a shop costs
// more than judging one more machine.
const machinesAShop = 5

// generatedKinds are the kinds of machines in a shop of chance: all with a sheet
// that comes with the program, but the last.
var generatedKinds = []string{
	"walk-behind tiller", "walk-behind mower", "ride-on mower", "generator", "chainsaw", "snow thrower",
	"pressure washer", "bench machine tool", "",
}

var generatedSystems = []string{
	"engine", "fuel", "drive", "brakes", "steering", "implement", "frame", "controls", "guards", "guards",
	"electrical", "hydrostatic", "finish",
}

// A writer writes the logs of one shop.
type writer struct {
	*rand.Rand
	files map[string]string
	nonce int
	kinds map[string][]fields // the items of the built-in sheets, by kind
}

// writeShop is a shop folder of chance.
func writeShop(t testing.TB, seed uint64) map[string]string {
	t.Helper()
	w := &writer{Rand: rand.New(rand.NewPCG(seed, 12)), files: map[string]string{}, kinds: builtInItems(t)} //nolint:gosec // chance for a test
	w.files["shop.md"] = "---\nshop: Test shed\ncurrency: USD\nweb: https://shed.example/\ncontact: by appointment\n" +
		"systems: [finish, {name: hydrostatic, part_of: [drive]}]\n---\n"
	for n := range machinesAShop {
		w.machine(n)
	}
	return w.files
}

// builtInItems are the items of the sheets that come with the program, read as
// a stranger would.
func builtInItems(t testing.TB) map[string][]fields {
	t.Helper()
	all := map[string][]fields{}
	for name, sheet := range builtInSheets(t) {
		all[name] = sheet.list("items")
	}
	return all
}

// builtInSheets are the sheets that come with the program, by kind.
func builtInSheets(t testing.TB) map[string]fields {
	t.Helper()
	names, err := filepath.Glob("logbook/sheets/*.md")
	if err != nil || len(names) < 8 {
		t.Fatalf("%d sheets, %v", len(names), err)
	}
	all := map[string]fields{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sheet := frontMatter(t, name, string(data))
		all[sheet.text("sheet")] = sheet
	}
	return all
}

func (w *writer) chance(percent int) bool { return w.IntN(100) < percent }

// own is a word that no other wording of the shop has.
func (w *writer) own() string {
	w.nonce++
	return "qz" + strconv.Itoa(w.nonce) + "z"
}

func pick[T any](w *writer, from ...T) T { return from[w.IntN(len(from))] }

// safety is what the shop says of it, or nothing.
func (w *writer) safety() string { return pick(w, "yes", "no", "no", "") }

var plainYAML = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 ()/-]*$`)

// yamlText is a text as YAML.
func yamlText(s string) string {
	if plainYAML.MatchString(s) {
		return s
	}
	return strconv.Quote(s)
}

// flow is a YAML mapping in one line; pairs are names and values, and what has no
// value is left out.
func flow(pairs ...any) string {
	var parts []string
	for i := 0; i+1 < len(pairs); i += 2 {
		switch v := pairs[i+1].(type) {
		case string:
			if v != "" {
				parts = append(parts, fmt.Sprintf("%s: %s", pairs[i], yamlText(v)))
			}
		case []string:
			if len(v) > 0 {
				parts = append(parts, fmt.Sprintf("%s: %s", pairs[i], flowList(v)))
			}
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

func flowList(all []string) string {
	var parts []string
	for _, v := range all {
		parts = append(parts, yamlText(v))
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// A gauged is something that a machine of chance gets measured, again and again.
type gauged struct {
	what, where, system, unit string
	test                      string // the bench test that measures it, if any
	low                       bool   // too little is outside, not too much
	edge                      int    // the limit
	limited                   bool
	inside, outside           []int
	readings                  int
}

// A machineLog is one machine on its way through its log.
type machineLog struct {
	*writer
	key, kind string
	items     []fields
	defects   []*loggedDefect
	changes   []*loggedChange
	measured  []*gauged
	missing   []string
	answered  map[string]bool
	gone      map[string]bool // points that do not apply any more
	off       map[string]bool // points of things that the machine does not have
	parts     map[string][]string
	group     int  // entries of one day, at least one without a time
	timed     bool // whether the order of the group is sure
	lists     map[string][]string
	used      map[string]bool // keys that this entry spoke of
	entry     int
	meter     int
}

type loggedDefect struct {
	key, system, state string // open, around, mended, proven, gone
	wordings           []string
	group, entry       int // where it was last spoken of
}

type loggedChange struct {
	key, what, system string
	back              bool
	group             int
}

func (w *writer) machine(n int) {
	l := &machineLog{writer: w, key: fmt.Sprintf("m%d", n), kind: pick(w, generatedKinds...), answered: map[string]bool{}, gone: map[string]bool{}, off: map[string]bool{}, parts: map[string][]string{}, group: -1}
	l.items = slices.Clone(w.kinds[l.kind])
	if l.kind == "" {
		l.kind = "trench roller " + w.own()
		l.items = slices.Clone(w.kinds[generalKind(w.kinds)])
	}
	text := fmt.Sprintf("name: Machine %s\nkind: %s\nstage: for sale\nasking: 90.00\narrived: 2026-01-05\n", l.key, l.kind)
	text += l.ownSheet() + l.has() + l.missingParts() + l.limits() + l.leaveOut()
	if l.chance(50) {
		text += "meter_true: " + pick(w, `"yes"`, `"no"`, "not known") + "\n"
	}
	w.files["machines/"+l.key+"/machine.md"] = "---\n" + text + "---\n\nA machine of chance.\n"
	day := time.Date(2026, 1, 6, 0, 0, 0, 0, time.UTC)
	for left := 1 + w.IntN(6); left > 0; {
		today := 1
		if l.chance(30) {
			today = 2 + w.IntN(2)
		}
		l.day(day, today)
		left -= today
		day = day.AddDate(0, 0, 1+w.IntN(20))
	}
}

// generalKind is the name of the sheet for any machine, empty where none comes
// with the program.
func generalKind(kinds map[string][]fields) string {
	for kind := range kinds {
		if strings.Contains(kind, "any") || strings.Contains(kind, "general") {
			return kind
		}
	}
	return ""
}

// ownSheet names a sheet of the shop for some machines: with points of its own,
// and one that would make a built-in point a trifle if it could.
func (l *machineLog) ownSheet() string {
	if !l.chance(25) {
		return ""
	}
	name := "own-" + l.key
	own := []fields{
		{"item": "cup shelf " + l.own() + " holds a cup", "system": pick(l.writer, generatedSystems...), "safety": l.safety(), "short": "cup shelf " + l.own()},
		{"item": "lamp " + l.own() + " shines on the ground", "system": pick(l.writer, generatedSystems...), "safety": l.safety()},
	}
	items := ""
	for _, i := range own {
		items += "  - " + flow("item", i.text("item"), "short", i.text("short"), "system", i.text("system"), "safety", i.text("safety")) + "\n"
	}
	if len(l.items) > 0 {
		i := pick(l.writer, l.items...)
		items += "  - " + flow("item", i.text("item"), "system", "frame", "safety", "no") + "\n"
	}
	l.items = append(l.items, own...)
	l.files["sheets/"+name+".md"] = "---\nsheet: " + name + "\nitems:\n" + items + "---\n"
	return "sheet: " + name + "\n"
}

// has says of some things whether the machine has them.
func (l *machineLog) has() string {
	var says []string
	for _, i := range l.items {
		for _, thing := range i.texts("only_if") {
			if strings.Contains(strings.Join(says, ","), thing) || !l.chance(40) {
				continue
			}
			answer := pick(l.writer, "yes", "no")
			says = append(says, yamlText(thing)+": "+answer)
			l.off[thing] = answer == "no"
		}
	}
	if len(says) == 0 {
		return ""
	}
	return "has: {" + strings.Join(says, ", ") + "}\n"
}

func (l *machineLog) applies(item fields) bool {
	for _, thing := range item.texts("only_if") {
		if off, said := l.off[thing]; off || !said && l.off["engine"] && partOfEngine[thing] {
			return false
		}
	}
	return true
}

func (l *machineLog) missingParts() string {
	var all []string
	for range l.IntN(3) {
		name := "hub cap " + l.own()
		l.missing = append(l.missing, name)
		if l.chance(50) {
			all = append(all, yamlText(name))
		} else {
			all = append(all, flow("part", name, "system", pick(l.writer, generatedSystems...), "safety", l.safety()))
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "missing: [" + strings.Join(all, ", ") + "]\n"
}

// limits chooses what is measured on the machine, and gives it limits.
func (l *machineLog) limits() string {
	choices := []gauged{
		{what: "latch free travel", system: pick(l.writer, generatedSystems...), unit: "mm", edge: 10, inside: []int{2, 6}, outside: []int{15, 40}},
		{what: "pad rest height", system: pick(l.writer, generatedSystems...), unit: "mm", low: true, edge: 20, inside: []int{30, 44}, outside: []int{2, 11}},
		{what: "compression", system: "engine", unit: "psi", low: true, edge: 60, inside: []int{75, 90}, outside: []int{20, 41}},
		{what: "compression", test: "compression", system: "engine", unit: "psi", low: true, edge: 60, inside: []int{75, 90}, outside: []int{20, 41}},
		{what: "blade stopping time", test: "blade stopping time", system: "guards", unit: "s", edge: 3, inside: []int{1, 2}, outside: []int{4, 9}},
		{what: "blade tip speed", test: "blade tip speed", system: "implement", unit: "ft/min", edge: 19000, inside: []int{2500, 3100}, outside: []int{4000, 4700}},
		{what: "insulation resistance", test: "insulation resistance", system: "electrical", unit: "Mohm", low: true, edge: 5, inside: []int{60, 80}, outside: []int{1, 4}},
	}
	limits := ""
	for range l.IntN(4) {
		g := pick(l.writer, choices...)
		if answers := l.answering(choices); len(answers) > 0 && l.chance(40) {
			g = pick(l.writer, answers...)
		}
		if n := len(l.measured); n > 0 && l.chance(50) { // the same thing at another place
			last := l.measured[n-1]
			g = choices[slices.IndexFunc(choices, func(c gauged) bool { return c.what == last.what && c.test == last.test })]
		}
		if slices.ContainsFunc(l.measured, func(o *gauged) bool { return o.what == g.what && o.test != g.test }) {
			continue // a test and a reading of one name are told apart by their places alone
		}
		g.where = "corner " + l.own()
		published := g.test != "" && g.test != "compression"
		g.limited = published
		if !published && l.chance(75) || g.test == "blade stopping time" && l.chance(30) {
			g.limited = true
			sign, edge := "<= ", g.edge
			if g.low {
				sign = ">= "
			}
			if published {
				edge, g.outside = 8, []int{4, 6, 9} // looser than the published one, and of no use
			}
			if l.chance(15) {
				g.system = "" // nobody says where it is
			}
			system, safety := g.system, l.safety()
			if g.what == "compression" || published {
				system, safety = "", ""
			}
			limits += "  - " + flow("what", g.what, "where", g.where, "limit", fmt.Sprintf("%s%d %s", sign, edge, g.unit), "source", "the sheet "+l.own(), "system", system, "safety", safety) + "\n"
		}
		l.measured = append(l.measured, &g)
	}
	if limits == "" {
		return ""
	}
	return "limits:\n" + limits
}

// answering are those that answer a point of the list.
func (l *machineLog) answering(choices []gauged) []gauged {
	return slices.DeleteFunc(slices.Clone(choices), func(g gauged) bool {
		return !slices.ContainsFunc(l.items, func(i fields) bool { return slices.Contains(i.texts("answered_by"), g.what) })
	})
}

// leaveOut takes a point out of the list that is no matter of safety.
func (l *machineLog) leaveOut() string {
	if len(l.items) == 0 || !l.chance(20) {
		return ""
	}
	i := pick(l.writer, l.items...)
	if i.text("safety") != "no" || slices.Contains(alwaysSafety, i.text("system")) || !l.applies(i) {
		return ""
	}
	l.gone[i.text("item")] = true
	return "leave_out:\n  - " + flow("item", i.text("item"), "why", "not on this one "+l.own()) + "\n"
}

// day writes the entries of one day; where one of them has no time, their order
// is open.
func (l *machineLog) day(day time.Time, entries int) {
	l.group++
	l.timed = entries == 1 || l.chance(50)
	bare := l.IntN(entries)
	for n := range entries {
		l.lists, l.used = map[string][]string{}, map[string]bool{}
		l.entry++
		clock := fmt.Sprintf("%02d:%02d", 8+3*n, l.IntN(60))
		head := fmt.Sprintf("date: %s\ntitle: Evening %d\n", day.Format(time.DateOnly), l.entry)
		switch {
		case !l.timed && n == bare || entries == 1 && l.chance(30):
		case l.chance(30):
			head += fmt.Sprintf("hours: [{from: %q, to: %q, by: %s}]\n", clock, fmt.Sprintf("%02d:%s", 9+3*n, clock[3:]), "W"+l.own())
		default:
			head += fmt.Sprintf("time: %q\n", clock)
		}
		if l.chance(25) {
			l.meter += 1 + l.IntN(9)
			if l.timed {
				head += fmt.Sprintf("meter: %d h\n", 100+l.meter)
			}
		}
		for range 1 + l.IntN(7) {
			l.act()
		}
		l.files[fmt.Sprintf("machines/%s/%s-%c-%d.md", l.key, day.Format(time.DateOnly), 'a'+n, l.entry)] = "---\n" + head + l.body() + "---\n\nThe story.\n"
	}
}

// body is the lists of an entry, in any order.
func (l *machineLog) body() string {
	names := []string{}
	for name := range l.lists {
		names = append(names, name)
	}
	slices.Sort(names)
	l.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	text := ""
	for _, name := range names {
		if name == "worked_on" {
			text += "worked_on: " + flowList(l.lists[name]) + "\n"
			continue
		}
		text += name + ":\n"
		for _, item := range l.lists[name] {
			text += "  - " + item + "\n"
		}
	}
	return text
}

func (l *machineLog) add(list string, pairs ...any) {
	l.lists[list] = append(l.lists[list], flow(pairs...))
}

// act writes one more thing into the entry.
func (l *machineLog) act() {
	acts := []func(){
		l.find, l.find, l.findAgain, l.repair, l.repair, l.prove, l.workAround, l.leaves,
		l.check, l.check, l.check, l.check, l.ownCheck, l.measure, l.measure, l.measure, l.part, l.part, l.change, l.putBack, l.workOn, l.serve,
	}
	pick(l.writer, acts...)()
}

// free tells whether an entry may speak of a key that was last spoken of in
// another: not where their order is open.
func (l *machineLog) free(d *loggedDefect) bool {
	return !l.used[d.key] && (l.timed || d.group != l.group)
}

func (l *machineLog) spoken(d *loggedDefect, state string) {
	l.used[d.key] = true
	d.state, d.group, d.entry = state, l.group, l.entry
}

func (l *machineLog) defect(states ...string) *loggedDefect {
	var fit []*loggedDefect
	for _, d := range l.defects {
		if slices.Contains(states, d.state) && l.free(d) {
			fit = append(fit, d)
		}
	}
	if len(fit) == 0 {
		return nil
	}
	return pick(l.writer, fit...)
}

// affects is a system, a point or a measurement, now and then.
func (l *machineLog) affects() []string {
	switch {
	case !l.chance(15):
		return nil
	case l.chance(40) || len(l.items) == 0:
		return []string{pick(l.writer, generatedSystems...)}
	case l.chance(50) && len(l.measured) > 0:
		return []string{pick(l.writer, l.measured...).what}
	}
	return []string{pick(l.writer, l.items...).text("item")}
}

func (l *machineLog) find() {
	d := &loggedDefect{key: "d-" + l.own(), system: pick(l.writer, generatedSystems...)}
	l.defects = append(l.defects, d)
	l.wording(d, "it groans "+l.own()+" on a slope")
	if l.chance(25) { // mended in the same evening
		l.mend(d)
		l.used[d.key] = true
	}
}

func (l *machineLog) wording(d *loggedDefect, text string) {
	point := ""
	if i := l.item(); i != nil && l.chance(12) {
		point = i.text("item")
	}
	effect := ""
	if l.chance(50) {
		effect = "makes it limp " + l.own()
	}
	l.add("defects", "key", d.key, "defect", text, "effect", effect, "system", d.system, "safety", l.safety(), "point", point)
	if !slices.Contains(d.wordings, text) {
		d.wordings = append(d.wordings, text)
	}
	l.spoken(d, "open")
}

// findAgain finds a defect again: in the same words, in milder ones, or in
// another system.
func (l *machineLog) findAgain() {
	d := l.defect("around", "mended", "proven", "gone")
	if d == nil {
		return
	}
	if d.state == "gone" {
		d.wordings = nil
	}
	text := "a little noise " + l.own() + " is left"
	if len(d.wordings) > 0 && l.chance(35) {
		text = pick(l.writer, d.wordings...)
	}
	if l.chance(20) {
		d.system = pick(l.writer, generatedSystems...)
	}
	l.wording(d, text)
}

func (l *machineLog) repair() {
	if d := l.defect("open", "around"); d != nil {
		l.mend(d)
	}
}

func (l *machineLog) proof() string {
	return pick(l.writer, "ran an hour under load "+l.own(), "dry after two days "+l.own())
}

func (l *machineLog) mend(d *loggedDefect) {
	proof, state := "", "mended"
	if l.chance(60) {
		proof, state = l.proof(), "proven"
	}
	l.add("repaired", "key", d.key, "how", "new bushing "+l.own()+" pressed in", "proof", proof, "of", l.of(d), "affects", l.affects())
	l.spoken(d, state)
}

// of is the wording that a repair is of, where the key has several.
func (l *machineLog) of(d *loggedDefect) string {
	if len(d.wordings) < 2 || l.chance(40) {
		return ""
	}
	return pick(l.writer, d.wordings...)
}

func (l *machineLog) prove() {
	if d := l.defect("mended"); d != nil {
		l.add("repaired", "key", d.key, "proof", l.proof(), "of", "")
		l.spoken(d, "proven")
	}
}

func (l *machineLog) workAround() {
	if d := l.defect("open"); d != nil {
		l.add("worked_around", "key", d.key, "how", "strapped down "+l.own()+" with wire", "left", "the crack "+l.own()+" is still there", "affects", l.affects())
		l.spoken(d, "around")
	}
}

// leaves lets a defect go with the part that it was in.
func (l *machineLog) leaves() {
	d := l.defect("open", "around")
	if d == nil {
		return
	}
	part := "whole new unit " + l.own()
	l.add("parts", "part", part, "source", "new", "each", "5.00", "system", d.system)
	l.add("gone", "key", d.key, "with", part)
	l.spoken(d, "gone")
}

// item is a point of the list that an entry may answer.
func (l *machineLog) item() fields {
	if len(l.items) == 0 {
		return nil
	}
	i := pick(l.writer, l.items...)
	if l.gone[i.text("item")] || !l.applies(i) {
		return nil
	}
	return i
}

func (l *machineLog) asFound(percent int) string {
	if l.chance(percent) {
		return "yes"
	}
	return ""
}

func (l *machineLog) check() {
	i := l.item()
	if i == nil {
		return
	}
	item := i.text("item")
	measured := len(i.texts("answered_by")) > 0
	if !l.answered[item] && !measured && l.chance(10) {
		l.add("checks", "item", item, "result", "does not apply", "note", "there is none on it "+l.own())
		l.gone[item] = true
		return
	}
	if len(l.changes) > 0 && !measured && l.timed && l.chance(8) {
		if by := pick(l.writer, l.changes...); !by.back {
			by.group = l.group
			l.add("checks", "item", item, "result", "does not apply", "note", "taken off for good "+l.own(), "by", by.key)
			l.gone[item], by.back = true, true
			return
		}
	}
	l.answer(item)
	if l.chance(12) {
		l.answer(item)
	}
}

func (l *machineLog) answer(item string, more ...any) {
	l.answered[item] = true
	result := pick(l.writer, "works", "works", "works", "fails", "not checked")
	note := ""
	if l.chance(50) {
		note = "looked at it " + l.own() + " by hand"
	}
	l.add("checks", append([]any{"item", item, "result", result, "note", note, "as_found", l.asFound(15)}, more...)...)
}

// ownCheck answers a point that no list has.
func (l *machineLog) ownCheck() {
	item := "side step " + l.own() + " carries a man"
	system, safety := pick(l.writer, generatedSystems...), l.safety()
	l.answer(item, "system", system, "safety", safety)
	l.items = append(l.items, fields{"item": item, "system": system, "safety": safety})
}

func (l *machineLog) measure() {
	if len(l.measured) == 0 {
		return
	}
	g := pick(l.writer, l.measured...)
	n := pick(l.writer, append(slices.Clone(g.inside), g.outside...)...)
	found := l.asFound(15)
	g.readings++
	switch g.test {
	case "compression":
		l.add("tests", "test", g.test, "where", g.where, "dry", []string{fmt.Sprintf("%d psi", n)}, "gauge", "1 psi", "as_found", found)
	case "blade stopping time":
		l.add("tests", "test", g.test, "where", g.where, "time", []string{"1.5 s", fmt.Sprintf("%d s", n)}, "mower", "walk-behind rotary", "cut", "21 in", "gauge", "0.2 s", "as_found", found)
	case "blade tip speed":
		l.add("tests", "test", g.test, "where", g.where, "blade", "21 in", "spindle_rpm", fmt.Sprintf("%d rpm", n), "as_found", found)
	case "insulation resistance":
		l.add("tests", "test", g.test, "where", g.where, "resistance", fmt.Sprintf("%d Mohm", n), "temperature", "68 degF", "winding", "random-wound", "rated_volts", "240 V", "as_found", found)
	default:
		l.reading(g, n, found)
	}
}

// reading is a reading by hand: now and then one that the gauge leaves open.
func (l *machineLog) reading(g *gauged, n int, found string) {
	gauge := pick(l.writer, "", fmt.Sprintf("1 %s", g.unit))
	value := fmt.Sprintf("%d %s", n, g.unit)
	if l.chance(10) {
		value, gauge = fmt.Sprintf("%d %s", g.edge, g.unit), fmt.Sprintf("1 %s", g.unit)
	}
	system := ""
	if !g.limited && g.readings == 1 && g.what != "compression" {
		system = g.system
	}
	l.add("measured", "what", g.what, "where", g.where, "value", value, "gauge", gauge, "system", system, "as_found", found)
}

func (l *machineLog) part() {
	name, system := "bracket "+l.own()+" of steel", pick(l.writer, generatedSystems...)
	if l.chance(20) {
		system = ""
	}
	replaces, fate, consumable := "", "", ""
	switch {
	case len(l.missing) > 0 && l.chance(35):
		gone := pick(l.writer, l.missing...)
		switch l.IntN(4) {
		case 0:
			name = gone
		case 1:
			replaces = gone
		case 2:
			name = gone + ", on order, never came"
		case 3:
			name, fate = gone, pick(l.writer, "not fitted", "returned", "taken out again")
		}
	case l.chance(25):
		fate = pick(l.writer, "fitted", "not fitted", "taken out again", "returned", "tool")
	case l.chance(25):
		consumable = "yes"
	}
	l.add("parts", "part", name, "source", "new", "each", "5.00", "system", system, "replaces", replaces, "fate", fate, "consumable", consumable, "affects", l.affects())
}

func (l *machineLog) change() {
	c := &loggedChange{key: "c-" + l.own(), what: "plate " + l.own() + " welded on", system: pick(l.writer, generatedSystems...), group: l.group}
	if l.chance(15) {
		c.system = ""
	}
	adds := ""
	if l.chance(20) {
		adds = "yes"
	}
	l.changes = append(l.changes, c)
	l.used[c.key] = true
	l.add("changed", "key", c.key, "what", c.what, "why", "the old one was cracked through", "system", c.system, "safety", l.safety(), "adds", adds, "affects", l.affects())
}

func (l *machineLog) putBack() {
	for _, c := range l.changes {
		if !c.back && !l.used[c.key] && (l.timed || c.group != l.group) {
			c.back, c.group, l.used[c.key] = true, l.group, true
			l.add("put_back", "key", c.key, "how", "cut off again "+l.own())
			return
		}
	}
}

func (l *machineLog) workOn() {
	if len(l.lists["worked_on"]) == 0 {
		l.lists["worked_on"] = []string{pick(l.writer, generatedSystems...)}
	}
}

func (l *machineLog) serve() {
	l.add("service", "what", "oil "+l.own(), "amount", "1 qt", "system", pick(l.writer, generatedSystems...))
}

// memoryShop is a shop folder in memory.
func memoryShop(t testing.TB, files map[string]string) afero.Fs {
	t.Helper()
	fs := afero.NewMemMapFs()
	for name, text := range files {
		if err := afero.WriteFile(fs, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return fs
}
