package logbook

import (
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark/text"
)

// An image whose file's name has spaces is read as it is written; what CommonMark
// reads stays as that reads it.
func TestImagesWithSpacesInTheirNames(t *testing.T) {
	for _, c := range []struct{ written, file, alt, title string }{
		{`![x](oil seal.jpg)`, "oil seal.jpg", "x", ""},
		{`![x](oil seal.jpg "As found")`, "oil seal.jpg", "x", "As found"},
		{`![x](oil seal.jpg 'It''s torn (badly)')`, "oil seal.jpg", "x", "It''s torn (badly)"},
		{`![x](oil seal (1).jpg)`, "oil seal (1).jpg", "x", ""},
		{`![x](oil seal (1).jpg "(new)")`, "oil seal (1).jpg", "x", "(new)"},
		{`![x](seal ) torn.jpg)`, "seal ) torn.jpg", "x", ""},
		{`![x]( oil seal.jpg )`, "oil seal.jpg", "x", ""},
		{`![x](photos/oil seal.JPG)`, "photos/oil seal.JPG", "x", ""},
		{`![x](größe öl.jpg)`, "größe öl.jpg", "x", ""},
		{`![x](oil%20seal two.jpg)`, "oil seal two.jpg", "x", ""},
		{`![x](50 % choke.jpg)`, "50 % choke.jpg", "x", ""},
		{`![x](oil &amp; seal.jpg)`, "oil & seal.jpg", "x", ""},
		{`![](oil seal.jpg)`, "oil seal.jpg", "", ""},
		{"![a [torn]\n  seal \\] &amp; <!-- mine -->](oil seal.jpg)", "oil seal.jpg", "a [torn] seal ] &", ""},
		{`[![x](oil seal.jpg)](https://shop.example/)`, "oil seal.jpg", "x", ""},
		{`- > **![x](oil seal.jpg)**`, "oil seal.jpg", "x", ""},
		{`![x](not there)`, "not there", "x", ""},
		{`![x](oil seal.jpg) (as found)`, "oil seal.jpg", "x", ""},
		// as CommonMark has it
		{`![x](<oil seal.jpg>)`, "oil seal.jpg", "x", ""},
		{`![x](<oil seal.jpg> "As found")`, "oil seal.jpg", "x", "As found"},
		{`![x](oil%20seal.jpg)`, "oil seal.jpg", "x", ""},
		{`![x](seal.jpg "As found")`, "seal.jpg", "x", "As found"},
		{`![x](seal.jpg (as found))`, "seal.jpg", "x", "as found"},
		{`![x](seal(1).jpg)`, "seal(1).jpg", "x", ""},
		{`![*a* b](seal.jpg)`, "seal.jpg", "a b", ""},
		{"![x][1]\n\n[1]: <oil seal.jpg>", "oil seal.jpg", "x", ""},
	} {
		s := &source{rules: &rules{words: keysOnly}, path: "e.md"}
		photos := bodyPhotos(s, Body{Text: []byte("One.\n\n" + c.written + "\n"), Line: 5})
		if len(photos) != 1 || len(s.problems) > 0 {
			t.Errorf("%s: got %+v, %v", c.written, photos, s.problems)
			continue
		}
		if p := photos[0]; p.File != c.file || p.Alt != c.alt || p.Caption != c.title || p.Line != 7 {
			t.Errorf("%s: got %+v", c.written, p)
		}
	}
	for _, none := range []string{
		"`![x](oil seal.jpg)`", "    ![x](oil seal.jpg)", "```\n![x](oil seal.jpg)\n```", `\![x](oil seal.jpg`, "![x] (oil seal.jpg)", "![x](oil seal.jpg", "![x(oil seal.jpg)", "![x](oil\nseal.jpg)",
		"![x](" + strings.Repeat("a ", 400) + ".jpg)", "![" + strings.Repeat("a", 1100) + "](oil seal.jpg)", "<!-- ![x](oil seal.jpg) -->", "![",
	} {
		s := &source{rules: &rules{words: keysOnly}, path: "e.md"}
		if photos := bodyPhotos(s, Body{Text: []byte(none), Line: 1}); len(photos) > 0 {
			t.Errorf("%s: got %+v", none, photos)
		}
	}
}

func TestCommentsAreLeftOut(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"a <!-- b --> c\n", "<p>a  c</p>\n"},
		{"a\n<!-- b -->\nc\n", "<p>a</p>\n<p>c</p>\n"},
		{"a <!-- b\nc --> d\n", "<p>a  d</p>\n"},
		{"<!-- a -->\n", ""},
		{"  <!-- a --> <!-- b -->\n", ""},
		{"<!--\na\n\n![x](y.jpg)\n\n# b\n-->\n\nc\n", "<p>c</p>\n"},
		{"<!--\na\n--> b\n", "<p>b</p>\n"},
		{"<!--\na\n--> <!-- b --> c\n", "<p> c</p>\n"},
		{"<!-- a --> b\n", "<p> b</p>\n"},
		{"<!-- a -->\n\tb\n", "<pre><code>b\n</code></pre>\n"},
		{"<!--> a\n", "<p> a</p>\n"},
		{"<!---> a\n", "<p> a</p>\n"},
		{"a <!--b--><!--c-->\n", "<p>a </p>\n"},
		{"- a\n\n  <!-- b\n  -->\n- c\n", "<ul>\n<li>\n<p>a</p>\n</li>\n<li>\n<p>c</p>\n</li>\n</ul>\n"},
		{"> <!-- a\n> -->\n> b\n", "<blockquote>\n<p>b</p>\n</blockquote>\n"},
		{"# a <!-- b -->\n", "<h1>a </h1>\n"},
		{"**a <!-- b --> c**\n", "<p><strong>a  c</strong></p>\n"},
		// text
		{"`<!-- a -->`\n", "<p><code>&lt;!-- a --&gt;</code></p>\n"},
		{"    <!-- a -->\n", "<pre><code>&lt;!-- a --&gt;\n</code></pre>\n"},
		{"```\n<!-- a -->\n```\n", "<pre><code>&lt;!-- a --&gt;\n</code></pre>\n"},
		{"\\<!-- a -->\n", "<p>&lt;!-- a --&gt;</p>\n"},
		{"a <! -- b -- > c\n", "<p>a &lt;! -- b -- &gt; c</p>\n"},
	} {
		if got, _ := rendered(t, Markdown(), c.written); got != c.want {
			t.Errorf("%q: got %q, want %q", c.written, got, c.want)
		}
	}
}

// What hides the rest of a text is told, with the line on which it opens, and
// shows nothing of what it hides.
func TestCommentsThatAreNotClosed(t *testing.T) {
	for _, c := range []struct {
		written string
		says    []string
	}{
		{"a\n\nb <!-- secret\n\nc\n", []string{"7:=comment-open"}},
		{"<!-- secret\n\nsecret\n", []string{"5:=comment-open"}},
		{"<!-- a --> <!-- secret\n\nc -->\n", nil}, // it begins where nothing is before it but a comment
		{"<!-- a --> b <!-- secret\n\nc -->\n", []string{"5:=comment-open"}},
		{"> <!-- secret\n\nb -->\n", []string{"5:=comment-open"}},
		{"- a <!-- secret\n- b\n\n<!-- secret", []string{"5:=comment-open", "8:=comment-open"}},
		{"| a | b |\n|---|---|\n| c <!-- secret | secret --> |\n", []string{"7:=comment-open"}},
	} {
		_, says := one(t, "---\ndate: 2026-02-01\ntitle: T\n---\n"+c.written)
		same(t, says, c.says...)
		if got, _ := rendered(t, Markdown(), c.written); !strings.Contains(c.written, "|") && strings.Contains(got, "secret") {
			t.Errorf("%q: got %q", c.written, got)
		}
	}
}

func TestCommentsInTitles(t *testing.T) {
	for read, want := range map[string]string{"a": "a", "a <!-- b -->c": "a c", "<!-->a<!--b--><!--c-->": "a", "a<!--b": "a"} {
		if got := string(withoutComments([]byte(read))); got != want {
			t.Errorf("%q: got %q", read, got)
		}
	}
}

// Fields of blogs are noted with their places and are no problems; whether
// something is to be published is.
func TestAsides(t *testing.T) {
	e, says := entry(t, "layout: post\ntags: [a, {b: c}]\nCategories: x\nslug:\nauthor: A\npermalink: /x/\nredirect-from: [/y/]\ncomments: false\npublished: 2026-02-02\ndescription: d", "")
	same(t, says)
	var got []string
	for _, a := range e.Asides {
		got = append(got, a.String())
	}
	same(t, got, "machines/m/e.md:4: layout", "machines/m/e.md:5: tags", "machines/m/e.md:6: Categories", "machines/m/e.md:8: author", "machines/m/e.md:9: permalink",
		"machines/m/e.md:10: redirect-from", "machines/m/e.md:11: comments", "machines/m/e.md:12: published", "machines/m/e.md:13: description")
	for fields, want := range map[string]string{
		"draft: false": "", "draft: no": "", "published: true": "", "published: Yes": "", "draft:": "",
		"draft: true": "4:draft=draft", "Draft: yes": "4:Draft=draft", "published: no": "4:published=draft", "published: False": "4:published=draft",
		"draft: soon": "4:draft=not-yes-no", "draft: [yes]": "4:draft=not-text",
		"costs: [{for: a, amount: 1, draft: yes}]": "4:costs[0].draft=unknown-field", "layot: x": "4:layot=unknown-field-or-private", "notes: x": "4:notes=belongs-text",
	} {
		e, says := entry(t, fields, "")
		if got := strings.Join(says, " "); got != want || len(e.Asides) > 0 {
			t.Errorf("%s: got %s, %v", fields, got, e.Asides)
		}
	}
	shop, problems := readAll(t, folder(t, strings.Replace(shopFile, "currency:", "layout: home\ncurrency:", 1)+ownSheet+machineOf("tags: [x]")+"-- sheets/.own.md --\nx\n"), keysOnly)
	if len(problems) > 0 || len(shop.Asides) != 1 || len(shop.Machines[0].Asides) != 1 {
		t.Errorf("got %v, %v, %v", problems, shop.Asides, shop.Machines[0].Asides)
	}
	same(t, shop.Hidden, "sheets/.own.md")
}

func TestDatesWithATime(t *testing.T) {
	here, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		read, want string
		zone       *time.Location
	}{
		{"2026-03-02T18:30:00Z", "2026-03-02 18:30", nil},
		{"2026-03-02T18:30:00Z", "2026-03-02 13:30", here},
		{"2026-03-03T02:30:00Z", "2026-03-02 21:30", here},
		{"2026-03-02T18:30:00-05:00", "2026-03-02 18:30", nil},
		{"2026-03-02T18:30:00-05:00", "2026-03-02 18:30", here},
		{"2026-07-02 18:30:00 +0000", "2026-07-02 14:30", here}, // summer time
		{"2026-03-02 18:30", "2026-03-02 18:30", here},
		{"2026-03-02t18:30", "2026-03-02 18:30", nil},
		{"2026-03-02 8:05", "2026-03-02 08:05", nil},
		{"2026-03-02 18:30:59.123", "2026-03-02 18:30", nil},
		{"2026-03-02  6:30 pm", "2026-03-02 18:30", nil},
		{"2026-03-02 18:30 UTC", "2026-03-02 13:30", here},
		{"2026-03-02T00:00:00Z", "2026-03-02", here},
		{"2026-03-02 00:00", "2026-03-02", nil},
		{"2026-03-02 00:00:01", "2026-03-02 00:00", nil},
		{"2026-03-02", "", nil},
		{"2026-03-02 ", "", nil},
		{"2026-03-02T", "", nil},
		{"2026-03-02 25:00", "", nil},
		{"2026-02-30 18:30", "", nil},
		{"2026-03-02 18:30 EST", "", here}, // Sydney's once too
		{"2026-03-02 evening", "", nil},
		{"about 2026-03-02 18:30", "", nil},
		{"0000-03-02 18:30", "", nil},
	} {
		d, clock, has, ok := parseStamp(c.read, c.zone)
		got := string(d)
		if has {
			got += " " + clock.String()
		}
		if got != c.want || ok != (c.want != "") {
			t.Errorf("%s: got %q, %v; want %q", c.read, got, ok, c.want)
		}
	}
}

// The time behind an entry's date is its time where it has no other.
func TestDateAndTimeOfAnEntry(t *testing.T) {
	for _, c := range []struct{ front, date, clock, says string }{
		{"date: 2026-02-01T18:30:00Z", "2026-02-01", "18:30", ""},
		{"date: 2026-02-01 18:30\ntime: \"9:15\"", "2026-02-01", "09:15", ""},
		{"date: 2026-02-01 18:30\nhours: [{from: \"8:00\", to: \"9:00\"}]", "2026-02-01", "18:30", ""},
		{"date: 2026-02-01\nhours: [{from: \"8:00\", to: \"9:00\"}]", "2026-02-01", "08:00", ""},
		{"date: 2026-02-01 00:00\nhours: [{from: \"8:00\", to: \"9:00\"}]", "2026-02-01", "08:00", ""},
		{"date: 2026-02-01 18:75", "", "", "2:date=date"},
		{"date: 2099-02-01 18:30", "", "", "2:date=future-date"},
		{"date: 1800-02-01 18:30", "", "", "2:date=long-ago"},
		{"date: 2025-12-31 18:30", "2025-12-31", "18:30", "2:date=before-arrival"},
	} {
		e, says := one(t, "---\n"+c.front+"\ntitle: T\n---\n")
		clock := ""
		if e.HasClock {
			clock = e.Clock.String()
		}
		if string(e.Date) != c.date || clock != c.clock || strings.Join(says, " ") != c.says {
			t.Errorf("%s: got %q %q, %v", c.front, e.Date, clock, says)
		}
	}
	m, _ := readAll(t, folder(t, shopFile+"-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01T12:00:00Z\n---\n"), keysOnly)
	if got := m.Machines[0].Arrived; got != "2026-01-01" {
		t.Errorf("arrived %s", got)
	}
}

// Tables are bounded by what their rows are filled up to, wherever they stand.
func TestTablesThatAreLetThrough(t *testing.T) {
	table := func(columns, rows int, before string) string {
		return before + strings.Repeat("|a", columns) + "|\n" + before + strings.Repeat("|-", columns) + "|\n" + strings.Repeat(before+"|a|\n", rows)
	}
	for name, c := range map[string]struct {
		body string
		fine bool
	}{
		"a large one":          {table(20, 900, ""), true},
		"many":                 {strings.Repeat(table(5, 20, "")+"\n", 100), true},
		"wide and long":        {table(200, 200, ""), false},
		"in a quote":           {table(200, 200, "> "), false},
		"in a list":            {"- a\n" + table(200, 200, "  "), false},
		"behind a number":      {"1. |a|a|\n   |-|-|\n" + strings.Repeat("   a\n", 9000), false},
		"very wide":            {table(30_000, 1, ""), false},
		"many wide":            {strings.Repeat(table(50, 10, "")+"\n", 100), false},
		"lines and a rule":     {"---\n" + strings.Repeat("a\n", 30_000), true},
		"a list of short ones": {strings.Repeat("- a\n", 30_000), true},
		"pipes alone":          {strings.Repeat("a | b | c | d\n", 10_000), true},
		"escaped pipes":        {strings.Repeat("`\\|`", 1001), false},
	} {
		s := &source{rules: &rules{words: keysOnly}, path: "e.md"}
		b := s.sound(Body{Text: []byte(c.body), Line: 1})
		if fine := len(b.Text) > 0; fine != c.fine {
			t.Errorf("%s: %v", name, s.problems)
		}
		began := time.Now()
		Markdown().Parse(text.NewReader(b.Text))
		if took := time.Since(began); took > 10*time.Second {
			t.Errorf("%s took %s", name, took)
		}
	}
}
