package farend

import (
	"context"
	"net"
	"net/url"
	"time"

	"asleft/generator/publish"
)

// Options say how a server is reached. The zero value knows no secret, and trusts
// what known_hosts and the system trust.
type Options struct {
	// Secret is asked for a password or a passphrase when a server wants one. After it
	// was right, Secret.Right is told. Nil knows none.
	Secret      func(ctx context.Context, of Secret) (string, error)
	KeyFile     string   // for SFTP; "" for the usual ones
	KnownHosts  []string // files; nil for the usual ones. The first is written to
	Fingerprint string   // of the host key or the certificate to trust, whatever else is known
	// Trust is asked whether a host key that nobody knows yet is the right one.
	Trust  func(host, kind, fingerprint string) bool
	Region string // of S3; "" for the usual one
	// HostStyle has S3 put the bucket into the host's name rather than into the path.
	HostStyle bool
	Plain     bool          // S3 without TLS
	Quiet     time.Duration // a line on which nothing moves for so long is dead; 0 for 15 s
	// Home is the user's home folder; "" asks the system.
	Home string
	// Dial opens a connection; nil for the system's.
	Dial func(ctx context.Context, network, address string) (net.Conn, error)
}

// A Secret is what is asked for.
type Secret struct {
	Kind string // one of the kinds below
	Of   string // the user and host, or the key's file
	Try  int    // 0 at first, more after a wrong answer
}

// The kinds of secrets.
const (
	Password   = "password"   // of a user at a host
	Passphrase = "passphrase" // of a key file
	SecretKey  = "secret key" // that belongs to an access key of S3
)

// ErrNoSecret is in the error where a server wanted a secret that nobody gave.
var ErrNoSecret = publish.NewFault(nil, "publish.no-secret")

func (o Options) secret(ctx context.Context, of Secret) (string, error) {
	if o.Secret == nil {
		return "", ErrNoSecret
	}
	return o.Secret(ctx, of)
}

func (o Options) quiet() time.Duration {
	if o.Quiet == 0 {
		return 15 * time.Second
	}
	return o.Quiet
}

// dial opens a connection on which every read and write has a deadline.
func (o Options) dial(ctx context.Context, address string) (*watched, error) {
	open := o.Dial
	if open == nil {
		open = (&net.Dialer{KeepAlive: 15 * time.Second}).DialContext
	}
	ctx, cancel := context.WithTimeout(ctx, o.quiet())
	defer cancel()
	conn, err := open(ctx, "tcp", address)
	if err != nil {
		return nil, err
	}
	return &watched{conn, o.quiet()}, nil
}

// A watched connection fails where nothing moves for too long. The libraries above it
// have no deadlines of their own: on a line that is dead without a word they wait for
// ever.
type watched struct {
	net.Conn
	quiet time.Duration
}

func (w *watched) Read(p []byte) (int, error) {
	if err := w.SetReadDeadline(time.Now().Add(w.quiet)); err != nil {
		return 0, err
	}
	return w.Conn.Read(p)
}

// whilePersonThinks gives a person time to answer, on a line that is read meanwhile. The
// server gives no more either.
func (w *watched) whilePersonThinks(ask func()) {
	_ = w.SetReadDeadline(time.Now().Add(2 * time.Minute)) // of a read that goes on
	ask()
	_ = w.SetReadDeadline(time.Now().Add(w.quiet))
}

func (w *watched) Write(p []byte) (int, error) {
	if err := w.SetWriteDeadline(time.Now().Add(w.quiet)); err != nil {
		return 0, err
	}
	return w.Conn.Write(p)
}

// Schemes are the protocols that Open speaks.
var Schemes = []string{"sftp", "ftps", "s3"}

// Open connects to a server. The address is one that Address takes.
func Open(ctx context.Context, at *url.URL, o Options) (publish.FarEnd, error) {
	switch at.Scheme {
	case "sftp":
		return openSFTP(ctx, at, o)
	case "ftps":
		return openFTPS(ctx, at, o)
	case "s3":
		return openS3(ctx, at, o)
	}
	return nil, publish.NewFault(nil, "publish.no-such-way", "read", at.Scheme)
}

// port is a URL's host and port.
func port(at *url.URL, usual string) string {
	if p := at.Port(); p != "" {
		usual = p
	}
	return net.JoinHostPort(at.Hostname(), usual)
}
