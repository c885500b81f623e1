package farend

import (
	"context"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// A route is how a host is reached by SSH.
type route struct {
	host, port, user string
	keyFiles         []string
	around           bool // by another computer or program, which is not ours to start
}

// routeOf is what the user's own SSH program would do, which knows his short names for
// hosts; without that program it is what was asked for, and the usual keys. Of the
// files that are named some need not be there.
func routeOf(ctx context.Context, asked route, home string) route {
	usual := asked
	for _, name := range []string{"id_ed25519", "id_ecdsa", "id_rsa"} {
		usual.keyFiles = append(usual.keyFiles, filepath.Join(home, ".ssh", name))
	}
	args := []string{"-G"}
	if asked.port != "" {
		args = append(args, "-p", asked.port)
	}
	if asked.user != "" {
		args = append(args, "-l", asked.user)
	}
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, "ssh", append(args, "--", asked.host)...).Output()
	if err != nil {
		return usual
	}
	r := asked
	for line := range strings.Lines(string(out)) {
		word, value, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch word {
		case "hostname":
			r.host = value
		case "port":
			r.port = value
		case "user":
			r.user = value
		case "identityfile":
			r.keyFiles = append(r.keyFiles, inHome(value, home))
		case "proxyjump", "proxycommand":
			r.around = r.around || value != "none"
		}
	}
	return r
}

// inHome puts the home folder where ssh -G leaves a sign for it.
func inHome(name, home string) string {
	if rest, ok := strings.CutPrefix(name, "~/"); ok {
		return filepath.Join(home, rest)
	}
	return strings.ReplaceAll(name, "%d", home)
}
