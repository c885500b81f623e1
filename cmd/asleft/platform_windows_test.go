package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"golang.org/x/sys/windows"
)

// What Windows has and no other system: paths with an end, shares, files that are
// kept from others by being open or marked, code pages.

// everything has a yard's program do all that writes, and read it again.
func (y *yard) everything() {
	y.t.Helper()
	y.works("log", "a", "--title", "An evening", "--hours", "1", "--text", "Größe 24, Gewinde lose.")
	y.works("inspect")
	y.works("writeup", "--out", y.path("public/site"))
	y.works("handover", "a", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer))
	y.vouched("everything")
	if page := y.stock("public/site")["machines/a/index.html"]; !strings.Contains(page, "Größe 24") {
		y.t.Errorf("the page does not hold the entry: %d bytes", len(page))
	}
	y.noLeftovers("everything")
}

// A path may be longer than MAX_PATH, 260 letters
// (learn.microsoft.com/windows/win32/fileio/maximum-file-path-limitation).
func TestPathLongerThan260(t *testing.T) {
	t.Parallel()
	top := filepath.Join(t.TempDir(), strings.Repeat("d", 90), strings.Repeat("e", 90), strings.Repeat("f", 90))
	newYard(t, built(t), top).everything()
}

// ASLEFT_SHARE names a share to write on; without it the disk's own is tried, which
// only an administrator has.
func TestShopOnAShare(t *testing.T) {
	t.Parallel()
	share := os.Getenv("ASLEFT_SHARE")
	if share == "" {
		temp := os.TempDir()
		share = `\\localhost\` + strings.Replace(temp, ":", "$", 1)
	}
	top, err := os.MkdirTemp(share, "TestShopOnAShare")
	if err != nil {
		t.Skipf("no share can be written to here: %v", err)
	}
	defer os.RemoveAll(top)
	newYard(t, built(t), top).everything()
}

// A page that is marked read-only is told of, no part of the new site is in place, and
// with the mark away the next run does its work.
func TestReadOnlyFile(t *testing.T) {
	t.Parallel()
	y := newYard(t, built(t), t.TempDir())
	args := []string{"writeup", "--out", y.path("public/site")}
	y.works(args...)
	before := y.stock("public/site")
	page := y.path("public/site/machines/a/index.html")
	y.do(os.Chmod(page, 0o400))
	y.say("two")
	e := y.ends(args...)
	if e.code != fault || !strings.Contains(e.cried, "marked read-only") || !strings.Contains(e.cried, "machines/a/index.html") {
		t.Errorf("exit %d\n%s%s", e.code, e.said, e.cried)
	}
	y.same(y.stock("public/site"), before, "a page is read-only")
	y.do(os.Chmod(page, 0o600))
	y.works(args...)
	if !strings.Contains(y.stock("public/site")["machines/a/index.html"], "Words of version two.") {
		t.Error("the next run did not write the page")
	}
	// An entry that is read-only is read, and another written beside it.
	y.do(os.Chmod(y.path("shop/machines/a/2026-03-02-said.md"), 0o400))
	y.everything()
	y.do(os.Chmod(y.path("shop/machines/a/2026-03-02-said.md"), 0o600))
}

func (y *yard) do(err error) {
	y.t.Helper()
	if err != nil {
		y.t.Fatal(err)
	}
}

// hold opens a file as another program does, letting others do what share says.
func (y *yard) hold(name string, share uint32) (letGo func()) {
	y.t.Helper()
	path, err := windows.UTF16PtrFromString(y.path(name))
	y.do(err)
	handle, err := windows.CreateFile(path, windows.GENERIC_READ, share, nil, windows.OPEN_EXISTING, 0, 0)
	y.do(err)
	return func() { y.do(windows.CloseHandle(handle)) }
}

const (
	alone   = 0
	reading = windows.FILE_SHARE_READ
)

// A page that another program has open is waited for; where that takes too long, it is
// said which it is and why, and what a visitor finds is whole.
func TestFileHeldOpen(t *testing.T) {
	t.Parallel()
	for name, share := range map[string]uint32{"read by others": reading, "alone": alone} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			y := newYard(t, built(t), t.TempDir())
			args := []string{"writeup", "--out", y.path("public/site")}
			y.say("two")
			y.works(args...)
			two := y.stock("public/site")
			y.say("one")
			y.works(args...)
			one := y.stock("public/site")

			y.say("two")
			letGo := y.hold("public/site/machines/a/index.html", share)
			e := y.ends(args...)
			letGo()
			if e.code != fault || !strings.Contains(e.cried, "Another program has that file open") || !strings.Contains(e.cried, "machines/a/index.html") {
				t.Errorf("exit %d\n%s%s", e.code, e.said, e.cried)
			}
			y.visit(one, two, "held open")
			y.works(args...)
			y.same(y.stock("public/site"), two, "let go, and run again")

			y.say("one")
			letGo = y.hold("public/site/machines/a/index.html", share)
			time.AfterFunc(time.Second, letGo)
			y.works(args...)
			y.same(y.stock("public/site"), one, "let go after a second")
		})
	}
}

// Files of the shop that another program has open keep nobody from writing, and what
// was typed stays where they do.
func TestLogBesideFilesHeldOpen(t *testing.T) {
	t.Parallel()
	y := newYard(t, built(t), t.TempDir())
	for _, name := range []string{"shop/shop.md", "shop/machines/a/machine.md", "shop/machines/a/2026-03-02-said.md"} {
		defer y.hold(name, reading)()
	}
	y.everything()
	y.works("handover", "b", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer))
	letGo := y.hold("shop/handovers/last-sealed.json", reading)
	e := y.ends("handover", "c", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer))
	letGo()
	if e.code != fault || !strings.Contains(e.cried, "Another program has that file open") {
		t.Errorf("exit %d\n%s%s", e.code, e.said, e.cried)
	}
	y.works("handover", "c", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer))
	y.vouched("let go, and run again")

	y.write("shop/.asleft-writing", "")
	letGo = y.hold("shop/.asleft-writing", alone)
	c := y.command("log", "a", "--title", "Typed", "--text-file", "-")
	c.Stdin = strings.NewReader("A long story.\n")
	e = y.ended(c, nil)
	letGo()
	if e.code != fault || !strings.Contains(e.cried, "kept in") {
		t.Errorf("exit %d\n%s%s", e.code, e.said, e.cried)
	}
	if draft := y.stock(theShop)[".asleft/drafts/a.md"]; !strings.Contains(draft, "A long story.") {
		t.Errorf("what was typed is not in the draft: %q", draft)
	}
}

// Whatever the code page, words are the same letters: those given in the command, and
// those of files as Windows' shells write them. What is in another code page than the
// program can know is refused, and nothing of it lost.
func TestCodePages(t *testing.T) {
	t.Parallel()
	y := newYard(t, built(t), t.TempDir())
	for i, page := range []string{"437", "850", "1252", "65001"} {
		var said bytes.Buffer
		c := y.command("log", "a", "--title", "Größe "+page, "--hours", "1", "--text", "Maß ¾, 24 µm")
		c.Args = append([]string{"cmd", "/c", "chcp", page, ">nul", "&"}, c.Args...)
		shell, err := windowsShell()
		y.do(err)
		c.Path, c.Stdout, c.Stderr = shell, &said, &said
		y.do(c.Run())
		if want := i + 1; len(y.said("Maß ¾, 24 µm")) != want || len(y.said("title: Größe "+page)) != 1 {
			t.Errorf("code page %s: %q", page, said.String())
		}
	}
	units := utf16.Encode([]rune("\ufeffMaß in UTF-16\r\n"))
	wide := make([]byte, 0, 2*len(units))
	for _, u := range units {
		wide = append(wide, byte(u), byte(u>>8))
	}
	type input struct {
		in   io.Reader
		want string // in the log; empty: refused
	}
	for name, c := range map[string]input{
		"UTF-16, as a shell writes it": {bytes.NewReader(wide), "Maß in UTF-16"},
		"UTF-8 with a mark":            {strings.NewReader("\ufeffMaß in UTF-8\r\n"), "Maß in UTF-8"},
		"code page 850":                {strings.NewReader("Gut.\r\nMa\xe1 in 850\r\n"), ""},
	} {
		run := y.command("log", "b", "--title", "Text", "--text-file", "-")
		run.Stdin = c.in
		switch e := y.ended(run, nil); {
		case c.want == "" && (e.code != usage || !strings.Contains(e.cried, "line 2 of the text is not UTF-8")):
			t.Errorf("%s: exit %d\n%s%s", name, e.code, e.said, e.cried)
		case c.want != "" && (e.code == usage || len(y.said(c.want)) != 1):
			t.Errorf("%s: exit %d\n%s%s", name, e.code, e.said, e.cried)
		}
	}
	if len(y.said("850\r")) > 0 {
		t.Error("what was refused was written")
	}
}

// said are the entries that hold some words.
func (y *yard) said(words string) (names []string) {
	for name, data := range y.stock("shop/machines") {
		if strings.Contains(data, words) {
			names = append(names, name)
		}
	}
	return names
}

func windowsShell() (string, error) {
	dir, err := windows.GetSystemDirectory()
	return filepath.Join(dir, "cmd.exe"), err
}
