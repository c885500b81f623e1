package handover

import (
	"crypto/ed25519"
	"encoding/hex"
	"os"
	"strings"
	"testing"
)

// The messages and digests are the examples that NIST publishes with FIPS 180-4
// (SHA-256 of one block, of two blocks, and of a million letters a).
func TestSHA256OfFIPS180(t *testing.T) {
	for message, want := range map[string]string{
		"abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
		"":    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		strings.Repeat("a", 1_000_000):                             "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
	} {
		if got := digestOf([]byte(message)); got != want {
			t.Errorf("%.20q: got %s, want %s", message, got, want)
		}
	}
}

// testdata/ed25519.txt holds tests 1 to 3 of RFC 8032, section 7.1: secret key,
// public key, message and signature.
func TestEd25519OfRFC8032(t *testing.T) {
	data, err := os.ReadFile("testdata/ed25519.txt")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for line := range strings.Lines(string(data)) {
		f := strings.Split(strings.TrimSpace(line), ":")
		secret, err := hex.DecodeString(f[0])
		if err != nil || len(f) != 4 {
			t.Fatalf("%q cannot be read: %v", line, err)
		}
		message, err := hex.DecodeString(f[2])
		if err != nil {
			t.Fatal(err)
		}
		key := &ShopKey{Public: f[1], private: ed25519.NewKeyFromSeed(secret)}
		if got := key.sign(message); got != f[3] {
			t.Errorf("test %d: signed %s, want %s", n+1, got, f[3])
		}
		if !verified(f[1], f[3], message) {
			t.Errorf("test %d: the signature was not verified", n+1)
		}
		if verified(f[1], f[3], append(message, 0)) || verified(f[1], strings.ToUpper(f[3]), message) || verified(f[1], f[3][2:], message) || verified("", f[3], message) {
			t.Errorf("test %d: a wrong signature was verified", n+1)
		}
		n++
	}
	if n != 3 {
		t.Fatalf("%d tests, want 3", n)
	}
}
