package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"asleft/generator/logbook"
)

// foundJSON is a problem or a gap as --json gives it.
type foundJSON struct {
	File  string `json:"file"`
	Line  int    `json:"line"`
	Field string `json:"field"`
	Says  string `json:"says"`
	Mend  string `json:"mend"`
}

func toJSON(found []logbook.Problem) []foundJSON {
	all := []foundJSON{}
	for _, p := range found {
		all = append(all, foundJSON{p.File, p.Line, p.Field, p.Says, p.Mend})
	}
	return all
}

// writeJSON writes an answer for a program. Characters that command a terminal,
// which the name of a file may hold, are written as escapes.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		return &outcome{fault, err}
	}
	var safe strings.Builder
	for _, r := range b.String() {
		if printable(string(r)) == string(r) {
			safe.WriteRune(r)
		} else {
			fmt.Fprintf(&safe, `\u%04x`, r)
		}
	}
	if _, err := io.WriteString(w, safe.String()); err != nil {
		return &outcome{fault, err}
	}
	return nil
}

// oneLine is a text as one line of a terminal: the name of a file may hold a
// line end, behind which it could look like a message of this program.
func oneLine(s string) string {
	return printable(strings.NewReplacer("\n", "?", "\t", " ").Replace(s))
}

// printFound lists problems or gaps, each with how to mend it.
func printFound(w io.Writer, found []logbook.Problem) {
	for _, p := range found {
		fmt.Fprintln(w, oneLine(p.String()))
		if p.Mend != "" {
			fmt.Fprintln(w, oneLine("    "+p.Mend))
		}
	}
}
