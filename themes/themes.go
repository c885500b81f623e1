// Package themes carries the built-in themes inside the program, so that a
// site can be made where there is nothing but the program and a shop folder.
//
// A theme is a folder of templates and style that computes nothing. What the
// templates are handed is documented in package page, in views.go.
package themes

import "embed"

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
