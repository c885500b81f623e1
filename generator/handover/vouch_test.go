package handover

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/afero"
)

func TestAlteredFacts(t *testing.T) {
	fs, buyer, made := three(t)
	c := chainOf(t, fs)
	html := read(t, buyer, made[0].HTML)
	altered := bytes.ReplaceAll(html, []byte("seal leaks"), []byte("nothing"))
	v := c.VouchFile("anything.html", altered)
	if v.Answer != Altered || !v.Held || len(v.Differs) == 0 {
		t.Fatalf("got %+v", v)
	}
	i := slices.IndexFunc(v.Differs, func(d Difference) bool { return strings.HasPrefix(d.Where, "facts.record.subjects[0].name") })
	if i < 0 || v.Differs[i].Sealed != `"seal leaks"` || v.Differs[i].Here != `"nothing"` {
		t.Errorf("the differences: %+v", v.Differs)
	}
	pdf := bytes.ReplaceAll(read(t, buyer, made[0].PDF), []byte(`"name":"seal leaks"`), []byte(`"name":"seal holds"`))
	if v := c.VouchFile("anything.pdf", pdf); v.Answer != Altered || len(v.Differs) != 1 || v.Differs[0].Here != `"seal holds"` {
		t.Errorf("the PDF: %+v", v)
	}
}

// Somebody who writes the facts, the code and the digest anew gets a report
// that is nobody's, or, by machine and day, one that was altered.
func TestForgedReport(t *testing.T) {
	fs, buyer, made := three(t)
	c := chainOf(t, fs)
	other := shopWith(t, map[string]string{"machines/pump/2026-03-02-first.md": strings.Replace(firstEntry, "seal leaks", "paint chipped", 1)})
	forged := afero.NewMemMapFs()
	f := sealed(t, other, forged, nil, "2026-03-03")
	if v := c.VouchFile(f.HTML, read(t, forged, f.HTML)); v.Answer != Altered || v.Link.Seal.Code != made[0].Seal.Code || len(v.Differs) == 0 {
		t.Errorf("a forged report of the same day: %+v", v)
	}
	f = sealed(t, other, forged, nil, "2026-05-03")
	if v := c.VouchFile(f.HTML, read(t, forged, f.HTML)); v.Answer != NotOurs {
		t.Errorf("a forged report of another day: %+v", v)
	}
	if v := c.VouchFile("x", read(t, buyer, made[2].HTML)); v.Answer != Unaltered {
		t.Errorf("the real one: %+v", v)
	}
}

func TestCodes(t *testing.T) {
	fs, _, made := three(t)
	c := chainOf(t, fs)
	code := made[1].Seal.Code
	typed, ok := AsCode(" " + strings.ToUpper(code[:5]) + "-" + code[5:])
	if !ok || typed != code {
		t.Fatalf("%q was read as %q", code, typed)
	}
	if v := c.VouchCode(typed); len(v) != 1 || v[0].Answer != Unaltered || v[0].Link.Seal.Number != 2 {
		t.Errorf("the code of the second: %+v", v)
	}
	if v := c.VouchCode("0123456789"); len(v) != 0 {
		t.Errorf("no code: %+v", v)
	}
	for _, no := range []string{"", "123", "012345678", "g123456789", strings.Repeat("a", 65)} {
		if _, ok := AsCode(no); ok {
			t.Errorf("%q is taken for a code", no)
		}
	}
	data := read(t, fs, made[1].File)
	data[len(data)/2] ^= 1
	write(t, fs, made[1].File, data)
	if v := chainOf(t, fs).VouchCode(code); len(v) != 1 || v[0].Answer != NoProof {
		t.Errorf("a code whose sealed file was changed: %+v", v)
	}
}

func FuzzVouchFile(f *testing.F) {
	fs, buyer, made := small(f)
	c := chainOf(f, fs)
	own := map[string]bool{}
	for _, m := range made {
		for _, data := range [][]byte{read(f, buyer, m.HTML), read(f, buyer, m.PDF), read(f, fs, m.File)} {
			own[string(data)] = true
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if v := c.VouchFile("x", data); (v.Answer == Unaltered) != own[string(data)] {
			t.Errorf("%.40q: %s", data, v.Answer)
		}
	})
}
