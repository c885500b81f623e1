package publish_test

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// A way is one protocol with a real server behind it.
type way struct {
	name   string
	server *testenv.Server
	url    *url.URL
	o      farend.Options
	// What is said where the server refuses to write; "" where it cannot be made to.
	full, readOnly, noRight string
}

func (w way) open(t *testing.T, change func(o *farend.Options)) (publish.FarEnd, error) {
	t.Helper()
	o := w.o
	if change != nil {
		change(&o)
	}
	far, err := farend.Open(context.Background(), w.url, o)
	if err == nil {
		t.Cleanup(func() { _ = far.Close() })
	}
	return far, err
}

func (w way) mustOpen(t *testing.T) publish.FarEnd {
	t.Helper()
	far, err := w.open(t, nil)
	if err != nil {
		t.Fatalf("%v; the server says %s", err, w.server.Said(t))
	}
	return far
}

const day = 24 * time.Hour

func bySFTP(t *testing.T, settings ...string) way {
	s := testenv.SSHD(t, settings...)
	return way{"sftp", s, &url.URL{Scheme: "sftp", User: url.User(s.User), Host: s.Address, Path: s.Root},
		farend.Options{KeyFile: s.KeyFile, KnownHosts: []string{s.Known}, Home: t.TempDir(), Quiet: 4 * time.Second},
		"publish.disk-full", "publish.read-only", "publish.no-right"}
}

func secretOf(s *testenv.Server) func(context.Context, farend.Secret) (string, error) {
	return func(context.Context, farend.Secret) (string, error) { return s.Secret, nil }
}

func byFTPS(t *testing.T) way {
	s := testenv.VSFTPD(t, time.Now().Add(-day), time.Now().Add(day))
	return way{"ftps", s, &url.URL{Scheme: "ftps", User: url.User(s.User), Host: s.Address, Path: "/"},
		farend.Options{Secret: secretOf(s), Fingerprint: s.Fingerprint(t), Quiet: 4 * time.Second},
		"publish.no-room", "publish.no-right", "publish.no-right"}
}

func byS3(t *testing.T) way {
	s := testenv.S3(t, "www")
	return way{"s3", s, &url.URL{Scheme: "s3", User: url.User(s.User), Host: s.Address, Path: "/www"},
		farend.Options{Secret: secretOf(s), Plain: true, Quiet: 4 * time.Second},
		"publish.disk-full", "", ""}
}

var ways = []struct {
	name string
	by   func(*testing.T) way
}{{"sftp", func(t *testing.T) way { return bySFTP(t) }}, {"ftps", byFTPS}, {"s3", byS3}}

// eachWay runs a test over every protocol, all at the same time.
func eachWay(t *testing.T, do func(t *testing.T, w way)) {
	for _, one := range ways {
		t.Run(one.name, func(t *testing.T) {
			t.Parallel()
			do(t, one.by(t))
		})
	}
}

// disk is the server's folder as this computer sees it.
func (w way) disk(t *testing.T) afero.Fs {
	t.Helper()
	disk, err := rooted.Open(w.server.Root)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = disk.Close() })
	return disk
}

// visited crawls the far end through a plain web server.
func (w way) visited(t *testing.T, versions ...map[string]string) {
	t.Helper()
	web := httptest.NewServer(http.FileServer(http.Dir(w.server.Root)))
	defer web.Close()
	if _, err := os.Stat(filepath.Join(w.server.Root, "index.html")); err != nil {
		return // nobody can come in yet
	}
	found, broken := testenv.Crawl(func(name string) ([]byte, error) {
		r, err := http.Get(web.URL + "/" + strings.TrimSuffix(name, "index.html")) //nolint:noctx // a test's
		if err != nil {
			return nil, err
		}
		defer func() { _ = r.Body.Close() }()
		if r.StatusCode != http.StatusOK {
			return nil, fs.ErrNotExist
		}
		return io.ReadAll(r.Body)
	}, "https://shop.example/")
	if len(broken) > 0 {
		t.Fatalf("a visitor does not find: %q", broken)
	}
	for name, text := range found {
		ok := false
		for _, v := range versions {
			ok = ok || v[name] == text
		}
		if !ok {
			t.Fatalf("%s is neither old nor new: %d bytes", name, len(text))
		}
	}
}

// many is a number from the environment: the long forms of .ci/long take more.
func many(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return usual
}

// slower are the quick options, with the times that a real line needs.
func slower() publish.Options {
	o := quick()
	o.Pace = publish.Pace{Beat: 500 * time.Millisecond, Stale: 2 * time.Second, Look: 50 * time.Millisecond, Flush: 300 * time.Millisecond}
	o.Wait = 20 * time.Second
	return o
}

func slowerAtOnce() publish.Options {
	o := slower()
	o.AtOnce = true
	return o
}

// TestServers: the first upload, nothing changed, one page changed, a machine renamed,
// and what is gone. ASLEFT_PUBLISH_FILES is about how many files.
func TestServers(t *testing.T) {
	machines := many("ASLEFT_PUBLISH_FILES", 120) / 3
	eachWay(t, func(t *testing.T, w way) {
		far, disk := w.mustOpen(t), w.disk(t)
		site := village("old", machines)
		site["photos/large-1600.jpg"] = strings.Repeat("a large photo ", 30_000)
		site["assets/empty.css"] = ""
		first := bring(t, far, site, slower())
		if len(first.Brought) != len(site) {
			t.Errorf("first: %+v", first)
		}
		sameAs(t, disk, site)
		w.visited(t, site)
		if again := bring(t, far, site, slower()); len(again.Brought) != 0 || again.Kept != len(site) {
			t.Errorf("nothing changed: %+v", again)
		}
		one := maps.Clone(site)
		one["machines/m3/index.html"] += "!"
		if r := bring(t, far, one, slower()); len(r.Brought) != 1 || r.Brought[0] != "machines/m3/index.html" {
			t.Errorf("one page: %+v", r)
		}
		renamed := maps.Clone(one)
		for p, text := range one {
			if rest, ok := strings.CutPrefix(p, "machines/m3/"); ok {
				delete(renamed, p)
				renamed["machines/harrow/"+rest] = text
			}
			renamed["index.html"] = strings.ReplaceAll(one["index.html"], "machines/m3/", "machines/harrow/")
			renamed["sitemap.xml"] = strings.ReplaceAll(one["sitemap.xml"], "machines/m3/", "machines/harrow/")
		}
		r := bring(t, far, renamed, slower())
		if len(r.Brought) != 4 || r.Staying != 2 || r.Brought[3] != "index.html" {
			t.Errorf("renamed: %+v", r)
		}
		w.visited(t, renamed, one)
		if r := bring(t, far, renamed, slowerAtOnce()); len(r.Removed) != 2 {
			t.Errorf("removing: %+v", r)
		}
		sameAs(t, disk, renamed)
		w.visited(t, renamed)
		if w.name != "s3" {
			if _, err := os.Stat(filepath.Join(w.server.Root, "machines/m3")); err == nil {
				t.Error("an empty folder stayed")
			}
		}
		infos, err := os.ReadDir(filepath.Join(w.server.Root, publish.Folder))
		if err != nil || len(infos) != 1 {
			t.Errorf("in our folder stayed %v, %v", infos, err)
		}
		// The list is lost; afterwards everything is as it was.
		if err := os.RemoveAll(filepath.Join(w.server.Root, publish.Folder)); err != nil {
			t.Fatal(err)
		}
		if r := bring(t, far, renamed, slower()); !r.NoList || len(r.Removed) > 0 || w.name == "s3" && len(r.Brought) > 0 {
			t.Errorf("without its list: %+v", r)
		}
		sameAs(t, disk, renamed)
		// Somebody removed a page there. Where it is dear to look, it is looked for when told.
		if err := os.Remove(filepath.Join(w.server.Root, "machines/m2/index.html")); err != nil {
			t.Fatal(err)
		}
		o := slower()
		o.Thorough = true
		if r := bring(t, far, renamed, o); len(r.Brought) != 1 {
			t.Errorf("a page was removed there: %+v", r)
		}
	})
}

// TestCut cuts the line at random points, or leaves it dead without a word: the run
// ends, with what it is told as; a visitor finds whole pages; the next run brings the
// rest. ASLEFT_PUBLISH_CUTS is how often.
func TestCut(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		disk := w.disk(t)
		sites := []map[string]string{village("old", 12), village("new", 12)}
		for _, s := range sites {
			s["photos/large-1600.jpg"] = strings.Repeat("a large photo ", 10_000)
		}
		through := w.measure(t, sites)
		for n := range many("ASLEFT_PUBLISH_CUTS", 6) {
			line := testenv.NewLine(t)
			line.After, line.Dead = 1+rand.Int64N(through), n%3 == 2
			if line.Dead && w.name != "s3" && n%2 == 1 {
				line.After = 1 + rand.Int64N(through/4) // where nobody is logged in yet
			}
			site := sites[(n+1)%2] // the other one than is there
			begun := time.Now()
			far, err := w.open(t, func(o *farend.Options) { o.Dial, o.Quiet = line.Dial, time.Second })
			if err == nil {
				_, err = publish.Bring(context.Background(), far, siteOf(site), slowerAtOnce())
				_ = far.Close()
			}
			var fault *publish.Fault
			if line.Over() && err == nil && !strings.HasPrefix(w.name, "s3") && line.Through() < through*3/4 {
				t.Errorf("cut after %d of %d bytes (dead: %v), and nothing was said", line.After, through, line.Dead)
			}
			if err != nil && !asFault(err, &fault) {
				t.Errorf("cut after %d bytes (dead: %v): said in a programmer's words: %v", line.After, line.Dead, err)
			}
			if took := time.Since(begun); took > time.Minute {
				t.Errorf("a line that was cut (dead: %v) was waited for %v", line.Dead, took)
			}
			w.visited(t, sites...)
			bring(t, w.mustOpen(t), site, slowerAtOnce())
			sameAs(t, disk, site)
		}
	})
}

func asFault(err error, to **publish.Fault) bool {
	f, ok := err.(*publish.Fault) //nolint:errorlint // what is told is the outermost
	*to = f
	return ok
}

// measure brings both versions over a good line and says how much goes over it.
func (w way) measure(t *testing.T, sites []map[string]string) int64 {
	t.Helper()
	line := testenv.NewLine(t)
	for n := range 3 {
		far, err := w.open(t, func(o *farend.Options) { o.Dial = line.Dial })
		if err != nil {
			t.Fatal(err)
		}
		before := line.Through()
		bring(t, far, sites[n%2], slowerAtOnce())
		_ = far.Close()
		if n == 2 {
			return line.Through() - before
		}
	}
	return 0
}

// A lock that comes and goes is had by one, and whoever does not get it is told that
// somebody has it and nothing else: the other may let go between the refusal and the look.
func TestLockComesAndGoes(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		const many, each = 4, 40
		var all sync.WaitGroup
		var holders, had atomic.Int32
		for range many {
			far := w.mustOpen(t)
			if err := far.MakeFolders(t.Context(), []string{publish.Folder}); err != nil {
				t.Fatal(err)
			}
			all.Go(func() {
				for range each {
					err := far.Create(t.Context(), publish.Folder+"/lock", []byte("asleft publish lock 1\nwho AB\n"))
					if errors.Is(err, fs.ErrExist) {
						continue
					}
					if err != nil {
						t.Errorf("said %v", err)
						return
					}
					had.Add(1)
					if holders.Add(1) != 1 {
						t.Error("two had it")
					}
					holders.Add(-1)
					if err := far.Remove(t.Context(), publish.Folder+"/lock"); err != nil {
						t.Errorf("letting go: %v", err)
					}
				}
			})
		}
		all.Wait()
		if had.Load() < 2 {
			t.Errorf("it was had %d times", had.Load())
		}
	})
}

// TestTwoAtOnce: two runs on one place. One waits for the other; at the end the place
// is what one of them brought, whole.
func TestTwoAtOnce(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		sites := []map[string]string{village("old", 12), village("new", 12)}
		var both sync.WaitGroup
		errs, waited := make([]error, 2), make([]string, 2)
		for n := range 2 {
			far := w.mustOpen(t)
			both.Go(func() {
				o := slowerAtOnce()
				o.Who, o.MoveIn = fmt.Sprint("publisher ", n), true
				o.Waiting = func(who string) { waited[n] = who }
				_, errs[n] = publish.Bring(context.Background(), far, siteOf(sites[n]), o)
			})
		}
		both.Wait()
		if errs[0] != nil || errs[1] != nil {
			t.Fatalf("%v; %v", errs[0], errs[1])
		}
		if waited[0] == "" && waited[1] == "" {
			t.Logf("they did not meet")
		}
		w.visited(t, sites...)
		bring(t, w.mustOpen(t), sites[0], slowerAtOnce())
		sameAs(t, w.disk(t), sites[0])
		// Whoever will not wait is told who it is.
		far := w.mustOpen(t)
		if err := far.Create(context.Background(), publish.Folder+"/lock", []byte("asleft publish lock 1\nwho AB on bench\n")); err != nil {
			t.Fatal(err)
		}
		o := slower()
		o.Wait = 0
		_, err := publish.Bring(context.Background(), far, siteOf(sites[1]), o)
		if !publish.IsFault(err, "publish.at-work") || !strings.Contains(err.Error(), "AB on bench") {
			t.Errorf("said %v", err)
		}
		if err := far.Create(context.Background(), publish.Folder+"/lock", nil); err == nil {
			t.Error("the lock could be taken twice")
		}
	})
}

// The same file by two at once, without the lock: each draft has a name of its own.
func TestSameNameTwice(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		ends := []publish.FarEnd{w.mustOpen(t), w.mustOpen(t)}
		texts := []string{strings.Repeat("a", 100_000), strings.Repeat("b", 100_000)}
		var all sync.WaitGroup
		for n := range 8 {
			all.Go(func() {
				if err := ends[n%2].Put(context.Background(), "page.html", []byte(texts[n%2])); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		data, err := os.ReadFile(filepath.Join(w.server.Root, "page.html"))
		if err != nil || string(data) != texts[0] && string(data) != texts[1] {
			t.Errorf("neither of both: %d bytes, %v", len(data), err)
		}
	})
}

// A reader at the far end sees the old file or the new one, whole.
func TestNoTornRead(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		far := w.mustOpen(t)
		name := filepath.Join(w.server.Root, "page.html")
		put := func(n int) {
			if err := far.Put(context.Background(), "page.html", []byte(strings.Repeat(string(rune('a'+n%26)), 300_000))); err != nil {
				t.Error(err)
			}
		}
		put(0)
		done := make(chan struct{})
		go func() {
			defer close(done)
			for n := range 20 {
				put(n)
			}
		}()
		for reads := 0; ; reads++ {
			select {
			case <-done:
				return
			default:
			}
			data, err := os.ReadFile(name)
			if err != nil || len(data) != 300_000 || strings.Count(string(data), string(data[:1])) != len(data) {
				t.Fatalf("read %d: %d bytes, %v", reads, len(data), err)
			}
		}
	})
}

// TestFullDisk: the disk fills in the middle of a run, and is made larger then.
func TestFullDisk(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		testenv.SmallDisk(t, w.server.Root, "size=400k,mode=777")
		old := village("old", 6)
		bring(t, w.mustOpen(t), old, slower())
		young := village("new", 6)
		for n := range 20 {
			young[fmt.Sprintf("photos/large%d-1600.jpg", n)] = strings.Repeat("photo ", 10_000)
		}
		_, err := publish.Bring(context.Background(), w.mustOpen(t), siteOf(young), slower())
		if !publish.IsFault(err, w.full) && !publish.IsFault(err, "publish.no-room") {
			t.Errorf("said %v", err)
		}
		w.visited(t, old, young)
		if out, err := exec.Command("mount", "-o", "remount,size=8m", w.server.Root).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		bring(t, w.mustOpen(t), young, slowerAtOnce())
		sameAs(t, w.disk(t), young)
	})
}

// TestReadOnly: the disk there can only be read, or the user may not write.
func TestReadOnly(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		if w.readOnly == "" {
			t.Skip("the gateway writes as root")
		}
		testenv.SmallDisk(t, w.server.Root, "size=4m,mode=777")
		site := village("old", 4)
		bring(t, w.mustOpen(t), site, slower())
		if out, err := exec.Command("mount", "-o", "remount,ro", w.server.Root).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		_, err := publish.Bring(context.Background(), w.mustOpen(t), siteOf(village("new", 4)), slower())
		if !publish.IsFault(err, w.readOnly) {
			t.Errorf("read-only: said %v", err)
		}
		if out, err := exec.Command("mount", "-o", "remount,rw", w.server.Root).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		if err := os.RemoveAll(filepath.Join(w.server.Root, publish.Folder)); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(w.server.Root, 0o555); err != nil { //nolint:gosec // the test's point
			t.Fatal(err)
		}
		_, err = publish.Bring(context.Background(), w.mustOpen(t), siteOf(village("new", 4)), slower())
		if !publish.IsFault(err, w.noRight) {
			t.Errorf("no right: said %v", err)
		}
		w.visited(t, site)
	})
}

// TestFolderThere: the last part of the path is made, what is above it is not.
func TestFolderThere(t *testing.T) {
	for _, one := range ways[:2] {
		t.Run(one.name, func(t *testing.T) {
			t.Parallel()
			w := one.by(t)
			root := w.url.Path
			w.url.Path = strings.TrimSuffix(root, "/") + "/shop"
			bring(t, w.mustOpen(t), village("old", 2), slower())
			if _, err := os.Stat(filepath.Join(w.server.Root, "shop/index.html")); err != nil {
				t.Error(err)
			}
			w.url.Path = strings.TrimSuffix(root, "/") + "/nowhere/shop"
			if _, err := w.open(t, nil); !publish.IsFault(err, "publish.no-folder") {
				t.Errorf("said %v", err)
			}
		})
	}
}
