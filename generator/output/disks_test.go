package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"asleft/generator/output"
	"asleft/generator/rooted"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"
)

// A stand is one kind of file system that the press is tried on.
type stand struct {
	name string
	// make gives an empty one, and a function that puts a plan between.
	make func(t *testing.T) (afero.Fs, func(*plan) afero.Fs)
	// gap: a killed run may leave no site, only the old one under its other name.
	gap  bool
	disk bool
	// spare: even a small site gets a spare.
	spare bool
}

// stands: memory differs from a disk (afero's renames merge, parents appear by
// themselves), and disks differ in what they can do.
var stands = []stand{
	{name: "memory", gap: true, make: func(*testing.T) (afero.Fs, func(*plan) afero.Fs) {
		mem := afero.NewMemMapFs()
		return mem, func(p *plan) afero.Fs { return faulty{mem, p} }
	}},
	{name: "disk", disk: true, make: onDisk(without{})},
	{name: "disk with a spare", disk: true, spare: true, make: onDisk(without{})},
	{name: "disk without exchange, with a spare", disk: true, gap: true, spare: true, make: onDisk(without{exchange: true, flush: true})},
	{name: "disk without exchange", disk: true, gap: true, make: onDisk(without{exchange: true, flush: true})},
	{name: "disk without links", disk: true, make: onDisk(without{link: true})},
	{name: "disk without links, with a spare", disk: true, spare: true, make: onDisk(without{link: true})},
}

// spareAlways gives every site a spare for as long as the test runs.
func (s stand) spareAlways(t *testing.T) {
	t.Helper()
	if s.spare {
		t.Cleanup(output.SpareFrom(1))
	}
}

func onDisk(w without) func(t *testing.T) (afero.Fs, func(*plan) afero.Fs) {
	return func(t *testing.T) (afero.Fs, func(*plan) afero.Fs) {
		t.Helper()
		disk, err := rooted.Open(t.TempDir())
		must(t, err)
		t.Cleanup(func() { must(t, disk.Close()) })
		wrap := func(p *plan) afero.Fs { return faultyDisk{faulty{disk, p}, disk, w} }
		if w == (without{}) {
			return disk, wrap
		}
		return wrap(&plan{}), wrap
	}
}

// eachStand runs a test on every kind of file system.
func eachStand(t *testing.T, test func(t *testing.T, fsys afero.Fs, s stand)) {
	t.Helper()
	for _, s := range stands {
		t.Run(s.name, func(t *testing.T) {
			s.spareAlways(t)
			fsys, _ := s.make(t)
			test(t, fsys, s)
		})
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A site is a set of files, by path. A value that begins with "carry:" is
// carried if that can be, and made of what follows if not.
type site map[string]string

// set puts a site down in one run.
func set(fsys afero.Fs, s site) (output.Result, error) {
	run, err := output.Begin(fsys, "site")
	if err != nil {
		return output.Result{}, err
	}
	for _, p := range slices.Sorted(maps.Keys(s)) {
		content, carry := strings.CutPrefix(s[p], "carry:")
		if carry && run.Carry(p) {
			continue
		}
		if err := run.Put(p, []byte(content)); err != nil {
			return output.Result{}, errors.Join(err, run.Abandon())
		}
	}
	result, err := run.Finish()
	return result, errors.Join(err, run.Abandon())
}

func mustSet(t *testing.T, fsys afero.Fs, s site) output.Result {
	t.Helper()
	result, err := set(fsys, s)
	must(t, err)
	return result
}

// write puts a file there by hand.
func write(t *testing.T, fsys afero.Fs, name, content string) {
	t.Helper()
	must(t, fsys.MkdirAll(path.Dir(name), 0o755))
	must(t, afero.WriteFile(fsys, name, []byte(content), 0o644))
}

// contents are the files below a folder and its empty folders ("/" at the end).
func contents(t *testing.T, fsys afero.Fs, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	must(t, afero.Walk(fsys, dir, func(name string, info fs.FileInfo, err error) error {
		if err != nil {
			return err
		}
		below := strings.TrimPrefix(filepath.ToSlash(name), dir+"/")
		if !info.IsDir() {
			found[below], err = content(fsys, name, info)
			return err
		}
		inside, err := afero.ReadDir(fsys, name)
		if len(inside) == 0 && below != dir {
			found[below+"/"] = ""
		}
		return err
	}))
	return found
}

func content(fsys afero.Fs, name string, info fs.FileInfo) (string, error) {
	if info.Mode()&fs.ModeSymlink != 0 {
		target, err := fsys.(afero.LinkReader).ReadlinkIfPossible(name)
		return "-> " + target, err
	}
	if !info.Mode().IsRegular() {
		return info.Mode().Type().String(), nil
	}
	data, err := afero.ReadFile(fsys, name)
	return string(data), err
}

// checkSite wants exactly these files in the site, the ledger aside, and
// nothing beside the site.
func checkSite(t *testing.T, fsys afero.Fs, want ...map[string]string) {
	t.Helper()
	all := map[string]string{}
	for _, w := range want {
		for p, c := range w {
			all[p] = strings.TrimPrefix(c, "carry:")
		}
	}
	got := contents(t, fsys, "site")
	if _, ok := got[".asleft-ledger"]; !ok {
		t.Error("the site has no ledger")
	}
	delete(got, ".asleft-ledger")
	if diff := cmp.Diff(all, got); diff != "" {
		t.Errorf("the site (-want, +got):\n%s", diff)
	}
	checkBeside(t, fsys, "site")
	checkSpare(t, fsys)
}

// spare is where a site's spare is.
const spare = ".site-asleft-spare"

// checkSpare wants every file of the spare, if there is one, to be one of the
// site's own, by another name.
func checkSpare(t *testing.T, fsys afero.Fs) {
	t.Helper()
	if !exists(fsys, spare) {
		return
	}
	for p := range contents(t, fsys, spare) {
		a, errA := fsys.Stat(path.Join("site", p))
		b, errB := fsys.Stat(path.Join(spare, p))
		if err := errors.Join(errA, errB); err != nil || !b.IsDir() && !os.SameFile(a, b) {
			t.Errorf("%s in the spare is not the site's (%v)", p, err)
		}
	}
}

// checkBeside wants exactly these names in the folder that the site is in, and,
// maybe, the spare.
func checkBeside(t *testing.T, fsys afero.Fs, want ...string) {
	t.Helper()
	infos, err := afero.ReadDir(fsys, ".")
	must(t, err)
	var names []string
	for _, info := range infos {
		if info.Name() != spare {
			names = append(names, info.Name())
		}
	}
	if !slices.Equal(names, want) {
		t.Errorf("beside the site: got %q, want %q", names, want)
	}
}

// stamps are the times of all that is in the site and the site itself.
func stamps(t *testing.T, fsys afero.Fs) map[string]string {
	t.Helper()
	found := map[string]string{}
	must(t, afero.Walk(fsys, "site", func(name string, info fs.FileInfo, err error) error {
		if err == nil {
			found[name] = fmt.Sprint(info.ModTime().UnixNano(), info.Mode())
		}
		return err
	}))
	return found
}

func wantRefusal(t *testing.T, err error, names ...string) {
	t.Helper()
	var refusal *output.Refusal
	if !errors.As(err, &refusal) {
		t.Fatalf("got %v, want a refusal", err)
	}
	for _, name := range names {
		if !strings.Contains(err.Error(), name) {
			t.Errorf("%q does not name %q", err, name)
		}
	}
}
