package visit

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"mime"
	"net"
	"net/http"
	"net/url"
	"os"
	"path"
	"strings"
	"time"

	"golang.org/x/net/html"
	"golang.org/x/sync/errgroup"

	"asleft/generator/catalog"
	"asleft/generator/output"
)

// atMost is how many pages are read; more would say no more.
const atMost = 12

// worthIt is how many bytes of a page a host may waste before somebody is told: what fits
// in a line's first few packets comes no sooner if it is smaller.
const worthIt = 4_000

func kilobytes(bytes int) int { return (bytes + 999) / 1000 }

// largest is how much of a file is read.
const largest = 32 << 20

// A Finding is something that the world sees and should not, or does not see.
type Finding struct {
	Key   string `json:"key"` // of its sentence
	Pairs []any  `json:"-"`
	// Serious: the world does not see the site as it is. Otherwise it does, and
	// something could be better.
	Serious bool `json:"serious"`
}

// In is the finding in words.
func (f Finding) In(words *catalog.Catalog) string { return words.Say(f.Key, f.Pairs...) }

// A Report is what was seen.
type Report struct {
	Read     int // files that were fetched
	Same     int // of those, as they are in the site
	Findings []Finding
}

// Fine tells whether the world sees the site as it is.
func (r Report) Fine() bool {
	for _, f := range r.Findings {
		if f.Serious {
			return false
		}
	}
	return true
}

// A Visit is what to look at.
type Visit struct {
	Web     string        // the site's address, ending in a slash
	Files   []output.File // the site
	Changed []string      // what was brought, to be looked at first
	Client  *http.Client  // nil for one that gives up after half a minute
	// Wait is how long to look again where an old page is seen: some hosts take a
	// moment. 0 is not at all.
	Wait time.Duration
}

// Look looks. The error is the context's.
func (v Visit) Look(ctx context.Context) (Report, error) {
	if v.Client == nil {
		v.Client = &http.Client{Timeout: 30 * time.Second}
	}
	look := &look{Visit: v, sums: map[string][sha256.Size]byte{}}
	for _, f := range v.Files {
		look.sums[f.Path] = f.Sum
	}
	look.plainAddress()
	front := look.page(ctx, "index.html")
	if front.failed {
		return look.report(front), ctx.Err()
	}
	all := make([]seen, 1, atMost)
	all[0] = front
	pages := look.toRead()
	more := make([]seen, len(pages))
	var work errgroup.Group
	work.SetLimit(4)
	for n, p := range pages {
		work.Go(func() error {
			more[n] = look.page(ctx, p)
			return nil
		})
	}
	_ = work.Wait() // what fails is a finding
	return look.report(append(all, more...)...), ctx.Err()
}

type look struct {
	Visit
	sums map[string][sha256.Size]byte
	own  []Finding // of the address itself
}

// toRead are the pages to look at: those that changed, but for the front page.
func (l *look) toRead() (pages []string) {
	for _, p := range l.Changed {
		if p != "index.html" && path.Ext(p) == ".html" && len(pages) < atMost-1 {
			pages = append(pages, p)
		}
	}
	return pages
}

func (l *look) plainAddress() {
	u, err := url.Parse(l.Web)
	if err == nil && u.Scheme == "http" && !isHere(u.Hostname()) {
		l.own = append(l.own, Finding{Key: "visit.not-secure", Pairs: []any{"web", l.Web}})
	}
}

func isHere(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// seen is what was seen of one page and its photo.
type seen struct {
	read, same int
	sent, need int  // bytes of pages that came as they are, and what they would be compressed
	failed     bool // nothing could be read
	findings   []Finding
}

func (s *seen) find(serious bool, key string, pairs ...any) {
	s.findings = append(s.findings, Finding{key, pairs, serious})
}

// weigh notes what a page costs that came as it is.
func (s *seen) weigh(p string, h http.Header, data []byte) {
	if path.Ext(p) != ".html" || h.Get("Content-Encoding") != "" {
		return
	}
	var small bytes.Buffer
	z := gzip.NewWriter(&small)
	_, _ = z.Write(data) // into memory
	_ = z.Close()        // as above
	s.sent, s.need = s.sent+len(data), s.need+small.Len()
}

// page looks at a page and one photo of it.
func (l *look) page(ctx context.Context, p string) (s seen) {
	text := l.file(ctx, p, &s)
	if text == nil {
		return s
	}
	base, _ := url.Parse(l.address(p)) // it was just fetched
	photo, mixed := references(text, base)
	if mixed != "" && base.Scheme == "https" {
		s.find(true, "visit.mixed", "page", p, "address", mixed)
	}
	if below, ours := strings.CutPrefix(photo, l.Web); ours {
		if _, known := l.sums[below]; known {
			l.file(ctx, below, &s)
		}
	}
	return s
}

// address is where a page is for the world.
func (l *look) address(p string) string {
	return l.Web + (&url.URL{Path: strings.TrimSuffix(p, "index.html")}).EscapedPath()
}

// file fetches one file and holds it against the site's; nil where it could not be.
func (l *look) file(ctx context.Context, p string, s *seen) []byte {
	for until := time.Now().Add(l.Wait); ; {
		data, header, away, err := l.fetch(ctx, l.address(p))
		if err != nil {
			s.failed = true
			s.findings = append(s.findings, l.why(err, p))
			return nil
		}
		if sha256.Sum256(data) == l.sums[p] {
			s.read, s.same = s.read+1, s.same+1
			l.headers(p, header, s)
			s.weigh(p, header, data)
			return data
		}
		if time.Now().After(until) || ctx.Err() != nil {
			s.read++
			if away != "" {
				s.find(true, "visit.led-away", "address", l.address(p), "to", away)
				return nil
			}
			s.find(true, "visit.other", "address", l.address(p))
			l.headers(p, header, s)
			return data
		}
		select {
		case <-ctx.Done():
		case <-time.After(time.Second):
		}
	}
}

// headers looks at what comes along with a file.
func (l *look) headers(p string, h http.Header, s *seen) {
	want := map[string]string{".html": "text/html", ".jpg": "image/jpeg", ".css": "text/css", ".png": "image/png", ".svg": "image/svg+xml"}[path.Ext(p)]
	kind, params, _ := mime.ParseMediaType(h.Get("Content-Type"))
	switch {
	case want != "" && kind != want:
		s.find(true, "visit.type", "address", l.address(p), "type", orNone(kind), "want", want)
	case want == "text/html" && params["charset"] != "" && !strings.EqualFold(params["charset"], "utf-8"):
		s.find(true, "visit.charset", "address", l.address(p), "charset", params["charset"])
	}
	if age := maxAge(h.Get("Cache-Control")); want == "text/html" && age > time.Hour {
		s.find(false, "visit.kept-long", "address", l.address(p), "hours", int(age.Hours()))
	}
}

func orNone(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// maxAge is for how long a browser may keep a page without asking.
func maxAge(header string) time.Duration {
	for part := range strings.SplitSeq(header, ",") {
		name, value, _ := strings.Cut(strings.TrimSpace(part), "=")
		if strings.EqualFold(name, "max-age") {
			age, err := time.ParseDuration(strings.Trim(value, `"`) + "s")
			if err == nil {
				return age
			}
		}
	}
	return 0
}

// A statusError is an answer that is not the page.
type statusError struct{ code int }

func (e statusError) Error() string { return http.StatusText(e.code) }

// fetch reads a file. away is the address that it was led to, where that is another path:
// another host or https are the same page.
func (l *look) fetch(ctx context.Context, address string) (data []byte, header http.Header, away string, err error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return nil, nil, "", err
	}
	request.Header.Set("Cache-Control", "no-cache") // what stands there, not what somebody between kept
	answer, err := l.Client.Do(request)
	if err != nil {
		var failed *url.Error
		if errors.As(err, &failed) {
			err = failed.Err // what stands before it is the address, which is told
		}
		return nil, nil, "", err
	}
	defer func() { _ = answer.Body.Close() }() // it was read to its end
	if to := answer.Request.URL; to.Path != request.URL.Path {
		away = to.Redacted()
	}
	data, err = io.ReadAll(io.LimitReader(answer.Body, largest))
	if answer.Uncompressed {
		answer.Header.Set("Content-Encoding", "gzip") // net/http has taken that off
	}
	if err == nil && answer.StatusCode != http.StatusOK {
		err = statusError{answer.StatusCode}
	}
	return data, answer.Header, away, err
}

// finding is something serious at a page.
func (l *look) finding(key, p string, pairs ...any) Finding {
	host := l.Web
	if u, err := url.Parse(l.Web); err == nil {
		host = u.Hostname()
	}
	return Finding{key, append([]any{"address", l.address(p), "host", host}, pairs...), true}
}

// why words what came in place of a page.
func (l *look) why(err error, p string) Finding {
	var status statusError
	var lookup *net.DNSError
	var invalid x509.CertificateInvalidError
	var name x509.HostnameError
	var unknown *tls.CertificateVerificationError
	switch {
	case errors.As(err, &status) && status.code == http.StatusNotFound:
		return l.finding("visit.not-found", p)
	case errors.As(err, &status) && (status.code == http.StatusForbidden || status.code == http.StatusUnauthorized):
		return l.finding("visit.forbidden", p, "code", status.code)
	case errors.As(err, &status):
		return l.finding("visit.status", p, "code", status.code, "said", status.Error())
	case errors.As(err, &lookup):
		return l.finding("visit.no-name", p)
	case errors.As(err, &invalid) && invalid.Reason == x509.Expired:
		return l.finding("visit.certificate-expired", p, "until", invalid.Cert.NotAfter.Format(time.DateOnly))
	case errors.As(err, &name):
		return l.finding("visit.certificate-name", p)
	case errors.As(err, &unknown):
		return l.finding("visit.certificate-unknown", p)
	case errors.Is(err, context.DeadlineExceeded), os.IsTimeout(err):
		return l.finding("visit.silent", p)
	}
	return l.finding("visit.no-line", p, "said", err)
}

func (l *look) report(all ...seen) Report {
	r := Report{Findings: l.own}
	pages, sent, need := 0, 0, 0
	for _, s := range all {
		r.Read, r.Same = r.Read+s.read, r.Same+s.same
		r.Findings = append(r.Findings, s.findings...)
		if s.sent > 0 {
			pages, sent, need = pages+1, sent+s.sent, need+s.need
		}
	}
	r.Findings = once(r.Findings)
	if sent-need >= worthIt*pages && pages > 0 {
		r.Findings = append(r.Findings, Finding{Key: "visit.not-small", Pairs: []any{"web", l.Web, "sent", kilobytes(sent / pages), "need", kilobytes(need / pages)}})
	}
	return r
}

// once tells each kind of finding at the first file that has it, and of how many more it is
// so: one setting of a host is wrong for all of its pages.
func once(all []Finding) (told []Finding) {
	more := map[string]int{}
	for _, f := range all {
		more[f.Key]++
	}
	for _, f := range all {
		n := more[f.Key] - 1
		if n < 0 {
			continue
		}
		more[f.Key] = 0
		told = append(told, f)
		if n > 0 {
			told = append(told, Finding{"visit.more", []any{"n", n + 1}, f.Serious})
		}
	}
	return told
}

// references are the first photo of a page, and something of it that a browser would
// not load, or warn of, on a page that came by a secure line; both as addresses.
func references(text []byte, base *url.URL) (photo, mixed string) {
	for z := html.NewTokenizer(bytes.NewReader(text)); ; {
		kind := z.Next()
		if kind == html.ErrorToken {
			return photo, mixed
		}
		token := z.Token()
		for _, a := range token.Attr {
			loads := a.Key == "src" || a.Key == "href" && token.Data == "link"
			u, err := url.Parse(strings.TrimSpace(a.Val))
			if !loads || err != nil {
				continue
			}
			to := base.ResolveReference(u)
			if to.Scheme == "http" && mixed == "" && token.Data != "a" && !isCanonical(token) {
				mixed = to.String()
			}
			if token.Data == "img" && a.Key == "src" && photo == "" {
				photo = to.String()
			}
		}
	}
}

// isCanonical tells whether a link only names an address and loads nothing.
func isCanonical(t html.Token) bool {
	for _, a := range t.Attr {
		if a.Key == "rel" {
			return a.Val != "stylesheet" && a.Val != "icon"
		}
	}
	return false
}
