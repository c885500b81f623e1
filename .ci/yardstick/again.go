package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// settle is how long a shop lies untouched before a run of which nothing is to
// be learnt: asleft, like git, trusts the time of a file only once it is some
// seconds old. The run after the pause is the one that notes the times.
const settle = 4 * time.Second

// again is the run with nothing changed, against git status, and the run after an
// edit, and on another day, against that.
func (b *bench) again() ([]result, error) {
	machines, entries, photos := b.pick(1000, 100), b.pick(10_000, 1000), b.pick(2000, 100)
	shop, err := b.fill(machines, entries, photos, b.photoSize)
	if err != nil {
		return nil, err
	}
	site := filepath.Join(shop.dir, "site")
	made := b.writeup(shop.dir, site, false)
	if _, err := made.run(); err != nil {
		return nil, err
	}
	repository, err := keep(shop.dir)
	if err != nil {
		return nil, err
	}
	// A run by the clocks of a place; between these two it is always another day.
	on := func(zone string) contender {
		return contender{run: func() (run, error) {
			return start("", "env", "TZ="+zone, b.path("asleft"), "writeup", "--json", "--shop", shop.dir, "--out", site)
		}}
	}
	// Every round finds the shop at rest, and committed as it is.
	rest := func() error {
		time.Sleep(settle)
		if _, err := on("Etc/GMT+12").run(); err != nil {
			return err
		}
		return repository.commit()
	}
	entry, err := b.editor(shop.dir)
	if err != nil {
		return nil, err
	}
	runs, err := b.turns(true,
		contender{before: rest, run: repository.status},
		contender{run: wrote(made, func(n int) bool { return n == 0 })},
		contender{run: wrote(on("Pacific/Kiritimati"), func(n int) bool { return n == 0 })},
		contender{before: entry, run: wrote(made, func(n int) bool { return n > 0 })})
	if err != nil {
		return nil, err
	}
	g, u, other, e := runs[0], runs[1], runs[2], runs[3]
	b.note("nothing changed: %s of text and %s of photos of %s. A first run, a pause of %v, a second run, then the measured one: the times of files are trusted only from then on. Every round begins so", mb(float64(shop.text)), mb(float64(shop.photos)), b.photoSize, settle)
	b.note("git: the shop folder is committed and the site, which can be made anew, stands in it and is ignored, as a careful shop has it")
	b.note("one entry edited: a line more at the end of another entry each time")
	what := fmt.Sprintf("nothing changed: %d machines, %d entries, %d photos", machines, entries, photos)
	return []result{
		{what: what, against: "`git status`, site ignored", times: times(u, g), ratio: versus(u, g), bar: 2, shortBar: wide * 3.3},
		{what: "one entry edited in that shop", against: "nothing changed", times: times(e, u), ratio: versus(e, u), bar: 2, shortBar: wide * 5},
		{what: "the first run of another day", against: "nothing changed", times: times(other, u), ratio: versus(other, u), bar: 2, shortBar: wide * 2},
	}, b.drop(shop)
}

// wrote is a run that fails unless it set down as many files as it should.
func wrote(c contender, right func(files int) bool) func() (run, error) {
	return func() (run, error) {
		r, err := c.run()
		if err != nil {
			return r, err
		}
		n, err := written(r)
		if err == nil && !right(n) {
			err = fmt.Errorf("asleft set down %d files: the run did not do what this row is about", n)
		}
		return r, err
	}
}

// editor edits an entry of a shop at each call, each time another one.
func (b *bench) editor(shop string) (func() error, error) {
	names, err := filepath.Glob(filepath.Join(shop, "machines", "*", "20*.md"))
	if err != nil || len(names) < b.runs+1 {
		return nil, fmt.Errorf("the shop has %d entries, too few to edit (%v)", len(names), err)
	}
	slices.Sort(names)
	step, next := len(names)/(b.runs+1), 0
	return func() error {
		f, err := os.OpenFile(names[next], os.O_APPEND|os.O_WRONLY, 0o644)
		if err != nil {
			return err
		}
		next += step
		if _, err := f.WriteString("\nOne more line.\n"); err != nil {
			return err
		}
		return f.Close()
	}, nil
}
