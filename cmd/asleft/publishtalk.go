package main

import (
	"fmt"
	"io"
	"time"

	"asleft/generator/delivery"
	"asleft/generator/logbook"
	"asleft/generator/publish"
	"asleft/generator/publish/visit"
)

// publishTalk tells what a run of publish did, to a person or to a program.
type publishTalk struct {
	s      streams
	json   bool
	answer publishJSON
	unseen bool
	bar    *transfer
}

// publishJSON is the answer of --json.
type publishJSON struct {
	To       string          `json:"to"`
	DryRun   bool            `json:"dry_run"`
	Result   *publish.Result `json:"result"`
	Web      *worldJSON      `json:"web"`
	Hints    []string        `json:"hints"`
	Problems []foundJSON     `json:"problems"`
}

// worldJSON is what the world sees.
type worldJSON struct {
	Address string   `json:"address"`
	Read    int      `json:"read"`
	Same    int      `json:"same"`
	Fine    bool     `json:"fine"`
	Says    []string `json:"says"`
}

// hint tells something besides.
func (t *publishTalk) hint(text string) {
	t.answer.Hints = append(t.answer.Hints, text)
	if !t.json {
		t.bar.clear()
		fmt.Fprintln(t.s.err, oneLine(text))
	}
}

// result tells what was brought, or would be.
func (t *publishTalk) result(to logbook.Destination, r publish.Result, dry bool) {
	t.answer.To, t.answer.DryRun, t.answer.Result = to.String(), dry, &r
	if t.json {
		return
	}
	lines := []string{}
	add := func(n int, key string) {
		if n > 0 {
			lines = append(lines, words.Count(key, n))
		}
	}
	switch {
	case len(r.Brought)+len(r.Removed) == 0:
		lines = append(lines, words.Count("publish.nothing-new", r.Kept, "to", to))
	case dry:
		for _, p := range r.Brought {
			lines = append(lines, words.Say("publish.would-bring", "file", p))
		}
		for _, p := range r.Removed {
			lines = append(lines, words.Say("publish.would-remove", "file", p))
		}
		lines = append(lines, words.Count("publish.would", len(r.Brought), "to", to, "size", delivery.Size(r.Bytes, words), "kept", r.Kept))
	default:
		lines = append(lines, words.Count("publish.brought", len(r.Brought), "to", to, "size", delivery.Size(r.Bytes, words), "kept", r.Kept))
		add(len(r.Removed), "publish.removed")
	}
	add(r.Staying, "publish.staying")
	if n := len(r.Left); n > 0 {
		lines = append(lines, words.Count("publish.left", n, "files", publish.Several(r.Left)))
	}
	if r.NoList && !dry {
		lines = append(lines, words.Say("publish.no-list"))
	}
	for _, line := range lines {
		fmt.Fprintln(t.s.out, oneLine(line))
	}
}

// world tells what the world sees.
func (t *publishTalk) world(web string, r visit.Report) {
	t.unseen = !r.Fine()
	w := &worldJSON{Address: web, Read: r.Read, Same: r.Same, Fine: r.Fine(), Says: []string{}}
	for _, f := range r.Findings {
		w.Says = append(w.Says, f.In(words))
	}
	t.answer.Web = w
	if t.json {
		return
	}
	for _, text := range w.Says {
		fmt.Fprintln(t.s.err, oneLine(text))
	}
	if r.Fine() {
		fmt.Fprintln(t.s.out, oneLine(words.Count("publish.seen", r.Same, "web", web)))
	}
}

// end writes the answer for a program, and says whether all is well.
func (t *publishTalk) end() error {
	if t.json {
		if t.answer.Problems == nil {
			t.answer.Problems = []foundJSON{}
		}
		if t.answer.Hints == nil {
			t.answer.Hints = []string{}
		}
		if err := writeJSON(t.s.out, t.answer); err != nil {
			return err
		}
	}
	if t.unseen {
		return &outcome{status: fault}
	}
	return nil
}

// A transfer shows how far a run is: a bar on a terminal, a line now and then elsewhere.
type transfer struct {
	w     io.Writer
	bar   bool
	begun time.Time
	last  time.Time // when something was shown
	shown bool
	now   func() time.Time
}

// How often it is shown.
const (
	barEvery  = 100 * time.Millisecond
	lineEvery = 5 * time.Second
)

func newTransfer(w io.Writer) *transfer {
	t := &transfer{w: w, now: time.Now}
	if f := onTerminal(w); f != nil {
		t.w, t.bar = f, true
	}
	t.begun = t.now()
	t.last = t.begun
	return t
}

func (t *transfer) show(p publish.Progress) {
	now, every := t.now(), lineEvery
	if t.bar {
		every = barEvery
	}
	if now.Sub(t.last) < every {
		return
	}
	t.last = now
	pairs := []any{"files", p.Files, "of", p.OfFiles, "size", delivery.Size(p.Bytes, words), "all", delivery.Size(p.OfBytes, words), "left", delivery.Left(p, now.Sub(t.begun), words)}
	if !t.bar {
		fmt.Fprintln(t.w, words.Say("publish.progress-line", pairs...))
		return
	}
	text := words.Say("publish.progress", append(pairs, "bar", drawn(p.Files, p.OfFiles))...)
	fmt.Fprintf(t.w, "\r%-78s", text)
	t.shown = true
}

// clear takes the bar off the line again.
func (t *transfer) clear() {
	if t != nil && t.shown {
		fmt.Fprintf(t.w, "\r%78s\r", "")
		t.shown = false
	}
}
