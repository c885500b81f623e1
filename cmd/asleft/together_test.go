package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"asleft/generator"
	"asleft/generator/handover"
)

// TestTogether runs the program twice and more at the same time, each run begun
// at a random moment of the first one's work.
func TestTogether(t *testing.T) {
	t.Parallel()
	program := built(t)
	for name, try := range map[string]func(*crowd){
		"two writeups to one place":            writeupTwice,
		"two writeups to two places":           writeupTwoPlaces,
		"a writeup while log writes":           writeupWhileLog,
		"logs of one machine":                  logTogether,
		"a handover while log writes":          handoverWhileLog,
		"handovers of one and of two machines": handoverTogether,
		"two keys for one shop":                makeKeyTwice,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c := &crowd{yard: newYard(t, program, t.TempDir()), draw: drawing(t), came: map[string]int{}}
			began := time.Now()
			c.site("elsewhere/site")
			c.length = time.Since(began)
			try(c)
			t.Logf("in %d rounds: %v", rounds(5, 20), c.came)
		})
	}
}

// A crowd is a yard in which several are at work.
type crowd struct {
	*yard
	draw   *rand.Rand
	length time.Duration  // of a run
	came   map[string]int // what came of the rounds, counted
}

// each tries something as often as it is to be tried.
func (c *crowd) each(try func(n int, about string)) {
	for n := range rounds(5, 20) {
		try(n, fmt.Sprint("round ", n))
	}
}

// atOnce runs commands at the same time, each begun some time after the first,
// at random up to the length of a run, and returns how they ended.
func (c *crowd) atOnce(commands ...[]string) []ended {
	all, over := make([]ended, len(commands)), make(chan int)
	for i, args := range commands {
		later := time.Duration(c.draw.Int64N(int64(c.length)))
		if i == 0 || c.draw.IntN(3) == 0 {
			later = 0
		}
		go func() {
			time.Sleep(later)
			all[i] = c.ends(args...)
			over <- i
		}()
	}
	for range commands {
		<-over
	}
	return all
}

// done wants a run to have done its work.
func (c *crowd) done(e ended) {
	c.t.Helper()
	if e.code != fine {
		c.t.Fatalf("exit %d\n%s%s", e.code, e.said, e.cried)
	}
}

// doneOr wants a run to have done its work, or to have ended as one that is
// kept from it, with those words.
func (c *crowd) doneOr(e ended, says string) bool {
	c.t.Helper()
	if e.code == fault && strings.Contains(e.cried, says) {
		c.came["told to try again"]++
		return false
	}
	c.done(e)
	c.came["done"]++
	return true
}

// copied is another yard with the same shop, for what it would come to there.
func (y *yard) copied() *yard {
	y.t.Helper()
	other := newYard(y.t, y.program, y.t.TempDir())
	for _, dir := range []string{theShop, theCamera} {
		if err := os.RemoveAll(other.path(dir)); err != nil {
			y.t.Fatal(err)
		}
		if err := os.CopyFS(other.path(dir), os.DirFS(y.path(dir))); err != nil {
			y.t.Fatal(err)
		}
	}
	return other
}

// site is what a writeup makes of a shop.
func (y *yard) site(dir string) stock {
	y.t.Helper()
	y.works("writeup", "--out", y.path(dir))
	return y.stock(dir)
}

// Writeups to one place wait for each other; the site is whole.
func writeupTwice(c *crowd) {
	args := []string{"writeup", "--out", c.path("public/site")}
	c.each(func(n int, about string) {
		c.say(fmt.Sprint("number ", n))
		want := c.site("elsewhere/site")
		for _, e := range c.atOnce(args, args, args) {
			c.done(e)
		}
		c.same(c.stock("public/site"), want, about)
		c.noLeftovers(about)
	})
}

// Of two places one is in the shop folder, so the other run may find that the
// folder changed, and ask to be run again.
func writeupTwoPlaces(c *crowd) {
	places := []string{"shop/site", "public/site"}
	c.each(func(n int, about string) {
		c.say(fmt.Sprint("number ", n))
		want := c.site("elsewhere/site")
		for i, e := range c.atOnce([]string{"writeup"}, []string{"writeup", "--out", c.path(places[1])}) {
			if !c.doneOr(e, generator.ErrMoved.Error()) {
				c.site(places[i])
			}
			c.same(c.stock(places[i]), want, about)
		}
		c.noLeftovers(about)
	})
}

// evening is a log of machine a with a photo of its own.
func (y *yard) evening(name, words string, number int) []string {
	file := fmt.Sprintf("camera/IMG_%d.jpg", number)
	y.write(file, picture(y.t, number))
	at := time.Date(2026, 3, 3, 18, number, 0, 0, time.UTC)
	if err := os.Chtimes(y.path(file), at, at); err != nil {
		y.t.Fatal(err)
	}
	return []string{"log", "a", "--date", "2026-03-03", "--title", "Evening " + name, "--hours", "1", "--text", words, "--photos", y.path(file)}
}

// The site has each entry whole or not at all.
func writeupWhileLog(c *crowd) {
	before := c.stock(".")
	first, second := c.evening("first", "Words.", 20), c.evening("second", "Words.", 21)
	var sites []stock
	for _, logged := range [][][]string{{}, {first}, {second}, {first, second}} {
		other := c.copied()
		for _, args := range logged {
			other.works(args...)
		}
		sites = append(sites, other.site("public/site"))
	}
	c.each(func(n int, about string) {
		c.putShop(before)
		c.same(c.site("public/site"), sites[0], about+", before")
		all := c.atOnce(first, second, []string{"writeup", "--out", c.path("public/site")})
		c.done(all[0])
		c.done(all[1])
		// One that saw the logs change under it may ask to be run again.
		c.doneOr(all[2], generator.ErrMoved.Error())
		site := c.stock("public/site")
		state := slices.IndexFunc(sites, func(s stock) bool { return site.differs(s) == "" })
		if state < 0 {
			c.t.Fatalf("%s: the site is of no state that the logs were in; to that of both entries:\n%s", about, site.differs(sites[3]))
		}
		c.came[[]string{"none", "first", "second", "both"}[state]]++
		c.same(c.site("public/site"), sites[3], about+", after")
	})
}

// No entry is lost and no name is taken twice, though all have one title, and
// each two of them one photo.
func logTogether(c *crowd) {
	const writers = 4
	start := c.stock(".")
	before := c.stock("shop/machines/a")
	var commands [][]string
	for i := range writers {
		commands = append(commands, c.evening("same", fmt.Sprintf("Words of writer %d.", i), 30+i/2))
	}
	c.each(func(n int, about string) {
		c.putShop(start)
		for _, e := range c.atOnce(commands...) {
			c.done(e)
		}
		now := c.stock("shop/machines/a")
		for i := range writers {
			in := 0
			for name, data := range now {
				if strings.HasPrefix(name, "2026-03-03-evening-same") && strings.HasSuffix(data, fmt.Sprintf("Words of writer %d.\n", i)) {
					in++
				}
			}
			if in != 1 {
				c.t.Fatalf("%s: writer %d's entry is there %d times", about, i, in)
			}
		}
		if len(now) != len(before)+writers+2 {
			c.t.Fatalf("%s: other files than four entries and two photos:\n%s", about, now.differs(before))
		}
		for name, data := range before {
			if now[name] != data {
				c.t.Fatalf("%s: %s was changed", about, name)
			}
		}
		c.works("inspect")
		c.noLeftovers(about)
	})
}

// What is sealed is the log before the entry or after it.
func handoverWhileLog(c *crowd) {
	args := []string{"handover", "a", "--yes", "--tell-buyer", "--json", "--buyer-copy"}
	c.each(func(n int, about string) {
		evening := c.evening("on", "Words.", 20+n)
		code := map[string]string{}
		for _, logged := range []string{"before", "after"} {
			other := c.copied()
			if logged == "after" {
				other.works(evening...)
			}
			code[codeIn(other.works(append(args, other.path(theBuyer))...))] = logged
		}
		all := c.atOnce(evening, append(args, c.path(theBuyer)))
		c.done(all[0])
		c.done(all[1])
		state := code[codeIn(all[1].said)]
		if state == "" || len(code) != 2 {
			c.t.Fatalf("%s: what was sealed is no state that the log was in:\n%s", about, all[1].said)
		}
		c.came[state]++
		c.vouched(about)
		c.noLeftovers(about)
	})
}

// The chain has no fork: each report follows the one before.
func handoverTogether(c *crowd) {
	var commands [][]string
	for _, key := range []string{"a", "a", "b"} {
		commands = append(commands, []string{"handover", key, "--yes", "--tell-buyer", "--json", "--buyer-copy", c.path(theBuyer)})
	}
	c.each(func(n int, about string) {
		c.say(fmt.Sprint("number ", n))
		before := len(c.chain().Links)
		codes := map[string]bool{}
		for _, e := range c.atOnce(commands...) {
			if c.doneOr(e, handover.ErrAtWork.Error()) {
				codes[codeIn(e.said)] = true
			}
		}
		if len(codes) == 0 {
			c.t.Fatal("none of them sealed a report")
		}
		links := c.vouched(about).Links
		for i, l := range links {
			if l.Seal.Number != i+1 || i > 0 && *l.Seal.Previous != links[i-1].Seal.Digest {
				c.t.Fatalf("%s: report %d does not follow the one before", about, l.Seal.Number)
			}
			delete(codes, l.Seal.Code)
		}
		if len(codes) > 0 || len(links) > before+2 {
			c.t.Fatalf("%s: codes that are in no sealed file: %v; %d reports became %d", about, codes, before, len(links))
		}
		c.noLeftovers(about)
	})
}

// Of several keys made at once one is the shop's, and its private part is there.
func makeKeyTwice(c *crowd) {
	before := c.stock(".")
	args := []string{"handover", "--make-key", "--json"}
	c.each(func(n int, about string) {
		c.putShop(before)
		made := 0
		for _, e := range c.atOnce(args, args, args) {
			if e.code == usage && strings.Contains(e.cried, "has a key already") {
				c.came["told of the other's key"]++
			} else if c.doneOr(e, handover.ErrAtWork.Error()) {
				made++
			}
		}
		if keys, err := filepath.Glob(c.path("settings/asleft/keys/*")); err != nil || made != 1 || len(keys) != n+1 {
			c.t.Fatalf("%s: %d runs say that they made the shop's key, and there are %d private parts (%v)", about, made, len(keys), err)
		}
		if said := c.works("handover", "b", "--yes", "--tell-buyer", "--json", "--buyer-copy", c.path(theBuyer)); !strings.Contains(said, `"signed": true`) {
			c.t.Fatalf("%s: not signed: %s", about, said)
		}
		c.noLeftovers(about)
	})
}
