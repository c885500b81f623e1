package handover

import (
	"path"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/record"
)

// The long tests of this package are parallel: go test begins them when all others are
// done, so one that fails soon is not waited for by what tries mutants.

// flips are what becomes of a byte: another digit or letter, the other case,
// no text at all.
var flips = []byte{0x01, 0x20, 0x80}

// small is a chain of two reports of little text, and the buyers' files.
func small(t testing.TB) (fs, buyer afero.Fs, made []*Made) {
	t.Helper()
	fs, buyer = afero.NewMemMapFs(), afero.NewMemMapFs()
	return fs, buyer, smallIn(t, fs, buyer, nil)
}

// smallIn seals those two reports.
func smallIn(t testing.TB, fs, buyer, settings afero.Fs) (made []*Made) {
	t.Helper()
	for _, day := range []string{"2026-03-03", "2026-03-04"} {
		m, err := smallReport(t, fs, day, "2026-03-02").Seal(buyer, settings, sheet.Letter)
		if err != nil {
			t.Fatal(err)
		}
		made = append(made, m)
	}
	return made
}

// smallReport is a report of little text, of a day and a state of the log.
func smallReport(t testing.TB, fs afero.Fs, day, asOf string) *Report {
	t.Helper()
	picture := tinyJPEG(t)
	r := &Report{shop: fs, words: catalog.English, pictures: map[string][]byte{digestOf(picture): picture}}
	from := []Evidence{{"machines/pump/first.md", "2026-03-02", "First look"}}
	r.Facts = Facts{Format: factsFormat, Language: "en", Sealed: day, AsOf: asOf, Shop: ShopFacts{Name: "Test shop"}}
	r.Facts.Record.Machine.Key, r.Facts.Record.Machine.Name = "pump", "Pump"
	r.Facts.Record.Subjects = []record.Subject{{Kind: "defect", Name: "seal leaks", Key: "leak", Safety: "yes", Standing: "wrong", Open: true}}
	r.Facts.Entries = from
	r.Facts.Sections = []Section{{ID: "safety", Title: "What can hurt", Statements: []Statement{{Text: "Seal leaks.", Open: true, Subjects: []string{"defect-leak"}, Evidence: from}}}}
	r.Facts.Photos = []Photo{{Subject: "defect-leak", Date: "2026-03-02", Alt: "Oil", Width: 24, Height: 16, SHA256: digestOf(picture)}}
	facts, err := r.Facts.canonical()
	if err != nil {
		t.Fatal(err)
	}
	r.digest = digestOf(facts)
	return r
}

// TestEveryFlippedByteOfAReportIsFound flips each byte of the buyer's files.
func TestEveryFlippedByteOfAReportIsFound(t *testing.T) {
	t.Parallel()
	fs, buyer, made := small(t)
	c := chainOf(t, fs)
	for _, name := range []string{made[0].HTML, made[0].PDF} {
		t.Run(path.Ext(name), func(t *testing.T) {
			t.Parallel()
			data := read(t, buyer, name)
			if v := c.VouchFile(name, data); v.Answer != Unaltered || v.Link.Seal.Code != made[0].Seal.Code {
				t.Fatalf("%s: %s", name, v.Answer)
			}
			for i := range data {
				data[i] ^= flips[i%len(flips)]
				// The name is no help: a buyer may call the file what he likes.
				if v := c.VouchFile("x", data); v.Answer != Altered || v.Link.Seal.Code != made[0].Seal.Code {
					t.Fatalf("%s: byte %d flipped: %s", name, i, v.Answer)
				}
				data[i] ^= flips[i%len(flips)]
			}
		})
	}
}

// TestEveryFlippedByteOfTheChainIsFound flips each byte of the first sealed
// file, of the last, and of the note of the last.
func TestEveryFlippedByteOfTheChainIsFound(t *testing.T) {
	t.Parallel()
	fs, buyer, made := small(t)
	if c := chainOf(t, fs); len(c.Breaks) > 0 {
		t.Fatalf("the chain is broken before: %v", c.Breaks)
	}
	report := read(t, buyer, made[0].HTML)
	for _, name := range []string{made[0].File, made[1].File, headFile} {
		data := read(t, fs, name)
		for i := range data {
			data[i] ^= flips[i%len(flips)]
			write(t, fs, name, data)
			c := chainOf(t, fs)
			if len(c.Breaks) == 0 {
				t.Fatalf("%s: byte %d flipped and not found", name, i)
			}
			if name == made[0].File {
				if v := c.VouchFile("x", report); v.Answer == Unaltered {
					t.Fatalf("%s: byte %d flipped, and a report of it is vouched for", name, i)
				}
			}
			data[i] ^= flips[i%len(flips)]
		}
		write(t, fs, name, data)
	}
}

// TestEveryFlippedByteOfASealedFileIsFound does the same to a sealed file that
// somebody holds in his hands.
func TestEveryFlippedByteOfASealedFileIsFound(t *testing.T) {
	t.Parallel()
	fs, _, made := small(t)
	c := chainOf(t, fs)
	data := read(t, fs, made[1].File)
	if v := c.VouchFile("x", data); v.Answer != Unaltered {
		t.Fatalf("the file itself: %s", v.Answer)
	}
	for i := range data {
		data[i] ^= flips[i%len(flips)]
		if v := c.VouchFile("x", data); v.Answer != Altered || v.Link.Seal.Number != 2 {
			t.Fatalf("byte %d flipped: %s", i, v.Answer)
		}
		data[i] ^= flips[i%len(flips)]
	}
}

// TestMoreOrFewerBytes adds and takes away.
func TestMoreOrFewerBytes(t *testing.T) {
	fs, buyer, made := three(t)
	for _, f := range []struct {
		fs   afero.Fs
		name string
	}{{fs, made[1].File}, {buyer, made[1].HTML}, {buyer, made[1].PDF}} {
		c := chainOf(t, fs)
		data := read(t, f.fs, f.name)
		for _, other := range [][]byte{append(append([]byte{}, data...), '\n'), append([]byte{' '}, data...), data[:len(data)-1], data[:len(data)/2], append(append([]byte{}, data...), data...)} {
			if v := c.VouchFile(path.Base(f.name), other); v.Answer != Altered {
				t.Errorf("%s with %d bytes of %d: %s", f.name, len(other), len(data), v.Answer)
			}
		}
	}
}
