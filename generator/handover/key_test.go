package handover

import (
	"encoding/hex"
	"errors"
	"path"
	"runtime"
	"strings"
	"testing"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
	"asleft/generator/rooted"
)

// signedShop is a shop with a key and one signed report, all on a disk.
func signedShop(t *testing.T) (shop, settings, buyer *rooted.FS, private string, made *Made) {
	t.Helper()
	open := func() *rooted.FS {
		fs, err := rooted.Open(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = fs.Close() })
		return fs
	}
	shop, settings, buyer = open(), open(), open()
	files := shopWith(t, nil)
	for _, name := range []string{"shop.md", "machines/pump/machine.md", "machines/pump/2026-03-02-first.md", "machines/pump/photos/leak.jpg"} {
		if err := shop.MkdirAll(path.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		write(t, shop, name, read(t, files, name))
	}
	private, err := MakeKey(shop, settings)
	if err != nil {
		t.Fatal(err)
	}
	return shop, settings, buyer, private, sealed(t, shop, buyer, settings, "2026-03-03")
}

func TestShopKey(t *testing.T) {
	shop, settings, buyer, private, made := signedShop(t)
	info, err := settings.Stat(private)
	rights := runtime.GOOS != "windows" // there the settings are the user's own by the folder that they are in
	if err != nil || rights && info.Mode().Perm() != 0o600 {
		t.Errorf("the private part: %v, %v", info, err)
	}
	if folder, err := settings.Stat(path.Dir(private)); err != nil || rights && folder.Mode().Perm() != 0o700 {
		t.Errorf("its folder: %v, %v", folder, err)
	}
	if made.Seal.Key == nil || made.Seal.Signature == nil {
		t.Fatalf("the report is not signed: %+v", made.Seal)
	}
	if c := chainOf(t, shop); len(c.Breaks) > 0 {
		t.Errorf("the chain: %v", c.Breaks)
	}
	if _, err := MakeKey(shop, settings); !errors.Is(err, ErrHasKey) {
		t.Errorf("a second key: %v", err)
	}
	if err := settings.Chmod(private, 0o644); err != nil {
		t.Fatal(err)
	}
	if rights {
		if _, err := prepared(t, shop, "2026-03-04").Seal(buyer, settings, sheet.A4); !errors.Is(err, ErrKeyOpen) {
			t.Errorf("a key that all can read: %v", err)
		}
	}
	if err := settings.Remove(private); err != nil {
		t.Fatal(err)
	}
	if _, err := prepared(t, shop, "2026-03-04").Seal(buyer, settings, sheet.A4); !errors.Is(err, ErrKeyElsewhere) {
		t.Errorf("a key that is elsewhere: %v", err)
	}
}

// TestOpenSSLVerifies has OpenSSL check a signature, with the public part as
// the shop folder holds it.
func TestOpenSSLVerifies(t *testing.T) {
	shop, _, _, _, made := signedShop(t)
	v, err := jcs.Parse(read(t, shop, made.File))
	if err != nil {
		t.Fatal(err)
	}
	tree, _ := v.(map[string]any)
	message, err := covered(tree)
	if err != nil {
		t.Fatal(err)
	}
	signature, err := hex.DecodeString(*made.Seal.Signature)
	if err != nil {
		t.Fatal(err)
	}
	key := onDisk(t, "key.pem", read(t, shop, KeyFile))
	out := tool(t, "openssl", "pkeyutl", "-verify", "-pubin", "-inkey", key, "-rawin", "-in", onDisk(t, "message", message), "-sigfile", onDisk(t, "signature", signature))
	if !strings.Contains(out, "Verified Successfully") {
		t.Errorf("openssl says %s", out)
	}
}

// Whoever has only the folder cannot close a report again.
func TestSignedLinks(t *testing.T) {
	for name, tc := range map[string]struct {
		change func(t *testing.T, shop, settings afero.Fs, made *Made)
		want   string
	}{
		"closed again without a key": {func(t *testing.T, shop, _ afero.Fs, made *Made) {
			resealed(t, shop, made.File, func(s *Seal) { s.Facts.Price = "$1.00" })
		}, "is not the one here"},
		"signed by another": {func(t *testing.T, shop, _ afero.Fs, _ *Made) {
			if err := shop.Remove(KeyFile); err != nil {
				t.Fatal(err)
			}
			if _, err := MakeKey(shop, afero.NewMemMapFs()); err != nil {
				t.Fatal(err)
			}
		}, "a key that is not the shop's"},
		"no key any more": {func(t *testing.T, shop, _ afero.Fs, _ *Made) {
			if err := shop.Remove(KeyFile); err != nil {
				t.Fatal(err)
			}
			sealed(t, shop, afero.NewMemMapFs(), nil, "2026-03-05")
		}, "is not signed, and the report before it is"},
		"a damaged key": {func(t *testing.T, shop, _ afero.Fs, _ *Made) {
			write(t, shop, KeyFile, []byte("no key"))
		}, "cannot be read as the shop's key"},
	} {
		t.Run(name, func(t *testing.T) {
			shop, settings, _, _, made := signedShop(t)
			tc.change(t, shop, settings, made)
			if got := broken(t, shop); !strings.Contains(got, tc.want) {
				t.Errorf("got %q, want %q", got, tc.want)
			}
		})
	}
}

func TestASignatureOfAnotherReport(t *testing.T) {
	shop, settings, buyer, _, first := signedShop(t)
	second := sealed(t, shop, buyer, settings, "2026-03-04")
	data := strings.Replace(string(read(t, shop, second.File)), *second.Seal.Signature, *first.Seal.Signature, 1)
	write(t, shop, second.File, []byte(data))
	if got := broken(t, shop); !strings.Contains(got, "is not signed with the key that it names") {
		t.Errorf("got %q", got)
	}
}
