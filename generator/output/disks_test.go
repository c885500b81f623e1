package output_test

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// A disk is one kind of file system that sites are written to in tests. Make gives
// an empty one, and a function that puts a plan between.
type disk struct {
	name string
	real bool
	make func(t *testing.T) (afero.Fs, func(*testenv.Plan) afero.Fs)
}

var disks = []disk{
	{"memory", false, func(*testing.T) (afero.Fs, func(*testenv.Plan) afero.Fs) {
		mem := afero.NewMemMapFs()
		return mem, func(p *testenv.Plan) afero.Fs { return p.Over(mem) }
	}},
	{"disk", true, func(t *testing.T) (afero.Fs, func(*testenv.Plan) afero.Fs) {
		t.Helper()
		real, err := rooted.Open(t.TempDir())
		must(t, err)
		t.Cleanup(func() { must(t, real.Close()) })
		wrap := func(p *testenv.Plan) afero.Fs { return p.Over(real) }
		return wrap(&testenv.Plan{}), wrap
	}},
}

// eachDisk runs a test on every kind of file system.
func eachDisk(t *testing.T, test func(t *testing.T, fsys afero.Fs, d disk)) {
	t.Helper()
	for _, d := range disks {
		t.Run(d.name, func(t *testing.T) {
			fsys, _ := d.make(t)
			test(t, fsys, d)
		})
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// A site is a set of files, by path. A value that begins with "keep:" is kept if
// that can be, and made of what follows if not.
type site map[string]string

// set writes a site in one run, which does not wait for another.
func set(fsys afero.Fs, s site) (output.Result, error) {
	w, err := output.Open(fsys, "site", 0)
	if err != nil {
		return output.Result{}, err
	}
	for _, p := range slices.Sorted(maps.Keys(s)) {
		content, keep := strings.CutPrefix(s[p], "keep:")
		if keep && w.Keep(p) {
			continue
		}
		if err := w.Put(p, []byte(content)); err != nil {
			return output.Result{}, errors.Join(err, w.Abort())
		}
	}
	result, err := w.Commit()
	return result, errors.Join(err, w.Abort())
}

func mustSet(t *testing.T, fsys afero.Fs, s site) output.Result {
	t.Helper()
	result, err := set(fsys, s)
	must(t, err)
	return result
}

func mustOpen(t *testing.T, fsys afero.Fs) *output.Writer {
	t.Helper()
	w, err := output.Open(fsys, "site", time.Minute)
	must(t, err)
	return w
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

// checkSite wants exactly these files in the site, and beside it the manifest alone.
func checkSite(t *testing.T, fsys afero.Fs, want ...map[string]string) {
	t.Helper()
	all := map[string]string{}
	for _, w := range want {
		for p, c := range w {
			all[p] = strings.TrimPrefix(c, "keep:")
		}
	}
	if diff := cmp.Diff(all, contents(t, fsys, "site")); diff != "" {
		t.Errorf("the site (-want, +got):\n%s", diff)
	}
	checkBeside(t, fsys, theManifest, "site")
}

const theManifest = ".site-asleft-manifest"

// checkBeside wants exactly these names in the folder that the site is in.
func checkBeside(t *testing.T, fsys afero.Fs, want ...string) {
	t.Helper()
	infos, err := afero.ReadDir(fsys, ".")
	must(t, err)
	var names []string
	for _, info := range infos {
		names = append(names, info.Name())
	}
	if !slices.Equal(names, want) {
		t.Errorf("beside the site: got %q, want %q", names, want)
	}
}

func exists(fsys afero.Fs, name string) bool {
	_, err := fsys.Stat(name)
	return !errors.Is(err, fs.ErrNotExist)
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
