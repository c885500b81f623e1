package publish_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"asleft/generator/publish"
)

func sampleManifest() publish.Manifest {
	print := publish.PrintOf([]byte("text"))
	return publish.Manifest{Owner: publish.Owner{Shop: "Fernhollow Power Equipment", Web: "https://shop.example/"}, Files: map[string]publish.Listed{
		"index.html":       {State: publish.There, Print: print},
		"a b/index.html":   {State: publish.Coming, Print: print},
		"photos/1-400.jpg": {State: publish.Gone, Print: print, Since: time.Unix(1_770_000_000, 0)},
	}}
}

func TestManifestThereAndBack(t *testing.T) {
	for _, m := range []publish.Manifest{sampleManifest(), {Files: map[string]publish.Listed{}}} {
		got, err := publish.ParseManifest(m.Text())
		if err != nil {
			t.Fatalf("%v:\n%s", err, m.Text())
		}
		if diff := cmp.Diff(m, got); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	}
}

// Cut short anywhere it is not taken for whole, and a path that leads out is refused:
// what it lists may be removed.
func TestManifestsThatAreNone(t *testing.T) {
	text := string(sampleManifest().Text())
	for n := range len(text) {
		if _, err := publish.ParseManifest([]byte(text[:n])); err == nil {
			t.Errorf("the first %d bytes of %d were taken for whole", n, len(text))
		}
	}
	for _, path := range []string{"../up", "/etc/passwd", "a/../../b", `a\b`, "a/./b", "", publish.Folder + "/lock", publish.Folder, "a\rb"} {
		changed := strings.Replace(text, " index.html\n", " "+path+"\n", 1)
		if _, err := publish.ParseManifest([]byte(changed)); err == nil {
			t.Errorf("%q was taken for a file of the site", path)
		}
	}
}

// Whatever is taken for a manifest is written again as it was read.
func FuzzManifest(f *testing.F) {
	f.Add(sampleManifest().Text())
	f.Add([]byte("asleft publish manifest 1\nshop \nweb \nend 0\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := publish.ParseManifest(text)
		if err != nil {
			return
		}
		again, err := publish.ParseManifest(m.Text())
		if err != nil || !cmp.Equal(m.Files, again.Files) {
			t.Errorf("read and written it is another: %v", err)
		}
	})
}
