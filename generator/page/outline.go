package page

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"github.com/govalues/decimal"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// An Outline is what the shop's own pages and the pages of other machines say
// of a machine. They know nothing else of it, so a run that has the outlines of
// an earlier one need not read the machines that have not changed since. It
// holds nothing that the public may not see.
type Outline struct {
	Key, Name, Kind, Maker, Model, Stage string
	Arrived, Gone, AsOf                  logbook.Date
	Price                                string
	Warning                              string    // whole sentences that name what may hurt someone, or empty
	Cover                                *Cover    `json:",omitempty"`
	Evenings                             []Evening // in the order of the log
	Donors                               []string  // the machines that parts came from, by key, each once
	// Work is in minutes and Parts an amount, where the shop shows them.
	Work  logbook.Minutes
	Parts string
	// Photos are the photos of the machine's pages, by path in the shop folder.
	Photos map[string]Photo
	// Asked are the files of the logs that the machine's texts link to, with the
	// page of each; "" where there is none.
	Asked map[string]string
	// Sealed tells of each of the machine's sealed reports, by its code, what the
	// logs say today.
	Sealed map[string]Since
	Was    []string // earlier names of its folder
}

// A Cover is the photo that stands for a machine.
type Cover struct {
	Photo Photo
	Alt   string
}

// An Evening is an entry as the feed and links name it.
type Evening struct {
	File, Title string
	Date        logbook.Date
	Clock       logbook.Clock
}

// outline is that of the n-th machine that was read, but for what only its report
// and its pages tell: AsOf, Warning and Asked are there once those are made.
func (s *Site) outline(n int) Outline {
	m, count := s.Shop.Machines[n], s.Count.Machines[n]
	o := Outline{
		Key: m.Key, Name: m.Name, Kind: m.Kind, Maker: m.Maker, Model: m.Model, Stage: m.Stage,
		Arrived: m.Arrived, Price: s.Price(m), Cover: s.cover(m), Photos: map[string]Photo{}, Sealed: map[string]Since{}, Was: m.Was,
	}
	if m.Sold != nil {
		o.Gone = m.Sold.Date
	}
	if s.Shop.Show.Hours {
		o.Work = count.Work.Total
	}
	if s.Shop.Show.PartsCost && count.Fitted.Amount.Set {
		o.Parts = count.Fitted.Amount.String()
	}
	o.show(s, m.Photos)
	for _, e := range m.Entries {
		evening := Evening{e.File, e.Title, e.Date, e.Clock}
		if e.ClockOfHours && !s.Shop.Show.Hours {
			evening.Clock = 0 // when the work began is of the hours, and would stand in the feed
		}
		o.Evenings = append(o.Evenings, evening)
		o.show(s, e.Photos)
		for _, p := range e.Parts {
			if p.From != "" && !slices.Contains(o.Donors, p.From) {
				o.Donors = append(o.Donors, p.From)
			}
		}
	}
	slices.Sort(o.Donors)
	return o
}

// show takes in the photos that are public.
func (o *Outline) show(s *Site, photos []logbook.Photo) {
	for _, p := range photos {
		if ph, ok := s.public(p); ok {
			o.Photos[p.Path] = ph
		}
	}
}

// Outline takes stock of what was read and of what is remembered of the rest;
// it comes before everything else that needs the whole shop.
func (s *Site) Outline() {
	own := make([]Outline, len(s.Shop.Machines))
	for n := range own {
		own[n] = s.outline(n)
	}
	s.outlines = slices.Concat(s.Others, own)
	slices.SortFunc(s.outlines, func(a, b Outline) int { return cmp.Compare(a.Key, b.Key) })
	s.place = map[string]int{}
	for n, o := range s.outlines {
		s.place[o.Key] = n
	}
	s.files = sync.OnceValue(s.addresses)
	s.takers = map[string][]string{}
	for _, o := range s.outlines {
		for _, from := range o.Donors {
			s.takers[from] = append(s.takers[from], o.Key)
		}
	}
}

// Outlines are those of all machines of the shop, by key. What their pages
// asked for is in them once the site is composed.
func (s *Site) Outlines() []Outline { return s.outlines }

// Sealings are what the logs say today of each of a machine's sealed reports, by
// the report's code; for a machine that was read it is there to be filled in. It is
// nil for a machine that the shop has not got.
func (s *Site) Sealings(key string) map[string]Since {
	n, there := s.place[key]
	if !there {
		return nil
	}
	return s.outlines[n].Sealed
}

// KeyNow is the key that a machine's folder has today which was once called that;
// empty where the shop has no such machine.
func (s *Site) KeyNow(key string) string {
	for _, o := range s.outlines {
		if slices.Contains(o.Was, key) {
			return o.Key
		}
	}
	if _, there := s.place[key]; there {
		return key
	}
	return ""
}

// A named is a machine as a link to it needs it.
type named struct{ Key, Name string }

// outside is all that the pages of a machine say of others.
type outside struct {
	Before, After *named
	Gave, Took    []named
	Pages         map[string]string // of the files that its texts link to
}

// outside is what the machine of that key sees of the rest of the shop.
func (s *Site) outside(key string) outside {
	n := s.place[key]
	at := func(n int) named { return named{s.outlines[n].Key, s.outlines[n].Name} }
	o := outside{Pages: map[string]string{}}
	if n > 0 {
		before := at(n - 1)
		o.Before = &before
	}
	if n+1 < len(s.outlines) {
		after := at(n + 1)
		o.After = &after
	}
	for _, taker := range s.takers[key] {
		o.Gave = append(o.Gave, at(s.place[taker]))
	}
	for _, from := range s.outlines[n].Donors {
		if donor, there := s.place[from]; there {
			o.Took = append(o.Took, at(donor))
		}
	}
	for file := range s.outlines[n].Asked {
		o.Pages[file] = s.files()[file]
	}
	return o
}

// Outside is one value for all that the pages of a machine say of others: while
// it and the machine's own logs stay the same, so do its pages.
func (s *Site) Outside(key string) (string, error) {
	text, err := json.Marshal(s.outside(key))
	if err != nil {
		return "", fmt.Errorf("what %s says of other machines: %w", key, err)
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16]), nil
}

// addresses are where each machine.md and each entry stands in the site.
func (s *Site) addresses() map[string]string {
	all := map[string]string{}
	for _, o := range s.outlines {
		all["machines/"+o.Key+"/machine.md"] = storyPath(o.Key)
		for _, e := range o.Evenings {
			all[e.File] = storyPath(o.Key) + "#" + entryID(e.File)
		}
	}
	return all
}

// work is what the shop worked on all machines.
func (s *Site) work() (total logbook.Minutes) {
	for _, o := range s.outlines {
		total += o.Work
	}
	return total
}

// parts is what the parts of all machines come to, not Set where none has a
// price.
func (s *Site) parts() (logbook.Amount, error) {
	total := logbook.Amount{Set: len(s.outlines) == 0}
	for _, o := range s.outlines {
		if o.Parts == "" {
			continue
		}
		one, err := decimal.Parse(o.Parts)
		if err == nil {
			one, err = total.Add(one)
		}
		if err != nil {
			return total, fmt.Errorf("the parts of %s: %w", o.Key, err)
		}
		total = logbook.Amount{Decimal: one, Set: true}
	}
	return total, nil
}

// warning names the open subjects of a machine that a buyer has to be told of: what is
// known of it, then the points without an answer that still counts, by their short names.
// Empty where nothing is open.
func (s *Site) warning(r *condition.Report) string {
	var known, unknown, all []string
	for _, x := range r.Ordered() {
		switch {
		case !x.Open:
		case x.Unanswered():
			unknown = append(unknown, x.Named(s.Words))
		default:
			known = append(known, x.Named(s.Words))
		}
	}
	known = once(known)
	if len(known) > 0 {
		all = append(all, s.say("page.warning", "names", s.Words.Each(known)))
	}
	if len(unknown) > 0 {
		all = append(all, s.say("page.warning-unchecked", "names", s.Words.Each(unknown)))
	}
	return strings.Join(all, " ")
}

// once are names without those that stood before: a point and the reading that answers
// it can have one name, and the same may be the matter with both.
func once(names []string) []string {
	var all []string
	for _, name := range names {
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	return all
}

// AllPhotos are the photos of a site by path: those of the shop's own words and
// those of every machine.
func (s *Site) AllPhotos() map[string]Photo {
	all := map[string]Photo{}
	for _, p := range s.Shop.Photos {
		if ph, ok := s.public(p); ok {
			all[p.Path] = ph
		}
	}
	for _, o := range s.outlines {
		maps.Copy(all, o.Photos)
	}
	return all
}
