package desk_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator/testenv"
)

// A picked is a photo as somebody picked it.
type picked struct {
	name string
	data []byte
}

// put sends a form with photos.
func (b *table) put(at string, v url.Values, photos ...picked) *httptest.ResponseRecorder {
	b.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	v.Set("do", "photos")
	for name, values := range v {
		for _, value := range values {
			if err := form.WriteField(name, value); err != nil {
				b.t.Fatal(err)
			}
		}
	}
	for _, p := range photos {
		w, err := form.CreateFormFile("photo", p.name)
		if err == nil {
			_, err = w.Write(p.data)
		}
		if err != nil {
			b.t.Fatal(err)
		}
	}
	if err := form.Close(); err != nil {
		b.t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, at, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Origin", "http://"+host)
	return b.ask(r)
}

// grains is a photo of which no half is like the other.
func grains(t *testing.T, seed uint64) []byte {
	t.Helper()
	pic := image.NewGray(image.Rect(0, 0, 300, 200))
	random := rand.New(rand.NewPCG(seed, 1)) //nolint:gosec // a picture
	for y := range 200 {
		for x := range 300 {
			pic.SetGray(x, y, color.Gray{Y: uint8(random.IntN(256))}) //nolint:gosec // below 256
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, pic, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// TestPhotosThatAreNone: of several photos the good ones are taken in, and have their rows;
// each of the others is named, with what is wrong, on the evening's own page, where what was
// typed still stands. None of them is in the folder.
func TestPhotosThatAreNone(t *testing.T) {
	b := newTable(t)
	before, err := b.photosIn("gannet")
	if err != nil {
		t.Fatal(err)
	}
	first, second := grains(t, 1), grains(t, 2)
	v := formOf(t, b.get(evening))
	v.Set("story", "The seat and the belt.")
	large := append(grains(t, 3), make([]byte, 65<<20)...)
	w := b.put(evening, v, picked{"seat.jpg", first}, picked{"half.jpg", second[:len(second)/2]}, picked{"letter.jpg", []byte("Dear sir")}, picked{"large.jpg", large}, picked{"belt.jpg", second})
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), evening+"?") || !strings.HasSuffix(w.Header().Get("Location"), "#photos") {
		t.Fatalf("%d %s %s", w.Code, w.Header().Get("Location"), w.Body)
	}
	to, _, _ := strings.Cut(w.Header().Get("Location"), "#")
	page := b.get(to)
	_, told, _ := strings.Cut(page, `<ul id="refused"`)
	told, _, _ = strings.Cut(told, "</ul>")
	for _, want := range []string{"half.jpg was not put in: the photo is damaged or cut short", "letter.jpg was not put in: this is a text file, not a photo", "large.jpg was not put in. It has 66 MB, and a photo may have 64 MB."} {
		if !strings.Contains(told, "<li>"+want) {
			t.Errorf("it does not say %q:\n%s", want, told)
		}
	}
	if n := strings.Count(told, "<li>"); n != 3 {
		t.Errorf("%d are refused, want 3", n)
	}
	v = formOf(t, page)
	if v.Get("story") != "The seat and the belt." || v.Get("f.photos.0.file") == "" || v.Get("f.photos.1.file") == "" || v.Has("f.photos.2.file") {
		t.Errorf("the draft says %q, with %q and %q", v.Get("story"), v.Get("f.photos.0.file"), v.Get("f.photos.1.file"))
	}
	for n, want := range map[string][]byte{v.Get("f.photos.0.file"): first, v.Get("f.photos.1.file"): second} {
		if b.file("machines/gannet/photos/"+n) != string(want) {
			t.Errorf("%s is another photo", n)
		}
	}
	if after, err := b.photosIn("gannet"); err != nil || after != before+2 {
		t.Errorf("there are %d photos, and were %d (%v)", after, before, err)
	}
	if strings.Contains(b.get(evening), "letter.jpg was not put in") {
		t.Error("it is told of for ever")
	}
}

func (b *table) photosIn(key string) (int, error) {
	all, err := afero.Glob(b.folder, "machines/"+key+"/photos/*")
	return len(all), err
}

// TestTooManyPhotosAtOnce: more than goes at once is told of on a page of the desk, which
// leads back; who is not let in gets the short words.
func TestTooManyPhotosAtOnce(t *testing.T) {
	b := newTable(t)
	ask := func(origin string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(http.MethodPost, evening, strings.NewReader(""))
		r.ContentLength = 201 << 20
		r.Header.Set("Origin", origin)
		return b.ask(r)
	}
	w := ask("http://" + host)
	if page := w.Body.String(); w.Code != http.StatusRequestEntityTooLarge || !strings.Contains(page, "More than 200 MB was sent at once") || !strings.Contains(page, `<a class="do" href="`+evening+`">`) {
		t.Errorf("%d %s", w.Code, page)
	}
	if w := ask("http://evil.example"); w.Code != http.StatusForbidden || strings.Contains(w.Body.String(), "<") {
		t.Errorf("a stranger gets %d %s", w.Code, w.Body)
	}
}

// TestLargePhotosInABrowser: what the desk would not take is told before it is sent; what was
// typed stays, and a good photo goes as before.
func TestLargePhotosInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	b, at := served(t)
	dir := t.TempDir()
	file := func(name string, data []byte, size int64) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if size > 0 {
			if err := os.Truncate(name, size); err != nil {
				t.Fatal(err)
			}
		}
		return name
	}
	good := file("good.jpg", grains(t, 4), 0)
	large := file("large.jpg", grains(t, 5), 65<<20)
	var many []string
	for _, name := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg"} {
		many = append(many, file(name, grains(t, 6), 60<<20))
	}
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+evening), testenv.Shown("#story"), testenv.Type("#story", "Typed."), testenv.Attach("#photo", good, large))
	testenv.Comes(t, ctx, "that one is too large", `document.getElementById('refused').textContent.includes('large.jpg was not put in. It has 65 MB, and a photo may have 64 MB.')`)
	testenv.Do(t, ctx, testenv.Attach("#photo", many...))
	testenv.Comes(t, ctx, "that they are too many", `document.getElementById('refused').textContent.includes('These photos have 240 MB together, and 196 MB go at once.') && !document.getElementById('refused').textContent.includes('large.jpg')`)
	testenv.Do(t, ctx, testenv.Attach("#photo", good))
	testenv.Comes(t, ctx, "its row", `!!document.querySelector('[name="f.photos.0.file"]')?.value && document.getElementById('story').value === 'Typed.' && document.getElementById('refused').hidden`)
	if n, err := b.photosIn("gannet"); err != nil || n == 0 {
		t.Errorf("%d photos, %v", n, err)
	}
}
