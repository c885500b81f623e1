package desk

import (
	"cmp"
	"net/http"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/condition"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/record"
)

// sealView is what the buyer will be told, before it is sealed.
type sealView struct {
	frame
	At, Back, Machine string
	Groups            []sealGroup
	Before            []sealGap // what could still be said, what would change the report most first
	Notes             []string  // of the reports sealed before
	Tell              bool      // the buyer has to be told of what is in the groups
	Papers            []option
	Wrong             []fileLink // what has to be mended first
}

// A sealGap is what is unanswered, unproven or unsaid, with where it is said.
type sealGap struct {
	Title, To, Do string
	Items         []fileLink
}

type sealGroup struct {
	Title string
	Items []string
}

// A sealing is what goes into a sealed report.
type sealing struct {
	reading *generator.Reading
	n       int
	report  *handover.Report // nil where a log has a problem
}

// ofMachine reads the shop as it is on the disk and finds the machine of a request in it;
// nil where that was answered already.
func (d *Desk) ofMachine(w http.ResponseWriter, r *http.Request) *sealing {
	reading, err := generator.Read(d.folder, generator.Options{Today: d.today(), Words: d.words, Album: &d.album})
	if err != nil {
		d.fail(w, err)
		return nil
	}
	n := slices.IndexFunc(reading.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == r.PathValue("key") })
	if n < 0 {
		d.notFound(w, r)
		return nil
	}
	return &sealing{reading: reading, n: n}
}

// gather gathers the report, where no log has a problem.
func (d *Desk) gather(s *sealing) (err error) {
	if len(s.reading.Problems) > 0 {
		return nil
	}
	if s.report, err = handover.Prepare(d.folder, s.reading.Site(), s.n, d.today()); err != nil {
		return err
	}
	s.report.Program = d.o.Program
	if d.o.Settings != nil {
		gone, before := s.report.Chain.Forgotten(d.folder, d.o.Settings)
		s.report.Breaks, s.report.Missed = append(s.report.Breaks, gone...), append(s.report.Missed, before...)
	}
	return nil
}

// beforeSealing shows what the buyer will be told, and what is still open.
func (d *Desk) beforeSealing(w http.ResponseWriter, r *http.Request) {
	if s := d.prepared(w, r); s != nil {
		d.sealPage(w, http.StatusOK, r.PathValue("key"), s)
	}
}

// prepared is what would be sealed of the machine of a request; nil where that was
// answered already.
func (d *Desk) prepared(w http.ResponseWriter, r *http.Request) *sealing {
	s := d.ofMachine(w, r)
	if s == nil {
		return nil
	}
	if err := d.gather(s); err != nil {
		d.fail(w, err)
		return nil
	}
	return s
}

func (d *Desk) sealPage(w http.ResponseWriter, status int, key string, s *sealing) {
	m := s.reading.Shop.Machines[s.n]
	v := sealView{frame: d.frame(d.words.Say("desk.seal")), At: machineAt(key) + "/seal", Back: machineAt(key), Machine: m.Name}
	for _, p := range s.reading.Problems {
		v.Wrong = append(v.Wrong, fileLink{addressOf(idOfFile(p.File)), nameOfFile(s.reading.Shop, p.File), labeled(d.words, p.Says)})
	}
	v.Before = d.before(s.reading, s.n)
	if s.report != nil {
		facts := s.report.Facts
		v.Tell = facts.TellBuyer()
		for _, g := range []struct {
			title string
			of    []record.Subject
		}{
			{d.words.Say("desk.seal-open"), facts.Open()}, {d.words.Say("desk.seal-wrong"), facts.Wrong()}, {d.words.Say("desk.seal-not-said"), facts.NotSaid()},
		} {
			if len(g.of) == 0 {
				continue
			}
			group := sealGroup{Title: g.title}
			for _, of := range g.of {
				group.Items = append(group.Items, d.told(of))
			}
			v.Groups = append(v.Groups, group)
		}
		for _, b := range slices.Concat(s.report.Missed, s.report.Breaks) {
			v.Notes = append(v.Notes, b.Says)
		}
		for _, g := range facts.Gone {
			v.Notes = append(v.Notes, d.words.Say("desk.seal-gone", "text", g.Text))
		}
	}
	v.Papers = same([]string{sheet.Letter.Name, sheet.A4.Name})
	d.page(w, status, "seal", v)
}

// told is how something stands. A point is named as it should be, and "wrong" behind that
// can be read both ways: it is told as the report tells it.
func (d *Desk) told(of record.Subject) string {
	if of.Kind == string(condition.KindPoint) && of.Standing == string(condition.Wrong) {
		return d.words.Say("desk.seal-not-so", "name", of.Name)
	}
	return d.words.Say("desk.seal-subject", "name", of.Name, "standing", d.words.Say("standing."+condition.Standing(of.Standing).Key()))
}

// before is what the report has to leave open, in the order in which an answer would change
// it most: what can hurt someone first, then what was repaired and not proven, then all
// else.
func (d *Desk) before(reading *generator.Reading, n int) []sealGap {
	m, r := reading.Shop.Machines[n], reading.Reports[n]
	at, walk := machineAt(m.Key), machineAt(m.Key)+"/list"
	gaps := []sealGap{
		{Title: d.words.Say("desk.seal-points-safety"), To: walk, Do: d.words.Say("desk.walk")},
		{Title: d.words.Say("desk.seal-unsaid")},
		{Title: d.words.Say("desk.seal-open-defects"), To: at + "/new", Do: d.words.Say("desk.write-evening")},
		{Title: d.words.Say("desk.seal-unproven"), To: at + "/new", Do: d.words.Say("desk.write-evening")},
		{Title: d.words.Say("desk.seal-points"), To: walk, Do: d.words.Say("desk.walk")},
		{Title: d.words.Say("desk.seal-gaps")},
	}
	put := func(n int, s *condition.Subject) {
		link := fileLink{Name: s.Name}
		if h := len(s.History); h > 0 {
			link.To = addressOf(idOfFile(s.History[0].Entry.File))
		}
		gaps[n].Items = append(gaps[n].Items, link)
	}
	for _, s := range r.Subjects {
		switch {
		case s.Kind == condition.KindPoint && s.Unanswered() && s.Open:
			put(0, s)
		case slices.Contains([]condition.Kind{condition.KindDefect, condition.KindMissing, condition.KindChange}, s.Kind) && s.Safety == logbook.NotSaid && s.Standing != condition.InOrder:
			put(1, s)
		case s.Kind == condition.KindDefect && s.Standing == condition.Wrong:
			put(2, s)
		case s.Kind == condition.KindDefect && s.Standing == condition.NotProven:
			put(3, s)
		case s.Kind == condition.KindPoint && s.Unanswered():
			put(4, s)
		}
	}
	if m.Stage == logbook.ForSale && !m.Asking.Set {
		gaps[5].Items = append(gaps[5].Items, fileLink{To: at, Name: d.words.Say("desk.waits-price")})
	}
	if m.Stage == logbook.ForSale && reading.Shop.Contact == "" {
		gaps[5].Items = append(gaps[5].Items, fileLink{To: "/desk/shop#f-contact", Name: d.words.Say("desk.no-contact")})
	}
	for _, g := range condition.Gaps(reading.Shop, r, reading.Words) {
		if g.Says == reading.Words.Say("gap.no-time") {
			g.Place = g.Place.In("time") // the form has a place for it
		}
		gaps[5].Items = append(gaps[5].Items, fileLink{To: fieldAt(g.Place), Name: labeled(d.words, g.Says)})
	}
	return slices.DeleteFunc(gaps, func(g sealGap) bool { return len(g.Items) == 0 })
}

// fieldAt is the address of a field in the form of its file, as far as it is known.
func fieldAt(p logbook.Place) string {
	to := addressOf(idOfFile(p.File))
	if name := fieldName(p.Field, placed{}); to != "" && name != "" {
		to += "#" + idOf(name)
	}
	return to
}

// seal seals the report. The buyer's files are made in memory and given to the browser.
func (d *Desk) seal(w http.ResponseWriter, r *http.Request) {
	key := r.PathValue("key")
	d.saving.Lock()
	defer d.saving.Unlock()
	s := d.prepared(w, r)
	switch {
	case s == nil:
		return
	case s.report == nil, s.report.Facts.TellBuyer() && r.PostForm.Get("tell") != "yes":
		d.sealPage(w, http.StatusUnprocessableEntity, key, s)
		return
	}
	paper := sheet.Letter
	if r.PostForm.Get("paper") == sheet.A4.Name {
		paper = sheet.A4
	}
	settings := cmp.Or[afero.Fs](d.o.Settings, afero.NewMemMapFs())
	buyer := afero.NewMemMapFs()
	made, err := s.report.Seal(buyer, settings, paper)
	if err != nil {
		d.fail(w, err)
		return
	}
	made.Remember(d.folder, settings, s.report.Chain)
	for _, name := range []string{made.HTML, made.PDF} {
		data, err := afero.ReadFile(buyer, name)
		if err == nil {
			err = d.keepCopy(name, data)
		}
		if err != nil { // it is sealed all the same, and its page makes the file again
			d.fail(w, err)
			return
		}
	}
	d.refresh()
	d.page(w, http.StatusOK, "sealed", sealedView{
		frame: d.frame(d.words.Say("desk.sealed")), Back: machineAt(key), Machine: made.Seal.Facts.Record.Machine.Name, Key: key,
		Code: handover.GroupedCode(made.Seal.Code), File: made.File, HTML: made.HTML, PDF: made.PDF,
	})
}
