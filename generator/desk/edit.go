package desk

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
)

// A writing is a file while it is edited: what the form is made from.
type writing struct {
	target
	base      string   // the digest of the file that the form began with
	text      []byte   // as it is written now: the draft, or the file
	kept      bool     // the draft differs from the file
	elsewhere bool     // the file was changed by somebody else since
	more      string   // the list that is to have one more row
	find      string   // what bench tests are looked for by
	finding   bool     // somebody is at it
	phone     bool     // a phone keeps it
	draft     string   // the digest of the draft on this computer that its form began with
	window    string   // the form that it was typed in: two tabs of one page are two
	newer     *draft   // a draft that this form knows nothing of stands on the disk; nil for none
	look      bool     // what is wrong in it is to be told
	test      string   // the row of the bench test that was chosen
	refused   []string // what is said of photos that were not taken in
}

// begin begins a file that is not there yet.
func (d *Desk) begin(w http.ResponseWriter, r *http.Request) {
	id := d.clock().Format("20060102T150405") + "-" + NewSecret()[:6]
	http.Redirect(w, r, r.URL.Path+"/"+id, http.StatusSeeOther)
}

// open is the draft of a target, or its file.
func (d *Desk) open(t target) (writing, error) {
	s := writing{target: t}
	dr, err := d.draftOf(t.id)
	if err != nil {
		return s, err
	}
	if dr != nil {
		s.base, s.text, s.kept, s.draft = dr.Base, dr.Text, true, Digest(dr.Text)
		return s, nil
	}
	if t.file == "" {
		s.text = d.fresh(t)
		return s, nil
	}
	there, err := d.now(t.file)
	if err == nil && there == nil {
		err = errNoFile
	}
	s.base, s.text = Digest(there), there
	return s, err
}

// fresh is a file from nothing, with what is known of it already.
func (d *Desk) fresh(t target) []byte {
	want := frontmatter.Node{Kind: frontmatter.Fields}
	switch t.kind {
	case logbook.FileEntry:
		want.Fields = []frontmatter.Field{textField("date", string(d.today()))}
		if day, clock := begunAt(t.id); day == d.today() {
			want.Fields = append(want.Fields, textField("time", clock))
		}
	case logbook.FileMachine:
		want.Fields = []frontmatter.Field{textField("arrived", string(d.today())), textField("stage", logbook.InTheShop)}
	}
	return frontmatter.New(want, "")
}

// show shows the form of a file.
func (d *Desk) show(w http.ResponseWriter, r *http.Request) {
	t, ok := targetOf(r)
	if !ok {
		d.notFound(w, r)
		return
	}
	// What was begun here has a name by now: its page is another. A form of nothing would make
	// a second one of it, in the place of the first.
	if now := d.followed(t); now.id != t.id {
		http.Redirect(w, r, now.address(), http.StatusSeeOther)
		return
	}
	s, err := d.open(t)
	switch {
	case errors.Is(err, errNoFile):
		d.notFound(w, r)
	case err != nil:
		d.fail(w, err)
	default:
		q := r.URL.Query()
		s.more, s.test, s.look = q.Get("more"), q.Get("test"), q.Has("look")
		s.find, s.finding = q.Get("find"), q.Has("find")
		s.refused = d.refused.get(q.Get("refused"))
		d.showForm(w, s, nil, q.Get("said"))
	}
}

// showForm shows the form, with what is wrong in it where that was asked for.
func (d *Desk) showForm(w http.ResponseWriter, s writing, rows placed, said string) {
	var t *tried
	if s.look {
		var err error
		if t, err = d.try(s); err != nil {
			d.fail(w, err)
			return
		}
	}
	d.form(w, http.StatusOK, s, rows, t, said)
}

// reply answers what a form sent with the form as it is now. What was typed is on the disk,
// so the browser is sent to the draft's own address: to load that page anew sends nothing a
// second time. Only a phone that keeps what is typed itself has it in the answer.
func (d *Desk) reply(w http.ResponseWriter, r *http.Request, s writing, rows placed, at string) {
	if s.phone {
		d.showForm(w, s, rows, "")
		return
	}
	q := url.Values{}
	for name, value := range map[string]string{"more": s.more, "test": s.test} {
		if value != "" {
			q.Set(name, value)
		}
	}
	if s.look {
		q.Set("look", "1")
	}
	if s.finding {
		q.Set("find", s.find)
	}
	to := s.address()
	if len(q) > 0 {
		to += "?" + q.Encode()
	}
	http.Redirect(w, r, to+at, http.StatusSeeOther)
}

// sent takes what a form sends.
func (d *Desk) sent(w http.ResponseWriter, r *http.Request) {
	t, ok := targetOf(r)
	if !ok {
		d.notFound(w, r)
		return
	}
	t = d.followed(t) // a late answer, a second press, a page gone back to, a machine renamed
	v, files, err := formOf(r)
	if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
		d.tooLarge(w, r, tooLarge.Limit)
		return
	}
	if err != nil {
		http.Error(w, err.Error(), http.StatusBadRequest)
		return
	}
	do, more, _ := strings.Cut(v.Get("do"), " ")
	if d.turns.late(r.URL.Path+" "+v.Get("window"), v.Get("turn")) && do == "try" {
		sendJSON(w, liveView{}) // what came after it has all of this, and more
		return
	}
	switch do {
	case "drop", "theirs":
		d.drop(w, r, t, v)
		return
	case "go-on", "newer":
		if d.twoDrafts(w, r, t, v) {
			return
		}
	case "over":
		if !d.ofNoMachine(w, t) {
			d.replaceOther(w, r, t, v.Get("base"))
		}
		return
	}
	if (do == "keep" || do == "keep-so") && t.file == "" && v.Get(fieldPrefix+"date") == string(d.today()) {
		stopClock(v, d.clock().Format("15:04")) // who keeps an evening has ended it
	}
	turned(v, do, more, d.clock())
	s, rows, err := d.written(t, v, !fleeting(w, r))
	switch {
	case err != nil && do == "try":
		sendJSON(w, liveView{Line: d.words.Say("desk.not-drafted", "why", err.Error())})
		return
	case err != nil:
		d.fail(w, err)
		return
	case s.newer != nil && do == "try":
		sendJSON(w, liveView{Line: d.words.Say("desk.newer-line")})
		return
	case s.newer != nil:
		d.newerDraft(w, s)
		return
	}
	if do != "try" && d.ofNoMachine(w, t) {
		return
	}
	switch do {
	case "try":
		d.live(w, s, rows)
	case "photos":
		d.takePhotos(w, r, s, files)
	case "more":
		s.more = more
		d.reply(w, r, s, rows, "#"+idOf(more))
	case "start", "stop":
		d.reply(w, r, s, rows, "#hours")
	case "test", "add-test":
		s.test = testRow(v, do, more, rows)
		d.reply(w, r, s, rows, "")
	case "find", "drop-test":
		s.finding = true
		d.reply(w, r, s, rows, "")
	case "keep", "keep-so":
		d.keepIt(w, r, s, rows, do == "keep-so")
	case "go-on":
		d.reply(w, r, s, rows, "")
	default: // Enter in a field, and the button that only looks
		s.look = true
		d.reply(w, r, s, rows, "")
	}
}

// ofNoMachine tells of an evening whose machine went while its page was open. What was typed is
// a draft: in a folder of its own it would be of no machine. Told is whether it is so.
func (d *Desk) ofNoMachine(w http.ResponseWriter, t target) (told bool) {
	if t.kind != logbook.FileEntry {
		return false
	}
	there, err := afero.Exists(d.folder, entry.MachineFile(t.machine))
	switch {
	case err != nil:
		d.fail(w, err)
	case !there:
		d.page(w, http.StatusNotFound, "failed", failedView{d.frame(""), d.words.Say("desk.no-machine", "key", t.machine)})
	}
	return err != nil || !there
}

// testRow is the row of a bench test that was just chosen, as the form that is filled in
// from its file numbers it.
func testRow(v url.Values, do, row string, rows placed) string {
	if do == "add-test" {
		kind, _ := benchtest.KindNamed(row)
		for _, n := range slices.Backward(rowsIn(v, "tests")) {
			if at := fieldPrefix + "tests." + strconv.Itoa(n); v.Get(at+".test") == kind.Name {
				row = at
				break
			}
		}
	}
	for item, n := range rows {
		if number, ok := strings.CutPrefix(item, "tests["); ok && row == fieldPrefix+"tests."+strconv.Itoa(n) {
			return fieldPrefix + "tests." + strings.TrimSuffix(number, "]")
		}
	}
	return ""
}

// formOf is what a form sends, with its photos.
func formOf(r *http.Request) (url.Values, []*multipart.FileHeader, error) {
	err := r.ParseMultipartForm(8 << 20)
	if errors.Is(err, http.ErrNotMultipart) {
		err = r.ParseForm()
	}
	if err != nil {
		return nil, nil, err
	}
	var files []*multipart.FileHeader
	if r.MultipartForm != nil {
		files = r.MultipartForm.File["photo"] // its temporary files go when the request ends
	}
	return r.PostForm, files, nil
}

// written is the file as a form has it, and which row of the form each item of its
// lists is. It is on the disk as a draft when this returns, if it differs from the file
// and nobody else keeps it.
func (d *Desk) written(t target, v url.Values, keep bool) (writing, placed, error) {
	s := writing{target: t, base: v.Get("base"), find: strings.TrimSpace(v.Get("find")), window: v.Get("window")}
	// The window that the file was kept from goes on with it. Another one does not know of
	// it: to keep that is to see both.
	if was, kept := d.named.of(t.begunAs); kept && s.base == "" && s.window == was.window {
		s.base = was.base
	}
	from, same, err := d.began(t, v.Get("from"))
	if err != nil {
		return s, nil, err
	}
	rows := placed{}
	if v.Has("raw") {
		s.text = asLong(v.Get("raw"), from)
	} else if s.text, err = d.formText(t, v, from, same, rows); err != nil {
		return s, nil, err
	}
	there, err := d.origin(t)
	if err != nil {
		return s, nil, err
	}
	s.elsewhere = t.file != "" && Digest(there) != s.base
	if !keep {
		s.phone, s.draft = true, v.Get("draft")
		return s, rows, nil
	}
	if s.newer, err = d.newerThan(t, v); err != nil || s.newer != nil && string(s.newer.Text) != string(s.text) {
		return s, rows, err
	}
	s.newer = nil
	if string(there) == string(s.text) {
		return s, rows, d.dropDraft(t.id)
	}
	s.kept = true
	return s, rows, d.writeDraft(t.id, draft{File: t.file, Base: s.base, Began: from, Text: s.text, Window: s.window})
}

// newerThan is the draft on the disk where a form knows nothing of it: it was neither filled
// in from that draft, nor was the draft written from it.
func (d *Desk) newerThan(t target, v url.Values) (*draft, error) {
	dr, err := d.draftOf(t.id)
	if err != nil || dr == nil || !v.Has("window") { // every form of a page has one
		return nil, err
	}
	if mine := dr.Window != "" && dr.Window == v.Get("window"); mine || Digest(dr.Text) == v.Get("from") {
		return nil, nil
	}
	return dr, nil
}

// formText is the text that a form was filled in from, with what the form says.
func (d *Desk) formText(t target, v url.Values, from []byte, same bool, rows placed) ([]byte, error) {
	f, err := frontmatter.Read(from)
	if err != nil {
		return nil, err
	}
	sent := branchOf(v)
	sent.money(d.currency())
	if !same {
		sent.forget()
	}
	want := fieldsWanted(f.Fields(), sent, fieldsOf(t.kind), "", rows)
	if t.kind == logbook.FileEntry {
		ownTime(&want, t)
		d.nameKeys(want, t)
		know(want)
	}
	told := f.Story()
	if v.Has("story") && lined(v.Get("story")) != lined(told) {
		told = lined(v.Get("story"))
	}
	return f.With(want, told)
}

// asLong is a file that was typed as it stands: with the line ends that it had, and with
// or without a line end at its end as before.
func asLong(typed string, was []byte) []byte {
	text := strings.ReplaceAll(strings.ReplaceAll(typed, "\r\n", "\n"), "\r", "\n")
	if bytes.HasSuffix(was, []byte("\n")) && !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	if bytes.Contains(was, []byte("\r\n")) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return []byte(text)
}

// nameKeys gives a short name to each new defect and change that has none: the files know
// them by it, and nobody should have to think of one.
func (d *Desk) nameKeys(want frontmatter.Node, t target) {
	taken := map[string]bool{}
	if _, report := machineOf(d.o.Reading(), t.machine); report != nil {
		for _, s := range report.Subjects {
			elsewhere := func(e condition.Event) bool { return e.Entry.File != t.file }
			taken[s.Key] = taken[s.Key] || slices.ContainsFunc(s.History, elsewhere)
		}
	}
	for _, f := range want.Fields {
		says, named := map[string]string{"defects": "defect", "changed": "what"}[f.Name]
		if !named {
			continue
		}
		for n, item := range f.Node.Items {
			what, _ := item.Find(says)
			if _, has := item.Find("key"); has || item.From > 0 || what.Text == "" || item.Kind != frontmatter.Fields {
				continue
			}
			key := entry.FreeKey(what.Text, says, func(key string) bool { return taken[key] })
			taken[key] = true
			first := textField("key", key)
			f.Node.Items[n].Fields = append([]frontmatter.Field{first}, item.Fields...)
		}
	}
}

// origin is the file as it is, or what a new one begins with.
func (d *Desk) origin(t target) ([]byte, error) {
	if t.file == "" {
		return d.fresh(t), nil
	}
	return d.now(t.file)
}

// began is the text that a form was filled in from, by its digest. Where it is not to be
// found any more (the program was started anew, and there were two windows), same is false
// and the text is the newest: then the rows of the form stand in place of all that it has.
func (d *Desk) began(t target, from string) (text []byte, same bool, err error) {
	dr, err := d.draftOf(t.id)
	if err != nil {
		return nil, false, err
	}
	origin, err := d.origin(t)
	if err != nil {
		return nil, false, err
	}
	known := [][]byte{d.shown.get(from), origin}
	if dr != nil {
		known = append(known, dr.Text, dr.Began)
	}
	for _, text := range known {
		if text != nil && Digest(text) == from {
			return text, true, nil
		}
	}
	for _, text := range slices.Backward(known) {
		if text != nil {
			return text, false, nil
		}
	}
	return nil, false, errNoFile
}

// drop takes a draft away, but none that somebody wrote in another window since. What it says
// stays among the kept files: a wrong press loses nothing.
func (d *Desk) drop(w http.ResponseWriter, r *http.Request, t target, v url.Values) {
	if newer, err := d.newerThan(t, v); err != nil || newer != nil {
		if err != nil {
			d.fail(w, err)
			return
		}
		http.Redirect(w, r, t.address()+"?said=newer", http.StatusSeeOther)
		return
	}
	if err := d.putAside(t.id); err != nil {
		d.fail(w, err)
		return
	}
	to := t.back
	if t.file != "" { // one that was undone before it was dropped is there no more
		there, err := d.now(t.file)
		if err != nil {
			d.fail(w, err)
			return
		}
		if there != nil {
			to = t.address()
		}
	}
	said := "dropped"
	if v.Get("do") == "theirs" {
		said = "theirs"
	}
	http.Redirect(w, r, to+"?said="+said, http.StatusSeeOther)
}

// twoDrafts does what was picked where a newer draft was written in another window: what was
// not picked is put among the kept files. Done is whether the request is answered.
func (d *Desk) twoDrafts(w http.ResponseWriter, r *http.Request, t target, v url.Values) (done bool) {
	var err error
	var newer, there *draft
	if v.Get("do") == "newer" {
		err = d.keepText(t.id, asLong(v.Get("raw"), nil))
	} else if newer, err = d.newerThan(t, v); err == nil && newer == nil { // else it is asked again
		if there, err = d.draftOf(t.id); err == nil && there != nil {
			err = d.keepText(t.id, there.Text)
		}
	}
	switch {
	case err != nil:
		d.fail(w, err)
	case v.Get("do") == "newer":
		http.Redirect(w, r, t.address(), http.StatusSeeOther)
	default:
		return false
	}
	return true
}

// trial is the file's name while it is tried.
func (t target) trial(text []byte) string {
	switch {
	case t.file != "":
		return t.file
	case t.kind == logbook.FileEntry:
		return "machines/" + t.machine + "/" + stemOf(text) + "-draft.md"
	case t.kind == logbook.FileMachine:
		return entry.MachineFile(newMachineKey)
	}
	return "sheets/new-sheet.md"
}

// newMachineKey is the key of a machine that has none yet, while it is tried.
const newMachineKey = "new-machine"

// stemOf is the name of an entry without its ending, from its date and title.
func stemOf(text []byte) string {
	f, err := frontmatter.Read(text)
	if err != nil {
		return "draft"
	}
	date, _ := f.Fields().Find("date")
	title, _ := f.Fields().Find("title")
	return entry.Entry{Date: date.Text, Title: title.Text}.Stem()
}

// keepIt puts what was written into the shop's folder, if nothing in it is wrong or the
// person wants it so all the same.
func (d *Desk) keepIt(w http.ResponseWriter, r *http.Request, s writing, rows placed, anyway bool) {
	tried, err := d.try(s)
	if err != nil {
		d.fail(w, err)
		return
	}
	if len(tried.problems) > 0 && (!anyway || tried.silent) {
		s.look = true
		d.reply(w, r, s, rows, "")
		return
	}
	to, begun := s.back, s.begunAs
	if s.kind == logbook.FileMachine && s.file != "" { // who writes on a machine goes on with it
		to = s.address()
	}
	if s.file == "" {
		begun = cmp.Or(begun, s.id)
	}
	switch {
	case !s.kept && s.file != "": // it says what the file says
	case s.file != "":
		err = d.save(s.file, s.base, s.text)
	case s.kind == logbook.FileEntry:
		s.text = titled(s.text)
		s.file, err = d.saveNew("machines/"+s.machine+"/", stemOf(s.text), s.text)
	case s.kind == logbook.FileMachine:
		key := entry.FreeKey(s.called("name"), "machine", func(key string) bool {
			there, err := afero.Exists(d.folder, "machines/"+key)
			return err != nil || there || !entry.GoodKey(key)
		})
		s.file, err = entry.MachineFile(key), d.save(entry.MachineFile(key), "", s.text)
		to = machineAt(key)
	default:
		s.file, err = d.saveNew("sheets/", entry.Slug(s.called("sheet")), s.text)
	}
	if errors.Is(err, errOther) {
		d.conflict(w, s)
		return
	}
	if err == nil {
		if begun != "" {
			d.named.put(begun, keptAs{s.file, Digest(s.text), s.window})
		}
		err = d.dropDraft(s.id)
	}
	if err != nil {
		d.fail(w, err)
		return
	}
	d.refresh()
	http.Redirect(w, r, to+"?said=kept", http.StatusSeeOther)
}

// called is a text of the file.
func (s writing) called(name string) string {
	f, err := frontmatter.Read(s.text)
	if err != nil {
		return ""
	}
	n, _ := f.Fields().Find(name)
	return n.Text
}

// saveNew saves a file under the first name of its kind that is free.
func (d *Desk) saveNew(dir, stem string, text []byte) (string, error) {
	if stem == "" {
		stem = "new"
	}
	for n := 1; n < mostRows; n++ {
		name := dir + stem + ".md"
		if n > 1 {
			name = dir + stem + "-" + strconv.Itoa(n) + ".md"
		}
		switch err := d.save(name, "", text); {
		case errors.Is(err, errOther):
			continue
		default:
			return name, err
		}
	}
	return "", fmt.Errorf("%s%s.md: %w", dir, stem, entry.ErrTaken)
}

type conflictView struct {
	frame
	File, At, Back, Base string
	Theirs, Own          []versionLine
	Mine                 string // the text of Own
	From                 string // the digest of theirs, where it is a newer draft
}

// A versionLine is a line of one of two versions.
type versionLine struct {
	Text    string
	Differs bool // the other has no such line
}

// versionLines are the lines of a text, held against those of another one.
func versionLines(text, other string) (all []versionLine) {
	has := map[string]bool{}
	for line := range strings.Lines(other) {
		has[strings.TrimRight(line, "\r\n")] = true
	}
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		all = append(all, versionLine{line, !has[line]})
	}
	return all
}

// versions are those two texts as the page of a conflict has them.
func (v conflictView) versions(theirs, mine []byte) conflictView {
	v.Theirs, v.Own, v.Mine = versionLines(string(theirs), string(mine)), versionLines(string(mine), string(theirs)), string(mine)
	return v
}

// newerDraft shows both: the draft that is there, and what an older form of it sent. What is
// there is not written over unless the person says so.
func (d *Desk) newerDraft(w http.ResponseWriter, s writing) {
	d.page(w, http.StatusConflict, "conflict", conflictView{
		frame: d.frame(d.words.Say("desk.conflict")), File: s.file,
		At: s.address(), Back: s.back, Base: s.base, From: Digest(s.newer.Text),
	}.versions(s.newer.Text, s.text))
}

// conflict shows both: the file as somebody else left it, and what was written here.
func (d *Desk) conflict(w http.ResponseWriter, s writing) {
	there, err := d.now(s.file)
	if err != nil {
		d.fail(w, err)
		return
	}
	d.page(w, http.StatusConflict, "conflict", conflictView{
		frame: d.frame(d.words.Say("desk.conflict")), File: s.file,
		At: s.at, Back: s.back, Base: Digest(there),
	}.versions(there, s.text))
}

// replaceOther puts the draft over a file that somebody else has changed; theirs is
// among the kept files.
func (d *Desk) replaceOther(w http.ResponseWriter, r *http.Request, t target, base string) {
	s, err := d.open(t)
	if err != nil {
		d.fail(w, err)
		return
	}
	s.base = base
	if s.kind == logbook.FileMachine && s.file != "" {
		there, err := d.now(s.file)
		if err == nil {
			s.text, err = withEarlierNames(s.text, there)
		}
		if err != nil {
			d.fail(w, err)
			return
		}
	}
	d.keepIt(w, r, s, nil, true)
}

// refresh has the shop read anew, so that the next page shows what was just kept.
func (d *Desk) refresh() {
	if d.o.Refresh != nil {
		d.o.Refresh()
	}
}
