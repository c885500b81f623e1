package desk_test

import (
	"encoding/json"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/afero"
	"golang.org/x/net/html"

	"asleft/generator/logbook"
)

// seen is what a person sees of a page, and is told of it: its texts, without those of the
// files that it shows as they are.
func seen(t *testing.T, page string) []string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	var see func(n *html.Node)
	see = func(n *html.Node) {
		if n.Type == html.ElementNode {
			switch n.Data {
			case "script", "style", "code", "pre":
				return
			case "textarea", "datalist": // what the person wrote, or may write
				return
			}
			for _, a := range n.Attr {
				if a.Key == "title" || a.Key == "alt" || a.Key == "placeholder" || strings.HasPrefix(a.Key, "aria-label") && a.Key != "aria-labelledby" {
					all = append(all, a.Val)
				}
			}
		}
		if n.Type == html.TextNode && strings.TrimSpace(n.Data) != "" {
			all = append(all, strings.TrimSpace(n.Data))
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			see(c)
		}
	}
	see(doc)
	return all
}

// leaks are the words of a file in a text: a field's name with its colon, a name with an
// underscore, marks of YAML.
func leaks(text string) string {
	for _, m := range regexp.MustCompile(`\b([a-z]+(?:_[a-z]+)*):(\s|$)`).FindAllStringSubmatch(text, -1) {
		for _, f := range logbook.Fields {
			if strings.HasSuffix("/"+f.Path, "/"+m[1]) {
				return m[0]
			}
		}
	}
	return regexp.MustCompile(`(?i)\b[a-z]+_[a-z_]+\b|\byaml\b|front matter|---|[{}]|\[\d+\]|\busage\b`).FindString(text)
}

// prose are the beginnings of sentences with a colon behind a word that is a field's name
// as well.
var prose = regexp.MustCompile(`^(One of|Of a salvaged part): |America/New_York\.?$|: not so\.$`)

// TestNoPageSpeaksOfFiles: no page, no help beside a field and no error at one has a word
// of the files in it.
func TestNoPageSpeaksOfFiles(t *testing.T) {
	b := newTable(t)
	pages := append([]string{"/desk/new/20261128T193000-abcdef", "/desk/s/new/20261128T193000-abcdef", "/desk/phone"}, deskPages...)
	for _, m := range b.read.Shop.Machines {
		pages = append(pages, "/desk/m/"+m.Key, "/desk/m/"+m.Key+"/new/20261128T193000-abcdef", "/desk/m/"+m.Key+"/seal", "/desk/m/"+m.Key+"/list/20261128T193000-abcdef")
		for _, e := range m.Entries {
			pages = append(pages, "/desk/m/"+m.Key+"/e/"+e.File[strings.LastIndex(e.File, "/")+1:])
		}
	}
	told, said := 0, map[string]bool{}
	look := func(page, body string) {
		t.Helper()
		for _, text := range seen(t, body) {
			told++
			if leak := leaks(text); leak != "" && !prose.MatchString(text) {
				if !said[text] {
					t.Errorf("%s says %q, in %q", page, leak, text)
				}
				said[text] = true
			}
		}
	}
	for _, page := range pages {
		if page == "/desk/phone" {
			continue
		}
		look(page, b.get(page))
	}
	// What is wrong in a form: each field in turn says what it cannot take.
	for _, page := range []string{"/desk/m/gannet/new/20261128T193001-abcdef", "/desk/m/harrow", "/desk/shop"} {
		whole := formOf(t, b.get(page))
		tops := map[string]bool{}
		for name := range whole {
			if strings.HasPrefix(name, "f.") {
				tops[strings.Split(name, ".")[1]] = true
			}
		}
		for top := range tops {
			for _, bad := range []string{"zzz", "-3"} {
				v := url.Values{"do": {"look"}}
				for name, values := range whole {
					v[name] = values
					if rest, its := strings.CutPrefix(name, "f."+top); its && (rest == "" || rest[0] == '.') && !strings.Contains(name, "*") {
						v[name] = []string{bad}
					}
				}
				look(page+" with "+top+" "+bad, b.sent(page, v))
			}
		}
		b.post(page, url.Values{"do": {"drop"}})
	}
	if told < 10_000 {
		t.Errorf("only %d texts were looked at", told)
	}
}

// TestSentencesAtAField: what is wrong, a full stop, then how to mend it as a sentence.
func TestSentencesAtAField(t *testing.T) {
	b := newTable(t)
	at := "/desk/m/gannet/new/20261128T193000-abcdef"
	v := formOf(t, b.get(at))
	v.Set("f.time", "half past late")
	v.Set("f.hours.0.to", "19:00")
	v.Set("f.measured.0.what", "compression")
	v.Set("f.measured.0.value", "many")
	v.Set("do", "try")
	var live struct{ Wrong map[string][]string }
	if err := json.Unmarshal(b.post(at, v).Body.Bytes(), &live); err != nil {
		t.Fatal(err)
	}
	if all := live.Wrong["f.time"]; len(all) != 1 || all[0] != "half past late is not a time of day. Write hours and minutes, as 18:30." {
		t.Errorf("at the time: %q", all)
	}
	if all := live.Wrong["f.hours.0.from"]; len(all) != 1 || all[0] != "This has to be said. Write hours and minutes, as 18:30." {
		t.Errorf("at the beginning of the work: %q", all)
	}
	for name, all := range live.Wrong {
		for _, text := range all {
			if strings.Contains(text, ".;") || strings.Contains(text, "..") || regexp.MustCompile(`\. [a-z]`).MatchString(text) {
				t.Errorf("%s: %q", name, text)
			}
		}
	}
}

// TestWhatIsTypedInAForm: a number that may be minutes or hours, other money than the shop's
// and midnight are asked about in a form's words, each once; what can mean one thing only is
// understood. A file that says the same all along is not asked about it.
func TestWhatIsTypedInAForm(t *testing.T) {
	b := newTable(t)
	typed := map[string]string{
		"f.title": "Typed", "f.ran": "45", "f.hours.0.lasted": "90", "f.hours.1.lasted": "8", "f.hours.2.from": "20:00", "f.hours.2.to": "24:00", "f.hours.3.lasted": "2,75 h",
		"f.parts.0.part": "plug", "f.parts.0.each": "€40", "f.parts.1.part": "wire", "f.parts.1.each": "390 USD", "f.costs.0.for": "ride", "f.costs.0.amount": "40 CAD",
		"f.tests.0.test": "battery at rest", "f.tests.0.where": "left, rear", "f.tests.0.volts": "12,6 V",
		"f.tests.1.test": "compression", "f.tests.1.dry": "41,5 psi",
		"f.tests.2.test": "compression", "f.tests.2.dry": "90", "f.tests.3.test": "compression", "f.tests.3.dry": "90 lbs",
	}
	v := formOf(t, b.get(evening))
	for name, text := range typed {
		v.Set(name, text)
	}
	v.Set("do", "try")
	var live struct{ Wrong map[string][]string }
	if err := json.Unmarshal(b.post(evening, v).Body.Bytes(), &live); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"f.ran":            "Does 45 mean minutes or hours? Write 45 min or 0:45 for minutes, and 45:00 for hours.",
		"f.hours.0.lasted": "Does 90 mean minutes or hours? Write 90 min or 1:30 for minutes, and 90:00 for hours.",
		"f.hours.2.to":     "No day has a time 24:00. Write 0:00 for midnight.",
		"f.parts.0.each":   "€40 is not in the shop's money, which is USD. Write what it came to in USD, as the number alone.",
		"f.tests.1.dry":    `"41,5 psi" was read instead of a plain number with a decimal point. Write a pressure, such as 62 psi, or a list such as 62 psi, 62 psi. Write 1250, not 1,250, and 0.5, not 0,5.`,
		"f.tests.2.dry":    `"90" was read instead of a pressure. Write a pressure, such as 62 psi, or a list such as 62 psi, 62 psi. Add the unit, such as 90 psi.`,
		"f.tests.3.dry":    `"90 lbs" is a mass. Check the unit; write a pressure, such as 62 psi, or a list such as 62 psi, 62 psi.`,
		"f.costs.0.amount": "40 CAD is not in the shop's money, which is USD. Write what it came to in USD, as the number alone.",
	} {
		if all := live.Wrong[name]; len(all) != 1 || all[0] != want {
			t.Errorf("at %s it says %q, want %q", name, all, want)
		}
	}
	for _, name := range []string{"f.hours.1.lasted", "f.hours.3.lasted", "f.parts.1.each", "f.tests.0.volts", "f.tests.0.where"} {
		if all := live.Wrong[name]; len(all) != 0 {
			t.Errorf("at %s it says %q", name, all)
		}
	}
	for _, do := range []string{"keep", "keep-so"} {
		v.Set("do", do)
		if page := b.sent(evening, v); !strings.Contains(page, "Does 45 mean minutes or hours?") {
			t.Errorf("%s: it is kept with a number that may mean two things", do)
		}
	}
	for name, text := range map[string]string{"f.ran": "45:00", "f.hours.0.lasted": "90 min", "f.hours.2.to": "23:59", "f.parts.0.each": "$40", "f.costs.0.amount": "30"} {
		v.Set(name, text)
	}
	v.Set("do", "keep-so")
	if page := b.sent(evening, v); !strings.Contains(page, "Kept.") {
		t.Fatalf("it cannot be kept:\n%s", page)
	}
	text := b.file("machines/gannet/2026-11-28-typed.md")
	for _, want := range []string{"45:00", "1:30", "lasted: 2.75 h", "each: 40", "each: 390", "12.6 V", "left, rear"} {
		if !strings.Contains(text, want) {
			t.Errorf("it does not say %q:\n%s", want, text)
		}
	}

	const hand = "machines/gannet/2026-11-27-by-hand.md"
	if err := afero.WriteFile(b.folder, hand, []byte("---\ndate: 2026-11-27\ntitle: By hand\nran: 45\nhours: 14\n---\nLong.\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	v = formOf(t, b.get(addressOf(hand)))
	v.Set("story", "Long, and more.")
	v.Set("do", "keep")
	if page := b.sent(addressOf(hand), v); !strings.Contains(page, "Kept.") {
		t.Errorf("a file by hand is asked about what it said before:\n%s", page)
	}
	v = formOf(t, b.get(addressOf(hand)))
	v.Set("f.hours", "15")
	v.Set("do", "keep")
	if page := b.sent(addressOf(hand), v); !strings.Contains(page, "Does 15 mean minutes or hours?") {
		t.Errorf("hours that are typed anew are not asked about:\n%s", page)
	}
	v.Set("f.hours", "two")
	v.Set("do", "look")
	if page := b.sent(addressOf(hand), v); !strings.Contains(page, "Write hours and minutes, as 2:30, or hours, as 2.5.") {
		t.Errorf("of hours it speaks as of a file:\n%s", page)
	}

	v = formOf(t, b.get("/desk/shop"))
	v.Set("f.altitude", "1450")
	v.Set("f.theme", "nice")
	v.Set("do", "look")
	page := b.sent("/desk/shop", v)
	for _, want := range []string{"m or ft, as 440 m or 1450 ft", "Pick one of "} {
		if !strings.Contains(page, want) {
			t.Errorf("of the shop it does not say %q", want)
		}
	}
}
