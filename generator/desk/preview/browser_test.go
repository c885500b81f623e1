package preview

import (
	"context"
	"net"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"asleft/generator/desk/access"
	"asleft/generator/testenv"
)

// notice is the text of the notice over the page.
const notice = `document.querySelector('asleft-notice').shadowRoot.querySelector('section').innerText`

func TestAnOpenPageFollows(t *testing.T) {
	ctx := testenv.Browser(t)
	dir := newShop(t)
	long := small[entry] + strings.Repeat("\nOne more line of the evening.\n", 80)
	write(t, dir+"/"+entry, []byte(long))
	b := following(t, dir)
	b.until("the site", func(s *state) bool { return s.site != nil })
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	serving, stop := context.WithCancel(context.Background())
	defer stop()
	ended := make(chan error, 1)
	go func() { ended <- access.Serve(serving, b.Handler(l.Addr().String()), l) }()

	testenv.Do(t, ctx, chromedp.EmulateViewport(390, 800), chromedp.Navigate("http://"+l.Addr().String()+"/machines/saw/"))
	testenv.Comes(t, ctx, "the notice", `document.querySelector('asleft-notice') !== null`)
	// A mark on the page and one on the photo: neither is loaded anew.
	testenv.Ask[bool](t, ctx, `(() => { window.kept = true; document.querySelector('.evening img, main img').kept = true; scrollTo({top: 900, behavior: 'instant'}); return true })()`)
	at := testenv.Ask[float64](t, ctx, `scrollY`)
	if at < 500 {
		t.Fatalf("the page is too short to scroll: %v", at)
	}

	b.save(entry, strings.Replace(long, "Said 0.", "Said seven times.", 1))
	testenv.Comes(t, ctx, "the edit", `document.querySelector('main').innerText.includes('Said seven times.')`)
	if !testenv.Ask[bool](t, ctx, `window.kept === true && document.querySelector('.evening img, main img').kept === true`) {
		t.Error("the page or its photo was loaded anew")
	}
	if now := testenv.Ask[float64](t, ctx, `scrollY`); now < at-1 || now > at+1 {
		t.Errorf("the page moved from %v to %v", at, now)
	}

	b.save(entry, strings.Replace(long, "hours: 1", "hours: <img src=x onerror=alert(1)>", 1))
	testenv.Comes(t, ctx, "the problem", notice+`.includes('1 problem to mend')`)
	text := testenv.Ask[string](t, ctx, notice)
	for _, want := range []string{entry + ":4: hours", "hours: <img src=x onerror=alert(1)>"} {
		if !strings.Contains(text, want) {
			t.Errorf("the notice does not say %q:\n%s", want, text)
		}
	}
	if !testenv.Ask[bool](t, ctx, `document.querySelector('main').innerText.includes('Said seven times.')`) {
		t.Error("the last good page is gone")
	}
	if dir := os.Getenv("ASLEFT_SHOTS"); dir != "" {
		shot, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir+"/problem.png", shot)
	}
	b.save(entry, strings.Replace(long, "Said 0.", "Said mended.", 1))
	testenv.Comes(t, ctx, "the mended page", notice+` === '' && document.querySelector('main').innerText.includes('Said mended.')`)

	stop()
	testenv.Comes(t, ctx, "the news of the end", notice+`.includes('The preview has stopped')`)
	if err := <-ended; err != nil {
		t.Errorf("the server did not end cleanly: %v", err)
	}
}
