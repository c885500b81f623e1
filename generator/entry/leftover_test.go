package entry_test

import (
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/entry"
)

// What a killed run had written aside goes with the next one; hidden files of
// others stay.
func TestLeftoversOfAKilledRunAreCleared(t *testing.T) {
	folder := shop(t)
	const dir = "machines/harrow/"
	put(t, folder, dir+".asleft-0123456789abcdef", "half an en")
	others := []string{dir + ".asleft-mine", dir + ".asleft-0123456789abcdef.md", dir + ".sync", "machines/.asleft-0123456789abcdef"}
	for _, name := range others {
		put(t, folder, name, "somebody's")
	}
	if _, err := entry.NewEntry(folder, "harrow", "2026-03-02-x", entry.Entry{Date: "2026-03-02", Title: "x"}.Markdown()); err != nil {
		t.Fatal(err)
	}
	if there, err := afero.Exists(folder, dir+".asleft-0123456789abcdef"); err != nil || there {
		t.Errorf("the leftover is still there (%v)", err)
	}
	for _, name := range others {
		if there, err := afero.Exists(folder, name); err != nil || !there {
			t.Errorf("%s is gone (%v)", name, err)
		}
	}
}

// A run may be killed when its photo has its name already. The next one finds
// the photo there and writes none; the leftover goes all the same.
func TestLeftoversGoWhereNothingIsWritten(t *testing.T) {
	folder := shop(t)
	const aside = "machines/harrow/photos/.asleft-0123456789abcdef"
	shot, err := entry.Look("IMG_1.jpg", plainJPEG(t, 40, 30), time.Unix(0, 0), nil)
	if err != nil {
		t.Fatal(err)
	}
	keep := func() {
		if _, _, err := entry.KeepPhoto(folder, "harrow", shot); err != nil {
			t.Fatal(err)
		}
	}
	keep()
	for name, write := range map[string]func(){
		"photo": keep,
		"entry": func() {
			if _, err := entry.NewEntry(folder, "harrow", "2026-03-02-x", entry.Entry{Date: "2026-03-02", Title: "x"}.Markdown()); err != nil {
				t.Fatal(err)
			}
		},
	} {
		put(t, folder, aside, "half a photo")
		write()
		if there, err := afero.Exists(folder, aside); err != nil || there {
			t.Errorf("%s: the leftover is still there (%v)", name, err)
		}
	}
}
