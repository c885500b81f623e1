package handover

import (
	"crypto/ed25519"
	"crypto/x509"
	"encoding/hex"
	"encoding/pem"
	"fmt"
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// A Now is what the logs say today of a machine that a report was sealed of.
type Now struct {
	// Same tells that no byte of the log has changed that the report draws on, and
	// that it says the same.
	Same    bool
	Changes []Change
}

// Changed tells whether the logs say of the machine's condition today what the
// report did not, or no longer say what it did. A sale alone is no change.
func (n Now) Changed() bool {
	return slices.ContainsFunc(n.Changes, func(ch Change) bool { return ch.Kind != SinceStage })
}

// Sale tells that the stage or the price has changed, and nothing else that the report
// said.
func (n Now) Sale() bool { return len(n.Changes) > 0 && !n.Changed() }

// Held holds a sealed report against the facts of today.
func (l *Link) Held(today *Facts, words *catalog.Catalog) Now {
	sealed := &l.Seal.Facts
	n := Now{Changes: Since(sealed, today, words)}
	n.Same = len(n.Changes) == 0 && sealed.Log != "" && sealed.Log == today.Log
	return n
}

// Unchanged says that the logs say today what the report said, as exactly as the seal can
// tell; empty where they do not.
func (l *Link) Unchanged(now Now, words *catalog.Catalog) string {
	switch {
	case len(now.Changes) > 0:
		return ""
	case now.Same:
		return words.Say("vouch.since-none")
	case l.First():
		return words.Say("vouch.since-first")
	}
	return words.Say("vouch.since-same")
}

// First tells whether the report was sealed under schema 1, which held no digest
// of the log.
func (l *Link) First() bool { return l.Seal.Facts.Log == "" }

// Public lists the whole sealed reports of a shop, the oldest first, as far as
// the site may tell of them. The site is that of today; a machine that is not
// in it any more counts as changed.
func (c *Chain) Public(site *page.Site, today logbook.Date) []page.Sealed {
	var all []page.Sealed
	facts := map[int]*Facts{} // of the machines that were read, as they are today
	for _, l := range c.Links {
		if l.flaw != noFlaw {
			continue
		}
		s := page.Sealed{
			Machine: l.Machine(), Now: site.KeyNow(l.Machine()), Name: l.Seal.Facts.Record.Machine.Name, Date: logbook.Date(l.Seal.Facts.Sealed),
			Format: l.Seal.Format, Report: l.Seal.name(), Number: l.Seal.Number, Code: l.Seal.Code, FactsDigest: l.Seal.FactsDigest,
			HTML: l.Seal.Copies.HTML, Letter: l.Seal.Copies.Letter, A4: l.Seal.Copies.A4, File: digestOf(l.data),
			Previous: text(l.Seal.Previous), Digest: l.Seal.Digest, Key: text(l.Seal.Key), Signature: text(l.Seal.Signature),
			Since: page.Since{Changed: true},
		}
		told := site.Sealings(s.Now)
		if n := find(site, s.Now); n >= 0 {
			if facts[n] == nil {
				facts[n] = Today(site, n, today)
			}
			s.Since = l.since(facts[n], site.Words)
			if told != nil {
				told[s.Code] = s.Since
			}
		} else if since, known := told[s.Code]; known {
			s.Since = since
		}
		all = append(all, s)
	}
	return all
}

// since is what the site tells of a report and the log of today.
func (l *Link) since(today *Facts, words *catalog.Catalog) page.Since {
	now := l.Held(today, words)
	s := page.Since{Changed: now.Changed(), Same: now.Same, Sale: now.Sale()}
	for _, ch := range OnlyGone(now.Changes) {
		s.Gone = append(s.Gone, ch.Text)
	}
	return s
}

// PublicKey is the public part of the shop's key as a PEM file of its own, nil
// where the shop has none: whatever else is in the shop's file stays there.
func (c *Chain) PublicKey() ([]byte, error) {
	if c.key == "" {
		return nil, nil
	}
	raw, err := hex.DecodeString(c.key)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", KeyFile, err)
	}
	der, err := x509.MarshalPKIXPublicKey(ed25519.PublicKey(raw))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", KeyFile, err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: "PUBLIC KEY", Bytes: der}), nil
}

// Machine is the key of the machine that a link is about.
func (l *Link) Machine() string { return l.Seal.Facts.Record.Machine.Key }

func find(site *page.Site, key string) int {
	return slices.IndexFunc(site.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == key })
}
