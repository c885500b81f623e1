package farend

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
)

// What of S3's protocol a site needs is five requests, each signed by Signature
// Version 4 as "Authenticating Requests (AWS Signature Version 4)" of the S3 API
// reference has it. A client library for the rest would be a ninth of the program.

// An s3Line sends signed requests to one bucket.
type s3Line struct {
	client            *http.Client
	scheme, host      string // the bucket stands in front of the host, or in the path
	path              string // "/bucket", or "" where it stands in the host
	key, secret, area string // area is the region
	now               func() time.Time
}

// An s3Error is the server's refusal.
type s3Error struct {
	Status  int    `xml:"-"`
	Code    string `xml:"Code"`
	Message string `xml:"Message"`
}

func (e *s3Error) Error() string { return fmt.Sprintf("%d %s %s", e.Status, e.Code, e.Message) }

// An s3Request is one request.
type s3Request struct {
	method, name string // of the file, "" for the bucket
	query        map[string]string
	header       map[string]string
	body         []byte
	once         bool // not to be sent twice
	most         int64
}

// How often a request is sent where the line or the server fails, and where the server has
// too much to do: it refuses many in a row then, and wants them later.
const (
	s3Tries     = 3
	s3BusyTries = 8
)

// busy tells whether the server had too much to do. It has done nothing then.
func (e *s3Error) busy() bool {
	return e.Code == "SlowDown" || e.Status == http.StatusServiceUnavailable || e.Status == http.StatusTooManyRequests
}

// do sends a request and reads the answer's body, as much of it as was asked for and
// one byte more.
func (l *s3Line) do(ctx context.Context, r s3Request) (data []byte, header http.Header, err error) {
	for try := 0; ; try++ {
		data, header, err = l.send(ctx, r)
		var refused *s3Error
		answered := errors.As(err, &refused)
		busy := answered && refused.busy()
		tries := s3Tries
		switch {
		case busy:
			tries = s3BusyTries
		case r.once:
			tries = 1
		}
		again := busy || err != nil && (!answered || refused.Status >= 500 && refused.Code != "NoSpaceLeft")
		if !again || try+1 >= tries || ctx.Err() != nil {
			break
		}
		select {
		case <-ctx.Done():
		case <-time.After(time.Duration(1+4*try) * 100 * time.Millisecond):
		}
	}
	return data, header, err
}

func (l *s3Line) send(ctx context.Context, r s3Request) ([]byte, http.Header, error) {
	address := &url.URL{Scheme: l.scheme, Host: l.host, Path: l.path + "/" + r.name, RawPath: s3Escaped(l.path+"/"+r.name, true), RawQuery: s3Query(r.query)}
	request, err := http.NewRequestWithContext(ctx, r.method, address.String(), bytes.NewReader(r.body))
	if err != nil {
		return nil, nil, err
	}
	for name, value := range r.header {
		request.Header.Set(name, value)
	}
	l.sign(request, r.body)
	answer, err := l.client.Do(request)
	if err != nil {
		return nil, nil, err
	}
	defer func() { _ = answer.Body.Close() }() // it was read
	if answer.StatusCode/100 != 2 {
		refused := &s3Error{Status: answer.StatusCode}
		text, _ := io.ReadAll(io.LimitReader(answer.Body, 64<<10))
		_ = xml.Unmarshal(text, refused) // a HEAD has no text; the status says enough
		return nil, nil, refused
	}
	data, err := io.ReadAll(io.LimitReader(answer.Body, r.most+1))
	return data, answer.Header, err
}

// sign puts the signature into a request. It covers the body by its digest, so nobody
// on the way changes it unseen.
func (l *s3Line) sign(r *http.Request, body []byte) {
	sum := sha256.Sum256(body)
	at := l.now().UTC().Format("20060102T150405Z")
	r.Header.Set("X-Amz-Date", at)
	r.Header.Set("X-Amz-Content-Sha256", hex.EncodeToString(sum[:]))
	signed := map[string]string{"host": r.URL.Host}
	for name := range r.Header {
		if low := strings.ToLower(name); strings.HasPrefix(low, "x-amz-") || low == "range" {
			signed[low] = strings.TrimSpace(r.Header.Get(name))
		}
	}
	names := slices.Sorted(maps.Keys(signed))
	var headers strings.Builder
	for _, name := range names {
		fmt.Fprintf(&headers, "%s:%s\n", name, signed[name])
	}
	canonical := strings.Join([]string{r.Method, r.URL.EscapedPath(), r.URL.RawQuery, headers.String(), strings.Join(names, ";"), hex.EncodeToString(sum[:])}, "\n")
	digest := sha256.Sum256([]byte(canonical))
	scope := at[:8] + "/" + l.area + "/s3/aws4_request"
	key := []byte("AWS4" + l.secret)
	for _, part := range []string{at[:8], l.area, "s3", "aws4_request"} {
		key = mac(key, part)
	}
	signature := mac(key, "AWS4-HMAC-SHA256\n"+at+"\n"+scope+"\n"+hex.EncodeToString(digest[:]))
	r.Header.Set("Authorization", fmt.Sprintf("AWS4-HMAC-SHA256 Credential=%s/%s,SignedHeaders=%s,Signature=%x", l.key, scope, strings.Join(names, ";"), signature))
}

func mac(key []byte, text string) []byte {
	h := hmac.New(sha256.New, key)
	h.Write([]byte(text))
	return h.Sum(nil)
}

// s3Escaped is a text as it is signed: all but letters, digits and four signs escaped.
func s3Escaped(s string, slashes bool) string {
	var b strings.Builder
	for _, c := range []byte(s) {
		switch {
		case 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z' || '0' <= c && c <= '9' || strings.IndexByte("-._~", c) >= 0 || c == '/' && slashes:
			b.WriteByte(c)
		default:
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

func s3Query(values map[string]string) string {
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(values)) {
		parts = append(parts, s3Escaped(name, false)+"="+s3Escaped(values[name], false))
	}
	return strings.Join(parts, "&")
}
