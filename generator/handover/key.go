package handover

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/x509"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"runtime"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// KeyFile is the public part of the shop's key in the shop folder, PEM as
// OpenSSL reads it.
const KeyFile = folderName + "/shop-key.pub"

// keyFolder is where the private parts are, below the user's own settings.
const keyFolder = "asleft/keys"

// largestKey is more than a key takes, in bytes.
const largestKey = 64 << 10

// A ShopKey signs sealed reports (Ed25519, RFC 8032).
type ShopKey struct {
	Public  string // 64 hexadecimal digits
	private ed25519.PrivateKey
}

var (
	// ErrHasKey says that the shop has a key already.
	ErrHasKey = errors.New("the shop has a key")
	// ErrKeyElsewhere says that the private part is not on this computer.
	ErrKeyElsewhere = errors.New("the private part of the shop's key is not on this computer")
	// ErrKeyOpen says that others can read the private part.
	ErrKeyOpen = errors.New("others can read the private part of the shop's key")
	// ErrKeyForm says that a key file is damaged.
	ErrKeyForm = errors.New("the key cannot be read")
)

// MakeKey makes the shop's key: the private part in the folder of settings,
// readable by its owner only; then the public part in the shop. It returns the path
// of the private part in settings. Whether that folder is outside the shop's, which
// it is not where somebody's home is the shop, only the caller can tell.
//
// Ended before the public part has its place, there is no key; a private part
// that stays then belongs to nothing.
func MakeKey(shop, settings afero.Fs) (private string, err error) {
	release, err := begun(shop, folderName, 0o755)
	if err != nil {
		return "", err
	}
	defer func() { _ = release() }() // the system lets go of it in any case
	if there, err := exists(shop, KeyFile); err != nil {
		return "", err
	} else if there {
		return "", ErrHasKey
	}
	away, err := begun(settings, keyFolder, 0o700)
	if err != nil {
		return "", err
	}
	defer func() { _ = away() }()
	public, secret, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return "", fmt.Errorf("making a key: %w", err)
	}
	secretDER, err := x509.MarshalPKCS8PrivateKey(secret)
	if err != nil {
		return "", fmt.Errorf("making a key: %w", err)
	}
	publicDER, err := x509.MarshalPKIXPublicKey(public)
	if err != nil {
		return "", fmt.Errorf("making a key: %w", err)
	}
	private = privatePath(hex.EncodeToString(public))
	if err := putNew(settings, private, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secretDER}), 0o600); err != nil {
		return "", err
	}
	return private, putNew(shop, KeyFile, pem.EncodeToMemory(&pem.Block{Type: "PUBLIC KEY", Bytes: publicDER}), 0o644)
}

func privatePath(public string) string {
	return path.Join(keyFolder, digestOf([]byte(public))[:16]+".pem")
}

// publicKey is the shop's public key, empty where it has none.
func publicKey(shop afero.Fs) (string, error) {
	data, err := rooted.ReadFile(shop, KeyFile, largestKey)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if errors.Is(err, rooted.ErrTooLarge) {
		return "", fmt.Errorf("%s: %w (%w)", KeyFile, ErrKeyForm, err)
	}
	if err != nil {
		return "", fmt.Errorf("%s: %w", KeyFile, err)
	}
	block, _ := pem.Decode(data)
	if block == nil {
		return "", fmt.Errorf("%s: %w", KeyFile, ErrKeyForm)
	}
	parsed, _ := x509.ParsePKIXPublicKey(block.Bytes) // nil if it is none
	key, ok := parsed.(ed25519.PublicKey)
	if !ok {
		return "", fmt.Errorf("%s: %w", KeyFile, ErrKeyForm)
	}
	return hex.EncodeToString(key), nil
}

// shopKey finds the shop's key; nil where it has none.
func shopKey(shop, settings afero.Fs) (*ShopKey, error) {
	public, err := publicKey(shop)
	if err != nil || public == "" {
		return nil, err
	}
	name := privatePath(public)
	info, err := settings.Stat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: %w", name, ErrKeyElsewhere)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if info.Mode().Perm()&0o077 != 0 && runtime.GOOS != "windows" {
		return nil, fmt.Errorf("%s: %w", name, ErrKeyOpen)
	}
	data, err := rooted.ReadFile(settings, name, largestKey)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	block, _ := pem.Decode(data)
	if block == nil {
		return nil, fmt.Errorf("%s: %w", name, ErrKeyForm)
	}
	parsed, _ := x509.ParsePKCS8PrivateKey(block.Bytes) // nil if it is none
	private, ok := parsed.(ed25519.PrivateKey)
	if !ok {
		return nil, fmt.Errorf("%s: %w", name, ErrKeyForm)
	}
	if got, _ := private.Public().(ed25519.PublicKey); hex.EncodeToString(got) != public {
		return nil, fmt.Errorf("%s: %w", name, ErrKeyForm)
	}
	return &ShopKey{Public: public, private: private}, nil
}

func (k *ShopKey) sign(message []byte) string {
	return hex.EncodeToString(ed25519.Sign(k.private, message))
}

// verified tells whether a signature is a key's. Both are lower-case
// hexadecimal digits, so that there is one way to write each.
func verified(public, signature string, message []byte) bool {
	key, _ := hex.DecodeString(public) // what is no hexadecimal digit is not written again
	sig, _ := hex.DecodeString(signature)
	if len(key) != ed25519.PublicKeySize || hex.EncodeToString(sig) != signature || hex.EncodeToString(key) != public {
		return false
	}
	return ed25519.Verify(key, message, sig)
}
