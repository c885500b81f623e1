package farend

import (
	"cmp"
	"context"
	"errors"
	"io"
	"net"
	"net/url"
	"os"
	"os/user"
	"syscall"
	"time"

	"golang.org/x/crypto/ssh"

	"asleft/generator/publish"
)

// keepAlive is how often an idle line is asked whether it is alive.
const keepAlive = 3 * time.Second

// openSSH connects and logs in.
func openSSH(ctx context.Context, at *url.URL, o Options) (*ssh.Client, error) {
	home := o.Home
	if home == "" {
		home, _ = os.UserHomeDir() // without one there are no keys and no known hosts
	}
	r := routeOf(ctx, route{host: at.Hostname(), port: at.Port(), user: at.User.Username()}, home)
	if r.user == "" {
		if u, err := user.Current(); err == nil {
			r.user = u.Username
		}
	}
	if r.port == "" {
		r.port = "22"
	}
	if o.KeyFile != "" {
		r.keyFiles = []string{inHome(o.KeyFile, home)}
	}
	keys, err := knownHostsOf(o, home)
	if err != nil {
		return nil, err
	}
	address := net.JoinHostPort(r.host, r.port)
	conn, err := o.dial(ctx, address)
	if err != nil && r.around && ctx.Err() == nil {
		return nil, publish.NewFault(err, "publish.around", "host", address)
	}
	if err != nil {
		return nil, lineFault(err, address)
	}
	if ask := o.Secret; ask != nil {
		o.Secret = func(ctx context.Context, of Secret) (secret string, err error) {
			conn.whilePersonThinks(func() { secret, err = ask(ctx, of) })
			return secret, err
		}
	}
	line := &login{ctx: ctx, o: o, of: r.user + "@" + at.Host, keys: &keyring{ctx: ctx, o: o, files: r.keyFiles}}
	defer line.keys.close()
	config := &ssh.ClientConfig{
		User:              r.user,
		HostKeyAlgorithms: keys.algorithms(address),
		HostKeyCallback: func(host string, remote net.Addr, key ssh.PublicKey) error {
			err := keys.check(host, remote, key)
			line.known = err == nil
			return err
		},
		Timeout: o.quiet(),
		Auth: []ssh.AuthMethod{
			ssh.PublicKeysCallback(line.keys.signers),
			ssh.RetryableAuthMethod(ssh.PasswordCallback(line.password), tries),
			ssh.RetryableAuthMethod(ssh.KeyboardInteractive(line.answers), tries),
		},
	}
	sshConn, channels, requests, err := ssh.NewClientConn(conn, address, config)
	if err != nil {
		_ = conn.Close() // the login's failure is what is told
		return nil, line.fault(err, address)
	}
	client := ssh.NewClient(sshConn, channels, requests)
	go stayAlive(client)
	return client, nil
}

// stayAlive asks the server now and then whether it is there. An answer is something
// that moves on the line; without it, the line's deadline ends the connection.
func stayAlive(client *ssh.Client) {
	for {
		time.Sleep(keepAlive)
		if _, _, err := client.SendRequest("keepalive@openssh.com", true, nil); err != nil {
			return
		}
	}
}

// tries is how often a password is asked for.
const tries = 3

// A login is the part of the connection that asks for secrets.
type login struct {
	ctx   context.Context
	o     Options
	of    string
	keys  *keyring
	known bool  // the host is; from then on it is about the user
	asked int   // for a password
	given error // why there is no password
}

func (l *login) password() (string, error) {
	secret, err := l.o.secret(l.ctx, Secret{Password, l.of, l.asked})
	l.asked++
	if err != nil {
		l.given = err
	}
	return secret, err
}

// answers are for servers that ask for a password as a question. Anything that is not
// one hidden answer is more than this program knows.
func (l *login) answers(_, _ string, questions []string, echos []bool) ([]string, error) {
	if len(questions) == 0 {
		return nil, nil
	}
	if len(questions) != 1 || echos[0] {
		return nil, errors.New("the server asks more than a password")
	}
	secret, err := l.password()
	return []string{secret}, err
}

// fault words why there is no connection.
func (l *login) fault(err error, address string) error {
	var known *publish.Fault
	switch {
	case l.asked > 1 && l.given != nil: // one was refused, and then none was given
		return publish.NewFault(err, "publish.password", "of", l.of)
	case errors.As(cmp.Or(l.given, err), &known):
		return known
	case !l.known || isLine(err):
		return lineFault(err, address)
	case l.keys.why() != nil:
		return l.keys.why()
	case l.asked > 0:
		return publish.NewFault(err, "publish.password", "of", l.of)
	}
	return publish.NewFault(err, "publish.not-let-in", "of", l.of)
}

// isLine tells whether an error is that of a line that broke off or does not answer.
func isLine(err error) bool {
	var line *net.OpError
	return errors.As(err, &line) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, net.ErrClosed) || errors.Is(err, os.ErrDeadlineExceeded)
}

// lineFault words what is wrong with a line.
func lineFault(err error, address string) error {
	var known *publish.Fault
	var timeout net.Error
	var lookup *net.DNSError
	switch {
	case errors.As(err, &known):
		return known
	case err == nil || errors.Is(err, context.Canceled):
		return err
	case errors.As(err, &lookup):
		return publish.NewFault(err, "publish.no-host", "host", lookup.Name).OfLine() // no host has a name where the line is down
	case errors.Is(err, os.ErrDeadlineExceeded), errors.Is(err, context.DeadlineExceeded), errors.As(err, &timeout) && timeout.Timeout():
		return publish.NewFault(err, "publish.dead-line", "host", address).OfLine()
	}
	// What the system says in the end; before it stand the calls that led there.
	said := err
	var number syscall.Errno
	if errors.As(err, &number) {
		said = number
	}
	return publish.NewFault(err, "publish.no-line", "host", address, "said", said).OfLine()
}
