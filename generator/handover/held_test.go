package handover

import (
	"bytes"
	"errors"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// The tests of this file are attacks that once worked, each by its name.

// snapshot are all files of a folder, by name.
func snapshot(t *testing.T, fs afero.Fs, dir string) map[string]string {
	t.Helper()
	infos, err := afero.ReadDir(fs, dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, info := range infos {
		if !info.IsDir() {
			all[info.Name()] = string(read(t, fs, path.Join(dir, info.Name())))
		}
	}
	return all
}

// onADisk are the files of a shop on a real disk, where a file can have a second name.
func onADisk(t *testing.T, from afero.Fs) *rooted.FS {
	t.Helper()
	to, err := rooted.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = to.Close() })
	err = afero.Walk(from, "", func(name string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		name = filepath.ToSlash(name)
		if err := to.MkdirAll(path.Dir(name), 0o755); err != nil {
			return err
		}
		return afero.WriteFile(to, name, read(t, from, name), 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
	return to
}

// Sealing again over a damaged file leaves every byte of it, and says which it is.
func TestSealingAgainOverADamagedFileReplacesNothing(t *testing.T) {
	start := shopWith(t, nil)
	made := sealed(t, start, afero.NewMemMapFs(), nil, "2026-03-03")
	whole := read(t, start, made.File)
	for name, fs := range map[string]afero.Fs{"in memory": copied(t, start), "on a disk": onADisk(t, start)} {
		damaged := append([]byte{}, whole...)
		at := bytes.Index(damaged, []byte("seal leaks"))
		damaged[at] = 'S'
		for about, data := range map[string][]byte{"a letter": damaged, "cut off": whole[:len(whole)/2], "empty": nil, "another file": []byte("{}")} {
			write(t, fs, made.File, data)
			before := snapshot(t, fs, folderName)
			buyer := afero.NewMemMapFs()
			_, err := prepared(t, fs, "2026-03-03").Seal(buyer, nil, sheet.Letter)
			var way *InTheWay
			if named := errors.As(err, &way) && way.File == made.File; !named && !errors.Is(err, ErrUnreadable) {
				t.Errorf("%s, %s: %v", name, about, err)
			}
			if after := snapshot(t, fs, folderName); !sameFiles(before, after) {
				t.Errorf("%s, %s: the folder was %v and is %v", name, about, before, after)
			}
			if left := snapshot(t, buyer, "."); len(left) > 0 {
				t.Errorf("%s, %s: a buyer's file was written: %v", name, about, left)
			}
		}
	}
}

func sameFiles(a, b map[string]string) bool {
	if len(a) != len(b) {
		return false
	}
	for name, text := range a {
		if b[name] != text {
			return false
		}
	}
	return true
}

// What comes to lie in a file's place after it was looked at is not replaced either.
func TestPlacingNewNeverReplaces(t *testing.T) {
	link := func(fs afero.Fs) error {
		if l, ok := fs.(afero.Symlinker); ok {
			return l.SymlinkIfPossible("nowhere", "a")
		}
		return afero.WriteFile(fs, "a", []byte("mine"), 0o600)
	}
	if runtime.GOOS == "windows" {
		link = func(fs afero.Fs) error { return afero.WriteFile(fs, "a", nil, 0o600) } // links need a right there
	}
	for name, fs := range map[string]afero.Fs{"in memory": afero.NewMemMapFs(), "on a disk": onADisk(t, shopWith(t, nil))} {
		for about, put := range map[string]func(afero.Fs) error{
			"a file":                  func(fs afero.Fs) error { return afero.WriteFile(fs, "a", []byte("mine"), 0o600) },
			"a link that leads to no": link,
			"a folder":                func(fs afero.Fs) error { return fs.Mkdir("a", 0o700) },
		} {
			if err := put(fs); err != nil {
				t.Fatal(err)
			}
			var way *InTheWay
			if err := putNew(fs, "a", []byte("other"), 0o600); !errors.As(err, &way) || way.File != "a" {
				t.Errorf("%s, %s: %v", name, about, err)
			}
			if data, err := afero.ReadFile(fs, "a"); err == nil && string(data) == "other" {
				t.Errorf("%s, %s: it was replaced", name, about)
			}
			if err := noParts(fs, "."); err != nil {
				t.Error(err)
			}
			if err := fs.RemoveAll("a"); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A buyer's file of the same name that is another one stays, be it in handovers/.
func TestBuyersFileInTheWayStays(t *testing.T) {
	for _, of := range []func(*Made) string{func(m *Made) string { return m.HTML }, func(m *Made) string { return m.PDF }} {
		fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
		name := of(sealed(t, copied(t, fs), afero.NewMemMapFs(), nil, "2026-03-03"))
		write(t, buyer, name, []byte("mine"))
		var way *InTheWay
		if _, err := prepared(t, fs, "2026-03-03").Seal(buyer, nil, sheet.Letter); !errors.As(err, &way) || way.File != name {
			t.Errorf("sealing: %v", err)
		}
		if chain := chainOf(t, fs); len(chain.Links) > 0 || len(chain.Breaks) > 0 {
			t.Errorf("something was sealed: %+v", chain)
		}
		made := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
		if _, err := prepared(t, fs, "2026-03-03").Seal(buyer, nil, sheet.Letter); !errors.As(err, &way) || way.File != name {
			t.Errorf("sealing again: %v", err)
		}
		if got := string(read(t, buyer, name)); got != "mine" {
			t.Errorf("%s of %s was replaced", name, made.File)
		}
	}
}

// A damaged note is kept under a free name when the next report is sealed.
func TestDamagedNoteIsSetAside(t *testing.T) {
	for _, fs := range []afero.Fs{shopWith(t, nil), onADisk(t, shopWith(t, nil))} {
		buyer := afero.NewMemMapFs()
		for n, day := range []logbook.Date{"2026-03-03", "2026-03-04", "2026-03-05"} {
			if n > 0 {
				write(t, fs, headFile, []byte(strings.Repeat("x", n)))
				if got := broken(t, fs); !strings.Contains(got, "last-sealed.json was changed") {
					t.Errorf("a damaged note: %q", got)
				}
			}
			sealed(t, fs, buyer, nil, day)
			if got := broken(t, fs); got != "" {
				t.Errorf("after the next: %q", got)
			}
		}
		files := snapshot(t, fs, folderName)
		if files["last-sealed-1.kept"] != "x" || files["last-sealed-2.kept"] != "xx" {
			t.Errorf("the damaged notes are not kept: %v", files)
		}
	}
}

// Two reports with one code: both are kept, and both are listed. Whole digests cannot
// be made alike, so the codes that are asked for are shorter here.
func TestTwoReportsWithOneCodeAreBothListed(t *testing.T) {
	fs, _, made := three(t)
	c := chainOf(t, fs)
	digest := made[1].Seal.FactsDigest
	for length := 10; length <= 64; length++ {
		v := c.VouchCode(digest[:length])
		if len(v) != 1 || v[0].Answer != Unaltered || v[0].Link.Seal.Number != 2 {
			t.Fatalf("%d digits: %+v", length, v)
		}
	}
	c.Links[2].Seal.FactsDigest = digest[:12] + c.Links[2].Seal.FactsDigest[12:]
	for length, want := range map[int]int{10: 2, 12: 2, 13: 1, 16: 1, 64: 1} {
		if v := c.VouchCode(digest[:length]); len(v) != want {
			t.Errorf("%d digits that two reports have: %d listed, want %d", length, len(v), want)
		}
	}
	// A file that cannot be read any more is still found by its name.
	write(t, fs, made[0].File, []byte("{}"))
	for _, length := range []int{10, 12, 16, 40, 64} {
		if v := chainOf(t, fs).VouchCode(made[0].Seal.FactsDigest[:length]); len(v) != 1 || v[0].Answer != NoProof || v[0].Link.File != made[0].File {
			t.Errorf("a file that cannot be read, by %d digits: %+v", length, v)
		}
	}
}

// A cut-off tail, with the note written again to fit, by somebody without the key.
func TestCutOffTailOfASignedChainIsSeen(t *testing.T) {
	shop, settings, buyer, _, first := signedShop(t)
	second := sealed(t, shop, buyer, settings, "2026-03-04")
	if err := shop.Remove(second.File); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, shop); !strings.Contains(got, "The last sealed report, number 2, is gone") {
		t.Errorf("with the note of it: %q", got)
	}
	other := &ShopKey{Public: *first.Seal.Key, private: otherKey(t).private}
	for name, key := range map[string]*ShopKey{"without a key": nil, "with another": otherKey(t), "with another that is called so": other} {
		note := noteOf(first.Seal, key)
		write(t, shop, headFile, note)
		if got := broken(t, shop); !strings.Contains(got, "is not signed with") {
			t.Errorf("a note written again %s: %q", name, got)
		}
	}
	note := (&head{Format: firstHeadFormat, Number: 1, Digest: first.Seal.Digest}).bytes()
	write(t, shop, headFile, note)
	if got := broken(t, shop); !strings.Contains(got, "is not signed with") {
		t.Errorf("a note of the first form: %q", got)
	}
	if err := shop.Remove(headFile); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, shop); !strings.Contains(got, "the note of the last sealed report, is gone") {
		t.Errorf("with no note, from the first report on: %q", got)
	}
}

func otherKey(t *testing.T) *ShopKey {
	t.Helper()
	shop, settings := afero.NewMemMapFs(), afero.NewMemMapFs()
	if _, err := MakeKey(shop, settings); err != nil {
		t.Fatal(err)
	}
	key, err := shopKey(shop, settings)
	if err != nil {
		t.Fatal(err)
	}
	return key
}

// A key that is made later signs the notes from then on; the chain holds throughout.
func TestKeyMadeLaterSignsTheNote(t *testing.T) {
	fs, buyer, _ := three(t)
	settings := afero.NewMemMapFs()
	if _, err := MakeKey(fs, settings); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, fs); got != "" {
		t.Errorf("before the first signed report: %q", got)
	}
	made := sealed(t, fs, buyer, settings, "2026-03-10")
	if got := broken(t, fs); got != "" {
		t.Errorf("after it: %q", got)
	}
	h := headOf(read(t, fs, headFile))
	if h == nil || h.Key == nil || *h.Key != *made.Seal.Key || !h.signedRight() {
		t.Errorf("the note: %+v", h)
	}
}

// The note is wanted from the first report on, without a key too.
func TestNoteIsWantedFromTheFirstReportOn(t *testing.T) {
	fs := shopWith(t, nil)
	sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-03")
	if err := fs.Remove(headFile); err != nil {
		t.Fatal(err)
	}
	c := chainOf(t, fs)
	if got := broken(t, fs); !strings.Contains(got, "the note of the last sealed report, is gone") || !c.Lost {
		t.Errorf("got %q, lost: %v", got, c.Lost)
	}
}

// sealedAndRemembered seals the report of a day, and this computer remembers it.
func sealedAndRemembered(t *testing.T, fs, settings afero.Fs, day logbook.Date) *Made {
	t.Helper()
	r := prepared(t, fs, day)
	made, err := r.Seal(afero.NewMemMapFs(), settings, sheet.Letter)
	if err != nil {
		t.Fatal(err)
	}
	made.Remember(fs, settings, r.Chain)
	return made
}

// An old backup of the whole folder is put back, with its note and its key: only the
// computer that sealed the later reports can miss them.
func TestOldBackupPutBackIsSeen(t *testing.T) {
	settings := afero.NewMemMapFs()
	fs := onADisk(t, shopWith(t, nil))
	seal := func(day logbook.Date) *Made { return sealedAndRemembered(t, fs, settings, day) }
	forgotten := func() string {
		t.Helper()
		gone, before := chainOf(t, fs).Forgotten(fs, settings)
		if len(before) > 0 {
			t.Errorf("the first report is here, and is said not to be: %v", before)
		}
		return strings.Join(saysOf(gone), "\n")
	}
	seal("2026-03-03")
	backup := snapshot(t, fs, folderName)
	second := seal("2026-03-04")
	if got := forgotten(); got != "" {
		t.Errorf("with all there: %q", got)
	}
	if err := fs.Remove(second.File); err != nil {
		t.Fatal(err)
	}
	for name, text := range backup {
		write(t, fs, path.Join(folderName, name), []byte(text))
	}
	if got := broken(t, fs); got != "" {
		t.Errorf("the chain of an old backup breaks by itself: %q", got)
	}
	if got := forgotten(); !strings.Contains(got, "This computer sealed report number 2 of this shop, and it is not here.") {
		t.Errorf("got %q", got)
	}
	// The next report gets the number of the one that is gone.
	write(t, fs, "machines/pump/2026-03-05-on.md", []byte("---\ndate: 2026-03-05\ntitle: On\n---\n"))
	r := prepared(t, fs, "2026-03-05")
	if _, err := r.Seal(afero.NewMemMapFs(), settings, sheet.Letter); err != nil {
		t.Fatal(err)
	}
	if got := forgotten(); !strings.Contains(got, "The report number 2 that is here is not the one that this computer sealed.") {
		t.Errorf("after another report of that number: %q", got)
	}
	// A copy of the folder is another shop, and nothing was sealed in it.
	other := onADisk(t, fs)
	if gone, before := chainOf(t, other).Forgotten(other, settings); len(gone)+len(before) > 0 {
		t.Errorf("a copy elsewhere: %v, %v", gone, before)
	}
	// What stands there in place of the memory says nothing, and nothing breaks by it.
	for _, text := range []string{"", "{}", "null", `{"format":"asleft sealed here 1","number":-1}`} {
		write(t, settings, memoryOf(fs, chainOf(t, fs).first()), []byte(text))
		if got := forgotten(); strings.Contains(got, "number 2") {
			t.Errorf("%q for a memory: %q", text, got)
		}
	}
}

// A backup from before the first seal is put back: no report is here by which to find
// what the computer remembers, but the folder is the same. It may be another shop, so
// nobody is told that his files were lost, and the chain of what is sealed next holds.
func TestBackupFromBeforeTheFirstSeal(t *testing.T) {
	settings := afero.NewMemMapFs()
	fs := onADisk(t, shopWith(t, nil))
	seal := func(day logbook.Date) *Made { return sealedAndRemembered(t, fs, settings, day) }
	holds := func(about, want string) {
		t.Helper()
		c := chainOf(t, fs)
		gone, before := c.Forgotten(fs, settings)
		if got := strings.Join(saysOf(before), "\n"); len(gone)+len(c.Breaks) > 0 || got != want {
			t.Errorf("%s: got %q, want %q; %v, %v", about, got, want, gone, c.Breaks)
		}
	}
	none := func(number int) string {
		return catalog.English.Say("chain.forgotten-all", "number", number)
	}
	holds("before any", "")
	seal("2026-03-03")
	seal("2026-03-04")
	holds("with all there", "")
	kept := snapshot(t, fs, folderName)
	if err := fs.RemoveAll(folderName); err != nil {
		t.Fatal(err)
	}
	holds("without any", none(2))
	write(t, fs, "machines/pump/2026-03-05-on.md", []byte("---\ndate: 2026-03-05\ntitle: On\n---\n"))
	first := seal("2026-03-05")
	if first.Seal.Number != 1 {
		t.Errorf("the first has the number %d", first.Seal.Number)
	}
	holds("with another first", none(2))
	seal("2026-03-06")
	holds("and one after it", none(2))
	// And again: both are remembered.
	if err := fs.RemoveAll(folderName); err != nil {
		t.Fatal(err)
	}
	holds("without any for the second time", none(2)+"\n"+none(2))
	// All put back as it was at first: that chain is whole, and the other one is not here.
	if err := fs.MkdirAll(folderName, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range kept {
		write(t, fs, path.Join(folderName, name), []byte(text))
	}
	holds("the first backup", none(2))
	// A memory that cannot be read says nothing, and the next seal begins it anew.
	write(t, settings, memoryIn(fs, ""), []byte("{"))
	holds("without a memory of the folder", "")
}

// A folder's memory of what was begun in it does not grow without end.
func TestMemoryOfAFolderIsBounded(t *testing.T) {
	settings, fs := afero.NewMemMapFs(), onADisk(t, shopWith(t, nil))
	for n := range mostStarted + 3 {
		s := &Seal{Number: 1, Digest: digestOf([]byte{byte(n)})}
		(&Made{Seal: s}).Remember(fs, settings, &Chain{})
		(&Made{Seal: s}).Remember(fs, settings, &Chain{})
	}
	firsts := firstsIn(fs, settings)
	if len(firsts) != mostStarted || firsts[0] != digestOf([]byte{3}) || firsts[mostStarted-1] != digestOf([]byte{mostStarted + 2}) {
		t.Errorf("%d are kept, from %s", len(firsts), firsts[0])
	}
}

// A sync program's copy of a sealed file or of the note spoils nothing.
func TestSyncProgramsCopySpoilsNothing(t *testing.T) {
	fs, buyer, made := three(t)
	old := noteOf(made[0].Seal, nil)
	stem := strings.TrimSuffix(made[1].File, ".json")
	copies := map[string][]byte{
		stem + " (conflicted copy).json": read(t, fs, made[1].File), stem + " 2.json": read(t, fs, made[1].File),
		folderName + "/0 copy.json":            read(t, fs, made[0].File),
		folderName + "/last-sealed 2.json":     read(t, fs, headFile),
		folderName + "/last-sealed (old).json": old,
	}
	for name, data := range copies {
		write(t, fs, name, data)
	}
	c := chainOf(t, fs)
	if len(c.Breaks) > 0 || len(c.Links) != 3 {
		t.Fatalf("%d links, %v", len(c.Links), c.Breaks)
	}
	for _, m := range made {
		for _, name := range []string{m.HTML, m.PDF} {
			if v := c.VouchFile(name, read(t, buyer, name)); v.Answer != Unaltered || v.Link.File != m.File {
				t.Errorf("%s: %+v", name, v)
			}
		}
		if v := c.VouchCode(m.Seal.Code); len(v) != 1 || v[0].Link.File != m.File {
			t.Errorf("the code of %s: %+v", m.File, v)
		}
	}
	if next := sealed(t, fs, buyer, nil, "2026-03-10"); next.Seal.Number != 4 {
		t.Errorf("the next has the number %d", next.Seal.Number)
	}
	if got := broken(t, fs); got != "" {
		t.Errorf("after the next: %q", got)
	}
}

// A copy that is not the same to the byte is a break, and takes nothing from the
// report that it is a copy of.
func TestChangedCopyTakesNothingFromTheReport(t *testing.T) {
	fs, buyer, made := three(t)
	changed := bytes.Replace(read(t, fs, made[1].File), []byte("seal leaks"), []byte("seal LEAKS"), 1)
	write(t, fs, folderName+"/0.json", changed)
	c := chainOf(t, fs)
	if got := broken(t, fs); !strings.Contains(got, "handovers/0.json was changed") {
		t.Errorf("got %q", got)
	}
	if v := c.VouchFile("x", read(t, buyer, made[1].HTML)); v.Answer != Unaltered {
		t.Errorf("the report: %+v", v)
	}
	altered := bytes.Replace(read(t, buyer, made[1].HTML), []byte("seal leaks"), []byte("seal LEAKS"), 1)
	if v := c.VouchFile("x", altered); v.Answer != Altered || v.Link.File != made[1].File {
		t.Errorf("an altered one: %+v", v)
	}
}

// A copy of the note that names a report that is gone tells of it.
func TestCopyOfALaterNoteTellsOfACutOffTail(t *testing.T) {
	fs, _, made := three(t)
	write(t, fs, folderName+"/last-sealed 2.json", read(t, fs, headFile))
	note := noteOf(made[1].Seal, nil)
	write(t, fs, headFile, note)
	if err := fs.Remove(made[2].File); err != nil {
		t.Fatal(err)
	}
	c := chainOf(t, fs)
	if len(c.Breaks) != 1 || c.Breaks[0].File != folderName+"/last-sealed 2.json" || !strings.Contains(c.Breaks[0].Says, "number 3, is gone") || !c.Lost {
		t.Errorf("got %+v, lost: %v", c.Breaks, c.Lost)
	}
}

// A file from the future is said to be that, and blocks nothing; one of tomorrow is
// waited for, since it may be tomorrow where it was sealed.
func TestFileFromTheFutureBlocksNothing(t *testing.T) {
	fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
	sealed(t, fs, buyer, nil, "2026-03-03")
	future := sealed(t, fs, buyer, nil, "2036-01-01")
	on := func(day logbook.Date) string {
		t.Helper()
		c, err := ReadChain(fs, catalog.English, day)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(saysOf(c.Breaks), "\n")
	}
	want := future.File + " is from the future: it is dated January 1, 2036, and today is March 4, 2026 by this computer's clock."
	if got := on("2026-03-04"); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if made := sealed(t, fs, buyer, nil, "2026-03-04"); made.Seal.Number != 3 {
		t.Errorf("the next has the number %d", made.Seal.Number)
	}
	if got := on("2026-03-04"); got != want {
		t.Errorf("the one after it is blamed: %q", got)
	}
	if got := on("2035-12-31"); strings.Contains(got, "future") {
		t.Errorf("the day before: %q", got)
	}
	if got := on("2035-12-30"); !strings.Contains(got, "future") {
		t.Errorf("two days before: %q", got)
	}
	if got := on(""); !strings.Contains(got, "has an earlier date than "+future.File) || strings.Contains(got, "future") {
		t.Errorf("on no day: %q", got)
	}
	sealed(t, fs, buyer, nil, "2026-03-06")
	if _, err := prepared(t, fs, "2026-03-05").Seal(buyer, nil, sheet.A4); !errors.Is(err, ErrClock) {
		t.Errorf("after one of tomorrow: %v", err)
	}
}

// A second set of facts under a name that encoding/json takes for facts: the digest
// would be of the one and what is shown would be of the other.
func TestFactsUnderAnotherSpelling(t *testing.T) {
	for _, name := range []string{"fact\u017f", "Facts", "FACTS", "fact\u017f_digest", "Digest", "\u212aey", "facts\u200b", ""} {
		fs, _, made := small(t)
		data := read(t, fs, made[1].File)
		v, _, err := opened(data)
		if err != nil || v == nil {
			t.Fatal(err)
		}
		// Of a file that is closed again correctly, so that only the name is wrong.
		text := strings.Replace(string(data), `"facts_digest":`, `"`+name+`":{"sealed":"2026-03-05"},"facts_digest":`, 1)
		if s, flaw, _ := opened(closedAgain(t, []byte(text))); s != nil || flaw != unreadable {
			t.Errorf("%q was read: %v, %+v", name, flaw, s)
		}
		write(t, fs, made[1].File, closedAgain(t, []byte(text)))
		if got := broken(t, fs); !strings.Contains(got, "cannot be read as a sealed report") {
			t.Errorf("%q: %q", name, got)
		}
	}
	// Inside the facts too.
	fs, _, made := small(t)
	text := strings.Replace(string(read(t, fs, made[1].File)), `"language":`, `"\u017fealed":"2026-03-05","language":`, 1)
	if s, _, _ := opened(closedAgain(t, []byte(text))); s != nil {
		t.Errorf("a second day of sealing was read: %+v", s.Facts.Sealed)
	}
}

// A huge file in the folder is not read into the memory; it is named, the others are
// vouched for, and nothing follows on it.
func TestHugeFilesAreNotRead(t *testing.T) {
	const huge = 3 << 30
	fs, buyer, made := three(t)
	shop := onADisk(t, fs)
	grow := func(name string) {
		t.Helper()
		f, err := shop.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(f.Truncate(huge), f.Close()); err != nil {
			t.Skipf("this disk has no files with holes: %v", err)
		}
	}
	grow(folderName + "/huge.json")
	c := chainOf(t, shop)
	if got := broken(t, shop); got != "handovers/huge.json is too large for what it should be, so it was not read." {
		t.Errorf("got %q", got)
	}
	if v := c.VouchFile("x", read(t, buyer, made[0].HTML)); v.Answer != Unaltered {
		t.Errorf("a report beside it: %+v", v)
	}
	if _, err := prepared(t, shop, "2026-03-10").Seal(afero.NewMemMapFs(), nil, sheet.Letter); !errors.Is(err, ErrUnreadable) {
		t.Errorf("sealing after it: %v", err)
	}
	if err := shop.Remove(folderName + "/huge.json"); err != nil {
		t.Fatal(err)
	}
	grow(headFile)
	if got := broken(t, shop); got != "handovers/last-sealed.json is too large for what it should be, so it was not read." {
		t.Errorf("the note: %q", got)
	}
	grow(KeyFile)
	if got := broken(t, shop); !strings.Contains(got, "cannot be read as the shop's key") {
		t.Errorf("the key: %q", got)
	}
	if err := shop.MkdirAll("site", 0o755); err != nil {
		t.Fatal(err)
	}
	grow(listFile)
	if listed, copies, err := chainOf(t, shop).Missed(shop); err != nil || len(listed)+len(copies) > 0 {
		t.Errorf("the site's list: %v, %v, %v", listed, copies, err)
	}
}

// A file that grows while it is read is cut off.
func TestGrowingFileIsCutOff(t *testing.T) {
	fs := afero.NewMemMapFs()
	for size, want := range map[int]error{9: nil, 10: nil, 11: rooted.ErrTooLarge} {
		write(t, fs, "a", bytes.Repeat([]byte("x"), size))
		if data, err := rooted.ReadFile(fs, "a", 10); !errors.Is(err, want) || err == nil && len(data) != size {
			t.Errorf("%d bytes: %d, %v", size, len(data), err)
		}
	}
	write(t, fs, "a", bytes.Repeat([]byte("x"), 11))
	if _, err := rooted.ReadFile(shrunk{fs}, "a", 10); !errors.Is(err, rooted.ErrTooLarge) {
		t.Errorf("grown after it was looked at: %v", err)
	}
}

// shrunk says of every file that it is empty.
type shrunk struct{ afero.Fs }

func (s shrunk) Stat(name string) (os.FileInfo, error) {
	info, err := s.Fs.Stat(name)
	return empty{info}, err
}

type empty struct{ os.FileInfo }

func (empty) Size() int64 { return 0 }

// A run was killed between the sealed file and its note: the draft of the note is
// taken for it, and takes its place in the next run, of whatever machine.
func TestDraftOfTheNoteIsTakenForIt(t *testing.T) {
	for _, killed := range []int{1, 3} {
		fs, buyer := shopWith(t, nil), afero.NewMemMapFs()
		var before []byte
		for n := range killed {
			if n > 0 {
				before = read(t, fs, headFile)
			}
			sealed(t, fs, buyer, nil, logbook.Date("2026-03-0"+string(rune('3'+n))))
		}
		if err := fs.Rename(headFile, headDraft); err != nil {
			t.Fatal(err)
		}
		if before != nil {
			write(t, fs, headFile, before)
		}
		if got := broken(t, fs); got != "" {
			t.Errorf("killed after %d: %q", killed, got)
		}
		write(t, fs, "machines/pump/2026-03-07-on.md", []byte("---\ndate: 2026-03-07\ntitle: On\n---\n"))
		if next := sealed(t, fs, buyer, nil, "2026-03-10"); next.Seal.Number != killed+1 {
			t.Errorf("the next has the number %d", next.Seal.Number)
		}
		if got := broken(t, fs); got != "" {
			t.Errorf("killed after %d, and run again: %q", killed, got)
		}
		if err := noParts(fs, folderName); err != nil {
			t.Error(err)
		}
		// A draft that names anything but the last is no note.
		write(t, fs, headDraft, read(t, fs, headFile))
		made := sealed(t, fs, buyer, nil, "2026-03-11")
		note := read(t, fs, headFile)
		write(t, fs, headDraft, []byte(strings.Replace(string(note), `"number":`, `"number":1`, 1)))
		if err := fs.Remove(headFile); err != nil {
			t.Fatal(err)
		}
		if got := broken(t, fs); !strings.Contains(got, "is gone") {
			t.Errorf("a draft of another number than %d: %q", made.Seal.Number, got)
		}
	}
}

// Every file that sealing writes is new, whatever lies there and in whatever order
// reports are sealed: by chance over many days and logs, no file changes but the note.
func TestNothingInHandoversEverChanges(t *testing.T) {
	fs, buyer := onADisk(t, shopWith(t, nil)), afero.NewMemMapFs()
	if err := fs.MkdirAll(folderName, 0o755); err != nil {
		t.Fatal(err)
	}
	before := snapshot(t, fs, folderName)
	for n, day := range []logbook.Date{"2026-03-03", "2026-03-03", "2026-03-04", "2036-01-01", "2026-03-04", "2026-03-04", "2026-03-05"} {
		switch n {
		case 2:
			write(t, fs, folderName+"/last-sealed.json", []byte("damaged"))
		case 5:
			write(t, fs, folderName+"/mine.txt", []byte("mine"))
		}
		if n >= 2 {
			for name, text := range snapshot(t, fs, folderName) {
				before[name] = text
			}
		}
		if _, err := prepared(t, fs, day).Seal(buyer, nil, papers[n%2]); err != nil {
			var way *InTheWay
			if !errors.As(err, &way) {
				t.Fatalf("%d: %v", n, err)
			}
		}
		after := snapshot(t, fs, folderName)
		for name, text := range before {
			kept := slices.ContainsFunc([]string{"last-sealed-1.kept", "last-sealed-2.kept"}, func(k string) bool { return after[k] == text })
			if after[name] != text && !(name == path.Base(headFile) && (kept || headOf([]byte(text)) != nil)) {
				t.Errorf("%d: %s was %q and is %q", n, name, text, after[name])
			}
		}
		before = after
	}
}

// A report shows what nobody sees in the texts of the log, so that no two of them look
// alike and are two; the facts inside are those of the log.
func TestReportShowsHiddenCharacters(t *testing.T) {
	fs := shopWith(t, map[string]string{firstFile: strings.ReplaceAll(firstEntry, "seal leaks", "seal\u200b leaks\u200e")})
	buyer := afero.NewMemMapFs()
	made := sealed(t, fs, buyer, nil, "2026-03-03")
	html := string(read(t, buyer, made.HTML))
	shown, facts, _ := strings.Cut(html, openElement)
	if !strings.Contains(strings.ReplaceAll(shown, "&#43;", "+"), "eal[U+200B] leaks[U+200E]") || strings.ContainsAny(shown, "\u200b\u200e") {
		at := strings.IndexAny(shown, "\u200b\u200e")
		t.Errorf("the report does not show what is hidden: %+q", shown[max(0, at-60):min(len(shown), max(at, 0)+60)])
	}
	facts, rest, _ := strings.Cut(facts, closeElement)
	if !strings.Contains(facts, "seal\u200b leaks\u200e") || strings.ContainsAny(rest, "\u200b\u200e") {
		t.Error("the facts inside are not those of the log")
	}
	if v := chainOf(t, fs).VouchFile("x", []byte(html)); v.Answer != Unaltered {
		t.Errorf("the report: %+v", v)
	}
}
