package desk_test

import (
	"encoding/json"
	"net/url"
	"regexp"
	"strings"
	"testing"

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
