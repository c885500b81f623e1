package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// A password that was typed and is to be kept comes out of the system's key ring for the
// next run, which nobody watches: with a real key ring in a session of its own, and a
// real server. The test runs itself in that session for the part that keeps.
func TestKeyRing(t *testing.T) {
	if of := os.Getenv("ASLEFT_TEST_KEEPS"); of != "" {
		keepsInRing(t, farend.Secret{Kind: farend.Password, Of: of}, os.Getenv("ASLEFT_TEST_SECRET"))
		return
	}
	session, shell := testenv.Program(t, "dbus-run-session"), testenv.Program(t, "bash")
	testenv.Program(t, "gnome-keyring-daemon")
	s := testenv.VSFTPD(t, time.Now().Add(-time.Hour), time.Now().Add(time.Hour))
	out, err := exec.Command(testenv.Program(t, "openssl"), "x509", "-in", filepath.Join(filepath.Dir(s.Root), "certificate.pem"), "-noout", "-fingerprint", "-sha256").Output()
	if err != nil {
		t.Fatal(err)
	}
	_, fingerprint, _ := strings.Cut(strings.TrimSpace(string(out)), "=")
	dir := filepath.Join(t.TempDir(), "shop")
	plainShop(t, dir, "harrow")
	writeFile(t, dir, "shop.md", fmt.Sprintf("---\nshop: Plain\ncurrency: USD\npublish:\n  to: ftps://%s@%s/\n  fingerprint: %q\n---\n", s.User, s.Address, fingerprint))
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	// Without the pause the ring is not open yet when it is asked.
	c := exec.Command(session, "--", shell, "-c", `
		eval "$(echo a-ring-of-a-test | gnome-keyring-daemon --unlock --components=secrets 2>/dev/null)"; sleep 0.5
		"$1" -test.run '^TestKeyRing$' && exec "$2" publish --shop "$3"`, "-", self, built(t), dir)
	home := t.TempDir()
	c.Env = append(os.Environ(), "HOME="+home, "XDG_DATA_HOME="+home, "XDG_RUNTIME_DIR="+home, "SSH_AUTH_SOCK=", "ASLEFT_TEST_KEEPS="+s.User+"@"+s.Address, "ASLEFT_TEST_SECRET="+s.Secret)
	if out, err := c.CombinedOutput(); err != nil || !strings.Contains(string(out), "Brought ") {
		t.Fatalf("%v: %s", err, out)
	}
	if read(t, dir, "site/index.html") != read(t, s.Root, "index.html") {
		t.Error("the front page differs")
	}
}

func keepsInRing(t *testing.T, of farend.Secret, secret string) {
	t.Helper()
	x := newSecrets(streams{in: strings.NewReader(""), out: io.Discard, err: io.Discard})
	if _, err := x.get(context.Background(), of); !errors.Is(err, farend.ErrNoSecret) {
		t.Fatalf("it was in the ring before: %v", err)
	}
	var said strings.Builder
	x.s.err = &said
	x.ask.in, x.typed[of] = bufio.NewReader(strings.NewReader("y\n")), secret
	x.keep()
	x.keep() // of a second line: it is offered once
	if said.Len() > 0 {
		t.Fatal(said.String())
	}
	next := newSecrets(streams{in: strings.NewReader(""), out: io.Discard, err: io.Discard})
	if got, err := next.get(context.Background(), of); err != nil || got != secret {
		t.Errorf("got %d letters, %v", len(got), err)
	}
	of.Try = 1 // it was not taken: asking the ring again is of no use
	if _, err := next.get(context.Background(), of); !errors.Is(err, farend.ErrNoSecret) {
		t.Errorf("got %v", err)
	}
}
