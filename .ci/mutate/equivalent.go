package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

// A claim is that a mutant changes nothing that anybody could see, with the
// reason. It names the mutant by its line's text, which stays when lines move.
type claim struct {
	file, source, change, reason string
}

func (m mutant) claimed(c claim) bool {
	return m.file == c.file && m.source == c.source && m.change == c.change
}

// readClaims reads a file of claims, one a line, its columns with tabs between.
func readClaims(name string) ([]claim, error) {
	text, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	claims, err := parseClaims(string(text))
	if err != nil {
		return nil, fmt.Errorf("%s:%w", name, err)
	}
	return claims, nil
}

func parseClaims(text string) ([]claim, error) {
	var claims []claim
	for n, line := range strings.Split(text, "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		c := strings.Split(line, "\t")
		if len(c) != 4 || strings.TrimSpace(c[3]) == "" {
			return nil, fmt.Errorf("%d: %q; expected four columns with tabs between: file, source line, change, reason", n+1, line)
		}
		claims = append(claims, claim{c[0], c[1], c[2], c[3]})
	}
	return claims, nil
}

// claimOf is the claim about a mutant, nil where there is none.
func claimOf(claims []claim, m mutant) *claim {
	for i := range claims {
		if m.claimed(claims[i]) {
			return &claims[i]
		}
	}
	return nil
}

// doubtful are the claims about files that were read which name no mutant, or
// more than one.
func doubtful(claims []claim, all []mutant) []string {
	read := map[string]bool{}
	for _, m := range all {
		read[m.file] = true
	}
	var says []string
	for _, c := range claims {
		n := 0
		for _, m := range all {
			if m.claimed(c) {
				n++
			}
		}
		if read[c.file] && n != 1 {
			says = append(says, fmt.Sprintf("%s: %s: the claim is true of %d mutants, not of one", c.file, c.change, n))
		}
	}
	return says
}
