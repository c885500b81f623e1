package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"
)

// A run of a program: how long it took and the most memory that it held.
type run struct {
	seconds float64
	cpu     float64 // seconds on all cores, user and system: other programs hardly change it
	rss     int64   // bytes, the kernel's ru_maxrss, as /usr/bin/time -v shows it
	out     string
}

// start runs a program to its end in a folder ("" for any).
func start(dir, name string, args ...string) (run, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	var out, wrong bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &wrong
	began := time.Now()
	err := cmd.Run()
	took := time.Since(began).Seconds()
	if err != nil {
		return run{}, fmt.Errorf("%s %s: %w\n%s%s", name, strings.Join(args, " "), err, tail(out.String()), tail(wrong.String()))
	}
	usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return run{}, fmt.Errorf("%s: the system does not tell the peak memory", name)
	}
	cpu := (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	return run{seconds: took, cpu: cpu, rss: usage.Maxrss * 1024, out: out.String()}, nil
}

func tail(s string) string { return s[max(0, len(s)-2000):] }

// A contender is one side of a comparison.
type contender struct {
	before func() error // what is not timed; may be nil
	run    func() (run, error)
}

// turns runs the contenders one after the other, again and again, after one
// round that does not count (for the caches of the system).
func (b *bench) turns(warm bool, all ...contender) ([][]run, error) {
	runs := make([][]run, len(all))
	rounds := b.runs
	if warm {
		rounds++
	}
	for round := range rounds {
		for i, c := range all {
			if c.before != nil {
				if err := c.before(); err != nil {
					return nil, err
				}
			}
			r, err := c.run()
			if err != nil {
				return nil, err
			}
			if !warm || round > 0 {
				runs[i] = append(runs[i], r)
			}
		}
	}
	return runs, os.RemoveAll(b.path(aside))
}

// A filled shop, and how many bytes it has.
type filled struct {
	dir                  string
	text, bodies, photos int64
}

// fill makes a shop, once for each size.
func (b *bench) fill(machines, entries, photos int, size string) (filled, error) {
	name := fmt.Sprintf("shop-%d-%d-%d-%s", machines, entries, photos, size)
	if f, ok := b.filled[name]; ok {
		return f, nil
	}
	f := filled{dir: b.path(name)}
	if err := os.RemoveAll(f.dir); err != nil {
		return f, err
	}
	r, err := start("", b.path("asleft-fill"), "--out", f.dir, "--machines", fmt.Sprint(machines), "--entries", fmt.Sprint(entries),
		"--photos", fmt.Sprint(photos), "--photo-size", size)
	if err != nil {
		return f, err
	}
	_, counts, _ := strings.Cut(r.out, "photos; ")
	if _, err := fmt.Sscanf(counts, "%d bytes of text, %d bytes of bodies, %d bytes of photos", &f.text, &f.bodies, &f.photos); err != nil {
		return f, fmt.Errorf("asleft-fill said %q: %w", r.out, err)
	}
	b.filled[name] = f
	return f, nil
}

// drop removes a filled shop that is not needed again.
func (b *bench) drop(f filled) error {
	for name, have := range b.filled {
		if have.dir == f.dir {
			delete(b.filled, name)
		}
	}
	return os.RemoveAll(f.dir)
}

// writeup is asleft making a site, in a folder of that name in the scratch
// folder or at a path of its own. Cold ones are made where there is none, and
// where nothing is remembered of the one before.
func (b *bench) writeup(shop, site string, cold bool) contender {
	if !filepath.IsAbs(site) {
		site = b.path(site)
	}
	c := contender{run: func() (run, error) {
		return start("", b.path("asleft"), "writeup", "--json", "--shop", shop, "--out", site)
	}}
	if cold {
		c.before = func() error { return b.putAside(site) }
	}
	return c
}

// aside is the folder of what is not wanted any more, in the scratch folder.
const aside = "aside"

// putAside moves a folder away, and what asleft keeps beside it; nothing where there
// is none. It is deleted only after all turns: for minutes after a deletion ext4 goes
// by the inodes that came free, one by one, for each file that is made, and a run
// would pay for the deletion of the one before.
func (b *bench) putAside(dir string) error {
	beside, err := filepath.Glob(filepath.Join(filepath.Dir(dir), "."+filepath.Base(dir)+"-*"))
	if err != nil {
		return err
	}
	if err := os.MkdirAll(b.path(aside), 0o755); err != nil {
		return err
	}
	to, err := os.MkdirTemp(b.path(aside), "")
	if err != nil {
		return err
	}
	for _, name := range append(beside, dir) {
		if err := os.Rename(name, filepath.Join(to, filepath.Base(name))); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// written is how many files a run of asleft says it set down.
func written(r run) (int, error) {
	var said struct {
		Made *struct{ Written int }
	}
	if err := json.Unmarshal([]byte(r.out), &said); err != nil || said.Made == nil {
		return 0, fmt.Errorf("asleft said %q (%v)", tail(r.out), err)
	}
	return said.Made.Written, nil
}
