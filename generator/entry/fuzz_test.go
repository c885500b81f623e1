package entry_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"asleft/generator/catalog"
	"asleft/generator/entry"
)

// FuzzEntryWriter: whatever is typed into the fields of an entry, the file that
// comes of it is read back as the same facts.
func FuzzEntryWriter(f *testing.F) {
	for _, s := range []string{"a: b", "- a", "# a", "yes", "18:30", "2026-03-02", "[a", "{a: b}", "'a", `"a\`, "a\n---\nb", "a\r\nb\x00\u2028\u202e", "\ufeff", "~", "<<", "*a", "&a", "!a", "|", ">", "%", "@", "`", "a #b", "a\tb", "\xff", "½ \U0001f6e0"} {
		f.Add(s, "x", "y")
		f.Add("x", s, s)
	}
	f.Fuzz(func(t *testing.T, a, b, c string) {
		texts, n := []string{a, b, c}, 0
		e := full(func(label string) string {
			if label == "body" {
				return "A story."
			}
			n++
			if s := texts[n%3]; want(s) != "" {
				return s
			}
			return "text"
		})
		data := e.Markdown()
		if len(data) > 60_000 {
			return // more than a file of the shop may hold
		}
		if diff := cmp.Diff(clean(e), facts(back(t, data))); diff != "" {
			t.Fatalf("read back (-want, +got):\n%s\n%s", diff, data)
		}
	})
}

// FuzzSettle: however a form is changed in an editor, what is not the form's
// own stays, and settling a second time changes nothing.
func FuzzSettle(f *testing.F) {
	form := entry.Entry{Date: "2026-03-02"}.Form(offer, catalog.English)
	f.Add(form)
	f.Add([]byte(strings.Replace(string(form), "title:", "title: T", 1)))
	f.Add([]byte("---\r\ntitle: x\r\n---\r\n"))
	f.Add([]byte("\ufeff---\ntitle:\n  - a\n"))
	f.Add([]byte("no front matter\n#x\nhours:\n"))
	f.Fuzz(func(t *testing.T, edited []byte) {
		once := entry.Settle(edited, form)
		if len(once) == 0 {
			return
		}
		kept := map[string]bool{}
		for _, line := range strings.Split(string(once), "\n") {
			kept[strings.TrimSpace(line)] = true
		}
		own := map[string]bool{}
		for _, line := range strings.Split(string(form), "\n") {
			own[strings.TrimSpace(line)] = true
		}
		text := strings.ReplaceAll(strings.TrimPrefix(string(edited), "\ufeff"), "\r\n", "\n")
		for _, line := range strings.Split(text, "\n") {
			if line = strings.TrimSpace(line); !own[line] && !kept[line] {
				t.Fatalf("the line %q was lost:\n%s", line, once)
			}
		}
	})
}
