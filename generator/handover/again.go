package handover

import (
	"fmt"

	"github.com/spf13/afero"

	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
)

// Again makes the buyer's files of a sealed report once more, at any later day: from the
// facts that are sealed, and the photos that the machine's log still has. They are what was
// made then to the byte, or there is ErrOtherCopies: a photo is gone or another, or this
// program prints the report otherwise than the one that sealed it.
func (c *Chain) Again(shop afero.Fs, l *Link, m *logbook.Machine, program string, paper sheet.Paper) (html, pdf []byte, err error) {
	r := &Report{Facts: l.Seal.Facts, Program: program, Chain: c, shop: shop, words: c.words, digest: l.Seal.FactsDigest}
	var whole bool
	if r.pictures, whole = r.Facts.picturesIn(shop, m); !whole {
		return nil, nil, fmt.Errorf("%s: %w", l.File, ErrOtherCopies)
	}
	copies, f, err := r.print(paper)
	if err != nil {
		return nil, nil, err
	}
	if copies != l.Seal.Copies {
		return nil, nil, fmt.Errorf("%s: %w", l.File, ErrOtherCopies)
	}
	return f.html, f.pdf, nil
}

// picturesIn are the photos of the facts, as far as a machine's log has them still; whole
// tells whether that is all of them. One that cannot be used is none of them.
func (f *Facts) picturesIn(shop afero.Fs, m *logbook.Machine) (all map[string][]byte, whole bool) {
	wanted := map[string]bool{}
	if f.Cover != nil {
		wanted[f.Cover.SHA256] = true
	}
	for _, p := range f.Photos {
		wanted[p.SHA256] = true
	}
	all = map[string][]byte{}
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			if len(all) == len(wanted) {
				return all, true
			}
			if p.Path == "" {
				continue
			}
			if made, err := pictured(shop, p.Path); err == nil && wanted[digestOf(made.JPEG)] {
				all[digestOf(made.JPEG)] = made.JPEG
			}
		}
	}
	return all, len(all) == len(wanted)
}

// Files are the names of the buyer's files of a sealed report.
func (l *Link) Files() (html, pdf string) { return l.Seal.name() + ".html", l.Seal.name() + ".pdf" }

// Made tells whether a file is one of those that were made for the buyer.
func (l *Link) Made(data []byte) bool {
	c, digest := l.Seal.Copies, digestOf(data)
	return digest == c.HTML || digest == c.Letter || digest == c.A4
}
