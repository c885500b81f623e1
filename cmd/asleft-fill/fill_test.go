package main

import (
	"bytes"
	"crypto/sha256"
	"image/jpeg"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"asleft/generator"
	"asleft/generator/logbook"
	"asleft/generator/photo"
	"asleft/generator/rooted"
)

var small60 = Size{Machines: 60, Entries: 600, Photos: 30, Width: 160, Height: 120, Seed: 1}

func filled60(t *testing.T, size Size) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "shop")
	if _, err := fill(dir, size); err != nil {
		t.Fatal(err)
	}
	return dir
}

// sums are the SHA-256 of all files.
func sums(t *testing.T, dir string) map[string][sha256.Size]byte {
	t.Helper()
	all := map[string][sha256.Size]byte{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		all[name] = sha256.Sum256(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestSameSeedSameBytes(t *testing.T) {
	a, b := sums(t, filled60(t, small60)), sums(t, filled60(t, small60))
	if want := 1 + 60 + 600 + 30; len(a) != want || len(b) != want {
		t.Fatalf("%d and %d files, want %d", len(a), len(b), want)
	}
	for name, sum := range a {
		if b[name] != sum {
			t.Errorf("%s differs", name)
		}
	}
	other := small60
	other.Seed = 2
	same := 0
	for name, sum := range sums(t, filled60(t, other)) {
		if a[name] == sum {
			same++
		}
	}
	if same > 1 { // shop.md tells only how large the shop is
		t.Errorf("%d files are the same with another seed", same)
	}
}

// TestNoProblems has the generator read and judge shops of several seeds.
func TestNoProblems(t *testing.T) {
	for _, size := range []Size{
		small60,
		{Machines: 60, Entries: 600, Photos: 3, Width: 64, Height: 48, Seed: 77},
		{Machines: 1, Entries: 300, Width: 64, Height: 48, Seed: 3},
		{Machines: 20, Entries: 7, Photos: 20, Width: 64, Height: 48, Seed: 4},
		{Machines: 5, Width: 64, Height: 48, Seed: 5},
	} {
		r := read(t, filled60(t, size))
		for _, p := range r.Problems {
			t.Errorf("seed %d: %s", size.Seed, p)
		}
		entries := 0
		for _, m := range r.Shop.Machines {
			entries += len(m.Entries)
		}
		if len(r.Shop.Machines) != size.Machines || entries != size.Entries || len(r.Photos) > size.Photos || len(r.Photos) < size.Photos*8/10 {
			t.Errorf("%+v: %d machines, %d entries, %d public photos", size, len(r.Shop.Machines), entries, len(r.Photos))
		}
	}
}

func read(t *testing.T, dir string) *generator.Reading {
	t.Helper()
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	r, err := generator.Read(folder, generator.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestEveryFieldIsUsed holds the made shop against the list of what its files
// can hold: a benchmark that leaves one out would not time it.
func TestEveryFieldIsUsed(t *testing.T) {
	dir, all := filled60(t, small60), map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || path.Ext(name) != ".md" {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		kind := logbook.FileEntry
		if base := path.Base(name); base == logbook.FileShop || base == logbook.FileMachine {
			kind = base
		}
		all[kind] += string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	rare := strings.Fields(`hours/lasted language theme sheet engines motor/amps alternator alternator/amps battery battery/capacity battery/cells
		missing/part was defects/point repaired/of parts/supersedes parts/price_unknown parts/core/returned photos/shows
		publish publish/to publish/key publish/fingerprint publish/region publish/bucket publish/tls`)
	for _, f := range logbook.Fields {
		name := path.Base(f.Path)
		used := regexp.MustCompile(`(?m)(^|[{ ])` + name + `: .|^` + name + `:$`).MatchString(all[f.File])
		if f.File != logbook.FileSheet && used == slices.Contains(rare, f.Path) {
			t.Errorf("%s of %s: used is %v", f.Path, f.File, used)
		}
	}
	for _, said := range slices.Concat(logbook.Stages, []string{logbook.Works, logbook.Fails, logbook.NotChecked, logbook.DoesNotApply, logbook.Salvaged}) {
		if !strings.Contains(all[logbook.FileMachine]+all[logbook.FileEntry], ": "+said) {
			t.Errorf("%s is said nowhere", said)
		}
	}
}

// TestPhotos reads a photo back: JPEG, Exif orientation, and upright size.
func TestPhotos(t *testing.T) {
	r := newRoll(Size{Width: 160, Height: 120, Seed: 9})
	seen := map[string]bool{}
	for i := range 2*scenes + 1 {
		data, err := r.develop(i, "2015-05-06")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			t.Fatal(err)
		}
		info, err := photo.Look(data)
		if err != nil {
			t.Fatal(err)
		}
		if wide := info.Orientation <= 4; wide != (info.Width == 160) || info.Taken.Format("2006-01-02 15:04") != "2015-05-06 19:40" {
			t.Errorf("photo %d: %+v", i, info)
		}
		key := photo.Key(data)
		if seen[key] {
			t.Errorf("photo %d is the same file as an earlier one", i)
		}
		seen[key] = true
	}
}

func TestRefuses(t *testing.T) {
	full := t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "shop.md"), []byte("a real shop"), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "new")
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"--out", full}, usage, "has files in it"},
		{[]string{}, usage, "--out is missing"},
		{[]string{"--out", dir, "--machines", "0"}, usage, "machines"},
		{[]string{"--out", dir, "--entries", "0", "--photos", "1"}, usage, "photos need entries"},
		{[]string{"--out", dir, "--photo-size", "large"}, usage, "4032x3024"},
		{[]string{"--out", dir, "more"}, usage, "not expected"},
	} {
		var out, wrong bytes.Buffer
		if status := run(c.args, &out, &wrong); status != c.status || !strings.Contains(wrong.String(), c.says) {
			t.Errorf("%v: status %d, %q; want %d and %q", c.args, status, wrong.String(), c.status, c.says)
		}
	}
	if names, err := os.ReadDir(full); err != nil || len(names) != 1 {
		t.Errorf("the full folder was changed: %v %v", names, err)
	}
}
