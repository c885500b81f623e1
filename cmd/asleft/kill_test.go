package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"net/http"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"asleft/generator/testenv"
)

// kills is how often each command that writes is ended at a random moment, if
// ASLEFT_KILLS does not say it.
func kills() int {
	if n, err := strconv.Atoi(os.Getenv("ASLEFT_KILLS")); err == nil {
		return n
	}
	return rounds(10, 30)
}

// TestKilled ends the program at random moments of its work with a signal that
// it cannot see. What was there is whole, what is new is there whole or not at
// all, and the next run needs no help and leaves nothing behind.
func TestKilled(t *testing.T) {
	t.Parallel()
	program := built(t)
	for name, try := range map[string]func(*testing.T, *yard, *rand.Rand){
		"writeup": killWriteup, "log": killLog, "handover": killHandover, "desk": killDesk,
		"open": killOpen, "theme copy": killTheme, "make-key": killMakeKey,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			try(t, newYard(t, program, t.TempDir()), drawing(t))
		})
	}
}

// enough wants that many of the runs were killed at work, and that not all of
// them had come as far.
func enough(t *testing.T, running, early, late int) {
	t.Helper()
	t.Logf("%d of %d runs were killed at work; %d had put nothing in place yet, %d had", running, kills(), early, late)
	if running < kills()/3 || early == 0 {
		t.Errorf("too few runs were killed at work, so too little was tried")
	}
}

// enoughOfAQuickOne is enough for a command that is done in a few milliseconds: where
// the computer is busy, most runs are over before the kill comes.
func enoughOfAQuickOne(t *testing.T, running, early, late int) {
	t.Helper()
	t.Logf("%d of %d runs were killed at work; %d had put nothing in place yet, %d had", running, kills(), early, late)
	if kills() >= 100 && running < kills()/10 {
		t.Errorf("too few runs were killed at work, so too little was tried")
	}
}

// A visitor finds a site without a broken page, and the next run finishes it.
func killWriteup(t *testing.T, y *yard, draw *rand.Rand) {
	args := []string{"writeup", "--out", y.path("public/site")}
	whole := map[string]stock{} // the yard with each of the two sites
	versions := []string{"one", "two"}
	for _, version := range versions {
		y.say(version)
		y.works(args...)
		whole[version] = y.stock(".")
	}
	turn := 0
	next := func() {
		turn++
		y.say(versions[turn%2])
	}
	pace := y.pace("public/.site-asleft-new", next, args...)
	running, early, part, late := 0, 0, 0, 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		again := draw.IntN(3) == 0 // the run that mends is killed in its turn
		if !again || i == 0 {
			next()
		}
		was, now := whole[versions[(turn+1)%2]], whole[versions[turn%2]]
		ran, _ := y.killed(pace, when, args...)
		if ran {
			running++
		}
		switch fresh, stale := y.visit(was.below("public/site"), now.below("public/site"), about); {
		case fresh == 0:
			early++
		case stale == 0:
			late++
		default:
			part++
		}
		y.same(y.stock(theShop), now.below(theShop), about+": the logs were changed")
		if again {
			continue
		}
		y.works(args...)
		y.same(y.stock("."), now, about+", and run again")
	}
	y.works(args...)
	y.same(y.stock("."), whole[versions[turn%2]], "at the end")
	t.Logf("%d kills left a part of the new site", part)
	enough(t, running, early, part+late)
}

// visit wants who begins at the front page to find each page whole, old or new, and
// all that it refers to. It returns how many files are only the new site's, and how
// many only the old one's.
func (y *yard) visit(was, now stock, about string) (fresh, stale int) {
	y.t.Helper()
	site := y.stock("public/site")
	found, broken := testenv.Crawl(func(name string) ([]byte, error) {
		data, there := site[name]
		if !there {
			return nil, fs.ErrNotExist
		}
		return []byte(data), nil
	}, "https://shop.example/")
	if len(broken) > 0 || len(found) < 12 {
		y.t.Fatalf("%s: a visitor finds %d files and does not find %q", about, len(found), broken)
	}
	for name, data := range found {
		old, isOld := was[name]
		next, isNew := now[name]
		isOld, isNew = isOld && data == old, isNew && data == next
		switch {
		case !isOld && !isNew:
			y.t.Fatalf("%s: %s is neither the old nor the new one", about, name)
		case !isOld:
			fresh++
		case !isNew:
			stale++
		}
	}
	return fresh, stale
}

// The entry is there whole or not at all, with its photos; so are photos; the
// photos that they were copied from are as they were.
func killLog(t *testing.T, y *yard, draw *rand.Rand) {
	for i, name := range []string{"IMG_0001.jpg", "IMG_0002.jpg"} {
		y.write("camera/"+name, picture(t, 10+i))
		at := time.Date(2026, 3, 2, 18, 30, i, 0, time.UTC)
		if err := os.Chtimes(y.path("camera/"+name), at, at); err != nil {
			t.Fatal(err)
		}
	}
	// Windows takes command lines of 32,767 letters at most.
	args := []string{"log", "a", "--date", "2026-03-02", "--title", "An evening", "--hours", "1", "--text", strings.Repeat("Many words of an evening.\n", 1000), "--photos", y.path(theCamera)}
	before := y.stock(".")
	pace := y.pace("shop/.asleft-writing", func() { y.putShop(before) }, args...)
	once := y.stock(".") // the entry, with its photos
	y.works(args...)
	twice := y.stock(".") // and a second one, that has none, for they are in the log already
	const first, second = "shop/machines/a/2026-03-02-an-evening.md", "shop/machines/a/2026-03-02-an-evening-2.md"
	if len(once[first]) < 20_000 || len(once) != len(before)+3 || len(twice) != len(once)+1 || len(twice[second]) < 20_000 {
		t.Fatalf("the runs made other files than this test thinks:\n%s\n%s", once.differs(before), twice.differs(once))
	}
	running, early, late := 0, 0, 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		y.putShop(before)
		ran, _ := y.killed(pace, when, args...)
		if ran {
			running++
		}
		now := y.stock(".")
		y.whole(now, before, once, about)
		want := once
		if _, there := now[first]; !there {
			early++
		} else {
			late++
			want = twice
			y.same(now.seen(), once.seen(), about+": an entry without its photos")
		}
		y.works(args...)
		y.same(y.stock("."), want, about+", and run again")
	}
	enough(t, running, early, late)
}

// whole wants what was there before as it was, and what is new as a whole run makes it.
func (y *yard) whole(now, before, once stock, about string) {
	y.t.Helper()
	for name, data := range before {
		if now[name] != data {
			y.t.Fatalf("%s: %s was changed", about, name)
		}
	}
	for name, data := range now.seen() {
		if want, ok := once[name]; !ok || data != want {
			y.t.Fatalf("%s: %s is not whole, or not the run's: %d bytes", about, name, len(data))
		}
	}
}

// putShop puts the shop's folder back to what it was in a yard; the times of
// the camera's photos stay, for the copies are named by them.
func (y *yard) putShop(back stock) {
	y.t.Helper()
	for name := range y.stock(theShop) {
		if _, ok := back["shop/"+name]; !ok {
			if err := os.RemoveAll(y.path("shop/" + name)); err != nil {
				y.t.Fatal(err)
			}
		}
	}
}

// The sealed file is there whole or not at all, the chain holds, each of the
// buyer's files vouches, and no code is lost or given twice.
func killHandover(t *testing.T, y *yard, draw *rand.Rand) {
	args := []string{"handover", "a", "--yes", "--tell-buyer", "--json", "--buyer-copy", y.path(theBuyer)}
	turn := 0
	next := func() {
		turn++
		y.say("number " + time.Duration(turn).String())
	}
	pace := y.pace("shop/handovers/.*.part", next, args...)
	running, early, late := 0, 0, 0
	given := map[string]bool{} // codes that were said to somebody
	sealed := y.chain().Links
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		if i == kills()/2 {
			y.works("handover", "--make-key")
		}
		next()
		logs := y.stock("shop/machines")
		ran, said := y.killed(pace, when, args...)
		if ran {
			running++
		}
		if code := codeIn(said); code != "" {
			given[code] = true
		}
		links := y.vouched(about).Links
		switch len(links) - len(sealed) {
		case 0:
			early++
		case 1:
			late++
		default:
			t.Fatalf("%s: %d sealed reports became %d", about, len(sealed), len(links))
		}
		if draw.IntN(3) == 0 {
			sealed = links
			continue // the mechanic writes on, and the next run is killed as well
		}
		code := codeIn(y.works(args...))
		if given[code] != (len(links) > len(sealed)) && given[code] {
			t.Fatalf("%s: the code %s was given before", about, code)
		}
		given[code] = true
		sealed = y.vouched(about).Links
		last := sealed[len(sealed)-1]
		for _, end := range []string{".html", ".pdf"} {
			if _, err := os.Stat(y.path("buyer/a-" + last.Seal.Facts.Sealed + "-" + last.Seal.FactsDigest[:16] + end)); err != nil {
				t.Fatalf("%s, and run again: %v", about, err)
			}
		}
		y.same(y.stock("shop/machines"), logs, about+": the logs were changed")
		y.noLeftovers(about)
	}
	y.works(args...)
	y.noLeftovers("at the end")
	codes := map[string]bool{}
	for _, l := range y.vouched("at the end").Links {
		if codes[l.Seal.Code] {
			t.Errorf("the code %s was given twice", l.Seal.Code)
		}
		codes[l.Seal.Code] = true
	}
	for code := range given {
		if !codes[code] {
			t.Errorf("the code %s was given, and no sealed file has it", code)
		}
	}
	for code := range codes { // as somebody would ask who has the paper
		if said := y.works("vouch", "--json", code); !strings.Contains(said, `"unaltered"`) {
			t.Errorf("the code %s: %s", code, said)
		}
		break
	}
	enough(t, running, early, late)
}

// codeIn is the code that handover said; empty where it said none.
func codeIn(said string) string {
	var made handoverJSON
	_ = json.Unmarshal([]byte(said), &made) // a killed run says nothing
	return made.Code
}

// A new machine's own file is there whole or not at all, with or without the entry of
// its arrival, and the same command again makes what is missing of the two.
func killOpen(t *testing.T, y *yard, draw *rand.Rand) {
	args := []string{"open", "d", "--name", "Machine d", "--kind", "walk-behind tiller", "--arrived", "2026-03-01", "--meter", "412.6 h"}
	before := y.stock(".")
	pace := y.pace("shop/.asleft-writing", func() { y.putShop(before) }, args...)
	once := y.stock(".")
	const machine, arrival = "shop/machines/d/machine.md", "shop/machines/d/2026-03-01-arrived.md"
	if once[machine] == "" || !strings.Contains(once[arrival], "412.6 h") {
		t.Fatalf("the run made other files than this test thinks:\n%s", once.differs(before))
	}
	running, early, half, late := 0, 0, 0, 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		y.putShop(before)
		ran, _ := y.killed(pace, when, args...)
		if ran {
			running++
		}
		now := y.stock(".")
		y.whole(now, before, once, about)
		_, opened := now[machine]
		_, arrived := now[arrival]
		switch {
		case arrived && opened:
			late++
			if e := y.ends(args...); e.code != usage {
				t.Fatalf("%s: the machine was opened twice: %s%s", about, e.said, e.cried)
			}
			continue
		case arrived:
			t.Fatalf("%s: an entry without its machine", about)
		case opened:
			half++
		default:
			early++
		}
		y.works(args...)
		y.same(y.stock("."), once, about+", and run again")
	}
	t.Logf("%d kills left the machine without its arrival", half)
	enough(t, running, early, half+late)
	// What another has written is never gone on from.
	y.putShop(before)
	y.write(machine, "---\nname: Mine\narrived: 2026-03-01\n---\n")
	if e := y.ends(args...); e.code != usage || y.stock(".")[machine] != "---\nname: Mine\narrived: 2026-03-01\n---\n" {
		t.Errorf("exit %d: %s%s", e.code, e.said, e.cried)
	}
}

// Each file of a copied theme is there whole or not at all, and the same command again
// copies the rest; what is no copy of a killed run is never touched.
func killTheme(t *testing.T, y *yard, draw *rand.Rand) {
	args := []string{"theme", "copy", "jobcard", y.path("shop/themes/own")}
	before := y.stock(".")
	pace := y.pace("shop/themes/own", func() { y.putShop(before) }, args...)
	once := y.stock(".")
	running, early, part, late := 0, 0, 0, 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		y.putShop(before)
		ran, _ := y.killed(pace, when, args...)
		if ran {
			running++
		}
		now := y.stock(".")
		for name, data := range now {
			if want, ok := once[name]; (!ok || data != want) && !strings.HasSuffix(name, partEnd) {
				t.Fatalf("%s: %s is not whole, or not the run's: %d bytes", about, name, len(data))
			}
		}
		switch {
		case len(now) <= len(before)+2: // the two folders
			early++
		case len(now) < len(once):
			part++
		default:
			late++
		}
		if now.differs(once) == "" {
			if e := y.ends(args...); e.code != usage {
				t.Fatalf("%s: a theme was copied over: %s%s", about, e.said, e.cried)
			}
		} else {
			y.works(args...)
		}
		y.same(y.stock("."), once, about+", and run again")
	}
	t.Logf("%d kills left a part of the theme", part)
	enoughOfAQuickOne(t, running, early, part+late)
	for name, text := range map[string]string{"style.css": "mine", "mine.html": "mine", "style.css.part/x": "mine"} {
		y.putShop(before)
		y.write("shop/themes/own/"+name, text)
		was := y.stock(".")
		if e := y.ends(args...); e.code != usage {
			t.Errorf("beside %s: exit %d: %s%s", name, e.code, e.said, e.cried)
		}
		y.same(y.stock("."), was, "beside "+name)
	}
}

// The shop has a key that seals, or has none and the same command makes one; a half of
// a key is nowhere.
func killMakeKey(t *testing.T, y *yard, draw *rand.Rand) {
	args := []string{"handover", "--make-key"}
	before := y.stock(".")
	back := func() {
		y.putShop(before)
		if err := os.RemoveAll(y.path(settings)); err != nil {
			t.Fatal(err)
		}
	}
	pace := y.pace("settings/asleft/*", back, args...)
	running, early, late := 0, 0, 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		back()
		ran, _ := y.killed(pace, when, args...)
		if ran {
			running++
		}
		if public, there := y.stock(theShop)["handovers/shop-key.pub"]; there {
			late++
			if !strings.HasSuffix(public, "-----END PUBLIC KEY-----\n") {
				t.Fatalf("%s: half a key: %q", about, public)
			}
			if e := y.ends(args...); e.code != usage {
				t.Fatalf("%s: a second key: %s%s", about, e.said, e.cried)
			}
		} else {
			early++
			y.works(args...)
		}
		// A lock that nobody holds is no lock, and the next key of any shop takes it.
		if err := os.Remove(y.path("settings/asleft/keys/.sealing")); err != nil && !errors.Is(err, fs.ErrNotExist) {
			t.Fatal(err)
		}
		y.noLeftovers(about)
		if i%10 == 0 {
			y.works("handover", "a", "--yes", "--tell-buyer", "--buyer-copy", y.path(theBuyer))
			links := y.vouched(about).Links
			if len(links) != 1 || links[0].Seal.Signature == nil {
				t.Fatalf("%s: the key seals nothing: %d", about, len(links))
			}
			for name := range y.stock(theBuyer) {
				if err := os.Remove(y.path("buyer/" + name)); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	enoughOfAQuickOne(t, running, early, late)
}

// The desk of which nobody keeps anything writes nothing: not into the published folder,
// nor anywhere else but where it says that it is open, which shop was open last, and the
// key by which it knows whom it let in.
func killDesk(t *testing.T, y *yard, draw *rand.Rand) {
	y.works("writeup") // the published site is the shop's own
	stocked := func() stock {
		all := y.stock(".")
		maps.DeleteFunc(all, func(name string, _ string) bool {
			return name == "shop/.asleft/" || strings.HasPrefix(name, "shop/.asleft/desk.") ||
				slices.Contains([]string{"settings/asleft/", "settings/asleft/last-shop", "settings/asleft/desk-key"}, name)
		})
		return all
	}
	before := stocked()
	args := []string{"desk", "--port", "0", "--no-browser"}
	showing := func(version string) time.Duration {
		began := time.Now()
		c := y.command(args...)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		line, err := bufio.NewReader(out).ReadString('\n')
		address := regexp.MustCompile(`http://[0-9.:]+/[^ ]+`).FindString(line)
		if err != nil || address == "" {
			t.Fatalf("it said %q (%v)", line, err)
		}
		browser := &http.Client{Jar: newJar(t)}
		home := letIn(t, browser, address)
		for !strings.Contains(pageOf(t, browser, home+"/machines/a/"), "Words of version "+version+".") {
			if time.Since(began) > time.Minute {
				t.Fatalf("version %s is not shown", version)
			}
			time.Sleep(5 * time.Millisecond)
		}
		took := time.Since(began)
		if runtime.GOOS == "windows" {
			_ = c.Process.Kill() // a test cannot press Ctrl-C there
		} else if err := c.Process.Signal(os.Interrupt); err != nil {
			t.Fatal(err)
		}
		if err := c.Wait(); err != nil && runtime.GOOS != "windows" {
			t.Fatalf("the desk ended with %v", err)
		}
		return took
	}
	pace := pace{whole: showing("one") + 10*saving} // it builds anew at each save
	running := 0
	for i, when := range pace.moments(draw, kills()) {
		about := fmt.Sprintf("kill %d, %v", i, when)
		last := "one"
		ran, _ := y.killedOnce(func() {
			for end, n := time.Now().Add(time.Duration(when.part*float64(pace.whole))), 0; time.Until(end) > 0; n++ {
				time.Sleep(min(saving, time.Until(end)))
				last = []string{"two", "three"}[n%2]
				y.say(last)
			}
		}, args...)
		if !ran {
			t.Fatalf("%s: the desk had ended by itself", about)
		}
		running++
		y.say("one")
		y.same(stocked(), before, about+": the desk wrote something")
		y.say(last)
		showing(last)
		y.say("one")
		y.same(stocked(), before, about+", and run again: the desk wrote something")
	}
	enough(t, running, running, 0)
}

// saving is how long the mechanic's editor waits between two saves.
const saving = 30 * time.Millisecond
