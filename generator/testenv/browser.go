package testenv

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// patience is how long a browser works for one test, on a machine that has much else to
// do; then it is stopped, whatever it is doing. What a page is to do by itself has limits
// of its own, in the page's tests.
const patience = 20 * time.Minute

// longest is how long a page is waited for: one that works is there in a second, on a
// machine with much else to do in ten.
const longest = 3 * time.Minute

// Browser starts a real browser that waits for instructions.
func Browser(t testing.TB) context.Context {
	t.Helper()
	return BrowserIn(t, t.TempDir())
}

// BrowserIn starts a real browser with a folder of its own for what it keeps.
func BrowserIn(t testing.TB, profile string) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(Program(t, "chromium")), chromedp.NoSandbox, chromedp.UserDataDir(profile),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	Do(t, ctx, chromedp.Navigate("about:blank"))
	ctx, stop = context.WithTimeout(ctx, patience)
	t.Cleanup(stop)
	return ctx
}

// Do has the browser do steps, in order.
func Do(t testing.TB, ctx context.Context, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// Ask runs a script in the page and returns what it comes to, a promise's end
// included.
func Ask[T any](t testing.TB, ctx context.Context, script string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%s: %v", script[:min(len(script), 80)], err)
	}
	return v
}

// Comes waits until a script comes to true in the page.
func Comes(t testing.TB, ctx context.Context, what, script string) {
	t.Helper()
	for until := time.Now().Add(longest); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		v, err := chromedp.Run(ctx, chromedp.Evaluate[bool](script, chromedp.EvalAwaitPromise))
		if err == nil && v {
			return
		}
	}
	text, _ := chromedp.Run(ctx, chromedp.Evaluate[string](`document.body.innerText`))
	t.Fatalf("%s never came: %s; the page says\n%s", what, script, text)
}

// Prefers has the browser ask for light or dark pages.
func Prefers(scheme string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		return err
	})
}
