package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"asleft/generator"
	"asleft/generator/output"
	"asleft/generator/rooted"
)

func newWriteup(s streams) *cobra.Command {
	var w writeup
	c := &cobra.Command{
		Use:     "writeup",
		Short:   words.Say("help.writeup"),
		Long:    words.Say("help.writeup.long"),
		Example: words.Say("help.writeup.example"),
		Args:    none,
		RunE: func(c *cobra.Command, _ []string) error {
			return w.run(c, s)
		},
	}
	c.Flags().StringVar(&w.out, "out", "", words.Say("help.flag.out"))
	c.Flags().StringVar(&w.theme, "theme", "", words.Say("help.flag.theme"))
	c.Flags().BoolVar(&w.json, "json", false, words.Say("help.flag.json"))
	c.Flags().BoolVar(&w.timings, "timings", false, words.Say("help.flag.timings"))
	return c
}

// defaultSite is where the site stands in the shop folder if nobody says otherwise.
const defaultSite = "site"

// writeup is the command's flags.
type writeup struct {
	out, theme    string
	json, timings bool
}

func (w writeup) run(c *cobra.Command, s streams) error {
	folder, dir, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	if w.out == "" {
		w.out = filepath.Join(dir, defaultSite)
	}
	parent, name, err := openPlace(dir, w.out)
	if err != nil {
		return err
	}
	defer parent.Close()
	o := generator.Options{Today: today(), Program: program(), Site: inside(folder, parent, name)}
	if w.theme != "" {
		theme, done, err := themeOf(w.theme)
		if err != nil {
			return err
		}
		defer done()
		o.Theme, o.ThemeDir = theme, w.theme
	}
	bar := newBar(s.err)
	if !w.json {
		o.Progress = bar.show
	}
	var spent []stageJSON
	if w.timings {
		o.Timings = func(stage generator.Stage, took time.Duration) { spent = addStage(spent, stage, took) }
	}
	made, r, err := generator.Writeup(folder, parent, name, o)
	bar.clear()
	if err != nil {
		return placed(err)
	}
	if w.json {
		if err := writeJSON(s.out, writeupJSON{w.out, made, toJSON(r.Problems), spent}); err != nil {
			return err
		}
	}
	if len(r.Problems) > 0 {
		if !w.json {
			return problemsFirst(s, r.Problems, "command.not-made")
		}
		return &outcome{status: problems}
	}
	if !w.json {
		fmt.Fprintln(s.out, oneLine(closingLine(w.out, made)))
		printSpent(s.out, spent)
	}
	return nil
}

type writeupJSON struct {
	Out      string         `json:"out"`
	Made     generator.Made `json:"made"`
	Problems []foundJSON    `json:"problems"`
	Timings  []stageJSON    `json:"timings,omitempty"`
}

// stageJSON is how long a stage of the run took.
type stageJSON struct {
	Stage   generator.Stage `json:"stage"`
	Seconds float64         `json:"seconds"`
}

// addStage adds to a stage's time; one that a run comes to twice is one stage.
func addStage(spent []stageJSON, stage generator.Stage, took time.Duration) []stageJSON {
	for n := range spent {
		if spent[n].Stage == stage {
			spent[n].Seconds += took.Seconds()
			return spent
		}
	}
	return append(spent, stageJSON{stage, took.Seconds()})
}

var stageKeys = map[generator.Stage]string{
	generator.StageLook: "stage-of-run.look", generator.StageRead: "stage-of-run.read", generator.StageJudge: "stage-of-run.judge",
	generator.StagePhotos: "stage-of-run.photos", generator.StageResize: "stage-of-run.resize", generator.StageCompose: "stage-of-run.compose",
	generator.StageSet: "stage-of-run.set-down", generator.StageRemember: "stage-of-run.remember",
}

// printSpent lists the stages of a run, a line each, and their sum.
func printSpent(w io.Writer, spent []stageJSON) {
	if len(spent) == 0 {
		return
	}
	sum := 0.0
	for _, s := range spent {
		fmt.Fprintf(w, "%8.3f s  %s\n", s.Seconds, words.Say(stageKeys[s.Stage]))
		sum += s.Seconds
	}
	fmt.Fprintf(w, "%8.3f s  %s\n", sum, words.Say("stage-of-run.all"))
}

// program names this build of the program by its file, so that a memory left
// by another build is not used; empty where the file cannot be looked at.
func program() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.Size(), info.ModTime().UnixNano())
}

// inside is where the site stands in the shop folder, empty where it does not.
func inside(folder, parent *rooted.FS, name string) string {
	shop, err := filepath.EvalSymlinks(folder.Dir())
	if err != nil {
		return ""
	}
	site, err := filepath.Rel(shop, filepath.Join(parent.Dir(), name))
	if err != nil || !filepath.IsLocal(site) {
		return ""
	}
	return filepath.ToSlash(site)
}

// openPlace opens the folder that the site is to stand in.
func openPlace(shop, out string) (*rooted.FS, string, error) {
	if err := output.CheckPlace(shop, out); err != nil {
		return nil, "", placed(err)
	}
	parent, name, err := output.Place(out)
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
	var refused *output.Refusal
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
	shown bool
}

func newBar(w io.Writer) *bar {
	if f := onTerminal(w); f != nil {
		return &bar{w: f}
	}
	return &bar{}
}

// onTerminal is the terminal that is written to; nil where there is none.
func onTerminal(w io.Writer) *os.File {
	if f, ok := terminalOf(w).(*os.File); ok && term.IsTerminal(int(f.Fd())) { //nolint:gosec // a file descriptor is small
		return f
	}
	return nil
}

// drawn is how much is done of something, as a bar.
func drawn(done, of int) string {
	const width = 24
	full := width * done / max(1, of)
	return strings.Repeat("#", full) + strings.Repeat(".", width-full)
}

func (b *bar) show(done, of int) {
	if b.w == nil || of == 0 {
		return
	}
	b.shown = true
	fmt.Fprintf(b.w, "\r%s", words.Say("command.progress", "bar", drawn(done, of), "done", done, "of", of))
}

// clear takes the bar off the line again.
func (b *bar) clear() {
	if b.shown {
		fmt.Fprintf(b.w, "\r%s\r", strings.Repeat(" ", 72))
	}
}
