// Mutate makes one small change at a time to a package and runs its tests: where
// none of them fails, no test holds the code to what was changed.
//
//	go run ./.ci/mutate [-jobs 2] [-only REGEX] [-first REGEX] [-sample N] [-least 95] ./generator/condition [...]
//
// It prints each change that survived, with its line, then how many there were
// and what share of them the tests noticed. Changes that nobody can see the effect of are named in
// equivalent.tsv, with the reason, and counted apart.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

func main() {
	jobs := flag.Int("jobs", 2, "how many mutants to test at a time")
	only := flag.String("only", "", "only mutants of which FILE:LINE FUNCTION: CHANGE matches this")
	sample := flag.Int("sample", 0, "only so many, spread evenly")
	first := flag.String("first", "", "run the tests of that name first, which notice most, and the others if they pass")
	least := flag.Float64("least", 0, "fail where the tests notice less than so many percent")
	file := flag.String("equivalent", ".ci/mutate/equivalent.tsv", "the file of mutants that change nothing")
	flag.Parse()
	if err := run(flag.Args(), max(*jobs, 1), *only, *first, *sample, *file, *least); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(patterns []string, jobs int, only, first string, sample int, file string, least float64) error {
	pick, err := regexp.Compile(only)
	if err != nil {
		return err
	}
	t := totals{}
	if t.same, err = readEquivalent(file); err != nil {
		return err
	}
	packages, err := packagesOf(patterns)
	if err != nil {
		return err
	}
	scratch, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(scratch)
	for _, p := range packages {
		p.first = first
		all, err := p.mutants()
		if err != nil {
			return err
		}
		t.doubts = append(t.doubts, doubtful(t.same, all)...)
		chosen := spread(picked(all, pick), sample)
		fates, err := p.fates(all, chosen, jobs, scratch)
		if err != nil {
			return err
		}
		for i, f := range fates {
			t.count(chosen[i], f)
		}
	}
	t.print(os.Stdout)
	return t.err(least)
}

// A goPackage is one package with its files that are no tests.
type goPackage struct {
	dir, name string
	rapid     bool     // its tests draw by chance
	first     string   // which of its tests are run first
	files     []string // from here
}

// packagesOf asks the go command which packages are meant, and which of their
// files are built here.
func packagesOf(patterns []string) ([]goPackage, error) {
	args := append([]string{"list", "-f", "{{.Dir}}\t{{.Name}}\t{{join .TestImports \" \"}}{{range .GoFiles}}\t{{.}}{{end}}", "--"}, patterns...)
	cmd := exec.Command("go", args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	here, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	var all []goPackage
	for line := range strings.Lines(string(out)) {
		fields := strings.Split(strings.TrimSpace(line), "\t")
		p := goPackage{dir: fields[0], name: fields[1], rapid: slices.Contains(strings.Fields(fields[2]), "pgregory.net/rapid")}
		for _, f := range fields[3:] {
			file, err := filepath.Rel(here, filepath.Join(p.dir, f))
			if err != nil {
				return nil, err
			}
			p.files = append(p.files, filepath.ToSlash(file))
		}
		all = append(all, p)
	}
	return all, nil
}

func (p goPackage) mutants() ([]mutant, error) {
	var all []mutant
	for _, file := range p.files {
		src, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		found, err := mutants(file, src)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	for i := range all {
		all[i].number = i + 1
	}
	return all, nil
}

func picked(all []mutant, pick *regexp.Regexp) []mutant {
	var some []mutant
	for _, m := range all {
		if pick.MatchString(fmt.Sprintf("%s:%d %s", m.file, m.line, m.change)) {
			some = append(some, m)
		}
	}
	return some
}

// spread is a number of mutants from all over the list; all of them for 0.
func spread(all []mutant, n int) []mutant {
	if n <= 0 || n >= len(all) {
		return all
	}
	var some []mutant
	for i := range n {
		some = append(some, all[i*len(all)/n])
	}
	return some
}
