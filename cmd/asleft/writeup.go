package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"asleft/generator"
	"asleft/generator/press"
	"asleft/generator/rooted"
)

func newWriteup(s streams) *cobra.Command {
	var out, theme string
	var asJSON bool
	c := &cobra.Command{
		Use:     "writeup",
		Short:   words.Say("help.writeup"),
		Long:    words.Say("help.writeup.long"),
		Example: words.Say("help.writeup.example"),
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return writeup(c, s, out, theme, asJSON)
		},
	}
	c.Flags().StringVar(&out, "out", "", words.Say("help.flag.out"))
	c.Flags().StringVar(&theme, "theme", "", words.Say("help.flag.theme"))
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("help.flag.json"))
	return c
}

func writeup(c *cobra.Command, s streams, out, theme string, asJSON bool) error {
	folder, dir, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	if out == "" {
		out = filepath.Join(dir, "site")
	}
	parent, name, err := openPlace(dir, out)
	if err != nil {
		return err
	}
	defer parent.Close()
	o := generator.Options{Today: today()}
	if theme != "" {
		o.Theme = os.DirFS(theme)
	}
	bar := newBar(s.err)
	if !asJSON {
		o.Progress = bar.show
	}
	made, r, err := generator.Writeup(folder, parent, name, o)
	bar.clear()
	if err != nil {
		return placed(err)
	}
	if asJSON {
		if err := writeJSON(s.out, writeupJSON{out, made, toJSON(r.Problems)}); err != nil {
			return err
		}
	}
	if len(r.Problems) > 0 {
		if !asJSON {
			printFound(s.err, r.Problems)
			fmt.Fprintln(s.err, words.Count("command.not-made", len(r.Problems)))
		}
		return &outcome{status: problems}
	}
	if !asJSON {
		fmt.Fprintln(s.out, closingLine(out, made))
	}
	return nil
}

type writeupJSON struct {
	Out      string         `json:"out"`
	Made     generator.Made `json:"made"`
	Problems []foundJSON    `json:"problems"`
}

// openPlace opens the folder that the site is to stand in.
func openPlace(shop, out string) (*rooted.FS, string, error) {
	if err := press.CheckPlace(shop, out); err != nil {
		return nil, "", placed(err)
	}
	parent, name, err := press.Place(out)
	if err != nil {
		return nil, "", placed(err)
	}
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return nil, "", &outcome{fault, err}
	}
	fs, err := rooted.Open(parent)
	if err != nil {
		return nil, "", &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.cannot-open", "dir", parent), err)}
	}
	return fs, name, nil
}

// placed tells a refusal of the place, which is wrong usage, from a fault.
func placed(err error) error {
	var refused *press.Refusal
	if errors.As(err, &refused) {
		return wrongUsage(err)
	}
	return status(err)
}

// closingLine says what was made, where, and what to open.
func closingLine(out string, made generator.Made) string {
	open, err := filepath.Abs(filepath.Join(out, "index.html"))
	if err != nil {
		open = filepath.Join(out, "index.html")
	}
	key := "command.made"
	if made.Written == 0 && made.Removed == 0 {
		key = "command.made-nothing-new"
	}
	return words.Say(key,
		"machines", words.Count("command.machines", made.Machines), "entries", words.Count("command.entries", made.Entries),
		"photos", words.Count("command.photos", made.Photos), "files", words.Count("command.files", made.Files),
		"written", made.Written, "out", out, "open", open)
}

// A bar shows on a terminal how far the photos are; anywhere else it is silent.
type bar struct {
	w     io.Writer
	width int
	shown bool
}

func newBar(w io.Writer) *bar {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) { //nolint:gosec // a file descriptor is small
		return &bar{}
	}
	return &bar{w: w, width: 24}
}

func (b *bar) show(done, of int) {
	if b.w == nil || of == 0 {
		return
	}
	b.shown = true
	full := b.width * done / of
	fmt.Fprintf(b.w, "\r%s", words.Say("command.progress", "bar", strings.Repeat("#", full)+strings.Repeat(".", b.width-full), "done", done, "of", of))
}

// clear takes the bar off the line again.
func (b *bar) clear() {
	if b.shown {
		fmt.Fprintf(b.w, "\r%s\r", strings.Repeat(" ", 72))
	}
}
