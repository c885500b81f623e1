package logbook

import (
	"crypto/sha256"
	"fmt"
	"path"
	"strings"
)

// digestOf is the SHA-256 of a file, in lower-case hexadecimal digits.
func digestOf(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// DigestOf is one digest (SHA-256) of all texts of the shop's folder that a report
// of a machine draws on: machine.md, the entries, the shop's own sheets that make
// its list, and what shop.md says of the shop. It is one for all of them together,
// so that nothing private in any of them can be guessed at by itself. A file goes by
// its name in its folder, for a machine's folder may be called otherwise later.
// Photos are digested elsewhere.
func (s *Shop) DigestOf(m *Machine) string {
	var all strings.Builder
	add := func(file, digest string) { fmt.Fprintf(&all, "%q %s\n", path.Base(file), digest) }
	for _, sheet := range m.Sheets {
		if !sheet.BuiltIn {
			add(sheet.File, sheet.digest)
		}
	}
	add(m.File, m.digest)
	for _, e := range m.Entries {
		add(e.File, e.digest)
	}
	for _, e := range m.Entries {
		for _, p := range e.Parts {
			if p.From != "" {
				fmt.Fprintf(&all, "%q %q\n", p.From, s.NameOf(p.From))
			}
		}
	}
	fmt.Fprintf(&all, "%q\n", []any{s.Name, s.Town, s.Contact, s.Web, s.Language, s.Currency, s.Altitude.String(), s.Terms, s.Systems, s.PartOf})
	fmt.Fprintf(&all, "%v\n", s.Show)
	return digestOf([]byte(all.String()))
}
