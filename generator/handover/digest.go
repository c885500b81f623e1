package handover

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"path"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// A judged is a judged machine with the folder that it was read from.
type judged struct {
	fs     afero.Fs
	shop   *logbook.Shop
	report *condition.Report
	words  *catalog.Catalog
}

// logDigest is one digest of all texts that the report draws on: machine.md, the
// entries, the sheets of the shop's own, and what shop.md says of the shop. It is
// one for all of them together, so that nothing private in any of them can be
// guessed at by itself. A file is known by its name in the machine's folder, which
// may be called otherwise today.
func (f judged) logDigest() (string, error) {
	m := f.report.Machine
	names := []string{m.File}
	for _, e := range m.Entries {
		names = append(names, e.File)
	}
	slices.Sort(names)
	for _, s := range m.Sheets {
		if !s.BuiltIn {
			names = append(names, s.File)
		}
	}
	h := sha256.New()
	for _, name := range names {
		data, err := afero.ReadFile(f.fs, name)
		if err != nil {
			return "", fmt.Errorf("reading %s: %w", name, err)
		}
		fmt.Fprintf(h, "%q %x\n", path.Base(name), sha256.Sum256(data))
	}
	said, err := json.Marshal(f.shopSays())
	if err != nil {
		return "", fmt.Errorf("what shop.md says: %w", err)
	}
	h.Write(said)
	return hex.EncodeToString(h.Sum(nil)), nil
}

// shopSays is what the report takes from shop.md, and the names of the machines
// that parts came from.
func (f judged) shopSays() any {
	s := f.shop
	donors := map[string]string{}
	for _, e := range f.report.Machine.Entries {
		for _, p := range e.Parts {
			if p.From != "" {
				donors[p.From] = s.NameOf(p.From)
			}
		}
	}
	return []any{s.Name, s.Town, s.Contact, s.Web, s.Language, s.Currency, s.Altitude.String(), s.Show, s.Terms, s.Systems, s.PartOf, donors}
}
