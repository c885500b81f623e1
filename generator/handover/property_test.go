package handover

import (
	"path"
	"testing"

	"github.com/spf13/afero"
	"pgregory.net/rapid"

	"asleft/generator/catalog"
)

// TestAnyTamperingIsSeen does by chance what people and programs do to the folder of
// sealed reports: byte-for-byte copies spoil nothing; anything else done to a sealed
// file or to the note of the last is a break; and a true report is never said to be
// altered or not the shop's while its sealed file is whole.
func TestAnyTamperingIsSeen(t *testing.T) {
	start, buyer, made := small(t)
	var reports [][]byte
	for _, m := range made {
		reports = append(reports, read(t, buyer, m.HTML))
	}
	files := []string{made[0].File, made[1].File, headFile}
	rapid.Check(t, func(rt *rapid.T) {
		fs, spoiled := copied(t, start), map[string]bool{}
		for range rapid.IntRange(1, 4).Draw(rt, "steps") {
			file := rapid.SampledFrom(files).Draw(rt, "file")
			data, err := afero.ReadFile(fs, file)
			if err != nil {
				continue // it was taken away before
			}
			switch rapid.SampledFrom([]string{"copy", "copy", "copy", "remove", "cut", "flip", "more"}).Draw(rt, "step") {
			case "copy":
				if !spoiled[file] {
					name := rapid.SampledFrom([]string{" (conflicted copy)", " 2", "-1", ".old", ""}).Draw(rt, "after")
					write(t, fs, path.Join(folderName, path.Base(file)+name+".json"), data)
				}
				continue
			case "remove":
				if err := fs.Remove(file); err != nil {
					t.Fatal(err)
				}
			case "cut":
				if len(data) == 0 {
					continue
				}
				data = data[:rapid.IntRange(0, len(data)-1).Draw(rt, "cut")]
				write(t, fs, file, data)
			case "flip":
				if len(data) == 0 {
					continue
				}
				data[rapid.IntRange(0, len(data)-1).Draw(rt, "at")] ^= byte(rapid.IntRange(1, 255).Draw(rt, "by"))
				write(t, fs, file, data)
			case "more":
				write(t, fs, file, append(data, ' '))
			}
			spoiled[file] = true
		}
		c, err := ReadChain(fs, catalog.English, "2026-03-05")
		if err != nil {
			t.Fatal(err)
		}
		if len(spoiled) == 0 && len(c.Breaks) > 0 {
			rt.Fatalf("copies alone: %v", c.Breaks)
		}
		for i, m := range made {
			v := c.VouchFile("x", reports[i])
			if !spoiled[m.File] && v.Answer != Unaltered {
				rt.Fatalf("the report of %s, which is whole: %+v", m.File, v)
			}
		}
		restored := true
		for _, file := range files {
			data, err := afero.ReadFile(fs, file)
			restored = restored && err == nil && string(data) == string(read(t, start, file))
		}
		// A folder with nothing left in it is as it was before the first seal: only what this
		// computer remembers tells that (TestBackupFromBeforeTheFirstSeal).
		left, err := afero.ReadDir(fs, folderName)
		if err != nil {
			t.Fatal(err)
		}
		if !restored && len(left) > 0 && len(c.Breaks) == 0 {
			rt.Fatalf("%v, and nothing breaks", spoiled)
		}
	})
}

// Of two reports that have the same beginning, however long, vouch lists both, and of
// any others none.
func TestVouchListsWhateverHasTheCode(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		digit := rapid.StringMatching(`[0-9a-f]{64}`)
		c := &Chain{}
		for range rapid.IntRange(0, 6).Draw(rt, "links") {
			digest := digit.Draw(rt, "digest")
			if n := len(c.Links); n > 0 && rapid.Bool().Draw(rt, "alike") {
				same := rapid.IntRange(10, 63).Draw(rt, "same")
				digest = c.Links[n-1].Seal.FactsDigest[:same] + digest[same:]
			}
			s := &Seal{Format: sealFormat, FactsDigest: digest, Code: codeOf(sealFormat, digest)}
			c.Links = append(c.Links, &Link{File: path.Join(folderName, s.name()+".json"), Seal: s})
		}
		if len(c.Links) == 0 {
			return
		}
		of := rapid.SampledFrom(c.Links).Draw(rt, "of").Seal.FactsDigest
		code, ok := AsCode(of[:rapid.IntRange(10, 64).Draw(rt, "digits")])
		if !ok {
			rt.Fatalf("%q is no code", code)
		}
		want := 0
		for _, l := range c.Links {
			if l.Seal.FactsDigest[:len(code)] == code {
				want++
			}
		}
		if got := c.VouchCode(code); len(got) != want {
			rt.Fatalf("%s: %d reports, want %d", code, len(got), want)
		}
	})
}
