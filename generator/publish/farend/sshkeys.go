package farend

import (
	"context"
	"errors"
	"io"
	"net"
	"os"
	"sync"
	"time"

	"golang.org/x/crypto/ssh"
	"golang.org/x/crypto/ssh/agent"

	"asleft/generator/publish"
)

// keyring gathers the keys that a user has: those of the agent, then those of files.
// They stand in one method of the protocol: of two methods with keys, the library
// would never try the second.
type keyring struct {
	ctx      context.Context
	o        Options
	files    []string
	agent    net.Conn
	mu       sync.Mutex
	refusals []error // why a key could not be used
}

func (k *keyring) close() {
	if k.agent != nil {
		_ = k.agent.Close()
	}
}

// signers is the callback of the SSH library.
func (k *keyring) signers() ([]ssh.Signer, error) {
	var all []ssh.Signer
	seen := map[string]bool{}
	if at := os.Getenv("SSH_AUTH_SOCK"); at != "" {
		if conn, err := net.Dial("unix", at); err == nil { // an agent that is gone has no keys
			k.agent = &watched{conn, time.Minute} // it may ask its user
			held, err := agent.NewClient(k.agent).Signers()
			if err != nil {
				k.refuse(err)
			}
			for _, s := range held {
				seen[string(s.PublicKey().Marshal())] = true
				all = append(all, s)
			}
		}
	}
	for _, file := range k.files {
		s, err := k.fromFile(file)
		if err != nil {
			k.refuse(err)
			continue
		}
		if s != nil && !seen[string(s.PublicKey().Marshal())] {
			seen[string(s.PublicKey().Marshal())] = true
			all = append(all, s)
		}
	}
	return all, nil
}

func (k *keyring) refuse(err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.refusals = append(k.refusals, err)
}

// why is the first reason why a key could not be used; nil for none.
func (k *keyring) why() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.refusals) == 0 {
		return nil
	}
	return k.refusals[0]
}

// fromFile is a key of a file; nil where there is no such file and nobody named it.
func (k *keyring) fromFile(file string) (ssh.Signer, error) {
	data, err := os.ReadFile(file)
	if errors.Is(err, os.ErrNotExist) && k.o.KeyFile == "" {
		return nil, nil
	}
	if err != nil {
		return nil, publish.NewFault(err, "publish.key-file", "file", file, "said", err)
	}
	s, err := ssh.ParsePrivateKey(data)
	var locked *ssh.PassphraseMissingError
	switch {
	case err == nil:
		return s, nil
	case !errors.As(err, &locked):
		return nil, publish.NewFault(err, "publish.key-file", "file", file, "said", err)
	}
	public := locked.PublicKey
	if public == nil { // an older form of file; its public half lies beside it
		if text, err := os.ReadFile(file + ".pub"); err == nil {
			public, _, _, _, _ = ssh.ParseAuthorizedKey(text)
		}
	}
	if public == nil {
		return k.unlock(file, data)
	}
	return &lockedKey{public: public, unlock: sync.OnceValues(func() (ssh.Signer, error) {
		s, err := k.unlock(file, data)
		if err != nil {
			k.refuse(err)
		}
		return s, err
	})}, nil
}

// unlock asks for the passphrase of a key, three times at most.
func (k *keyring) unlock(file string, data []byte) (ssh.Signer, error) {
	for try := range 3 {
		phrase, err := k.o.secret(k.ctx, Secret{Passphrase, file, try})
		if err != nil {
			return nil, publish.NewFault(err, "publish.key-locked", "file", file)
		}
		if s, err := ssh.ParsePrivateKeyWithPassphrase(data, []byte(phrase)); err == nil {
			return s, nil
		}
	}
	return nil, publish.NewFault(nil, "publish.key-passphrase", "file", file)
}

// A lockedKey is a key under a passphrase, which is asked for when a server says that
// it would take the key, and not before.
type lockedKey struct {
	public ssh.PublicKey
	unlock func() (ssh.Signer, error)
}

func (l *lockedKey) PublicKey() ssh.PublicKey { return l.public }

func (l *lockedKey) Sign(r io.Reader, data []byte) (*ssh.Signature, error) {
	return l.SignWithAlgorithm(r, data, "")
}

func (l *lockedKey) SignWithAlgorithm(r io.Reader, data []byte, algorithm string) (*ssh.Signature, error) {
	s, err := l.unlock()
	if err != nil {
		return nil, err
	}
	if with, ok := s.(ssh.AlgorithmSigner); ok {
		return with.SignWithAlgorithm(r, data, algorithm)
	}
	return s.Sign(r, data)
}
