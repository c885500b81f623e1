package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
)

// A draft is where an entry stands while it is being said: in the shop's folder, or,
// where nothing can be written there, in a folder of the user's own.
type draft struct {
	folder afero.Fs
	name   string // in folder
	file   string // for messages and for an editor
}

// newDraft begins a draft of a machine's entry.
func (l *logging) newDraft(data []byte) (*draft, error) {
	d, err := draftIn(l.folder, l.dir, entry.Drafts, l.key, data)
	if err == nil {
		return d, nil
	}
	if d, e := l.draftElsewhere(data); e == nil {
		return d, nil
	}
	return nil, err
}

// draftElsewhere begins a draft in a folder of the user's own.
func (l *logging) draftElsewhere(data []byte) (*draft, error) {
	own := os.TempDir()
	if cache, err := os.UserCacheDir(); err == nil {
		own = cache
	}
	return draftIn(afero.NewOsFs(), "", filepath.Join(own, "asleft", "drafts"), l.key, data)
}

func draftIn(folder afero.Fs, dir, at, key string, data []byte) (*draft, error) {
	name, err := entry.NewDraft(folder, filepath.ToSlash(at), key, data)
	if err != nil {
		return nil, err
	}
	return &draft{folder, name, filepath.Join(dir, filepath.FromSlash(name))}, nil
}

// keep replaces what the draft says, all or nothing.
func (d *draft) keep(data []byte) error { return entry.KeepDraft(d.folder, d.name, data) }

func (d *draft) read() ([]byte, error) { return afero.ReadFile(d.folder, d.name) }

func (d *draft) drop() error { return d.folder.Remove(d.name) }

// follow keeps a draft of the entry as it grows by answers: before each question, so
// that a terminal that is closed, Ctrl-C or a disk that is full take nothing with
// them. done ends that; where the entry is in the log, the draft goes.
func (l *logging) follow() (done func(written bool) error) {
	var d *draft
	var last []byte // what the draft has to hold
	l.ask.before = func() {
		e := l.entry
		if e.Body == "" {
			e.Body = l.ask.typed
		}
		if e.Title == "" {
			return
		}
		data := e.Markdown()
		if bytes.Equal(data, last) {
			return
		}
		last = data
		if d = l.keepIn(d, data); d != nil {
			l.kept.Store(&d.file)
		}
	}
	signals := make(chan os.Signal, 1)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	over := make(chan struct{})
	go func() {
		select {
		case <-signals:
			if file := l.kept.Load(); file != nil {
				fmt.Fprintln(l.err, "\n"+words.Say("command.draft-kept", "file", *file, "key", l.key))
			}
			os.Exit(fault)
		case <-over:
		}
	}()
	return func(written bool) error {
		signal.Stop(signals)
		close(over)
		if !written {
			l.ask.before() // the last answer too
		}
		l.ask.before = nil
		if d != nil && written {
			return d.drop()
		}
		if written || last == nil {
			return nil
		}
		if d != nil {
			if data, err := d.read(); err == nil && bytes.Equal(data, last) {
				fmt.Fprintln(l.err, words.Say("command.draft-kept", "file", d.file, "key", l.key))
				return nil
			}
		}
		fmt.Fprintln(l.err, words.Say("command.draft-here")) // nowhere but here
		fmt.Fprintln(l.err, string(last))
		return nil
	}
}

// keepIn keeps an entry in its draft, which is begun where there is none, and
// begun anew elsewhere where the disk takes no more. It stays what it was where there
// is no room anywhere.
func (l *logging) keepIn(d *draft, data []byte) *draft {
	if d == nil {
		d, _ = l.newDraft(data) // without one, the entry is printed in the end
		return d
	}
	if d.keep(data) == nil {
		return d
	}
	other, err := l.draftElsewhere(data)
	if err != nil {
		return d
	}
	_ = d.drop() // an older state of the same
	return other
}

// drafts are those of the machine, as they were left.
func (l *logging) drafts() []*draft {
	infos, err := afero.ReadDir(l.folder, entry.Drafts)
	if err != nil {
		return nil
	}
	own := regexp.MustCompile(`^` + regexp.QuoteMeta(l.key) + `(-[0-9]+)?\.md$`)
	var all []*draft
	for _, i := range infos {
		if own.MatchString(i.Name()) && i.Mode().IsRegular() && i.Size() <= mostText {
			name := path.Join(entry.Drafts, i.Name())
			all = append(all, &draft{l.folder, name, filepath.Join(l.dir, filepath.FromSlash(name))})
		}
	}
	return all
}

// offerDrafts has somebody decide what becomes of entries that were begun and not
// finished. It tells whether one of them was gone on with, so that no other is
// asked for.
func (l *logging) offerDrafts() (taken bool, err error) {
	for _, d := range l.drafts() {
		data, err := d.read()
		form := entry.Settle(data, (&entry.Entry{}).Form(l.offer(), words))
		if err != nil || len(form) == 0 {
			continue
		}
		fmt.Fprintln(l.out, words.Say("command.draft-there", "file", d.file))
		for _, line := range strings.SplitN(string(form), "\n", 9)[:min(8, strings.Count(string(form), "\n"))] {
			fmt.Fprintln(l.out, oneLine("  | "+line))
		}
		if _, err := l.tellWrong(form); err != nil {
			return false, err
		}
		switch strings.ToLower(l.ask.ask(words.Say("command.ask-draft"))) {
		case "e":
			return true, l.editDraft(d, data)
		case "w":
			name, err := l.saveForm(form)
			if err != nil {
				return true, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.form-kept", "file", d.file), err)}
			}
			return true, errors.Join(d.drop(), l.tell(name))
		case "d":
			if err := d.drop(); err != nil {
				return true, &outcome{fault, err}
			}
		}
	}
	return false, nil
}

// atOnce is how soon an editor ends that has only opened a window of another program.
const atOnce = 3 * time.Second

// edited is what a person made of a draft in an editor. An editor that ends at once
// and has changed nothing has most likely only opened a window: where somebody is
// there, that is waited for. open tells that the window may still be open.
func (l *logging) edited(editor string, d *draft, before []byte) (data []byte, open bool, err error) {
	begun := time.Now()
	if err := l.runEditor(editor, d.file, 1); err != nil {
		return nil, false, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.editor-failed", "editor", editor, "file", d.file), err)}
	}
	quick := time.Since(begun) < atOnce
	for {
		if data, err = d.read(); err != nil {
			return nil, false, &outcome{fault, err}
		}
		if string(data) != string(before) || !quick {
			return data, false, nil
		}
		if !l.ask.interactive || l.ask.over {
			return data, true, nil
		}
		if answer := strings.ToLower(l.ask.ask(words.Say("command.ask-editor-open", "file", d.file))); answer == "n" || answer == "no" {
			return data, true, nil
		}
	}
}
