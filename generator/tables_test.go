package generator_test

import (
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// A table of Markdown is one in every theme: in a box that a keyboard can reach,
// with heads that say what they head, aligned by class. What stands in its cells is
// text like any other.
func TestTablesInBodies(t *testing.T) {
	folder := memoryShop(t, map[string]string{
		"shop.md":               "---\nshop: S\ncurrency: USD\n---\n",
		"machines/m/machine.md": "---\nname: M\narrived: 2026-03-01\n---\n",
		"machines/m/2026-03-02.md": "---\ndate: 2026-03-02\ntitle: T\n---\nLook here:\n\n||right|middle|*left*|\n|-|-:|:-:|:-|\n|a|<b onclick=x>|![w](a b.jpg \"t\")|[x](javascript:x)|\n|<!-- secret -->|\\||`\\|`|`<!-- shown -->`|more than that\n|short\n\n" +
			"> |quoted|\n> |---|\n\nNo table | here\n",
		"machines/m/photos/a b.jpg": string(pictureOf(t, "jpeg", 64, 48)),
	})
	for _, theme := range []string{"jobcard", "drawing-office"} {
		if err := afero.WriteFile(folder, "shop.md", []byte("---\nshop: S\ncurrency: USD\ntheme: "+theme+"\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		files := madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
		page := files["machines/m/index.html"]
		for _, want := range []string{
			`<p>Look here:</p>` + "\n" + `<div class="written-table" role="group" tabindex="0" aria-label="A table in the text"><table>` + "\n<thead>\n" +
				`<tr><td></td><th scope="col" class="to-end">right</th><th scope="col" class="to-middle">middle</th><th scope="col"><em>left</em></th></tr>` + "\n</thead>\n<tbody>\n",
			`<tr><td>a</td><td class="to-end">&lt;b onclick=x&gt;</td><td class="to-middle"><a class="larger" href="../../photos/`,
			`</a></td><td>x</td></tr>`,
			`<tr><td></td><td class="to-end">|</td><td class="to-middle"><code>|</code></td><td><code>&lt;!-- shown --&gt;</code></td></tr>`,
			`<tr><td>short</td><td></td><td></td><td></td></tr>` + "\n</tbody>\n</table></div>\n",
			"<blockquote>\n" + `<div class="written-table" role="group" tabindex="0" aria-label="A table in the text"><table>` + "\n" + `<thead>` + "\n" + `<tr><th scope="col">quoted</th></tr>` + "\n</thead>\n</table></div>\n</blockquote>",
			"<p>No table | here</p>",
		} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the page has no %s", theme, want)
			}
		}
		for name, data := range files {
			if strings.Contains(data, "secret") {
				t.Errorf("%s: %s holds what a comment hides", theme, name)
			}
		}
		if strings.Contains(page, "style=") || strings.Contains(page, "![") {
			t.Errorf("%s: style or raw marks", theme)
		}
		if t.Failed() {
			t.Log(page[strings.Index(page, "Look here"):])
		}
	}
}
