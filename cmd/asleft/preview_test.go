package main

import (
	"bufio"
	"errors"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// started runs asleft until it has said where the site is, and returns that
// address and what it says after.
func started(t *testing.T, args ...string) (*exec.Cmd, string, *bufio.Reader) {
	t.Helper()
	c := exec.Command("asleft", args...)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.Stderr = os.Stderr
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Process.Kill() })
	said := bufio.NewReader(out)
	line, err := said.ReadString('\n')
	at := strings.Index(line, "http://")
	if err != nil || at < 0 {
		t.Fatalf("it said %q (%v)", line, err)
	}
	return c, strings.Fields(line[at:])[0], said
}

func fetched(t *testing.T, address string) string {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestPreviewFromStartToCtrlC(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a test cannot press Ctrl-C there")
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content-example")); err != nil {
		t.Fatal(err)
	}
	c, address, said := started(t, "preview", "--shop", dir, "--port", "0")
	shop := filepath.Join(dir, "shop.md")
	text, err := os.ReadFile(shop)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(shop, append(text, "\nClosed on Zundays.\n"...), 0o600); err != nil {
		t.Fatal(err)
	}
	late := time.Now().Add(20 * time.Second)
	for !strings.Contains(fetched(t, address), "Closed on Zundays.") {
		if time.Now().After(late) {
			t.Fatal("the edit never showed")
		}
		time.Sleep(20 * time.Millisecond)
	}
	// The same port a second time: the fault of this computer, and a way out.
	port := strings.TrimSuffix(address[strings.LastIndex(address, ":")+1:], "/")
	second := exec.Command("asleft", "preview", "--shop", dir, "--port", port)
	told, err := second.CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != fault || !strings.Contains(string(told), "choose another with --port") {
		t.Errorf("the port was taken, and it said %q (%v)", told, err)
	}
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	rest, err := io.ReadAll(said)
	if err != nil || !strings.HasSuffix(string(rest), "Stopped.\n") {
		t.Errorf("at the end it said %q (%v)", rest, err)
	}
	if err := c.Wait(); err != nil {
		t.Errorf("Ctrl-C ended it with %v", err)
	}
	if _, err := os.Stat(filepath.Join(dir, "site")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("there is a published folder: %v", err)
	}
}

func TestPreviewRefusesAPortThatIsNone(t *testing.T) {
	for _, port := range []string{"-1", "70000", "eighty"} {
		told, err := exec.Command("asleft", "preview", "--shop", "../../content-example", "--port", port).CombinedOutput()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != usage {
			t.Errorf("port %s: %q (%v)", port, told, err)
		}
	}
}
