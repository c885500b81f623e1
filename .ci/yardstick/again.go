package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

// again is the run with nothing changed, against git status, and the run after
// an edit, against that.
func (b *bench) again() ([]result, error) {
	machines, entries, photos := b.pick(1000, 100), b.pick(10_000, 1000), b.pick(2000, 100)
	shop, err := b.fill(machines, entries, photos, b.photoSize)
	if err != nil {
		return nil, err
	}
	if err := commit(shop.dir); err != nil {
		return nil, err
	}
	unchanged := b.writeup(shop.dir, "site-again", false)
	if _, err := unchanged.run(); err != nil {
		return nil, err
	}
	edited := unchanged
	edited.before = func() error { return addLine(shop.dir) }
	status := contender{before: func() error { return commit(shop.dir) }, run: func() (run, error) {
		r, err := start(shop.dir, "git", "status", "--porcelain")
		if err == nil && r.out != "" {
			err = fmt.Errorf("git status is not clean: %s", tail(r.out))
		}
		return r, err
	}}
	runs, err := b.turns(true, status, unchanged, edited)
	if err != nil {
		return nil, err
	}
	g, u, e := runs[0], runs[1], runs[2]
	b.note("nothing changed: %s of text and %s of photos of %s; the site stands outside the shop folder", mb(float64(shop.text)), mb(float64(shop.photos)), b.photoSize)
	return []result{
		{what: fmt.Sprintf("nothing changed: %d machines, %d entries, %d photos", machines, entries, photos), against: "`git status`", times: times(u, g), ratio: versus(u, g), bar: 3, shortBar: 400},
		{what: "one entry edited in that shop", against: "nothing changed", times: times(e, u), ratio: versus(e, u), bar: 1.5, shortBar: 1.7},
	}, os.RemoveAll(b.path("site-again"))
}

// commit puts all of a shop into git, so that its status is clean.
func commit(dir string) error {
	git := func(args ...string) error {
		_, err := start(dir, "git", append([]string{"-c", "user.name=bench", "-c", "user.email=bench@invalid", "-c", "core.autocrlf=false", "-c", "gc.auto=0", "-c", "core.compression=0"}, args...)...)
		return err
	}
	if _, err := os.Stat(filepath.Join(dir, ".git")); err != nil {
		if err := git("init", "-q"); err != nil {
			return err
		}
	}
	if err := git("add", "-A"); err != nil {
		return err
	}
	if err := git("commit", "-q", "--allow-empty", "-m", "bench"); err != nil {
		return err
	}
	return git("status", "--porcelain") // the first one refreshes the index
}

// addLine edits the same entry of a shop, each time by one line.
func addLine(shop string) error {
	names, err := filepath.Glob(filepath.Join(shop, "machines", "*", "20*.md"))
	if err != nil || len(names) == 0 {
		return fmt.Errorf("the shop has no entries (%v)", err)
	}
	slices.Sort(names)
	f, err := os.OpenFile(names[len(names)/2], os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = f.WriteString("\nOne more line.\n")
	return err
}
