package publish_test

import (
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"errors"
	"io"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/pkg/sftp"
	"golang.org/x/crypto/ssh"
)

// An sshServer is a server of the test's own, for what OpenSSH's would not do without
// a user of its own, or not at all.
type sshServer struct {
	keys     sync.RWMutex // of config
	config   *ssh.ServerConfig
	handlers sftp.Handlers
	address  string
	asked    int // for a password
	noSFTP   bool
}

// hostKey is a new key of one kind.
func newKey(t *testing.T, kind string) (ssh.Signer, any) {
	t.Helper()
	var key any
	var err error
	switch kind {
	case "ed25519":
		_, key, err = ed25519.GenerateKey(rand.Reader)
	case "ecdsa":
		key, err = ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	case "rsa":
		key, err = rsa.GenerateKey(rand.Reader, 2048)
	}
	if err != nil {
		t.Fatal(err)
	}
	s, err := ssh.NewSignerFromKey(key)
	if err != nil {
		t.Fatal(err)
	}
	return s, key
}

// keyFile writes a private key, under a passphrase or none.
func keyFile(t *testing.T, key any, phrase string) string {
	t.Helper()
	block, err := ssh.MarshalPrivateKey(key, "")
	if phrase != "" {
		block, err = ssh.MarshalPrivateKeyWithPassphrase(key, "", []byte(phrase))
	}
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "id")
	if err := os.WriteFile(name, pemOf(block), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// newSSHServer starts a server with files in memory and host keys of these kinds. It
// lets in whoever has the key or the password; nil and "" for nobody.
func newSSHServer(t *testing.T, key ssh.PublicKey, password string, kinds ...string) *sshServer {
	t.Helper()
	s := &sshServer{config: &ssh.ServerConfig{}, handlers: sftp.InMemHandler()}
	if key != nil {
		s.config.PublicKeyCallback = func(_ ssh.ConnMetadata, offered ssh.PublicKey) (*ssh.Permissions, error) {
			if string(offered.Marshal()) != string(key.Marshal()) {
				return nil, errors.New("another key")
			}
			return &ssh.Permissions{}, nil
		}
	}
	if password != "" {
		s.config.PasswordCallback = func(_ ssh.ConnMetadata, tried []byte) (*ssh.Permissions, error) {
			s.asked++
			if string(tried) != password {
				return nil, errors.New("wrong")
			}
			return &ssh.Permissions{}, nil
		}
	}
	for _, kind := range kinds {
		host, _ := newKey(t, kind)
		s.config.AddHostKey(host)
	}
	list, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s.address = list.Addr().String()
	t.Cleanup(func() { _ = list.Close() })
	go func() {
		for {
			conn, err := list.Accept()
			if err != nil {
				return
			}
			go s.serve(conn)
		}
	}()
	return s
}

// add gives the server another host key, or another of that kind.
func (s *sshServer) add(host ssh.Signer) {
	s.keys.Lock()
	defer s.keys.Unlock()
	s.config.AddHostKey(host)
}

func (s *sshServer) serve(conn net.Conn) {
	defer func() { _ = conn.Close() }()
	s.keys.RLock()
	_, channels, requests, err := ssh.NewServerConn(conn, s.config)
	s.keys.RUnlock()
	if err != nil {
		return
	}
	go ssh.DiscardRequests(requests)
	for c := range channels {
		channel, requests, err := c.Accept()
		if err != nil {
			return
		}
		go func() {
			for r := range requests {
				_ = r.Reply(r.Type == "subsystem" && !s.noSFTP, nil)
			}
		}()
		server := sftp.NewRequestServer(channel, s.handlers)
		go func() { _ = server.Serve() }()
	}
}

func (s *sshServer) url() *url.URL {
	return &url.URL{Scheme: "sftp", User: url.User("mechanic"), Host: s.address, Path: "/"}
}

// losing takes files and keeps the first half of what is longer than one packet, and
// says that all is well.
type losing struct{ sftp.Handlers }

func (l losing) Filewrite(r *sftp.Request) (io.WriterAt, error) {
	to, err := l.FilePut.Filewrite(r)
	return half{to}, err
}

type half struct{ io.WriterAt }

func (h half) WriteAt(p []byte, at int64) (int, error) {
	if at >= 100_000 {
		return len(p), nil
	}
	return h.WriterAt.WriteAt(p, at)
}
