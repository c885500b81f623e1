package desk_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/desk"
)

// Whoever does not know how the way to a folder is written looks through the folders.
func TestLooksForTheShopsFolder(t *testing.T) {
	top := t.TempDir()
	for _, dir := range []string{"Shop", "papers/letters", "barn", ".hidden"} {
		if err := os.MkdirAll(filepath.Join(top, dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for _, file := range []string{"papers/a.txt", "barn/shop.md"} {
		if err := os.WriteFile(filepath.Join(top, file), []byte("---\nshop: Barn\ncurrency: USD\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c := desk.NewChooser(catalog.English, filepath.Join(top, "Shop"), nil)
	look := func(in string) string {
		t.Helper()
		r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:7"+c.Path()+"?"+url.Values{"in": {in}}.Encode(), nil)
		r.RemoteAddr = "127.0.0.1:9"
		w := httptest.NewRecorder()
		c.Handler("127.0.0.1:7").ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			t.Fatalf("%d: %s", w.Code, w.Body)
		}
		return w.Body.String()
	}
	in := func(parts ...string) string { return filepath.Join(append([]string{top}, parts...)...) }
	for _, tc := range []struct {
		in, dir     string
		holds, lack []string
	}{
		{"", in("Shop"), []string{">Shop</a>", ">papers</a>", ">barn <strong>a shop</strong>"}, []string{".hidden", `id="look" open`}},
		{"no/whole/way", in("Shop"), []string{">papers</a>"}, []string{`id="look" open`}},
		{in("papers"), in("papers", "Shop"), []string{">letters</a>", `id="look" open`, "One folder up"}, []string{">barn"}},
		{in("papers", "letters"), in("papers", "letters"), []string{"No folder is in here."}, nil},
		{in("barn"), in("barn"), []string{"No folder is in here."}, nil},
		{in("not there"), in("not there", "Shop"), []string{"No folder is in here."}, nil},
	} {
		page := look(tc.in)
		if !strings.Contains(page, `name="dir" value="`+tc.dir+`"`) {
			t.Errorf("%q: it does not propose %s", tc.in, tc.dir)
		}
		for _, text := range tc.holds {
			if !strings.Contains(page, text) {
				t.Errorf("%q: without %q", tc.in, text)
			}
		}
		for _, text := range tc.lack {
			if strings.Contains(page, text) {
				t.Errorf("%q: with %q", tc.in, text)
			}
		}
	}
}
