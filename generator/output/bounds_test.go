package output

import (
	"io/fs"
	"testing"
	"time"

	"github.com/spf13/afero"
)

// TestSettled has files at both sides of the age from which a disk's clock tells a
// later write, on a fine disk and on a coarse one.
func TestSettled(t *testing.T) {
	const second, milli = int64(time.Second), int64(time.Millisecond)
	began := 1000 * second
	for name, c := range map[string]struct {
		mode             fs.FileMode
		written, changed int64
		want             bool
	}{
		"coarse, old enough":             {0, began - 3*second - 1, 0, true},
		"coarse, not yet":                {0, began - 3*second, 0, false},
		"coarse by the change":           {0, 0, began - 3*second - milli, true},
		"coarse by the change, not yet":  {0, 0, began - 3*second, false},
		"fine, old enough":               {0, 0, began - 20*milli - 1, true},
		"fine, not yet":                  {0, 0, began - 20*milli + 1, false},
		"fine, written after the change": {0, began - 20*milli, began - 50*milli - 1, false},
		"fine, and so is the writing":    {0, began - 20*milli - 1, began - 50*milli - 1, true},
		"from the future":                {0, began + second, 0, false},
		"a folder just made":             {fs.ModeDir, began, began, true},
	} {
		s := Snapshot{began: time.Unix(0, began)}
		if got := s.settled(Stat{Mode: c.mode, Written: c.written, Changed: c.changed}); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestReadBounded: a file as large as may be is read whole, a larger one not at all.
func TestReadBounded(t *testing.T) {
	fsys := afero.NewMemMapFs()
	if err := afero.WriteFile(fsys, "four", []byte("1234"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := fsys.Mkdir("folder", 0o755); err != nil {
		t.Fatal(err)
	}
	for _, most := range []int64{4, 5} {
		if text, err := readBounded(fsys, "four", most); string(text) != "1234" || err != nil {
			t.Errorf("of %d bytes at most: %q, %v", most, text, err)
		}
	}
	for name, most := range map[string]int64{"four": 3, "folder": 1 << 20, "none": 4} {
		if text, err := readBounded(fsys, name, most); len(text) > 0 || err == nil {
			t.Errorf("%s, %d bytes at most: %q", name, most, text)
		}
	}
}
