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
