package handover

// What stands in every form of the report alike.

import (
	"slices"

	"asleft/generator/logbook"
)

func (r *Report) shopLine() string {
	s := r.Facts.Shop
	switch {
	case s.Place != "" && s.Contact != "":
		return r.words.Say("handover.shop-place-contact", "shop", s.Name, "place", s.Place, "contact", s.Contact)
	case s.Place != "":
		return r.words.Say("handover.shop-place", "shop", s.Name, "place", s.Place)
	case s.Contact != "":
		return r.words.Say("handover.shop-contact", "shop", s.Name, "contact", s.Contact)
	}
	return s.Name
}

// asOf is the day up to which the log goes, and the year of the days that are told
// without one: those of a log of the year of sealing. See page.Site.ReportIn.
func (r *Report) asOf() string {
	sealed := logbook.Date(r.Facts.Sealed).Time().Year()
	other := func(e Evidence) bool { return logbook.Date(e.Date).Time().Year() != sealed }
	if len(r.Facts.Entries) == 0 {
		return r.words.Say("page.as-of-none")
	}
	if logbook.Date(r.Facts.AsOf).Time().Year() != sealed || slices.ContainsFunc(r.Facts.Entries, other) {
		return r.words.Say("page.as-of", "date", date(r.words, r.Facts.AsOf))
	}
	return r.words.Say("page.as-of-year", "date", date(r.words.InYear(sealed), r.Facts.AsOf), "year", sealed)
}

func (r *Report) sealedLine() string {
	return r.words.Say("handover.sealed", "date", date(r.words, r.Facts.Sealed), "shop", r.Facts.Shop.Name, "code", GroupedCode(codeOf(sealFormat, r.digest)))
}

// labels are what the machine is known by, the price first.
func (r *Report) labels() []label {
	m := r.Facts.Record.Machine
	var all []label
	add := func(key, value string) {
		if value != "" {
			all = append(all, label{r.words.Say(key), value})
		}
	}
	add("handover.price", r.Facts.Price)
	add("page.fact-kind", m.Kind)
	add("page.fact-maker", m.Maker)
	add("page.fact-model", m.Model)
	add("page.fact-serial", m.Serial)
	add("page.fact-year", m.Year)
	add("page.fact-arrived", date(r.words, m.Arrived))
	return all
}

// goneSays is what the report tells of earlier ones on its front sheet, nothing
// where the log still says all that they said.
func (r *Report) goneSays() string {
	if len(r.Facts.Gone) == 0 {
		return ""
	}
	return r.words.Say("handover.gone-front")
}

func (r *Report) goneLine(g Gone) string {
	return r.words.Say("handover.gone-line", "text", g.Text, "date", date(r.words, g.Sealed), "code", GroupedCode(g.Code))
}

// rowLines are a measured thing in sentences: first, worst between, last, limit,
// verdict, and the work that came later.
func (r *Report) rowLines(row Row) []string {
	var all []string
	say := func(key string, pairs ...any) { all = append(all, r.words.Say(key, pairs...)) }
	dated := func(key string, v *Reading) {
		if v != nil {
			say(key, "value", v.Value, "date", date(r.words, v.Date))
		}
	}
	dated("handover.row-first", row.First)
	dated("handover.row-worst", row.Worst)
	if row.Gauge != "" {
		say("handover.row-last-gauge", "value", row.Last.Value, "gauge", row.Gauge, "date", date(r.words, row.Last.Date))
	} else {
		dated("handover.row-last", &row.Last)
	}
	for _, l := range row.Limits {
		if l.Source == "" {
			say("handover.row-limit", "limit", l.Limit)
			continue
		}
		say("handover.row-limit-source", "limit", l.Limit, "source", l.Source)
	}
	say("handover.row-verdict", "verdict", row.Verdict)
	if row.After != "" {
		say("handover.row-after", "work", row.After)
	}
	return all
}

// signLines are what is to be written by hand.
func (r *Report) signLines() []string {
	return []string{
		r.words.Say("page.sign-buyer"), r.words.Say("page.sign-date"),
		r.words.Say("page.sign-shop"), r.words.Say("page.sign-date"),
		r.words.Say("handover.sign-serial"),
	}
}

// photosOf are the photos to show with a statement, each subject's once.
func (r *Report) photosOf(subjects []string, shown map[string]bool) []Photo {
	var all []Photo
	for _, id := range subjects {
		if shown[id] {
			continue
		}
		shown[id] = true
		for _, p := range r.Facts.Photos {
			if p.Subject == id {
				all = append(all, p)
			}
		}
	}
	return all
}
