package output_test

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/afero"

	"asleft/generator/output"
	"asleft/generator/testenv"
)

var cache = output.Cache{
	Facts: map[string]string{"run": "abc", "made": "1 2 3"},
	Notes: map[string]string{"00ff": "key 1600x1200", "11aa": `{"Name":"a \n b"}`},
}

func TestCacheIsKept(t *testing.T) {
	fsys := afero.NewMemMapFs()
	for range 2 { // the second takes the place of the first
		if err := cache.Save(fsys, ".site-seen"); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(cache, output.LoadCache(fsys, ".site-seen")); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	if there, _ := afero.Exists(fsys, ".site-seen-new"); there {
		t.Error("the draft was left behind")
	}
	if got := output.LoadCache(fsys, "none"); len(got.Facts)+len(got.Notes) > 0 {
		t.Errorf("nothing is %v", got)
	}
}

// TestDamagedCacheIsNotBelieved changes each byte, and cuts at each.
func TestDamagedCacheIsNotBelieved(t *testing.T) {
	fsys := afero.NewMemMapFs()
	if err := cache.Save(fsys, "m"); err != nil {
		t.Fatal(err)
	}
	text, err := afero.ReadFile(fsys, "m")
	if err != nil {
		t.Fatal(err)
	}
	for n := range text {
		changed := bytes.Clone(text)
		changed[n] ^= 1
		for _, damaged := range [][]byte{changed, text[:n], append(bytes.Clone(text), text[n])} {
			if err := afero.WriteFile(fsys, "m", damaged, 0o600); err != nil {
				t.Fatal(err)
			}
			if got := output.LoadCache(fsys, "m"); len(got.Facts)+len(got.Notes) > 0 {
				t.Fatalf("believed with byte %d damaged: %v", n, got)
			}
		}
	}
}

func TestFullDiskLeavesTheOldCache(t *testing.T) {
	fsys := afero.NewMemMapFs()
	if err := cache.Save(fsys, "m"); err != nil {
		t.Fatal(err)
	}
	for n := 1; ; n++ {
		p := &testenv.Plan{Nth: n}
		err := (output.Cache{}).Save(p.Over(fsys), "m")
		if !p.Tripped {
			break
		}
		if err == nil && p.Failed != "remove" {
			t.Errorf("%s failed, and nobody was told", p.Failed)
		}
		if diff := cmp.Diff(cache, output.LoadCache(fsys, "m")); diff != "" {
			t.Errorf("%s failed (-want, +got):\n%s", p.Failed, diff)
		}
	}
	if there, _ := afero.Exists(fsys, "m-new"); there {
		t.Error("the draft was left behind")
	}
}

func FuzzLoad(f *testing.F) {
	fsys := afero.NewMemMapFs()
	if err := cache.Save(fsys, "m"); err != nil {
		f.Fatal(err)
	}
	text, err := afero.ReadFile(fsys, "m")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("asleft cache 1\nsum \n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		fsys := afero.NewMemMapFs()
		if err := afero.WriteFile(fsys, "m", text, 0o600); err != nil {
			t.Fatal(err)
		}
		was := output.LoadCache(fsys, "m")
		if len(was.Facts)+len(was.Notes) == 0 {
			return
		}
		if err := was.Save(fsys, "m"); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(was, output.LoadCache(fsys, "m")); diff != "" {
			t.Errorf("not the same when written again:\n%s", diff)
		}
	})
}
