package portable_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"asleft/generator/portable"
)

// The names are those of Microsoft's "Naming Files, Paths, and Namespaces".
func TestDevice(t *testing.T) {
	for name, want := range map[string]bool{
		"CON": true, "con": true, "Con.txt": true, "con.tar.gz": true, "prn": true, "AUX.jpg": true, "nul": true, "com1": true, "COM9.md": true, "lpt1": true, "LPT9": true,
		"com\u00b9": true, "lpt\u00b2.txt": true, "COM\u00b3": true,
		"conin$": true, "CONOUT$.jpg": true, "com0": true, "nul .jpg": true, " con": true, // from memory
		"": false, "cone": false, "con-rod": false, "recon": false, "com": false, "com10": false, "lpt": false, "lptx": false, "comb": false, "a.con": false, "com\u2074": false, "machine.md": false,
	} {
		if got := portable.Device(name); got != want {
			t.Errorf("Device(%q) is %v", name, got)
		}
	}
}

// Two names are folded alike if and only if the standard's own simple folding,
// as package strings has it, takes them for equal.
func TestFoldIsSimpleFolding(t *testing.T) {
	letters := rapid.SampledFrom([]rune("aAbBkK\u212asS\u017fzZéÉßẞøØµμΜσςΣ.-1"))
	rapid.Check(t, func(t *rapid.T) {
		a := string(rapid.SliceOfN(letters, 1, 4).Draw(t, "a"))
		b := string(rapid.SliceOfN(letters, 1, 4).Draw(t, "b"))
		if (portable.Fold(a) == portable.Fold(b)) != strings.EqualFold(a, b) {
			t.Fatalf("%q and %q: folded to %q and %q", a, b, portable.Fold(a), portable.Fold(b))
		}
	})
	for _, r := range "aAkKsSéßµσ" {
		for _, other := range "\u212a\u017fÉẞμςΣAKS" {
			if (portable.Fold(string(r)) == portable.Fold(string(other))) != strings.EqualFold(string(r), string(other)) {
				t.Errorf("%q and %q", r, other)
			}
		}
	}
}

// A Mac writes an accent apart from its letter (NFD), others as one sign (NFC).
func TestFoldJoinsAccents(t *testing.T) {
	if a, b := portable.Fold("Fra\u0308se.jpg"), portable.Fold("FRÄSE.JPG"); a != b {
		t.Errorf("%q and %q", a, b)
	}
	if portable.Fold("Fräse") == portable.Fold("Frase") {
		t.Error("a letter without its accent is another letter")
	}
}

func TestSlug(t *testing.T) {
	for text, want := range map[string]string{
		"First look": "first-look", "  It's the ground! ": "its-the-ground", "the mower\u2019s deck": "the-mowers-deck", "Öl läuft, heiß": "ol-lauft-heiss",
		"油漏れ": "", "../../etc/passwd": "etc-passwd", "CON": "con", "A/B: c\\d": "a-b-c-d", "two -- three": "two-three", "- ' -": "", "bad\xffbyte": "bad-byte",
		strings.Repeat("x", 200): strings.Repeat("x", 200),
	} {
		if got := portable.Slug(text); got != want {
			t.Errorf("Slug(%q) is %q, want %q", text, got, want)
		}
	}
}

func TestShortSlug(t *testing.T) {
	for _, c := range []struct {
		text    string
		longest int
		want    string
	}{
		{"one two three", 13, "one-two-three"}, {"one two three", 12, "one-two"}, {"one two three", 7, "one-two"}, {"one two three", 6, "one"}, {"carburetor", 4, "carb"}, {"", 4, ""},
	} {
		if got := portable.ShortSlug(c.text, c.longest); got != c.want {
			t.Errorf("ShortSlug(%q, %d) is %q, want %q", c.text, c.longest, got, c.want)
		}
	}
}

// Whatever is typed, what comes of it is a name or nothing, and a name stays as it
// is.
func TestSlugsAreSlugs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, longest := rapid.String().Draw(t, "text"), rapid.IntRange(1, 20).Draw(t, "longest")
		for _, slug := range []string{portable.Slug(text), portable.ShortSlug(text, longest)} {
			if slug != "" && (!portable.IsSlug(slug) || portable.Slug(slug) != slug) {
				t.Errorf("%q became %q", text, slug)
			}
		}
		if short := portable.ShortSlug(text, longest); len(short) > longest || !strings.HasPrefix(portable.Slug(text), short) {
			t.Errorf("%q in %d letters became %q", text, longest, short)
		}
	})
	for _, bad := range []string{"", "-a", "a-", "a--b", "A", "a_b", "a.b", "über", "a/b", "a\n"} {
		if portable.IsSlug(bad) {
			t.Errorf("%q is taken for a slug", bad)
		}
	}
}
