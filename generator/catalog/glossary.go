package catalog

import (
	_ "embed"
	"fmt"
	"sync"

	"go.yaml.in/yaml/v4"
)

// A Term is a word of the trade in plain English.
type Term struct {
	Term  string
	Also  []string // other forms in which it appears
	Means string
}

//go:embed words-en.yaml
var wordsEnglish []byte

// Words is the glossary that goes with the English catalog, sorted by term.
var Words = sync.OnceValues(func() ([]Term, error) {
	var terms []Term
	if err := yaml.Load(wordsEnglish, &terms); err != nil {
		return nil, fmt.Errorf("the glossary: %w", err)
	}
	return terms, nil
})
