package output_test

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"testing"
	"time"

	"asleft/generator/output"
	"asleft/generator/rooted"
)

// childEnv names the folder in which this test's own binary, started again,
// makes sites until it is killed.
const childEnv = "ASLEFT_PRESS_TEST_CHILD"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childEnv); dir != "" {
		fmt.Fprintln(os.Stderr, makeSitesForEver(dir))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func makeSitesForEver(dir string) error {
	output.SpareFrom(1) // for as long as the process lives
	disk, err := rooted.Open(dir)
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		if _, err := set(disk, manyPages(n%2 == 0)); err != nil {
			return errors.Join(err, disk.Close())
		}
		fmt.Println("made", n)
	}
}

// manyPages is one of two sites; they share every other page.
func manyPages(even bool) site {
	s := site{}
	for i := range 80 {
		p := fmt.Sprintf("machines/m%d/%d.html", i%8, i)
		if s[p] = p; i%2 == 0 && even {
			s[p] += " on even days"
		}
	}
	if even {
		s["even.html"] = "only on even days"
	}
	return s
}

// TestKilledProcess ends a real process at random moments. Its lock dies with
// it, and its site is whole.
func TestKilledProcess(t *testing.T) {
	dir := t.TempDir()
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	mustSet(t, disk, manyPages(false))
	addForeign(t, disk)
	want := states{old: contents(t, disk, "site")}
	mustSet(t, disk, manyPages(true))
	want.new = contents(t, disk, "site")
	left := 0
	for range 25 {
		runAndKill(t, dir, time.Duration(rand.IntN(40_000))*time.Microsecond)
		want.checkKilled(t, disk, stand{gap: runtime.GOOS != "linux"})
		if exists(disk, ".site-asleft-new") || exists(disk, ".site-asleft-old") || exists(disk, ".site-asleft-lock") {
			left++
		}
		run, err := output.Begin(disk, "site")
		must(t, err)
		must(t, run.Abandon())
		want.checkKilled(t, disk, stand{})
		checkBeside(t, disk, "site")
	}
	if left == 0 {
		t.Error("no kill came in the middle of a run; nothing was tried")
	}
}

// runAndKill lets the process make one site, and kills it some time later.
func runAndKill(t *testing.T, dir string, after time.Duration) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childEnv+"="+dir)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	if line, err := bufio.NewReader(out).ReadString('\n'); err != nil {
		t.Errorf("the process made no site: %q, %v", line, err)
	}
	time.Sleep(after)
	must(t, child.Process.Kill())
	_ = child.Wait() // it was killed; that it says so is no error
}
