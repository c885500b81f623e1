package farend

import (
	"bytes"
	"errors"
	"net"
	"os"
	"path/filepath"
	"slices"

	"github.com/skeema/knownhosts"
	"golang.org/x/crypto/ssh"
	xknown "golang.org/x/crypto/ssh/knownhosts"

	"asleft/generator/publish"
)

// hostKeys holds a server's key against those that are known.
type hostKeys struct {
	files []string // the first is written to
	db    *knownhosts.HostKeyDB
	o     Options
}

func knownHostsOf(o Options, home string) (*hostKeys, error) {
	h := &hostKeys{files: o.KnownHosts, o: o}
	if h.files == nil {
		h.files = []string{filepath.Join(home, ".ssh", "known_hosts"), "/etc/ssh/ssh_known_hosts"}
	}
	var there []string
	for _, file := range h.files {
		if _, err := os.Stat(file); err == nil {
			there = append(there, file)
		}
	}
	db, err := knownhosts.NewDB(there...)
	if err != nil {
		return nil, publish.NewFault(err, "publish.known-hosts", "said", err)
	}
	h.db = db
	return h, nil
}

// algorithms are the kinds of key to ask a host for: first those that are known of it, for
// another kind looks like a changed key; then the better ones first.
func (h *hostKeys) algorithms(address string) (kinds []string) {
	if h.o.Fingerprint == "" {
		kinds = h.db.HostKeyAlgorithms(address)
	}
	for _, kind := range []string{ssh.KeyAlgoED25519, ssh.KeyAlgoECDSA256, ssh.KeyAlgoECDSA384, ssh.KeyAlgoECDSA521, ssh.KeyAlgoRSASHA512, ssh.KeyAlgoRSASHA256} {
		if !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// check is the callback of the SSH library.
func (h *hostKeys) check(host string, remote net.Addr, key ssh.PublicKey) error {
	fingerprint := ssh.FingerprintSHA256(key)
	err := h.db.HostKeyCallback()(host, remote, key)
	var revoked *xknown.RevokedError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &revoked):
		return publish.NewFault(err, "publish.host-revoked", "host", host)
	case h.o.Fingerprint != "" && h.o.Fingerprint != fingerprint:
		return publish.NewFault(err, "publish.host-other", "host", host, "fingerprint", fingerprint, "wanted", h.o.Fingerprint)
	case h.o.Fingerprint != "":
		return nil // named by the user: nothing is written down, the name stays
	case knownhosts.IsHostKeyChanged(err):
		return publish.NewFault(err, "publish.host-changed", "host", host, "fingerprint", fingerprint, "listed", xknown.Normalize(host))
	case !knownhosts.IsHostUnknown(err):
		return publish.NewFault(err, "publish.known-hosts", "said", err)
	case h.o.Trust == nil || !h.o.Trust(host, key.Type(), fingerprint):
		return publish.NewFault(err, "publish.host-unknown", "host", host, "fingerprint", fingerprint)
	}
	return h.learn(host, remote, key)
}

// learn writes a host's key down for the next time.
func (h *hostKeys) learn(host string, remote net.Addr, key ssh.PublicKey) (err error) {
	defer func() {
		if err != nil {
			err = publish.NewFault(err, "publish.known-hosts", "said", err)
		}
	}()
	var line bytes.Buffer
	if err := knownhosts.WriteKnownHost(&line, host, remote, key); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(h.files[0]), 0o700); err != nil {
		return err
	}
	old, err := os.ReadFile(h.files[0])
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	text := line.Bytes()
	if len(old) > 0 && old[len(old)-1] != '\n' {
		text = append([]byte("\n"), text...)
	}
	file, err := os.OpenFile(h.files[0], os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = file.Write(text)
	return errors.Join(err, file.Close())
}
