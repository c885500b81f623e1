package farend

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/url"
	"path"
	"regexp"
	"strings"
	"sync"
	"time"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

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
	client         *minio.Client
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
	look, region := minio.BucketLookupPath, usualRegion
	if o.HostStyle {
		look = minio.BucketLookupDNS
	}
	if o.Region != "" {
		region = o.Region
	}
	for try := 0; ; try++ {
		user := at.User.Username()
		secret, err := o.secret(ctx, Secret{SecretKey, user + "@" + at.Host, try})
		if err != nil {
			return nil, err
		}
		s.client, err = minio.New(at.Host, &minio.Options{Creds: credentials.NewStaticV4(user, secret, ""), Secure: !o.Plain,
			Transport: s.transport, Region: region, BucketLookup: look, MaxRetries: 3})
		if err != nil {
			return nil, publish.NewFault(err, "publish.no-line", "host", at.Host, "said", err)
		}
		// Ask for what needs the key, so that a wrong one is known before the work.
		_, err = s.Read(ctx, publish.Folder+"/manifest", 1)
		if err == nil || errors.Is(err, fs.ErrNotExist) || publish.Says(err, "publish.too-large") {
			return s, nil
		}
		if !publish.Says(err, "publish.secret-key") || try+1 == tries {
			return nil, err
		}
	}
}

func (s *s3End) at(name string) string { return s.prefix + name }

func (s *s3End) Traits() publish.Traits { return publish.Traits{AtOnce: s3Puts} }

func (s *s3End) Read(ctx context.Context, name string, most int64) (data []byte, err error) {
	object, err := s.client.GetObject(ctx, s.bucket, s.at(name), minio.GetObjectOptions{})
	if err != nil {
		return nil, s.fault(err, name)
	}
	defer func() { _ = object.Close() }()
	data, err = io.ReadAll(io.LimitReader(object, most+1))
	if int64(len(data)) > most {
		return nil, publish.NewFault(err, "publish.too-large", "file", name)
	}
	return data, s.fault(err, name)
}

// md5Sum is an ETag that is an MD5, as it is for what came in one piece.
var md5Sum = regexp.MustCompile(`^[0-9a-f]{32}$`)

func s3Info(o minio.ObjectInfo) publish.Info {
	info := publish.Info{Size: o.Size, Changed: o.LastModified}
	if tag := strings.Trim(strings.ToLower(o.ETag), `"`); md5Sum.MatchString(tag) {
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
		o, err := s.client.StatObject(ctx, s.bucket, s.at(name), minio.StatObjectOptions{})
		if err = s.fault(err, name); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		mu.Lock()
		defer mu.Unlock()
		there[name] = s3Info(o)
		return err
	})
	return there, err
}

func (s *s3End) List(ctx context.Context) (map[string]publish.Info, error) {
	all := map[string]publish.Info{}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	for o := range s.client.ListObjects(ctx, s.bucket, minio.ListObjectsOptions{Prefix: s.prefix, Recursive: true}) {
		if o.Err != nil {
			return nil, s.fault(o.Err, "")
		}
		name := strings.TrimPrefix(o.Key, s.prefix)
		// Some tools make a folder by a name that ends in a slash.
		if !strings.HasPrefix(name, publish.Folder+"/") && !strings.HasSuffix(name, "/") && name != "" {
			all[name] = s3Info(o)
		}
	}
	return all, nil
}

// MakeFolders has nothing to do: a name with slashes is a name.
func (s *s3End) MakeFolders(context.Context, []string) error { return nil }

func (s *s3End) Put(ctx context.Context, name string, data []byte) error {
	return s.put(ctx, name, data, minio.PutObjectOptions{})
}

func (s *s3End) put(ctx context.Context, name string, data []byte, o minio.PutObjectOptions) error {
	o.ContentType, o.CacheControl = typeOf(name), keepingOf(name)
	o.DisableMultipart = true // the ETag is the MD5 then, and there is nothing to tidy up
	_, err := s.client.PutObject(ctx, s.bucket, s.at(name), bytes.NewReader(data), int64(len(data)), o)
	return s.fault(err, name)
}

func (s *s3End) Create(ctx context.Context, name string, data []byte) error {
	var o minio.PutObjectOptions
	o.SetMatchETagExcept("*")
	return s.put(ctx, name, data, o)
}

func (s *s3End) Remove(ctx context.Context, name string) error {
	return s.fault(s.client.RemoveObject(ctx, s.bucket, s.at(name), minio.RemoveObjectOptions{}), name)
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
	if err == nil || errors.As(err, &known) || errors.Is(err, context.Canceled) {
		return err
	}
	if bad := certificateFault(err, s.host); bad != nil {
		return bad
	}
	answer := minio.ToErrorResponse(err)
	switch answer.Code {
	case minio.NoSuchKey:
		return fs.ErrNotExist
	case minio.PreconditionFailed:
		return fs.ErrExist
	case minio.NoSuchBucket:
		return publish.NewFault(err, "publish.no-bucket", "bucket", s.bucket, "host", s.host)
	case minio.AccessDenied:
		return publish.NewFault(err, "publish.no-right", "file", s.bucket+"/"+s.at(name))
	case minio.SignatureDoesNotMatch, minio.InvalidAccessKeyID:
		return publish.NewFault(err, "publish.secret-key", "host", s.host)
	case "RequestTimeTooSkewed":
		return publish.NewFault(err, "publish.clock", "host", s.host)
	case "AuthorizationHeaderMalformed", "InvalidRegion":
		return publish.NewFault(err, "publish.region", "host", s.host, "said", answer.Message)
	case "":
		return lineFault(err, s.host)
	}
	switch answer.StatusCode {
	case http.StatusNotFound:
		return fs.ErrNotExist
	case http.StatusPreconditionFailed:
		return fs.ErrExist
	case http.StatusForbidden:
		return publish.NewFault(err, "publish.no-right", "file", s.bucket+"/"+s.at(name))
	}
	if strings.Contains(strings.ToLower(answer.Message), "no space left") || answer.StatusCode == http.StatusInsufficientStorage {
		return publish.NewFault(err, "publish.disk-full")
	}
	return publish.NewFault(err, "publish.failed", "file", name, "said", answer.Message)
}
