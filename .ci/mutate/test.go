package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"time"
)

// A fate is what became of a mutant.
type fate int

const (
	killed   fate = iota // a test fails, or none ends
	survived             // all tests pass
)

// patience is how long a run of the tests may take.
const patience = 60 * time.Second

// fates tests those of a package's mutants, some at a time; the answers are in
// their order. The tests have to pass before any change: else nothing is learned
// from their failing.
func (p goPackage) fates(all, chosen []mutant, jobs int, scratch string) ([]fate, error) {
	bin := filepath.Join(scratch, "woven.test")
	if out, err := p.build(all, bin, scratch); err != nil {
		return nil, fmt.Errorf("%s does not build with its mutants: %w\n%s", p.dir, err, out)
	}
	if out, err := p.test(bin, 0); err != nil {
		return nil, fmt.Errorf("the tests of %s fail without any change: %w\n%s", p.dir, err, out)
	}
	fates := make([]fate, len(chosen))
	next := make(chan int)
	var wait sync.WaitGroup
	for range jobs {
		wait.Go(func() {
			for i := range next {
				if _, err := p.test(bin, chosen[i].number); err == nil {
					fates[i] = survived
				}
			}
		})
	}
	for i := range chosen {
		next <- i
	}
	close(next)
	wait.Wait()
	return fates, nil
}

// build builds the tests with all mutants woven into the package. The tree itself
// is never changed.
func (p goPackage) build(all []mutant, bin, scratch string) ([]byte, error) {
	replace := map[string]string{}
	put := func(file string, data []byte) error {
		at := filepath.Join(scratch, filepath.Base(file))
		replace[filepath.Join(p.dir, filepath.Base(file))] = at
		return os.WriteFile(at, data, 0o644)
	}
	for _, file := range p.files {
		src, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		if err := put(file, weave(src, slices.DeleteFunc(slices.Clone(all), func(m mutant) bool { return m.file != file }))); err != nil {
			return nil, err
		}
	}
	if err := put("mutanthelpers.go", helperFile(p.name)); err != nil {
		return nil, err
	}
	data, err := json.Marshal(map[string]map[string]string{"Replace": replace})
	if err != nil {
		return nil, err
	}
	overlay := filepath.Join(scratch, "overlay.json")
	if err := os.WriteFile(overlay, data, 0o644); err != nil {
		return nil, err
	}
	cmd := exec.Command("go", "test", "-c", "-overlay", overlay, "-o", bin, ".")
	cmd.Dir = p.dir
	return cmd.CombinedOutput()
}

// test runs the tests with the mutant of that number: those that notice most first,
// where they are known, and all of them if they pass.
func (p goPackage) test(bin string, mutant int) ([]byte, error) {
	if p.first != "" {
		if out, err := p.run(bin, mutant, "-test.run", p.first); err != nil {
			return out, err
		}
	}
	return p.run(bin, mutant)
}

// run runs tests with a mutant. Some seconds after their own patience has ended, so
// does this one's.
func (p goPackage) run(bin string, mutant int, more ...string) ([]byte, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience+10*time.Second)
	defer cancel()
	args := append([]string{"-test.failfast", "-test.timeout", patience.String()}, more...)
	if p.rapid { // what it draws for one mutant it would else keep, and try first on all after it
		args = append(args, "-rapid.nofailfile")
	}
	cmd := exec.CommandContext(ctx, bin, args...)
	cmd.Dir = p.dir
	cmd.Env = append(os.Environ(), asked+"="+strconv.Itoa(mutant))
	return cmd.CombinedOutput()
}
