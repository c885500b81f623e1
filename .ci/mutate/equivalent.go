package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
)

// readEquivalent reads the file of the mutants that change nothing that anybody
// could see: one a line, its columns with tabs between.
func readEquivalent(file string) (map[name]bool, error) {
	text, err := os.ReadFile(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	same, err := equivalent(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s:%w", file, err)
	}
	return same, nil
}

func equivalent(text string) (map[name]bool, error) {
	same := map[name]bool{}
	for n, line := range strings.Split(text, "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		c := strings.Split(line, "\t")
		if len(c) != 4 || strings.TrimSpace(c[3]) == "" {
			return nil, fmt.Errorf("%d: %q; expected four columns with tabs between: file, source line, change, reason", n+1, line)
		}
		same[name{c[0], c[1], c[2]}] = true
	}
	return same, nil
}

// doubtful are the names, of files that were read, that stand for no mutant or
// for more than one.
func doubtful(same map[name]bool, all []mutant) []string {
	read, count := map[string]bool{}, map[name]int{}
	for _, m := range all {
		read[m.file] = true
		count[m.name]++
	}
	var says []string
	for n := range same {
		if read[n.file] && count[n] != 1 {
			says = append(says, fmt.Sprintf("%s: %s: stands for %d mutants, and has to stand for one", n.file, n.change, count[n]))
		}
	}
	slices.Sort(says)
	return says
}
