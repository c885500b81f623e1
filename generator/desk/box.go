package desk

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
	"asleft/generator/spelling"
	"asleft/themes"
)

// A section is a group of a form as a page shows it.
type section struct {
	ID, Title string
	Folded    bool
	Boxes     []box
	Story     *box // the text below the fields, where it stands in this group
	Points    []pointRow
}

// A box is one field as a page shows it.
type box struct {
	ID, Name, Label, Help, Ask string
	Value                      string
	Options                    []option
	Offers                     string // the list of suggestions; empty for none
	Money                      string // the currency
	Boxes                      []box  // the fields in it
	Rows                       []row  // of a list
	Blank                      *row   // a row that can be added
	Add                        string
	Wrong                      []string
	Folded                     bool   // of a list or of fields: nothing is in it, and others of its group are of more use
	Focus                      bool   // the page begins at it
	Note                       string // beside the time of an evening: why it is asked for
}

type option struct {
	Value, Label string
	Chosen       bool
}

// A row is one item of a list.
type row struct {
	Name   string // f.measured.0
	Was    int
	Title  string // what is in it, in few words
	Often  []box
	Seldom []box
	Photo  string // the photo that it is of
	Folded bool   // it was kept before, and stands among many
	// Of a bench test: its caution, and that it can be taken out without the script.
	Caution string
	Test    bool
}

// A filling fills a form.
type filling struct {
	d       *Desk
	file    string
	shop    *logbook.Shop
	machine *logbook.Machine  // nil for none
	report  *condition.Report // of the machine; nil for none
	wrong   map[string][]string
	lists   map[string][]string // suggestions, by the id of their list
	more    string              // the list that is to have one more row
	fresh   bool                // there is no file yet
	found   []option            // the defects that the form finds
	chosen  string              // the row of the bench test that was just chosen
	finding bool                // somebody looks for a bench test
	sameDay string              // why the time is asked for; empty where it need not be
}

// fewRows is how many items of a list stand open.
const fewRows = 3

// blankAt stands in the names of a row that is added for its number.
const blankAt = "NUMBER"

func (f *filling) sections(fields frontmatter.Node, text string) []section {
	of := fieldsOf(f.file)
	var all []section
	for _, g := range groups[f.file] {
		var unused []int // the boxes in which nothing stands
		s := section{ID: g.name, Title: f.d.words.Say("desk.group." + g.name), Folded: g.seldom && !((f.finding || f.chosen != "") && g.name == "measured")}
		for _, name := range g.fields {
			if name == story {
				s.Story = &box{ID: "story", Name: "story", Label: f.d.words.Say("desk.story." + fileWord(f.file)), Ask: "story", Value: text}
				continue
			}
			if name == listed {
				checks, _ := fields.Find("checks")
				s.Points = f.pointRows(answersIn(checks))
				continue
			}
			n, there := fields.Find(name)
			b := f.box(find(of, name), n, fieldPrefix+name)
			if !there && !wrongIn(b) {
				unused = append(unused, len(s.Boxes))
			}
			s.Boxes = append(s.Boxes, b)
		}
		if len(unused) < len(s.Boxes) {
			s.Folded = false
			for _, n := range unused {
				b := &s.Boxes[n]
				b.Folded = !f.fresh && f.file != logbook.FileEntry && (b.Ask == "list" || b.Ask == "fields") && f.more != b.Name
			}
		}
		if len(s.Boxes)+len(s.Points) > 0 || s.Story != nil {
			all = append(all, s)
		}
	}
	return all
}

// wrongIn tells whether something is wrong in a box or in those that stand in it.
func wrongIn(b box) bool {
	return len(b.Wrong) > 0 || slices.ContainsFunc(b.Boxes, wrongIn) || slices.ContainsFunc(b.Rows, func(r row) bool {
		return slices.ContainsFunc(r.Often, wrongIn) || slices.ContainsFunc(r.Seldom, wrongIn)
	})
}

// fileWord is the word of a file in the keys of the catalog.
func fileWord(file string) string {
	return map[string]string{logbook.FileShop: "shop", logbook.FileMachine: "machine", logbook.FileEntry: "entry", logbook.FileSheet: "sheet"}[file]
}

func (f *filling) box(of *field, n frontmatter.Node, name string) box {
	key := fileWord(f.file) + "." + strings.ReplaceAll(of.path, "/", ".")
	b := box{
		ID: strings.NewReplacer(".", "-", "*", "").Replace(name), Name: name, Label: f.d.words.Say("desk.label." + key),
		Help: f.d.words.Say("field." + key), Wrong: f.wrong[name],
	}
	if f.d.words.Has("desk.help." + key) { // a form has no quotes, and its lists grow by a button
		b.Help = f.d.words.Say("desk.help." + key)
	}
	if name == fieldPrefix+"time" {
		b.Note = f.sameDay
	}
	switch {
	case n.Kind == frontmatter.Text && n.Text != "": // hours: 2.5 where a list may stand
		f.text(&b, of, n)
	case of.list || len(of.of) > 0 && n.Kind == frontmatter.List || of.ask == inputs:
		b.Ask = "list"
		b.Add = f.d.words.Say("desk.add." + key)
		for i, item := range n.Items {
			b.Rows = append(b.Rows, f.row(of, item, name, strconv.Itoa(i)))
		}
		for i := range b.Rows {
			r := &b.Rows[i]
			r.Folded = len(b.Rows) > fewRows && r.Title != "" && r.Photo == "" && r.Caution == "" && !slices.ContainsFunc(slices.Concat(r.Often, r.Seldom), wrongIn)
		}
		if f.more == name || len(n.Items) == 0 && f.topmost(of.path) {
			b.Rows = append(b.Rows, f.row(of, frontmatter.Node{}, name, strconv.Itoa(len(n.Items))))
		}
		blank := f.row(of, frontmatter.Node{}, name, blankAt)
		b.Blank = &blank
	case of.ask == features:
		b.Ask = "fields"
		b.Boxes = f.features(n, name)
	case len(of.of) > 0:
		b.Ask = "fields"
		for _, in := range of.of {
			part, _ := n.Find(in.name)
			b.Boxes = append(b.Boxes, f.box(in, part, name+"."+in.name))
		}
	case of.ask == systems:
		b.Ask = "ticks"
		chosen := textsOf(n)
		for _, s := range f.shop.Systems {
			b.Options = append(b.Options, option{s, s, slices.Contains(chosen, s)})
		}
		for _, s := range chosen {
			if !slices.Contains(f.shop.Systems, s) {
				b.Options = append(b.Options, option{s, s, true})
			}
		}
	case of.ask == lines:
		b.Ask, b.Value = "paragraph", strings.Join(textsOf(n), "\n")
	default:
		f.text(&b, of, n)
	}
	return b
}

// topmost tells whether a list stands in the form by itself and not in another field: then
// it has a row to begin with. Photos come by themselves.
func (f *filling) topmost(path string) bool { return !strings.Contains(path, "/") && path != "photos" }

func textsOf(n frontmatter.Node) []string {
	if n.Kind == frontmatter.Text {
		if n.Text == "" {
			return nil
		}
		return []string{n.Text}
	}
	var all []string
	for _, i := range n.Items {
		all = append(all, i.Text)
	}
	return all
}

// text is a box with one text in it.
func (f *filling) text(b *box, of *field, n frontmatter.Node) {
	b.Value = n.Text
	if words, closed := f.choices(of); closed {
		b.chosenOf(f.d.words, words)
		return
	}
	switch of.ask {
	case paragraph:
		b.Ask = "paragraph"
	case date:
		b.Ask = "date"
	case clock:
		b.Ask = "clock"
	case money:
		b.Ask, b.Money = "money", f.shop.Currency
	default:
		b.Ask = "line"
	}
	if offers := f.offers(of); len(offers) > 0 {
		b.Offers = "offers-" + strings.ReplaceAll(of.path, "/", "-")
		f.lists[b.Offers] = offers
	}
}

func (f *filling) row(of *field, n frontmatter.Node, name, number string) row {
	r := row{Name: name + "." + number, Was: n.From}
	in := of.of
	n = spelledOut(n, in)
	if of.ask == inputs {
		return f.test(n, r)
	}
	if of.path == "limits" {
		r.Caution = f.fitless(n)
	}
	for _, part := range in {
		value, _ := n.Find(part.name)
		b := f.box(part, value, r.Name+"."+part.name)
		if seen := often[of.path]; seen == nil || slices.Contains(seen, part.name) || wrongIn(b) {
			r.Often = append(r.Often, b)
		} else {
			r.Seldom = append(r.Seldom, b)
		}
		if r.Title == "" && value.Kind == frontmatter.Text && !(part.name == "key" && part.ask != choice && len(b.Options) == 0) {
			r.Title = cmp.Or(b.chosen(), value.Text) // a defect by its name
		}
		if of.path == "checks" && part.name == "result" && r.Title != "" && value.Text != "" {
			r.Title = f.d.words.Say("desk.check-row", "item", r.Title, "result", b.chosen())
		}
		if of.path == "photos" && part.name == "file" && f.machine != nil {
			r.Photo = machineAt(f.machine.Key) + "/photo/" + value.Text
		}
	}
	return r
}

// fitless says that a limit is of no reading of the machine, and which readings there are:
// it would be kept and used by nothing. Empty where it is of one.
func (f *filling) fitless(n frontmatter.Node) string {
	what, _ := n.Find("what")
	where, _ := n.Find("where")
	if f.report == nil || what.Text == "" {
		return ""
	}
	fits, names := f.report.Fits(logbook.Limit{What: what.Text, Where: where.Text})
	if fits {
		return ""
	}
	var all []string
	for _, s := range f.report.Subjects {
		if s.Kind != condition.KindMeasurement {
			continue
		}
		name := s.Measured.What
		if s.Measured.Where != "" {
			name = f.d.words.Say("desk.limit-where", "what", name, "where", s.Measured.Where)
		}
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	if len(names) == 0 {
		return f.d.words.Say("desk.limit-first")
	}
	if near := spelling.Nearest(what.Text, names); near != "" && !logbook.Same(near, what.Text) {
		return f.d.words.Say("desk.limit-near", "near", near, "all", strings.Join(all, "; "))
	}
	return f.d.words.Say("desk.limit-unused", "all", strings.Join(all, "; "))
}

// test is a bench test: its name, and the inputs that it takes.
func (f *filling) test(n frontmatter.Node, r row) row {
	name, _ := n.Find("test")
	label := func(key string) string { return f.d.words.Say("desk.test." + key) }
	kind, known := benchtest.KindNamed(name.Text)
	which := box{ID: idOf(r.Name + ".test"), Name: r.Name + ".test", Label: label("test"), Value: cmp.Or(kind.Name, name.Text)}
	var kinds []string
	for _, k := range benchtest.KindsIn(f.d.words) {
		kinds = append(kinds, k.Name)
	}
	which.chosenOf(f.d.words, same(kinds))
	r.Title = name.Text
	which.Help = kind.About
	r.Caution = kind.Caution
	r.Test = known
	r.Often = append(r.Often, which)
	shown := map[string]bool{"test": true}
	add := func(in benchtest.InputHelp) {
		value, _ := n.Find(in.Name)
		shown[in.Name] = true
		b := box{ID: idOf(r.Name + "." + in.Name), Name: r.Name + "." + in.Name, Label: sentence(strings.ReplaceAll(in.Name, "_", " ")), Help: f.takes(in), Ask: "line", Value: value.Text}
		if value.Kind == frontmatter.List {
			for _, i := range value.Items {
				if i.Kind != frontmatter.Text {
					return // named readings: they stay as the file has them
				}
			}
			b.Value = strings.Join(textsOf(value), ", ")
		}
		b.Wrong = f.wrong[b.Name]
		switch {
		case in.Name == "system":
			b.chosenOf(f.d.words, same(f.shop.Systems))
		case len(in.Words) > 0 && !in.Several:
			b.chosenOf(f.d.words, f.worded(in.Words))
		case in.Name == "state":
			b.Offers = "offers-state"
			f.lists[b.Offers] = []string{"cold", "hot"}
		}
		if rare := in.Name == "system" || in.Name == "state"; rare && !in.Needed && value.Text == "" && !wrongIn(b) {
			r.Seldom = append(r.Seldom, b)
		} else {
			r.Often = append(r.Often, b)
		}
	}
	for _, needed := range []bool{true, false} {
		for _, in := range kind.Inputs {
			if in.Needed == needed {
				add(in)
			}
		}
	}
	if known {
		if !shown["where"] {
			add(benchtest.InputHelp{Name: "where"})
		}
		if !shown["as_found"] {
			r.Often = append(r.Often, f.yesOrNo(n, r.Name, "as_found", label("as-found")))
			shown["as_found"] = true
		}
	}
	for _, field := range n.Fields {
		if name := strings.ReplaceAll(field.Name, " ", "_"); !shown[name] && field.Node.Kind == frontmatter.Text {
			add(benchtest.InputHelp{Name: name})
		}
	}
	if r.Name == f.chosen {
		r.Often[min(1, len(r.Often)-1)].Focus = true
	}
	return r
}

// takes says what is to be written for an input of a bench test.
func (f *filling) takes(in benchtest.InputHelp) string {
	key := "desk.test.plain"
	switch {
	case in.Help == "" || inFile(in.Help) && in.Example == "":
		return ""
	case inFile(in.Help):
		key = "desk.test.example"
	case len(in.Parts) > 0:
		key = "desk.test.such-parts"
	case len(in.Words) > 0 && in.Several:
		key = "desk.test.words"
	case in.Example != "" && in.Several:
		key = "desk.test.such-several"
	case in.Example != "":
		key = "desk.test.such"
	}
	return f.d.words.Say(key, "help", sentence(in.Help), "example", in.Example, "parts", strings.Join(in.Parts, ", "), "words", strings.Join(in.Words, ", "))
}

// worded are the words of a choice of a bench test.
func (f *filling) worded(words []string) []option {
	if slices.Equal(words, []string{"yes", "no"}) {
		return f.yesNo()
	}
	return same(words)
}

// chosenOf makes a box one in which one of these is chosen. What it says already stays to be
// chosen, whatever it is.
func (b *box) chosenOf(words *catalog.Catalog, all []option) {
	b.Ask = "choice"
	b.Options = append(b.Options, option{"", words.Say("desk.unsaid"), b.Value == ""})
	there := b.Value == ""
	for _, o := range all {
		o.Chosen = o.Value == b.Value
		there = there || o.Chosen
		b.Options = append(b.Options, o)
	}
	if !there {
		b.Options = append(b.Options, option{b.Value, b.Value, true})
	}
}

// chosen is how the chosen option reads; empty where nothing is chosen.
func (b *box) chosen() string {
	for _, o := range b.Options {
		if o.Chosen {
			return o.Label
		}
	}
	return ""
}

// yesOrNo is a box in which yes or no is chosen.
func (f *filling) yesOrNo(n frontmatter.Node, row, name, label string) box {
	value, _ := n.Find(name)
	b := box{ID: idOf(row + "." + name), Name: row + "." + name, Label: label, Value: value.Text, Wrong: f.wrong[row+"."+name]}
	b.chosenOf(f.d.words, f.yesNo())
	return b
}

func idOf(name string) string { return strings.NewReplacer(".", "-", "*", "").Replace(name) }

// features are what a machine may have and its list asks about.
func (f *filling) features(n frontmatter.Node, name string) []box {
	var names []string
	if f.machine != nil && f.machine.Sheet != nil {
		for _, i := range f.machine.Sheet.Items {
			if i.OnlyIf != "" && !slices.Contains(names, i.OnlyIf) {
				names = append(names, i.OnlyIf)
			}
		}
	}
	for _, field := range n.Fields {
		if !slices.Contains(names, field.Name) {
			names = append(names, field.Name)
		}
	}
	var all []box
	for _, what := range names {
		all = append(all, f.yesOrNo(n, name, what, what))
	}
	return all
}

func (f *filling) yesNo() []option {
	return []option{{Value: "yes", Label: f.d.words.Say("desk.yes")}, {Value: "no", Label: f.d.words.Say("desk.no")}}
}

func same(words []string) []option {
	var all []option
	for _, w := range words {
		all = append(all, option{Value: w, Label: w})
	}
	return all
}

// choices are the words of a closed list; closed is false where any text may stand.
func (f *filling) choices(of *field) (words []option, closed bool) {
	switch of.path {
	case "stage":
		return same(logbook.Stages), true
	case "publish/bucket":
		return same([]string{"path", "host"}), true
	case "show/serial":
		return same([]string{"last 4", "all", "none"}), true
	case "meter_true":
		return append(f.yesNo(), option{Value: "not known", Label: f.d.words.Say("desk.not-known")}), true
	case "checks/result":
		for _, c := range f.d.walkChoices() {
			words = append(words, option{Value: c.Value, Label: c.Label})
		}
		return words, true
	case "parts/source":
		return same(logbook.Sources), true
	case "parts/fate":
		return same(logbook.Fates), true
	case "parts/supplied_by":
		return same([]string{"owner"}), true
	case "repaired/key", "worked_around/key", "gone/key":
		all := f.keysOf(condition.KindDefect)
		for _, one := range f.found {
			if !slices.ContainsFunc(all, func(o option) bool { return o.Value == one.Value }) {
				all = append(all, one)
			}
		}
		return all, true
	case "parts/from":
		for _, m := range f.shop.Machines {
			if m != f.machine {
				words = append(words, option{Value: m.Key, Label: m.Name})
			}
		}
		return words, true
	case "put_back/key":
		return f.keysOf(condition.KindChange), true
	}
	switch {
	case of.ask == choice && of.name == "system":
		return same(f.shop.Systems), true
	case of.ask == choice:
		return f.yesNo(), true
	}
	return nil, false
}

// keysOf are the defects or changes of the machine, by name; those that stand first.
func (f *filling) keysOf(kind condition.Kind) []option {
	var standing, rest []option
	if f.report == nil {
		return nil
	}
	for _, s := range f.report.Subjects {
		switch {
		case s.Kind != kind || s.Key == "":
		case s.Standing == condition.Wrong || s.Standing == condition.WorkedAround || kind == condition.KindChange:
			standing = append(standing, option{Value: s.Key, Label: s.Name})
		default:
			rest = append(rest, option{Value: s.Key, Label: s.Name})
		}
	}
	return append(standing, rest...)
}

// offers are suggestions for a line, in which any text may stand.
func (f *filling) offers(of *field) []string {
	var all []string
	add := func(texts ...string) {
		for _, t := range texts {
			if t != "" && !slices.Contains(all, t) {
				all = append(all, t)
			}
		}
	}
	switch of.path {
	case "by", "hours/by":
		people, _ := f.shop.Usual()
		add(people...)
	case "hours/task":
		_, tasks := f.shop.Usual()
		add(tasks...)
	case "kind":
		for _, s := range f.shop.Sheets {
			add(s.Kind)
		}
	case "theme":
		add(themes.Names()...)
	case "currency":
		add("USD", "CAD", "EUR", "GBP", "AUD", "NZD")
	}
	if f.machine == nil {
		return all
	}
	switch of.path {
	case "measured/what", "limits/what":
		for _, l := range f.machine.Limits {
			add(l.What)
		}
		for _, e := range f.machine.Entries {
			for _, r := range e.Measured {
				add(r.What)
			}
		}
	case "checks/item", "defects/point", "leave_out/item":
		if f.machine.Sheet != nil {
			for _, i := range f.machine.Sheet.Items {
				add(i.Item)
			}
		}
	case "parts/replaces":
		for _, m := range f.machine.Missing {
			add(m.Part)
		}
	case "photos/file", "defects/photo", "repaired/photo", "worked_around/photo":
		add(f.d.photosOf(f.machine.Key)...)
	}
	return all
}
