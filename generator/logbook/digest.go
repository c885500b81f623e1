package logbook

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// digestOf is the SHA-256 of a file, in lower-case hexadecimal digits.
func digestOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// DigestOf is one digest (SHA-256) of every byte of the shop's folder that a
// report of a machine draws on: shop.md, the shop's own sheets that make the
// machine's list, machine.md and the entries. Photos are digested elsewhere.
func (s *Shop) DigestOf(m *Machine) string {
	var all strings.Builder
	add := func(file, digest string) { all.WriteString(file + " " + digest + "\n") }
	add(s.File, s.digest)
	for _, sheet := range m.Sheets {
		if !sheet.BuiltIn {
			add(sheet.File, sheet.digest)
		}
	}
	add(m.File, m.digest)
	for _, e := range m.Entries {
		add(e.File, e.digest)
	}
	return digestOf([]byte(all.String()))
}
