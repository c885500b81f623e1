package testenv

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	cryptorand "crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"testing"
	"time"
)

// SelfSigned is a certificate for this computer's own address, and its key, in PEM.
func SelfSigned(t testing.TB, from, until time.Time) (certificate, key []byte) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), cryptorand.Reader)
	must(t, err)
	leaf := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "localhost"}, NotBefore: from, NotAfter: until,
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, DNSNames: []string{"localhost"}, IsCA: true, BasicConstraintsValid: true}
	raw, err := x509.CreateCertificate(cryptorand.Reader, leaf, leaf, &private.PublicKey, private)
	must(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	must(t, err)
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: raw}), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})
}

// rand is a short text that nobody else has.
func rand() string { return cryptorand.Text()[:12] }
