package desk

import (
	"net/http"

	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
)

// tag shows the machine's tag to be printed, a card a page or, as it is asked for, four
// on a page. Of logs with problems there is none: they would say less than they should.
func (d *Desk) tag(w http.ResponseWriter, r *http.Request) {
	s := d.ofMachine(w, r)
	switch {
	case s == nil:
		return
	case len(s.reading.Problems) > 0:
		d.sealPage(w, http.StatusUnprocessableEntity, r.PathValue("key"), s)
		return
	}
	paper := sheet.CardPaper
	for _, p := range []sheet.Paper{sheet.Letter, sheet.A4} {
		if p.Name == r.FormValue("paper") {
			paper = p
		}
	}
	tag, err := handover.Tags(d.folder, s.reading.Site(), []int{s.n}, d.today(), paper)
	if err != nil {
		d.fail(w, err)
		return
	}
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", `inline; filename="`+tag.Name+`"`)
	_, _ = w.Write(tag.PDF)
}
