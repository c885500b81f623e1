package page

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
	"asleft/generator/photo"
	"asleft/generator/tally"
)

// A Site is everything that the pages are made from.
type Site struct {
	Shop     *logbook.Shop
	Count    *tally.Shop
	Reports  []*condition.Report // one for each of Shop.Machines
	Photos   map[string]Photo    // by path in the shop folder
	Words    *catalog.Catalog
	Glossary []catalog.Term
	Theme    *Theme

	// Sealed are the shop's sealed reports, the oldest first; SealBreaks say
	// where their chain does not hold. ShopKey is the public part of the shop's
	// key (PEM), nil where it has none.
	Sealed     []Sealed
	SealBreaks []string
	ShopKey    []byte

	terms *terms
	// donors and takers are who parts came from and went to, by the machine's
	// key, as numbers in Shop.Machines.
	donors, takers map[string][]int
	files          func() map[string]string // the page of each file of the logs
}

// A Photo is a photo of the shop as the site carries it.
type Photo struct {
	Key   string // names its files
	Sizes []photo.Size
}

// PhotoPath is where one width of a photo stands in the site.
func PhotoPath(key string, width int) string { return fmt.Sprintf("photos/%s-%d.jpg", key, width) }

// A Put takes one finished file of the site; many goroutines call it at once.
type Put func(path string, data []byte) error

// Compose makes every file of the site except the photos.
func (s *Site) Compose(put Put) error {
	s.terms = newTerms(s.Glossary)
	s.exchanged()
	s.files = sync.OnceValue(s.addresses)
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for n, m := range s.Shop.Machines {
		work.Go(func() error {
			if err := s.machine(n, put); err != nil {
				return fmt.Errorf("machine %s: %w", m.Key, err)
			}
			return nil
		})
	}
	if err := work.Wait(); err != nil {
		return err
	}
	for _, compose := range []func(Put) error{s.front, s.words, s.verify, s.lost, s.feed, s.sitemap, s.assets} {
		if err := compose(put); err != nil {
			return err
		}
	}
	return nil
}

// exchanged finds which machines gave parts to which.
func (s *Site) exchanged() {
	number := map[string]int{}
	for n, m := range s.Shop.Machines {
		number[m.Key] = n
	}
	s.donors, s.takers = map[string][]int{}, map[string][]int{}
	for n, m := range s.Shop.Machines {
		for _, e := range m.Entries {
			for _, p := range e.Parts {
				from, there := number[p.From]
				if there && !slices.Contains(s.donors[m.Key], from) {
					s.donors[m.Key] = append(s.donors[m.Key], from)
					s.takers[p.From] = append(s.takers[p.From], n)
				}
			}
		}
		slices.Sort(s.donors[m.Key])
	}
}

// addresses are where each machine.md and each entry stands in the site.
func (s *Site) addresses() map[string]string {
	all := map[string]string{}
	for _, m := range s.Shop.Machines {
		all[m.File] = storyPath(m.Key)
		for _, e := range m.Entries {
			all[e.File] = storyPath(m.Key) + "#" + entryID(e.File)
		}
	}
	return all
}

// machine makes the pages of one machine.
func (s *Site) machine(n int, put Put) error {
	for _, compose := range []func(int, Put) error{s.story, s.condition, s.listing, s.record} {
		if err := compose(n, put); err != nil {
			return err
		}
	}
	return nil
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
	return put("record.schema.json", recordSchema)
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

// A sheet is one page being filled in: it knows the way from there to
// everywhere else, and which words of the trade it has linked already.
type sheet struct {
	*Site
	path   string
	root   string
	linked map[string]bool
}

func (s *Site) sheet(p string) *sheet {
	return &sheet{Site: s, path: p, root: strings.Repeat("../", strings.Count(p, "/")), linked: map[string]bool{}}
}

// to is the address of a file of the site, from this page.
func (s *sheet) to(p string) string { return s.root + p }

func (s *Site) say(key string, pairs ...any) string { return s.Words.Say(key, pairs...) }

func (s *Site) date(d logbook.Date) string {
	if d == "" {
		return ""
	}
	return s.Words.Date(d.Time())
}

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
func (s *sheet) page(kind, title, description string) Page {
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
func (s *sheet) evidence(m *logbook.Machine, e condition.Evidence) Link {
	if e.File == m.File {
		return Link{To: s.to(storyPath(m.Key)), Text: s.say("page.evidence-machine")}
	}
	return Link{To: s.to(storyPath(m.Key)) + "#" + entryID(e.File), Text: s.say("page.evidence", "date", s.date(e.Date), "title", e.Title)}
}

// text is plain text with the words of the trade linked.
func (s *sheet) text(plain string) template.HTML {
	return template.HTML(s.terms.link(plain, s.to("words/index.html"), s.linked)) //nolint:gosec // link escapes all of plain
}
