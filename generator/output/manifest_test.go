package output

import (
	"maps"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The digest of nothing and of "abc": FIPS 180-2, appendix B.1, and the SHA-256
// of the empty message (from memory).
const sampleManifest = `asleft manifest 1
ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad 3 a/abc.html
e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855 0 b c
end 2
`

func TestManifestText(t *testing.T) {
	l := manifest{"b c": fingerprintOf(nil), "a/abc.html": fingerprintOf([]byte("abc"))}
	if diff := cmp.Diff(sampleManifest, string(l.text(manifestHead))); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
	got, head, err := parseManifest([]byte(sampleManifest))
	if err != nil || head != manifestHead || !maps.Equal(got, l) {
		t.Errorf("got %v, %v", got, err)
	}
}

func TestManifestIsNotTakenOnTrust(t *testing.T) {
	swap := func(old, new string) string { return strings.Replace(sampleManifest, old, new, 1) }
	lines := strings.SplitAfter(sampleManifest, "\n")
	cases := map[string]string{
		"empty": "", "another head": swap("manifest 1", "manifest 2"), "only the head": "asleft manifest 1\n",
		"cut short":                      strings.Join(lines[:3], ""),
		"cut in the last":                strings.TrimSuffix(sampleManifest, "\n"),
		"wrong number":                   swap("end 2", "end 3"),
		"number spelled oddly":           swap("end 2", "end 02"),
		"something after":                sampleManifest + "x\n",
		"capital digest":                 swap("ba78", "BA78"),
		"short digest":                   swap("ba78", "ba7"),
		"long digest":                    swap("ba78", "ba7800"),
		"no digest":                      swap("ba78", "zz78"),
		"negative size":                  swap(" 3 ", " -3 "),
		"size spelled oddly":             swap(" 3 ", " 03 "),
		"size too large":                 swap(" 3 ", " 9223372036854775808 "),
		"size in letters":                swap(" 3 ", " three "),
		"no size":                        swap(" 3 ", " "),
		"climbing path":                  swap("a/abc.html", "../abc.html"),
		"absolute path":                  swap("a/abc.html", "/abc.html"),
		"path with backslash":            swap("a/abc.html", `a\abc.html`),
		"no path":                        swap(" a/abc.html", " "),
		"the list of an earlier version": swap("a/abc.html", earlierName),
		"twice":                          swap("b c", "a/abc.html"),
		"out of order":                   lines[0] + lines[2] + lines[1] + lines[3],
		"CRLF":                           strings.ReplaceAll(sampleManifest, "\n", "\r\n"),
	}
	for name, text := range cases {
		if l, _, err := parseManifest([]byte(text)); err == nil {
			t.Errorf("%s: read as %v", name, l)
		}
	}
}

// What is read as a manifest is exactly what would be written.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(sampleManifest))
	f.Add([]byte("asleft manifest 1\nend 0\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, head, err := parseManifest(text)
		if err == nil && string(l.text(head)) != string(text) {
			t.Errorf("read %q, would write %q", text, l.text(head))
		}
	})
}
