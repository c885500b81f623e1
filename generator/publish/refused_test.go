package publish_test

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

func always(secret string) func(context.Context, farend.Secret) (string, error) {
	return func(context.Context, farend.Secret) (string, error) { return secret, nil }
}

// What the real servers say to a wrong secret, and what is told of it.
func TestWrongSecret(t *testing.T) {
	eachWay(t, func(t *testing.T, w way) {
		want := map[string]string{"sftp": "publish.not-let-in", "ftps": "publish.password", "s3": "publish.secret-key"}[w.name]
		_, err := w.open(t, func(o *farend.Options) {
			o.Secret = always("secret-canary")
			if o.KeyFile != "" {
				_, raw := newKey(t, "ed25519")
				o.KeyFile = keyFile(t, raw, "")
			}
		})
		if !publish.IsFault(err, want) || strings.Contains(err.Error(), "canary") || strings.Contains(errorsBelow(err), "canary") {
			t.Errorf("said %v", err)
		}
	})
	t.Run("an access key that nobody has", func(t *testing.T) {
		w := byS3(t)
		w.url.User = url.User("NOBODY")
		if _, err := w.open(t, nil); !publish.IsFault(err, "publish.secret-key") {
			t.Errorf("said %v", err)
		}
	})
	t.Run("no such bucket", func(t *testing.T) {
		w := byS3(t)
		w.url.Path = "/elsewhere"
		far, err := w.open(t, nil)
		if err == nil {
			_, err = publish.Bring(context.Background(), far, siteOf(village("old", 2)), slower())
		}
		if !publish.IsFault(err, "publish.no-bucket") {
			t.Errorf("said %v", err)
		}
	})
}

// errorsBelow is what the causes of an error say.
func errorsBelow(err error) string {
	all := ""
	for err != nil {
		all += err.Error() + "\n"
		unwrap, ok := err.(interface{ Unwrap() error }) //nolint:errorlint // each in turn
		if !ok {
			break
		}
		err = unwrap.Unwrap()
	}
	return all
}

// Certificates: one that ran out, one that begins later, one that nobody speaks for,
// and one that is not the one that was named.
func TestCertificates(t *testing.T) {
	now := time.Now()
	for _, tc := range []struct {
		name, want  string
		from, until time.Time
		fingerprint string
	}{
		{"ran out", "publish.certificate-expired", now.Add(-9 * day), now.Add(-day), ""},
		{"to come", "publish.certificate-future", now.Add(day), now.Add(9 * day), ""},
		{"unknown", "publish.certificate-unknown", now.Add(-day), now.Add(day), ""},
		{"another", "publish.certificate-other", now.Add(-day), now.Add(day), strings.Repeat("AB:", 31) + "AB"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			s := testenv.VSFTPD(t, tc.from, tc.until)
			asked := false
			o := farend.Options{Fingerprint: tc.fingerprint, Quiet: 4 * time.Second, Secret: func(context.Context, farend.Secret) (string, error) {
				asked = true
				return "pw-canary", nil
			}}
			_, err := farend.Open(context.Background(), &url.URL{Scheme: "ftps", User: url.User(s.User), Host: s.Address, Path: "/"}, o)
			if !publish.IsFault(err, tc.want) {
				t.Errorf("said %v", err)
			}
			if said := s.Said(t); strings.Contains(said, "canary") || asked {
				t.Errorf("a password was asked for (%v), and the server has heard %s", asked, said)
			}
			// The fingerprint in the message is the one to name.
			if tc.want == "publish.certificate-unknown" {
				if want := s.Fingerprint(t); !strings.Contains(err.Error(), want) {
					t.Errorf("%s does not stand in %v", want, err)
				}
			}
		})
	}
}

// Under TLS 1.3 a file of this size was cut short in seven of eight uploads.
func TestLargeFilesOverTLS(t *testing.T) {
	w := byFTPS(t)
	far := w.mustOpen(t)
	for n := range 8 {
		data := []byte(strings.Repeat("a photo ", 52_250+n))
		if err := far.Put(context.Background(), "large.jpg", data); err != nil {
			t.Fatalf("upload %d: %v", n, err)
		}
		got, err := os.ReadFile(filepath.Join(w.server.Root, "large.jpg"))
		if err != nil || string(got) != string(data) {
			t.Fatalf("upload %d: %d of %d bytes are there, %v", n, len(got), len(data), err)
		}
	}
}

// A server that takes few connections at a time gets few.
func TestFewConnections(t *testing.T) {
	s := testenv.VSFTPD(t, time.Now().Add(-day), time.Now().Add(day), "max_per_ip=2")
	w := ftpsTo(t, s, "/")
	site := village("old", 8)
	far := w.mustOpen(t)
	bring(t, far, site, slower())
	sameAs(t, w.disk(t), site)
}

// A password that was taken a moment ago is not what is wrong when some more connections
// are refused by the answer for a wrong one, as some servers do.
func TestFewConnectionsByTheWordForAPassword(t *testing.T) {
	s := testenv.VSFTPD(t, time.Now().Add(-day), time.Now().Add(day))
	w := ftpsTo(t, s, "/")
	tried := 0
	w.o.Secret = func(context.Context, farend.Secret) (string, error) {
		tried++
		return s.Secret, nil
	}
	far := w.mustOpen(t)
	s.Forget(t) // whoever comes now is refused
	site := village("old", 8)
	bring(t, far, site, slower())
	sameAs(t, w.disk(t), site)
	if tried != 1 {
		t.Errorf("asked for a password %d times", tried)
	}
}

func ftpsTo(t *testing.T, s *testenv.Server, where string) way {
	t.Helper()
	return way{"ftps", s, &url.URL{Scheme: "ftps", User: url.User(s.User), Host: s.Address, Path: where},
		farend.Options{Secret: secretOf(s), Fingerprint: s.Fingerprint(t), Quiet: 4 * time.Second}, "", "", ""}
}

// A server that ends what is idle for a second is asked first if a line is still open.
func TestServerThatEndsIdleLines(t *testing.T) {
	s := testenv.VSFTPD(t, time.Now().Add(-day), time.Now().Add(day), "idle_session_timeout=1")
	w := ftpsTo(t, s, "/")
	far := w.mustOpen(t)
	site := village("old", 8)
	o := slower()
	o.Broken = func(why error, _ time.Duration) { t.Errorf("taken for a line that broke: %v", why) }
	bring(t, far, site, o)
	time.Sleep(3 * time.Second)
	site["index.html"] = "<p>later"
	bring(t, far, site, o)
	sameAs(t, w.disk(t), site)
}

// Where a login is not shut into its folder, /~/ is that folder for as long as the run
// takes, also when it has waited for another; and where the folder cannot be made, that
// is told.
func TestLoginWithAllOfTheDisk(t *testing.T) {
	s := testenv.VSFTPD(t, time.Now().Add(-day), time.Now().Add(day), "chroot_local_user=NO")
	w := ftpsTo(t, s, "/~/public_html")
	lock := filepath.Join(s.Root, "public_html", publish.Folder, "lock")
	if err := os.MkdirAll(lock+".held", 0o755); err != nil { //nolint:gosec // the server's user has to get in
		t.Fatal(err)
	}
	if err := os.WriteFile(lock, []byte("asleft publish lock 1\nwho somebody on another computer\nrun x\nbeat 1\n"), 0o644); err != nil { //nolint:gosec // as above
		t.Fatal(err)
	}
	for at := lock + ".held"; at != s.Root; at = filepath.Dir(at) {
		testenv.GiveAway(t, at)
	}
	testenv.GiveAway(t, lock)
	waited := ""
	o := slower()
	o.Wait, o.Waiting = 10*time.Second, func(who string) { waited = who }
	site := village("old", 2)
	if _, err := publish.Bring(context.Background(), w.mustOpen(t), siteOf(site), o); err != nil || waited != "somebody on another computer" {
		t.Errorf("waited for %q: %v", waited, err)
	}
	if _, err := os.Stat(filepath.Join(s.Root, "public_html", "index.html")); err != nil {
		t.Error(err)
	}
	for _, w := range []way{ftpsTo(t, s, "/public_html"), bySFTP(t)} {
		w.url.Path = "/public_html"
		if _, err := publish.Bring(context.Background(), w.mustOpen(t), siteOf(site), slower()); !publish.IsFault(err, "publish.no-folder") {
			t.Errorf("%s: a folder that cannot be made: %v", w.name, err)
		}
	}
}

// A file where a folder is wanted, or a folder where a file is.
func TestInTheWay(t *testing.T) {
	for _, one := range ways[:2] {
		t.Run(one.name, func(t *testing.T) {
			t.Parallel()
			w := one.by(t)
			site := village("old", 3)
			for in, folder := range map[string]bool{"photos": false, "machines": false, "assets": false, "index.html": true, "robots.txt": true} {
				root, at := filepath.Join(w.server.Root, "for "+in), filepath.Join(w.server.Root, "for "+in, in)
				err := os.Mkdir(root, 0o755) //nolint:gosec // the server's user has to get in
				if err != nil {
					t.Fatal(err)
				}
				testenv.GiveAway(t, root)
				if folder {
					err = os.Mkdir(at, 0o755) //nolint:gosec // the server's user has to get in
				} else {
					err = os.WriteFile(at, []byte("mine"), 0o644) //nolint:gosec // as above
				}
				if err != nil {
					t.Fatal(err)
				}
				testenv.GiveAway(t, at)
				o := slower()
				o.MoveIn = true
				w := w
				w.url = w.url.JoinPath("for " + in)
				_, err = publish.Bring(context.Background(), w.mustOpen(t), siteOf(site), o)
				if !publish.IsFault(err, "publish.in-the-way") || !strings.Contains(err.Error(), ": "+in+".") {
					t.Errorf("%s in the way: said %v", in, err)
				}
			}
		})
	}
}

// A server that says nothing of dot files in a listing does not make us send ours again.
func TestListingsWithoutDotFiles(t *testing.T) {
	w := byFTPS(t)
	far := w.mustOpen(t)
	site := village("old", 2)
	bring(t, far, site, slower())
	all, err := far.List(context.Background())
	if err != nil || len(all) != len(site) {
		t.Errorf("%d of %d files listed, %v", len(all), len(site), err)
	}
	if r := bring(t, far, site, slower()); len(r.Brought) > 0 || r.NoList {
		t.Errorf("%+v", r)
	}
}

// A server without OpenSSH's rename: all comes over and changed pages are replaced, and
// it is known that each is gone for a moment.
func TestServerThatCannotReplace(t *testing.T) {
	for setting, cannot := range map[string]bool{"AllowTcpForwarding no": false, "ForceCommand internal-sftp -P posix-rename": true} {
		w := bySFTP(t, setting)
		far := w.mustOpen(t)
		if far.Traits().NoReplace != cannot {
			t.Errorf("%s: known as %+v", setting, far.Traits())
		}
		old, young := village("old", 6), village("new", 6)
		bring(t, far, old, slower())
		bring(t, far, young, slowerAtOnce())
		w.visited(t, young)
		sameAs(t, w.disk(t), young)
		if infos, err := os.ReadDir(filepath.Join(w.server.Root, publish.Folder)); err != nil || len(infos) != 1 {
			t.Errorf("%s: in our folder stayed %v, %v", setting, infos, err)
		}
	}
}

// A server that lets a user in and has no SFTP for him says so, at once.
func TestServerWithoutSFTP(t *testing.T) {
	w := bySFTP(t, "ForceCommand /bin/false")
	begun := time.Now()
	patient := func(o *farend.Options) { o.Quiet = time.Minute }
	if _, err := w.open(t, patient); !publish.IsFault(err, "publish.no-sftp") || time.Since(begun) > 30*time.Second {
		t.Errorf("said %v after %v", err, time.Since(begun))
	}
	own := newSSHServer(t, nil, "right", "ed25519")
	own.noSFTP = true
	o := alone(t)
	o.Secret = always("right")
	if err := reach(t, own, o); !publish.IsFault(err, "publish.no-sftp") {
		t.Errorf("said %v", err)
	}
}

// A store with too much to do refuses every other request, or all of them for a while.
func TestBusyBucket(t *testing.T) {
	real := byS3(t)
	var all, refuse atomic.Int64
	store := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if n := all.Add(1); n%2 == 0 || refuse.Load() > 0 {
			w.WriteHeader(http.StatusServiceUnavailable)
			fmt.Fprint(w, "<Error><Code>SlowDown</Code><Message>Please reduce your request rate.</Message></Error>")
			return
		}
		(&httputil.ReverseProxy{Rewrite: func(to *httputil.ProxyRequest) {
			to.SetURL(&url.URL{Scheme: "http", Host: real.server.Address})
			to.Out.Host = to.In.Host // it is signed
		}}).ServeHTTP(w, r)
	}))
	defer store.Close()
	w := real
	w.url = &url.URL{Scheme: "s3", User: real.url.User, Host: store.Listener.Addr().String(), Path: "/www"}
	site := village("old", 2)
	far := w.mustOpen(t)
	o := slower()
	o.Pace.Again = 10 * time.Millisecond
	o.Again = func(context.Context) (publish.FarEnd, error) { return w.open(t, nil) } // one may be refused each time
	bring(t, far, site, o)
	sameAs(t, w.disk(t), site)
	refuse.Store(1)
	if _, err := far.Stat(t.Context(), []string{"index.html"}); !publish.IsFault(err, "publish.too-many-lines") || !publish.Broke(err) {
		t.Errorf("said %v", err)
	}
}

// In the bucket each file has its type, and says how long it may be kept: seen on the
// line, since the gateway shows its bucket to nobody without a key.
func TestTypesInABucket(t *testing.T) {
	got := map[string]http.Header{}
	var mu sync.Mutex
	store := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		defer mu.Unlock()
		got[r.Method+" "+r.URL.Path] = r.Header
		if r.Method == http.MethodGet {
			w.WriteHeader(http.StatusNotFound)
		}
	}))
	defer store.Close()
	at := &url.URL{Scheme: "s3", User: url.User("AKEY"), Host: strings.TrimPrefix(store.URL, "http://"), Path: "/www/sub"}
	far, err := farend.Open(context.Background(), at, farend.Options{Plain: true, Secret: always("canary-secret")})
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"a b/index.html": "text/html; charset=utf-8", "assets/a.css": "text/css; charset=utf-8", "feed.xml": "application/xml", "photos/a.jpg": "image/jpeg"} {
		if err := far.Put(context.Background(), name, []byte("x")); err != nil {
			t.Fatal(err)
		}
		h := got["PUT /www/sub/"+name]
		forEver := strings.Contains(h.Get("Cache-Control"), "immutable")
		if h.Get("Content-Type") != want || forEver != (strings.HasPrefix(name, "assets/") || strings.HasPrefix(name, "photos/")) {
			t.Errorf("%s: %q", name, h)
		}
		for _, values := range h {
			if strings.Contains(strings.Join(values, ""), "canary") {
				t.Errorf("the secret key goes over the line: %q", h)
			}
		}
	}
}

// A bucket in the host's name: the path has the file alone.
func TestBucketInTheHost(t *testing.T) {
	var host, asked string
	store := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, asked = r.Host, r.URL.Path
		w.WriteHeader(http.StatusNotFound)
	}))
	defer store.Close()
	address := strings.TrimPrefix(store.URL, "http://")
	o := farend.Options{Plain: true, HostStyle: true, Secret: always("s"), Dial: func(ctx context.Context, network, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, network, address)
	}}
	_, err := farend.Open(context.Background(), &url.URL{Scheme: "s3", User: url.User("AKEY"), Host: "store.example", Path: "/www"}, o)
	if err != nil || host != "www.store.example" || asked != "/"+publish.Folder+"/manifest" {
		t.Errorf("asked %s for %s: %v", host, asked, err)
	}
}

// What servers say, and what is told of it.
func TestRefusalsOfABucket(t *testing.T) {
	for code, want := range map[string]string{
		"RequestTimeTooSkewed": "publish.clock", "AuthorizationHeaderMalformed": "publish.region", "AccessDenied": "publish.no-right", "SignatureDoesNotMatch": "publish.secret-key",
		"NoSuchBucket": "publish.no-bucket",
	} {
		store := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
			w.WriteHeader(http.StatusForbidden)
			fmt.Fprintf(w, "<?xml version=\"1.0\"?><Error><Code>%s</Code><Message>the region 'eu-north-1' is expected</Message></Error>", code)
		}))
		at := &url.URL{Scheme: "s3", User: url.User("AKEY"), Host: strings.TrimPrefix(store.URL, "http://"), Path: "/www"}
		_, err := farend.Open(context.Background(), at, farend.Options{Plain: true, Secret: always("canary-secret")})
		if !publish.IsFault(err, want) || strings.Contains(errorsBelow(err), "canary") {
			t.Errorf("%s: %v", code, err)
		}
		store.Close()
	}
}
