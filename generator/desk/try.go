package desk

import (
	"cmp"
	"maps"
	"net/http"
	"net/url"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/govalues/decimal"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/frontmatter"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// A tried is what came of reading the shop as if a file were there already.
type tried struct {
	problems []logbook.Problem // in that file
	silent   bool              // nobody said of a new defect if it can hurt someone, or what a number means
	own      []logbook.Problem // those of what was typed: they say how to mend it themselves
	reading  *generator.Reading
	kind     string // of the file
	file     string
}

// try reads the shop with a draft in place of its file. Nothing is written.
func (d *Desk) try(s writing) (*tried, error) {
	d.trying.Lock() // so that a burst of keystrokes is one reading after the other
	defer d.trying.Unlock()
	if s.kind == logbook.FileEntry && s.file == "" {
		s.text = titled(s.text)
	}
	t := &tried{file: s.trial(s.text), kind: s.kind}
	over := afero.NewMemMapFs()
	if err := afero.WriteFile(over, t.file, s.text, 0o644); err != nil {
		return nil, err
	}
	folder := afero.NewCopyOnWriteFs(afero.NewReadOnlyFs(d.folder), over)
	o := generator.Options{Today: d.today(), Words: d.words, Album: &d.album}
	key := s.machine
	if s.kind == logbook.FileMachine && key == "" {
		key = newMachineKey
	}
	var err error
	if key != "" {
		t.reading, err = generator.ReadMachine(folder, key, d.names(key), o)
	} else {
		t.reading, err = generator.Read(folder, o)
	}
	if t.reading == nil {
		return nil, err
	}
	for _, p := range t.reading.Problems {
		if p.File == t.file {
			t.problems = append(t.problems, p)
		}
	}
	own, twofold := d.typed(s)
	t.problems, t.own, t.silent = inPlaceOf(t.problems, own), own, twofold
	if s.kind == logbook.FileEntry && s.file == "" {
		silent := d.silent(s.text)
		t.problems, t.silent = append(t.problems, silent...), t.silent || len(silent) > 0
	}
	return t, nil
}

// silent are the defects of a new evening of which nobody said if they can hurt someone:
// silence is no answer, and is never taken for no.
func (d *Desk) silent(text []byte) []logbook.Problem {
	f, err := frontmatter.Read(text)
	r := d.o.Reading()
	if err != nil || r == nil {
		return nil
	}
	var all []logbook.Problem
	defects, _ := f.Fields().Find("defects")
	for n, item := range defects.Items {
		what, _ := item.Find("defect")
		system, _ := item.Find("system")
		if _, said := item.Find("safety"); said || what.Text == "" || r.Shop.AlwaysSafety(system.Text) {
			continue
		}
		all = append(all, logbook.Problem{Place: logbook.Place{Field: "defects[" + strconv.Itoa(n) + "].safety"}, Says: d.words.Say("desk.safety-needed", "what", what.Text)})
	}
	return all
}

// names are those of the machines, by key; of one that is only begun too.
func (d *Desk) names(key string) map[string]string {
	names := map[string]string{key: key}
	if r := d.o.Reading(); r != nil {
		for _, m := range r.Shop.Machines {
			names[m.Key] = m.Name
		}
	}
	return names
}

// wrong are the problems by the names of the form's fields; those that stand at none are
// under the empty name.
func (t *tried) wrong(words *catalog.Catalog, rows placed) map[string][]string {
	at := map[string][]string{}
	if t == nil {
		return at
	}
	for _, p := range t.problems {
		name := fieldName(p.Field, rows)
		key := keyOf(t.kind, p.Field)
		if slices.Contains(t.own, p) {
			key = ""
		}
		at[name] = append(at[name], says(words, p, key))
	}
	return at
}

// fieldName is the name in the form of a field that a problem names, as
// measured[1].value is f.measured.3.value where the form has that item in its row 3.
func fieldName(of string, rows placed) string {
	if of == "" {
		return ""
	}
	var b strings.Builder
	b.WriteString(strings.TrimSuffix(fieldPrefix, "."))
	for part := range strings.SplitSeq(of, ".") {
		name, number, _ := strings.Cut(part, "[")
		b.WriteString("." + strings.ReplaceAll(name, " ", "_"))
		if number, ok := strings.CutSuffix(number, "]"); ok {
			if row, there := rows[part]; there {
				number = strconv.Itoa(row)
			}
			b.WriteString("." + number)
		}
	}
	return testReading.ReplaceAllString(b.String(), "$1")
}

// testReading is one of several readings of a bench test: they stand in one field of the form.
var testReading = regexp.MustCompile(`^(f\.tests\.\d+\.[^.]+)\.\d+$`)

// A liveView is what a page is told while somebody types.
type liveView struct {
	Line    string              `json:"line"`  // that it is kept, or why not
	Wrong   map[string][]string `json:"wrong"` // by field
	Count   string              `json:"count"` // how many things are wrong; empty for none
	Figures []string            `json:"figures"`
	Report  bool                `json:"report"` // there is a report to show beside
	// Defects are those that this evening found, for its repairs to name.
	Defects []foundDefect `json:"defects"`
	SameDay string        `json:"sameDay"` // why its time is asked for
}

// A foundDefect is one that stands in the form, by the row that it is in.
type foundDefect struct {
	Row  string `json:"row"`
	Key  string `json:"key"`
	Name string `json:"name"`
}

// foundIn are the defects that a form finds.
func foundIn(text []byte, rows placed) []foundDefect {
	f, err := frontmatter.Read(text)
	if err != nil {
		return nil
	}
	var all []foundDefect
	defects, _ := f.Fields().Find("defects")
	for n, item := range defects.Items {
		key, _ := item.Find("key")
		what, _ := item.Find("defect")
		if key.Text != "" {
			all = append(all, foundDefect{fieldName("defects["+strconv.Itoa(n)+"]", rows), key.Text, cmp.Or(what.Text, key.Text)})
		}
	}
	return all
}

// live answers a form while it is filled in. The draft is on the disk already.
func (d *Desk) live(w http.ResponseWriter, s writing, rows placed) {
	t, err := d.try(s)
	if err != nil {
		sendJSON(w, liveView{Line: d.words.Say("desk.not-tried", "why", err.Error())})
		return
	}
	v := liveView{Line: d.words.Say("desk.as-file"), Wrong: t.wrong(d.words, rows), Figures: d.figures(t), Report: s.machine != "", Defects: foundIn(s.text, rows), SameDay: d.sameDay(s)}
	if n := len(t.problems); n > 0 {
		v.Count = d.words.Count("desk.to-mend", n)
	}
	if s.phone {
		v.Line = d.words.Say("desk.on-phone")
	} else if s.kept {
		v.Line = d.words.Say("desk.drafted", "time", d.clock().Format("15:04:05"))
	}
	if s.elsewhere {
		v.Line = d.words.Say("desk.changed-elsewhere")
	}
	sendJSON(w, v)
}

// figures are what comes of an evening: its hours, its money, what its readings and its
// tests say.
func (d *Desk) figures(t *tried) []string {
	for n, m := range t.reading.Shop.Machines {
		for _, e := range m.Entries {
			if e.File == t.file {
				return d.eveningFigures(t.reading, n, e)
			}
		}
	}
	return nil
}

func (d *Desk) eveningFigures(r *generator.Reading, n int, e *logbook.Entry) []string {
	var all []string
	var worked logbook.Minutes
	for _, s := range e.Sessions {
		worked += s.Work
	}
	if worked > 0 {
		all = append(all, d.words.Say("desk.figure-hours", "hours", worked.String()))
	}
	var sum decimal.Decimal
	parts := 0
	for _, l := range r.Count.Machines[n].Lines {
		if l.File != e.File || !l.Amount.Set {
			continue
		}
		all = append(all, d.words.Say("desk.figure-cost", "what", l.What, "amount", l.Amount.String(), "currency", r.Shop.Currency))
		for _, a := range []logbook.Amount{l.Amount, l.Tax, l.Shipping, l.Core} {
			if !a.Set {
				continue
			}
			more, err := sum.Add(a.Decimal)
			if err != nil {
				continue // it is larger than any shop's money; the count of the shop tells of it
			}
			sum, parts = more, parts+1
		}
	}
	if parts > 1 {
		all = append(all, d.words.Say("desk.figure-sum", "amount", sum.String(), "currency", r.Shop.Currency))
	}
	if n < len(r.Reports) {
		for _, s := range r.Reports[n].Subjects {
			if s.Kind == condition.KindMeasurement && s.Told != "" && inEntry(s, e) {
				all = append(all, s.Told)
			}
		}
	}
	outcomes, _ := benchtest.JudgeEntry(r.Shop, r.Shop.Machines[n], e, d.words)
	for _, o := range outcomes {
		all = append(all, o.Says...)
	}
	return all
}

func inEntry(s *condition.Subject, e *logbook.Entry) bool {
	return slices.ContainsFunc(s.History, func(h condition.Event) bool { return h.Entry.File == e.File })
}

// report is the report of a machine as it would be with a draft of one of its files.
func (d *Desk) report(w http.ResponseWriter, r *http.Request) {
	// A page of before its machine was renamed asks by the old name.
	was := target{machine: r.PathValue("key"), id: r.URL.Query().Get("draft")}
	now := was.moved(nowCalled(d.o.Reading(), was.machine))
	key, id := now.machine, now.id
	if id != "" && addressOf(id) == "" {
		d.notFound(w, r)
		return
	}
	s := writing{target: target{id: id, machine: key, kind: logbook.FileEntry}}
	var t *tried
	var err error
	dr, err := d.draftOf(id)
	switch {
	case err != nil:
	case id == "" || dr == nil:
		t, err = d.asFiled(key)
	default:
		s.file, s.text = dr.File, dr.Text
		t, err = d.try(s)
	}
	if err != nil {
		d.fail(w, err)
		return
	}
	theme, err := d.themes.of(func() (*page.Theme, error) {
		return t.reading.Theme(d.folder, generator.Options{Words: d.words, Theme: d.o.Theme, ThemeDir: d.o.ThemeDir})
	})
	if err != nil {
		d.fail(w, err)
		return
	}
	d.trying.Lock() // the theme serves one at a time
	made, err := t.reading.Report(key, theme)
	d.trying.Unlock()
	if err != nil || made == nil {
		d.notFound(w, r)
		return
	}
	w.Header().Set("X-Frame-Options", "SAMEORIGIN")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(d.withDraftPhotos(made, key, t.reading.Photos))
}

// withDraftPhotos is a report in which the photos that the site has not got yet, since no
// file that is kept names them, come from the machine's folder.
func (d *Desk) withDraftPhotos(made []byte, key string, photos map[string]page.Photo) []byte {
	inSite := map[string]bool{}
	if r := d.o.Reading(); r != nil {
		for _, p := range r.Photos {
			inSite[p.Key] = true
		}
	}
	var pairs []string
	for _, file := range slices.Sorted(maps.Keys(photos)) {
		p := photos[file]
		if inSite[p.Key] || !slices.Contains(photoDirs(key), path.Dir(file)) {
			continue
		}
		for _, size := range p.Sizes {
			pairs = append(pairs, reportUp+page.PhotoPath(p.Key, size.Width), machineAt(key)+"/photo/"+url.PathEscape(path.Base(file)))
		}
	}
	return []byte(strings.NewReplacer(pairs...).Replace(string(made)))
}

// reportUp leads from a report to the site's own folder.
const reportUp = "../../../"

// A themed remembers the shop's theme for a moment: to load it takes longer than to make
// a report.
type themed struct {
	mu    sync.Mutex
	theme *page.Theme
	at    time.Time
}

const themeTime = 10 * time.Second

func (t *themed) of(load func() (*page.Theme, error)) (*page.Theme, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.theme != nil && time.Since(t.at) < themeTime {
		return t.theme, nil
	}
	theme, err := load()
	if err == nil {
		t.theme, t.at = theme, time.Now()
	}
	return theme, err
}

// asFiled is a machine as its files have it.
func (d *Desk) asFiled(key string) (*tried, error) {
	r, err := generator.ReadMachine(d.folder, key, d.names(key), generator.Options{Today: d.today(), Words: d.words, Album: &d.album})
	if r == nil {
		return nil, err
	}
	return &tried{reading: r}, nil
}
