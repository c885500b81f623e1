package frontmatter

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

func problems(t *testing.T, folder afero.Fs) []string {
	t.Helper()
	_, found, err := logbook.Read(folder, logbook.Options{Today: "2026-11-28", Words: catalog.English})
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, p := range found {
		all = append(all, p.File+": "+p.Field+": "+p.Says)
	}
	return all
}

// free are the fields that take any text.
var free = []string{"title", "note", "tried", "saw", "so", "defect", "effect", "how", "proof", "left", "why", "caution", "alt", "caption", "story", "place", "contact"}

// What is written is read by the readers of the folder, with every hard text in
// every field that takes one.
func TestLogbookReadsWhatIsWritten(t *testing.T) {
	disk := afero.NewReadOnlyFs(afero.NewBasePathFs(afero.NewOsFs(), "../../content-example"))
	before := problems(t, disk)
	for n := 0; n < len(nasty); n += 4 {
		over := afero.NewMemMapFs()
		changes := 0
		for name, data := range examples(t) {
			f, err := Read(data)
			if err != nil {
				t.Fatal(err)
			}
			want := f.Fields()
			setFree(&want, func() string { changes++; return nasty[(n+changes)%len(nasty)] + " and dry after an hour of work" })
			story := f.Story() + "\n\n---\n\n" + nasty[n]
			now, err := f.With(want, story)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			holds(t, name, now, want, story)
			inside, _ := filepath.Rel("../../content-example", name)
			if err := afero.WriteFile(over, filepath.ToSlash(inside), now, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if changes < 400 {
			t.Fatalf("only %d texts were set", changes)
		}
		if after := problems(t, afero.NewCopyOnWriteFs(disk, over)); !slices.Equal(before, after) {
			t.Fatalf("with %q the problems are %.2000q, want %q", nasty[n], after, before)
		}
	}
}

func setFree(n *Node, text func() string) {
	for i := range n.Fields {
		if f := &n.Fields[i]; f.Node.Kind == Text && slices.Contains(free, f.Name) {
			f.Node.Text = text()
		}
		setFree(&n.Fields[i].Node, text)
	}
	for i := range n.Items {
		setFree(&n.Items[i], text)
	}
}

// toldOf are the problems that the readers of the folder tell of a shop's file.
func toldOf(t *testing.T, text string) []logbook.Problem {
	t.Helper()
	folder := afero.NewMemMapFs()
	if err := afero.WriteFile(folder, "shop.md", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	_, found, err := logbook.Read(folder, logbook.Options{Today: "2026-11-28", Words: catalog.English})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// What hinders a change is what the readers of the folder tell of too, in the same
// words and of the same line.
func TestHindrancesAreThoseOfLogbook(t *testing.T) {
	compared := 0
	for text := range hindered {
		_, err := Read([]byte(text))
		var h *Hindrance
		if !errors.As(err, &h) {
			t.Fatalf("%q can be read", text)
		}
		if h.Key == "problem.unusual" || h.Key == "problem.yaml" || h.Key == "problem.twice" {
			continue // a reader does not mind, or knows more of it
		}
		found := toldOf(t, text)
		says, _ := h.Says(catalog.English)
		if !slices.ContainsFunc(found, func(p logbook.Problem) bool {
			return p.Line == h.Line && strings.HasPrefix(p.Says, says)
		}) {
			t.Errorf("%.60q: line %d: %s; logbook tells %v", text, h.Line, says, found)
		}
		compared++
	}
	if compared < 15 {
		t.Errorf("only %d were compared", compared)
	}
}

// The corpus is of files that the readers of the folder take apart.
func TestLogbookTakesTheCorpusApart(t *testing.T) {
	for name, text := range corpus {
		found := toldOf(t, text)
		// The front matter was read where fields of it are asked for or told of.
		if !slices.ContainsFunc(found, func(p logbook.Problem) bool { return p.Field != "" }) {
			t.Errorf("%s is not taken apart: %v", name, found)
		}
	}
}
