package desk_test

import (
	"errors"
	"html"
	"io/fs"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/desk"
	"asleft/generator/logbook"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// An onDisk is a desk over a shop on the disk, from which the site can be brought out.
type onDisk struct {
	*table
	dir  string
	ring memoryRing
}

// A memoryRing is a key ring.
type memoryRing map[string]string

func (r memoryRing) Get(kind, of string) (string, bool) {
	s, ok := r[kind+" "+of]
	return s, ok
}

func (r memoryRing) Keep(kind, of, secret string) error {
	if secret == "" {
		return errors.New("there is nothing to keep")
	}
	r[kind+" "+of] = secret
	return nil
}

// onADisk is a small shop on the disk. Of its machines only two are there: a site of few
// files is made sooner.
func onADisk(t *testing.T, far farend.Options) *onDisk {
	t.Helper()
	return atAPace(t, far, publish.Pace{})
}

// atAPace is the same, and waits for other times than people do.
func atAPace(t *testing.T, far farend.Options, pace publish.Pace) *onDisk {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"shop.md", "machines/gannet", "machines/heron"} {
		from := filepath.Join("..", "..", "content-example", name)
		err := filepath.WalkDir(from, func(at string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(at, ".md") && !strings.HasSuffix(at, ".jpg") {
				return err
			}
			rest, _ := filepath.Rel(filepath.Join("..", "..", "content-example"), at)
			data, err := os.ReadFile(at)
			if err == nil {
				err = os.MkdirAll(filepath.Join(dir, filepath.Dir(rest)), 0o755)
			}
			if err == nil {
				err = os.WriteFile(filepath.Join(dir, rest), data, 0o644)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	folder, err := rooted.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = folder.Close() })
	b := &onDisk{table: &table{t: t, folder: folder}, dir: dir, ring: memoryRing{}}
	refresh := func() {
		r, err := generator.Read(folder, generator.Options{Today: logbook.Date(now.Format(time.DateOnly))})
		if err != nil {
			t.Error(err)
		}
		b.isRead(r)
	}
	refresh()
	b.desk = desk.New(folder, desk.Options{Reading: b.reading, Refresh: refresh, Now: b.now, Dir: dir, Ring: b.ring, Far: far, Pace: pace})
	b.handle = b.desk.Handler(host)
	t.Cleanup(b.desk.StopPublishing)
	return b
}

const publishAt, placeAt = "/desk/publish", "/desk/publish/place"

// goesTo says in the form where the site goes.
func (b *onDisk) goesTo(parts map[string]string) string {
	b.t.Helper()
	v := url.Values{"base": {value(b.get(placeAt), `name="base" value="`)}, "f.web": {"https://shop.example/"}}
	for name, text := range parts {
		v.Set(name, text)
	}
	w := b.post(placeAt, v)
	if w.Code != http.StatusSeeOther {
		return w.Body.String()
	}
	return ""
}

// press presses a button of the page, and returns the page as it is when the run has ended
// or asks.
func (b *onDisk) press(v url.Values) string {
	b.t.Helper()
	if w := b.post(publishAt, v); w.Code != http.StatusSeeOther || w.Header().Get("Location") != publishAt {
		b.t.Fatalf("%d, to %s", w.Code, w.Header().Get("Location"))
	}
	for range 600 {
		page := b.get(publishAt)
		if strings.Contains(page, `name="question"`) || !strings.Contains(page, "data-working") {
			return page
		}
		if !strings.Contains(page, `<noscript><meta http-equiv="refresh"`) {
			b.t.Fatalf("without a script the page stands still:\n%s", page)
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatal("it does not end")
	return ""
}

func (b *onDisk) do(what string) string {
	b.t.Helper()
	return b.press(url.Values{"do": {what}})
}

// says answers the question of a page.
func (b *onDisk) says(page, what, secret string, more ...string) string {
	b.t.Helper()
	v := url.Values{"do": {what}, "run": {value(page, `name="run" value="`)}, "question": {value(page, `name="question" value="`)}, "secret": {secret}}
	for _, name := range more {
		v.Set(name, "yes")
	}
	if v.Get("question") == "" {
		b.t.Fatalf("nothing is asked:\n%s", page)
	}
	return b.press(v)
}

func (b *onDisk) shows(page string, wants ...string) {
	b.t.Helper()
	page = html.UnescapeString(page)
	for _, want := range wants {
		if !strings.Contains(page, want) {
			b.t.Errorf("the page does not say %q:\n%s", want, page)
		}
	}
}

// tree is what stands in a folder of this computer.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(at string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(at)
		name, _ := filepath.Rel(dir, at)
		all[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestPublishIntoAFolder: where the site goes is said in a form; what is new is shown and
// nothing is touched; then it is brought, and read as the world does.
func TestPublishIntoAFolder(t *testing.T) {
	b := onADisk(t, farend.Options{})
	before := b.file("shop.md")
	b.shows(b.get(publishAt), "Say where it goes")
	if w := b.post(publishAt, url.Values{"do": {"look"}}); w.Header().Get("Location") != placeAt {
		t.Errorf("without a place it leads to %q", w.Header().Get("Location"))
	}
	far := filepath.Join(t.TempDir(), "far")
	world := httptest.NewServer(http.FileServer(http.Dir(far)))
	defer world.Close()
	if wrong := b.goesTo(map[string]string{"way": "folder", "folder": far, "f.web": world.URL + "/"}); wrong != "" {
		t.Fatal(wrong)
	}
	after := strings.Replace(b.file("shop.md"), world.URL+"/", "https://fernhollow.example/", 1)
	if lines := strings.Split(difference(before, after), "\n"); !strings.HasPrefix(after, before[:strings.LastIndex(before, "\n---")]) {
		t.Errorf("more than the place was changed: %q", lines)
	}

	page := b.do("look")
	b.shows(page, "Nothing was changed yet", "new files", "machines/gannet/index.html", `value="bring"`)
	if _, err := os.Stat(far); err == nil {
		t.Error("looking made the folder")
	}
	page = b.do("bring")
	b.shows(page, "Brought ")
	site, there := tree(t, filepath.Join(b.dir, "site")), tree(t, far)
	for name, data := range site {
		if there[name] != data && !strings.HasPrefix(name, ".") {
			t.Errorf("%s is not there as it is in the site", name)
		}
	}
	b.shows(b.do("look"), "Nothing has changed")
	b.shows(b.do("check"), "The world sees it")

	text := b.file("machines/gannet/machine.md") + "\nOne sentence more.\n"
	if err := afero.WriteFile(b.folder, "machines/gannet/machine.md", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	page = b.do("look")
	b.shows(page, "One changed file")
	if strings.Contains(page, "new file") {
		t.Errorf("changed files are told as new:\n%s", page)
	}
	b.do("bring")
	if !strings.Contains(tree(t, far)["machines/gannet/index.html"], "One sentence more") {
		t.Error("the change is not there")
	}
	b.shows(b.do("check"), "The world sees it")
	if err := os.WriteFile(filepath.Join(far, "index.html"), []byte("<p>Somebody else's.</p>"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.shows(b.do("check"), "shows something else than what was brought")

	// What is gone from the site stays for a day, unless somebody did not mean it to be public.
	if err := b.folder.RemoveAll("machines/gannet"); err != nil {
		t.Fatal(err)
	}
	const gone = "machines/gannet/index.html"
	page = b.do("bring")
	b.shows(page, "stay there for a day", "If one was not meant to be public, remove them now", `value="now"`)
	if _, there := tree(t, far)[gone]; !there {
		t.Errorf("%s went at once", gone)
	}
	page = b.do("now")
	b.shows(page, "Removed ")
	if _, there := tree(t, far)[gone]; there || strings.Contains(page, `value="now"`) {
		t.Errorf("%s is there: %v", gone, there)
	}
}

// TestPublishIsWrong: each thing that is wrong stands at its field, in the form's words, and
// a log that has to be mended is led to.
func TestPublishIsWrong(t *testing.T) {
	b := onADisk(t, farend.Options{Home: t.TempDir(), Quiet: time.Second})
	before := b.file("shop.md")
	wrongAt := func(page, field string) string {
		m := regexp.MustCompile(`(?s)data-wrong="` + regexp.QuoteMeta(field) + `"(.*?)</ul>`).FindStringSubmatch(page)
		if m == nil {
			t.Fatalf("there is no field %s:\n%s", field, page)
		}
		return m[1]
	}
	sftp := map[string]string{"way": "sftp", "host": "host.example", "user": "me", "path": "/srv/www"}
	for _, c := range []struct{ field, typed, at, says string }{
		{"host", "", "host", "has to be said"},
		{"host", "sftp://host.example", "host", "Only the name of the host"},
		{"user", "me:canary-1", "user", "Only the name goes here"},
		{"path", "", "path", "has to be said"},
		{"path", "/srv/../www", "host", "Look at what your host gave you"},
		{"f.publish.fingerprint", "zzz", "f.publish.fingerprint", "no fingerprint"},
		{"f.web", "zzz", "f.web", "Write the whole address"},
	} {
		parts := maps.Clone(sftp)
		parts[c.field] = c.typed
		page := b.goesTo(parts)
		if got := wrongAt(page, c.at); !strings.Contains(got, c.says) {
			t.Errorf("%s %q: at %s it says %q", c.field, c.typed, c.at, got)
		}
		if led := regexp.MustCompile(`name="([^"]*)"[^>]* autofocus`).FindAllStringSubmatch(page, -1); len(led) != 1 || led[0][1] != c.at {
			t.Errorf("%s %q: it leads to %q", c.field, c.typed, led)
		}
		if strings.Contains(page, "canary") {
			t.Error("what may be a password stands on the page")
		}
		for _, text := range seen(t, page) {
			if leak := leaks(text); leak != "" {
				t.Errorf("it says %q, in %q", leak, text)
			}
		}
	}
	if b.file("shop.md") != before {
		t.Error("something wrong was kept")
	}
	if wrong := b.goesTo(map[string]string{"way": "sftp", "host": "127.0.0.1:1", "user": "me", "path": "/srv/www"}); wrong != "" {
		t.Fatal(wrong)
	}
	page := b.do("look")
	b.shows(page, "cannot be reached", placeAt+"#host")
	if got := wrongAt(b.get(placeAt), "host"); !strings.Contains(got, "cannot be reached") {
		t.Errorf("at the field it says %q", got)
	}

	// Two forms of it: the second is asked to look again, and what it says stays in it.
	v := url.Values{"base": {value(b.get(placeAt), `name="base" value="`)}, "way": {"folder"}, "folder": {filepath.Join(b.dir, "..", "mine")}}
	b.goesTo(map[string]string{"way": "folder", "folder": filepath.Join(b.dir, "site", "in")})
	w := b.post(placeAt, v)
	if w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "mine") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	b.shows(b.do("look"), "Name another folder")

	// A folder of one's own is at no host. What stands for one's own folder is understood.
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	for typed, dir := range map[string]string{"~/shop-site": filepath.Join(home, "shop-site"), filepath.Join(home, "not", "there"): filepath.Join(home, "not", "there")} {
		if wrong := b.goesTo(map[string]string{"way": "folder", "folder": typed}); wrong != "" {
			t.Fatal(wrong)
		}
		if got := value(b.get(placeAt), `name="folder" value="`); got != dir {
			t.Errorf("%s is taken for %q, want %q", typed, got, dir)
		}
	}
	b.goesTo(map[string]string{"way": "folder", "folder": filepath.Join(home, "not", "there")})
	page = b.do("look")
	b.shows(page, "There is no folder "+filepath.Join(home, "not", "there")+" on this computer", placeAt+"#folder")
	if strings.Contains(page, "host") {
		t.Error("it speaks of a host")
	}

	if err := afero.WriteFile(b.folder, "machines/gannet/2026-11-01-broken.md", []byte("---\ndate: never\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b.shows(b.do("look"), "to be mended first", `href="/desk/m/gannet/e/2026-11-01-broken.md"`)
}

// TestPublishWhereSomebodyIs: what somebody else has there is told and asked about, and is
// left as it is until somebody says so.
func TestPublishWhereSomebodyIs(t *testing.T) {
	b := onADisk(t, farend.Options{})
	far := t.TempDir()
	if err := os.WriteFile(filepath.Join(far, "index.html"), []byte("Hers."), 0o644); err != nil {
		t.Fatal(err)
	}
	b.goesTo(map[string]string{"way": "folder", "folder": far, "f.web": ""})
	b.do("look")
	page := b.do("bring")
	b.shows(page, "all the same?", "would be replaced: index.html")
	if !strings.Contains(b.says(page, "no", ""), "It was left as it is") || len(tree(t, far)) != 1 {
		t.Error("it went in where it was told not to")
	}
	page = b.do("bring")
	b.post(publishAt, url.Values{"do": {"yes"}, "run": {"another"}, "question": {"1"}})
	if len(tree(t, far)) != 1 {
		t.Error("an answer to another question was taken")
	}
	b.shows(b.says(page, "yes", ""), "Brought ")

	b.do("look")
	if err := os.WriteFile(filepath.Join(far, ".asleft-publish", "manifest"), []byte("torn"), 0o644); err != nil {
		t.Fatal(err)
	}
	page = b.do("bring")
	if strings.Contains(page, `name="question"`) {
		page = b.press(url.Values{"do": {"stop"}})
		b.shows(page, "Stopped")
	}
}

// TestPublishAsksForAKey: a server that nobody knows shows its fingerprint; a passphrase is
// asked for, again where it was wrong, and stands nowhere afterwards.
func TestPublishAsksForAKey(t *testing.T) {
	if !testenv.All() && os.Getuid() != 0 {
		testenv.Without(t, "the right to start servers as root")
	}
	server := testenv.SSHD(t)
	const canary = "canary-passphrase-7f3a"
	if out, err := exec.Command("ssh-keygen", "-p", "-P", "", "-N", canary, "-f", server.KeyFile).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	t.Setenv("SSH_AUTH_SOCK", "")
	known := filepath.Join(t.TempDir(), "known_hosts")
	b := onADisk(t, farend.Options{Home: t.TempDir(), KnownHosts: []string{known}})
	if wrong := b.goesTo(map[string]string{"way": "sftp", "host": server.Address, "user": server.User, "path": server.Root, "f.publish.key": server.KeyFile, "f.web": ""}); wrong != "" {
		t.Fatal(wrong)
	}
	var pages []string
	saw := func(page string) string { pages = append(pages, page); return page }
	out, err := exec.Command("ssh-keygen", "-l", "-f", filepath.Join(filepath.Dir(server.Root), "host.pub")).Output()
	if err != nil {
		t.Fatal(err)
	}
	print := strings.Fields(string(out))[1]
	page := saw(b.do("look"))
	b.shows(page, print, "has not spoken to", "Is this the key of")
	b.shows(saw(b.says(page, "no", "")), "was not taken for the right one")
	if _, err := os.Stat(known); err == nil {
		t.Error("a key that nobody trusted was written down")
	}
	page = saw(b.do("look"))
	page = saw(b.says(page, "yes", ""))
	b.shows(page, "Passphrase of the key file", `type="password"`)
	page = saw(b.says(page, "yes", "wrong "+canary))
	b.shows(page, "That was not taken", `type="password"`)
	page = saw(b.says(page, "yes", canary))
	b.shows(page, "Nothing was changed yet", `value="bring"`)
	if n := len(tree(t, server.Root)); n != 0 {
		t.Errorf("looking brought %d files", n)
	}
	page = saw(b.do("bring")) // it is not asked for twice
	b.shows(page, "Brought ", "has no web address yet")
	for name, data := range tree(t, filepath.Join(b.dir, "site")) {
		if there, _ := os.ReadFile(filepath.Join(server.Root, name)); string(there) != data && !strings.HasPrefix(name, ".") {
			t.Errorf("%s is not there", name)
		}
	}
	if len(b.ring) > 0 {
		t.Error("the key ring keeps what nobody asked it to")
	}
	// After it was brought it is asked for again, and the key ring keeps it when told.
	page = saw(b.do("look"))
	b.shows(page, "Passphrase of the key file")
	saw(b.says(page, "yes", canary, "keep"))
	if len(b.ring) != 1 {
		t.Errorf("the key ring keeps %d secrets", len(b.ring))
	}
	for _, page := range append(pages, b.get("/desk/"), b.get("/desk/shop"), b.get(placeAt)) {
		if strings.Contains(page, canary) {
			t.Error("the passphrase stands on a page")
		}
	}
	for _, dir := range []string{b.dir, server.Root, filepath.Dir(known)} {
		for name, data := range tree(t, dir) {
			if strings.Contains(data, canary) {
				t.Errorf("the passphrase stands in %s", name)
			}
		}
	}
}

// TestPublishAsksForASecret: the same of a bucket's secret key, from the key ring too.
func TestPublishAsksForASecret(t *testing.T) {
	server := testenv.S3(t, "www")
	b := onADisk(t, farend.Options{})
	if wrong := b.goesTo(map[string]string{"way": "s3", "host": server.Address, "access": server.User, "bucket": "www", "f.publish.tls": "no", "f.web": ""}); wrong != "" {
		t.Fatal(wrong)
	}
	page := b.do("look")
	b.shows(page, "Secret key that belongs to", `type="password"`)
	b.shows(b.says(page, "no", ""), "none was given, so nothing was sent")
	page = b.do("look")
	for range 3 {
		page = b.says(page, "yes", "not-it")
	}
	b.shows(page, "did not take", placeAt+"#access")
	page = b.says(b.says(b.do("look"), "yes", "not-it", "keep"), "yes", server.Secret, "keep")
	b.shows(page, `value="bring"`)
	if len(b.ring) != 1 {
		t.Error("the key ring was not told")
	}
	b.shows(b.do("bring"), "Brought ")
	b.shows(b.do("look"), "Nothing has changed")
	for name, data := range tree(t, b.dir) {
		if strings.Contains(data, server.Secret) {
			t.Errorf("the secret stands in %s", name)
		}
	}
}

// TestPublishIsNotForPhones: what goes out, and its passwords, is said at the shop's own
// computer.
func TestPublishIsNotForPhones(t *testing.T) {
	b := onADisk(t, farend.Options{})
	phone := b.desk.Phone(desk.Phone{})
	for _, at := range []string{publishAt, placeAt} {
		for _, method := range []string{http.MethodGet, http.MethodPost} {
			w := httptest.NewRecorder()
			phone.ServeHTTP(w, httptest.NewRequest(method, at, strings.NewReader("do=look")))
			if w.Code != http.StatusForbidden {
				t.Errorf("%s %s: %d", method, at, w.Code)
			}
		}
	}
	if page := b.get("/desk/shop"); !strings.Contains(page, `action="/desk/publish"`) {
		t.Error("the shop's page has no button")
	}
}

// TestPublishInABrowser: from the shop's page, by clicks alone: where it goes, what is new,
// the bringing, and a question that stands until it is answered.
func TestPublishInABrowser(t *testing.T) {
	ctx := testenv.Browser(t)
	b := onADisk(t, farend.Options{})
	at := listening(t, b.desk)
	far := filepath.Join(t.TempDir(), "far")
	if err := os.Mkdir(far, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(far, "index.html"), []byte("Hers."), 0o644); err != nil {
		t.Fatal(err)
	}
	testenv.Do(t, ctx, chromedp.EmulateViewport(1280, 900), chromedp.Navigate(at+"/desk/shop"), testenv.Press(`form[action="/desk/publish"] button[value=look]`))
	testenv.Comes(t, ctx, "the form of the place", `location.pathname === '/desk/publish/place' && !!document.getElementById('way')`)
	testenv.Comes(t, ctx, "no field before a way is chosen", `![...document.querySelectorAll('.part')].some((e) => e.checkVisibility())`)
	testenv.Ask[bool](t, ctx, `(document.getElementById('way').value = 'folder', true)`)
	testenv.Comes(t, ctx, "the folder's field alone", `[...document.querySelectorAll('.part')].filter((e) => e.checkVisibility()).length === 1`)
	testenv.Do(t, ctx, testenv.Type(`#folder`, far), testenv.Fill(`#f-web`, ""), testenv.Press(`form.place button.main`))
	testenv.Comes(t, ctx, "where it goes", `location.pathname === '/desk/publish' && document.querySelector('.facts')?.textContent.includes('far')`)
	testenv.Do(t, ctx, testenv.Press(`button[value=look]`))
	testenv.Comes(t, ctx, "what is new, without a press", `document.querySelector('.files summary')?.textContent.includes('new files')`)
	testenv.Do(t, ctx, testenv.Press(`button[value=bring]`))
	testenv.Comes(t, ctx, "the question, with the keyboard at it", `document.activeElement?.id === 'asks' && document.body.textContent.includes('would be replaced')`)
	testenv.Ask[bool](t, ctx, `(window.same = document.querySelector('.ask'), true)`)
	time.Sleep(1200 * time.Millisecond)
	if !testenv.Ask[bool](t, ctx, `window.same.isConnected`) {
		t.Error("the question is another one after a second")
	}
	testenv.Do(t, ctx, testenv.Press(`.ask button[value=yes]`))
	testenv.Comes(t, ctx, "that it was brought", `document.getElementById('run')?.textContent.includes('Brought ')`)
	if there := tree(t, far); strings.Contains(there["index.html"], "Hers.") || len(there) < 10 {
		t.Errorf("%d files are there", len(there))
	}
	if wrong := testenv.Ask[string](t, ctx, `document.querySelector('.wrong:not([hidden])')?.textContent || ''`); wrong != "" {
		t.Errorf("the page says %q", wrong)
	}

	// Who is asked for a secret types it at once.
	server := testenv.S3(t, "www")
	if wrong := b.goesTo(map[string]string{"way": "s3", "host": server.Address, "access": server.User, "bucket": "www", "f.publish.tls": "no", "f.web": ""}); wrong != "" {
		t.Fatal(wrong)
	}
	testenv.Do(t, ctx, chromedp.Navigate(at+"/desk/publish"), testenv.Press(`button[value=look]`))
	testenv.Comes(t, ctx, "the keyboard at the secret", `document.activeElement?.id === 'secret'`)
}
