package page

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"path"
	"runtime"
	"strings"

	"golang.org/x/sync/errgroup"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/photo"
	"asleft/generator/record"
	"asleft/generator/tally"
)

// A Site is everything that the pages are made from. Shop.Machines may be some
// of the shop's machines, if Others are the outlines of the rest: then the
// pages of the rest stay as they were.
type Site struct {
	Shop    *logbook.Shop
	Others  []Outline
	Count   *tally.Shop
	Reports []*condition.Report // one for each of Shop.Machines
	// Judge makes the report of the n-th of Shop.Machines anew each time that it
	// is asked for, in place of Reports: those of a large shop are as large as its
	// logs. It is called from many goroutines.
	Judge    func(n int) *condition.Report
	Photos   map[string]Photo // by path in the shop folder
	Words    *catalog.Catalog
	Glossary []catalog.Term
	Theme    *Theme

	// Sealed are the shop's sealed reports, the oldest first; SealBreaks say
	// where their chain does not hold. ShopKey is the public part of the shop's
	// key (PEM), nil where it has none.
	Sealed     []Sealed
	SealBreaks []string
	ShopKey    []byte

	terms    *terms
	outlines []Outline                // of all machines, by key
	place    map[string]int           // where a machine's is in outlines, by key
	takers   map[string][]string      // the machines that a machine's parts went to, by key
	files    func() map[string]string // the page of each file of the logs
	asked    map[string]string        // what fileAt was asked for; nil while nobody wants to know
	judged   *condition.Report        // of the machine that is being composed; nil for none
}

// A Photo is a photo of the shop as the site carries it.
type Photo struct {
	Key   string // names its files
	Sizes []photo.Size
}

// PhotoPath is where one width of a photo stands in the site.
func PhotoPath(key string, width int) string { return fmt.Sprintf("photos/%s-%d.jpg", key, width) }

// A Put takes one finished file of the site; many goroutines call it at once. The
// data is lent: after Put returns it may be written over.
type Put func(path string, data []byte) error

// Compose makes every file of the site except the photos and the pages of
// machines that were not read. It comes after Outline.
func (s *Site) Compose(put Put) error {
	s.prepare()
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	made := make([]Outline, len(s.Shop.Machines))
	for n, m := range s.Shop.Machines {
		work.Go(func() (err error) {
			if made[n], err = s.machine(n, put); err != nil {
				return fmt.Errorf("machine %s: %w", m.Key, err)
			}
			return nil
		})
	}
	if err := work.Wait(); err != nil {
		return err
	}
	for _, o := range made {
		s.outlines[s.place[o.Key]] = o
	}
	var others errgroup.Group // those that are about no one machine
	others.SetLimit(runtime.GOMAXPROCS(0))
	for _, compose := range []func(Put) error{s.front, s.words, s.verify, s.lost, s.feed, s.sitemap, s.assets} {
		others.Go(func() error { return compose(put) })
	}
	return others.Wait()
}

// prepare is what comes before the first page: the words of the trade, and how much the
// theme may use up for a site of that size.
func (s *Site) prepare() {
	s.terms = newTerms(s.Glossary)
	s.Theme.budget.parts = int64(len(s.outlines))
	for _, o := range s.outlines {
		s.Theme.budget.parts += int64(len(o.Evenings))
	}
}

// judging is the site while the pages of the n-th machine are made: it is judged here,
// once, and what was judged goes with the pages.
func (s *Site) judging(n int) *Site {
	own := *s
	own.asked, own.judged = map[string]string{}, s.Report(n)
	return &own
}

// machine makes the pages of one machine and gives its outline, whole.
func (s *Site) machine(n int, put Put) (Outline, error) {
	own := s.judging(n)
	for _, compose := range []func(int, Put) error{own.story, own.condition, own.listing, own.record} {
		if err := compose(n, put); err != nil {
			return Outline{}, err
		}
	}
	o := s.outlines[s.place[s.Shop.Machines[n].Key]]
	o.AsOf, o.Warning, o.Asked = own.judged.AsOf, s.warning(own.judged), own.asked
	return o, nil
}

// Report is that of the n-th of Shop.Machines.
func (s *Site) Report(n int) *condition.Report {
	switch {
	case s.judged != nil:
		return s.judged
	case s.Judge != nil:
		return s.Judge(n)
	}
	return s.Reports[n]
}

// ReportIn is Report for a text that is kept: where it is not of the year that the report
// tells its days without, each day has its year.
func (s *Site) ReportIn(year, n int) *condition.Report {
	r := s.Report(n)
	if r.Year == 0 || r.Year == year {
		return r
	}
	return condition.Judge(s.Shop, s.Shop.Machines[n], s.Count.Machines[n], r.Tests, s.Words.WithYears())
}

// fileAt is the page of a file of the logs, "" where there is none.
func (s *Site) fileAt(file string) string {
	page := s.files()[file]
	if s.asked != nil {
		s.asked[file] = page
	}
	return page
}

func (s *Site) assets(put Put) error {
	if err := put(s.Theme.stylePath(), s.Theme.style); err != nil {
		return err
	}
	if p := s.Theme.iconPath(); p != "" {
		if err := put(p, s.Theme.icon); err != nil {
			return err
		}
	}
	return put("record.schema.json", record.Schema)
}

// policy lets a page load its own photos and style and nothing else from
// anywhere. Files opened from a folder have no origin of their own, so the
// scheme is named for them.
const policy = "default-src 'none'; img-src 'self' file: data:; style-src 'self' file:; connect-src 'self'; base-uri 'none'; form-action 'none'"

// scriptPolicy allows these script elements and no others, by their digests. A
// block of data never runs, but a checker that does not look at its type would
// complain.
func scriptPolicy(texts ...string) string {
	allowed := "; script-src"
	for _, text := range texts {
		sum := sha256.Sum256([]byte(text))
		allowed += " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	return allowed
}

// lostPolicy is for the one page that carries its style inside.
const lostPolicy = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"

// A composer fills in one page: it knows the way from there to
// everywhere else, and which words of the trade it has linked already.
type composer struct {
	*Site
	path   string
	root   string
	linked map[string]bool
}

func (s *Site) composer(p string) *composer {
	return &composer{Site: s, path: p, root: strings.Repeat("../", strings.Count(p, "/")), linked: map[string]bool{}}
}

// to is the address of a file of the site, from this page.
func (s *composer) to(p string) string { return s.root + p }

func (s *Site) say(key string, pairs ...any) string { return s.Words.Say(key, pairs...) }

// date is a date as exactly as the log has it.
func (s *Site) date(d logbook.Date) string { return s.Words.Day(d.Day()) }

// when is a date with the word that it takes inside a sentence: "on March 2, 2026".
func (s *Site) when(d logbook.Date) string { return s.Words.When(d.Day()) }

// absolute is the public address of a file of the site, "" where the shop has
// none. A folder's index is addressed by the folder.
func (s *Site) absolute(p string) string {
	if s.Shop.Web == "" {
		return ""
	}
	if path.Base(p) == "index.html" {
		p = strings.TrimSuffix(p, "index.html")
	}
	return s.Shop.Web + p
}

// page is what every page has, to be completed by its own.
func (s *composer) page(kind, title, description string) Page {
	p := Page{
		Lang: s.Words.Lang, Kind: kind, Title: title, Description: description,
		Root: s.root, Style: s.to(s.Theme.stylePath()), Policy: policy,
		Canonical: s.absolute(s.path),
		Shop: Shop{
			Name: s.Shop.Name, Place: s.Shop.Town, Contact: s.Shop.Contact,
			Home: s.to("index.html"), Words: s.to("words/index.html"), Feed: s.to("feed.xml"),
		},
	}
	if icon := s.Theme.iconPath(); icon != "" {
		p.Icon = s.to(icon)
	}
	if s.verifies() {
		p.Shop.Verify = s.to(verifyPath)
	}
	return p
}

// MachineOf is the key of the machine that a page of the site is about, "" for
// a page about none.
func MachineOf(path string) string {
	below, _ := strings.CutPrefix(path, "machines/")
	key, _, deeper := strings.Cut(below, "/")
	if !deeper || below == path {
		return ""
	}
	return key
}

func storyPath(key string) string     { return "machines/" + key + "/index.html" }
func conditionPath(key string) string { return "machines/" + key + "/condition/index.html" }
func listingPath(key string) string   { return "machines/" + key + "/listing/index.html" }
func recordPath(key string) string    { return "machines/" + key + "/record.json" }

// entryID is an entry's name on its machine's page: the file's, without .md.
func entryID(file string) string {
	name := strings.TrimSuffix(path.Base(file), path.Ext(file))
	var b strings.Builder
	for _, r := range name {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_', r > 0x9f:
			b.WriteRune(r)
		default:
			b.WriteByte('-')
		}
	}
	return "e-" + b.String()
}

// evidence is the address of an entry that a statement rests on.
func (s *composer) evidence(m *logbook.Machine, e condition.Evidence) Link {
	if e.File == m.File {
		return Link{To: s.to(storyPath(m.Key)), Text: s.say("page.evidence-machine")}
	}
	return Link{To: s.to(storyPath(m.Key)) + "#" + entryID(e.File), Text: s.say("page.evidence", "date", s.date(e.Date), "title", e.Title)}
}

// text is plain text with the words of the trade linked.
func (s *composer) text(plain string) template.HTML {
	return template.HTML(s.terms.link(plain, s.to("words/index.html"), s.linked)) //nolint:gosec // link escapes all of plain
}
