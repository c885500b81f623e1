package handover

import (
	"bytes"
	"errors"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
)

// FuzzSealedFile: whatever stands in the folder of sealed reports in place of a
// sealed file, or of the note of the last, the chain is read, and holds only
// where every byte is as it was sealed.
func FuzzSealedFile(f *testing.F) {
	fs, _, made := small(f)
	note := read(f, fs, headFile)
	sealed := [][]byte{read(f, fs, made[0].File), read(f, fs, made[1].File)}
	for _, data := range append(sealed, note, []byte("{}"), []byte("null"), []byte(`{"format":"asleft sealed report 1","number":-1}`), []byte("[[[[")) {
		f.Add(data, uint8(0))
		f.Add(data, uint8(2))
	}
	files := []string{made[0].File, made[1].File, headFile}
	own := []string{string(sealed[0]), string(sealed[1]), string(note)}
	f.Fuzz(func(t *testing.T, data []byte, which uint8) {
		n := int(which) % len(files)
		shop := copied(t, fs)
		if err := afero.WriteFile(shop, files[n], data, 0o644); err != nil {
			t.Fatal(err)
		}
		c, err := ReadChain(shop, catalog.English, "")
		if err != nil {
			t.Fatal(err)
		}
		same := string(data) == own[n]
		if whole := len(c.Breaks) == 0; whole != same {
			t.Fatalf("%s in place of %s: %v", data, files[n], c.Breaks)
		}
		for _, l := range c.Links {
			if l.Seal != nil {
				_ = c.VouchCode(l.Seal.Code)
			}
		}
		_ = c.VouchFile("x.json", data)
	})
}

// FuzzSealedNote: whatever stands in place of the note of the last report, or of what a
// killed run leaves of it, in a shop with a key: the chain holds only by the very note
// that the key signed.
func FuzzSealedNote(f *testing.F) {
	fs, settings := afero.NewMemMapFs(), afero.NewMemMapFs()
	if _, err := MakeKey(fs, settings); err != nil {
		f.Fatal(err)
	}
	made := smallIn(f, fs, afero.NewMemMapFs(), settings)
	own := read(f, fs, headFile)
	if len(chainOf(f, fs).Breaks) > 0 {
		f.Fatal("the chain does not hold")
	}
	key := *made[1].Seal.Key
	unsigned := noteOf(made[1].Seal, nil)
	old := (&head{Format: firstHeadFormat, Number: 2, Digest: made[1].Seal.Digest}).bytes()
	for _, data := range [][]byte{own, unsigned, old, []byte("{}"), []byte("null"), nil, bytes.ReplaceAll(own, []byte(`"number":2`), []byte(`"number":3`)), bytes.ReplaceAll(own, []byte("key"), []byte("KEY")), []byte(`{"key":"` + key + `"}`)} {
		for where := range uint8(3) {
			f.Add(data, where)
		}
	}
	signs, err := shopKey(fs, settings)
	if err != nil {
		f.Fatal(err)
	}
	later := made[1].Seal.Facts
	later.Sealed = "2026-03-05"
	canonical, err := later.canonical()
	if err != nil {
		f.Fatal(err)
	}
	facts := digestOf(canonical)
	f.Fuzz(func(t *testing.T, data []byte, where uint8) {
		shop := copied(t, fs)
		name := []string{headFile, headDraft, folderName + "/last-sealed 2.json"}[where%3]
		if name == headDraft {
			if err := shop.Remove(headFile); err != nil {
				t.Fatal(err)
			}
		}
		write(t, shop, name, data)
		c := chainOf(t, shop)
		if whole := len(c.Breaks) == 0; whole != (string(data) == string(own)) && where%3 < 2 {
			t.Fatalf("%q for %s: %v", data, name, c.Breaks)
		}
		// A report can be sealed after it, unless it passes for a sealed report that
		// cannot be read; the note that follows is whole. Nothing is printed here.
		if err := c.settleNote(shop); err != nil {
			t.Fatal(err)
		}
		next := &Report{shop: shop, words: catalog.English, Facts: later, digest: facts}
		seal, err := next.seal(c, Copies{})
		if errors.Is(err, ErrUnreadable) && where%3 == 2 {
			return
		} else if err != nil {
			t.Fatalf("%q for %s: %v", data, name, err)
		}
		sealed, err := seal.close(signs)
		if err != nil {
			t.Fatal(err)
		}
		note := noteOf(seal, signs)
		if _, err := next.write(c, afero.NewMemMapFs(), seal, sealedFiles{sealed, note, files{}}); err != nil {
			t.Fatalf("%q for %s: %v", data, name, err)
		}
		if h := headOf(read(t, shop, headFile)); h == nil || !h.signedRight() || h.Key == nil {
			t.Fatalf("%q for %s: the next note is %+v", data, name, h)
		}
	})
}
