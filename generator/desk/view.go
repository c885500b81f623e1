package desk

import (
	"cmp"
	"errors"
	"maps"
	"net/http"
	"path"
	"slices"
	"strings"
	"time"

	"asleft/generator/condition"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// formView is the form of a file.
type formView struct {
	frame
	At, Back, BackName string
	Base, From         string
	Window             string // this showing of the form; two tabs have two
	Kept               bool   // there is a draft that differs from the file
	New                bool   // there is no file yet
	Raw                string // the file as it is, where it cannot be taken apart
	IsRaw              bool
	Sections           []section
	Lists              []suggestions
	Wrong              []string // at no field of the form
	Count              string   // how many things are wrong
	Faults             []fault  // those that stand at a field, in the order of the form
	Figures            []string
	Key, Machine       string // the machine that it is of
	Report             string // the address of the report beside; empty for none
	Entries            []entryLink
	Files              []fileLink
	Photos             bool     // photos can be put in
	Refused            []string // photos that were not
	MostPhoto, MostAll int64    // bytes of a photo, and of all that go at once
	Rename             bool     // the machine's folder can get another name
	IsShop, Publish    bool     // it is the shop's own, and its site can be brought out
	Evening            *eveningView
	Sealed             []sealedReport // of the machine
	Ad                 *adView        // of the machine; nil for none
	Units              string         // what is measured, and in which units, for the script
}

// An eveningView is what the form of an evening has besides.
type eveningView struct {
	ID, Was string // the id of a new one, and the machine's earlier keys; empty for one that has a file
	Draft   string // the digest of its draft on this computer
	Running bool   // a stretch of work has begun and not ended
	Find    string
	Finding bool // somebody is at it: the page begins there
	Hints   []hint
	Finds   []string
}

// A fault is what is wrong at a field, with the way there.
type fault struct{ Field, To, Name, Says string }

// faults are those of a form. The page begins at the first of them.
func (f *filling) faults(all []section) []fault {
	var found []fault
	var see func(boxes []box, in string)
	see = func(boxes []box, in string) {
		for n := range boxes {
			b := &boxes[n]
			b.Focus = b.Focus || len(found) == 0 && len(b.Wrong) > 0
			for _, told := range b.Wrong {
				name := b.Label
				if in != "" {
					name = f.d.words.Say("desk.fault-in", "field", b.Label, "in", in)
				}
				found = append(found, fault{b.Name, b.ID, name, told})
			}
			inside := in
			if b.Ask == "fields" {
				inside = cmp.Or(in, b.Label)
			}
			see(b.Boxes, inside)
			for _, r := range b.Rows {
				in := cmp.Or(r.Title, b.Label)
				see(r.Often, in)
				see(r.Seldom, in)
			}
		}
	}
	for _, s := range all {
		see(s.Boxes, "")
	}
	return found
}

type suggestions struct {
	ID    string
	Texts []string
}

type entryLink struct{ To, Date, Title, Says string }

type fileLink struct{ To, Name, Says string }

// form shows the form of a file, with what is wrong in it where it was tried.
func (d *Desk) form(w http.ResponseWriter, status int, s writing, rows placed, t *tried, said string) {
	r := d.o.Reading()
	if r == nil {
		d.page(w, http.StatusServiceUnavailable, "failed", failedView{d.frame(""), d.words.Say("desk.no-shop-yet")})
		return
	}
	f := filling{d: d, file: s.kind, shop: r.Shop, lists: map[string][]string{}}
	f.machine, f.report = machineOf(r, s.machine)
	if s.machine != "" && f.machine == nil && s.kind == logbook.FileEntry {
		d.page(w, http.StatusNotFound, "failed", failedView{d.frame(""), d.words.Say("desk.no-machine", "key", s.machine)})
		return
	}
	v := formView{
		frame: d.frame(d.titleOf(s, f.machine)), At: s.at, Back: s.back, Base: s.base, Kept: s.kept, New: s.file == "", Key: s.machine,
		BackName: d.words.Say("desk.board"), Photos: s.kind == logbook.FileEntry, Window: NewSecret()[:16],
		Refused: s.refused, MostPhoto: mostPhoto, MostAll: mostBody - formRoom,
	}
	v.Said, v.Undo = d.said(said), d.undoFor(said, s.target)
	if f.machine != nil {
		v.Machine = f.machine.Name
	}
	if s.kind == logbook.FileEntry {
		v.BackName = v.Machine
	}
	if s.machine != "" && (s.file != "" || s.kind == logbook.FileEntry) {
		v.Report = machineAt(s.machine) + "/report?draft=" + s.id
	}
	v.Wrong = t.wrong(d.words, rows)[""]
	if t != nil {
		v.Figures = d.figures(t)
		if n := len(t.problems); n > 0 {
			v.Count = d.words.Count("desk.to-mend", n)
		}
	}
	v.From = Digest(s.text)
	d.shown.put(v.From, s.text, mostShown)
	file, err := frontmatter.Read(s.text)
	if err != nil {
		v.IsRaw, v.Raw = true, string(s.text)
		v.Wrong = append([]string{d.words.Say("desk.raw", "why", err.Error())}, v.Wrong...)
		d.page(w, status, "form", v)
		return
	}
	// The form is filled in anew from the text, so its rows are the text's items.
	f.wrong = t.wrong(d.words, placed{})
	f.sameDay = d.sameDay(s)
	f.more, f.fresh, f.finding, f.chosen = s.more, s.file == "", s.finding, s.test
	for _, one := range foundIn(s.text, placed{}) {
		f.found = append(f.found, option{Value: one.Key, Label: one.Name})
	}
	if s.kind == logbook.FileEntry || s.kind == logbook.FileMachine {
		v.Units = unitsOf(f.machine, f.shop)
	}
	v.Sections = f.sections(file.Fields(), file.Story())
	v.Faults = f.faults(v.Sections)
	if s.kind == logbook.FileEntry {
		hours, _ := file.Fields().Find("hours")
		v.Evening = &eveningView{Draft: s.draft, Running: runs(hours), Find: s.find, Finding: s.finding, Hints: hints(s.find, f.report), Finds: finds()}
		if id, ok := strings.CutPrefix(path.Base(s.id), "new-"); ok && f.machine != nil {
			v.Evening.ID, v.Evening.Was = id, strings.Join(f.machine.Was, " ")
		}
	}
	v.Wrong = append(v.Wrong, f.homeless(v.Sections)...)
	for _, id := range slices.Sorted(maps.Keys(f.lists)) {
		v.Lists = append(v.Lists, suggestions{id, f.lists[id]})
	}
	if s.kind == logbook.FileMachine && f.machine != nil {
		v.Rename = true
		v.Entries = d.entriesOf(f.machine)
		v.Ad = adOf(r, f.machine)
		if _, phone := w.(*phoneWriter); !phone { // a phone is given none of the buyer's files
			v.Sealed = d.sealedOf(r, f.machine)
		}
	}
	if s.kind == logbook.FileShop {
		v.IsShop, v.Files, v.Publish = true, d.sheetsOf(r.Shop), d.o.Dir != ""
	}
	d.page(w, status, "form", v)
}

// runs tells whether a stretch of work has begun and not ended.
func runs(hours frontmatter.Node) bool {
	return slices.ContainsFunc(hours.Items, func(n frontmatter.Node) bool {
		_, from := n.Find("from")
		_, to := n.Find("to")
		return from && !to
	})
}

// homeless are the problems of fields that the form has not got.
func (f *filling) homeless(all []section) []string {
	shown := map[string]bool{"": true}
	var see func(boxes []box)
	see = func(boxes []box) {
		for _, b := range boxes {
			shown[b.Name] = true
			see(b.Boxes)
			for _, r := range b.Rows {
				see(r.Often)
				see(r.Seldom)
			}
		}
	}
	for _, s := range all {
		see(s.Boxes)
		for _, p := range s.Points {
			see(p.Wrong)
		}
	}
	var rest []string
	for _, name := range slices.Sorted(maps.Keys(f.wrong)) {
		if !shown[name] {
			rest = append(rest, f.wrong[name]...)
		}
	}
	return rest
}

func (d *Desk) titleOf(s writing, m *logbook.Machine) string {
	switch {
	case s.kind == logbook.FileShop:
		return d.words.Say("desk.the-shop")
	case s.kind == logbook.FileSheet:
		return cmp.Or(s.called("sheet"), d.words.Say("desk.new-list"))
	case s.kind == logbook.FileMachine && m == nil:
		return cmp.Or(s.called("name"), d.words.Say("desk.new-machine"))
	case s.kind == logbook.FileMachine:
		return m.Name
	}
	untold := "desk.new-evening"
	if s.file != "" { // it is there, and cannot be read or has no title
		untold = "desk.group.evening"
	}
	return cmp.Or(s.called("title"), d.words.Say(untold))
}

func (d *Desk) said(what string) string {
	switch what {
	case "kept", "undone", "not-undone", "renamed", "newer", "dropped", "theirs", "undone-newer", "in-use":
		return d.words.Say("desk.said-" + what)
	}
	return ""
}

// entriesOf are the evenings of a machine, the newest first.
func (d *Desk) entriesOf(m *logbook.Machine) []entryLink {
	var all []entryLink
	wrong := map[string]bool{}
	for _, p := range d.o.Reading().Problems {
		wrong[p.File] = true
	}
	for _, e := range slices.Backward(m.Entries) {
		link := entryLink{To: machineAt(m.Key) + "/e/" + path.Base(e.File), Date: d.words.Day(e.Date.Day()), Title: e.Title}
		if wrong[e.File] {
			link.To, link.Says = faultsOf(e.File), d.words.Say("desk.has-to-mend")
		}
		all = append(all, link)
	}
	return all
}

func (d *Desk) sheetsOf(shop *logbook.Shop) []fileLink {
	var all []fileLink
	for _, s := range shop.Sheets {
		if !s.BuiltIn {
			all = append(all, fileLink{To: "/desk/s/" + path.Base(s.File), Name: cmp.Or(s.Kind, s.Name)})
		}
	}
	return all
}

// boardView is the first page: the machines, and what each waits for.
type boardView struct {
	frame
	Drafts   []fileLink
	Problems []fileLink
	Wrong    string
	Groups   []boardGroup
}

type boardGroup struct {
	Title    string
	Machines []boardCard
}

type boardCard struct {
	To, New, Name, Kind, Last string
	Waits                     []string // the most pressing first
	Safety                    bool
}

// boardStages are the groups of the board, in their order.
var boardStages = [][]string{
	{logbook.InTheShop, logbook.Customers}, {logbook.ForSale}, {logbook.Keeping}, {logbook.Sold, logbook.PartedOut},
}

func (d *Desk) board(w http.ResponseWriter, r *http.Request) {
	reading := d.o.Reading() // first: where it is there, the frame has the shop's name too
	v := boardView{frame: d.frame("")}
	said := r.URL.Query().Get("said")
	v.Said, v.Undo = d.said(said), d.undoFor(said, target{})
	for _, dr := range d.drafts() {
		if to := addressOf(dr.ID); to != "" {
			v.Drafts = append(v.Drafts, fileLink{to, d.nameOf(dr.ID, dr.Text), d.words.Say("desk.draft-of", "date", d.words.Day(logbook.Date(dr.At.Format("2006-01-02")).Day()), "time", dr.At.Format("15:04"))})
		}
	}
	if there, err := d.now("shop.md"); there == nil && err == nil {
		d.page(w, http.StatusOK, "start", startView{frame: d.frame(d.words.Say("desk.start")), Currency: "USD"})
		return
	}
	if reading == nil { // it has just been started
		v.Title, v.Soon = d.words.Say("desk.no-shop-yet"), true
		d.page(w, http.StatusOK, "board", v)
		return
	}
	for _, p := range reading.Problems {
		v.Problems = append(v.Problems, fileLink{faultsOf(p.File), nameOfFile(reading.Shop, p.File), labeled(d.words, p.Says)})
	}
	if n := len(v.Problems); n > 0 {
		v.Wrong = d.words.Count("desk.to-mend", n)
	}
	for _, stages := range boardStages {
		g := boardGroup{Title: d.words.Say("desk.stage." + stageWord(stages[0]))}
		for n, m := range reading.Shop.Machines {
			if slices.Contains(stages, m.Stage) && n < len(reading.Reports) {
				g.Machines = append(g.Machines, d.card(m, reading.Reports[n]))
			}
		}
		if len(g.Machines) > 0 {
			v.Groups = append(v.Groups, g)
		}
	}
	d.page(w, http.StatusOK, "board", v)
}

// faultsOf is the address of a file's form with what is wrong in it; empty for none.
func faultsOf(file string) string {
	if at := addressOf(idOfFile(file)); at != "" {
		return at + "?look=1"
	}
	return ""
}

// nameOf is how a person knows what stands in a text, by the id that its draft has or would
// have: an evening by its title, its day and its machine.
func (d *Desk) nameOf(id string, text []byte) string {
	of, parts := writing{text: text}, strings.Split(id, "/")
	switch last := parts[len(parts)-1]; {
	case len(parts) == 1:
		return d.words.Say("desk.the-shop")
	case parts[0] == "sheets":
		return cmp.Or(of.called("sheet"), d.words.Say("desk.new-list"))
	case len(parts) == 2 || last == "machine":
		return cmp.Or(of.called("name"), d.words.Say("desk.new-machine"))
	}
	title, date, machine := of.called("title"), of.called("date"), d.names(parts[1])[parts[1]]
	if f, err := frontmatter.Read(text); err == nil && title == "" {
		title = TitleOf(f.Story())
	}
	title = cmp.Or(title, d.words.Say("desk.new-evening"))
	if _, err := time.Parse(time.DateOnly, date); err == nil {
		date = d.words.Day(logbook.Date(date).Day())
	}
	if date == "" {
		return d.words.Say("desk.evening-undated", "title", title, "machine", machine)
	}
	return d.words.Say("desk.evening-of", "title", title, "date", date, "machine", machine)
}

// nameOfFile is how a person knows a file: the machine and the evening, by their names.
func nameOfFile(shop *logbook.Shop, file string) string {
	if file == shopTarget.file && shop.Name != "" {
		return shop.Name
	}
	for _, m := range shop.Machines {
		if m.File == file {
			return m.Name
		}
		for _, e := range m.Entries {
			if e.File == file && e.Title != "" {
				return m.Name + ", " + e.Title
			}
		}
	}
	return file
}

func stageWord(stage string) string {
	return map[string]string{logbook.InTheShop: "in-the-shop", logbook.ForSale: "for-sale", logbook.Keeping: "keeping", logbook.Sold: "gone"}[stage]
}

// card is a machine on the board, with what it waits for.
func (d *Desk) card(m *logbook.Machine, r *condition.Report) boardCard {
	c := boardCard{To: machineAt(m.Key), New: machineAt(m.Key) + "/new", Name: m.Name, Kind: m.Kind}
	if n := len(m.Entries); n > 0 && m.Entries[n-1].Date != "" {
		c.Last = d.words.Say("desk.last", "date", d.words.Day(m.Entries[n-1].Date.Day()))
	}
	if m.Stage == logbook.Sold || m.Stage == logbook.PartedOut {
		return c
	}
	var open, unproven, unanswered, hurts int
	for _, s := range r.Subjects {
		switch {
		case s.Kind == condition.KindPoint && s.Unanswered() && s.Open:
			hurts++
		case s.Kind == condition.KindPoint && s.Unanswered():
			unanswered++
		case s.Kind == condition.KindDefect && s.Standing == condition.Wrong:
			open++
		case s.Kind == condition.KindDefect && s.Standing == condition.NotProven:
			unproven++
		}
	}
	c.Safety = hurts > 0
	waits := func(n int, says string) {
		if n > 0 {
			c.Waits = append(c.Waits, says)
		}
	}
	waits(hurts, d.words.Count("desk.waits-safety", hurts))
	waits(open, d.words.Count("desk.waits-defects", open))
	waits(unproven, d.words.Count("desk.waits-proof", unproven))
	waits(unanswered, d.words.Count("desk.waits-points", unanswered))
	if m.Stage == logbook.ForSale && !m.Asking.Set {
		c.Waits = append(c.Waits, d.words.Say("desk.waits-price"))
	}
	return c
}

// startView is the first page of a folder that has no shop in it yet.
type startView struct {
	frame
	Name, Currency, Wrong string
	Field                 string // that is wrong
}

// start makes the shop of an empty folder.
func (d *Desk) start(w http.ResponseWriter, r *http.Request) {
	name, currency := lined(r.PostForm.Get("name")), strings.ToUpper(lined(r.PostForm.Get("currency")))
	s := writing{target: target{id: "shop", kind: logbook.FileShop, file: "shop.md"}}
	s.text = frontmatter.New(frontmatter.Node{Kind: frontmatter.Fields, Fields: []frontmatter.Field{textField("shop", name), textField("currency", currency)}}, "")
	t, err := d.try(s)
	switch {
	case err != nil:
		d.fail(w, err)
		return
	case len(t.problems) > 0:
		d.page(w, http.StatusUnprocessableEntity, "start", startView{d.frame(d.words.Say("desk.start")), name, currency, says(d.words, t.problems[0], ""), t.problems[0].Field})
		return
	}
	if err := d.save(s.file, "", s.text); err != nil && !errors.Is(err, errOther) { // somebody else made one
		d.fail(w, err)
		return
	}
	d.refresh()
	http.Redirect(w, r, "/desk/", http.StatusSeeOther)
}
