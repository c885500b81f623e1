// Package themes carries the built-in themes inside the program, so that a
// site can be made where there is nothing but the program and a shop folder.
//
// A theme is a folder of templates and style that computes nothing. What the
// templates are handed is documented in package page, in views.go.
package themes

import (
	"embed"
	"io/fs"
	"slices"
)

// Built holds the built-in themes, one folder each.
//
//go:embed all:drawing-office all:jobcard
var Built embed.FS

// Shared holds the pieces that every theme is made of, and all that the
// condition report and a listing say: a theme gives those its style and its frame
// and cannot replace them.
//
//go:embed all:shared
var Shared embed.FS

// Names are the built-in themes, sorted.
func Names() []string {
	folders, _ := Built.ReadDir(".") // the files are in the program: it cannot fail
	names := make([]string, len(folders))
	for n, f := range folders {
		names[n] = f.Name()
	}
	return names
}

// Named is the built-in theme of that name; nil where there is none.
func Named(name string) fs.FS {
	if !slices.Contains(Names(), name) {
		return nil
	}
	theme, _ := fs.Sub(Built, name) // the folder is in the program: it cannot fail
	return theme
}
