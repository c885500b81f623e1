package output_test

import (
	"bytes"
	"crypto/sha256"
	"fmt"
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

// TestOtherCachesAreNotBelieved: a sum that is right does not make a cache of it.
func TestOtherCachesAreNotBelieved(t *testing.T) {
	fsys := afero.NewMemMapFs()
	for body, want := range map[string]int{
		"asleft cache 1\nfact run abc\nnote 00ff key\n":  2,
		"asleft cache 1\nother run abc\nnote 00ff key\n": 1, // nothing that this program asks for
		"asleft cache 1\n": 0,
		"asleft cache 2\nfact run abc\nnote 00ff key\n": 0,
		"asleft cache 12\nfact run abc\n":               0,
		"fact run abc\n":                                0,
		"":                                              0,
	} {
		must(t, afero.WriteFile(fsys, "m", fmt.Appendf(nil, "%ssum %x\n", body, sha256.Sum256([]byte(body))), 0o600))
		if got := output.LoadCache(fsys, "m"); len(got.Facts)+len(got.Notes) != want {
			t.Errorf("%q is read as %v", body, got)
		}
	}
}

// TestCacheThatCannotBeRead is none.
func TestCacheThatCannotBeRead(t *testing.T) {
	fsys := afero.NewMemMapFs()
	must(t, cache.Save(fsys, "m"))
	for nth := range 2 { // to open, to read
		if got := output.LoadCache(failing("read", "m", nth+1).Over(fsys), "m"); len(got.Facts)+len(got.Notes) > 0 {
			t.Errorf("call %d failed, and %v was read", nth+1, got)
		}
	}
	must(t, fsys.Mkdir("folder", 0o755))
	if got := output.LoadCache(fsys, "folder"); len(got.Facts)+len(got.Notes) > 0 {
		t.Errorf("a folder is %v", got)
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
		if there, _ := afero.Exists(fsys, "m-new"); there {
			t.Errorf("%s failed, and the draft was left behind", p.Failed)
		}
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
