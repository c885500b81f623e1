package farend

import (
	"context"
	"encoding/xml"
	"errors"
	"io/fs"
	"net"
	"net/http"
	"net/url"
	"path"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"asleft/generator/output"
	"asleft/generator/publish"
)

const (
	s3Puts = 32
	// fewNames is up to how many files are asked for one by one rather than by a listing.
	fewNames = 8
)

// usualRegion is what most servers that are nobody's in particular take.
const usualRegion = "us-east-1"

// An s3End is a bucket, or what begins with a prefix in it.
type s3End struct {
	line           *s3Line
	transport      *http.Transport
	host           string
	bucket, prefix string
}

func openS3(ctx context.Context, at *url.URL, o Options) (publish.FarEnd, error) {
	bucket, prefix, _ := strings.Cut(strings.Trim(at.Path, "/"), "/")
	if prefix != "" {
		prefix += "/"
	}
	s := &s3End{host: at.Host, bucket: bucket, prefix: prefix}
	s.transport = &http.Transport{
		DialContext:           func(ctx context.Context, _, address string) (net.Conn, error) { return o.dial(ctx, address) },
		TLSClientConfig:       certificates(o, at.Hostname()),
		MaxIdleConnsPerHost:   s3Puts,
		TLSHandshakeTimeout:   o.quiet(),
		ResponseHeaderTimeout: time.Minute,
	}
	if o.HostStyle && o.Fingerprint == "" {
		s.transport.TLSClientConfig.ServerName = "" // the bucket stands in front of it
	}
	s.line = &s3Line{client: &http.Client{Transport: s.transport, CheckRedirect: func(*http.Request, []*http.Request) error {
		return http.ErrUseLastResponse // what is signed for one host is of no use at another
	}}, scheme: "https", host: at.Host, path: "/" + bucket, key: at.User.Username(), area: usualRegion, now: time.Now}
	if o.Plain {
		s.line.scheme = "http"
	}
	if o.HostStyle {
		s.line.host, s.line.path = bucket+"."+at.Host, ""
	}
	if o.Region != "" {
		s.line.area = o.Region
	}
	for try := 0; ; try++ {
		var err error
		if s.line.secret, err = o.secret(ctx, Secret{SecretKey, s.line.key + "@" + at.Host, try}); err != nil {
			return nil, err
		}
		// Ask for what needs the key, so that a wrong one is known before the work.
		_, err = s.Read(ctx, publish.Folder+"/manifest", 1)
		if err == nil || errors.Is(err, fs.ErrNotExist) || publish.IsFault(err, "publish.too-large") {
			return s, nil
		}
		if !publish.IsFault(err, "publish.secret-key") || try+1 == tries {
			return nil, err
		}
	}
}

func (s *s3End) at(name string) string { return s.prefix + name }

func (s *s3End) Traits() publish.Traits { return publish.Traits{AtOnce: s3Puts} }

func (s *s3End) Read(ctx context.Context, name string, most int64) ([]byte, error) {
	data, _, err := s.line.do(ctx, s3Request{method: http.MethodGet, name: s.at(name), most: most})
	if int64(len(data)) > most {
		return nil, publish.NewFault(err, "publish.too-large", "file", name)
	}
	return data, s.fault(err, name)
}

// md5Sum is an ETag that is an MD5, as it is for what came in one piece.
var md5Sum = regexp.MustCompile(`^[0-9a-f]{32}$`)

func s3Info(size int64, tag string, changed time.Time) publish.Info {
	info := publish.Info{Size: size, Changed: changed}
	if tag = strings.Trim(strings.ToLower(tag), `"`); md5Sum.MatchString(tag) {
		info.MD5 = tag
	}
	return info
}

// Stat lists, where it is asked for more than a few: a thousand files come in one
// answer.
func (s *s3End) Stat(ctx context.Context, names []string) (map[string]publish.Info, error) {
	there := map[string]publish.Info{}
	if len(names) > fewNames {
		all, err := s.List(ctx)
		for _, name := range names {
			if info, ok := all[name]; ok {
				there[name] = info
			}
		}
		return there, err
	}
	var mu sync.Mutex
	err := inParallel(ctx, names, s3Puts, func(name string) error {
		_, header, err := s.line.do(ctx, s3Request{method: http.MethodHead, name: s.at(name)})
		if err = s.fault(err, name); err != nil {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			return err
		}
		size, err := strconv.ParseInt(header.Get("Content-Length"), 10, 64)
		if err != nil {
			return publish.NewFault(err, "publish.failed", "file", name, "said", err)
		}
		changed, _ := http.ParseTime(header.Get("Last-Modified")) // of the lock alone it matters
		mu.Lock()
		defer mu.Unlock()
		there[name] = s3Info(size, header.Get("ETag"), changed)
		return nil
	})
	return there, err
}

// An s3List is one answer of a listing.
type s3List struct {
	Contents []struct {
		Key          string
		Size         int64
		ETag         string
		LastModified time.Time
	}
	IsTruncated           bool
	NextContinuationToken string
}

// maxList bounds one answer of a listing, which has a thousand files at most.
const maxList = 16 << 20

func (s *s3End) List(ctx context.Context) (map[string]publish.Info, error) {
	all := map[string]publish.Info{}
	query := map[string]string{"list-type": "2", "prefix": s.prefix}
	for listed := 0; ; {
		data, _, err := s.line.do(ctx, s3Request{method: http.MethodGet, query: query, most: maxList})
		if err != nil {
			return nil, s.fault(err, "")
		}
		var list s3List
		if err := xml.Unmarshal(data, &list); err != nil {
			return nil, publish.NewFault(err, "publish.failed", "file", s.bucket, "said", err)
		}
		if listed += max(1, len(list.Contents)); listed > mostListed { // it may begin anew for ever
			return nil, publish.NewFault(nil, "publish.too-many")
		}
		for _, o := range list.Contents {
			name := strings.TrimPrefix(o.Key, s.prefix)
			// Some tools make a folder by a name that ends in a slash.
			if !strings.HasPrefix(name, publish.Folder+"/") && !strings.HasSuffix(name, "/") && name != "" {
				all[name] = s3Info(o.Size, o.ETag, o.LastModified)
			}
		}
		if !list.IsTruncated || list.NextContinuationToken == "" {
			return all, nil
		}
		query["continuation-token"] = list.NextContinuationToken
	}
}

// MakeFolders has nothing to do: a name with slashes is a name.
func (s *s3End) MakeFolders(context.Context, []string) error { return nil }

func (s *s3End) Put(ctx context.Context, name string, data []byte) error {
	return s.put(ctx, s3Request{name: name, body: data, header: map[string]string{}})
}

func (s *s3End) put(ctx context.Context, r s3Request) error {
	name := r.name
	r.method, r.name = http.MethodPut, s.at(name)
	r.header["Content-Type"], r.header["Cache-Control"] = typeOf(name), keepingOf(name)
	_, _, err := s.line.do(ctx, r)
	return s.fault(err, name)
}

func (s *s3End) Create(ctx context.Context, name string, data []byte) error {
	return s.put(ctx, s3Request{name: name, body: data, once: true, header: map[string]string{"If-None-Match": "*"}})
}

func (s *s3End) Remove(ctx context.Context, name string) error {
	_, _, err := s.line.do(ctx, s3Request{method: http.MethodDelete, name: s.at(name)})
	return s.fault(err, name)
}

// Tidy has nothing to do: a file is there whole, or not at all.
func (s *s3End) Tidy(context.Context) error { return nil }

func (s *s3End) Close() error {
	s.transport.CloseIdleConnections()
	return nil
}

// types are those of the files of a site. The server sends what it was told.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".txt": "text/plain; charset=utf-8", ".json": "application/json", ".xml": "application/xml",
	".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".png": "image/png", ".svg": "image/svg+xml", ".webp": "image/webp", ".ico": "image/x-icon",
	".woff2": "font/woff2", ".pdf": "application/pdf",
}

func typeOf(name string) string {
	if kind := types[path.Ext(name)]; kind != "" {
		return kind
	}
	return "application/octet-stream"
}

// keepingOf says how long a browser may keep a file without asking.
func keepingOf(name string) string {
	switch {
	case output.NamedByContent(name):
		return "public, max-age=31536000, immutable"
	case strings.HasPrefix(name, publish.Folder+"/"):
		return "no-store"
	}
	return "no-cache"
}

func (s *s3End) fault(err error, name string) error {
	var known *publish.Fault
	switch {
	case errors.As(err, &known): // why the run ended, say, which net/http puts into words of its own
		return known
	case err == nil || errors.Is(err, context.Canceled):
		return err
	}
	if bad := certificateFault(err, s.host); bad != nil {
		return bad
	}
	var refused *s3Error
	if !errors.As(err, &refused) {
		return lineFault(err, s.host)
	}
	switch refused.Code {
	case "NoSuchBucket":
		return publish.NewFault(err, "publish.no-bucket", "bucket", s.bucket, "host", s.host)
	case "SignatureDoesNotMatch", "InvalidAccessKeyId", "XAdminUserNotFound": // the last is what a gateway with users of its own says
		return publish.NewFault(err, "publish.secret-key", "host", s.host)
	case "RequestTimeTooSkewed":
		return publish.NewFault(err, "publish.clock", "host", s.host)
	case "AuthorizationHeaderMalformed", "InvalidRegion", "PermanentRedirect":
		return publish.NewFault(err, "publish.region", "host", s.host, "said", refused.Message)
	}
	if refused.busy() {
		return publish.NewFault(err, "publish.too-many-lines", "host", s.host).OfLine()
	}
	said := strings.ToLower(refused.Message)
	switch {
	case refused.Status == http.StatusNotFound && (refused.Code == "NoSuchKey" || refused.Code == ""): // a HEAD has no code
		return fs.ErrNotExist
	case refused.Status == http.StatusPreconditionFailed || refused.Status == http.StatusConflict && refused.Code == "ConditionalRequestConflict":
		return fs.ErrExist
	case refused.Status == http.StatusForbidden:
		return publish.NewFault(err, "publish.no-right", "file", s.bucket+"/"+s.at(name))
	case refused.Status == http.StatusInsufficientStorage, strings.Contains(said, "no space left"), strings.Contains(said, "quota"):
		return publish.NewFault(err, "publish.disk-full")
	}
	return publish.NewFault(err, "publish.failed", "file", name, "said", refused.Error())
}
