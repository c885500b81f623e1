package publish_test

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

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
		if !publish.Says(err, want) || strings.Contains(err.Error(), "canary") || strings.Contains(errorsBelow(err), "canary") {
			t.Errorf("said %v", err)
		}
	})
	t.Run("an access key that nobody has", func(t *testing.T) {
		w := byS3(t)
		w.url.User = url.User("NOBODY")
		if _, err := w.open(t, nil); !publish.Says(err, "publish.secret-key") {
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
		if !publish.Says(err, "publish.no-bucket") {
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
			if !publish.Says(err, tc.want) {
				t.Errorf("said %v", err)
			}
			if said := s.Said(t); strings.Contains(said, "canary") || !asked {
				t.Errorf("the server was told the password: %s", said)
			}
			// The fingerprint in the message is the one to name.
			if tc.want == "publish.certificate-unknown" {
				if want := fingerprintAt(t, s); !strings.Contains(err.Error(), want) {
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
	w := way{"ftps", s, &url.URL{Scheme: "ftps", User: url.User(s.User), Host: s.Address, Path: "/"},
		farend.Options{Secret: secretOf(s), Fingerprint: fingerprintAt(t, s), Quiet: 4 * time.Second}, "", "", ""}
	site := village("old", 8)
	far := w.mustOpen(t)
	bring(t, far, site, slower())
	sameAs(t, w.disk(t), site)
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

// A server without OpenSSH's rename: it works, and is known to leave a moment.
func TestServerThatCannotReplace(t *testing.T) {
	w := bySFTP(t)
	if far := w.mustOpen(t); far.Traits().NoReplace {
		t.Error("OpenSSH can replace a file")
	}
}

// In the bucket each file has its type, and says how long it may be kept.
func TestTypesInABucket(t *testing.T) {
	w := byS3(t)
	bring(t, w.mustOpen(t), map[string]string{"index.html": "<p>", "assets/a.css": "p {}", "feed.xml": "<feed/>"}, slower())
	for name, want := range map[string]string{"index.html": "text/html; charset=utf-8", "assets/a.css": "text/css; charset=utf-8", "feed.xml": "application/xml"} {
		kind, keeping := w.head(t, name)
		if kind != want || (keeping == "no-cache") == strings.HasPrefix(name, "assets/") {
			t.Errorf("%s: %s, %s", name, kind, keeping)
		}
	}
}

// head is what the gateway tells of a file, to whoever has the key.
func (w way) head(t *testing.T, name string) (kind, keeping string) {
	t.Helper()
	client, err := minio.New(w.url.Host, &minio.Options{Creds: credentials.NewStaticV4(w.server.User, w.server.Secret, "")})
	if err != nil {
		t.Fatal(err)
	}
	o, err := client.StatObject(context.Background(), strings.Trim(w.url.Path, "/"), name, minio.StatObjectOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return o.ContentType, o.Metadata.Get("Cache-Control")
}
