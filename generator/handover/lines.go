package handover

import (
	"strconv"
	"strings"
)

// What stands in every form of the report alike.

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

func (r *Report) asOf() string { return r.words.Say("page.as-of", "date", date(r.words, r.Facts.AsOf)) }

func (r *Report) sealedLine() string {
	return r.words.Say("handover.sealed", "date", date(r.words, r.Facts.Sealed), "shop", r.Facts.Shop.Name, "code", r.digest[:codeLength])
}

// labels are what the machine is known by.
func (r *Report) labels() []label {
	m := r.Facts.Record.Machine
	var all []label
	add := func(name, value string) {
		if value != "" {
			all = append(all, label{name, value})
		}
	}
	add(r.words.Say("handover.price"), r.Facts.Price)
	add(r.words.Say("page.fact-kind"), m.Kind)
	add(r.words.Say("page.fact-maker"), m.Maker)
	add(r.words.Say("page.fact-model"), m.Model)
	add(r.words.Say("page.fact-serial"), m.Serial)
	add(r.words.Say("page.fact-year"), m.Year)
	add(r.words.Say("page.fact-arrived"), date(r.words, m.Arrived))
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

// entryLines are the entries of the log, to be numbered from 1.
func (r *Report) entryLines() []string {
	var all []string
	for _, e := range r.Facts.Entries {
		key := "log.entry"
		if e.By != "" {
			key = "log.entry-by"
		}
		all = append(all, r.words.Say(key, "date", date(r.words, e.Date), "title", plain(e.Title), "by", plain(e.By)))
	}
	return all
}

// numbered is a text with the numbers of the entries that it rests on.
func (r *Report) numbered(st Statement) string {
	if len(st.Evidence) == 0 {
		return st.Text
	}
	var list []string
	for _, n := range st.Evidence {
		list = append(list, strconv.Itoa(n))
	}
	return r.words.Say("handover.statement", "text", st.Text, "entries", strings.Join(list, ", "))
}
