package page

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"asleft/generator/catalog"
	"asleft/themes"
)

// built is a built-in theme as a folder that a test may change.
func built(t testing.TB, name string) fstest.MapFS {
	t.Helper()
	folder := fstest.MapFS{}
	files, err := fs.ReadDir(themes.Built, name)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data, err := fs.ReadFile(themes.Built, name+"/"+f.Name())
		if err != nil {
			t.Fatal(err)
		}
		folder[f.Name()] = &fstest.MapFile{Data: data}
	}
	return folder
}

// change replaces a text in a file of a theme.
func change(t *testing.T, folder fstest.MapFS, file, from, to string) {
	t.Helper()
	text := string(folder[file].Data)
	if !strings.Contains(text, from) {
		t.Fatalf("%s has no %q", file, from)
	}
	folder[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, from, to, 1))}
}

func TestBuiltInThemesSayNothing(t *testing.T) {
	for _, name := range []string{"jobcard", "drawing-office"} {
		if _, err := LoadTheme(built(t, name), catalog.English); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestThemeCannotSpeak holds that no theme gets a word of its own into the frame of
// a report or a listing, nor replaces what the program says.
func TestThemeCannotSpeak(t *testing.T) {
	for _, tc := range []struct{ name, file, from, to, says string }{
		{"a piece of the program's own", "base.html", `{{define "title"`, `{{define "front-sheet"}}{{end}}{{define "title"`, `base.html defines "front-sheet"`},
		{"the whole report", "condition.html", `{{template "close" .}}`, `{{template "close" .}}{{define "condition-body"}}Safe.{{end}}`, `condition.html defines "condition-body"`},
		{"words in the page", "condition.html", `{{.Body}}`, `<p>Certified safe.</p>{{.Body}}`, "Certified safe."},
		{"words on the listing", "listing.html", `{{.Body}}`, `{{.Body}}<p>Runs great</p>`, "Runs great"},
		{"words in what they call", "base.html", `<main id="main">`, `<main id="main">Certified`, "Certified"},
		{"words that are read out", "condition.html", `{{.Body}}`, `<div aria-label="safe">{{.Body}}</div>`, `"safe"`},
		{"a picture's text", "condition.html", `{{.Body}}`, `<img src="a.png" alt="certified">{{.Body}}`, `"certified"`},
		{"words in an action", "condition.html", `{{.Body}}`, `{{"certified safe"}}{{.Body}}`, "certified safe"},
		{"words in a variable", "condition.html", `{{.Body}}`, `{{$x := "certified"}}{{$x}}{{.Body}}`, "certified"},
		{"words put into a sentence", "condition.html", `{{.Body}}`, `{{say "ui.title" "title" "certified" "shop" "safe"}}{{.Body}}`, "certified"},
		{"a sentence of the report", "condition.html", `{{.Body}}`, `{{say "none.safety"}}{{.Body}}`, "none.safety"},
		{"what hides it", "condition.html", `{{.Body}}`, `<template>{{.Body}}</template>`, "<template>"},
		{"what hides it by an attribute", "condition.html", `{{.Body}}`, `<div hidden>{{.Body}}</div>`, `"hidden"`},
		{"what a browser keeps back", "condition.html", `{{.Body}}`, `<datalist>{{.Body}}</datalist>`, "<datalist>"},
		{"what a drawing keeps back", "condition.html", `{{.Body}}`, `<svg><desc>{{.Body}}</desc></svg>`, "<svg>"},
		{"what waits to pop up", "condition.html", `{{.Body}}`, `<div popover>{{.Body}}</div>`, `"popover"`},
		{"what strikes it out", "condition.html", `{{.Body}}`, `<s>{{.Body}}</s>`, "<s>"},
		{"what turns it around", "condition.html", `{{.Body}}`, `<bdo dir="rtl">{{.Body}}</bdo>`, "<bdo>"},
		{"stars", "condition.html", `{{.Body}}`, `<p>★★★★★</p>{{.Body}}`, "★★★★★"},
		{"marks out of ten", "condition.html", `{{.Body}}`, `<p>10/10</p>{{.Body}}`, "10/10"},
		{"a number in an action", "condition.html", `{{.Body}}`, `{{100}}{{.Body}}`, "100"},
		{"a number that is printed", "condition.html", `{{.Body}}`, `{{print 100}}{{.Body}}`, "100"},
		{"a program that says it later", "condition.html", `{{.Body}}`, `<a href="#" autofocus onfocus="x()">{{.Body}}</a>`, `"onfocus"`},
		{"a page that leads away", "condition.html", `{{.Body}}`, `<meta http-equiv="refresh" content="0;url=https://shop.example/">{{.Body}}`, `"http-equiv"`},
		{"words by another way", "condition.html", `{{.Body}}`, `{{or .Nothing "certified"}}{{.Body}}`, "certified"},
	} {
		folder := built(t, "jobcard")
		change(t, folder, tc.file, tc.from, tc.to)
		_, err := LoadTheme(folder, catalog.English)
		if err == nil || !strings.Contains(err.Error(), tc.says) || !strings.Contains(err.Error(), tc.file) {
			t.Errorf("%s: got %v, want %s and %q", tc.name, err, tc.file, tc.says)
		}
	}
}

func TestThemeMayFrame(t *testing.T) {
	folder := built(t, "jobcard")
	change(t, folder, "condition.html", `{{.Body}}`, `<hr><div class="certified-frame" id="frame">{{.Body}}</div>{{if eq .Kind "condition"}}{{say "ui.words"}}{{end}}`)
	change(t, folder, "front.html", `{{template "close" .}}`, `<p>Welcome to our shop.</p>{{template "close" .}}`)
	if _, err := LoadTheme(folder, catalog.English); err != nil {
		t.Error(err)
	}
}

// TestThemeCannotLeaveOut holds that the text of a report stands whole in its page,
// and once.
func TestThemeCannotLeaveOut(t *testing.T) {
	for _, tc := range []struct {
		name, frame string
		whole       bool
	}{
		{"as it is", `{{.Body}}`, true},
		{"not at all", ``, false},
		{"twice", `{{.Body}}{{.Body}}`, false},
		{"cut short", `{{slice .Body 0 20}}`, false},
		{"as plain text", `{{print .Body}}`, false},
		{"only on a Sunday", `{{if eq .Kind "other"}}{{.Body}}{{end}}`, false},
	} {
		folder := built(t, "jobcard")
		change(t, folder, "condition.html", `{{.Body}}`, tc.frame)
		theme, err := LoadTheme(folder, catalog.English)
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		body, err := theme.own("condition-body", Report{
			Front:    FrontSheet{AsOf: "This is what the log says.", Parts: []FrontPart{{ID: "hurt", Title: "Can it hurt you?", Lines: []Link{{Text: "The brake is worn."}}}}},
			Sections: []Section{{ID: "safety", Title: "In full", Statements: []Statement{{Text: "The brake is worn."}}}},
		})
		if err != nil {
			t.Fatal(err)
		}
		set := false
		err = theme.frame(func(string, []byte) error { set = true; return nil }, "x/index.html", "condition.html", Condition{Page: Page{Kind: "condition"}, Body: body}, body)
		if set != tc.whole || (err == nil) != tc.whole {
			t.Errorf("%s: set down %v, %v", tc.name, set, err)
		}
	}
}

// TestThemeRunsNoProgram: each page begins with its policy, by which a browser runs
// nothing of a theme's; one that does without it, or comes before it, is not made.
func TestThemeRunsNoProgram(t *testing.T) {
	const meta = `{{template "meta" .}}`
	for _, tc := range []struct {
		name, head string
		made       bool
	}{
		{"as it is", meta, true},
		{"with words of the theme's behind it", meta + `<meta http-equiv="Content-Security-Policy" content="script-src 'unsafe-inline'"><script>x()</script>`, true},
		{"not at all", `<title>x</title>`, false},
		{"a program before it", `<script>x()</script>` + meta, false},
		{"its style before it", `<style>a{}</style>` + meta, false},
		{"in the body", `</head><body>` + meta, false},
		{"words before it", `x` + meta, false},
		{"another policy in its place", `<meta http-equiv="Content-Security-Policy" content="default-src *">` + meta, false},
		{"within what is no page", `<template>` + meta + `</template>`, false},
	} {
		folder := built(t, "jobcard")
		folder["front.html"] = &fstest.MapFile{Data: []byte(`<!DOCTYPE html><html lang="en"><head>` + tc.head + `</head><body></body></html>`)}
		theme, err := LoadTheme(folder, catalog.English)
		if err != nil {
			t.Fatalf("%s: %v", tc.name, err)
		}
		made := false
		err = theme.fill(func(string, []byte) error { made = true; return nil }, "index.html", "front.html", Front{Page: Page{Kind: "front", Policy: policy}})
		if made != tc.made || (err == nil) != tc.made {
			t.Errorf("%s: made %v, %v", tc.name, made, err)
		}
	}
}
