package page

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/xml"
	"fmt"
	"slices"
	"time"

	"asleft/generator/logbook"
)

// feedLength is how many entries the feed holds: the latest.
const feedLength = 30

// atomFeed is a feed of RFC 4287: one id, title and updated each, an author,
// and a link to where the words are.
type atomFeed struct {
	XMLName xml.Name    `xml:"http://www.w3.org/2005/Atom feed"`
	Lang    string      `xml:"xml:lang,attr"`
	ID      string      `xml:"id"`
	Title   string      `xml:"title"`
	Updated string      `xml:"updated"`
	Author  atomAuthor  `xml:"author"`
	Links   []atomLink  `xml:"link"`
	Entries []atomEntry `xml:"entry"`
}

type atomAuthor struct {
	Name string `xml:"name"`
}

type atomLink struct {
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr"`
	Href string `xml:"href,attr"`
}

type atomEntry struct {
	ID      string   `xml:"id"`
	Title   string   `xml:"title"`
	Updated string   `xml:"updated"`
	Link    atomLink `xml:"link"`
	Summary string   `xml:"summary"`
}

// An evening is an entry with its machine.
type evening struct {
	machine *Outline
	Evening
}

// feed writes feed.xml: the latest evenings, newest first. Its times are the
// log's own, in the shop's time zone, so that the same logs give the same feed.
func (s *Site) feed(put Put) error {
	f := atomFeed{
		Lang: s.Words.Lang, ID: urn(s.Shop.Name), Title: s.Shop.Name, Author: atomAuthor{s.Shop.Name},
		Updated: s.moment("1970-01-01", 0),
		Links:   []atomLink{{"alternate", "text/html", s.address("index.html")}},
	}
	if self := s.absolute("feed.xml"); self != "" {
		f.Links = append(f.Links, atomLink{"self", "application/atom+xml", self})
	}
	for _, e := range s.latestEvenings() {
		f.Entries = append(f.Entries, atomEntry{
			ID:      urn(s.Shop.Name, e.File),
			Title:   s.say("page.feed-title", "machine", e.machine.Name, "title", e.Title),
			Updated: s.moment(e.Date, e.Clock),
			Link:    atomLink{"alternate", "text/html", s.address(storyPath(e.machine.Key)) + "#" + entryID(e.File)},
			Summary: s.feedSummary(e),
		})
	}
	if len(f.Entries) > 0 {
		f.Updated = f.Entries[0].Updated
	}
	var b bytes.Buffer
	b.WriteString(xml.Header)
	enc := xml.NewEncoder(&b)
	enc.Indent("", " ")
	if err := enc.Encode(f); err != nil {
		return fmt.Errorf("the feed: %w", err)
	}
	b.WriteByte('\n')
	return put("feed.xml", b.Bytes())
}

func (s *Site) feedSummary(e evening) string {
	text := s.say("page.feed-summary", "machine", e.machine.Name, "stage", s.say(stageKeys[e.machine.Stage]))
	if e.machine.Stage == logbook.Sold || e.machine.Stage == logbook.PartedOut {
		text = s.say("page.feed-summary-gone", "machine", e.machine.Name)
	}
	if e.machine.Stage == logbook.Keeping {
		text = s.say("page.feed-summary-kept", "machine", e.machine.Name)
	}
	if w := e.machine.Warning; w != "" {
		text += " " + w
	}
	return text
}

func (s *Site) latestEvenings() []evening {
	var all []evening
	for n := range s.outlines {
		for _, e := range s.outlines[n].Evenings {
			all = append(all, evening{&s.outlines[n], e})
		}
	}
	slices.SortFunc(all, func(a, b evening) int {
		return cmp.Or(b.Date.Compare(a.Date), cmp.Compare(b.Clock, a.Clock), cmp.Compare(a.File, b.File))
	})
	return all[:min(len(all), feedLength)]
}

// address is absolute where the shop has a web address, else relative.
func (s *Site) address(p string) string {
	if a := s.absolute(p); a != "" {
		return a
	}
	return p
}

// moment is a time of the log in the shop's zone, as RFC 3339 has it.
func (s *Site) moment(d logbook.Date, c logbook.Clock) string {
	day := d.Time()
	return time.Date(day.Year(), day.Month(), day.Day(), int(c)/60, int(c)%60, 0, 0, s.Shop.Zone).Format(time.RFC3339)
}

// urn is a name that stays the same wherever the site moves: a UUID of version
// 8 (RFC 9562) from the SHA-256 of the names.
func urn(names ...string) string {
	h := sha256.New()
	for _, n := range names {
		fmt.Fprintf(h, "%d:%s,", len(n), n)
	}
	u := h.Sum(nil)[:16]
	u[6], u[8] = u[6]&0x0f|0x80, u[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", u[:4], u[4:6], u[6:8], u[8:10], u[10:])
}

// sitemapURL is one address of the sitemap protocol.
type sitemapURL struct {
	Loc     string `xml:"loc"`
	Lastmod string `xml:"lastmod,omitempty"`
}

// sitemapMost is how many addresses one sitemap may hold (the protocol's own
// limit); a larger shop gets several and an index.
const sitemapMost = 50_000

// sitemap writes sitemap.xml and robots.txt. The protocol knows only whole
// addresses, so a shop without a web address gets a robots.txt alone.
func (s *Site) sitemap(put Put) error {
	robots := "User-agent: *\nAllow: /\n"
	if s.Shop.Web == "" {
		return put("robots.txt", []byte(robots))
	}
	robots += "\nSitemap: " + s.absolute("sitemap.xml") + "\n"
	if err := put("robots.txt", []byte(robots)); err != nil {
		return err
	}
	urls := s.sitemapURLs()
	if len(urls) <= sitemapMost {
		return putXML(put, "sitemap.xml", "urlset", "url", urls)
	}
	var index []sitemapURL
	for part := range slices.Chunk(urls, sitemapMost) {
		name := fmt.Sprintf("sitemap-%d.xml", len(index)+1)
		if err := putXML(put, name, "urlset", "url", part); err != nil {
			return err
		}
		index = append(index, sitemapURL{Loc: s.absolute(name)})
	}
	return putXML(put, "sitemap.xml", "sitemapindex", "sitemap", index)
}

func (s *Site) sitemapURLs() []sitemapURL {
	var last logbook.Date
	for _, o := range s.outlines {
		last = logbook.Later(last, o.AsOf)
	}
	urls := []sitemapURL{{s.absolute("words/index.html"), ""}}
	if s.verifies() {
		urls = append(urls, sitemapURL{s.absolute(verifyPath), ""})
	}
	for _, f := range s.shelves() {
		for k := range f.pages() {
			urls = append(urls, sitemapURL{s.absolute(f.path(k)), last.ISO()})
		}
	}
	for _, o := range s.outlines {
		day := o.AsOf.ISO()
		urls = append(urls, sitemapURL{s.absolute(storyPath(o.Key)), day}, sitemapURL{s.absolute(conditionPath(o.Key)), day})
		if o.Stage == logbook.ForSale {
			urls = append(urls, sitemapURL{s.absolute(listingPath(o.Key)), day})
		}
	}
	return urls
}

func putXML(put Put, name, root, item string, urls []sitemapURL) error {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	enc := xml.NewEncoder(&b)
	enc.Indent("", " ")
	start := xml.StartElement{Name: xml.Name{Local: root}, Attr: []xml.Attr{{Name: xml.Name{Local: "xmlns"}, Value: "http://www.sitemaps.org/schemas/sitemap/0.9"}}}
	if err := enc.EncodeToken(start); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	for _, u := range urls {
		if err := enc.EncodeElement(u, xml.StartElement{Name: xml.Name{Local: item}}); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	if err := enc.EncodeToken(start.End()); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if err := enc.Flush(); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	b.WriteByte('\n')
	return put(name, b.Bytes())
}
