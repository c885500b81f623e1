package handover

import (
	"encoding/json"
	"path"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/logbook"
)

// broken is what the chain says, all in one.
func broken(t *testing.T, fs afero.Fs) string {
	t.Helper()
	var all []string
	for _, b := range chainOf(t, fs).Breaks {
		all = append(all, b.Says)
	}
	return strings.Join(all, "\n")
}

func TestRemovedLinks(t *testing.T) {
	fs, _, made := three(t)
	for want, gone := range map[string][]int{
		"number 1 is gone":                   {0},
		"number 2 is gone":                   {1},
		"number 3, is gone":                  {2},
		"reports 1 to 2 are gone":            {0, 1},
		"last sealed report, number 3":       {1, 2},
		"The last sealed report, number 3, ": {0, 1, 2},
	} {
		c := copied(t, fs)
		for _, i := range gone {
			if err := c.Remove(made[i].File); err != nil {
				t.Fatal(err)
			}
		}
		if got := broken(t, c); !strings.Contains(got, want) {
			t.Errorf("without %v: got %q, want %q", gone, got, want)
		}
	}
}

func TestNoteOfTheLastRemoved(t *testing.T) {
	fs, _, _ := three(t)
	if err := fs.Remove(headFile); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, fs); !strings.Contains(got, "the note of the last sealed report, is gone") {
		t.Errorf("got %q", got)
	}
}

// resealed changes a sealed file and closes it again, as somebody does who
// knows the format: digest and name are right.
func resealed(t *testing.T, fs afero.Fs, name string, change func(*Seal)) {
	t.Helper()
	s := &Seal{}
	if err := json.Unmarshal(read(t, fs, name), s); err != nil {
		t.Fatal(err)
	}
	change(s)
	facts, err := s.Facts.canonical()
	if err != nil {
		t.Fatal(err)
	}
	s.FactsDigest = digestOf(facts)
	s.Code = codeOf(s.Format, s.FactsDigest)
	data, err := s.close(nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := fs.Remove(name); err != nil {
		t.Fatal(err)
	}
	write(t, fs, path.Join(folderName, s.name()+".json"), data)
}

// TestRedated, reordered and rewritten links that are closed again correctly
// are found by their neighbors.
func TestLinksThatAreClosedAgain(t *testing.T) {
	for name, tc := range map[string]struct {
		link   int
		change func(*Seal)
		want   string
	}{
		"re-dated":           {0, func(s *Seal) { s.Facts.Sealed = "2026-02-01" }, "does not follow on"},
		"re-dated later":     {1, func(s *Seal) { s.Facts.Sealed = "2026-05-01" }, "does not follow on"},
		"a fact changed":     {1, func(s *Seal) { s.Facts.Price = "$1.00" }, "does not follow on"},
		"moved to the end":   {0, func(s *Seal) { s.Number = 4 }, "number 1 is gone"},
		"moved to the front": {2, func(s *Seal) { s.Number = 1; s.Previous = nil }, "has the number 1, and so has one before it"},
		"the last re-dated":  {2, func(s *Seal) { s.Facts.Sealed = "2026-06-01" }, "is not the one here"},
		"back in time":       {2, func(s *Seal) { s.Facts.Sealed = "2026-01-01" }, "has an earlier date"},
		"another previous":   {2, func(s *Seal) { other := strings.Repeat("0", 64); s.Previous = &other }, "does not follow on"},
	} {
		t.Run(name, func(t *testing.T) {
			fs, _, made := three(t)
			resealed(t, fs, made[tc.link].File, tc.change)
			if got := broken(t, fs); !strings.Contains(got, tc.want) {
				t.Errorf("got %q, want %q", got, tc.want)
			}
		})
	}
}

func TestNamesExchanged(t *testing.T) {
	fs, _, made := three(t)
	a, b := read(t, fs, made[0].File), read(t, fs, made[1].File)
	write(t, fs, made[0].File, b)
	write(t, fs, made[1].File, a)
	if got := broken(t, fs); strings.Count(got, "has a name that is not its own") != 2 {
		t.Errorf("got %q", got)
	}
}

// Under the first form a killed run left the note one behind, or none after the first
// report. Such a chain holds as it did; a note that is more behind does not.
func TestChainOfTheFirstForm(t *testing.T) {
	fs, made := firstForm(t)
	c := chainOf(t, fs)
	if len(c.Breaks) > 0 || len(c.Links) != 3 {
		t.Fatalf("%d links, %+v", len(c.Links), c.Breaks)
	}
	for _, s := range made {
		if v := c.VouchCode(s.Code); len(s.Code) != 10 || len(v) != 1 || v[0].Answer != Unaltered {
			t.Errorf("the code %s: %+v", s.Code, v)
		}
	}
	note := func(of *Seal) []byte {
		t.Helper()
		data := (&head{Format: firstHeadFormat, Number: of.Number, Digest: of.Digest}).bytes()
		return data
	}
	for number, want := range map[int]string{3: "", 2: "", 1: "it names number 1"} {
		write(t, fs, headFile, note(made[number-1]))
		if got := broken(t, fs); got != "" && want == "" || !strings.Contains(got, want) {
			t.Errorf("a note of number %d: got %q, want %q", number, got, want)
		}
	}
	if err := fs.Remove(headFile); err != nil {
		t.Fatal(err)
	}
	if got := broken(t, fs); !strings.Contains(got, "is gone") {
		t.Errorf("no note after three: %q", got)
	}
	for _, s := range made[1:] {
		if err := fs.Remove(path.Join(folderName, s.name()+".json")); err != nil {
			t.Fatal(err)
		}
	}
	if got := broken(t, fs); got != "" {
		t.Errorf("no note after the first: %q", got)
	}
	// New reports follow on old ones.
	next := sealed(t, fs, afero.NewMemMapFs(), nil, "2026-03-10")
	if got := broken(t, fs); got != "" || next.Seal.Number != 2 || *next.Seal.Previous != made[0].Digest {
		t.Errorf("a new report after an old one: %q, %+v", got, next.Seal)
	}
}

// firstForm is the shop with three reports sealed under the first form, and its note.
func firstForm(t testing.TB) (fs afero.Fs, made []*Seal) {
	t.Helper()
	fs = shopWith(t, nil)
	for n, day := range []logbook.Date{"2026-03-03", "2026-03-04", "2026-03-05"} {
		r := prepared(t, fs, day)
		s := &Seal{Format: firstFormat, Number: n + 1, FactsDigest: r.digest, Code: r.digest[:10], Facts: r.Facts}
		if n > 0 {
			s.Previous = &made[n-1].Digest
		}
		data, err := s.close(nil)
		if err != nil {
			t.Fatal(err)
		}
		if want := "pump-" + string(day) + "-" + r.digest[:10]; s.name() != want {
			t.Fatalf("the name is %s, want %s", s.name(), want)
		}
		write(t, fs, path.Join(folderName, s.name()+".json"), data)
		made = append(made, s)
	}
	note := (&head{Format: firstHeadFormat, Number: 3, Digest: made[2].Digest}).bytes()
	write(t, fs, headFile, note)
	return fs, made
}

// A break stays to be seen: the next report does not take the number of one
// that is gone.
func TestSealingAfterTheLastWasLost(t *testing.T) {
	fs, buyer, made := three(t)
	if err := fs.Remove(made[2].File); err != nil {
		t.Fatal(err)
	}
	next := sealed(t, fs, buyer, nil, "2026-03-10")
	if next.Seal.Number != 4 {
		t.Errorf("the next report has the number %d, want 4", next.Seal.Number)
	}
	if got := broken(t, fs); !strings.Contains(got, "number 3 is gone") {
		t.Errorf("got %q", got)
	}
}

func TestOtherFilesInTheFolder(t *testing.T) {
	fs, buyer, _ := three(t)
	write(t, fs, folderName+"/notes.txt", []byte("mine"))
	if got := broken(t, fs); got != "" {
		t.Errorf("a text of the shop's own: %q", got)
	}
	write(t, fs, folderName+"/mine.json", []byte("{}"))
	if got := broken(t, fs); !strings.Contains(got, "cannot be read as a sealed report") {
		t.Errorf("got %q", got)
	}
	if _, err := prepared(t, fs, "2026-03-10").Seal(buyer, nil, papers[0]); err == nil {
		t.Error("a report was sealed after one that cannot be read")
	}
}

// closedAgain closes a sealed file again that was changed as text: what is no field
// of a Seal stays in it.
func closedAgain(t *testing.T, text []byte) []byte {
	t.Helper()
	v, err := jcs.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	tree, _ := v.(map[string]any)
	facts, err := jcs.Encode(tree["facts"])
	if err != nil {
		t.Fatal(err)
	}
	digest := digestOf(facts)
	tree["facts_digest"], tree["code"] = digest, digest[:codeLength]
	return underItsDigest(t, tree)
}

// underItsDigest is a sealed file of which the digest is right, whatever it holds.
func underItsDigest(t *testing.T, tree map[string]any) []byte {
	t.Helper()
	message, err := covered(tree)
	if err != nil {
		t.Fatal(err)
	}
	tree["digest"] = digestOf(message)
	data, err := jcs.Encode(tree)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
