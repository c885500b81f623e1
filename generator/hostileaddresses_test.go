package generator_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator"
)

// hostileSchemes are what an address may begin with that is no place on the web, or
// that a browser takes for one of those.
var hostileSchemes = []string{
	"javascript:alert(1)", "JaVaScRiPt:alert(1)", "java\tscript:alert(1)", "\x01javascript:alert(1)", " javascript:alert(1)", "javascript&colon;alert(1)", "&#106;avascript:alert(1)", "&#x6A;avascript&#x3A;alert(1)", "javascript%3Aalert(1)", "javascript\u200b:alert(1)",
	"vbscript:x", "data:text/html,<script>alert(1)</script>", "data:image/svg+xml;base64,PHN2Zz4=", "DATA:text/html;base64,PHNjcmlwdD4=", "file:///etc/passwd", "blob:https://a.example/x", "about:blank", "view-source:https://a.example/", "filesystem:x", "jar:x!/y", "ws://a.example", "ftp://a.example/", "intent://x#Intent;end", "urn:x", "x-unknown:y", "//evil.example/x", `\\evil.example\x`, `/\evil.example`, "http:evil.example", "https:///evil.example", "http://evil.example@a.example/", "?x=javascript:alert(1)", "#javascript:alert(1)",
}

// hostileForms are the ways in which Markdown, and HTML in it, holds an address.
var hostileForms = map[string]string{
	"a link": "[x](@)", "a link in angles": "[x](<@>)", "a link with a title": `[x](@ "t")`, "an address alone": "<@>", "a picture": "![x](@)", "a picture in angles": "![x](<@>)", "by reference": "[x][r]\n\n[r]: @", "by reference in angles": "[x][r]\n\n[r]: <@>", "a picture by reference": "![x][r]\n\n[r]: <@>", "bare": "@",
	"a link of HTML": `<a href="@">x</a>`, "a picture of HTML": `<img src="@">`, "a frame": `<iframe src="@"></iframe>`, "a form": `<form action="@"><button formaction="@">x</button></form>`, "another page": `<meta http-equiv="refresh" content="0;url=@">`, "a base": `<base href="@">`, "a style": `<p style="background:url('@')">x</p>`, "an embedded": `<object data="@"></object><embed src="@">`,
	"a link in a table": "|a|\n|-|\n|[x](@)|", "a link in a heading": "# [x](@)", "a link in a list": "- [x](@)", "a link in a picture": "[![x](@)](@)",
}

// TestHostileAddresses writes each in each of the forms into the text of an entry: it
// is a problem of that file, or on a page where it leads nowhere but to the web. The
// entries of one form are one shop's, those with problems apart from the others.
func TestHostileAddresses(t *testing.T) {
	t.Parallel()
	held := hostileCount{}
	for form, text := range hostileForms {
		files := map[string]string{}
		named := func(n int) string { return fmt.Sprintf("machines/m/2026-03-02-a%02d.md", n) }
		for n, address := range hostileSchemes {
			files[named(n)] = "---\ndate: 2026-03-02\ntitle: T\n---\n" + strings.ReplaceAll(text, "@", address) + "\n"
		}
		r, err := generator.Read(spoiledShop(t, files), generator.Options{Today: "2026-11-25"})
		if r == nil {
			t.Fatal(err)
		}
		for _, p := range r.Problems {
			if !strings.HasPrefix(p.File, "machines/m/2026-03-02-a") || p.Line == 0 {
				t.Errorf("%s: no line of an entry is named: %s", form, p)
			}
			delete(files, p.File)
		}
		parent := afero.NewMemMapFs()
		_, r, err = generator.Writeup(spoiledShop(t, files), parent, "site", generator.Options{Today: "2026-11-25"})
		wrong := saidOf(r, err)
		if wrong == "" {
			site := siteFiles(t, parent)
			checkSafe(t, site)
			if page := site["machines/m/index.html"]; strings.Count(page, "<h2") < len(files) && strings.Count(page, "<article") < len(files) {
				wrong = fmt.Sprintf("%d entries are not all on the page", len(files))
			}
		}
		for _, address := range hostileSchemes {
			held.add(t, "addresses, "+form, fmt.Sprintf("%q", address), wrong)
		}
	}
	held.want(t, 700)
}
