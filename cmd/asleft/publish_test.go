package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/publish"
	"asleft/generator/testenv"
)

// canary is a secret that must never be seen again.
const canary = "canary-5e3f-passphrase"

// A person at a terminal brings a site to a real server that this computer does not
// know yet, with a key under a passphrase. The passphrase is asked for once, is not
// shown, and stands nowhere afterwards.
func TestPublishOnATerminal(t *testing.T) {
	tmux, keygen := testenv.Program(t, "tmux"), testenv.Program(t, "ssh-keygen")
	s := testenv.SSHD(t)
	program := built(t)
	home, dir := t.TempDir(), filepath.Join(t.TempDir(), "shop")
	if out, err := exec.Command(keygen, "-q", "-p", "-P", "", "-N", canary, "-f", s.KeyFile).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	web := httptest.NewServer(http.FileServer(http.Dir(s.Root)))
	defer web.Close()
	plainShop(t, dir, "harrow")
	writeFile(t, dir, "shop.md", fmt.Sprintf("---\nshop: Plain\ncurrency: USD\nweb: %s/\npublish:\n  to: sftp://%s@%s%s\n  key: %s\n---\n", web.URL, s.User, s.Address, s.Root, s.KeyFile))

	socket := filepath.Join(t.TempDir(), "tmux")
	tell := func(args ...string) string {
		c := exec.Command(tmux, append([]string{"-S", socket, "-f", os.DevNull}, args...)...)
		c.Env = append(os.Environ(), "HOME="+home, "SSH_AUTH_SOCK=", "DBUS_SESSION_BUS_ADDRESS=")
		out, err := c.CombinedOutput()
		if err != nil {
			t.Fatalf("tmux %v: %v: %s", args, err, out)
		}
		return string(out)
	}
	seen := func() string { return tell("capture-pane", "-p", "-J", "-S", "-200") }
	until := func(text string) {
		t.Helper()
		for end := time.Now().Add(30 * time.Second); !strings.Contains(seen(), text); time.Sleep(50 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("never saw %q:\n%s", text, seen())
			}
		}
	}
	tell("new-session", "-d", "-x", "180", "-y", "60", "-c", dir, program+" publish; echo status $?; sleep 60")
	defer func() { _ = exec.Command(tmux, "-S", socket, "kill-server").Run() }()
	until("has not been spoken to from this computer before")
	until("SHA256:")
	until("Is that its key? [y/N]")
	tell("send-keys", "y", "Enter")
	until("Passphrase of the key file " + s.KeyFile)
	tell("send-keys", "-l", canary)
	processes, err := exec.Command("ps", "-eo", "args").Output()
	if err != nil {
		t.Fatal(err)
	}
	tell("send-keys", "Enter")
	until("Keep the secret of")
	tell("send-keys", "n", "Enter")
	until("The world sees it")
	until("status 0")
	if screen := seen(); strings.Contains(screen, canary) {
		t.Errorf("the passphrase stands on the screen:\n%s", screen)
	}
	for line := range bytes.Lines(processes) {
		if bytes.Contains(line, []byte(canary)) && !bytes.Contains(line, []byte("send-keys")) {
			t.Errorf("the passphrase stands in the arguments of a process: %s", line)
		}
	}
	for _, top := range []string{dir, home, s.Root} {
		hasNoCanary(t, top)
	}
	if strings.Contains(s.Said(t), canary) {
		t.Error("the server's log has the passphrase")
	}
	if _, err := os.Stat(filepath.Join(home, ".ssh", "known_hosts")); err != nil {
		t.Errorf("the host's key was not written down: %v", err)
	}

	// Without a terminal nobody is asked: the run says so, soon.
	c := exec.Command(program, "publish", "--shop", dir)
	c.Env = append(os.Environ(), "HOME="+home, "SSH_AUTH_SOCK=", "DBUS_SESSION_BUS_ADDRESS=")
	if out, err := c.CombinedOutput(); err == nil || !strings.Contains(string(out), "has a passphrase, and nobody is here to be asked") || c.ProcessState.ExitCode() != fault {
		t.Errorf("%v: %s", err, out)
	}
}

func hasNoCanary(t *testing.T, top string) {
	t.Helper()
	files := 0
	err := filepath.WalkDir(top, func(name string, d fs.DirEntry, err error) error {
		if err != nil || !d.Type().IsRegular() {
			return err
		}
		files++
		data, err := os.ReadFile(name)
		if bytes.Contains(data, []byte(canary)) {
			t.Errorf("%s has the passphrase", name)
		}
		return err
	})
	if err != nil || files == 0 {
		t.Errorf("%d files looked at: %v", files, err)
	}
}

// The line breaks in the middle: the program says so, and goes on when it is up again.
func TestPublishGoesOn(t *testing.T) {
	s := testenv.SSHD(t)
	out, err := exec.Command(testenv.Program(t, "ssh-keygen"), "-lf", filepath.Join(filepath.Dir(s.Root), "host.pub")).Output()
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "shop")
	plainShop(t, dir, "harrow", "pump", "saw")
	line := testenv.NewLine(t)
	line.After = 60_000
	writeFile(t, dir, "shop.md", fmt.Sprintf("---\nshop: Plain\ncurrency: USD\npublish:\n  to: sftp://%s@%s%s\n  key: %s\n  fingerprint: %s\n---\n", s.User, line.At(t, s.Address), s.Root, s.KeyFile, strings.Fields(string(out))[1]))
	done := make(chan struct{})
	go func() {
		defer close(done)
		for end := time.Now().Add(30 * time.Second); !line.Over() && time.Now().Before(end); {
			time.Sleep(10 * time.Millisecond)
		}
		line.Mend()
	}()
	c := exec.Command(built(t), "publish", "--shop", dir)
	c.Env = append(os.Environ(), "HOME="+t.TempDir(), "SSH_AUTH_SOCK=", "DBUS_SESSION_BUS_ADDRESS=")
	out, err = c.CombinedOutput()
	<-done
	if err != nil || strings.Count(string(out), "The line broke off. What was brought so far is there; it goes on by itself in 2 seconds.") != 1 || !strings.Contains(string(out), "; 0 were there already.") {
		t.Fatalf("%v: %s", err, out)
	}
	for _, name := range filesBelow(t, filepath.Join(dir, "site")) {
		if read(t, dir, "site/"+name) != read(t, s.Root, name) {
			t.Errorf("%s differs", name)
		}
	}
}

// Two programs bring a site to one place at once, and one is killed in the middle.
func TestPublishKilled(t *testing.T) {
	program := built(t)
	dir, to := filepath.Join(t.TempDir(), "shop"), filepath.Join(t.TempDir(), "stick")
	plainShop(t, dir, "harrow", "pump", "saw")
	for n := range 5 {
		writeFile(t, dir, "machines/harrow/2026-03-02-a.md", fmt.Sprintf("---\ndate: 2026-03-02\ntitle: Evening %d\n---\n", n))
		c := exec.Command(program, "publish", "--shop", dir, "--to", to)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(60*(n+1)) * time.Millisecond)
		_ = c.Process.Kill() // it may be done by then
		_ = c.Wait()         // as above
	}
	// A killed run's lock is not renewed; here nobody waits for that to be noticed.
	if err := os.RemoveAll(filepath.Join(to, publish.Folder, "lock")); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(program, "publish", "--shop", dir, "--to", to, "--at-once").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, name := range filesBelow(t, filepath.Join(dir, "site")) {
		want, got := read(t, dir, "site/"+name), read(t, to, name)
		if want != got {
			t.Errorf("%s differs", name)
		}
	}
}

func TestTransferShows(t *testing.T) {
	var out bytes.Buffer
	now := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	bar := &transfer{w: &out, begun: now, last: now, now: func() time.Time { return now }}
	show := func(after time.Duration, files int) {
		now = bar.begun.Add(after)
		bar.show(publish.Progress{Files: files, OfFiles: 100, Bytes: int64(files) * 50_000, OfBytes: 5_000_000})
	}
	show(time.Second, 5)
	if out.Len() > 0 {
		t.Errorf("too soon: %s", out.String())
	}
	show(10*time.Second, 50)
	show(12*time.Second, 60)
	if got, want := out.String(), "50 of 100 files, 2.5 MB of 5.0 MB, 11 seconds left\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	out.Reset()
	bar.bar = true
	show(900*time.Second, 75)
	bar.clear()
	if got := out.String(); !strings.HasPrefix(got, "\r##################...... 75 of 100 files, 3.8 MB of 5.0 MB, 6 minutes left") || !strings.HasSuffix(got, "\r") {
		t.Errorf("got %q", got)
	}
}
