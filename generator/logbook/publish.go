package logbook

import (
	"net/url"
	"path"
	"regexp"
	"strings"
	"sync"
)

// Publish is where a shop's site is brought, and how.
type Publish struct {
	To          Destination
	Key         string // the file of an SSH key; "" for the usual ones
	Fingerprint string // of the one host key or certificate to trust
	Region      string // of a bucket's server
	HostStyle   bool   // the bucket stands in the host's name
	Plain       bool   // no TLS, for a bucket's server of one's own
}

// A Destination is the place that a site is brought to. The zero value is none.
type Destination struct {
	URL    *url.URL // sftp, ftps or s3; nil for a folder
	Folder string   // a path on this computer, as it was written; "" for a server
}

// None tells whether no place was named.
func (d Destination) None() bool { return d.URL == nil && d.Folder == "" }

// String is the place as it can be shown: no password ever stands in it.
func (d Destination) String() string {
	if d.URL != nil {
		return d.URL.String()
	}
	return d.Folder
}

// scheme is how an address begins. One letter is a disk of Windows.
var scheme = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9+.-]+)://`)

// addressLike is what was meant for a server and would make a folder of that name: its
// scheme without the slashes, or the form that scp takes.
var addressLike = regexp.MustCompile(`^((?i:sftp|ftps?|s3|https?)(:|//)|[^/\\]+@[^/\\]*:)`)

// passwordLike is a password in an address that cannot be read, most often for a sign that
// has another meaning there.
var passwordLike = regexp.MustCompile(`^[^@]*://[^@]*:[^@]*@`)

// ParseDestination reads where a site is to be brought. What is wrong with it is told
// by the key of a problem, none of which quotes a password.
func ParseDestination(s string) (d Destination, wrong string) {
	defer func() {
		if wrong == "problem.publish-to" && passwordLike.MatchString(s) {
			wrong = "problem.publish-password"
		}
	}()
	m := scheme.FindStringSubmatch(s)
	switch {
	case m == nil && addressLike.MatchString(s):
		return Destination{}, "problem.publish-to"
	case m == nil:
		return Destination{Folder: s}, ""
	}
	u, err := url.Parse(s)
	if err != nil {
		return Destination{}, "problem.publish-to"
	}
	if _, has := u.User.Password(); has {
		return Destination{}, "problem.publish-password"
	}
	switch {
	case strings.EqualFold(m[1], "ftp"):
		return Destination{}, "problem.publish-ftp"
	case u.Scheme != "sftp" && u.Scheme != "ftps" && u.Scheme != "s3", u.Hostname() == "", strings.HasPrefix(u.Hostname(), "-"), u.RawQuery != "", u.Fragment != "":
		return Destination{}, "problem.publish-to"
	case path.Clean(u.Path) != strings.TrimSuffix(u.Path, "/") && u.Path != "/" && u.Path != "":
		return Destination{}, "problem.publish-to"
	case u.Scheme == "s3" && (strings.Trim(u.Path, "/") == "" || u.User.Username() == ""):
		return Destination{}, "problem.publish-s3"
	case u.Scheme != "s3" && strings.Trim(u.Path, "/") == "" && u.Scheme == "sftp":
		return Destination{}, "problem.publish-folder"
	}
	if u.Path == "" {
		u.Path = "/"
	}
	return Destination{URL: u}, ""
}

// How a bucket may be named in an address.
const (
	bucketInPath = "path"
	bucketInHost = "host"
)

var (
	// fingerprintForm is a host key's as OpenSSH prints it, or a certificate's SHA-256 as
	// openssl does.
	fingerprintForm = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(SHA256:[A-Za-z0-9+/]{43}|[0-9A-Fa-f]{2}(:?[0-9A-Fa-f]{2}){31})$`)
	})
	regionForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[A-Za-z][A-Za-z0-9-]{0,40}$`) })
)

func readPublish(f *mapping) (p Publish) {
	sub := f.sub("publish")
	if sub == nil {
		return p
	}
	sub.demand("to")
	if to := sub.text("to"); to != "" {
		var wrong string
		if p.To, wrong = ParseDestination(to); wrong == "problem.publish-to" {
			sub.report("to", wrong, "read", to)
		} else if wrong != "" {
			sub.report("to", wrong)
		}
	}
	p.Key = sub.text("key")
	if p.Fingerprint = sub.text("fingerprint"); p.Fingerprint != "" && !fingerprintForm().MatchString(p.Fingerprint) {
		sub.report("fingerprint", "problem.publish-fingerprint", "read", p.Fingerprint)
	}
	if p.Region = sub.text("region"); p.Region != "" && !regionForm().MatchString(p.Region) {
		sub.report("region", "problem.publish-region", "read", p.Region)
	}
	p.HostStyle = sub.oneOf("bucket", []string{bucketInPath, bucketInHost}) == bucketInHost
	p.Plain = !sub.yes("tls", true)
	if p.Plain && !p.To.None() && (p.To.URL == nil || p.To.URL.Scheme != "s3") {
		sub.report("tls", "problem.publish-tls")
	}
	sub.done()
	return p
}
