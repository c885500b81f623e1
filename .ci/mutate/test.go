package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"time"
)

// A fate is what became of a mutant.
type fate int

const (
	unbuilt  fate = iota // the package does not build with it: it is none
	killed               // a test fails, or none ends
	survived             // all tests pass
)

// patience is how long a run may take, and some more for the run to notice that
// itself.
const patience = 60 * time.Second

// passes tells what is wrong where the tests of the package fail as it is: then
// nothing can be learned from their failing.
func (p goPackage) passes(scratch string) error {
	bin := filepath.Join(scratch, "whole.test")
	if out, err := p.build(bin); err != nil {
		return fmt.Errorf("%s does not build: %w\n%s", p.dir, err, out)
	}
	if out, err := p.test(bin); err != nil {
		return fmt.Errorf("the tests of %s fail without any change: %w\n%s", p.dir, err, out)
	}
	return nil
}

// fates tests mutants, some at a time; the answers are in their order.
func (p goPackage) fates(all []mutant, jobs int, scratch string) []fate {
	fates := make([]fate, len(all))
	next := make(chan int)
	var wait sync.WaitGroup
	for job := range jobs {
		wait.Go(func() {
			dir := filepath.Join(scratch, strconv.Itoa(job))
			for i := range next {
				var err error
				if fates[i], err = p.fate(all[i], dir); err != nil {
					fmt.Fprintln(os.Stderr, "mutate:", err)
					os.Exit(1)
				}
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wait.Wait()
	return fates
}

// fate builds the tests with a mutant in its file's place and runs them. The
// tree itself is never changed.
func (p goPackage) fate(m mutant, dir string) (fate, error) {
	src, err := os.ReadFile(m.file)
	if err != nil {
		return 0, err
	}
	file, err := filepath.Abs(m.file)
	if err != nil {
		return 0, err
	}
	changed, overlay, bin := filepath.Join(dir, "mutant.go"), filepath.Join(dir, "overlay.json"), filepath.Join(dir, "mutant.test")
	replace, err := json.Marshal(map[string]map[string]string{"Replace": {file: changed}})
	if err != nil {
		return 0, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return 0, err
	}
	if err := os.WriteFile(changed, m.apply(src), 0o644); err != nil {
		return 0, err
	}
	if err := os.WriteFile(overlay, replace, 0o644); err != nil {
		return 0, err
	}
	if _, err := p.build(bin, "-overlay", overlay); err != nil {
		return unbuilt, nil
	}
	if _, err := p.test(bin); err != nil {
		return killed, nil
	}
	return survived, nil
}

func (p goPackage) build(bin string, more ...string) ([]byte, error) {
	cmd := exec.Command("go", append(append([]string{"test", "-c", "-o", bin}, more...), ".")...)
	cmd.Dir = p.dir
	return cmd.CombinedOutput()
}

func (p goPackage) test(bin string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience+10*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, bin, "-test.failfast", "-test.timeout", patience.String())
	cmd.Dir = p.dir
	return cmd.CombinedOutput()
}
