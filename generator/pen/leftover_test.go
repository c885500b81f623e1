package pen_test

import (
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/pen"
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
	if _, err := pen.NewEntry(folder, "harrow", "2026-03-02-x", pen.Entry{Date: "2026-03-02", Title: "x"}.Markdown()); err != nil {
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
