package handover

import (
	"errors"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// failing does something over and over, its first call of a disk failing, then its second
// and so on, until all of it is done. Each failure is told, as what the disk said and
// with the name of the file; told is given each of them. What it does all the same is
// returned, as the call and the file.
func failing(t *testing.T, do func(p *testenv.Plan) error, told func(p *testenv.Plan, err error)) (quiet []string) {
	t.Helper()
	for n := 1; n < 500; n++ {
		p := &testenv.Plan{Nth: n}
		err := do(p)
		switch {
		case !p.Tripped && err != nil:
			t.Fatalf("without any failure: %v", err)
		case !p.Tripped:
			slices.Sort(quiet)
			return quiet
		}
		file := path.Clean(ofTheFolder.ReplaceAllString(filepath.ToSlash(p.On), ""))
		if err == nil {
			quiet = append(quiet, p.Failed+" "+file)
			continue
		}
		names := []string{path.Dir(file), strings.TrimSuffix(strings.TrimPrefix(path.Base(file), "."), ".part")}
		if !errors.Is(err, testenv.ErrFault) || !slices.ContainsFunc(names, func(n string) bool { return strings.Contains(err.Error(), n) }) {
			t.Errorf("%s of %s failed: %v", p.Failed, p.On, err)
		}
		if told != nil {
			told(p, err)
		}
	}
	t.Fatal("it never came to an end")
	return nil
}

// ofTheFolder is where a test's folder is on the disk.
var ofTheFolder = regexp.MustCompile(`^(?:[A-Z]:)?/.*/\d{3}/?`)

// smallOnDisk is the chain of little text on a disk, with a key, and the settings.
func smallOnDisk(t *testing.T) (shop, settings *rooted.FS, private string) {
	t.Helper()
	shop, settings = onADisk(t, afero.NewMemMapFs()), onADisk(t, afero.NewMemMapFs())
	private, err := MakeKey(shop, settings)
	if err != nil {
		t.Fatal(err)
	}
	smallIn(t, shop, afero.NewMemMapFs(), settings)
	return shop, settings, private
}

// A disk that fails while the chain is read is no break of it: reading ends, and names
// the file.
func TestADiskThatFailsIsToldWhereTheChainIsRead(t *testing.T) {
	shop, _, _ := smallOnDisk(t)
	quiet := failing(t, func(p *testenv.Plan) error {
		c, err := ReadChain(p.Over(shop), catalog.English, "2026-03-05")
		if err == nil && len(c.Breaks)+len(c.Links) != 2 {
			t.Errorf("%s of %s failed: %d links, %v", p.Failed, p.On, len(c.Links), c.Breaks)
		}
		return err
	}, nil)
	if want := []string{"read handovers"}; !slices.Equal(quiet, want) { // it is read, and only closing it failed
		t.Errorf("not told: %q, want %q", quiet, want)
	}
}

// Sealing that fails anywhere says which file it was; it leaves no report, or one that is
// whole, and the same again makes all that is not there.
func TestEveryFailureIsToldWhereAReportIsSealed(t *testing.T) {
	t.Parallel()
	shop, settings, _ := smallOnDisk(t)
	want := afero.NewMemMapFs()
	made, err := smallReport(t, onADisk(t, copied(t, shop)), "2026-03-10", "2026-03-09").Seal(want, settings, sheet.A4)
	if err != nil {
		t.Fatal(err)
	}
	once := onADisk(t, copied(t, shop))
	if _, err := smallReport(t, once, "2026-03-10", "2026-03-09").Seal(afero.NewMemMapFs(), settings, sheet.A4); err != nil {
		t.Fatal(err)
	}
	for name, start := range map[string]afero.Fs{"a new report": copied(t, shop), "the same again": copied(t, once)} {
		t.Run(name, func(t *testing.T) {
			before := name == "the same again"
			var fs *rooted.FS
			var buyer afero.Fs
			quiet := failing(t, func(p *testenv.Plan) error {
				fs, buyer = onADisk(t, start), afero.NewMemMapFs()
				_, err := smallReport(t, p.Over(fs), "2026-03-10", "2026-03-09").Seal(p.Over(buyer), p.Over(settings), sheet.A4)
				return err
			}, func(p *testenv.Plan, err error) {
				if c := chainOf(t, fs); len(c.Breaks) > 0 || (len(c.Links) == 3) != (before || errors.Is(err, ErrNoCopies)) {
					t.Errorf("%s of %s failed: %v; %d links, %v", p.Failed, p.On, err, len(c.Links), c.Breaks)
				}
				if p.Failed == "read" || p.Failed == "stat" {
					return // nothing is begun
				}
				again, err := smallReport(t, fs, "2026-03-10", "2026-03-09").Seal(buyer, settings, sheet.A4)
				if err != nil || again.Seal.Digest != made.Seal.Digest {
					t.Fatalf("%s of %s failed, and sealed again: %v", p.Failed, p.On, err)
				}
				if diff := cmp.Diff(snapshot(t, want, "."), snapshot(t, buyer, ".")); diff != "" {
					t.Errorf("%s of %s failed, and sealed again (-want, +got):\n%s", p.Failed, p.On, diff)
				}
				if err := errors.Join(noParts(fs, folderName), noParts(buyer, ".")); err != nil {
					t.Error(err)
				}
			})
			for _, one := range quiet { // what is cleared away and is not is cleared away by the next run
				if op, _, _ := strings.Cut(one, " "); op != "remove" && one != "read /" && one != "read ." && one != "read "+folderName {
					t.Errorf("not told: %s", one)
				}
			}
		})
	}
}

// A key that cannot be made or found says which file it was.
func TestADiskThatFailsIsToldWhereAKeyIs(t *testing.T) {
	quiet := failing(t, func(p *testenv.Plan) error {
		shop, settings := onADisk(t, afero.NewMemMapFs()), onADisk(t, afero.NewMemMapFs())
		private, err := MakeKey(p.Over(shop), p.Over(settings))
		if there, _ := exists(shop, KeyFile); there != (err == nil) && !strings.HasPrefix(p.Failed, "sync") {
			t.Errorf("%s of %s failed: %v, and the key is there: %v", p.Failed, p.On, err, there)
		}
		if there, _ := exists(settings, private); err == nil && !there {
			t.Errorf("no private part at %q", private)
		}
		return err
	}, nil)
	for _, one := range quiet {
		if !strings.HasPrefix(one, "read ") {
			t.Errorf("not told of a key that is made: %s", one)
		}
	}
	shop, settings, _ := smallOnDisk(t)
	if quiet := failing(t, func(p *testenv.Plan) error {
		key, err := shopKey(p.Over(shop), p.Over(settings))
		if (key == nil) != (err != nil) {
			t.Errorf("%s of %s failed: %v, and the key is %v", p.Failed, p.On, err, key)
		}
		return err
	}, nil); len(quiet) > 0 {
		t.Errorf("not told of a key that is looked for: %q", quiet)
	}
}

// What is looked for beside the chain, printed on a tag or gathered for a report: each
// file that cannot be read is named.
func TestADiskThatFailsIsToldElsewhere(t *testing.T) {
	fs, _, _ := three(t)
	write(t, fs, listFile, []byte(`{"reports":[]}`))
	shop := onADisk(t, fs)
	site, c := siteOf(t, fs), chainOf(t, fs)
	for name, tc := range map[string]struct {
		do    func(fs afero.Fs) error
		quiet []string // what is read, and only closing it failed; and the site, which need not be there
	}{
		"missed": {func(fs afero.Fs) error { _, _, err := c.Missed(fs); return err }, []string{"read .", "read handovers", "stat site/sealed.json"}},
		"a tag":  {func(fs afero.Fs) error { _, err := Tags(fs, site, []int{0}, "2026-03-10", sheet.CardPaper); return err }, []string{"read handovers"}},
		"a report": {func(fs afero.Fs) error { _, err := Prepare(fs, site, 0, "2026-03-10"); return err }, []string{
			"read .", "read handovers", "read handovers", "read machines/pump/photos/leak.jpg", "stat site/sealed.json",
		}},
	} {
		if quiet := failing(t, func(p *testenv.Plan) error { return tc.do(p.Over(shop)) }, nil); !slices.Equal(quiet, tc.quiet) {
			t.Errorf("%s: not told: %q, want %q", name, quiet, tc.quiet)
		}
	}
}

// A tag is put where one of the same day was, whole or not at all.
func TestATagIsPutWholeOrNotAtAll(t *testing.T) {
	tag := &Tag{Name: "pump-tag.pdf", PDF: []byte("new")}
	var to *rooted.FS
	quiet := failing(t, func(p *testenv.Plan) error {
		to = onADisk(t, afero.NewMemMapFs())
		write(t, to, tag.Name, []byte("old"))
		err := tag.Put(p.Over(to))
		if got := string(read(t, to, tag.Name)); got != "new" && err == nil || got != "old" && got != "new" {
			t.Errorf("%s of %s failed: %v, and the tag is %q", p.Failed, p.On, err, got)
		}
		return err
	}, func(p *testenv.Plan, _ error) {
		if err := noParts(to, "."); err != nil {
			t.Errorf("%s of %s failed: %v", p.Failed, p.On, err)
		}
	})
	if len(quiet) > 0 {
		t.Errorf("not told: %q", quiet)
	}
}

// Every file is flushed to the disk before it has its place, and its folder after; the
// sealed file has its place first, the note of it next, then the buyer's files.
func TestFilesAreOnTheDiskBeforeTheyHaveTheirPlaces(t *testing.T) {
	shop, settings, _ := smallOnDisk(t)
	var calls []string
	p := &testenv.Plan{Hook: func(op, name string) { calls = append(calls, op+" "+filepath.Base(name)) }}
	buyer := onADisk(t, afero.NewMemMapFs())
	made, err := smallReport(t, p.Over(shop), "2026-03-10", "2026-03-09").Seal(p.Over(buyer), settings, sheet.A4)
	if err != nil {
		t.Fatal(err)
	}
	var placed []string
	for i, call := range calls {
		part, ok := strings.CutPrefix(call, "rename ")
		if !ok {
			continue
		}
		placed = append(placed, part)
		if !slices.Contains(calls[:i], "sync "+part) || !slices.Contains(calls[:i], "close "+part) {
			t.Errorf("%s was not flushed and closed before", part)
		}
		if i+1 == len(calls) || !strings.HasPrefix(calls[i+1], "syncdir ") {
			t.Errorf("the folder of %s was not flushed after", part)
		}
	}
	var want []string
	for _, name := range []string{made.File, headFile, made.HTML, made.PDF} {
		want = append(want, path.Base(partOf(name)))
	}
	if diff := cmp.Diff(want, placed); diff != "" {
		t.Errorf("in this order (-want, +got):\n%s", diff)
	}
}
