package page

import (
	"cmp"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/sync/errgroup"

	"asleft/generator/logbook"
	"asleft/generator/portable"
)

// frontGroups are the groups of the front page, with the stages in each.
var frontGroups = []struct {
	id     string
	title  string
	stages []string
}{
	{"for-sale", "page.group-for-sale", []string{logbook.ForSale}},
	{"in-the-shop", "page.group-in-the-shop", []string{logbook.InTheShop, logbook.Customers, logbook.Keeping}},
	{"gone", "page.group-gone", []string{logbook.Sold, logbook.PartedOut}},
}

// frontLength is how many machines one page of the front lists.
const frontLength = 60

// A shelf is one list of machines: all of them, or those of one kind.
type shelf struct {
	kind     string // as the logs write it; empty for all
	slug     string
	machines []int // numbers in the outlines, in the order of the pages
}

// path is where the n-th page of a shelf stands, counted from 0.
func (f shelf) path(n int) string {
	dir := ""
	if f.slug != "" {
		dir = "kinds/" + f.slug + "/"
	}
	if n > 0 {
		dir += "more/" + strconv.Itoa(n+1) + "/"
	}
	return dir + "index.html"
}

// pages is how many pages a shelf takes, one at least.
func (f shelf) pages() int { return max(1, (len(f.machines)+frontLength-1)/frontLength) }

// shelves are the whole shop and, where it has several kinds, each kind.
func (s *Site) shelves() []shelf {
	order := s.frontOrder()
	shelves := []shelf{{machines: order}}
	bySlug := map[string]int{}
	for _, n := range order {
		kind := s.outlines[n].Kind
		if kind == "" {
			continue
		}
		slug := slugOf(kind)
		if bySlug[slug] == 0 {
			bySlug[slug] = len(shelves)
			shelves = append(shelves, shelf{kind: kind, slug: slug})
		}
		f := &shelves[bySlug[slug]]
		f.machines = append(f.machines, n)
	}
	if len(shelves) < 3 {
		return shelves[:1] // one kind needs no choice
	}
	slices.SortFunc(shelves[1:], func(a, b shelf) int { return cmp.Compare(a.slug, b.slug) })
	return shelves
}

// longestSlug keeps the path of a page short enough for every system.
const longestSlug = 60

// slugOf is a kind as an address has it. A kind without a Latin letter, and one
// that no folder can be named by, gets a name made from its content.
func slugOf(kind string) string {
	slug := portable.Slug(kind)
	if slug == "" || len(slug) > longestSlug || portable.Device(slug) {
		return "k-" + digest([]byte(strings.ToLower(kind)))
	}
	return slug
}

// front makes the shop's front page and the lists that go on from it.
func (s *Site) front(put Put) error {
	shelves := s.shelves()
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for _, f := range shelves {
		for n := range f.pages() {
			work.Go(func() error { return s.frontPage(f, n, shelves, put) })
		}
	}
	return work.Wait()
}

func (s *Site) frontPage(f shelf, n int, shelves []shelf, put Put) error {
	sh := s.composer(f.path(n))
	title := s.Shop.Name
	if f.kind != "" {
		title = f.kind
	}
	if n > 0 {
		title = s.say("page.front-more", "title", title, "n", n+1, "of", f.pages())
	}
	v := Front{Page: sh.page("front", title, s.say("page.front-description", "shop", s.Shop.Name))}
	if f.kind == "" && n == 0 {
		var err error
		if v.Intro, err = sh.body(s.Shop.Body, s.Shop.Photos, nil, 1); err != nil {
			return err
		}
		if v.Totals, err = s.shopTotals(); err != nil {
			return err
		}
	} else {
		v.Trail = []Link{{To: sh.to("index.html"), Text: s.Shop.Name}, {Text: title}}
	}
	from := min(len(f.machines), n*frontLength)
	v.Groups = sh.groups(f.machines[from:min(len(f.machines), from+frontLength)])
	v.Kinds, v.Sheets = sh.choices(f, n, shelves)
	return s.Theme.fill(put, sh.path, "front.html", v)
}

// groups sorts one page's machines into for sale, in the shop and gone.
func (s *composer) groups(machines []int) []Group {
	var groups []Group
	for _, g := range frontGroups {
		group := Group{ID: g.id, Title: s.say(g.title)}
		for _, n := range machines {
			if o := s.outlines[n]; slices.Contains(g.stages, o.Stage) {
				group.Machines = append(group.Machines, s.card(o))
			}
		}
		if len(group.Machines) > 0 {
			groups = append(groups, group)
		}
	}
	return groups
}

// choices are the links to the other kinds and to the rest of a long list; the
// one that is shown has no address.
func (s *composer) choices(f shelf, n int, shelves []shelf) (kinds, sheets []Link) {
	if len(shelves) > 1 {
		for _, other := range shelves {
			l := Link{To: s.to(other.path(0)), Text: s.Words.Count("page.kind", len(other.machines), "kind", other.kind)}
			if other.kind == "" {
				l.Text = s.Words.Count("page.all-kinds", len(other.machines))
			}
			if other.slug == f.slug {
				l.To = ""
			}
			kinds = append(kinds, l)
		}
	}
	for k := 0; k < f.pages() && f.pages() > 1; k++ {
		l := Link{To: s.to(f.path(k)), Text: strconv.Itoa(k + 1)}
		if k == n {
			l.To = ""
		}
		sheets = append(sheets, l)
	}
	return kinds, sheets
}

// frontOrder are the machines' numbers in the order of the front page: by
// group, and those worked on last first.
func (s *Site) frontOrder() []int {
	group := map[string]int{}
	for i, g := range frontGroups {
		for _, stage := range g.stages {
			group[stage] = i
		}
	}
	order := make([]int, len(s.outlines))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(
			cmp.Compare(group[s.outlines[a].Stage], group[s.outlines[b].Stage]),
			s.outlines[b].AsOf.Compare(s.outlines[a].AsOf),
		)
	})
	return order
}

func (s *composer) card(o Outline) Card {
	c := Card{
		Name: o.Name, Kind: o.Kind, Maker: joined(o.Maker, o.Model), Stage: s.say(stageKeys[o.Stage]),
		To: s.to(storyPath(o.Key)), Condition: s.to(conditionPath(o.Key)), Cover: s.coverOf(o.Cover),
		Price: o.Price, Warning: o.Warning,
	}
	if o.Stage == logbook.ForSale {
		c.Listing = s.to(listingPath(o.Key))
	}
	c.Line = s.Words.Count("page.card", len(o.Evenings), "when", s.when(o.Arrived))
	if o.Gone != "" {
		c.Line += " " + s.say("page.card-sold", "when", s.when(o.Gone))
	}
	return c
}

var stageKeys = map[string]string{
	logbook.InTheShop: "stage.in-the-shop", logbook.ForSale: "stage.for-sale", logbook.Sold: "stage.sold",
	logbook.Keeping: "stage.keeping", logbook.PartedOut: "stage.parted-out",
	logbook.Customers: "stage.customers",
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}

// price is what is asked for a machine that is for sale; one that is gone has
// no price any more.
func (s *Site) Price(m *logbook.Machine) string {
	if m.Stage != logbook.ForSale || !m.Asking.Set {
		return ""
	}
	return s.money(m.Asking)
}

// shopTotals are the figures of the whole shop that the public sees.
func (s *Site) shopTotals() ([]Fact, error) {
	entries := 0
	for _, o := range s.outlines {
		entries += len(o.Evenings)
	}
	facts := []Fact{
		{Label: s.say("page.total-machines"), Value: strconv.Itoa(len(s.outlines))},
		{Label: s.say("page.total-entries"), Value: strconv.Itoa(entries)},
	}
	if s.Shop.Show.Hours && s.work() > 0 { // what nobody wrote is not nothing
		facts = append(facts, Fact{Label: s.say("page.total-work"), Value: s.Words.Length(int(s.work()))})
	}
	parts, err := s.parts()
	if s.Shop.Show.PartsCost && parts.Set {
		facts = append(facts, Fact{Label: s.say("page.total-parts"), Value: s.money(parts)})
	}
	return facts, err
}
