package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/desk"
	"asleft/generator/rooted"
)

// TestDeskFromStartToCtrlC: it says where it is, lets in who has the ticket of that
// address and nobody else, is opened once for a shop, and knows its browser the next day.
func TestDeskFromStartToCtrlC(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a test cannot press Ctrl-C there")
	}
	dir, settings := t.TempDir(), t.TempDir()
	c, address, said := startedBy(t, settings, "desk", "--shop", dir, "--port", "0", "--no-browser")
	at, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	home := "http://" + at.Host + "/desk/"
	if page := pageOf(t, http.DefaultClient, home); !strings.Contains(page, "has not been let in") || strings.Contains(page, at.Query().Get("ticket")) {
		t.Errorf("a stranger sees %s", page)
	}
	browser := &http.Client{Jar: newJar(t)}
	post := func(to string, v url.Values) string {
		t.Helper()
		text, err := posted(browser, to, v)
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	if page := post("http://"+at.Host+"/desk/in", url.Values{"ticket": {at.Query().Get("ticket")}}); !strings.Contains(page, "There is no shop in this folder yet") {
		t.Errorf("let in, one sees %s", page)
	}
	if page := post(home+"start", url.Values{"name": {"Back Lane"}, "currency": {"USD"}}); !strings.Contains(page, "The machines") {
		t.Errorf("a shop begun shows %s", page)
	}
	if text, err := os.ReadFile(filepath.Join(dir, "shop.md")); err != nil || !strings.Contains(string(text), "Back Lane") {
		t.Errorf("shop.md says %q (%v)", text, err)
	}
	again := exec.Command("asleft", "desk", "--shop", dir, "--port", "0", "--no-browser")
	again.Env = settingsIn(settings)
	told, err := again.CombinedOutput()
	if err != nil || !strings.Contains(string(told), "http://"+at.Host+"/desk/in?ticket=") {
		t.Errorf("opened a second time it says %q (%v)", told, err)
	}
	if err := c.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if rest, err := io.ReadAll(said); err != nil || !strings.HasSuffix(string(rest), "Stopped.\n") {
		t.Errorf("at the end it said %q (%v)", rest, err)
	}
	if err := c.Wait(); err != nil {
		t.Errorf("Ctrl-C ended it with %v", err)
	}
	startedBy(t, settings, "desk", "--shop", dir, "--port", at.Port(), "--no-browser")
	answer, err := browser.Get(home)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if page, err := io.ReadAll(answer.Body); err != nil || strings.Contains(string(page), "has not been let in") {
		t.Errorf("the next day the browser is not known any more: %s (%v)", page, err)
	}
	info, err := os.Stat(filepath.Join(dir, ".asleft", "desk.json"))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("its key can be read by others: %v, %v", info, err)
	}
}

// TestAFolderFromElsewhereLetsNobodyIn: what a shop's folder brings along of a desk is
// known to whoever packed it, so it opens nothing, and what is put in its place can be read
// by its owner alone.
func TestAFolderFromElsewhereLetsNobodyIn(t *testing.T) {
	dir := t.TempDir()
	note := filepath.Join(dir, ".asleft", "desk.json")
	if err := os.Mkdir(filepath.Dir(note), 0o755); err != nil {
		t.Fatal(err)
	}
	const known = "what the one who packed the folder knows"
	for _, text := range []string{
		`{"Address": "http://127.0.0.1:1", "Secret": "` + known + `"}`,
		`{"Secret": "` + known + `", "Proof": "` + openDesk{Secret: known}.provenBy([]byte("another user's key")) + `"}`,
	} {
		if err := os.WriteFile(note, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		c, address, _ := started(t, "desk", "--shop", dir, "--port", "0", "--no-browser")
		at, err := url.Parse(address)
		if err != nil {
			t.Fatal(err)
		}
		page, err := posted(&http.Client{Jar: newJar(t)}, "http://"+at.Host+"/desk/in", url.Values{"ticket": {desk.Ticket(known, time.Now())}})
		if err != nil || !strings.Contains(page, "has not been let in") {
			t.Errorf("%s lets in: %s (%v)", text, page, err)
		}
		if info, err := os.Stat(note); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
			t.Errorf("its key can be read by others: %v, %v", info, err)
		}
		_ = c.Process.Kill()
		_ = c.Wait()
	}
}

// TestAnAddressFromElsewhereIsNotShown: who may write into a shop's folder while its desk is
// open, and may not read the desk's note, leads nobody to a page that looks like the desk.
func TestAnAddressFromElsewhereIsNotShown(t *testing.T) {
	settings := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", settings)
	t.Setenv("APPDATA", settings)
	folder, err := rooted.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	l, own, release, err := claimDesk(folder, deskFlags{})
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _, _ = l.Close(), release() }()
	if _, at, _, err := claimDesk(folder, deskFlags{}); err != nil || at.Address != own.Address {
		t.Errorf("the desk's own is %q, %v", at.Address, err)
	}
	other := own
	other.Address = "http://shop.example"
	for _, forged := range []openDesk{other, {Address: other.Address, Secret: "x", Proof: other.provenBy([]byte("another key"))}} {
		data, err := json.Marshal(forged)
		if err == nil {
			err = afero.WriteFile(folder, deskFile, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
		if _, at, _, err := claimDesk(folder, deskFlags{}); !errors.Is(err, rooted.ErrLocked) || at.Address != "" {
			t.Errorf("%s leads to %q, %v", data, at.Address, err)
		}
	}
}

// started runs asleft until it has said where it is, and returns that
// address and what it says after.
func started(t *testing.T, args ...string) (*exec.Cmd, string, *bufio.Reader) {
	t.Helper()
	return startedBy(t, t.TempDir(), args...) // the desk notes there which shop was open last
}

// startedBy is started by a user who has those settings.
func startedBy(t *testing.T, settings string, args ...string) (*exec.Cmd, string, *bufio.Reader) {
	t.Helper()
	c := exec.Command("asleft", args...)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.Stderr = os.Stderr
	c.Env = settingsIn(settings)
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

// settingsIn is the environment of a user who has those settings.
func settingsIn(settings string) []string {
	return append(os.Environ(), "XDG_CONFIG_HOME="+settings, "APPDATA="+settings)
}

// letIn lets a browser in at the address that a desk said, and returns the site's.
func letIn(t *testing.T, browser *http.Client, address string) string {
	t.Helper()
	at, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	home := "http://" + at.Host
	if _, err := posted(browser, home+"/desk/in", url.Values{"ticket": {at.Query().Get("ticket")}}); err != nil {
		t.Fatal(err)
	}
	return home
}

// pageOf is what a browser is shown.
func pageOf(t *testing.T, browser *http.Client, address string) string {
	t.Helper()
	answer, err := browser.Get(address)
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

// TestDeskShowsTheSite: the site at the desk follows each save of an editor, no site is
// written, and a port that another program has is told of.
func TestDeskShowsTheSite(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content-example")); err != nil {
		t.Fatal(err)
	}
	_, address, _ := started(t, "desk", "--shop", dir, "--port", "0", "--no-browser")
	browser := &http.Client{Jar: newJar(t)}
	home := letIn(t, browser, address)
	shop := filepath.Join(dir, "shop.md")
	text, err := os.ReadFile(shop)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(shop, append(text, "\nClosed on Zundays.\n"...), 0o600); err != nil {
		t.Fatal(err)
	}
	late := time.Now().Add(time.Minute)
	for !strings.Contains(pageOf(t, browser, home+"/index.html"), "Closed on Zundays.") {
		if time.Now().After(late) {
			t.Fatal("the edit never showed")
		}
		time.Sleep(20 * time.Millisecond)
	}
	if _, err := os.Stat(filepath.Join(dir, "site")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("there is a published folder: %v", err)
	}
	_, port, _ := strings.Cut(strings.TrimPrefix(home, "http://"), ":")
	told, err := exec.Command("asleft", "desk", "--shop", t.TempDir(), "--port", port, "--no-browser").CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != fault || !strings.Contains(string(told), "choose another with --port") {
		t.Errorf("the port was taken, and it said %q (%v)", told, err)
	}
}

func TestDeskRefusesAPortThatIsNone(t *testing.T) {
	for _, port := range []string{"-1", "70000", "eighty"} {
		told, err := exec.Command("asleft", "desk", "--shop", "../../content-example", "--port", port, "--no-browser").CombinedOutput()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != usage {
			t.Errorf("port %s: %q (%v)", port, told, err)
		}
	}
}

func TestDeskWantsAFolder(t *testing.T) {
	told, err := exec.Command("asleft", "desk", "--shop", filepath.Join(t.TempDir(), "nowhere"), "--no-browser").CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != usage {
		t.Errorf("it said %q (%v)", told, err)
	}
}

func newJar(t *testing.T) http.CookieJar {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return jar
}

// posted sends a form as a page of the desk does.
func posted(browser *http.Client, to string, v url.Values) (string, error) {
	r, err := http.NewRequest(http.MethodPost, to, strings.NewReader(v.Encode()))
	if err != nil {
		return "", err
	}
	r.Header.Set("Origin", r.URL.Scheme+"://"+r.URL.Host)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	answer, err := browser.Do(r)
	if err != nil {
		return "", err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	return string(text), err
}

// TestKilledDesk ends the desk at random moments while somebody types, with a signal that
// it cannot see: all that it said it keeps is in the draft, the draft is whole, and the
// desk opens again.
func TestKilledDesk(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content-example")); err != nil {
		t.Fatal(err)
	}
	drafts := filepath.Join(dir, ".asleft", "desk")
	for kill := range kills() {
		// One browser would soon have more cookies than a request may carry. A line to a desk
		// that is gone does not end everywhere by itself.
		browser := &http.Client{Jar: newJar(t), Timeout: 30 * time.Second}
		c, address, _ := started(t, "desk", "--shop", dir, "--port", "0", "--no-browser")
		home := letIn(t, browser, address)
		id := fmt.Sprintf("20261128T193000-%06x", kill)
		time.AfterFunc(time.Duration(rand.IntN(1200))*time.Millisecond, func() { _ = c.Process.Kill() })
		story, kept := "", ""
		for n := 0; ; n++ {
			story += fmt.Sprintf("word%d ", n)
			said, err := posted(browser, home+"/desk/m/harrow/new/"+id, url.Values{"do": {"try"}, "story": {story}, "f.date": {"2026-11-28"}, "f.title": {"Typed"}})
			if err != nil {
				break
			}
			if strings.Contains(said, "Draft kept") {
				kept = strings.TrimSpace(story)
			}
		}
		_ = c.Wait() // it was killed
		data, err := os.ReadFile(filepath.Join(drafts, "machines~harrow~new-"+id+".json"))
		if errors.Is(err, os.ErrNotExist) && kept == "" {
			continue
		}
		var draft struct{ Text []byte }
		if err == nil {
			err = json.Unmarshal(data, &draft)
		}
		if err != nil || !strings.Contains(string(draft.Text), kept) {
			t.Fatalf("kill %d: it said that it keeps %q; the draft is %q (%v)", kill, kept, draft.Text, err)
		}
	}
}
