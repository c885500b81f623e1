package handover

import (
	"crypto/ed25519"
	"crypto/x509"
	"encoding/hex"
	"encoding/pem"
	"fmt"
	"slices"

	"asleft/generator/logbook"
	"asleft/generator/page"
)

// Public lists the whole sealed reports of a shop, the oldest first, as far as
// the site may tell of them. The site is that of today; a machine that is not
// in it any more counts as changed.
func (c *Chain) Public(site *page.Site, today logbook.Date) []page.Sealed {
	var all []page.Sealed
	for _, l := range c.Links {
		if l.flaw != noFlaw {
			continue
		}
		s := page.Sealed{
			Machine: l.Machine(), Name: l.Seal.Facts.Record.Machine.Name, Date: logbook.Date(l.Seal.Facts.Sealed),
			Number: l.Seal.Number, Code: l.Seal.Code, FactsDigest: l.Seal.FactsDigest,
			HTML: l.Seal.Copies.HTML, Letter: l.Seal.Copies.Letter, A4: l.Seal.Copies.A4, File: digestOf(l.data),
			Previous: text(l.Seal.Previous), Digest: l.Seal.Digest, Key: text(l.Seal.Key), Signature: text(l.Seal.Signature), Changed: true,
		}
		told := site.Sealings(s.Machine)
		if n := slices.IndexFunc(site.Shop.Machines, l.About); n >= 0 {
			now := Today(site, n, today)
			all := Since(&l.Seal.Facts, now, site.Words)
			s.Same = l.Seal.Facts.Log == now.Log
			s.Changed = !s.Same && slices.ContainsFunc(all, func(ch Change) bool { return ch.Kind != SinceStage })
			s.Lost = Lost(all)
			if told != nil {
				told[s.Code] = s.Changed
			}
		} else if changed, known := told[s.Code]; known {
			s.Changed = changed
		}
		all = append(all, s)
	}
	return all
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

// Orphans are problems: sealed reports whose machine is not in the shop any more,
// under its key or an earlier one.
func (c *Chain) Orphans(shop *logbook.Shop) []logbook.Problem {
	var all []logbook.Problem
	for _, l := range c.Links {
		if l.Seal == nil || slices.ContainsFunc(shop.Machines, l.About) {
			continue
		}
		pairs := []any{"key", l.Machine(), "date", date(c.words, l.Seal.Facts.Sealed)}
		all = append(all, logbook.Problem{
			Place: logbook.Place{File: l.File, Line: 1}, Says: c.words.Say("problem.seal-orphan", pairs...), Mend: c.words.Say("problem.seal-orphan.mend", pairs...),
		})
	}
	return all
}
