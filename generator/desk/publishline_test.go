package desk_test

import (
	"cmp"
	"context"
	"html"
	"maps"
	"net"
	"net/url"
	"os/exec"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"asleft/generator/desk"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/testenv"
)

// A wire is the line that the next connection goes over.
type wire struct {
	atomic.Pointer[testenv.Line]
	leadsTo string // another server than the one that is asked for; empty for that one
}

// fresh is a line on which nothing is wrong from now on.
func (w *wire) fresh(t *testing.T) { w.Store(testenv.NewLine(t)) }

// breaks has the line break after so many bytes, or go silent without a word.
func (w *wire) breaks(t *testing.T, after int64, dead bool) *testenv.Line {
	line := testenv.NewLine(t)
	line.After, line.Dead, line.Delay = after, dead, 10*time.Millisecond
	w.Store(line)
	return line
}

func (w *wire) dial(ctx context.Context, network, address string) (net.Conn, error) {
	return w.Load().Dial(ctx, network, cmp.Or(w.leadsTo, address))
}

// A place is a real server, as somebody fills it into the form.
type place struct {
	server *testenv.Server
	parts  map[string]string
	secret string
	far    farend.Options
}

// overSFTP is sshd, with a key under a passphrase.
func overSFTP(t *testing.T) place {
	t.Helper()
	s := testenv.SSHD(t)
	const phrase = "canary-passphrase-51c0"
	if out, err := exec.Command(testenv.Program(t, "ssh-keygen"), "-p", "-P", "", "-N", phrase, "-f", s.KeyFile).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return place{s, map[string]string{"way": "sftp", "host": s.Address, "user": s.User, "path": s.Root, "f.publish.key": s.KeyFile, "f.web": ""}, phrase,
		farend.Options{Home: t.TempDir(), KnownHosts: []string{s.Known}}}
}

// overFTPS is vsftpd, with a certificate of its own.
func overFTPS(t *testing.T) place {
	t.Helper()
	s := testenv.VSFTPD(t, time.Now().Add(-24*time.Hour), time.Now().Add(24*time.Hour))
	return place{s, map[string]string{"way": "ftps", "host": s.Address, "user": s.User, "path": "/", "f.web": ""}, s.Secret, farend.Options{}}
}

// answered looks at what is new, and answers all that is asked.
func (b *onDisk) answered(secret string) string {
	b.t.Helper()
	page := b.do("look")
	for range 3 { // the certificate, the secret, and what came of them
		if !strings.Contains(page, `name="question"`) {
			return page
		}
		page = b.says(page, "yes", secret)
	}
	b.t.Fatalf("it asks and asks:\n%s", page)
	return ""
}

// whole looks whether each file of the site that is there is as it is in the site, and
// tells how many are.
func (b *onDisk) whole(root string) (there, all int) {
	b.t.Helper()
	far := tree(b.t, root)
	for name, data := range tree(b.t, filepath.Join(b.dir, "site")) {
		if strings.HasPrefix(name, ".") {
			continue
		}
		all++
		if got, ok := far[name]; ok && got != data {
			b.t.Errorf("%s is there, and not as it is in the site", name)
		} else if ok {
			there++
		}
	}
	return there, all
}

// free looks whether the list is there and no lock is: what a server finished when its line
// was gone may lie beside it until somebody brings something again.
func (b *onDisk) free(root string) {
	b.t.Helper()
	there := tree(b.t, filepath.Join(root, publish.Folder))
	if _, ok := there["manifest"]; !ok {
		b.t.Error("there is no list")
	}
	for name := range there {
		if strings.HasPrefix(name, "lock") {
			b.t.Errorf("%s stays there", name)
		}
	}
}

// watch presses a button, and calls see with each other page until the run ends.
func (b *onDisk) watch(what string, see func(page string)) string {
	b.t.Helper()
	b.post(publishAt, url.Values{"do": {what}})
	last := ""
	for until := time.Now().Add(2 * time.Minute); time.Now().Before(until); time.Sleep(10 * time.Millisecond) {
		page := html.UnescapeString(b.get(publishAt))
		if page != last {
			see(page)
		}
		if last = page; !strings.Contains(page, "data-working") {
			return page
		}
	}
	b.t.Fatalf("it does not end:\n%s", last)
	return ""
}

const (
	goesOn    = "The line broke off. What was brought so far is there; it goes on by itself in "
	staysDown = "did not come back"
)

// TestPublishOverABrokenLine: the line breaks in the middle of an upload, with or without a
// word. The page says that it goes on by itself, and so it does, without a question, however
// long ago the secret was typed. Where the line stays down the page says what to do, and the
// next press finishes, at once: what the first left there holds nobody up.
func TestPublishOverABrokenLine(t *testing.T) {
	t.Setenv("SSH_AUTH_SOCK", "")
	for _, tc := range []struct {
		name        string
		over        func(*testing.T) place
		dead, stays bool
	}{
		{"sftp, cut", overSFTP, false, false},
		{"sftp, silent", overSFTP, true, false},
		{"sftp, cut for long", overSFTP, false, true},
		{"sftp, silent for long", overSFTP, true, true},
		{"ftps, cut", overFTPS, false, false},
		{"ftps, cut for long", overFTPS, false, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			to, over := tc.over(t), new(wire)
			over.fresh(t)
			to.far.Dial = over.dial
			if tc.dead {
				to.far.Quiet = 5 * time.Second // a busy computer is silent for a second and not dead
			}
			var pace publish.Pace // that of people, but where it has to be waited for in vain
			if tc.stays {
				pace.Again = 100 * time.Millisecond
			}
			b := atAPace(t, to.far, pace)
			if wrong := b.goesTo(to.parts); wrong != "" {
				t.Fatal(wrong)
			}
			b.shows(b.answered(to.secret), `value="bring"`)
			line := over.breaks(t, 1_400_000, tc.dead)
			told := false
			page := b.watch("bring", func(page string) {
				if strings.Contains(page, `name="question"`) {
					t.Fatalf("somebody is asked in the middle of it:\n%s", page)
				}
				if at := strings.Index(page, goesOn); at >= 0 && !told {
					told = true
					desk.Later(b.desk)
					if !tc.stays {
						b.shows(page, goesOn+"2 seconds.", `role="status"`)
						over.fresh(t)
					}
				}
			})
			if !line.Over() || !told {
				t.Fatalf("the line broke: %v; the page told it: %v", line.Over(), told)
			}
			there, all := b.whole(to.server.Root)
			if tc.stays {
				if there == all { // and none, where it broke before the first was put in place
					t.Errorf("all of %d files are there: that was not the middle", all)
				}
				b.shows(page, staysDown, "no page is broken", "press it again", `value="look"`)
				for _, no := range []string{"Brought ", goesOn, "#host", "cannot be reached"} {
					if strings.Contains(page, no) {
						t.Errorf("it says %q:\n%s", no, page)
					}
				}
				over.fresh(t)
				b.shows(b.answered(to.secret), `value="bring"`)
				page = b.watch("bring", func(page string) {
					if strings.Contains(page, "is bringing a site there") {
						t.Fatalf("it waits for itself:\n%s", page)
					}
				})
				// How much of it was there whole when the line broke is the server's affair, and the
				// computer's: that those are not brought again is a test of publish.
				b.shows(page, "Brought ")
				there, all = b.whole(to.server.Root)
			}
			b.shows(page, "Brought ")
			if there != all {
				t.Errorf("of %d files %d are there", all, there)
			}
			b.free(to.server.Root)
			b.shows(b.answered(to.secret), "Nothing has changed")
		})
	}
}

// TestPublishToACertificateOfOnesOwn: the fingerprint of a certificate for which nobody
// speaks is shown and asked about, and is kept where the site's place stands; then that
// certificate alone is taken.
func TestPublishToACertificateOfOnesOwn(t *testing.T) {
	t.Run("ftps", func(t *testing.T) {
		to, over := overFTPS(t), new(wire)
		over.fresh(t)
		to.far.Dial = over.dial
		b := onADisk(t, to.far)
		b.goesTo(to.parts)
		before, print := b.file("shop.md"), to.server.Fingerprint(t)
		var pages []string
		saw := func(page string) string { pages = append(pages, page); return page }

		page := saw(b.do("look"))
		b.shows(page, print, "Is this the certificate of", "server of your own")
		if strings.Contains(page, `type="password"`) {
			t.Error("a password is asked for before anybody knows who gets it")
		}
		b.shows(saw(b.says(page, "no", "")), "was not taken for the right one, so nothing was sent")
		if b.file("shop.md") != before {
			t.Error("what nobody trusted was kept")
		}
		page = saw(b.says(saw(b.do("look")), "yes", ""))
		b.shows(page, "Password of "+to.server.User+"@"+to.server.Address, `type="password"`)
		after := b.file("shop.md")
		if strings.Replace(after, `, fingerprint: "`+print+`"`, "", 1) != before || !strings.Contains(after, print) {
			t.Errorf("more than the fingerprint was changed, or not that:\n%s", after)
		}
		page = saw(b.says(page, "yes", "wrong-"+to.secret))
		b.shows(page, "That was not taken", `type="password"`)
		page = saw(b.says(page, "yes", to.secret))
		b.shows(page, "Nothing was changed yet", `value="bring"`)
		if n := len(tree(t, to.server.Root)); n != 0 {
			t.Errorf("looking brought %d files", n)
		}
		b.shows(saw(b.do("bring")), "Brought ") // it is not asked for twice
		if there, all := b.whole(to.server.Root); there != all {
			t.Errorf("of %d files %d are there", all, there)
		}
		if len(b.ring) > 0 {
			t.Error("the key ring keeps what nobody asked it to")
		}

		// Afterwards the password is asked for again and the fingerprint is not, until the
		// key ring keeps that too.
		page = saw(b.do("look"))
		b.shows(page, "Password of ")
		b.shows(saw(b.says(page, "yes", to.secret, "keep")), "Nothing has changed")
		if want := (memoryRing{"password " + to.server.User + "@" + to.server.Address: to.secret}); !maps.Equal(b.ring, want) {
			t.Errorf("the key ring keeps %v", b.ring)
		}
		desk.Later(b.desk)
		b.shows(saw(b.do("look")), "Nothing has changed")

		// Another certificate, as of somebody who listens in, is no question.
		other := overFTPS(t).server
		over.leadsTo = other.Address
		b.shows(saw(b.do("look")), other.Fingerprint(t), print, "was named as the right one", placeAt+"#f-publish-fingerprint")

		pages = append(pages, b.get("/desk/"), b.get("/desk/shop"), b.get(placeAt))
		for _, page := range pages {
			if strings.Contains(page, to.secret) {
				t.Error("the password stands on a page")
			}
		}
		for _, dir := range []string{b.dir, to.server.Root} {
			for name, data := range tree(t, dir) {
				if strings.Contains(data, to.secret) {
					t.Errorf("the password stands in %s", name)
				}
			}
		}
	})
	t.Run("s3", func(t *testing.T) {
		server := testenv.S3OverTLS(t, "www")
		b := onADisk(t, farend.Options{})
		b.goesTo(map[string]string{"way": "s3", "host": server.Address, "access": server.User, "bucket": "www", "f.web": ""})
		page := b.says(b.do("look"), "yes", server.Secret)
		b.shows(page, server.Fingerprint(t), "Is this the certificate of")
		b.shows(b.says(page, "yes", ""), `value="bring"`) // the key that was typed is not asked for twice
		b.shows(b.do("bring"), "Brought ")
		// The form has the fingerprint, and keeps it.
		if got := value(b.get(placeAt), `name="f.publish.fingerprint" value="`); got != server.Fingerprint(t) {
			t.Errorf("the form says %q", got)
		}
	})
	t.Run("the place was changed meanwhile", func(t *testing.T) {
		to := overFTPS(t)
		b := onADisk(t, to.far)
		b.goesTo(to.parts)
		page := b.do("look")
		other := t.TempDir()
		b.goesTo(map[string]string{"way": "folder", "folder": other, "f.web": ""})
		kept := b.file("shop.md")
		b.shows(b.says(b.says(page, "yes", ""), "yes", to.secret), "could not be kept", `value="bring"`)
		if b.file("shop.md") != kept {
			t.Errorf("the fingerprint stands at another place:\n%s", b.file("shop.md"))
		}
	})
	t.Run("a certificate that ran out is no question", func(t *testing.T) {
		s := testenv.VSFTPD(t, time.Now().Add(-48*time.Hour), time.Now().Add(-24*time.Hour))
		b := onADisk(t, farend.Options{})
		b.goesTo(map[string]string{"way": "ftps", "host": s.Address, "user": s.User, "path": "/", "f.web": ""})
		page := b.do("look")
		b.shows(page, "ran out on")
		if strings.Contains(page, `name="question"`) {
			t.Errorf("it asks:\n%s", page)
		}
	})
}
