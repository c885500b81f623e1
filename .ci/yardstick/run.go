package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
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
	return runs, nil
}

// spread is the least, the median and the most of some numbers.
type spread struct{ min, median, max float64 }

func spreadOf(values []float64) spread {
	s := slices.Sorted(slices.Values(values))
	n := len(s)
	return spread{s[0], (s[(n-1)/2] + s[n/2]) / 2, s[n-1]}
}

func seconds(runs []run) []float64 {
	return each(runs, func(r run) float64 { return r.seconds })
}

func each(runs []run, of func(run) float64) []float64 {
	var all []float64
	for _, r := range runs {
		all = append(all, of(r))
	}
	return all
}

// ratios are of the runs that took place in the same round.
func ratios(a, b []float64) []float64 {
	var all []float64
	for i := range a {
		all = append(all, a[i]/b[i])
	}
	return all
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

// writeup is asleft making a site; cold sites are made where there is none.
func (b *bench) writeup(shop, site string, cold bool) contender {
	c := contender{run: func() (run, error) {
		return start("", b.path("asleft"), "writeup", "--shop", shop, "--out", b.path(site))
	}}
	if cold {
		c.before = func() error { return os.RemoveAll(b.path(site)) }
	}
	return c
}
