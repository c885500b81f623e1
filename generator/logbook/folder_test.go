package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/spf13/afero"
)

func TestEntriesAreInTheirOrder(t *testing.T) {
	at := func(name, fields string) string {
		return "-- machines/m/" + name + " --\n---\ntitle: T\n" + fields + "\n---\n"
	}
	archive := shopFile + machineFile +
		at("a.md", "date: 2026-02-03") +
		at("b.md", "date: 2026-02-02\ntime: \"18:00\"") +
		at("c.md", "date: 2026-02-02\ntime: 9:00") +
		at("e.md", "date: 2026-02-02") +
		at("d.md", "date: 2026-02-02") +
		at("f.MD", "date: 2026-02-01") +
		at("g.md", "date: 2026-02-02\ntime: \"00:00\"") +
		at("notes.txt", "") + at(".hidden.md", "") + at("~$open.md", "") + at("saved.md~", "")
	shop, problems := readAll(t, folder(t, archive), keysOnly)
	same(t, said(problems, ""))
	var got []string
	for _, e := range shop.Machines[0].Entries {
		got = append(got, strings.TrimPrefix(e.File, "machines/m/"))
	}
	same(t, got, "f.MD", "d.md", "e.md", "g.md", "c.md", "b.md", "a.md")
}

func TestMachinesAreInTheOrderOfTheirKeys(t *testing.T) {
	archive := shopFile
	for _, key := range []string{"wick", "gannet", "a-1", "a1", "0"} {
		archive += strings.ReplaceAll(machineFile, "/m/", "/"+key+"/")
	}
	shop, problems := readAll(t, folder(t, archive), keysOnly)
	same(t, said(problems, ""))
	var got []string
	for _, m := range shop.Machines {
		got = append(got, m.Key)
	}
	same(t, got, "0", "a-1", "a1", "gannet", "wick")
}

func TestFolderOfAMachine(t *testing.T) {
	for _, c := range []struct{ name, archive, says string }{
		{"capitals", "-- machines/Gannet/machine.md --\nx\n", "machines/Gannet:0:=machine-key"},
		{"a space", "-- machines/old saw/machine.md --\nx\n", "machines/old saw:0:=machine-key"},
		{"hyphen first", "-- machines/-x/machine.md --\nx\n", "machines/-x:0:=machine-key"},
		{"two hyphens", "-- machines/a--b/machine.md --\nx\n", "machines/a--b:0:=machine-key"},
		{"umlaut", "-- machines/säge/machine.md --\nx\n", "machines/säge:0:=machine-key"},
		{"device", "-- machines/com1/machine.md --\nx\n", "machines/com1:0:=machine-key"},
		{"hidden", "-- machines/.git/config --\nx\n", ""},
		{"no machine.md", "-- machines/a/2026-02-01.md --\nx\n", "machines/a:0:=no-machine-md"},
		{"Machine.md", "-- machines/a/Machine.md --\nx\n", "machines/a:0:=no-machine-md"},
		{"beside the folders", "-- machines/notes.md --\nx\n-- machines/notes.txt --\nx\n", "machines/notes.md:0:=stray-file"},
		{"two endings", "-- machines/a.md.txt --\nx\n", "machines/a.md.txt:0:=file-ending"},
		{"another ending", "-- sheets/a.markdown --\nx\n", "sheets/a.markdown:0:=file-ending"},
		{"too deep", machineFile + "-- machines/m/photos/a.md --\nx\n-- machines/m/2026/a.md --\nx\n-- machines/m/photos/a.txt --\nx\n", "machines/m/2026/a.md:0:=file-too-deep machines/m/photos/a.md:0:=file-too-deep"},
		{"machines is a file", "-- machines --\nx\n", "machines:0:=not-a-folder"},
		{"photos is a file", machineFile + "-- machines/m/photos --\nx\n", "machines/m/photos:0:=not-a-folder"},
		{"machine.md is a folder", "-- machines/m/machine.md/x.txt --\nx\n", "machines/m/machine.md:0:=not-a-file"},
		{"nothing at all", "", ""},
	} {
		shop, problems := readAll(t, folder(t, shopFile+c.archive), keysOnly)
		if got := strings.Join(said(problems, ""), " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
		for _, m := range shop.Machines {
			if m == nil {
				t.Errorf("%s: a machine that is none", c.name)
			}
		}
	}
}

func TestNoShop(t *testing.T) {
	for name, fs := range map[string]afero.Fs{
		"empty":              afero.NewMemMapFs(),
		"another file":       folder(t, machineFile),
		"shop.md is folder":  folder(t, "-- shop.md/x --\nx\n"),
		"hidden endings":     folder(t, "-- shop.md.txt --\nx\n"),
		"no folder at all":   afero.NewBasePathFs(afero.NewMemMapFs(), "nowhere"),
		"a folder on a disk": afero.NewBasePathFs(afero.NewOsFs(), t.TempDir()),
	} {
		shop, problems, err := Read(fs, Options{})
		if !errors.Is(err, ErrNoShop) || shop != nil || problems != nil {
			t.Errorf("%s: got %v, %v, %v", name, shop, problems, err)
		}
	}
}

// locked refuses to open some files, as a system does.
type locked struct {
	afero.Fs
	names []string
}

func (l locked) Open(name string) (afero.File, error) {
	for _, n := range l.names {
		if strings.HasSuffix(name, n) {
			return nil, &os.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
		}
	}
	return l.Fs.Open(name)
}

func TestUnreadableFiles(t *testing.T) {
	whole := shopFile + machineFile + entryFile("a", "by: A", "") + entryFile("b", "by: A", "") + "-- sheets/s.md --\nx\n"
	shop, _, err := Read(locked{folder(t, whole), []string{"a.md", "s.md", "machines/m/photos"}}, Options{})
	if !errors.Is(err, fs.ErrPermission) || shop == nil || len(shop.Machines) != 1 || len(shop.Machines[0].Entries) != 1 {
		t.Fatalf("got %v, %v", shop, err)
	}
	for range 10 {
		_, _, again := Read(locked{folder(t, whole), []string{"a.md", "s.md"}}, Options{})
		if want := "cannot read machines/m/a.md: open machines/m/a.md: permission denied\ncannot read sheets/s.md: open sheets/s.md: permission denied"; again.Error() != want {
			t.Fatalf("got %v", again)
		}
	}
	if _, _, err := Read(locked{folder(t, whole), []string{"shop.md"}}, Options{}); !errors.Is(err, fs.ErrPermission) || errors.Is(err, ErrNoShop) {
		t.Errorf("got %v", err)
	}
	if _, _, err := Read(locked{folder(t, whole), []string{"machine.md"}}, Options{}); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("got %v", err)
	}
}

func TestPipesAreNotOpened(t *testing.T) {
	_, problems, err := Read(pipes{folder(t, shopFile+machineFile+entryFile("e", "by: A", ""))}, Options{Words: keysOnly})
	if err != nil {
		t.Fatal(err)
	}
	same(t, said(problems, "machines/m/e.md"), "0:=not-a-file")
}

// Reading changes nothing, and says the same each time though many files are
// read at once.
func TestReadingIsTheSameEachTime(t *testing.T) {
	archive := shopFile
	for i := range 30 {
		archive += strings.ReplaceAll(machineFile+entryFile("e", "tilte: U\nparts: [{part: p, source: salvaged, from: gone}]\nphotos: [{file: x.jpg}]", ""), "/m/", fmt.Sprintf("/m%d/", i))
	}
	mem := folder(t, archive)
	_, first := readAll(t, afero.NewReadOnlyFs(mem), nil)
	if len(first) != 90 {
		t.Fatalf("%d problems", len(first))
	}
	for range 5 {
		_, again := readAll(t, mem, nil)
		for i := range again {
			if again[i] != first[i] {
				t.Fatalf("got %v, first %v", again[i], first[i])
			}
		}
	}
}
