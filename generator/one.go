package generator

import (
	"fmt"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/page"
)

// ReadMachine reads and judges one machine of a shop, fast enough to follow what
// somebody types. Names are those of all machines, by key, for what came from them.
// Its problems are those of the machine's own files and of the shop's; what only
// shows when all machines are held together (a person at two jobs at once) and the
// sealed reports are left to Read.
func ReadMachine(folder afero.Fs, key string, names map[string]string, o Options) (*Reading, error) {
	o.one, o.names = key, names
	return Read(folder, o)
}

// Report is the page of the condition report of the machine of that key, without the
// rest of the site; nil where it was not read.
func (r *Reading) Report(key string, theme *page.Theme) ([]byte, error) {
	for n, m := range r.Shop.Machines {
		if m.Key != key {
			continue
		}
		glossary, err := catalog.Words()
		if err != nil {
			return nil, fmt.Errorf("reading the glossary: %w", err)
		}
		site := r.Site()
		site.Glossary, site.Theme = glossary, theme
		site.Outline()
		return site.Condition(n)
	}
	return nil, nil
}
