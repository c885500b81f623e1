package handover

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/rsa"
	"crypto/x509"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// linkOf is a link as it would be found, of that number, after another, of a day.
func linkOf(number int, previous *Link, day string) *Link {
	s := &Seal{Format: sealFormat, Number: number, Digest: digestOf([]byte{byte(number)})}
	if previous != nil {
		s.Previous = &previous.Seal.Digest
	}
	s.Facts.Sealed = day
	return &Link{File: "handovers/" + string(rune('a'+number)) + ".json", Seal: s}
}

// What the chain says of links by themselves, with the note that names the last of them:
// where numbers are wanting, days run backward or a key is another.
func TestWhatTheChainSays(t *testing.T) {
	const key, other = "k", "o"
	signed := func(l *Link, by string) *Link { l.Seal.Key = &by; return l }
	one := linkOf(1, nil, "2026-03-03")
	for about, tc := range map[string]struct {
		links []*Link
		want  []string
		lost  bool
	}{
		"none":              {nil, nil, false},
		"one":               {[]*Link{one}, nil, false},
		"two of one day":    {[]*Link{one, linkOf(2, one, "2026-03-03")}, nil, false},
		"a day before":      {[]*Link{one, linkOf(2, one, "2026-03-02")}, []string{"handovers/c.json has an earlier date than handovers/b.json, which was sealed before it."}, false},
		"the first is gone": {[]*Link{linkOf(2, one, "2026-03-03")}, []string{"Sealed report number 1 is gone; it should come before handovers/c.json."}, true},
		"two are gone":      {[]*Link{linkOf(3, one, "2026-03-03")}, []string{"Sealed reports 1 to 2 are gone; they should come before handovers/d.json."}, true},
		"three are gone":    {[]*Link{one, linkOf(5, one, "2026-03-03")}, []string{"Sealed reports 2 to 4 are gone; they should come before handovers/f.json."}, true},
		"where one is gone, the day is not blamed": {[]*Link{one, linkOf(3, one, "2026-03-02")}, []string{"Sealed report number 2 is gone; it should come before handovers/d.json."}, true},
		"twice":                      {[]*Link{one, linkOf(1, nil, "2026-03-03")}, []string{"handovers/b.json has the number 1, and so has one before it."}, false},
		"none before it":             {[]*Link{one, linkOf(2, nil, "2026-03-03")}, []string{"handovers/c.json does not follow on the report before it: one of the two was changed."}, false},
		"something before the first": {[]*Link{linkOf(1, one, "2026-03-03")}, []string{"handovers/b.json does not follow on the report before it: one of the two was changed."}, false},
		"tomorrow":                   {[]*Link{linkOf(1, nil, "2026-03-11")}, nil, false},
		"the day after":              {[]*Link{linkOf(1, nil, "2026-03-12")}, []string{"handovers/b.json is from the future: it is dated March 12, 2026, and today is March 10, 2026 by this computer's clock."}, false},
		"no day":                     {[]*Link{linkOf(1, nil, "someday")}, nil, false},
		"after one from the future": {[]*Link{one, linkOf(2, one, "2026-03-12"), linkOf(3, linkOf(2, one, ""), "2026-03-02")}, []string{
			"handovers/c.json is from the future: it is dated March 12, 2026, and today is March 10, 2026 by this computer's clock.",
			"handovers/d.json has an earlier date than handovers/b.json, which was sealed before it.",
		}, false},
		"the shop's key":   {[]*Link{signed(linkOf(1, nil, "2026-03-03"), key)}, nil, false},
		"another key":      {[]*Link{signed(linkOf(1, nil, "2026-03-03"), other)}, []string{"handovers/b.json is signed with a key that is not the shop's."}, false},
		"a key made later": {[]*Link{one, signed(linkOf(2, one, "2026-03-03"), key)}, nil, false},
		"unsigned after signed": {[]*Link{signed(linkOf(1, nil, "2026-03-03"), key), linkOf(2, one, "2026-03-03")}, []string{
			"handovers/c.json is not signed, and the report before it is.",
		}, false},
		"one that cannot be read between": {[]*Link{one, {File: "handovers/x.json", flaw: unreadable}, linkOf(2, one, "2026-03-03")}, []string{"handovers/x.json cannot be read as a sealed report."}, false},
		"one that was changed between":    {[]*Link{one, changed(linkOf(2, one, "2026-03-03")), linkOf(3, linkOf(2, one, ""), "2026-03-03")}, []string{"handovers/c.json was changed after it was sealed."}, false},
	} {
		c := &Chain{Links: tc.links, words: catalog.English, today: "2026-03-10", key: key}
		if l := c.last(); l != nil {
			c.head = &head{Format: headFormat, Number: l.Seal.Number, Digest: l.Seal.Digest}
			if l.Seal.Key != nil { // as a note of it that is signed right
				c.links(t, l)
			}
		}
		c.check()
		if diff := cmp.Diff(tc.want, saysOf(c.Breaks)); diff != "" || c.Lost != tc.lost {
			t.Errorf("%s: lost %v (-want, +got):\n%s", about, c.Lost, diff)
		}
	}
}

func changed(l *Link) *Link {
	l.flaw = changedFile
	return l
}

// links takes the key of the last link for a real one, and signs the note with it.
func (c *Chain) links(t *testing.T, last *Link) {
	t.Helper()
	was := *last.Seal.Key
	k := otherKey(t)
	for _, l := range c.Links {
		if l.Seal != nil && l.Seal.Key != nil && *l.Seal.Key == was {
			l.Seal.Key = &k.Public
		}
	}
	if c.key == was {
		c.key = k.Public
	}
	data := noteOf(last.Seal, k)
	c.head = headOf(data)
}

// A copy to the byte is left out, the one with the right name stays; what cannot be read
// is never a copy of anything.
func TestCopiesAreLeftOut(t *testing.T) {
	l := func(file, data string, number int, f flaw) *Link {
		l := &Link{File: file, data: []byte(data), flaw: f}
		if f != unreadable {
			l.Seal = &Seal{Number: number}
		}
		return l
	}
	for about, tc := range map[string]struct{ links, want []*Link }{
		"by number":                    {[]*Link{l("b", "2", 2, noFlaw), l("c", "1", 1, noFlaw)}, []*Link{l("c", "1", 1, noFlaw), l("b", "2", 2, noFlaw)}},
		"the right name stays":         {[]*Link{l("a", "1", 1, badName), l("b", "1", 1, noFlaw)}, []*Link{l("b", "1", 1, noFlaw)}},
		"the right name stays, first":  {[]*Link{l("a", "1", 1, noFlaw), l("b", "1", 1, badName)}, []*Link{l("a", "1", 1, noFlaw)}},
		"of two flawed ones the first": {[]*Link{l("b", "1", 1, badName), l("a", "1", 1, badName)}, []*Link{l("a", "1", 1, badName)}},
		"others of one number":         {[]*Link{l("b", "2", 1, noFlaw), l("a", "1", 1, noFlaw)}, []*Link{l("a", "1", 1, noFlaw), l("b", "2", 1, noFlaw)}},
		"two that cannot be read":      {[]*Link{l("b", "", 0, unreadable), l("a", "", 0, unreadable)}, []*Link{l("a", "", 0, unreadable), l("b", "", 0, unreadable)}},
	} {
		c := &Chain{Links: tc.links}
		c.dropCopies()
		if diff := cmp.Diff(tc.want, c.Links, cmp.AllowUnexported(Link{}, Facts{})); diff != "" {
			t.Errorf("%s (-want, +got):\n%s", about, diff)
		}
	}
}

// What else has the name of a sealed file in the folder: a folder is let be, a pipe is an
// error that says what to do, for reading it would never end.
func TestPipesAndFoldersAmongSealedFiles(t *testing.T) {
	fs, _, _ := three(t)
	if err := fs.MkdirAll(folderName+"/old.json", 0o755); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, fs); got != "" {
		t.Errorf("a folder: %q", got)
	}
	for _, name := range []string{folderName + "/pipe.json", headFile, KeyFile, listFile} {
		fs, _, _ := three(t)
		write(t, fs, name, []byte("x"))
		pipe := &testenv.Piped{Fs: fs, Pipe: name}
		c, err := ReadChain(pipe, catalog.English, "")
		if name == listFile {
			if err != nil {
				t.Fatal(err)
			}
			_, _, err = c.Missed(pipe)
		}
		if !errors.Is(err, rooted.ErrNoFile) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A note is read only as it is written, and names one report by its number and digest.
func TestNotes(t *testing.T) {
	fs, _, made := small(t)
	own := string(read(t, fs, headFile))
	key := otherKey(t)
	signed := noteOf(made[1].Seal, key)
	first := (&head{Format: firstHeadFormat, Number: 2, Digest: "d"}).bytes()
	if strings.Contains(string(first), "key") {
		t.Errorf("the first form knew no key: %s", first)
	}
	for about, tc := range map[string]struct {
		text        string
		read, right bool
	}{
		"as it is written":       {own, true, true},
		"signed":                 {string(signed), true, true},
		"of the first form":      {string(first), true, true},
		"of another form":        {strings.Replace(own, "report 2", "report 3", 1), false, false},
		"a blank more":           {own + " ", false, false},
		"a name in capitals":     {strings.Replace(own, `"key"`, `"KEY"`, 1), false, false},
		"a name more":            {strings.Replace(own, `"key"`, `"kex":1,"key"`, 1), false, false},
		"no JSON":                {"note", false, false},
		"another number, signed": {strings.Replace(string(signed), `"number":2`, `"number":3`, 1), true, false},
		"a key alone":            {strings.Replace(own, `"key":null`, `"key":"`+key.Public+`"`, 1), true, false},
		"a signature alone":      {strings.Replace(own, `"signature":null`, `"signature":"00"`, 1), true, false},
	} {
		h := headOf([]byte(tc.text))
		if (h != nil) != tc.read || h != nil && h.signedRight() != tc.right {
			t.Errorf("%s: %+v", about, h)
		}
	}
	l := &Link{Seal: made[1].Seal}
	for about, tc := range map[string]struct {
		head  head
		link  *Link
		names bool
	}{
		"its own":        {head{Number: 2, Digest: l.Seal.Digest}, l, true},
		"another number": {head{Number: 1, Digest: l.Seal.Digest}, l, false},
		"another digest": {head{Number: 2, Digest: "x"}, l, false},
		"none":           {head{}, nil, false},
		"unreadable":     {head{}, &Link{}, false},
	} {
		if got := tc.head.names(tc.link); got != tc.names {
			t.Errorf("%s: %v", about, got)
		}
	}
}

// What the chain says of the note, by itself and beside what a killed run left.
func TestWhatTheNoteSays(t *testing.T) {
	start, _, made := three(t)
	note := func(i int) []byte {
		data := noteOf(made[i].Seal, nil)
		return data
	}
	other := *made[2].Seal
	other.Digest = strings.Repeat("0", 64)
	wrong := noteOf(&other, nil)
	other.Number = 9
	later := noteOf(&other, nil)
	bad := strings.Replace(string(note(2)), `"signature":null`, `"signature":"00"`, 1)
	const no = "handovers/last-sealed.json"
	for about, tc := range map[string]struct {
		note, draft []byte
		want        string
		flawed      bool
	}{
		"as it should be":             {note(2), nil, "", false},
		"with a draft of the same":    {note(2), note(2), "", false},
		"with an older draft":         {note(2), note(1), "", false},
		"behind, with its draft":      {note(1), note(2), "", false},
		"behind, with another draft":  {note(1), note(0), no + " should name the last sealed report, but it names number 2.", true},
		"behind, with a spoiled one":  {note(1), []byte("x"), no + " should name the last sealed report, but it names number 2.", true},
		"behind":                      {note(1), nil, no + " should name the last sealed report, but it names number 2.", true},
		"gone, with its draft":        {nil, note(2), "", false},
		"gone, with an older draft":   {nil, note(1), no + ", the note of the last sealed report, is gone.", false},
		"gone":                        {nil, nil, no + ", the note of the last sealed report, is gone.", false},
		"of another of its number":    {wrong, nil, no + " names a report number 3 that is not the one here.", true},
		"of a later one":              {later, nil, "The last sealed report, number 9, is gone.", false},
		"spoiled":                     {[]byte("x"), nil, no + " was changed after it was sealed.", true},
		"spoiled, with its draft":     {[]byte("x"), note(2), no + " was changed after it was sealed.", true},
		"a signature without its key": {[]byte(bad), nil, no + " is not signed with the key that it names.", true},
		"too large":                   {make([]byte, largestNote+1), nil, no + " is too large for what it should be, so it was not read.", true},
		"as large as may be":          {make([]byte, largestNote), nil, no + " was changed after it was sealed.", true},
	} {
		fs := copied(t, start)
		if err := fs.Remove(headFile); err != nil {
			t.Fatal(err)
		}
		for name, data := range map[string][]byte{headFile: tc.note, headDraft: tc.draft} {
			if data != nil {
				write(t, fs, name, data)
			}
		}
		c := chainOf(t, fs)
		if got := strings.Join(saysOf(c.Breaks), "\n"); got != tc.want || c.flawedNote != tc.flawed {
			t.Errorf("%s: got %q, flawed: %v", about, got, c.flawedNote)
		}
		// What is settled before the next report: the draft is there no more, and the note is
		// what the chain took for it.
		if err := c.settleNote(fs); err != nil {
			t.Fatal(err)
		}
		if err := noParts(fs, folderName); err != nil {
			t.Errorf("%s: %v", about, err)
		}
		if got := broken(t, fs); got != tc.want {
			t.Errorf("%s, and settled: %q", about, got)
		}
		// A note that cannot be relied on is kept under a name of its own, any other stays.
		if err := c.setAside(fs); err != nil {
			t.Fatal(err)
		}
		there, err := exists(fs, headFile)
		if err != nil || there != (!tc.flawed && (tc.note != nil || c.drafted)) {
			t.Errorf("%s, set aside: %v, %v", about, there, err)
		}
		if kept, err := exists(fs, folderName+"/last-sealed-1.kept"); err != nil || kept != tc.flawed {
			t.Errorf("%s, kept: %v, %v", about, kept, err)
		}
	}
}

// A note without its report, where none is here at all.
func TestANoteOfNothing(t *testing.T) {
	fs, _, made := small(t)
	for _, m := range made {
		if err := fs.Remove(m.File); err != nil {
			t.Fatal(err)
		}
	}
	if c := chainOf(t, fs); len(c.Breaks) != 1 || c.Breaks[0].Says != "The last sealed report, number 2, is gone." || !c.Lost {
		t.Errorf("%v", c.Breaks)
	}
	// A draft alone names nothing that is here.
	if err := fs.Rename(headFile, headDraft); err != nil {
		t.Fatal(err)
	}
	if c := chainOf(t, fs); len(c.Breaks) > 0 || c.head != nil {
		t.Errorf("a draft alone: %v", c.Breaks)
	}
}

// What stands in place of the shop's key, its public part and its private one, and what
// is said of it.
func TestWhatIsNoKey(t *testing.T) {
	other, err := rsa.GenerateKey(rand.Reader, 1024)
	if err != nil {
		t.Fatal(err)
	}
	rsaPublic, err := x509.MarshalPKIXPublicKey(&other.PublicKey)
	if err != nil {
		t.Fatal(err)
	}
	rsaPrivate, err := x509.MarshalPKCS8PrivateKey(other)
	if err != nil {
		t.Fatal(err)
	}
	_, stranger, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	strangers, err := x509.MarshalPKCS8PrivateKey(stranger)
	if err != nil {
		t.Fatal(err)
	}
	block := func(der []byte) string { return string(pem.EncodeToMemory(&pem.Block{Type: "KEY", Bytes: der})) }
	make := func(t *testing.T) (shop, settings afero.Fs, private string) {
		shop, settings = afero.NewMemMapFs(), afero.NewMemMapFs()
		private, err := MakeKey(shop, settings)
		if err != nil {
			t.Fatal(err)
		}
		return shop, settings, private
	}
	for about, text := range map[string]string{
		"nothing": "", "no PEM": "key", "no key": block([]byte("x")), "a key of another kind": block(rsaPublic), "a private key": block(strangers), "too large": strings.Repeat("x", largestKey+1),
	} {
		shop, settings, _ := make(t)
		write(t, shop, KeyFile, []byte(text))
		if key, err := publicKey(shop); key != "" || !errors.Is(err, ErrKeyForm) || !strings.Contains(err.Error(), KeyFile) {
			t.Errorf("the public part, %s: %q, %v", about, key, err)
		}
		if key, err := shopKey(shop, settings); key != nil || !errors.Is(err, ErrKeyForm) {
			t.Errorf("the public part, %s: %v, %v", about, key, err)
		}
		if c := chainOf(t, shop); len(c.Breaks) != 1 || c.Breaks[0].File != KeyFile {
			t.Errorf("the public part, %s: %v", about, c.Breaks)
		}
	}
	for about, text := range map[string]string{
		"nothing": "", "no PEM": "key", "no key": block([]byte("x")), "a key of another kind": block(rsaPrivate), "another's": block(strangers),
	} {
		shop, settings, private := make(t)
		write(t, settings, private, []byte(text))
		if err := settings.Chmod(filepath.FromSlash(private), 0o600); err != nil {
			t.Fatal(err)
		}
		if key, err := shopKey(shop, settings); key != nil || !errors.Is(err, ErrKeyForm) || !strings.Contains(err.Error(), private) {
			t.Errorf("the private part, %s: %v, %v", about, key, err)
		}
	}
	shop, settings, private := make(t)
	for mode, open := range map[os.FileMode]bool{0o600: false, 0o400: false, 0o700: false, 0o601: true, 0o610: true, 0o640: true, 0o604: true, 0o666: true} {
		if err := settings.Chmod(filepath.FromSlash(private), mode); err != nil {
			t.Fatal(err)
		}
		key, err := shopKey(shop, settings)
		if open && runtime.GOOS != "windows" {
			if key != nil || !errors.Is(err, ErrKeyOpen) || !strings.Contains(err.Error(), private) {
				t.Errorf("rights %o: %v", mode, err)
			}
		} else if err != nil || key.Public == "" {
			t.Errorf("rights %o: %v", mode, err)
		}
	}
	if err := settings.Remove(private); err != nil {
		t.Fatal(err)
	}
	if _, err := shopKey(shop, settings); !errors.Is(err, ErrKeyElsewhere) || !strings.Contains(err.Error(), private) {
		t.Errorf("elsewhere: %v", err)
	}
	if key, err := shopKey(afero.NewMemMapFs(), settings); key != nil || err != nil {
		t.Errorf("none: %v, %v", key, err)
	}
}

// Of a shop with a key, its public part is given out as a file of its own, and nothing
// else of what stands in the shop's file.
func TestPublicKeyIsGivenOutAlone(t *testing.T) {
	shop := afero.NewMemMapFs()
	if key, err := chainOf(t, shop).PublicKey(); key != nil || err != nil {
		t.Errorf("without a key: %q, %v", key, err)
	}
	if _, err := MakeKey(shop, afero.NewMemMapFs()); err != nil {
		t.Fatal(err)
	}
	own := read(t, shop, KeyFile)
	write(t, shop, KeyFile, append(append([]byte("# mine\n"), own...), "my notes\n"...))
	if key, err := chainOf(t, shop).PublicKey(); string(key) != string(own) || err != nil {
		t.Errorf("got %q, %v", key, err)
	}
	if key, err := (&Chain{key: "no digits"}).PublicKey(); key != nil || err == nil || !strings.Contains(err.Error(), KeyFile) {
		t.Errorf("of no digits: %q, %v", key, err)
	}
}

// A signature is verified only as it is written, with a key as it is written.
func TestVerifiedIsExact(t *testing.T) {
	k := otherKey(t)
	message := []byte("all of it")
	signature := k.sign(message)
	for about, tc := range map[string]struct {
		public, signature, message string
		want                       bool
	}{
		"its own":                 {k.Public, signature, "all of it", true},
		"another message":         {k.Public, signature, "all of it.", false},
		"the key in capitals":     {strings.ToUpper(k.Public), signature, "all of it", false},
		"the signature so":        {k.Public, strings.ToUpper(signature), "all of it", false},
		"a key that is too short": {k.Public[2:], signature, "all of it", false},
		"a key that is too long":  {k.Public + "00", signature, "all of it", false},
		"no key":                  {"key", signature, "all of it", false},
		"no signature":            {k.Public, "sig", "all of it", false},
		"a short signature":       {k.Public, signature[2:], "all of it", false},
		"another key":             {hex.EncodeToString(make([]byte, ed25519.PublicKeySize)), signature, "all of it", false},
	} {
		if got := verified(tc.public, tc.signature, []byte(tc.message)); got != tc.want {
			t.Errorf("%s: %v", about, got)
		}
	}
}

// Drafts of killed runs are cleared away by their names, and nothing else is.
func TestDraftsAreClearedAwayByTheirNames(t *testing.T) {
	for name, gone := range map[string]bool{
		".pump-2026-03-03-0123456789abcdef.json.part": true, ".pump-2026-03-03-0123456789.html.part": true, ".little-pump-2-2026-03-03-0123456789abcdef.pdf.part": true,
		".shop-key.pub.part": true, ".0123456789abcdef.pem.part": true,
		".last-sealed.json.part": false, "pump-2026-03-03-0123456789abcdef.json.part": false, ".pump-2026-03-03-0123456789abcdef.json": false,
		".pump-2026-03-03-012345678.json.part": false, ".pump-2026-03-03-0123456789abcdef0.json.part": false, ".pump-2026-03-03-0123456789abcdef.txt.part": false,
		".0123456789abcde.pem.part": false, ".notes.part": false,
	} {
		for about, fs := range map[string]afero.Fs{"in memory": afero.NewMemMapFs(), "on a disk": onADisk(t, afero.NewMemMapFs())} {
			if err := fs.MkdirAll("a", 0o755); err != nil {
				t.Fatal(err)
			}
			write(t, fs, "a/"+name, []byte("x"))
			release, err := begun(fs, "a", 0o755)
			if err != nil {
				t.Fatal(err)
			}
			if there, err := exists(fs, "a/"+name); err != nil || there == gone {
				t.Errorf("%s, %s: there %v, %v", about, name, there, err)
			}
			if err := release(); err != nil {
				t.Error(err)
			}
		}
	}
	fs := afero.NewMemMapFs()
	if err := fs.MkdirAll("a/.shop-key.pub.part", 0o755); err != nil {
		t.Fatal(err)
	}
	clearDrafts(fs, "a")
	if there, err := exists(fs, "a/.shop-key.pub.part"); err != nil || !there {
		t.Errorf("a folder of that name: %v, %v", there, err)
	}
}

// Another run that is at work is told as that, with what is locked, and what is there is
// not touched.
func TestAnotherRunIsAtWork(t *testing.T) {
	fs := onADisk(t, afero.NewMemMapFs())
	release, err := begun(fs, folderName, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	const draft = folderName + "/.shop-key.pub.part"
	write(t, fs, draft, []byte("x"))
	if _, err := begun(fs, folderName, 0o755); !errors.Is(err, ErrAtWork) || !errors.Is(err, rooted.ErrLocked) {
		t.Errorf("a second run: %v", err)
	}
	if _, err := MakeKey(fs, afero.NewMemMapFs()); !errors.Is(err, ErrAtWork) {
		t.Errorf("a key meanwhile: %v", err)
	}
	if there, err := exists(fs, draft); err != nil || !there {
		t.Errorf("its draft was cleared away: %v", err)
	}
	if err := release(); err != nil {
		t.Fatal(err)
	}
	if _, err := MakeKey(fs, afero.NewMemMapFs()); err != nil {
		t.Errorf("a key after it: %v", err)
	}
}

// A draft is not begun over one that is there, and a file is there only to the byte.
func TestDraftsAndWhatIsWritten(t *testing.T) {
	fs := afero.NewMemMapFs()
	write(t, fs, "a/b.json", []byte("whole"))
	for about, tc := range map[string]struct {
		name, data string
		there, way bool
	}{
		"nothing": {"a/c.json", "whole", false, false}, "to the byte": {"a/b.json", "whole", true, false},
		"shorter": {"a/b.json", "whol", false, true}, "longer": {"a/b.json", "whole.", false, true}, "other": {"a/b.json", "whale", false, true}, "a folder": {"a", "", false, true},
	} {
		there, err := written(fs, tc.name, []byte(tc.data))
		var way *InTheWay
		if there != tc.there || errors.As(err, &way) != tc.way || tc.way && way.File != tc.name {
			t.Errorf("%s: %v, %v", about, there, err)
		}
	}
	if d, err := drafted(fs, "a/b.json", []byte("x"), 0o600); err != nil || d.part != "a/.b.json.part" {
		t.Fatalf("%+v, %v", d, err)
	}
	if _, err := drafted(fs, "a/b.json", []byte("y"), 0o600); !errors.Is(err, os.ErrExist) || !strings.Contains(err.Error(), "writing a/b.json") {
		t.Errorf("over one that is there: %v", err)
	}
	if err := (&draft{fs: fs, part: "a/.none.part", name: "a/none"}).place(); err == nil || !strings.Contains(err.Error(), "writing a/none") {
		t.Errorf("one that is gone: %v", err)
	}
	if got := (&InTheWay{"a/b.json"}).Error(); got != "a/b.json is there already, and is not what would be written" {
		t.Errorf("it says %q", got)
	}
}

// What this computer remembers of a folder's reports, and what of it is not here.
func TestWhatIsForgotten(t *testing.T) {
	one := linkOf(1, nil, "2026-03-03")
	two, three := linkOf(2, one, "2026-03-03"), linkOf(3, one, "2026-03-03")
	another := linkOf(2, one, "2026-03-03")
	another.Seal.Digest = "x"
	none := "This computer sealed reports in this folder, up to number 2, and none of them is here."
	for about, tc := range map[string]struct {
		links        []*Link
		gone, before string
	}{
		"all there":               {[]*Link{one, two}, "", ""},
		"more than remembered":    {[]*Link{one, two, three}, "", ""},
		"the last is gone":        {[]*Link{one}, "This computer sealed report number 2 of this shop, and it is not here.", ""},
		"another of its number":   {[]*Link{one, another}, "The report number 2 that is here is not the one that this computer sealed.", ""},
		"only a later one":        {[]*Link{one, three}, "The report number 2 that is here is not the one that this computer sealed.", ""},
		"none":                    {nil, "", none},
		"one that cannot be read": {[]*Link{{File: "x", flaw: unreadable}}, "This computer sealed report number 2 of this shop, and it is not here.", ""},
		"another first":           {[]*Link{linkOf(1, one, "").digest("y")}, "", none},
		"its first was changed":   {[]*Link{changed(linkOf(1, nil, "")), two}, "", ""},
	} {
		shop, settings := onADisk(t, afero.NewMemMapFs()), afero.NewMemMapFs()
		(&Made{Seal: one.Seal}).Remember(shop, settings, &Chain{})
		(&Made{Seal: two.Seal}).Remember(shop, settings, &Chain{Links: []*Link{one}})
		c := &Chain{Links: tc.links, words: catalog.English}
		gone, before := c.Forgotten(shop, settings)
		if got := strings.Join(saysOf(gone), "\n"); !strings.HasPrefix(got, tc.gone) || (got == "") != (tc.gone == "") {
			t.Errorf("%s: gone %q, want %q", about, got, tc.gone)
		}
		if got := strings.Join(saysOf(before), "\n"); !strings.HasPrefix(got, tc.before) || (got == "") != (tc.before == "") {
			t.Errorf("%s: before %q, want %q", about, got, tc.before)
		}
		// Nowhere is a folder in memory, so nothing is remembered of it.
		if gone, before := c.Forgotten(afero.NewMemMapFs(), settings); len(gone)+len(before) > 0 {
			t.Errorf("%s, in memory: %v, %v", about, gone, before)
		}
	}
}

func (l *Link) digest(is string) *Link {
	l.Seal.Digest = is
	return l
}

// What is remembered of a report that is sealed again is the last one that is here; and
// where the settings cannot be written to, nothing is said of it.
func TestRemember(t *testing.T) {
	shop, settings := onADisk(t, afero.NewMemMapFs()), afero.NewMemMapFs()
	one := linkOf(1, nil, "2026-03-03")
	two := linkOf(2, one, "2026-03-03")
	c := &Chain{Links: []*Link{one, two}, words: catalog.English}
	remembers := func(about string, m *Made, c *Chain, want int) {
		t.Helper()
		m.Remember(shop, settings, c)
		got := 0
		if kept := remembered(shop, settings, one.Seal.Digest); kept != nil {
			got = kept.Number
		}
		if got != want {
			t.Errorf("%s: number %d is remembered, want %d", about, got, want)
		}
	}
	remembers("one that follows on nothing", &Made{Seal: two.Seal}, &Chain{}, 0)
	remembers("the first", &Made{Seal: one.Seal}, &Chain{}, 1)
	remembers("the first, again", &Made{Seal: one.Seal, Again: true}, c, 2)
	remembers("the first, as if it were new", &Made{Seal: one.Seal}, c, 1)
	write(t, settings, partOf(memoryIn(shop, one.Seal.Digest)), []byte("of a run that was killed"))
	remembers("after a run that was killed", &Made{Seal: two.Seal}, c, 2)
	if got := firstsIn(shop, settings); len(got) != 1 || got[0] != one.Seal.Digest {
		t.Errorf("the firsts: %q", got)
	}
	if remembered(shop, settings, "") != nil {
		t.Error("the list of firsts is taken for a memory")
	}
	(&Made{Seal: one.Seal}).Remember(afero.NewMemMapFs(), settings, c) // nowhere
	sealedOnly := afero.NewReadOnlyFs(settings)
	(&Made{Seal: one.Seal}).Remember(shop, sealedOnly, c)
	remembers("where nothing can be written, and then again", &Made{Seal: two.Seal}, c, 2)
	for about, text := range map[string]string{"too large": strings.Repeat(" ", largestNote+1), "another form": `{"format":"x","number":9,"digest":"x"}`, "no JSON": "{"} {
		write(t, settings, memoryIn(shop, one.Seal.Digest), []byte(text))
		if kept := remembered(shop, settings, one.Seal.Digest); kept != nil {
			t.Errorf("%s: %+v", about, kept)
		}
	}
	for about, text := range map[string]string{"another form": `{"format":"x","firsts":["x"]}`, "no JSON": "{", "too large": strings.Repeat(" ", largestNote+1)} {
		write(t, settings, memoryIn(shop, ""), []byte(text))
		if got := firstsIn(shop, settings); got != nil {
			t.Errorf("the firsts, %s: %q", about, got)
		}
	}
}

// Which report follows: its number, what it follows on, and what it cannot follow on.
func TestWhatTheNextReportFollowsOn(t *testing.T) {
	one := linkOf(1, nil, "2026-03-03")
	two := linkOf(2, one, "2026-03-10")
	future := linkOf(2, one, "2026-03-20")
	note := func(number int, digest string) *head { return &head{Number: number, Digest: digest} }
	for about, tc := range map[string]struct {
		links    []*Link
		head     *head
		number   int
		previous string
		err      error
		file     string
	}{
		"nothing":                     {nil, nil, 1, "", nil, ""},
		"one":                         {[]*Link{one}, note(1, one.Seal.Digest), 2, one.Seal.Digest, nil, ""},
		"two of the same day":         {[]*Link{one, two}, nil, 3, two.Seal.Digest, nil, ""},
		"a note of one that is gone":  {[]*Link{one}, note(2, "gone"), 3, "gone", nil, ""},
		"a note of all that are gone": {nil, note(1, "gone"), 2, "gone", nil, ""},
		"a note that is behind":       {[]*Link{one, two}, note(1, one.Seal.Digest), 3, two.Seal.Digest, nil, ""},
		"one from the future":         {[]*Link{one, future}, nil, 3, future.Seal.Digest, nil, ""},
		"one of tomorrow":             {[]*Link{one, linkOf(2, one, "2026-03-11")}, nil, 0, "", ErrClock, "handovers/c.json"},
		"one that cannot be read":     {[]*Link{one, {File: "handovers/x.json", flaw: unreadable}}, nil, 0, "", ErrUnreadable, "handovers/x.json"},
		"one that was changed":        {[]*Link{changed(linkOf(1, nil, "2026-03-03"))}, nil, 2, one.Seal.Digest, nil, ""},
	} {
		r := &Report{digest: digestOf(nil)}
		r.Facts.Sealed = "2026-03-10"
		c := &Chain{Links: tc.links, head: tc.head, today: logbook.Date(r.Facts.Sealed)}
		s, err := r.seal(c, Copies{})
		if !errors.Is(err, tc.err) || err != nil && !strings.HasPrefix(err.Error(), tc.file+": ") {
			t.Errorf("%s: %v", about, err)
			continue
		}
		if err == nil && (s.Number != tc.number || text(s.Previous) != tc.previous || s.Code != r.digest[:12]) {
			t.Errorf("%s: %+v", about, s)
		}
	}
}

// Facts that fill more than a sealed file may are not sealed, for it could not be read
// again; as much as it may is.
func TestEnormousFactsAreNotSealed(t *testing.T) {
	t.Parallel()
	closed := func(text int) (int, error) {
		r := smallReport(t, afero.NewMemMapFs(), "2026-03-03", "2026-03-02")
		r.Facts.Shop.Contact = strings.Repeat("x", text)
		s, err := r.seal(&Chain{}, Copies{})
		if err != nil {
			t.Fatal(err)
		}
		w, err := r.closed(s, nil, files{})
		return len(w.seal), err
	}
	size, err := closed(0)
	if err != nil {
		t.Fatal(err)
	}
	most := largestSealed - size
	if size, err := closed(most); err != nil || size != largestSealed {
		t.Errorf("%d bytes of %d: %v", size, largestSealed, err)
	}
	if _, err := closed(most + 1); !errors.Is(err, ErrLarge) || !strings.HasPrefix(err.Error(), "pump: ") {
		t.Errorf("one byte more: %v", err)
	}
}
