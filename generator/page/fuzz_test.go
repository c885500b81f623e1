package page

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"asleft/generator/catalog"
)

// pieces are what FuzzThemeLimits puts a template together from: turns, pieces that
// call each other, texts that grow, and plain words.
var pieces = []string{
	`{{range 1000000}}`, `{{range 3}}`, `{{range $i := 100000}}`, `{{end}}`, `{{end}}`, `{{if true}}`, `{{else}}`, `{{with .}}`,
	`{{template "a"}}`, `{{template "b" .}}`, `{{template "c" $}}`, `{{define "a"}}`, `{{define "b"}}`, `{{define "c"}}`, `{{block "d" .}}`,
	`{{$x := "abcdefghijklmnop"}}`, `{{$x = print $x $x}}`, `{{$x = printf "%s%s" $x $x}}`, `{{$x = html $x}}`, `{{$x = js $x}}`, `{{$x = urlquery $x}}`, `{{$x}}`, `{{$x = println $x $x $x}}`,
	`{{printf "%999d" 1}}`, `{{printf "%9999999d" 1}}`, `{{printf "%*d" 9999999 1}}`, `{{len $x}}`, `{{slice $x 1 2}}`, `{{index $x 1}}`, `{{eq (html $x) (js $x)}}`, `{{not (not (not true))}}`, `{{and $x $x}}`, `{{or "" $x}}`, `{{call .X}}`, `{{break}}`, `{{continue}}`,
	`{{say "ui.title" "title" $x "shop" $x}}`, `{{say $x}}`, `x`, `<p>`, `</p>`, `<script>`, `{{.}}`, `{{$}}`, `{{/* x */}}`, "\n",
}

// FuzzThemeLimits: whatever a theme's page is put together from, it is refused, or it
// ends within its steps, its bytes and its time.
func FuzzThemeLimits(f *testing.F) {
	for _, front := range []string{twice(8), doubled + `{{range 200000}}{{if eq (html $x) ""}}y{{end}}{{end}}`, `{{range 1000000000}}{{end}}`, `{{template "front.html"}}`} {
		f.Add([]byte{}, front)
	}
	f.Add([]byte{0, 0, 0, 38, 3, 3, 3}, "")
	f.Add([]byte{15, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 21}, "")
	f.Add([]byte{15, 1, 17, 18, 20, 19, 3, 21}, "")
	f.Add([]byte{11, 9, 3, 12, 10, 3, 13, 8, 3, 8}, "")
	f.Add([]byte{15, 0, 32, 29, 36, 3}, "")
	folder := built(f, "jobcard")
	f.Fuzz(func(t *testing.T, list []byte, front string) {
		var b strings.Builder
		for _, n := range list[:min(len(list), 200)] {
			b.WriteString(pieces[int(n)%len(pieces)])
		}
		with := fstest.MapFS{}
		for name, file := range folder {
			with[name] = file
		}
		with["front.html"] = &fstest.MapFile{Data: []byte(b.String() + front)}
		began := time.Now()
		theme, err := LoadTheme(with, catalog.English)
		if err == nil {
			page, done := theme.buffer()
			defer done()
			// As the page's own alarm does, but before the fuzzing takes it for hung.
			alarm := time.AfterFunc(3*time.Second, func() { theme.budget.stop(errMaxTime) })
			defer alarm.Stop()
			_ = theme.templates.ExecuteTemplate(page, "front.html", map[string]any{"X": func() string { return "x" }}) // or what ended it
			if page.steps > maxSteps+maxPage/16+1 || page.Len() > maxPage {
				t.Errorf("%d steps, %d bytes on the page", page.steps, page.Len())
			}
			if made, written := theme.budget.made.Load(), theme.budget.written.Load(); made > maxMade+maxSite+maxText || written > maxSite+1<<20 {
				t.Errorf("%d bytes made, %d written", made, written)
			}
		}
		if took := time.Since(began); took > 9*time.Second {
			t.Errorf("it took %s", took)
		}
	})
}
