package generator_test

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// FuzzPage: whatever an entry says, in a field and in its body, there is a
// problem, or a site in which it can do nothing.
func FuzzPage(f *testing.F) {
	for _, c := range hostileCases(f) {
		if len(c.payload) > 300 {
			continue
		}
		switch c.context {
		case "fields":
			f.Add(string(c.payload), "Body.")
		case "body", "bodyphotos":
			f.Add("plain words", string(c.payload))
		}
	}
	f.Fuzz(func(t *testing.T, field, body string) {
		folder, parent := afero.NewMemMapFs(), afero.NewMemMapFs()
		for name, text := range baseShop() {
			if name == "machines/m/2026-03-02-a.md" {
				text = strings.NewReplacer("@q", quotedYAML(field), "@p", reasonOf(field)).Replace(text[:strings.LastIndex(text, "\n---\n")]) + "\n---\n" + body
			}
			text = strings.NewReplacer("@q", `"plain words"`, "@p", reasonOf("")).Replace(text)
			if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		_, r, err := generator.Writeup(folder, parent, "site", generator.Options{Today: "2026-11-25"})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Problems) == 0 {
			checkSafe(t, siteFiles(t, parent))
		}
	})
}
