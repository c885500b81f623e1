package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// problemsIn are the problems that stand in these files of the shop now.
func problemsIn(folder afero.Fs, files []string) ([]logbook.Problem, error) {
	r, err := generator.Read(folder, generator.Options{Today: today(), Words: words})
	if err != nil {
		return nil, status(err)
	}
	return slices.DeleteFunc(r.Problems, func(p logbook.Problem) bool { return !slices.Contains(files, p.File) }), nil
}

// printFoundIn lists problems, each with the line that it stands on and how to
// mend it.
func printFoundIn(w io.Writer, folder afero.Fs, found []logbook.Problem) {
	for _, p := range found {
		fmt.Fprintln(w, oneLine(p.String()))
		if line := lineOf(folder, p.File, p.Line); line != "" {
			fmt.Fprintln(w, printable("  | "+line))
		}
		fmt.Fprintln(w, oneLine("    "+p.Mend))
	}
}

func lineOf(folder afero.Fs, file string, n int) string {
	data, err := rooted.ReadFile(folder, file, rooted.MostText)
	lines := strings.Split(string(data), "\n")
	if err != nil || n < 1 || n > len(lines) {
		return ""
	}
	return strings.TrimRight(lines[n-1], "\r ")
}

// unwritten is the outcome of a file that could not be written.
func unwritten(err error) error {
	switch {
	case errors.Is(err, entry.ErrTaken):
		return wrongUsage(fmt.Errorf("%s: %w", words.Say("command.file-taken"), err))
	case errors.Is(err, entry.ErrBusy):
		return &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.shop-busy"), err)}
	case errors.Is(err, entry.ErrChanged):
		return &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.written-twice"), err)}
	}
	return &outcome{fault, err}
}
