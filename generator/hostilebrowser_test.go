package generator_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/testenv"
)

// longestPayload is how long a payload may be that goes into the shop with all
// the others: the huge ones are for the reader, not for a browser.
const longestPayload = 400

// combined is one shop with every payload that has to be harmless: an evening
// for each text field payload, one for each Markdown body, and the photo that
// is a page too.
func combined(t *testing.T) afero.Fs {
	t.Helper()
	evening, err := os.ReadFile(hostile + "/evening.txt")
	if err != nil {
		t.Fatal(err)
	}
	folder := filled(t, hostileCase{}, `"><script>window.__hit=1</script><img src=x onerror=window.__hit=1>`, false)
	put := func(name string, data []byte) {
		if err := afero.WriteFile(folder, name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	day, evenings := time.Date(2026, 3, 6, 0, 0, 0, 0, time.UTC), 0
	for _, c := range hostileCases(t) {
		field, body := string(c.payload), "Body."
		switch {
		case c.problem != "" || len(c.payload) > longestPayload:
			continue
		case c.context == "photos" && c.name == "html behind a jpeg":
			put("machines/m/photos/a.jpg", c.payload)
			continue
		case c.context == "body" || c.context == "bodyphotos":
			field, body = "plain words of "+c.name, string(c.payload)
		case c.context != "fields":
			continue
		}
		day = day.AddDate(0, 0, 1)
		evenings++
		text := strings.NewReplacer("@d", day.Format(time.DateOnly), "@q", quotedYAML(field), "@p", reasonOf(field), "@n", strconv.Itoa(evenings), "@b", body).Replace(string(evening))
		put("machines/m/"+day.Format(time.DateOnly)+"-x.md", []byte(text))
	}
	if evenings < 200 {
		t.Fatalf("only %d evenings", evenings)
	}
	return folder
}

// combinedSite is the site of the combined shop, with the buyer's report of its
// machine in it.
func combinedSite(t *testing.T) map[string]string {
	t.Helper()
	site, buyer, err := sealedSite(combined(t))
	if err != nil {
		t.Fatal(err)
	}
	for ending, data := range buyer {
		site["report"+ending] = data
	}
	return site
}

// TestHostileTogether makes one shop of all that has to be harmless: what one
// case leaves open, another could close.
func TestHostileTogether(t *testing.T) {
	site := combinedSite(t)
	report, pdf := site["report.html"], site["report.pdf"]
	delete(site, "report.html")
	delete(site, "report.pdf")
	checkSafe(t, site)
	checkReportPage(t, report)
	checkPDF(t, []byte(pdf))
	checkCount(t)
}

// checkCount looks at the tally of the same shop.
func checkCount(t *testing.T) {
	t.Helper()
	r, err := generator.Read(combined(t), generator.Options{Today: "2026-11-25"})
	if err != nil || len(r.Problems) > 0 {
		t.Fatal(err, r.Problems)
	}
	checkCSV(t, r)
}

// A real browser opens the pages of that shop: no script runs, nothing asks
// anybody else for anything, no page goes elsewhere.
func TestHostileInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	files := fstest.MapFS{}
	var pages []string
	for name, data := range combinedSite(t) {
		files[name] = &fstest.MapFile{Data: []byte(data)}
		if path.Ext(name) == ".html" {
			pages = append(pages, name)
		}
	}
	if len(pages) < 8 {
		t.Fatalf("%d pages", len(pages))
	}
	server := httptest.NewServer(http.FileServerFS(files))
	t.Cleanup(server.Close)
	seen := listen(t, ctx)
	for _, p := range pages {
		address := server.URL + "/" + strings.TrimSuffix(p, "index.html")
		testenv.Do(t, ctx, chromedp.Navigate(address))
		if got := testenv.Ask[string](t, ctx, wiggle); got != address+" clean" {
			t.Errorf("%s: %s", address, got)
		}
	}
	seen.mu.Lock()
	defer seen.mu.Unlock()
	if len(seen.asked) < 2*len(pages) {
		t.Errorf("only %d requests were seen", len(seen.asked))
	}
	for _, a := range seen.asked {
		if !strings.HasPrefix(a, server.URL+"/") && !strings.HasPrefix(a, "data:image/jpeg;base64,") {
			t.Errorf("a page asked for %.200s", a)
		}
	}
	for _, m := range seen.said {
		if !strings.HasSuffix(m, "/favicon.ico") {
			t.Errorf("the browser says: %s", m)
		}
	}
}

// wiggle does what could set off a handler, waits, and tells where the page is
// now and whether anything ran.
const wiggle = `new Promise(done => {
	for (const e of document.querySelectorAll('*')) {
		for (const kind of ['mouseover', 'focus', 'toggle', 'animationstart', 'error', 'load']) e.dispatchEvent(new Event(kind));
	}
	scrollTo(0, document.body.scrollHeight);
	setTimeout(() => done(location.href + (window.__hit === undefined && parent.__hit === undefined ? ' clean' : ' HIT')), 60);
})`

type witnessed struct {
	mu          sync.Mutex
	asked, said []string
}

// listen notes what the browser asks for and complains of.
func listen(t *testing.T, ctx context.Context) *witnessed {
	t.Helper()
	var w witnessed
	err := chromedp.Listen(ctx, func(ev any) {
		w.mu.Lock()
		defer w.mu.Unlock()
		switch ev := ev.(type) {
		case *network.EventRequestWillBeSent:
			w.asked = append(w.asked, ev.Request.URL)
		case *runtime.EventExceptionThrown:
			w.said = append(w.said, ev.ExceptionDetails.Text)
		case *log.EventEntryAdded:
			w.said = append(w.said, ev.Entry.Text+" "+ev.Entry.URL)
		case *cdppage.EventJavascriptDialogOpening:
			w.said = append(w.said, "a dialog: "+ev.Message)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	testenv.Do(t, ctx, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		if _, err := cdp.Call(ctx, target, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, target, log.Enable, cdp.Empty{})
		return err
	}))
	return &w
}
