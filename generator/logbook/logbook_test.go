package logbook

import (
	"fmt"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
)

// today is the day on which every test reads its shop.
const today Date = "2026-11-25"

// keysOnly is a catalog whose sentences are their own keys, so that a test can
// ask which problem it was whatever its words are.
var keysOnly = func() *catalog.Catalog {
	c := &catalog.Catalog{Lang: "en", Form: catalog.English.Form, Sentences: map[string]string{}}
	for key := range catalog.English.Sentences {
		c.Sentences[key] = key
	}
	return c
}()

// folder puts the files of a txtar archive into memory.
func folder(t testing.TB, archive string) afero.Fs {
	t.Helper()
	files := txtar.Parse([]byte(archive)).Files
	if len(files) == 0 {
		t.Fatal("the archive holds no files")
	}
	fs := afero.NewMemMapFs()
	for _, f := range files {
		put(t, fs, f.Name, string(f.Data))
	}
	return fs
}

func put(t testing.TB, fs afero.Fs, name, text string) {
	t.Helper()
	if err := afero.WriteFile(fs, name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// shopFile is a shop.md with nothing wrong in it.
const shopFile = "-- shop.md --\n---\nshop: Test shop\ncurrency: USD\n---\n"

// machineFile is a machine.md with nothing wrong in it.
const machineFile = "-- machines/m/machine.md --\n---\nname: M\narrived: 2026-01-01\n---\n"

// entryFile is an entry with more fields and a body.
func entryFile(name, fields, body string) string {
	return "-- machines/m/" + name + ".md --\n---\ndate: 2026-02-01\ntitle: T\n" + fields + "\n---\n" + body
}

// readAll reads a folder and fails the test on an error.
func readAll(t testing.TB, fs afero.Fs, words *catalog.Catalog) (*Shop, []Problem) {
	t.Helper()
	shop, problems, err := Read(fs, Options{Today: today, Words: words})
	if err != nil {
		t.Fatal(err)
	}
	return shop, problems
}

// said are problems as line:field=key (without "problem."), or file:line... for
// those of other files than the one named.
func said(problems []Problem, file string) []string {
	var all []string
	for _, p := range problems {
		s := fmt.Sprintf("%d:%s=%s", p.Line, p.Field, strings.TrimPrefix(p.Says, "problem."))
		if p.File != file {
			s = p.File + ":" + s
		}
		all = append(all, s)
	}
	return all
}

// entry reads one entry of a shop that has nothing else wrong with it. Its
// fields begin on line 4.
func entry(t testing.TB, fields, body string, more ...string) (*Entry, []string) {
	t.Helper()
	archive := shopFile + machineFile + entryFile("e", fields, body) + strings.Join(more, "")
	shop, problems := readAll(t, folder(t, archive), keysOnly)
	m := machine(t, shop, "m")
	for _, e := range m.Entries {
		if e.File == "machines/m/e.md" {
			return e, said(problems, e.File)
		}
	}
	t.Fatal("no entry was read")
	return nil, nil
}

func machine(t testing.TB, shop *Shop, key string) *Machine {
	t.Helper()
	for _, m := range shop.Machines {
		if m.Key == key {
			return m
		}
	}
	t.Fatalf("no machine %s was read", key)
	return nil
}

// same compares what was said with what was to be.
func same(t testing.TB, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("problems:\n  %s\nwant:\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
}
