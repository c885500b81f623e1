package farend

import (
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"errors"
	"strings"
	"time"

	"asleft/generator/publish"
)

// certificates says which certificate of a server is trusted: one that the system
// knows, or the one whose fingerprint was named, and no other then.
func certificates(o Options, host string) *tls.Config {
	config := &tls.Config{
		ServerName: host,
		MinVersion: tls.VersionTLS12,
	}
	if o.Fingerprint != "" {
		config.InsecureSkipVerify = true //nolint:gosec // the next lines verify
		config.VerifyConnection = func(state tls.ConnectionState) error {
			got := fingerprintOf(state.PeerCertificates[0])
			if !sameFingerprint(o.Fingerprint, got) {
				return publish.NewFault(nil, "publish.certificate-other", "host", host, "fingerprint", got, "wanted", o.Fingerprint)
			}
			return nil
		}
	}
	return config
}

// fingerprintOf is a certificate's as openssl prints it.
func fingerprintOf(c *x509.Certificate) string {
	sum := sha256.Sum256(c.Raw)
	text := strings.ToUpper(hex.EncodeToString(sum[:]))
	var parts []string
	for i := 0; i < len(text); i += 2 {
		parts = append(parts, text[i:i+2])
	}
	return strings.Join(parts, ":")
}

func sameFingerprint(a, b string) bool {
	plain := strings.NewReplacer(":", "", " ", "")
	return strings.EqualFold(plain.Replace(a), plain.Replace(b))
}

// UnknownCertificate is the fingerprint of a certificate for which nobody speaks whom this
// computer trusts, and with which nothing else is wrong, where that is what an error is about.
func UnknownCertificate(err error) (fingerprint string, ok bool) {
	var failed *tls.CertificateVerificationError
	if !publish.IsFault(err, "publish.certificate-unknown") || !errors.As(err, &failed) {
		return "", false
	}
	return fingerprintOf(failed.UnverifiedCertificates[0]), true
}

// certificateFault words what is wrong with a certificate; nil where it is not that.
func certificateFault(err error, host string) error {
	var failed *tls.CertificateVerificationError
	if !errors.As(err, &failed) || len(failed.UnverifiedCertificates) == 0 {
		return nil
	}
	leaf := failed.UnverifiedCertificates[0]
	pairs := []any{"host", host, "fingerprint", fingerprintOf(leaf), "since", leaf.NotBefore.Format(time.DateOnly), "until", leaf.NotAfter.Format(time.DateOnly)}
	var invalid x509.CertificateInvalidError
	var name x509.HostnameError
	switch {
	case errors.As(err, &invalid) && invalid.Reason == x509.Expired:
		if time.Now().Before(leaf.NotBefore) {
			return publish.NewFault(err, "publish.certificate-future", pairs...)
		}
		return publish.NewFault(err, "publish.certificate-expired", pairs...)
	case errors.As(err, &name):
		return publish.NewFault(err, "publish.certificate-name", pairs...)
	}
	return publish.NewFault(err, "publish.certificate-unknown", pairs...)
}
