package main

import (
	"bytes"
	"cmp"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"asleft/generator/handover"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// Tests that run the program as processes of its own. What is drawn at random
// comes from a seed; a test that fails prints it.
var seedFlag = flag.Uint64("seed", 0, "draw as the run did that printed this number; 0: draw anew")

// drawing is where a test draws from; it prints the seed where the test fails.
func drawing(t *testing.T) *rand.Rand {
	t.Helper()
	seed := *seedFlag
	for seed == 0 {
		seed = rand.Uint64()
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("to draw the same again: go test ./cmd/asleft -run '%s' -seed %d", t.Name(), seed)
		}
	})
	return rand.New(rand.NewPCG(seed, 0)) //nolint:gosec // moments, no secrets
}

// built is the program as a file of its own: this test's own binary, which is the
// program under that name (see TestMain), so that the race detector looks into the
// processes too where it is on; where ASLEFT_PROGRAM names one, that.
func built(t *testing.T) string {
	t.Helper()
	if program := os.Getenv("ASLEFT_PROGRAM"); program != "" {
		return program
	}
	program, err := exec.LookPath("asleft")
	if err != nil {
		t.Fatal(err)
	}
	return program
}

// plainShop makes a shop with these machines in it.
func plainShop(t *testing.T, dir string, keys ...string) {
	t.Helper()
	writeFile(t, dir, "shop.md", "---\nshop: Plain\ncurrency: USD\nweb: https://shop.example/\n---\nWords.\n")
	for _, key := range keys {
		writeFile(t, dir, "machines/"+key+"/machine.md", "---\nname: Machine "+key+"\narrived: 2026-01-01\n---\nWords.\n")
	}
}

func writeFile(t *testing.T, dir, name, text string) {
	t.Helper()
	file := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil { //nolint:gosec // an invented shop
		t.Fatal(err)
	}
}

// A yard is a folder with a shop in it and all other folders that the program
// may write to, so that whatever it leaves behind is found.
type yard struct {
	t            *testing.T
	program, top string
	as           *syscall.SysProcAttr // whose process it is; nil: the test's user's
}

// The folders of a yard. Of the public one only the folder site in it is ever
// a site; machines/a is the machine that most tests write to.
const (
	theShop   = "shop"
	thePublic = "public"
	theBuyer  = "buyer"
	theCamera = "camera"
	theTemp   = "temp"
	settings  = "settings"
)

// newYard makes a small shop of three machines, one with photos in its log.
func newYard(t *testing.T, program, top string) *yard {
	t.Helper()
	y := &yard{t: t, program: program, top: top}
	for _, dir := range []string{thePublic, theBuyer, theCamera, theTemp, settings} {
		if err := os.MkdirAll(y.path(dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	plainShop(t, y.path(theShop), "a", "b", "c")
	y.write("shop/machines/a/photos/one.jpg", picture(t, 1))
	y.write("shop/machines/a/photos/two.jpg", picture(t, 2))
	y.say("one")
	return y
}

// say has the mechanic write one of several versions of an entry. The photo
// that goes with "two" is another than the one that goes with the others.
func (y *yard) say(version string) {
	y.t.Helper()
	shows := "one.jpg"
	if version == "two" {
		shows = "two.jpg"
	}
	y.write("shop/machines/a/2026-03-02-said.md", "---\ndate: 2026-03-02\ntitle: Version "+version+"\nphotos: [{file: "+shows+", alt: a pinion}]\ndefects: [{key: pinion, defect: the pinion has lost teeth, system: drive, photo: "+shows+"}]\n---\nWords of version "+version+".\n")
}

// picture is a small photo; each number gives other pixels.
func picture(t *testing.T, number int) string {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, 48, 36))
	for i := range img.Pix {
		img.Pix[i] = byte(i * (2*number + 1))
	}
	img.Set(0, 0, color.White)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func (y *yard) path(name string) string { return filepath.Join(y.top, filepath.FromSlash(name)) }

func (y *yard) write(name, text string) {
	y.t.Helper()
	writeFile(y.t, y.top, name, text)
}

// A stock is all that is in a folder, hidden or not: a file by its path, with
// what it holds, and a folder by its path with a slash.
type stock map[string]string

// stock is what is in a folder of the yard; empty where there is none. What a
// writeup remembers beside a site is left out, for it is of times and numbers on
// the disk; what it writes that aside in is not.
func (y *yard) stock(name string) stock {
	y.t.Helper()
	top, all := y.path(name), stock{}
	err := filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
		if err != nil || p == top || strings.HasSuffix(p, "-asleft-cache") {
			return err
		}
		rel := filepath.ToSlash(strings.TrimPrefix(p, top+string(os.PathSeparator)))
		if d.IsDir() {
			all[rel+"/"] = ""
			return nil
		}
		data, err := os.ReadFile(p)
		all[rel] = string(data)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		y.t.Fatal(err)
	}
	return all
}

// below is the part of a stock that is in one of its folders.
func (s stock) below(dir string) stock {
	part := stock{}
	for name, data := range s {
		if in, ok := strings.CutPrefix(name, dir+"/"); ok && in != "" {
			part[in] = data
		}
	}
	return part
}

// seen is a stock without what is hidden in it.
func (s stock) seen() stock {
	part := maps.Clone(s)
	maps.DeleteFunc(part, func(name, _ string) bool { return strings.HasPrefix(name, ".") || strings.Contains(name, "/.") })
	return part
}

// differs tells how a stock is not the wanted one; empty where it is.
func (s stock) differs(want stock) string {
	var all []string
	for name := range s {
		if data, ok := want[name]; !ok {
			all = append(all, fmt.Sprintf("%s (%d bytes) is too many", name, len(s[name])))
		} else if data != s[name] {
			all = append(all, fmt.Sprintf("%s has other bytes (%d for %d)", name, len(s[name]), len(data)))
		}
	}
	for name := range want {
		if _, ok := s[name]; !ok {
			all = append(all, name+" is missing")
		}
	}
	slices.Sort(all)
	return strings.Join(all, "\n")
}

// same wants a stock to be the wanted one.
func (y *yard) same(got, want stock, about string) {
	y.t.Helper()
	if d := got.differs(want); d != "" {
		y.t.Fatalf("%s:\n%s", about, d)
	}
}

// command is the program with its shop, its settings and its temporary folder
// in the yard.
func (y *yard) command(args ...string) *exec.Cmd {
	c := exec.Command(y.program, append([]string{"--shop", y.path(theShop)}, args...)...)
	c.SysProcAttr = y.as
	c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+y.path(settings), "APPDATA="+y.path(settings), "HOME="+y.path(settings),
		"TMPDIR="+y.path(theTemp), "TEMP="+y.path(theTemp), "TMP="+y.path(theTemp))
	return c
}

// An ended is a process that is over.
type ended struct {
	code        int // -1: by a signal
	said, cried string
}

// ends runs the program to its end.
func (y *yard) ends(args ...string) ended {
	return y.ended(y.command(args...), nil)
}

// ended runs a process to its end or, where there is something to do meanwhile,
// until that is done.
func (y *yard) ended(c *exec.Cmd, meanwhile func()) ended {
	var said, cried bytes.Buffer
	c.Stdout, c.Stderr = &said, &cried
	if err := c.Start(); err != nil {
		y.t.Error(err)
		return ended{code: -2}
	}
	if meanwhile != nil {
		meanwhile()
		_ = c.Process.Kill() // it may be done
	}
	_ = c.Wait() // the exit code says it
	e := ended{c.ProcessState.ExitCode(), said.String(), cried.String()}
	if meanwhile != nil && runtime.GOOS == "windows" && e.code == 1 {
		e.code = -1 // that is how a killed process looks there
	}
	return e
}

// works wants the program to do its work, and returns what it said.
func (y *yard) works(args ...string) string {
	y.t.Helper()
	e := y.ends(args...)
	if e.code != fine {
		y.t.Fatalf("asleft %s: exit %d\n%s%s", strings.Join(args, " "), e.code, e.said, e.cried)
	}
	return e.said
}

// killedOnce starts the program and ends it, with a signal that it cannot see,
// once something else is done; it tells whether it was still running, and what
// it had said.
func (y *yard) killedOnce(done func(), args ...string) (running bool, said string) {
	y.t.Helper()
	e := y.ended(y.command(args...), done)
	if e.code != fine && e.code != -1 {
		y.t.Fatalf("asleft %s: exit %d\n%s%s", strings.Join(args, " "), e.code, e.said, e.cried)
	}
	return e.code == -1, e.said
}

// chain reads what the shop has sealed.
func (y *yard) chain() *handover.Chain {
	y.t.Helper()
	folder, err := rooted.Open(y.path(theShop))
	if err != nil {
		y.t.Fatal(err)
	}
	defer folder.Close()
	c, err := handover.ReadChain(folder, words, "")
	if err != nil {
		y.t.Fatal(err)
	}
	return c
}

// vouched wants the chain to hold and to vouch for all that the buyer has.
func (y *yard) vouched(about string) *handover.Chain {
	y.t.Helper()
	c := y.chain()
	if len(c.Breaks) > 0 {
		y.t.Fatalf("%s: %v", about, c.Breaks)
	}
	for _, dir := range []string{"shop/handovers", theBuyer} {
		for name, data := range y.stock(dir).seen() {
			if name == "last-sealed.json" || name == "shop-key.pub" {
				continue
			}
			if v := c.VouchFile(name, []byte(data)); v.Answer != handover.Unaltered {
				y.t.Fatalf("%s: %s is %s", about, name, v.Answer)
			}
		}
	}
	return c
}

// noLeftovers wants nothing hidden anywhere but the lists of the sites, and
// nothing in the temporary folder.
func (y *yard) noLeftovers(about string) {
	y.t.Helper()
	for name := range y.stock(".") {
		if base := path.Base(name); strings.HasPrefix(base, ".") && !strings.HasSuffix(base, "-asleft-manifest") || strings.HasPrefix(name, theTemp+"/") && name != theTemp+"/" {
			y.t.Errorf("%s: %s was left", about, name)
		}
	}
}

// rounds is how often something is tried: few, or, where every check is
// compulsory, all.
func rounds(few, all int) int {
	if testenv.All() {
		return all
	}
	return few
}

// A pace is how long a command takes here: the whole of it, and from the first
// sign that it writes, which is a file that it makes (a pattern).
type pace struct {
	sign           string
	whole, writing time.Duration
}

// pace is the middle one of three runs, each after prepare.
func (y *yard) pace(sign string, prepare func(), args ...string) *pace {
	y.t.Helper()
	var all []pace
	for range 3 {
		prepare()
		began, signed := time.Now(), make(chan time.Time, 1)
		over := make(chan struct{})
		go func() {
			y.await(sign, over)
			signed <- time.Now()
		}()
		y.works(args...)
		close(over)
		all = append(all, pace{sign, time.Since(began), time.Since(<-signed)})
	}
	slices.SortFunc(all, func(a, b pace) int { return cmp.Compare(a.whole, b.whole) })
	return &all[1]
}

// learns fits the pace to a computer that has more or less to do by now: a run that was
// over before its kill came was quicker than that, one that was killed close to its end
// may be slower.
func (p *pace) learns(m moment, running bool) {
	length := &p.whole
	if m.writing {
		length = &p.writing
	}
	switch {
	case !running && m.part < 1:
		*length = scaled(*length, (1+m.part)/2)
	case running && m.part > 0.9:
		*length = scaled(*length, 1.1)
	}
}

func scaled(d time.Duration, by float64) time.Duration { return time.Duration(by * float64(d)) }

// await waits for a sign, or until it is over.
func (y *yard) await(sign string, over <-chan struct{}) {
	for {
		if found, _ := filepath.Glob(y.path(sign)); len(found) > 0 {
			return
		}
		select {
		case <-over:
			return
		case <-time.After(100 * time.Microsecond):
		}
	}
}

// A moment is a part of a run, from 0 to a little over 1: of the whole run, or
// of its writing, which is short, and where most can go wrong.
type moment struct {
	part    float64
	writing bool
}

func (m moment) String() string {
	if m.writing {
		return fmt.Sprintf("at %.3f of the writing", m.part)
	}
	return fmt.Sprintf("at %.3f of the run", m.part)
}

// moments are n moments, half of them of the writing, if any is known; they are
// spread evenly, each drawn within its stretch, in an order that is drawn too.
func (p *pace) moments(draw *rand.Rand, n int) []moment {
	all := make([]moment, n)
	for i, at := range draw.Perm(n) {
		all[i] = moment{(float64(at) + draw.Float64()) / float64(n) * 1.1, p.sign != "" && i%2 == 0}
	}
	return all
}

// killed ends the program at a moment of its run; see killedOnce.
func (y *yard) killed(p *pace, m moment, args ...string) (running bool, said string) {
	y.t.Helper()
	running, said = y.killedOnce(func() {
		whole := p.whole
		if m.writing {
			late := make(chan struct{})
			stop := time.AfterFunc(3*p.whole, func() { close(late) })
			defer stop.Stop()
			y.await(p.sign, late)
			whole = p.writing
		}
		time.Sleep(scaled(whole, m.part))
	}, args...)
	p.learns(m, running)
	return running, said
}
