package testenv

import (
	"bytes"
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A Server is somebody else's program that takes a site, on this computer alone.
type Server struct {
	Address string // host and port
	Root    string // its folder, as this computer sees it
	User    string
	Secret  string // a password, or a secret key
	KeyFile string // an SSH key that it takes
	Known   string // a known_hosts file that has it
	Log     string // what it said
	// Certificate is its own, which nobody else speaks for; empty where it has none.
	Certificate string
}

// serverUser owns what a server writes: a user with no rights that every Debian has,
// with a home folder that is there, which vsftpd wants.
const serverUser = "daemon"

// needsRoot leaves a test out where the servers cannot be started.
func needsRoot(t testing.TB) {
	t.Helper()
	if os.Getuid() != 0 {
		Without(t, "the right to start servers as root")
	}
}

// served is a folder that the server's user can write to.
func served(t testing.TB) (dir, root string) {
	t.Helper()
	dir, err := os.MkdirTemp("", "asleft-server") //nolint:usetesting // the server's user has to get in
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Error(err)
		}
	})
	root = filepath.Join(dir, "root")
	if err := os.Mkdir(root, 0o755); err != nil { //nolint:gosec // as above
		t.Fatal(err)
	}
	for _, d := range []string{dir, root} {
		if err := os.Chmod(d, 0o755); err != nil { //nolint:gosec // as above
			t.Fatal(err)
		}
	}
	GiveAway(t, root)
	return dir, root
}

// GiveAway makes a file the server's.
func GiveAway(t testing.TB, name string) {
	t.Helper()
	u, err := user.Lookup(serverUser)
	if err != nil {
		t.Fatal(err)
	}
	uid, _ := strconv.Atoi(u.Uid) // a number on every system that has root
	gid, _ := strconv.Atoi(u.Gid) // as above
	if err := os.Chown(name, uid, gid); err != nil {
		t.Fatal(err)
	}
}

func freePort(t testing.TB) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = l.Close() }() // it only lends its number
	return strconv.Itoa(l.Addr().(*net.TCPAddr).Port)
}

// start starts a server and waits until it listens; it ends with the test.
func start(t testing.TB, s *Server, env []string, program string, args ...string) {
	t.Helper()
	log, err := os.Create(s.Log)
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program, args...)
	c.Stdout, c.Stderr, c.Env = log, log, append(os.Environ(), env...)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = c.Process.Kill() // it has nothing to lose
		_ = c.Wait()         // killed, as said
		_ = log.Close()
	})
	for until := time.Now().Add(20 * time.Second); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		if conn, err := net.Dial("tcp", s.Address); err == nil {
			_ = conn.Close()
			return
		}
	}
	said, _ := os.ReadFile(s.Log)
	t.Fatalf("%s does not listen at %s: %s", program, s.Address, said)
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func run(t testing.TB, name string, args ...string) {
	t.Helper()
	if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		t.Fatalf("%s %q: %v: %s", name, args, err, out)
	}
}

// SSHD is OpenSSH's server. It knows one user, by a key.
func SSHD(t testing.TB, settings ...string) *Server {
	t.Helper()
	program, keygen := Program(t, "/usr/sbin/sshd"), Program(t, "ssh-keygen")
	needsRoot(t)
	dir, root := served(t)
	in := func(name string) string { return filepath.Join(dir, name) }
	s := &Server{Address: "127.0.0.1:" + freePort(t), Root: root, User: serverUser, KeyFile: in("id"), Known: in("known_hosts"), Log: in("log")}
	run(t, keygen, "-q", "-t", "ed25519", "-N", "", "-f", in("host"))
	run(t, keygen, "-q", "-t", "ecdsa", "-N", "", "-f", in("host2"))
	run(t, keygen, "-q", "-t", "rsa", "-N", "", "-f", in("host3"))
	run(t, keygen, "-q", "-t", "ed25519", "-N", "", "-f", in("id"))
	public, err := os.ReadFile(in("host.pub"))
	must(t, err)
	_, port, _ := net.SplitHostPort(s.Address)
	must(t, os.WriteFile(s.Known, fmt.Appendf(nil, "[127.0.0.1]:%s %s", port, public), 0o600))
	must(t, os.MkdirAll("/run/sshd", 0o755)) //nolint:gosec // where sshd wants it
	config := append([]string{
		"Port " + port, "ListenAddress 127.0.0.1", "HostKey " + in("host"), "HostKey " + in("host2"), "HostKey " + in("host3"), "PidFile none",
		"AuthorizedKeysFile " + in("id.pub"), "StrictModes no", "UsePAM no", "PasswordAuthentication no", "Subsystem sftp internal-sftp",
		"MaxStartups 200", "LogLevel VERBOSE",
	}, settings...)
	must(t, os.WriteFile(in("config"), []byte(strings.Join(config, "\n")+"\n"), 0o600))
	start(t, s, nil, program, "-D", "-e", "-f", in("config"))
	return s
}

// Certificate writes a certificate and its key for this computer's own address, from
// one day to another.
func Certificate(t testing.TB, dir string, from, until time.Time) (certificate, key string) {
	t.Helper()
	certificate, key = filepath.Join(dir, "certificate.pem"), filepath.Join(dir, "key.pem")
	cert, private := SelfSigned(t, from, until)
	must(t, os.WriteFile(certificate, cert, 0o600))
	must(t, os.WriteFile(key, private, 0o600))
	return certificate, key
}

// VSFTPD is an FTP server with TLS. It knows one user, by a password.
func VSFTPD(t testing.TB, from, until time.Time, settings ...string) *Server {
	t.Helper()
	program := Program(t, "/usr/sbin/vsftpd")
	if found, _ := filepath.Glob("/lib/*/security/pam_pwdfile.so"); len(found) == 0 {
		Without(t, "libpam-pwdfile")
	}
	needsRoot(t)
	dir, root := served(t)
	in := func(name string) string { return filepath.Join(dir, name) }
	s := &Server{Address: "127.0.0.1:" + freePort(t), Root: root, User: "mechanic", Secret: "pw-" + rand(), Log: in("log")}
	certificate, key := Certificate(t, dir, from, until)
	s.Certificate = certificate
	// Who may come in: the one with this password. The file has to stand with those of
	// the system, under a name of its own.
	service := strings.ToLower("asleft-test-" + rand()) // PAM looks for it in lower case
	hash, err := exec.Command(Program(t, "openssl"), "passwd", "-6", s.Secret).Output()
	must(t, err)
	must(t, os.WriteFile(in("passwords"), fmt.Appendf(nil, "%s:%s", s.User, hash), 0o600))
	must(t, os.WriteFile("/etc/pam.d/"+service, fmt.Appendf(nil, "auth required pam_pwdfile.so pwdfile %s\naccount required pam_permit.so\n", in("passwords")), 0o644)) //nolint:gosec // as its neighbours
	t.Cleanup(func() { must(t, os.Remove("/etc/pam.d/"+service)) })
	must(t, os.MkdirAll("/var/run/vsftpd/empty", 0o755)) //nolint:gosec // where vsftpd wants it
	_, port, _ := net.SplitHostPort(s.Address)
	config := append([]string{
		"listen=YES", "listen_address=127.0.0.1", "listen_port=" + port, "background=NO", "anonymous_enable=NO", "local_enable=YES", "write_enable=YES", "local_umask=022", "file_open_mode=0666",
		"max_per_ip=0", "guest_enable=YES", "guest_username=" + serverUser, "virtual_use_local_privs=YES",
		"local_root=" + root, "chroot_local_user=YES", "allow_writeable_chroot=YES", "pam_service_name=" + service, "secure_chroot_dir=/var/run/vsftpd/empty",
		"ssl_enable=YES", "rsa_cert_file=" + certificate, "rsa_private_key_file=" + key, "ssl_ciphers=HIGH",
		"seccomp_sandbox=NO", // it kills TLS (getrandom)
	}, settings...)
	must(t, os.WriteFile(in("config"), []byte(strings.Join(config, "\n")+"\n"), 0o600))
	start(t, s, nil, program, in("config"))
	return s
}

// Forget takes the user of an FTP server away: whoever logs in after that is refused.
func (s *Server) Forget(t testing.TB) {
	t.Helper()
	must(t, os.WriteFile(filepath.Join(filepath.Dir(s.Root), "passwords"), nil, 0o600))
}

// Fingerprint is that of a server's certificate, as its owner would see it there.
func (s *Server) Fingerprint(t testing.TB) string {
	t.Helper()
	out, err := exec.Command(Program(t, "openssl"), "x509", "-in", s.Certificate, "-noout", "-fingerprint", "-sha256").Output()
	must(t, err)
	_, fingerprint, _ := strings.Cut(strings.TrimSpace(string(out)), "=")
	return fingerprint
}

// S3 is the Versity S3 gateway over a folder, with one bucket of that name in it.
func S3(t testing.TB, bucket string, arguments ...string) *Server {
	t.Helper()
	program := Program(t, "versitygw")
	dir, root := served(t)
	s := &Server{Address: "127.0.0.1:" + freePort(t), Root: filepath.Join(root, bucket), User: "AKTEST" + rand(), Secret: "sk-" + rand(), Log: filepath.Join(dir, "log")}
	must(t, os.MkdirAll(s.Root, 0o755)) //nolint:gosec // a bucket
	arguments = append(arguments, "--port", s.Address, "posix", root)
	start(t, s, []string{"ROOT_ACCESS_KEY=" + s.User, "ROOT_SECRET_KEY=" + s.Secret}, program, arguments...)
	return s
}

// S3OverTLS is the same under a certificate of its own.
func S3OverTLS(t testing.TB, bucket string) *Server {
	t.Helper()
	certificate, key := Certificate(t, t.TempDir(), time.Now().Add(-24*time.Hour), time.Now().Add(24*time.Hour))
	s := S3(t, bucket, "--cert", certificate, "--key", key)
	s.Certificate = certificate
	return s
}

// SmallDisk mounts a disk of so many bytes on a folder. Options are those of mount.
func SmallDisk(t testing.TB, dir, options string) {
	t.Helper()
	needsRoot(t)
	run(t, "mount", "-t", "tmpfs", "-o", options, "asleft-test", dir)
	t.Cleanup(func() { run(t, "umount", "-l", dir) })
}

// Said is what a server wrote into its log.
func (s *Server) Said(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(s.Log)
	must(t, err)
	return string(bytes.ToValidUTF8(text, nil))
}
