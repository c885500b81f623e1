package generator_test

import (
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/afero"
	"golang.org/x/text/unicode/norm"

	"asleft/generator"
)

// accented is a shop whose names have letters that systems write in two ways.
// The words are invented.
func accented(t *testing.T, picture []byte) map[string]string {
	t.Helper()
	return map[string]string{
		"shop.md":                              "---\nshop: Fünfkehl\ncurrency: EUR\n---\nWörter des Hofs.\n",
		"sheets/fräse.md":                      "---\nsheet: fräse\nitems:\n  - {item: Messer stehen still, system: guards, safety: yes}\n---\n",
		"machines/harrow/machine.md":           "---\nname: Kehlfräse\nkind: fräse\narrived: 2026-03-01\n---\nSie kam unter einer Plane.\n",
		"machines/harrow/2026-03-02-öl.md":     "---\ndate: 2026-03-02\ntitle: Öl läuft\nhours: 2.5\nphotos:\n  - {file: Wellé.jpg, alt: Öl unter der Welle}\n---\nEin Abend.\n\n![Noch eins](Zähne.jpg)\n",
		"machines/harrow/2026-03-02-später.md": "---\ndate: 2026-03-02\ntitle: Später\n---\nDer zweite.\n",
		"machines/harrow/photos/Wellé.jpg":     string(picture),
		"machines/harrow/photos/Zähne.jpg":     string(picture),
	}
}

// A shop's folder means the same wherever it was written, and however it was
// carried over: lines ended as Windows does, a byte-order mark in front as some
// of its editors leave, names of photos and sheets with the accents apart as a
// Mac's older disks keep them (HFS+; from memory), and the files that both
// systems strew about. The name of an entry's own file is taken as it stands,
// since links and the feed are named by it; with its accents apart it is read
// all the same.
func TestAFolderOfAnotherSystemGivesTheSameSite(t *testing.T) {
	picture, err := os.ReadFile(anyPhoto(t))
	if err != nil {
		t.Fatal(err)
	}
	shop := accented(t, picture)
	plain := siteOf(t, shop, func(name, text string) (string, string) { return name, text })
	if len(plain) < 14 {
		t.Fatalf("a site of %d files", len(plain))
	}
	if story := plain["machines/harrow/index.html"]; !strings.Contains(story, "Öl läuft") || !strings.Contains(story, "srcset") {
		t.Fatalf("the story lacks its entry or its photo:\n%.2000s", story)
	}
	apart := 0 // names that are not what they were
	split := func(name string) string {
		if path.Ext(name) == ".md" && strings.HasPrefix(name, "machines/") {
			return name
		}
		if norm.NFD.String(name) != name {
			apart++
		}
		return norm.NFD.String(name)
	}
	for system, change := range map[string]func(name, text string) (string, string){
		"lines of Windows": func(name, text string) (string, string) {
			if path.Ext(name) == ".md" {
				text = "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")
			}
			return name, text
		},
		"names of a Mac": func(name, text string) (string, string) {
			return split(name), text
		},
		"names of a Mac, lines of Windows": func(name, text string) (string, string) {
			if path.Ext(name) == ".md" {
				text = strings.ReplaceAll(text, "\n", "\r\n")
			}
			return split(name), text
		},
		"text of a Mac": func(name, text string) (string, string) {
			if strings.HasSuffix(name, "öl.md") { // names a photo in two pieces that lies there in one
				text = strings.ReplaceAll(text, "Wellé.jpg", norm.NFD.String("Wellé.jpg"))
			}
			return name, text
		},
	} {
		t.Run(system, func(t *testing.T) {
			got := siteOf(t, shop, change)
			for name, text := range plain {
				if got[name] != text {
					t.Errorf("%s is not the same:\n%s", name, firstDifference(text, got[name]))
				}
			}
			if len(got) != len(plain) {
				t.Errorf("%d files, not %d", len(got), len(plain))
			}
		})
	}
	if apart < 6 {
		t.Errorf("only %d names with accents: the change changes nothing", apart)
	}
	all := siteOf(t, shop, func(name, text string) (string, string) { return norm.NFD.String(name), text })
	if len(all) != len(plain) || !strings.Contains(all["machines/harrow/index.html"], "Öl läuft") {
		t.Errorf("with all names apart: %d files, not %d, or no entry", len(all), len(plain))
	}
}

// siteOf is the site of a shop whose files were changed on the way.
func siteOf(t *testing.T, shop map[string]string, change func(name, text string) (string, string)) map[string]string {
	t.Helper()
	folder := afero.NewMemMapFs()
	put := func(name, text string) {
		if err := afero.WriteFile(folder, name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range shop {
		put(change(name, text))
	}
	for _, dir := range []string{"", "machines/", "machines/harrow/", "machines/harrow/photos/"} {
		put(dir+".DS_Store", "\x00")
		put(dir+"Thumbs.db", "\x00")
		put(dir+"desktop.ini", "[x]\r\n")
	}
	return madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{})
}

// anyPhoto is a photo of the example.
func anyPhoto(t *testing.T) string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(example, "machines", "*", "photos", "*.jpg"))
	if err != nil || len(found) == 0 {
		t.Fatalf("no photo: %v", err)
	}
	return found[0]
}

// firstDifference is a line of a and of b, the first that differs.
func firstDifference(a, b string) string {
	was, is := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(was), len(is)) {
		if was[i] != is[i] {
			return was[i] + "\n" + is[i]
		}
	}
	return ""
}
