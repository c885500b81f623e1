package generator_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/handover"
	"asleft/generator/testenv"
	"asleft/themes"
)

// checkable is a shop's site with one sealed report, set down in a folder, and
// a folder of files that somebody might pick there.
func checkable(t *testing.T, theme string) (site, picks, code, facts string) {
	t.Helper()
	folder := inMemory(t, "../testdata/golden/shop")
	if err := folder.RemoveAll("handovers"); err != nil {
		t.Fatal(err)
	}
	html, pdf, made := sealReport(t, folder, afero.NewMemMapFs(), "plover", "2026-03-21")
	seal, err := afero.ReadFile(folder, made.File)
	if err != nil {
		t.Fatal(err)
	}
	site, picks = t.TempDir(), t.TempDir()
	put := func(dir, name string, data []byte) {
		t.Helper()
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range madeFrom(t, folder, afero.NewMemMapFs(), generator.Options{Theme: themes.Named(theme)}) {
		put(site, name, []byte(text))
	}
	flipped := func(data []byte, at int) []byte {
		other := append([]byte{}, data...)
		other[at] ^= 1
		return other
	}
	put(picks, "report.html", html)
	put(picks, "report.pdf", pdf)
	put(picks, "sealed.json", seal)
	put(picks, "flipped.html", flipped(html, len(html)/2))
	put(picks, "flipped-end.html", flipped(html, len(html)-1))
	put(picks, "flipped.pdf", flipped(pdf, len(pdf)-3))
	put(picks, "shorter.html", html[:len(html)-1])
	put(picks, "empty.html", nil)
	put(picks, "holiday.txt", []byte("nothing of the kind"))
	return site, picks, made.Seal.Code, made.Seal.FactsDigest
}

// said is what the page answers once it has read.
func said(t *testing.T, ctx context.Context) string {
	t.Helper()
	return testenv.Ask[string](t, ctx, `new Promise((done, fail) => {
		const look = () => { const a = document.getElementById('verify-answer').textContent; a && !a.startsWith('Reading') ? done(a) : setTimeout(look, 10) };
		setTimeout(() => fail(new Error('no answer')), 20000); look() })`)
}

// A buyer picks a file or types a code, and reads what it is: in every theme,
// from a server and from a folder opened as a file.
func TestVerifyPage(t *testing.T) {
	ctx := testenv.Browser(t)
	for _, theme := range builtIn(t) {
		site, picks, code, facts := checkable(t, theme)
		server := httptest.NewServer(http.FileServer(http.Dir(site)))
		t.Cleanup(server.Close)
		for _, at := range []string{server.URL + "/verify/", "file://" + filepath.ToSlash(site) + "/verify/index.html"} {
			const own, other, none = "This is the file that the shop sealed on March 21, 2026.", "This is not the file that the shop sealed.", "This file is not one of the list."
			for file, want := range map[string]string{
				"report.html": own, "report.pdf": own, "sealed.json": own, "flipped.html": other, "flipped-end.html": other, "flipped.pdf": other,
				"shorter.html": other, "empty.html": none, "holiday.txt": none,
			} {
				testenv.Do(t, ctx, chromedp.Navigate(at), testenv.Shown("#verify-file"),
					testenv.Attach("#verify-file", filepath.Join(picks, file)))
				if got := said(t, ctx); !strings.HasPrefix(got, want) || want != none && !strings.Contains(got, handover.GroupedCode(code)) {
					t.Errorf("%s: %s: the page says %q", at, file, got)
				}
			}
			const known = "The shop sealed a report with this code on March 21, 2026."
			for typed, want := range map[string]string{
				code: known, " " + strings.ToUpper(code[:5]) + "-" + code[5:] + " ": known, facts: known, facts[:10]: known, facts[:4] + " " + facts[4:8] + " " + facts[8:12]: known, facts[:40]: known,
				facts[:9]:    "This is no code.",
				"0123456789": "This code is not one of the list.", "plover": "This is no code.", "": "This is no code.",
			} {
				testenv.Do(t, ctx, chromedp.Navigate(at), testenv.Shown("#verify-code"),
					testenv.Type("#verify-code", typed+"\r"))
				if got := said(t, ctx); !strings.HasPrefix(got, want) {
					t.Errorf("%s: %q typed in: the page says %q", at, typed, got)
				}
			}
		}
	}
}

// Only the page to check a report has a script that runs, and its policy allows
// that one by its digest. Without it the form stays hidden and all else is there.
func TestOnlyOneScript(t *testing.T) {
	for _, theme := range builtIn(t) {
		pages := 0
		for name, text := range exampleIn(t, theme) {
			if !strings.HasSuffix(name, ".html") {
				continue
			}
			pages++
			runs := strings.Count(text, "<script>")
			if want := map[bool]int{true: 1}[name == "verify/index.html"]; runs != want {
				t.Errorf("%s has %d scripts, want %d", name, runs, want)
			}
			if strings.Contains(text, "script-src 'unsafe") || strings.Contains(text, "script-src 'self") {
				t.Errorf("%s allows any script", name)
			}
		}
		if pages < 10 {
			t.Fatalf("only %d pages", pages)
		}
	}
}

// A browser that will not work out digests, as on a page without encryption,
// says so and still knows codes; one without scripts shows no form at all, and
// the whole list.
func TestVerifyPageWithout(t *testing.T) {
	site, _, code, _ := checkable(t, "jobcard")
	server := httptest.NewServer(http.FileServer(http.Dir(site)))
	t.Cleanup(server.Close)
	set := func(ctx context.Context, call func(context.Context, *chromedp.Target) error) {
		t.Helper()
		testenv.Do(t, ctx, chromedp.Func(call), chromedp.Navigate(server.URL+"/verify/"))
		testenv.Comes(t, ctx, "the form", `!!document.getElementById('verify-form')`)
	}
	t.Run("digests", func(t *testing.T) {
		ctx := testenv.Browser(t)
		set(ctx, func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
				Source: `Object.defineProperty(Crypto.prototype, 'subtle', {get: () => undefined})`,
			})
			return err
		})
		if got := said(t, ctx); !strings.HasPrefix(got, "This browser cannot") || !testenv.Ask[bool](t, ctx, `document.getElementById('verify-file').disabled`) {
			t.Errorf("the page says %q", got)
		}
		testenv.Do(t, ctx, testenv.Type("#verify-code", code+"\r"))
		if got := said(t, ctx); !strings.HasPrefix(got, "The shop sealed a report with this code") {
			t.Errorf("a code: the page says %q", got)
		}
	})
	t.Run("scripts", func(t *testing.T) {
		ctx := testenv.Browser(t)
		set(ctx, func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
			return err
		})
		if high := testenv.Ask[float64](t, ctx, `document.getElementById('verify-form').getBoundingClientRect().height`); high != 0 {
			t.Errorf("the form is %v px high", high)
		}
		if text := testenv.Ask[string](t, ctx, `document.body.innerText`); !strings.Contains(text, handover.GroupedCode(code)) || !strings.Contains(text, "sha256sum") {
			t.Errorf("the page without its script says %s", text)
		}
	})
}
