package publish_test

import (
	"context"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// TestBesideRsync measures first upload, nothing changed and one page changed beside
// rsync -a --delete over the same sshd, with no delay and with 30 ms there and back,
// in turns. It is a part of .ci/long. Where the disk of the machine is busy the first
// uploads without a delay say nothing; read the others as ratios.
func TestBesideRsync(t *testing.T) {
	if os.Getenv("ASLEFT_PUBLISH_SPEED") == "" {
		t.Skip("a part of .ci/long (ASLEFT_PUBLISH_SPEED=1)")
	}
	rsync := testenv.Program(t, "rsync")
	files := many("ASLEFT_PUBLISH_FILES", 3700)
	// rsync wants a shell to start its other half in.
	w := bySSHAsRoot(t)
	site := village("old", files/3)
	local := t.TempDir()
	for p, text := range site {
		// Pages of a shop are some 20 kB.
		site[p] = text + strings.Repeat("<!-- as long as a page is -->", 600)
		mustWrite(t, filepath.Join(local, p), site[p])
	}
	for _, delay := range []time.Duration{0, 15 * time.Millisecond} {
		line := testenv.NewLine(t)
		line.Delay = delay
		address := line.At(t, w.server.Address)
		host, port, _ := net.SplitHostPort(address)
		theirs := func(to string) time.Duration {
			begun := time.Now()
			ssh := fmt.Sprintf("ssh -p %s -i %s -o StrictHostKeyChecking=no -o UserKnownHostsFile=/dev/null -o LogLevel=ERROR -F none", port, w.server.KeyFile)
			if out, err := exec.Command(rsync, "-a", "--delete", "-e", ssh, local+"/", "root@"+host+":"+to+"/").CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			return time.Since(begun)
		}
		ours := func(to string) time.Duration {
			begun := time.Now()
			at := *w.url
			at.Path = to
			o := w.o
			o.Dial = line.Dial
			far, err := farend.Open(context.Background(), &at, o)
			if err != nil {
				t.Fatal(err)
			}
			options := slower()
			options.Pace = publish.Pace{}
			bring(t, far, site, options)
			_ = far.Close()
			return time.Since(begun)
		}
		for round := range 3 {
			a, b := filepath.Join(w.server.Root, fmt.Sprint("ours", delay, round)), filepath.Join(w.server.Root, fmt.Sprint("theirs", delay, round))
			for _, what := range []string{"first", "nothing", "one page"} {
				if what == "one page" {
					site["machines/m2/index.html"] += "!"
					mustWrite(t, filepath.Join(local, "machines/m2/index.html"), site["machines/m2/index.html"])
				}
				us, them := ours(a), theirs(b)
				t.Logf("%v there and back, %d files, %s: %.2f s, rsync %.2f s, ratio %.2f", 2*delay, len(site), what, us.Seconds(), them.Seconds(), us.Seconds()/them.Seconds())
			}
		}
	}
}

// bySSHAsRoot is SFTP for a user with a shell.
func bySSHAsRoot(t *testing.T) way {
	w := bySFTP(t)
	w.url.User = url.User("root")
	w.o.Quiet = 30 * time.Second
	return w
}

func mustWrite(t *testing.T, name, text string) {
	t.Helper()
	err := os.MkdirAll(filepath.Dir(name), 0o755) //nolint:gosec // a site
	if err == nil {
		err = os.WriteFile(name, []byte(text), 0o644) //nolint:gosec // a site
	}
	if err != nil {
		t.Fatal(err)
	}
}
