package main

import (
	"encoding/json"
	"fmt"
	"io"

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

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	if err := enc.Encode(v); err != nil {
		return &outcome{fault, err}
	}
	return nil
}

// printFound lists problems or gaps, each with how to mend it.
func printFound(w io.Writer, found []logbook.Problem) {
	for _, p := range found {
		fmt.Fprintln(w, printable(p.String()))
		if p.Mend != "" {
			fmt.Fprintln(w, printable("    "+p.Mend))
		}
	}
}
