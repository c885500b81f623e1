package handover

import (
	"errors"
	"image/color"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
	"asleft/generator/record"
)

// section is one part of a report.
func section(t *testing.T, f *Facts, id string) Section {
	t.Helper()
	for _, s := range f.Sections {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("the report has no %s", id)
	return Section{}
}

// What was measured is told in rows, from the gravest on; where there are rows, the
// statements are what the bench tests point to, and nothing else.
func TestRowsOfWhatWasMeasured(t *testing.T) {
	at := func(day, body string) string {
		return "---\ndate: 2026-03-" + day + "\ntitle: On " + day + "\n" + body + "---\n"
	}
	const limit = "limits:\n  - {what: compression, limit: '>= 70 psi', source: the sheet}\narrived:"
	f := prepared(t, shopWith(t, map[string]string{
		"machines/pump/machine.md":    strings.Replace(machineText, "arrived:", limit, 1),
		"machines/pump/2026-03-03.md": at("03", "measured:\n  - {what: compression, value: 62 psi, gauge: 1 psi, state: cold}\n"),
		"machines/pump/2026-03-04.md": at("04", "measured:\n  - {what: compression, value: 75 psi, gauge: 1 psi, state: cold}\n  - {what: oil pressure, value: 20 psi}\n"),
		"machines/pump/2026-03-05.md": at("05", "changed:\n  - {what: plug changed, why: it was short, system: engine}\n"),
	}), "2026-03-10").Facts
	measured := section(t, &f, condition.SectionMeasured)
	first, third, fourth := Evidence{firstFile, "2026-03-02", "First look"}, Evidence{"machines/pump/2026-03-03.md", "2026-03-03", "On 03"}, Evidence{"machines/pump/2026-03-04.md", "2026-03-04", "On 04"}
	var ids []string
	for i := range measured.Rows {
		ids = append(ids, measured.Rows[i].Subject)
		measured.Rows[i].Subject = ""
	}
	want := []Row{
		{
			Name: "compression (cold)", First: &Reading{"60 psi", "2026-03-02"}, Worst: &Reading{"62 psi", "2026-03-03"}, Last: Reading{"75 psi", "2026-03-04"}, Gauge: "± 1 psi",
			Limits: []record.Limit{{Limit: "70 psi or more", Source: "the sheet"}}, Verdict: "inside, before later work", After: "change: plug changed", Evidence: []Evidence{first, third, fourth},
		},
		{Name: "oil pressure", Last: Reading{"20 psi", "2026-03-04"}, Limits: []record.Limit{}, Verdict: "no limit", After: "change: plug changed", Evidence: []Evidence{fourth}},
	}
	if diff := cmp.Diff(want, measured.Rows); diff != "" || len(ids) != 2 || ids[0] == ids[1] || len(measured.Statements) > 0 {
		t.Errorf("%q, %v (-want, +got):\n%s", ids, measured.Statements, diff)
	}
	if f.Shop.Page != "https://shop.example/machines/pump/condition/" || f.Price != "" || f.Format != factsFormat || f.AsOf != "2026-03-05" {
		t.Errorf("the shop's page %q, price %q, format %q, as of %q", f.Shop.Page, f.Price, f.Format, f.AsOf)
	}
}

// What a bench test points to is said once, with its entry.
func TestWhatTestsPointTo(t *testing.T) {
	r := &condition.Report{Tests: nil}
	if got := pointers(r, catalog.English); got == nil || len(got) > 0 {
		t.Errorf("of no test: %v", got)
	}
	fs := copyOf(t, "../../content-example")
	site := siteOf(t, fs)
	checked := 0
	for n := range site.Shop.Machines {
		judged, f := site.Report(n), Today(site, n, "2026-06-01")
		var want []Statement
		for _, o := range judged.Tests {
			if len(o.Says) == 0 {
				continue
			}
			name := "Test: " + o.Test
			if o.Where != "" {
				name += ", " + o.Where
			}
			want = append(want, Statement{
				Text: name + ". " + strings.Join(o.Says, " "), Subjects: []string{}, Items: []Item{},
				Evidence: []Evidence{{o.Entry.File, string(o.Entry.Date), o.Entry.Title}},
			})
			checked++
		}
		measured := section(t, f, condition.SectionMeasured)
		if len(measured.Rows) == 0 {
			continue
		}
		if diff := cmp.Diff(want, append([]Statement(nil), measured.Statements...)); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", site.Shop.Machines[n].Key, diff)
		}
	}
	if checked < 3 {
		t.Errorf("only %d tests point to anything", checked)
	}
}

// A statement keeps what it rests on, each entry once; told of several, each has its own
// and the lead has that of all.
func TestStatements(t *testing.T) {
	a, b, lead := condition.Evidence{File: "a", Date: "2026-03-01", Title: "A"}, condition.Evidence{File: "b"}, condition.Evidence{File: "lead"}
	is := func(names ...string) (all []Evidence) {
		all = []Evidence{}
		for _, n := range names {
			all = append(all, map[string]Evidence{"a": {"a", "2026-03-01", "A"}, "b": {File: "b"}, "lead": {File: "lead"}}[n])
		}
		return all
	}
	leak, knock := &condition.Subject{ID: "leak"}, &condition.Subject{ID: "knock", Open: true}
	for about, tc := range map[string]struct {
		of   condition.Statement
		want Statement
	}{
		"alone":   {condition.Statement{Text: "So.", Subjects: []*condition.Subject{leak}, Evidence: []condition.Evidence{a, b, a}}, Statement{"So.", false, []string{"leak"}, []Item{}, is("a", "b")}},
		"open":    {condition.Statement{Text: "So.", Subjects: []*condition.Subject{knock, leak}}, Statement{"So.", true, []string{"knock", "leak"}, []Item{}, is()}},
		"of none": {condition.Statement{Text: "So."}, Statement{"So.", false, []string{}, []Item{}, is()}},
		"of several": {
			condition.Statement{
				Text: "Both leak.", Lead: "Both:", LeadEvidence: lead, Subjects: []*condition.Subject{leak, knock}, Evidence: []condition.Evidence{a, b, lead},
				Items: []condition.Item{{Subject: leak, Text: "one", Evidence: []condition.Evidence{lead, a, a}}, {Subject: knock, Text: "two", Evidence: []condition.Evidence{b, lead}}},
			},
			Statement{"Both:", true, []string{"leak", "knock"}, []Item{{"leak", "one", is("a")}, {"knock", "two", is("b")}}, is("lead")},
		},
		"of several, without a lead of its own": {
			condition.Statement{Text: "Both leak.", Lead: "Both:", Evidence: []condition.Evidence{a}, Items: []condition.Item{{Subject: leak, Text: "one", Evidence: []condition.Evidence{a}}}},
			Statement{"Both:", false, []string{}, []Item{{"leak", "one", is("a")}}, is()},
		},
	} {
		if diff := cmp.Diff(tc.want, stated(tc.of)); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

// The front sheet leads to what it tells of, and says so where a part of it is empty.
func TestFrontSheet(t *testing.T) {
	f := prepared(t, shopWith(t, nil), "2026-03-03").Facts
	ids := map[string]bool{}
	for _, s := range f.Sections {
		ids[s.ID] = true
		for _, st := range s.Statements {
			for _, id := range st.Subjects {
				ids[id] = true
			}
		}
		for _, r := range s.Rows {
			ids[r.Subject] = true
		}
	}
	lines, leads := 0, 0
	for _, p := range f.Front {
		if p.ID == "" || p.Title == "" || (p.Empty == "") != (len(p.Lines) > 0) {
			t.Errorf("%q: %d lines, and empty says %q", p.Title, len(p.Lines), p.Empty)
		}
		for _, l := range p.Lines {
			if want := "defect-seal-leaks"; l.Text == "Still so: seal leaks." && l.To != want {
				t.Errorf("%q leads to %q, want %q", l.Text, l.To, want)
			}
			if lines++; l.To != "" {
				leads++
				if !ids[l.To] {
					t.Errorf("%q leads to %q, which is not there", l.Text, l.To)
				}
			}
		}
	}
	if lines < 3 || leads < 2 {
		t.Errorf("%d lines, %d of them lead anywhere", lines, leads)
	}
}

// Whether the buyer has to be told is for what is open, and for what is wrong besides.
func TestWhatABuyerIsToldOf(t *testing.T) {
	open := record.Subject{Name: "a", Open: true, Standing: "wrong", Safety: "yes"}
	unsaid := record.Subject{Name: "b", Open: true, Standing: "not checked", Safety: record.NotSaid}
	wrong := record.Subject{Name: "c", Standing: "wrong", Safety: record.NotSaid}
	well := record.Subject{Name: "d", Standing: "in order", Safety: "yes"}
	for about, tc := range map[string]struct {
		all                 []record.Subject
		open, wrong, unsaid int
	}{
		"nothing": {nil, 0, 0, 0}, "all is well": {[]record.Subject{well}, 0, 0, 0}, "open": {[]record.Subject{open, well}, 1, 0, 0},
		"wrong": {[]record.Subject{well, wrong}, 0, 1, 0}, "all": {[]record.Subject{open, unsaid, wrong, well}, 2, 1, 1},
	} {
		f := &Facts{Record: record.Record{Subjects: tc.all}}
		if o, w, u := len(f.Open()), len(f.Wrong()), len(f.NotSaid()); o != tc.open || w != tc.wrong || u != tc.unsaid || f.TellBuyer() != (o+w > 0) {
			t.Errorf("%s: %d open, %d wrong, %d not said, told: %v", about, o, w, u, f.TellBuyer())
		}
	}
}

// Which photo stands for a machine: the one that is marked, else the first; never a
// private one, nor one without a file.
func TestCover(t *testing.T) {
	a, b, cover, second := logbook.Photo{Path: "a"}, logbook.Photo{Path: "b"}, logbook.Photo{Path: "c", Cover: true}, logbook.Photo{Path: "d", Cover: true}
	hidden, gone := logbook.Photo{Path: "h", Cover: true, Private: true}, logbook.Photo{Cover: true}
	for about, tc := range map[string]struct {
		photos []logbook.Photo
		want   string
	}{
		"none": {nil, ""}, "the first": {[]logbook.Photo{a, b}, "a"}, "the marked one": {[]logbook.Photo{a, b, cover}, "c"}, "the first of two marked": {[]logbook.Photo{a, cover, second}, "c"},
		"marked, then others": {[]logbook.Photo{cover, a}, "c"}, "a private one": {[]logbook.Photo{hidden, a}, "a"}, "private alone": {[]logbook.Photo{hidden}, ""}, "without a file": {[]logbook.Photo{gone, b}, "b"},
	} {
		m := &logbook.Machine{}
		for _, p := range tc.photos { // each in an entry of its own, of which one has none
			m.Entries = append(m.Entries, &logbook.Entry{}, &logbook.Entry{Photos: []logbook.Photo{p}})
		}
		if e, got := coverOf(m); got.Path != tc.want || (e == nil) != (tc.want == "") || e != nil && e.Photos[0].Path != tc.want {
			t.Errorf("%s: %q, want %q", about, got.Path, tc.want)
		}
	}
}

// The photos of a subject: those that an event of it names, and of a defect those that
// say so; each once, from before the work first.
func TestPhotosOfASubject(t *testing.T) {
	event := func(file, what, photo string) condition.Event {
		return condition.Event{Entry: condition.Evidence{File: file}, What: what, Photo: photo}
	}
	shows := func(path, key string) logbook.Photo { return logbook.Photo{Path: path, Shows: key} }
	private := func(p logbook.Photo) logbook.Photo { p.Private = true; return p }
	type photos = [][]logbook.Photo // of entry 1, 2 and so on
	for about, tc := range map[string]struct {
		photos photos
		events []condition.Event
		kind   condition.Kind
		want   string
	}{
		"found":                      {photos{{{Path: "a"}, {Path: "b"}}}, []condition.Event{event("1", condition.Found, "a")}, condition.KindDefect, "before a"},
		"found again":                {photos{{{Path: "a"}}}, []condition.Event{event("1", condition.FoundAgain, "a")}, condition.KindDefect, "before a"},
		"repaired":                   {photos{{{Path: "a"}}}, []condition.Event{event("1", condition.Repaired, "a")}, condition.KindDefect, "after-same a"},
		"of another entry":           {photos{{{Path: "a"}}, {{Path: "a"}}}, []condition.Event{event("2", condition.Found, "a")}, condition.KindDefect, "before a"},
		"before, then after":         {photos{{{Path: "r"}}, {{Path: "f"}}}, []condition.Event{event("1", condition.Repaired, "r"), event("2", condition.FoundAgain, "f")}, condition.KindDefect, "before f, after-same r"},
		"in their order":             {photos{{{Path: "a"}}, {{Path: "b"}}}, []condition.Event{event("1", condition.Found, "a"), event("2", condition.FoundAgain, "b")}, condition.KindDefect, "before a, before b"},
		"the first thing said of it": {photos{{{Path: "a"}}}, []condition.Event{event("1", condition.Found, "a"), event("1", condition.Repaired, "a")}, condition.KindDefect, "before a"},
		"no photo":                   {photos{{{Path: "a"}}}, []condition.Event{event("1", condition.Found, "")}, condition.KindDefect, ""},
		"twice":                      {photos{{{Path: "a"}, {Path: "a"}}, {{Path: "a"}}}, []condition.Event{event("1", condition.Found, "a"), event("2", condition.Repaired, "a")}, condition.KindDefect, "before a"},
		"a private one":              {photos{{private(logbook.Photo{Path: "a"})}}, []condition.Event{event("1", condition.Found, "a")}, condition.KindDefect, ""},
		"shows it":                   {photos{{shows("a", "leak")}}, nil, condition.KindDefect, "before a"},
		"shows another":              {photos{{shows("a", "knock")}}, nil, condition.KindDefect, ""},
		"shows nothing":              {photos{{shows("a", "")}}, nil, condition.KindDefect, ""},
		"shows it, of a point":       {photos{{shows("a", "leak")}}, nil, condition.KindPoint, ""},
		"shows it, repaired":         {photos{{shows("a", "leak")}, {shows("b", "leak")}}, []condition.Event{event("2", condition.Repaired, "")}, condition.KindDefect, "before a, after-same b"},
		"shows it, a later entry":    {photos{{shows("a", "leak")}, {shows("b", "leak")}}, []condition.Event{event("1", condition.Found, "a"), event("1", condition.Repaired, "")}, condition.KindDefect, "before a, after b"},
		"shows it, a day after":      {photos{{shows("a", "leak")}, {}, {shows("b", "leak")}}, []condition.Event{event("1", condition.Found, "a"), event("2", condition.Repaired, "")}, condition.KindDefect, "before a, after b"},
		"shows it, worked around":    {photos{{shows("a", "leak")}}, []condition.Event{event("1", condition.Around, "")}, condition.KindDefect, "after-same a"},
		"shows it, gone":             {photos{{shows("a", "leak")}, {shows("b", "leak")}}, []condition.Event{event("1", condition.Left, "")}, condition.KindDefect, "after-same a, after b"},
		"shows it, found":            {photos{{shows("a", "leak")}, {shows("b", "leak")}}, []condition.Event{event("1", condition.Found, "")}, condition.KindDefect, "before a, before b"},
		"shows it, and is named":     {photos{{shows("a", "leak")}}, []condition.Event{event("1", condition.Found, "a"), event("1", condition.Repaired, "")}, condition.KindDefect, "before a"},
	} {
		m := &logbook.Machine{}
		for n, all := range tc.photos {
			m.Entries = append(m.Entries, &logbook.Entry{Place: logbook.Place{File: string(rune('1' + n))}, Photos: all})
		}
		var got []string
		for _, d := range showing(m, &condition.Subject{Kind: tc.kind, Key: "leak", History: tc.events}) {
			got = append(got, strings.TrimPrefix(d.side, "page.photo-")+" "+d.photo.Path)
		}
		if got := strings.Join(got, ", "); got != tc.want {
			t.Errorf("%s: %q, want %q", about, got, tc.want)
		}
	}
}

// Photos come into a report no wider than it needs them, each file once, and what shows
// nothing in words says so.
func TestPhotosInTheReport(t *testing.T) {
	wide := plainJPEG(t, color.Gray{Y: 99}, 2000)
	files := map[string]string{
		firstFile:                       strings.Replace(firstEntry, "alt: oil under the seal, caption: After an hour", "cover: yes", 1),
		"machines/pump/photos/leak.jpg": string(wide),
	}
	fs := shopWith(t, files)
	shop, _, err := logbook.Read(fs, logbook.Options{Words: catalog.English})
	if err != nil || len(shop.Machines) != 1 {
		t.Fatal(err)
	}
	site := &page.Site{Shop: shop, Words: catalog.English}
	a := &album{fs, site.Words, map[string][]byte{}, map[string]Photo{}}
	e := shop.Machines[0].Entries[0]
	p, err := a.photo(e, e.Photos[0])
	if err != nil {
		t.Fatal(err)
	}
	if p.Width == 0 || p.Width > widest || p.Width < widest/2 || p.Height != p.Width/2 || p.Alt != catalog.English.Say("page.no-alt") || p.Date != "2026-03-02" || p.SHA256 != digestOf(a.pictures[p.SHA256]) {
		t.Errorf("%+v", p)
	}
	if err := fs.Remove(e.Photos[0].Path); err != nil {
		t.Fatal(err)
	}
	if again, err := a.photo(e, e.Photos[0]); err != nil || again != p {
		t.Errorf("the same file again: %+v, %v", again, err)
	}
	a.made = map[string]Photo{}
	if _, err := a.photo(e, e.Photos[0]); err == nil || !strings.Contains(err.Error(), "leak.jpg") {
		t.Errorf("one that is gone: %v", err)
	}
	write(t, fs, e.Photos[0].Path, []byte("x"))
	if _, err := a.photo(e, e.Photos[0]); err == nil || !strings.HasPrefix(err.Error(), "machines/pump/photos/leak.jpg: ") {
		t.Errorf("one that is none: %v", err)
	}
}

// A card says who sells it, what it is and costs, and what to look for; what the shop has
// not said is not on it.
func TestCard(t *testing.T) {
	shop := func(more string) string { return strings.Replace(shopFile, "currency:", more+"currency:", 1) }
	for about, tc := range map[string]struct {
		shop, foot string
		code       bool
	}{
		"by its name":    {shopFile, "Test shop", true},
		"by its place":   {shop("place: Town\n"), "Test shop: Town", true},
		"by its contact": {shop("place: Town\ncontact: '555'\n"), "Test shop: 555", true},
		"without a page": {strings.Replace(shopFile, "web: https://shop.example/\n", "", 1), "Test shop", false},
	} {
		fs := shopWith(t, map[string]string{"shop.md": tc.shop, "machines/pump/machine.md": strings.Replace(machineText, "arrived:", "kind: water pump\nstage: for sale\nasking: 40.00\narrived:", 1)})
		site := siteOf(t, fs)
		c := card(chainOf(t, fs), site, 0, "2026-03-10")
		facts := Today(site, 0, "2026-03-10")
		var title string
		var lines []string
		for _, p := range facts.Front {
			if p.ID == "look" {
				title = p.Title
				for _, l := range p.Lines {
					lines = append(lines, l.Text)
				}
			}
		}
		if len(lines) == 0 {
			t.Fatal("there is nothing to look for")
		}
		want := sheet.Card{Name: "Small pump", Under: "water pump", Price: "$40.00", Heavy: openSays(site, facts), Title: title, Lines: lines, Foot: []string{tc.foot}}
		if tc.code {
			want.Code = &sheet.Code{Text: "https://shop.example/machines/pump/condition/", Under: "Scan for the whole report."}
		}
		if diff := cmp.Diff(want, c); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

// The tags have a name by what they are of, and say if there was no address to print.
func TestTags(t *testing.T) {
	files := map[string]string{"machines/saw/machine.md": strings.Replace(machineText, "Small pump", "Saw", 1)}
	fs := shopWith(t, files)
	site := siteOf(t, fs)
	one, err := Tags(fs, site, []int{1}, "2026-03-10", sheet.CardPaper)
	if err != nil || one.Name != "saw-tag-2026-03-10.pdf" || !one.Web || one.Missing {
		t.Fatalf("one: %+v, %v", one.Name, err)
	}
	cards := func(tag *Tag) (n int, pages int) {
		all := readPDF(t, tag.PDF)
		for _, p := range all {
			for _, line := range p {
				if line == "*Saw*" || line == "*Small pump*" {
					n++
				}
			}
		}
		return n, len(all)
	}
	four, err := Tags(fs, site, []int{1}, "2026-03-10", sheet.A4)
	if err != nil || four.Name != one.Name {
		t.Fatalf("four: %+v, %v", four.Name, err)
	}
	both, err := Tags(fs, site, []int{0, 1}, "2026-03-10", sheet.A4)
	if err != nil || both.Name != "tags-2026-03-10.pdf" {
		t.Fatalf("both: %+v, %v", both.Name, err)
	}
	for about, tc := range map[string]struct {
		tag          *Tag
		cards, pages int
	}{"one on a card": {one, 1, 1}, "one on a page": {four, 4, 1}, "two on a page": {both, 2, 1}} {
		if n, pages := cards(tc.tag); n != tc.cards || pages != tc.pages {
			t.Errorf("%s: %d cards on %d pages", about, n, pages)
		}
	}
}

// What a tag says of the last sealed report: the log is the same to the byte, says the
// same, or went on; and a report before it is not told of.
func TestWhatATagSaysOfTheSeal(t *testing.T) {
	fs := shopWith(t, nil)
	sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
	made := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-04")
	says := func() string {
		foot := card(chainOf(t, fs), siteOf(t, fs), 0, "2026-03-10").Foot
		return strings.Join(foot[1:], "\n")
	}
	of := "A report was sealed on March 4, 2026, code " + GroupedCode(made.Seal.Code) + ". "
	if got := says(); got != of+"The log has not changed since." {
		t.Errorf("right after: %q", got)
	}
	write(t, fs, firstFile, []byte(strings.Replace(firstEntry, "defect: seal leaks", "defect:  seal leaks", 1)))
	if got := says(); got != of+"The log still says all that it said." {
		t.Errorf("with a blank more: %q", got)
	}
	write(t, fs, "machines/pump/2026-03-09-second.md", []byte(secondEntry))
	if got := says(); got != of+"The log has changed since." {
		t.Errorf("after another entry: %q", got)
	}
}

// What is said where nothing has changed, as exactly as a seal of each form can tell.
func TestUnchanged(t *testing.T) {
	seal := func(log string) *Link { return &Link{Seal: &Seal{Facts: Facts{Log: log}}} }
	for about, tc := range map[string]struct {
		link      *Link
		log, want string
		same      bool
	}{
		"to the byte":     {seal("x"), "x", "The log has not changed since.", true},
		"by what it says": {seal("x"), "y", "The logs say of this machine today what the sealed report said. Some text of the log is not the same.", false},
		"of schema 1":     {seal(""), "y", "The logs say of this machine today what the sealed report said. It is too old to tell if each letter of the log is the same.", false},
		"of no log":       {seal(""), "", "The logs say of this machine today what the sealed report said. It is too old to tell if each letter of the log is the same.", false},
	} {
		now := tc.link.Held(&Facts{Log: tc.log}, catalog.English)
		if got := tc.link.Unchanged(now, catalog.English); got != tc.want || now.Same != tc.same || now.Changed() || now.Sale() {
			t.Errorf("%s: %q, %+v", about, got, now)
		}
	}
	sale, word := Change{Kind: SinceStage}, Change{Kind: SinceEntry}
	for about, tc := range map[string]struct {
		changes       []Change
		changed, sale bool
	}{"a sale": {[]Change{sale}, false, true}, "a word": {[]Change{word}, true, false}, "both": {[]Change{sale, word}, true, false}} {
		n := Now{Changes: tc.changes}
		if n.Changed() != tc.changed || n.Sale() != tc.sale || seal("x").Unchanged(n, catalog.English) != "" {
			t.Errorf("%s: changed %v, sale %v", about, n.Changed(), n.Sale())
		}
	}
	// A log that is the same to the byte, and a program that reads it otherwise now.
	l := seal("x")
	l.Seal.Facts.Record.Machine.Maker = "A"
	if now := l.Held(&Facts{Log: "x"}, catalog.English); now.Same || !now.Changed() {
		t.Errorf("read otherwise: %+v", now)
	}
}

// What the site may tell of a sealed report: all of its public numbers, by its machine as
// it is called today; a machine that is not there any more counts as changed, and one
// that was not read this time is as it was told of last.
func TestWhatTheSiteIsTold(t *testing.T) {
	shop, settings, buyer, _, made := signedShop(t)
	write(t, shop, "machines/pump/2026-03-04-more.md", []byte("---\ndate: 2026-03-04\ntitle: More\n---\n"))
	second := sealed(t, shop, buyer, settings, "2026-03-04")
	site := siteOf(t, shop)
	all := chainOf(t, shop).Public(site, "2026-06-01")
	if len(all) != 2 {
		t.Fatalf("%d reports", len(all))
	}
	s := second.Seal
	want := page.Sealed{
		Machine: "pump", Now: "pump", Name: "Small pump", Date: "2026-03-04", Format: s.Format, Report: strings.TrimSuffix(second.HTML, ".html"), Number: 2, Code: s.Code, FactsDigest: s.FactsDigest,
		HTML: s.Copies.HTML, Letter: s.Copies.Letter, A4: s.Copies.A4, File: digestOf(read(t, shop, second.File)), Previous: made.Seal.Digest, Digest: s.Digest, Key: *s.Key, Signature: *s.Signature,
		Since: page.Since{Same: true},
	}
	if diff := cmp.Diff(want, all[1]); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	if !all[0].Since.Changed || all[0].Since.Same || all[0].Previous != "" {
		t.Errorf("the first: %+v", all[0])
	}
	if told := site.Sealings("pump"); len(told) != 2 || !told[s.Code].Same || !told[made.Seal.Code].Changed {
		t.Errorf("what is kept for the next run: %+v", told)
	}
	// Its folder is gone.
	if err := shop.RemoveAll("machines/pump"); err != nil {
		t.Fatal(err)
	}
	if err := shop.MkdirAll("machines/saw", 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, shop, "machines/saw/machine.md", []byte(strings.Replace(machineText, "Small pump", "Saw", 1)))
	for _, one := range chainOf(t, shop).Public(siteOf(t, shop), "2026-06-01") {
		if one.Now != "" || !one.Since.Changed || one.Since.Same {
			t.Errorf("its machine is gone: %+v", one)
		}
	}
	// One that was changed is not told of.
	write(t, shop, made.File, []byte(strings.Replace(string(read(t, shop, made.File)), "seal leaks", "seal LEAKS", 1)))
	if all := chainOf(t, shop).Public(siteOf(t, shop), "2026-06-01"); len(all) != 1 || all[0].Number != 2 {
		t.Errorf("one was changed: %+v", all)
	}
}

// A report has the cover and the photos of its subjects, or says which of them cannot be
// used; of a machine without photos it has none.
func TestEachPhotoIsThereOrNamed(t *testing.T) {
	none := prepared(t, shopWith(t, map[string]string{firstFile: "---\ndate: 2026-03-02\ntitle: First look\n---\n"}), "2026-03-03")
	if none.Facts.Cover != nil || none.Facts.Photos == nil || len(none.Facts.Photos)+len(none.pictures) > 0 {
		t.Errorf("of no photos: %+v, %+v", none.Facts.Cover, none.Facts.Photos)
	}
	fs := coveredShop(t)
	site := siteOf(t, fs)
	const leak = "machines/pump/photos/leak.jpg"
	r := prepared(t, fs, "2026-03-03")
	if f := r.Facts; f.Cover == nil || f.Cover.Alt != "the pump" || f.Cover.Subject != "" || len(f.Photos) != 1 || f.Photos[0].Subject != "defect-seal-leaks" || f.Photos[0].Side == "" || len(r.pictures) != 2 {
		t.Errorf("of both: %+v, %+v, %d pictures", f.Cover, f.Photos, len(r.pictures))
	}
	for _, name := range []string{coverFile, leak} {
		spoiled := copied(t, fs)
		write(t, spoiled, name, []byte("no photo"))
		var bad *BadPhoto
		if _, err := Prepare(spoiled, site, 0, "2026-03-03"); !errors.As(err, &bad) || bad.File != name || bad.Unwrap() == nil {
			t.Errorf("%s is none: %v", name, err)
		}
		if err := spoiled.Remove(name); err != nil {
			t.Fatal(err)
		}
		if _, err := Prepare(spoiled, site, 0, "2026-03-03"); !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s is gone: %v", name, err)
		}
	}
}
