package visit_test

import (
	"compress/gzip"
	"context"
	"crypto/tls"
	"crypto/x509"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"asleft/generator/catalog"
	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/visit"
	"asleft/generator/testenv"
)

// site is a small one, with a photo on a machine's page.
var site = map[string]string{
	"index.html":            `<p>front <a href="machines/a/">a</a>`,
	"machines/a/index.html": `<img src="../../photos/a-400.jpg" alt="">`,
	"photos/a-400.jpg":      "\xff\xd8\xff a photo",
	"assets/style.css":      "p {}",
}

func visitOf(web string, files map[string]string, client *http.Client) visit.Visit {
	v := visit.Visit{Web: web, Client: client}
	for p, text := range files {
		print := publish.PrintOf([]byte(text))
		v.Files = append(v.Files, output.File{Path: p, Size: print.Size, Sum: print.Sum})
		v.Changed = append(v.Changed, p)
	}
	slices.Sort(v.Changed)
	return v
}

// serving is a web server with these files, whose headers can be changed.
func serving(files map[string]string, change func(w http.ResponseWriter, r *http.Request) (done bool)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if change != nil && change(w, r) {
			return
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" || strings.HasSuffix(name, "/") {
			name += "index.html"
		}
		text, ok := files[name]
		if !ok {
			http.NotFound(w, r)
			return
		}
		http.ServeContent(w, r, name, time.Time{}, strings.NewReader(text))
	})
}

func keys(r visit.Report) (all []string) {
	for _, f := range r.Findings {
		if strings.ContainsAny(f.In(catalog.English), "{}[]") {
			all = append(all, "no words for "+f.Key+": "+f.In(catalog.English))
		}
		all = append(all, f.Key)
	}
	return all
}

// What pages cost is told where the host sends them as they are, once for all of them; a
// host that compresses them, and one page of little weight, are fine.
func TestPagesTravelSmall(t *testing.T) {
	long := map[string]string{"index.html": "<p>" + strings.Repeat("a bench grinder and its story ", 1000), "machines/a/index.html": "<p>" + strings.Repeat("a pump and its story, too ", 1000)}
	for _, tc := range []struct {
		name       string
		files      map[string]string
		compressed bool
		want       []string
	}{
		{"as they are", long, false, []string{"visit.not-small"}},
		{"compressed", long, true, nil},
		{"short ones", site, false, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			web := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if !tc.compressed || !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
					serving(tc.files, nil).ServeHTTP(w, r)
					return
				}
				w.Header().Set("Content-Type", "text/html; charset=utf-8")
				w.Header().Set("Content-Encoding", "gzip")
				z := gzip.NewWriter(w)
				_, _ = z.Write([]byte(tc.files[strings.TrimPrefix(r.URL.Path, "/")+"index.html"]))
				_ = z.Close()
			}))
			defer web.Close()
			r, err := visitOf(web.URL+"/", tc.files, nil).Look(t.Context())
			if err != nil || !slices.Equal(keys(r), tc.want) || !r.Fine() {
				t.Errorf("%v, %v", keys(r), err)
			}
			if len(tc.want) > 0 && !strings.Contains(r.Findings[0].In(catalog.English), "29 kB each, where 1 kB would do") {
				t.Error(r.Findings[0].In(catalog.English))
			}
		})
	}
}

func TestWhatTheWorldSees(t *testing.T) {
	header := func(name, value string) func(http.ResponseWriter, *http.Request) bool {
		return func(w http.ResponseWriter, r *http.Request) bool {
			if strings.HasSuffix(r.URL.Path, "/") {
				w.Header().Set(name, value)
			}
			return false
		}
	}
	status := func(path string, code int) func(http.ResponseWriter, *http.Request) bool {
		return func(w http.ResponseWriter, r *http.Request) bool {
			if r.URL.Path == path {
				w.WriteHeader(code)
			}
			return r.URL.Path == path
		}
	}
	old := map[string]string{"index.html": "an older front page", "machines/a/index.html": site["machines/a/index.html"], "photos/a-400.jpg": "another"}
	for _, tc := range []struct {
		name   string
		files  map[string]string
		change func(http.ResponseWriter, *http.Request) bool
		want   []string
		fine   bool
	}{
		{"all is well", site, nil, nil, true},
		{"another folder", map[string]string{}, nil, []string{"visit.not-found"}, false},
		{"a network that wants a login first", site, func(w http.ResponseWriter, r *http.Request) bool {
			if r.URL.Path != "/login" {
				http.Redirect(w, r, "/login", http.StatusFound)
				return true
			}
			w.Header().Set("Content-Type", "text/html")
			_, _ = w.Write([]byte("log in"))
			return true
		}, []string{"visit.led-away", "visit.more"}, false},
		{"led in a circle", site, func(w http.ResponseWriter, r *http.Request) bool {
			http.Redirect(w, r, r.URL.Path, http.StatusFound)
			return true
		}, []string{"visit.no-line"}, false},
		{"closed", site, status("/", http.StatusForbidden), []string{"visit.forbidden"}, false},
		{"broken", site, status("/machines/a/", http.StatusBadGateway), []string{"visit.status"}, false},
		{"old pages and another photo", old, nil, []string{"visit.other", "visit.more"}, false},
		{"as a download", site, header("Content-Type", "application/octet-stream"), []string{"visit.type", "visit.more"}, false},
		{"in another alphabet", site, header("Content-Type", "text/html; charset=iso-8859-1"), []string{"visit.charset", "visit.more"}, false},
		{"kept for a week", site, header("Cache-Control", "public, max-age=604800"), []string{"visit.kept-long", "visit.more"}, true},
		{"kept for a minute", site, header("Cache-Control", "max-age=60"), nil, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			web := httptest.NewServer(serving(tc.files, tc.change))
			defer web.Close()
			report, err := visitOf(web.URL+"/", site, nil).Look(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			if got := keys(report); !slices.Equal(got, tc.want) || report.Fine() != tc.fine {
				t.Errorf("found %q, want %q; fine: %v", got, tc.want, report.Fine())
			}
			if tc.want == nil && (report.Read != 3 || report.Same != 3) {
				t.Errorf("%d read, %d the same; the front page, a page and its photo were expected", report.Read, report.Same)
			}
		})
	}
}

// A page that loads something by a line that is not secure; a link and a name for the
// page load nothing.
func TestMixedContent(t *testing.T) {
	files := map[string]string{
		"index.html":   `<link rel="canonical" href="http://shop.example/"><a href="http://other.example/">x</a>`,
		"a/index.html": `<link rel=stylesheet href="http://shop.example/style.css">`,
		"b/index.html": `<img src="http://shop.example/photo.jpg">`,
	}
	web := httptest.NewTLSServer(serving(files, nil))
	defer web.Close()
	report, err := visitOf(web.URL+"/", files, web.Client()).Look(context.Background())
	if got := keys(report); err != nil || !slices.Equal(got, []string{"visit.mixed", "visit.more"}) || !strings.Contains(report.Findings[1].In(catalog.English), "so of 2 ") {
		t.Errorf("%q, %v", got, err)
	}
}

func TestCertificatesOfTheSite(t *testing.T) {
	now, day := time.Now(), 24*time.Hour
	for _, tc := range []struct {
		name, host, want string
		until            time.Time
		known            bool
	}{
		{"good", "127.0.0.1", "", now.Add(day), true},
		{"ran out", "127.0.0.1", "visit.certificate-expired", now.Add(-day), true},
		{"another name", "127.0.0.2", "visit.certificate-name", now.Add(day), true},
		{"nobody's", "127.0.0.1", "visit.certificate-unknown", now.Add(day), false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			cert, key := testenv.SelfSigned(t, now.Add(-9*day), tc.until)
			pair, err := tls.X509KeyPair(cert, key)
			if err != nil {
				t.Fatal(err)
			}
			list, err := net.Listen("tcp", tc.host+":0")
			if err != nil {
				t.Skip(err)
			}
			web := &httptest.Server{Listener: list, TLS: &tls.Config{Certificates: []tls.Certificate{pair}}, Config: &http.Server{Handler: serving(site, nil)}} //nolint:gosec // a test's
			web.StartTLS()
			defer web.Close()
			trusted := x509.NewCertPool()
			if tc.known {
				trusted.AppendCertsFromPEM(cert)
			}
			client := &http.Client{Timeout: 5 * time.Second, Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted}}} //nolint:gosec // as above
			report, err := visitOf(web.URL+"/", site, client).Look(context.Background())
			if got := strings.Join(keys(report), " "); err != nil || got != tc.want {
				t.Errorf("%q, %v", got, err)
			}
		})
	}
}

func TestNobodyThere(t *testing.T) {
	list, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Timeout: 200 * time.Millisecond}
	address := "http://" + list.Addr().String() + "/"
	if report, err := visitOf(address, site, client).Look(context.Background()); err != nil || !slices.Equal(keys(report), []string{"visit.silent"}) {
		t.Errorf("silent: %q, %v", keys(report), err)
	}
	_ = list.Close()
	if report, err := visitOf(address, site, client).Look(context.Background()); err != nil || !slices.Equal(keys(report), []string{"visit.no-line"}) {
		t.Errorf("closed: %q, %v", keys(report), err)
	}
	client.Transport = &http.Transport{DialContext: func(context.Context, string, string) (net.Conn, error) {
		return nil, &net.DNSError{Name: "nowhere.example", IsNotFound: true}
	}}
	report, err := visitOf("http://nowhere.example/", site, client).Look(context.Background())
	if err != nil || !slices.Equal(keys(report), []string{"visit.not-secure", "visit.no-name"}) {
		t.Errorf("no such name: %q, %v", keys(report), err)
	}
}

// A host that takes a moment is given one.
func TestLooksAgain(t *testing.T) {
	asked := 0
	web := httptest.NewServer(serving(site, func(w http.ResponseWriter, r *http.Request) bool {
		if asked++; asked == 1 {
			_, _ = w.Write([]byte("<p>the old front page"))
			return true
		}
		return false
	}))
	defer web.Close()
	v := visitOf(web.URL+"/", site, nil)
	v.Wait = 5 * time.Second
	if report, err := v.Look(context.Background()); err != nil || !report.Fine() {
		t.Errorf("%q, %v", keys(report), err)
	}
}
