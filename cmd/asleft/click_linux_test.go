package main

import (
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"asleft/generator/testenv"
)

// doubleClicked starts the program as a desktop does, without a terminal, and returns the
// address that it has the system open.
func doubleClicked(t *testing.T, settings string) (c *exec.Cmd, address string) {
	t.Helper()
	bin := t.TempDir()
	opened := filepath.Join(bin, "opened")
	script := "#!/bin/sh\nprintf %s \"$1\" > " + opened + ".new && mv " + opened + ".new " + opened + "\n"
	if err := os.WriteFile(filepath.Join(bin, "xdg-open"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	c = exec.Command("asleft")
	c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+settings, "HOME="+settings, "DISPLAY=:99", "PATH="+bin+":"+os.Getenv("PATH"))
	c.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill() })
	for late := time.Now().Add(20 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if text, err := os.ReadFile(opened); err == nil {
			return c, string(text)
		}
		if time.Now().After(late) {
			t.Fatal("nothing was opened")
		}
	}
}

// TestADoubleClick: the first time it asks where the shop is to be, makes it and goes on
// there; the next time it opens there by itself; a shop that is open gets one more tab.
func TestADoubleClick(t *testing.T) {
	settings := t.TempDir()
	first, asks := doubleClicked(t, settings)
	browser := &http.Client{Jar: newJar(t)}
	if page := pageOf(t, browser, asks); !strings.Contains(page, "Where is your shop?") || !strings.Contains(page, filepath.Join(settings, "Shop")) {
		t.Fatalf("it asks:\n%s", page)
	}
	other := t.TempDir()
	if err := os.WriteFile(filepath.Join(other, "letter.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for dir, says := range map[string]string{other: "Other things lie in", "shop": "does not say where it begins", filepath.Join(other, "letter.txt"): "cannot be made"} {
		if page, err := posted(browser, asks, url.Values{"dir": {dir}}); err != nil || !strings.Contains(page, says) {
			t.Errorf("%s: %v\n%s", dir, err, page)
		}
	}
	shop := filepath.Join(settings, "Shop")
	page, err := posted(browser, asks, url.Values{"dir": {shop}})
	if err != nil || !strings.Contains(page, "It is kept in "+shop) {
		t.Fatalf("picked: %v\n%s", err, page)
	}
	_, next := doubleClicked(t, settings)
	home := letIn(t, browser, next)
	if page := pageOf(t, browser, home+"/desk/"); !strings.Contains(page, "There is no shop in this folder yet") {
		t.Errorf("one more tab shows\n%s", page)
	}
	if _, err := posted(browser, home+"/desk/start", url.Values{"name": {"Back Lane"}, "currency": {"USD"}}); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(shop, "shop.md")); err != nil {
		t.Fatal(err)
	}
	if err := first.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := first.Wait(); err != nil {
		t.Errorf("it ended with %v", err)
	}
	_, again := doubleClicked(t, settings)
	home = letIn(t, browser, again)
	for late := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		page := pageOf(t, browser, home+"/desk/")
		if strings.Contains(page, "Back Lane") {
			break
		}
		if !strings.Contains(page, "being read") || time.Now().After(late) {
			t.Fatalf("the next day it shows\n%s", page)
		}
	}
}

// TestADoubleClickInABrowser picks the shop's folder with a real browser, which keeps to
// the page's policy where a client without pictures does not, and begins the shop.
func TestADoubleClickInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	settings := t.TempDir()
	_, asks := doubleClicked(t, settings)
	testenv.Do(t, ctx, chromedp.Navigate(asks), testenv.Press(`form button`))
	testenv.Comes(t, ctx, "the door of the desk", `document.querySelector('form')?.getAttribute('action') === '/desk/in'`)
	testenv.Do(t, ctx, testenv.Press(`form button`))
	testenv.Comes(t, ctx, "what the shop is called", `!!document.getElementById('name')`)
	testenv.Do(t, ctx, testenv.Fill(`#name`, "Back Lane"), testenv.Fill(`#currency`, "USD"), testenv.Press(`form button`))
	testenv.Comes(t, ctx, "the shop", `document.querySelector('.home')?.textContent === 'Back Lane'`)
	if _, err := os.Stat(filepath.Join(settings, "Shop", "shop.md")); err != nil {
		t.Error(err)
	}
}
