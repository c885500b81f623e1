package generator_test

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/rooted"
)

// A bench is a small shop on the disk with a site of it that runs with a memory
// keep, and a place for sites that are made from nothing.
type bench struct {
	*testing.T
	dir    string
	fs     *rooted.FS
	chance *rand.Rand
	serial int
}

var benchMachines = []string{"auger", "baler", "chipper", "drill", "edger", "forge", "grader", "harrow", "jointer", "kiln", "lathe", "mower", "nailer", "planer"}

func newBench(t *testing.T, seed uint64) *bench {
	t.Helper()
	b := &bench{T: t, dir: t.TempDir(), chance: rand.New(rand.NewPCG(seed, 7))} //nolint:gosec // not for secrets
	var err error
	if b.fs, err = rooted.Open(b.dir); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = b.fs.Close() })
	b.write("shop.md", "shop: Test shop\ncurrency: USD\nshow: {hours: yes, parts_cost: yes}", "Welcome.")
	for _, key := range benchMachines {
		b.machine(key)
		for range 2 {
			b.entry(key)
		}
	}
	return b
}

func (b *bench) path(name string) string { return filepath.Join(b.dir, filepath.FromSlash(name)) }

func (b *bench) write(name, front, body string) {
	b.Helper()
	if err := os.MkdirAll(filepath.Dir(b.path(name)), 0o755); err != nil {
		b.Fatal(err)
	}
	if err := os.WriteFile(b.path(name), []byte("---\n"+front+"\n---\n"+body+"\n"), 0o600); err != nil {
		b.Fatal(err)
	}
}

func (b *bench) machine(key string) {
	b.serial++
	stage := []string{"in the shop", "for sale", "keeping"}[b.chance.IntN(3)]
	b.write("machines/"+key+"/machine.md", fmt.Sprintf("name: The %s no. %d\nkind: %s\narrived: 2026-01-%02d\nstage: %s\nasking: 125.00\nbought: {paid: 10.00}",
		key, b.serial, []string{"generator", "chainsaw", "walk-behind tiller"}[b.chance.IntN(3)], 1+b.chance.IntN(9), stage), "It came to us.")
}

// entry writes a new entry, which may take a part from another machine or link
// to one of its entries.
func (b *bench) entry(key string) {
	b.serial++
	front := fmt.Sprintf("date: 2026-%02d-%02d\ntitle: Evening %d\nby: %c\nhours: 0.5\ndefects: [{key: d%d, defect: seal leaks, system: drive}]",
		2+b.chance.IntN(8), 1+b.chance.IntN(27), b.serial, 'A'+rune(b.chance.IntN(6)), b.serial)
	body := "Some work was done."
	other := b.someMachine()
	if b.chance.IntN(3) == 0 && other != key {
		front += fmt.Sprintf("\nparts: [{part: spring, source: salvaged, from: %s, each: 2.50}]", other)
	}
	if b.chance.IntN(3) == 0 {
		body += fmt.Sprintf(" See [there](../%s/%s).", other, filepath.Base(b.someEntry(other)))
	}
	b.write(fmt.Sprintf("machines/%s/2026-02-%03d.md", key, b.serial), front, body)
}

func (b *bench) someMachine() string {
	keys, err := os.ReadDir(b.path("machines"))
	if err != nil || len(keys) == 0 {
		return "auger"
	}
	return keys[b.chance.IntN(len(keys))].Name()
}

// someEntry is the path of an entry, or of the machine's own file.
func (b *bench) someEntry(key string) string {
	files, err := filepath.Glob(b.path("machines/" + key + "/*.md"))
	if err != nil || len(files) == 0 {
		return b.path("machines/" + key + "/machine.md")
	}
	return files[b.chance.IntN(len(files))]
}

func (b *bench) do(err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// replace changes a file's text.
func (b *bench) replace(file, old, now string) {
	b.Helper()
	text, err := os.ReadFile(file)
	b.do(err)
	b.do(os.WriteFile(file, []byte(strings.ReplaceAll(string(text), old, now)), 0o600))
}

// happen does one of the things that happen to a shop between two runs.
func (b *bench) happen() string {
	key := b.someMachine()
	seen := b.path(output.Beside("site", "cache"))
	switch n := b.chance.IntN(40); n {
	case 0, 1, 2, 3, 4, 5:
		b.entry(key)
		return "a new entry of " + key
	case 6, 7:
		file := b.someEntry(key)
		if filepath.Base(file) != "machine.md" {
			b.do(os.Remove(file))
		}
		return "an entry gone: " + file
	case 8, 9, 10:
		b.replace(b.someEntry(key), "Some work", "Much work")
		return "another text in " + key
	case 11, 12:
		b.machine(key)
		return "another name for " + key
	case 13, 14:
		b.serial++
		key = fmt.Sprintf("m%d", b.serial)
		b.machine(key)
		b.entry(key)
		return "a new machine " + key
	case 15:
		b.do(os.RemoveAll(b.path("machines/" + key)))
		return "a machine gone: " + key
	case 16:
		b.replace(b.path("shop.md"), "Welcome", "Welcome back")
		return "another text in shop.md"
	case 17:
		b.replace(b.path("shop.md"), "hours: yes", "hours: no")
		return "hours hidden"
	case 18:
		b.replace(b.someEntry(key), "hours: 0.5", "sessions: bad")
		return "a mistake in " + key
	case 19, 20, 21:
		b.replace(b.someEntry(key), "hours: 0.5", `hours: [{from: "18:00", to: "21:00"}]`)
		return "a session in " + key
	case 22:
		if names, err := filepath.Glob(b.path("site/machines/*/index.html")); err == nil && len(names) > 0 {
			b.do(os.WriteFile(names[b.chance.IntN(len(names))], []byte("scribble"), 0o600))
		}
		return "somebody scribbled on the site"
	case 23:
		if err := os.Remove(b.path("site/index.html")); err != nil && !errors.Is(err, fs.ErrNotExist) {
			b.Fatal(err)
		}
		return "the site's first page gone"
	case 24:
		if err := os.Remove(seen); err != nil && !errors.Is(err, fs.ErrNotExist) {
			b.Fatal(err)
		}
		return "the memory gone"
	case 25:
		if text, err := os.ReadFile(seen); err == nil && len(text) > 0 {
			text[b.chance.IntN(len(text))] ^= 4
			b.do(os.WriteFile(seen, text, 0o600))
		}
		return "the memory damaged"
	case 26, 27, 28, 29, 30, 31, 32:
		for _, key := range benchMachines {
			files, _ := filepath.Glob(b.path("machines/" + key + "/*.md")) // the pattern is good
			for _, file := range files {
				if text, err := os.ReadFile(file); err == nil && strings.Contains(string(text), "sessions: bad") {
					b.replace(file, "sessions: bad", "hours: 0.5")
				}
			}
		}
		return "the mistakes mended"
	default:
		return "nothing"
	}
}

// run is a run with a memory; from nothing, one without into a new place.
func (b *bench) run(o generator.Options) (generator.Made, *generator.Reading, error) {
	o.Today, o.Program, o.Site = "2026-11-25", "test", "site"
	return generator.Writeup(b.fs, b.fs, "site", o)
}

func (b *bench) fromNothing() (map[string]string, *generator.Reading, error) {
	parent := afero.NewMemMapFs()
	_, r, err := generator.Writeup(b.fs, parent, "site", generator.Options{Today: "2026-11-25", Site: "site"})
	if err != nil || len(r.Problems) > 0 {
		return nil, r, err
	}
	site, err := filesIn(parent)
	return site, r, err
}

// settle waits until the disk's clock has gone on, as it has between a person's
// save and the next run.
func settle() { time.Sleep(30 * time.Millisecond) }

// TestPartialRunsMakeTheSameSite lets things happen to shops and holds each
// site that was made with a memory against one made from nothing.
func TestPartialRunsMakeTheSameSite(t *testing.T) {
	steps := 50
	if testing.Short() {
		steps = 10
	}
	part, whole, none := 0, 0, 0
	for seed := range uint64(4) {
		b := newBench(t, seed)
		for range steps {
			var story []string
			for range 1 + b.chance.IntN(2) {
				story = append(story, b.happen())
			}
			if b.chance.IntN(4) > 0 {
				settle()
			}
			at := fmt.Sprintf("seed %d: %s", seed, strings.Join(story, "; "))
			stays, err := filesIn(b.fs)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				t.Fatalf("%s: %v", at, err)
			}
			_, r, err := b.run(generator.Options{})
			if err != nil {
				t.Fatalf("%s: %v", at, err)
			}
			want, all, err := b.fromNothing()
			if err != nil {
				t.Fatalf("%s: %v", at, err)
			}
			if diff := cmp.Diff(told(all), told(r)); diff != "" && r.Shop != nil {
				t.Fatalf("%s: problems (-from nothing, +with a memory):\n%s", at, diff)
			}
			if len(all.Problems) > 0 {
				want = stays
			}
			b.same(at, want)
			switch {
			case r.Shop == nil:
				none++
			case len(r.Shop.Machines) < len(all.Shop.Machines):
				part++
			default:
				whole++
			}
		}
	}
	t.Logf("%d runs read nothing, %d a part, %d all", none, part, whole)
	if !testing.Short() && (none < 3 || part < 20 || whole < 20) {
		t.Errorf("%d runs read nothing, %d a part, %d all: too few of one kind to prove anything", none, part, whole)
	}
}

func told(r *generator.Reading) []string {
	var all []string
	for _, p := range r.Problems {
		all = append(all, p.String())
	}
	return all
}

// same holds the site on the disk against the one that it should be.
func (b *bench) same(at string, want map[string]string) {
	b.Helper()
	got, err := filesIn(b.fs)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		b.Fatal(err)
	}
	for name := range want {
		if got[name] != want[name] {
			b.Fatalf("%s: %s differs:\n%s", at, name, cmp.Diff(want[name], got[name]))
		}
	}
	for name := range got {
		if _, there := want[name]; !there {
			b.Fatalf("%s: %s should not be there", at, name)
		}
	}
}

// TestOneEditReadsOneMachine names what a small edit costs.
func TestOneEditReadsOneMachine(t *testing.T) {
	b := newBench(t, 1)
	settle()
	for range 2 {
		_, _, err := b.run(generator.Options{})
		b.do(err)
	}
	made, r, err := b.run(generator.Options{})
	if err != nil || r.Shop != nil || made.Written != 0 || made.Machines != 14 || made.Entries != 28 {
		t.Fatalf("nothing changed, and it made %+v from %v (%v)", made, r.Shop, err)
	}
	b.write("machines/forge/2026-02-999.md", "date: 2026-02-28\ntitle: New\nby: a stranger\nhours: 0.5", "Work.")
	settle()
	made, r, err = b.run(generator.Options{})
	b.do(err)
	if len(r.Shop.Machines) != 1 || r.Shop.Machines[0].Key != "forge" || made.Machines != 14 || made.Entries != 29 {
		t.Errorf("one new entry, and %d machines were read; made %+v", len(r.Shop.Machines), made)
	}
}

// TestOtherProgramMakesAllAnew: so does another theme, and a run that is not to be
// remembered.
func TestOtherProgramMakesAllAnew(t *testing.T) {
	b := newBench(t, 1)
	settle()
	for range 2 {
		_, _, err := b.run(generator.Options{})
		b.do(err)
	}
	for _, o := range []generator.Options{
		{Program: "test 2", Site: "site"}, {Program: "test 2", Site: "site", Theme: os.DirFS(filepath.Join("..", "themes", "drawing-office"))},
		{Program: "test 2", Site: "site"}, {},
	} {
		o.Today = "2026-11-25"
		_, r, err := generator.Writeup(b.fs, b.fs, "site", o)
		b.do(err)
		if r.Shop == nil || len(r.Shop.Machines) != 14 {
			t.Errorf("%s: not all was read", o.Program)
		}
	}
}

// TestOtherDay: a later day changes nothing, since all that the day decides is
// whether a date lies in the future. After an entry of the day before, an earlier
// day may find one that does.
func TestOtherDay(t *testing.T) {
	b := newBench(t, 1)
	settle()
	day := func(today logbook.Date) (int, error) {
		_, r, err := generator.Writeup(b.fs, b.fs, "site", generator.Options{Today: today, Program: "test", Site: "site"})
		b.do(err)
		if len(r.Problems) > 0 {
			return 0, errors.New(r.Problems[0].Says)
		}
		if r.Shop == nil {
			return 0, nil
		}
		return len(r.Shop.Machines), nil
	}
	for n, c := range []struct {
		today logbook.Date
		read  int
	}{{"2026-11-25", 14}, {"2026-11-26", 0}, {"2027-11-26", 0}, {"2026-11-25", 0}, {"2026-11-24", 14}, {"2026-11-25", 0}, {"", 0}} {
		if read, err := day(c.today); err != nil || read != c.read {
			t.Errorf("run %d, %s: %d machines were read, want %d (%v)", n, c.today, read, c.read, err)
		}
		settle()
	}
	b.write("machines/forge/2026-12-24.md", "date: 2026-12-24\ntitle: Evening before\nby: somebody", "Work.")
	settle()
	if _, err := day("2026-12-23"); err == nil {
		t.Error("an entry of tomorrow is taken")
	}
	for n, c := range []struct {
		today logbook.Date
		read  int
	}{{"2026-12-24", 1}, {"2026-12-25", 0}} {
		settle()
		if read, err := day(c.today); err != nil || read != c.read {
			t.Errorf("then, run %d, %s: %d machines were read, want %d (%v)", n, c.today, read, c.read, err)
		}
	}
	settle()
	if _, err := day("2026-12-23"); err == nil {
		t.Error("the clock was set back, and an entry of tomorrow is taken")
	}
}

// TestHarmedPhotosOfASiteAreMadeAgain: each width by itself, whatever became of
// it, and the widths that are sound stay.
func TestHarmedPhotosOfASiteAreMadeAgain(t *testing.T) {
	b := newBench(t, 1)
	b.write("machines/lathe/2026-02-20-look.md", "date: 2026-02-20\ntitle: A look\nphotos:\n  - {file: a.jpg, alt: the lathe}", "It is a lathe.")
	b.do(os.MkdirAll(b.path("machines/lathe/photos"), 0o755))
	b.do(os.WriteFile(b.path("machines/lathe/photos/a.jpg"), markedPhoto(t), 0o600))
	settle()
	for range 2 {
		_, _, err := b.run(generator.Options{})
		b.do(err)
	}
	whole, err := filesIn(b.fs)
	b.do(err)
	names, err := filepath.Glob(b.path("site/photos/*.jpg"))
	if err != nil || len(names) != 2 {
		t.Fatalf("%d photos in the site, want 2 (%v)", len(names), err)
	}
	for _, name := range names {
		for harm, do := range map[string]func() error{
			"gone":      func() error { return os.Remove(name) },
			"cut":       func() error { return os.Truncate(name, 100) },
			"scribbled": func() error { return os.WriteFile(name, []byte("scribble"), 0o600) },
			"a byte": func() error {
				data, err := os.ReadFile(name)
				if err != nil {
					return err
				}
				data[len(data)/2] ^= 1
				return os.WriteFile(name, data, 0o600)
			},
			"a folder": func() error { return errors.Join(os.Remove(name), os.Mkdir(name, 0o755)) },
		} {
			for _, memory := range []bool{true, false} {
				b.do(do())
				if !memory {
					b.do(os.Remove(b.path(".site-asleft-cache")))
				}
				settle()
				made, r, err := b.run(generator.Options{})
				if harm == "a folder" { // it is not ours to take away
					if err == nil {
						t.Errorf("%s: a folder in the way was not told of", filepath.Base(name))
					}
					b.do(os.Remove(name))
					made, r, err = b.run(generator.Options{})
				}
				if err != nil || len(r.Problems) > 0 {
					t.Fatalf("%s %s, memory %v: %v, %v", filepath.Base(name), harm, memory, err, r.Problems)
				}
				if made.Written != 1 {
					t.Errorf("%s %s, memory %v: %d files written, want 1", filepath.Base(name), harm, memory, made.Written)
				}
				b.same(harm, whole)
			}
		}
	}
}

// TestThemeWhereNobodyLooks has the shop's theme in folders that are left out
// when a run looks for changes.
func TestThemeWhereNobodyLooks(t *testing.T) {
	for _, theme := range []string{".git/look", ".x-asleft-look", ".github/look"} {
		t.Run(theme, func(t *testing.T) {
			b := newBench(t, 1)
			b.do(os.CopyFS(b.path(theme), os.DirFS(filepath.Join("..", "themes", "jobcard"))))
			b.replace(b.path("shop.md"), "currency: USD", "currency: USD\ntheme: "+theme)
			for _, color := range []string{"red", "blue"} {
				b.do(os.WriteFile(b.path(theme+"/style.css"), []byte("p { color: "+color+" }"), 0o600))
				settle()
				_, r, err := b.run(generator.Options{})
				if err != nil || len(r.Problems) > 0 {
					t.Fatal(err, r.Problems)
				}
				styles, err := filepath.Glob(b.path("site/assets/*.css"))
				b.do(err)
				text, err := os.ReadFile(styles[0])
				if err != nil || !strings.Contains(string(text), color) {
					t.Errorf("the style is not %s but %s (%v)", color, text, err)
				}
			}
		})
	}
}

// A meddler is a shop folder in which somebody else writes: just before a file
// is opened.
type meddler struct {
	*rooted.FS
	at     string
	meddle func()
}

func (m *meddler) Open(name string) (afero.File, error) {
	if name == m.at && m.meddle != nil {
		do := m.meddle
		m.meddle = nil
		do()
	}
	return m.FS.Open(name)
}

// TestChangedWhileReading has a sync tool at work while the shop is read.
func TestChangedWhileReading(t *testing.T) {
	for _, c := range []struct {
		name   string
		meddle func(b *bench)
		moved  string
	}{
		{"an entry that was read already", func(b *bench) {
			b.replace(b.path("machines/auger/machine.md"), "It came", "It went")
		}, "machines/auger/machine.md"},
		{"an entry that is yet to be read", func(b *bench) {
			b.replace(b.path("machines/harrow/machine.md"), "It came", "It went")
		}, "machines/harrow/machine.md"},
		{"a new entry", func(b *bench) { b.entry("auger") }, "machines/auger/2026-02-"},
		{"an entry gone", func(b *bench) {
			files, err := filepath.Glob(b.path("machines/auger/2*.md"))
			b.do(err)
			b.do(os.Remove(files[0]))
		}, "machines/auger/"},
		{"a new machine", func(b *bench) { b.machine("zetor") }, "machines/zetor"},
		{"a conflict copy", func(b *bench) { b.write("machines/auger/notes (2).txt", "", "") }, "machines/auger/notes (2).txt"},
		{"an editor's file", func(b *bench) { b.write("machines/auger/.2026-02-001.md.swp", "", "") }, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBench(t, 1)
			settle()
			_, _, err := b.run(generator.Options{})
			b.do(err)
			before, err := filesIn(b.fs)
			b.do(err)
			b.replace(b.path("shop.md"), "Welcome", "Welcome back") // so that all is read
			settle()
			m := &meddler{FS: b.fs, at: "machines/drill/machine.md", meddle: func() { c.meddle(b) }}
			_, _, err = generator.Writeup(m, b.fs, "site", generator.Options{Today: "2026-11-25", Program: "test", Site: "site"})
			after, e := filesIn(b.fs)
			b.do(e)
			if c.moved == "" {
				b.do(err)
				return
			}
			if !errors.Is(err, generator.ErrMoved) || !strings.Contains(err.Error(), c.moved) || strings.Contains(err.Error(), b.dir) {
				t.Errorf("got %v", err)
			}
			if diff := cmp.Diff(before, after); diff != "" {
				t.Error("the site changed all the same")
			}
			if names, _ := filepath.Glob(b.path(".site-asleft-*")); !slices.Equal(names, []string{b.path(output.Beside("site", "cache")), b.path(output.Beside("site", "manifest"))}) {
				t.Errorf("left behind: %q", names)
			}
			if _, _, err := b.run(generator.Options{}); err != nil {
				t.Errorf("once more: %v", err)
			}
		})
	}
}

// TestMemoryHoldsNothingPrivate looks for what the public may not see in what
// stands beside a site, which may be a web server's folder.
func TestMemoryHoldsNothingPrivate(t *testing.T) {
	b := newBench(t, 1)
	b.write("machines/auger/machine.md", "name: Auger\nkind: generator\narrived: 2026-01-02\nstage: sold\nasking: 98761.25\nserial: \"SECRET-SERIAL\"\nbought: {from: SECRET-SELLER, paid: 98762.25}\nsold: {date: 2026-03-03, price: 98763.25, buyer: SECRET-BUYER}\nprivate: SECRET-NOTE", "")
	b.write("machines/auger/2026-02-900.md", "date: 2026-02-02\ntitle: Open title\nby: AB\nhours: 0.5\nparts: [{part: belt, each: 98764.25, source: new}]\nprivate: SECRET-NOTE\nphotos: []", "")
	b.replace(b.path("shop.md"), "show: {hours: yes, parts_cost: yes}", "show: {hours: no, parts_cost: no}")
	settle()
	_, r, err := b.run(generator.Options{})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	text, err := os.ReadFile(b.path(output.Beside("site", "cache")))
	b.do(err)
	if !strings.Contains(string(text), "Open title") {
		t.Fatal("the memory holds nothing of the machine, so this proves nothing")
	}
	for _, secret := range []string{"SECRET", "98761.25", "98762.25", "98763.25", "98764.25", `"Work":30`, `"Work":90`} {
		if strings.Contains(string(text), secret) {
			t.Errorf("the memory tells %s", secret)
		}
	}
	info, err := os.Stat(b.path(output.Beside("site", "cache")))
	if err != nil || info.Mode().Perm()&0o077 != 0 && filepath.Separator == '/' {
		t.Errorf("others may read it: %v, %v", info.Mode(), err)
	}
}

// TestHiddenHoursCannotBeGuessed: what the memory tells of a machine is the same
// whoever worked on it and for how long, where the shop does not show its hours. So
// no guess at them can be held against it.
func TestHiddenHoursCannotBeGuessed(t *testing.T) {
	notes := func(show, sessions string) string {
		b := newBench(t, 1)
		b.replace(b.path("shop.md"), "show: {hours: yes, parts_cost: yes}", "show: {hours: "+show+"}")
		b.write("machines/auger/machine.md", "name: Auger\nkind: generator\narrived: 2026-01-02\nstage: keeping", "")
		b.write("machines/auger/2026-02-02-look.md", "date: 2026-02-02\ntitle: A look"+sessions, "It ran.")
		settle()
		if _, r, err := b.run(generator.Options{}); err != nil || len(r.Problems) > 0 {
			t.Fatal(err, r.Problems)
		}
		text, err := os.ReadFile(b.path(output.Beside("site", "cache")))
		b.do(err)
		for line := range strings.Lines(string(text)) {
			if _, note, ok := strings.Cut(line, " {"); ok && strings.Contains(note, `"Key":"auger"`) {
				return note
			}
		}
		t.Fatal("the memory holds nothing of the machine, so this proves nothing")
		return ""
	}
	const one, other = "\nhours: [{from: \"18:30\", to: \"19:30\", by: JM, task: engine}]", "\nhours: [{from: \"08:00\", to: \"12:30\", by: RT, task: test}, {from: \"13:00\", to: \"14:00\", by: RT, task: test}]"
	if a, b, none := notes("no", one), notes("no", other), notes("no", ""); a != b || a != none {
		t.Errorf("the memory tells hidden hours apart:\n%s%s%s", a, b, none)
	}
	if notes("yes", one) == notes("yes", other) {
		t.Error("shown hours leave no trace, so this proves nothing")
	}
}

// TestHiddenHoursAreNowhereInTheSite: no file of the site tells them, the times of
// the feed included.
func TestHiddenHoursAreNowhereInTheSite(t *testing.T) {
	sites := map[string]map[string]string{}
	for _, hours := range []string{`[{from: "18:31", to: "19:32", by: JM}]`, `[{from: "08:03", to: "12:34", by: JM}]`} {
		b := newBench(t, 1)
		b.replace(b.path("shop.md"), "show: {hours: yes, parts_cost: yes}", "show: {hours: no}")
		b.write("machines/auger/2026-02-02-look.md", "date: 2026-02-02\ntitle: A look\nhours: "+hours, "It ran.")
		site, r, err := b.fromNothing()
		if err != nil || len(r.Problems) > 0 {
			t.Fatal(err, r.Problems)
		}
		sites[hours] = site
	}
	var all []map[string]string
	for _, site := range sites {
		all = append(all, site)
	}
	for name, data := range all[0] {
		if all[1][name] != data {
			t.Errorf("%s tells hidden hours", name)
		}
	}
	if len(all[0]) == 0 || len(all[0]) != len(all[1]) {
		t.Errorf("%d files and %d", len(all[0]), len(all[1]))
	}
}

// TestHiddenHoursStillMeet: somebody on two machines at once is found by a run that
// reads only what has changed, hours shown or not.
func TestHiddenHoursStillMeet(t *testing.T) {
	for _, show := range []string{"yes", "no"} {
		b := newBench(t, 1)
		b.replace(b.path("shop.md"), "show: {hours: yes, parts_cost: yes}", "show: {hours: "+show+"}")
		for _, key := range []string{"auger", "lathe"} {
			b.write("machines/"+key+"/2026-10-31-evening.md", "date: 2026-10-31\ntitle: Evening\nhours: [{from: \""+map[string]string{"auger": "18:30", "lathe": "20:30"}[key]+"\", to: \"20:45\", by: QQ}]", "Work.")
		}
		b.replace(b.path("machines/lathe/2026-10-31-evening.md"), `from: "20:30", to: "20:45"`, `from: "21:30", to: "22:45"`)
		settle()
		if _, r, err := b.run(generator.Options{}); err != nil || len(r.Problems) > 0 {
			t.Fatal(show, err, r.Problems)
		}
		settle()
		b.replace(b.path("machines/lathe/2026-10-31-evening.md"), `from: "21:30"`, `from: "20:30"`)
		settle()
		_, r, err := b.run(generator.Options{})
		if err != nil || len(r.Problems) == 0 {
			t.Errorf("hours: %s: nobody noticed that QQ was on two machines at once: %v", show, err)
		}
	}
}
