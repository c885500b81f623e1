package main

import (
	"context"
	"encoding/json"
	"errors"
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

// patience is how long a run of the tests may take.
const patience = 60 * time.Second

// fates tests mutants, some at a time; the answers are in their order. The tests
// have to pass before any change: else nothing is learned from their failing.
func (p goPackage) fates(all []mutant, jobs int, scratch string) ([]fate, error) {
	bin := filepath.Join(scratch, "whole.test")
	if out, err := p.build(bin); err != nil {
		return nil, fmt.Errorf("%s does not build: %w\n%s", p.dir, err, out)
	}
	if out, err := p.test(bin); err != nil {
		return nil, fmt.Errorf("the tests of %s fail without any change: %w\n%s", p.dir, err, out)
	}
	fates, errs := make([]fate, len(all)), make([]error, len(all))
	next := make(chan int)
	var wait sync.WaitGroup
	for job := range jobs {
		wait.Go(func() {
			for i := range next {
				fates[i], errs[i] = p.fate(all[i], filepath.Join(scratch, strconv.Itoa(job)))
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wait.Wait()
	return fates, errors.Join(errs...)
}

// fate builds the tests with a mutant in its file's place and runs them. The
// tree itself is never changed.
func (p goPackage) fate(m mutant, scratch string) (fate, error) {
	changed, overlay, bin := scratch+".go", scratch+".json", scratch+".test"
	src, err := os.ReadFile(m.file)
	if err != nil {
		return 0, err
	}
	replace, err := json.Marshal(map[string]map[string]string{"Replace": {filepath.Join(p.dir, filepath.Base(m.file)): changed}})
	if err != nil {
		return 0, err
	}
	if err := errors.Join(os.WriteFile(changed, m.apply(src), 0o644), os.WriteFile(overlay, replace, 0o644)); err != nil {
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

// test runs the tests. Some seconds after their own patience has ended, so does
// this one's.
func (p goPackage) test(bin string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience+10*time.Second)
	defer cancel()
	cmd := exec.CommandContext(ctx, bin, "-test.failfast", "-test.timeout", patience.String())
	cmd.Dir = p.dir
	return cmd.CombinedOutput()
}
