package entry

import (
	"fmt"

	"github.com/spf13/afero"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Try reads the shop as if these files (by their names in it) were there too. It
// returns the shop's facts and the problems that stand in those files. Nothing
// is written. Photos that are to be copied in later are told of as missing.
func Try(folder afero.Fs, files map[string][]byte, today logbook.Date, words *catalog.Catalog) (*logbook.Shop, []logbook.Problem, error) {
	over := afero.NewMemMapFs()
	for name, data := range files {
		if err := afero.WriteFile(over, name, data, 0o644); err != nil {
			return nil, nil, fmt.Errorf("cannot try %s: %w", name, err)
		}
	}
	shop, problems, err := logbook.Read(afero.NewCopyOnWriteFs(afero.NewReadOnlyFs(folder), over), logbook.Options{Today: today, Words: words})
	var found []logbook.Problem
	if shop != nil {
		tests := wrongTests(shop, files, words)
		shop.Pinpoint(tests)
		problems = append(problems, tests...)
	}
	for _, p := range problems {
		if _, ours := files[p.File]; ours {
			found = append(found, p)
		}
	}
	return shop, found, err
}

// wrongTests are the problems of the bench tests that stand in those files.
func wrongTests(shop *logbook.Shop, files map[string][]byte, words *catalog.Catalog) []logbook.Problem {
	var wrong []logbook.Problem
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			if _, ours := files[e.File]; ours {
				_, found := benchtest.JudgeEntry(shop, m, e, words.In(shop.Language))
				wrong = append(wrong, found...)
			}
		}
	}
	return wrong
}
