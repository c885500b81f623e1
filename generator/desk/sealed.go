package desk

import (
	"errors"
	"net/http"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

type sealedView struct {
	frame
	Back, Machine, Key, Code, File string
	HTML, PDF                      string
}

// A sealedReport is one that was sealed of a machine, as the machine's page lists it.
type sealedReport struct {
	Date, Code, HTML, PDF string
	Since                 string      // whether the log has changed; empty where that is in the lists
	Lists                 []sealGroup // what has changed
}

// copiesFolder is where the buyer's files of the reports that were sealed at the desk are
// kept: another version of the program may print a report otherwise than the one that
// sealed it, and only what was made then is vouched for.
const copiesFolder = ".asleft/sealed"

func (d *Desk) keepCopy(name string, data []byte) error {
	if err := d.folder.MkdirAll(copiesFolder, 0o755); err != nil {
		return err
	}
	return afero.WriteFile(d.folder, copiesFolder+"/"+name, data, 0o644)
}

// sealedOf are the sealed reports of a machine, the newest first, each with what the log
// says of it today.
func (d *Desk) sealedOf(reading *generator.Reading, m *logbook.Machine) []sealedReport {
	chain, err := handover.ReadChain(d.folder, d.words, d.today())
	if err != nil {
		return nil // Seal a report says what is wrong with the folder
	}
	earlier := chain.Earlier(m)
	var today *handover.Facts
	if n := slices.Index(reading.Shop.Machines, m); len(earlier) > 0 && len(reading.Problems) == 0 && n >= 0 {
		today = handover.Today(reading.Site(), n, d.today())
	}
	var all []sealedReport
	for _, l := range slices.Backward(earlier) {
		one := sealedReport{Date: d.words.Day(logbook.Date(l.Seal.Facts.Sealed).Day()), Code: handover.GroupedCode(l.Seal.Code)}
		one.HTML, one.PDF = l.Files()
		one.Since, one.Lists = d.since(l, today)
		all = append(all, one)
	}
	return all
}

// since is what has changed since a report was sealed, in the words of vouch. Today is nil
// where that cannot be told.
func (d *Desk) since(l *handover.Link, today *handover.Facts) (says string, lists []sealGroup) {
	if today == nil {
		return d.words.Say("desk.sealed-broken"), nil
	}
	now := l.Held(today, d.words)
	if says := l.Unchanged(now, d.words); says != "" {
		return says, nil
	}
	gone, added := sealGroup{Title: d.words.Say("vouch.gone")}, sealGroup{Title: d.words.Say("vouch.since")}
	for _, ch := range now.Changes {
		if ch.Gone {
			gone.Items = append(gone.Items, ch.Text)
		} else {
			added.Items = append(added.Items, ch.Text)
		}
	}
	return "", slices.DeleteFunc([]sealGroup{gone, added}, func(g sealGroup) bool { return len(g.Items) == 0 })
}

// buyerFile gives one of the buyer's files of a sealed report to be saved.
func (d *Desk) buyerFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	s := d.ofMachine(w, r)
	if s == nil {
		return
	}
	chain, err := handover.ReadChain(d.folder, s.reading.Words, d.today())
	if err != nil {
		d.fail(w, err)
		return
	}
	m := s.reading.Shop.Machines[s.n]
	all := chain.Earlier(m)
	n := slices.IndexFunc(all, func(l *handover.Link) bool {
		html, pdf := l.Files()
		return name == html || name == pdf
	})
	if n < 0 {
		d.notFound(w, r)
		return
	}
	data, err := d.copyOf(chain, all[n], m, name)
	switch {
	case errors.Is(err, handover.ErrOtherCopies):
		d.page(w, http.StatusConflict, "failed", failedView{d.frame(d.words.Say("desk.sealed-list")), d.words.Say("desk.sealed-other")})
		return
	case err != nil:
		d.fail(w, err)
		return
	}
	kind := "application/pdf"
	if strings.HasSuffix(name, ".html") {
		kind = "text/html; charset=utf-8"
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(data)
}

// copyOf is one of the buyer's files as it was made when the report was sealed: the one
// that was kept, where it is still whole, or one that is made again.
func (d *Desk) copyOf(chain *handover.Chain, l *handover.Link, m *logbook.Machine, name string) ([]byte, error) {
	if kept, err := rooted.ReadFile(d.folder, copiesFolder+"/"+name, rooted.MostText); err == nil && l.Made(kept) {
		return kept, nil
	}
	html, pdf, err := chain.Again(d.folder, l, m, d.o.Program, sheet.Letter)
	if strings.HasSuffix(name, ".html") {
		return html, err
	}
	return pdf, err
}
