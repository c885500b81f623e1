package page

import (
	"errors"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"asleft/generator/catalog"
)

// doubled makes $x 256 kB long.
const doubled = `{{$x := "abcdefghijklmnop"}}` + // 16 bytes
	`{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}` +
	`{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}{{$x = print $x $x}}`

// TestThemeEnds has templates that would go on for hours, or fill the memory or the
// disk, and counts what they were let do.
func TestThemeEnds(t *testing.T) {
	for _, tc := range []struct {
		name, front string
		says        string
	}{
		{"turns that write nothing", `{{range 1000000000}}{{end}}`, "steps that write next to nothing"},
		{"turns in turns", strings.Repeat(`{{range 1000}}`, 9) + strings.Repeat(`{{end}}`, 9), "steps that write next to nothing"},
		{"pieces that call two", twice(40), "steps that write next to nothing"},
		{"calls in few turns", `{{range 100000}}` + strings.Repeat(`{{if eq 1 2}}y{{end}}`, 1000) + `{{end}}`, "steps that write next to nothing"},
		{"calls in calls", `{{range 100000}}{{if ` + strings.Repeat("(not ", 500) + "true" + strings.Repeat(")", 500) + `}}{{end}}{{end}}`, "steps that write next to nothing"},
		{"long texts compared", doubled + `{{range 200000}}{{if eq (html $x) ""}}y{{end}}{{end}}`, "more than 64 MB of text"},
		{"long texts kept", doubled + strings.Repeat(`{{$y := print $x ""}}`, 10000), "more than 64 MB of text"},
		{"a text doubled once more", doubled + doubled[len(`{{$x := "abcdefghijklmnop"}}`):], "grew past 256 kB"},
		{"one page too long", `{{range 400000}}` + strings.Repeat("x", 1000) + `{{end}}`, "grew"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			folder := built(t, "jobcard")
			folder["front.html"] = &fstest.MapFile{Data: []byte(tc.front)}
			theme, err := LoadTheme(folder, catalog.English)
			if err != nil {
				t.Fatal(err)
			}
			b, done := theme.buffer()
			defer done()
			err = theme.templates.ExecuteTemplate(b, "front.html", nil)
			if err == nil || !strings.Contains(err.Error(), tc.says) {
				t.Errorf("got %v, want %q", err, tc.says)
			}
			if b.steps > maxSteps+maxPage/16+1 || b.Len() > maxPage || theme.budget.made.Load() > maxMade+maxSite+maxText || theme.budget.written.Load() > maxSite+1<<20 {
				t.Errorf("%d steps, %d bytes on the page, %d made, %d written", b.steps, b.Len(), theme.budget.made.Load(), theme.budget.written.Load())
			}
		})
	}
}

// twice is a chain of templates that each call the next one two times.
func twice(n int) string {
	var s strings.Builder
	for i := range n {
		s.WriteString(strings.NewReplacer("A", "a"+strings.Repeat("i", i), "B", "a"+strings.Repeat("i", i+1)).Replace(`{{define "A"}}{{template "B"}}{{template "B"}}{{end}}`))
	}
	return s.String() + `{{define "a` + strings.Repeat("i", n) + `"}}{{end}}{{template "a"}}`
}

// TestThemeCannotCallItself: the depth of a page is that of its theme's text.
func TestThemeCannotCallItself(t *testing.T) {
	for name, front := range map[string]string{
		"straight":        "\n" + `{{define "a"}}{{template "a"}}{{end}}{{template "a"}}`,
		"by another":      "\n" + `{{define "a"}}{{if true}}{{template "b"}}{{end}}{{end}}{{define "b"}}{{range 2}}{{template "a"}}{{end}}{{end}}`,
		"the page itself": "\n" + `{{template "front.html"}}`,
	} {
		folder := built(t, "jobcard")
		folder["front.html"] = &fstest.MapFile{Data: []byte(front)}
		_, err := LoadTheme(folder, catalog.English)
		if err == nil || !strings.Contains(err.Error(), "front.html:2:") || !strings.Contains(err.Error(), "calls itself") {
			t.Errorf("%s: got %v", name, err)
		}
	}
	folder := built(t, "jobcard")
	folder["more.html"] = &fstest.MapFile{Data: []byte(twice(maxPieces))}
	if _, err := LoadTheme(folder, catalog.English); !errors.Is(err, errPieces) {
		t.Errorf("got %v, want %v", err, errPieces)
	}
}

// TestThemeTimeIsUp: when a page or all of them have taken too long, what is being
// filled in ends at its next step, and nothing new begins.
func TestThemeTimeIsUp(t *testing.T) {
	folder := built(t, "jobcard")
	folder["front.html"] = &fstest.MapFile{Data: []byte(`{{range 10}}{{print "x"}}{{end}}`)}
	theme, err := LoadTheme(folder, catalog.English)
	if err != nil {
		t.Fatal(err)
	}
	fill := func() error {
		return theme.fill(func(string, []byte) error { return nil }, "index.html", "front.html", nil)
	}
	if err := fill(); err != nil {
		t.Fatal(err)
	}
	theme.budget.spent.Store(int64(maxSiteTime + time.Second))
	if err := fill(); err != nil {
		t.Errorf("the page that was begun in time: %v", err)
	}
	if err := fill(); !errors.Is(err, errSlow) {
		t.Errorf("got %v, want %v", err, errSlow)
	}
	theme.budget = &budget{}
	theme.budget.stop(errMaxTime)
	if err := fill(); !errors.Is(err, errMaxTime) {
		t.Errorf("got %v, want %v", err, errMaxTime)
	}
}
