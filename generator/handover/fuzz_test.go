package handover

import (
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
