package output_test

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
	"time"

	"asleft/generator/rooted"
)

// childEnv names the folder in which this test's own binary, started again,
// writes sites until it is killed.
const childEnv = "ASLEFT_OUTPUT_TEST_CHILD"

// manyMachines is a site that takes a while to write.
const manyMachines = 40

func TestMain(m *testing.M) {
	if dir := os.Getenv(childEnv); dir != "" {
		fmt.Fprintln(os.Stderr, writeSitesForEver(dir))
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func writeSitesForEver(dir string) error {
	disk, err := rooted.Open(dir)
	if err != nil {
		return err
	}
	for n := 0; ; n++ {
		if _, err := set(disk, linked([]string{"new", "old"}[n%2], manyMachines)); err != nil {
			return errors.Join(err, disk.Close())
		}
		fmt.Println("made", n)
	}
}

// TestKilledProcess ends a real process at random moments: whoever begins at the
// front page finds whole pages, and the next run, killed in its turn every other
// time, finishes.
func TestKilledProcess(t *testing.T) {
	v := versionsOf(t, manyMachines)
	dir := t.TempDir()
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	mustSet(t, disk, linked("old", manyMachines))
	addForeign(t, disk)
	mixed, one := 0, timeOfOne(t, dir)
	for n := range kills(20) {
		runAndKill(t, dir, time.Duration(rand.Int64N(int64(one))))
		if fresh := v.check(t, disk); fresh > 0 && exists(disk, ".site-asleft-new") {
			mixed++
		}
		if n%2 == 0 {
			v.finish(t, disk, manyMachines)
		}
	}
	v.finish(t, disk, manyMachines)
	t.Logf("%d kills came in the middle", mixed)
	if mixed == 0 {
		t.Error("no kill came in the middle of a run; nothing was tried")
	}
}

// timeOfOne is how long the process takes for a site on this computer, busy as it is.
func timeOfOne(t *testing.T, dir string) time.Duration {
	t.Helper()
	made, kill := writing(t, dir)
	made()
	begun := time.Now()
	made()
	one := time.Since(begun)
	kill()
	return one
}

// runAndKill lets the process write one site, and kills it some time later.
func runAndKill(t *testing.T, dir string, after time.Duration) {
	t.Helper()
	made, kill := writing(t, dir)
	made()
	time.Sleep(after)
	kill()
}

// writing starts the process; made waits for its next site.
func writing(t *testing.T, dir string) (made, kill func()) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childEnv+"="+dir)
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	lines := bufio.NewReader(out)
	made = func() {
		t.Helper()
		if line, err := lines.ReadString('\n'); err != nil {
			t.Errorf("the process wrote no site: %q, %v", line, err)
		}
	}
	return made, func() {
		t.Helper()
		must(t, child.Process.Kill())
		_ = child.Wait() // it was killed; that it says so is no error
	}
}
