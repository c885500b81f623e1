package generator

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/logbook"
)

func TestLargestFirst(t *testing.T) {
	folder := afero.NewMemMapFs()
	var photos []logbook.Photo
	for name, size := range []int{3, 0, 9, 3, 20} {
		p := logbook.Photo{Path: string(rune('a' + name))}
		photos = append(photos, p)
		if size == 0 {
			continue // it is not there
		}
		if err := afero.WriteFile(folder, p.Path, bytes.Repeat([]byte("x"), size), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff([]int{4, 2, 0, 3, 1}, largestFirst(folder, photos)); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}
