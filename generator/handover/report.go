package handover

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/page"
)

// A Report is a machine's report of this moment, not sealed yet.
type Report struct {
	Facts Facts
	// Breaks are where the shop's chain does not hold. A report can be sealed
	// all the same; the break stays to be seen.
	Breaks []Break
	// Missed are sealed files of which only a buyer's copy is here; see Chain.Missed.
	Missed []Break
	// Program is the version of the program, for the foot of the buyer's files. It is
	// none of the facts: they are the same whatever program prints them.
	Program string
	// Chain are the reports that were sealed before.
	Chain *Chain

	shop     afero.Fs
	words    *catalog.Catalog
	digest   string
	pictures map[string][]byte
}

var (
	// ErrClock says that the last report was sealed on the day after today. One that
	// is from a later day than that is a break, and blocks nothing.
	ErrClock = errors.New("the last report was sealed on a later day than today")
	// ErrLarge says that the facts fill more than a sealed file may.
	ErrLarge = errors.New("the report is too large to be sealed")
	// ErrUnreadable says that a sealed file cannot be read, so none can follow it.
	ErrUnreadable = errors.New("a sealed report cannot be read")
	// ErrAtWork says that another run is sealing a report, or making a key.
	ErrAtWork = errors.New("another handover is at work in this shop")
	// ErrNoCopies says that the report is sealed, and the buyer's files are not
	// all there. To seal it again the same day makes them.
	ErrNoCopies = errors.New("the report is sealed, but not all of its files could be written")
	// ErrOtherCopies says that this version of the program prints the report
	// otherwise than the one that sealed it.
	ErrOtherCopies = errors.New("the report is sealed already, and this program would print it otherwise")
)

// Prepare gathers the report of the n-th machine of a site. The site needs no
// theme and no photos. A *BadPhoto is a problem of the logs.
func Prepare(folder afero.Fs, site *page.Site, n int, today logbook.Date) (*Report, error) {
	judged, words := site.ReportIn(today.Time().Year(), n), site.Words
	r := &Report{shop: folder, words: words, Facts: gathered(site.Shop, judged, words, today)}
	chain, err := ReadChain(folder, words, today)
	if err != nil {
		return nil, err
	}
	r.Chain = chain
	listed, copied, err := chain.Missed(folder)
	if err != nil {
		return nil, err
	}
	r.Breaks, r.Missed = slices.Concat(chain.Breaks, listed), copied
	r.Facts.Gone = chain.Gone(judged.Machine, &r.Facts, words)
	if r.pictures, err = r.Facts.photographed(folder, judged, words); err != nil {
		return nil, err
	}
	facts, err := r.Facts.canonical()
	if err != nil {
		return nil, err
	}
	r.digest = digestOf(facts)
	return r, nil
}

// Today are the facts that a report of the n-th machine of a site would hold now,
// but for its photos and for what is gone.
func Today(site *page.Site, n int, today logbook.Date) *Facts {
	f := gathered(site.Shop, site.Report(n), site.Words, today)
	return &f
}

// Made is what sealing made.
type Made struct {
	Seal *Seal
	File string // the sealed file, in the shop folder
	HTML string // names in the buyer's folder
	PDF  string
	// Again is true where the same report was sealed today already: then only
	// the buyer's files were made again.
	Again bool
}

// Seal writes the sealed file into the shop folder and the report's HTML and
// PDF into the buyer's folder. The private part of the shop's key, if it has
// one, is looked for in the folder of settings.
//
// All files are written aside and put on the disk first. Then the sealed file
// takes its place: until that step there is no report, from then on there is
// one. The note of the last report and the buyer's files follow; if the run ends
// before they do, running it again the same day makes them, from the same bytes.
//
// No file is ever replaced but the note, by the one that follows on it; what has the
// name of a new file and is another is an *InTheWay.
func (r *Report) Seal(buyer, settings afero.Fs, paper sheet.Paper) (made *Made, err error) {
	release, err := begun(r.shop, folderName, 0o755)
	if err != nil {
		return nil, err
	}
	defer func() { _ = release() }() // the system lets go of it in any case
	clearDrafts(buyer, ".")
	chain, err := ReadChain(r.shop, r.words, logbook.Date(r.Facts.Sealed))
	if err != nil {
		return nil, err
	}
	if err := chain.settleNote(r.shop); err != nil {
		return nil, err
	}
	copies, files, err := r.print(paper)
	if err != nil {
		return nil, err
	}
	if l := chain.sealed(r.digest); l != nil {
		return r.again(buyer, l, copies, files)
	}
	seal, err := r.seal(chain, copies)
	if err != nil {
		return nil, err
	}
	key, err := shopKey(r.shop, settings)
	if err != nil {
		return nil, err
	}
	all, err := r.closed(seal, key, files)
	if err != nil {
		return nil, err
	}
	return r.write(chain, buyer, seal, all)
}

// closed is all that is to be written of a seal.
func (r *Report) closed(seal *Seal, key *ShopKey, f files) (sealedFiles, error) {
	data, err := seal.close(key)
	if err != nil {
		return sealedFiles{}, err
	}
	if len(data) > largestSealed {
		return sealedFiles{}, fmt.Errorf("%s: %w", r.Facts.Record.Machine.Key, ErrLarge)
	}
	return sealedFiles{data, noteOf(seal, key), f}, nil
}

// sealed is the whole link with those facts, nil where there is none.
func (c *Chain) sealed(factsDigest string) *Link {
	for _, l := range c.Links {
		if l.flaw == noFlaw && l.Seal.FactsDigest == factsDigest {
			return l
		}
	}
	return nil
}

// seal is the next link of the chain.
func (r *Report) seal(chain *Chain, copies Copies) (*Seal, error) {
	s := &Seal{Format: sealFormat, Number: 1, Code: codeOf(sealFormat, r.digest), FactsDigest: r.digest, Copies: copies, Facts: r.Facts}
	if i := slices.IndexFunc(chain.Links, func(l *Link) bool { return l.Seal == nil }); i >= 0 {
		return nil, fmt.Errorf("%s: %w", chain.Links[i].File, ErrUnreadable)
	}
	if last := chain.last(); last != nil {
		if last.Seal.Facts.Sealed > s.Facts.Sealed && !chain.inFuture(last) {
			return nil, fmt.Errorf("%s: %w", last.File, ErrClock)
		}
		s.Number, s.Previous = last.Seal.Number+1, &last.Seal.Digest
	}
	// The note of a last report that is gone: its number is not given twice.
	if h := chain.head; h != nil && h.Number >= s.Number {
		s.Number, s.Previous = h.Number+1, &h.Digest
	}
	return s, nil
}

// files are the report as the buyer gets it.
type files struct {
	html, pdf []byte
}

// seen is the report as it is printed: what nobody sees in its texts is written out,
// for two reports must not look the same and be two. The facts inside stay as they are.
func (r *Report) seen(facts []byte) (*Report, error) {
	text := logbook.ShowHidden(string(facts)) // between the texts of JSON nothing is hidden
	shown := *r
	shown.Facts = Facts{}
	if err := json.Unmarshal([]byte(text), &shown.Facts); err != nil {
		return nil, fmt.Errorf("the facts of %s: %w", r.Facts.Record.Machine.Key, err)
	}
	return &shown, nil
}

// print makes the report in every form, and keeps the asked ones.
func (r *Report) print(paper sheet.Paper) (Copies, files, error) {
	facts, err := r.Facts.canonical()
	if err != nil {
		return Copies{}, files{}, err
	}
	if r, err = r.seen(facts); err != nil {
		return Copies{}, files{}, err
	}
	html, err := r.html(facts)
	if err != nil {
		return Copies{}, files{}, err
	}
	f, copies := files{html: html}, Copies{HTML: digestOf(html)}
	for p, digest := range map[sheet.Paper]*string{sheet.Letter: &copies.Letter, sheet.A4: &copies.A4} {
		pdf, err := r.pdf(p, facts)
		if err != nil {
			return Copies{}, files{}, err
		}
		*digest = digestOf(pdf)
		if p == paper {
			f.pdf = pdf
		}
	}
	return copies, f, nil
}

// again makes the buyer's files of a report that is sealed.
func (r *Report) again(buyer afero.Fs, l *Link, copies Copies, f files) (*Made, error) {
	if l.Seal.Copies != copies {
		return nil, fmt.Errorf("%s: %w", l.File, ErrOtherCopies)
	}
	made := r.made(l.Seal)
	made.Again = true
	for _, w := range made.copies(f) {
		if there, err := written(buyer, w.name, w.data); err != nil {
			return nil, err
		} else if there {
			continue
		}
		if err := putNew(buyer, w.name, w.data, 0o644); err != nil {
			return nil, err
		}
	}
	return made, nil
}

func (r *Report) made(s *Seal) *Made {
	return &Made{Seal: s, File: folderName + "/" + s.name() + ".json", HTML: s.name() + ".html", PDF: s.name() + ".pdf"}
}

// A buyersFile is one of the files for the buyer.
type buyersFile struct {
	name string
	data []byte
}

func (m *Made) copies(f files) []buyersFile { return []buyersFile{{m.HTML, f.html}, {m.PDF, f.pdf}} }

// sealedFiles are all that sealing writes.
type sealedFiles struct {
	seal, note []byte
	files
}

// write puts all files in their places: the sealed file first, the note next, for the
// chain does not hold without it.
func (r *Report) write(chain *Chain, buyer afero.Fs, s *Seal, w sealedFiles) (*Made, error) {
	made := r.made(s)
	var drafts []*draft
	defer func() {
		for _, d := range drafts {
			d.drop() // those in their places have no draft any more
		}
	}()
	add := func(fs afero.Fs, name string, data []byte) (*draft, error) {
		d, err := drafted(fs, name, data, 0o644)
		drafts = append(drafts, d)
		return d, err
	}
	seal, err := add(r.shop, made.File, w.seal)
	if err != nil {
		return nil, err
	}
	var copies []*draft
	for _, c := range made.copies(w.files) {
		if there, err := written(buyer, c.name, c.data); err != nil {
			return nil, err
		} else if there {
			continue
		}
		d, err := add(buyer, c.name, c.data)
		if err != nil {
			return nil, err
		}
		copies = append(copies, d)
	}
	note, err := drafted(r.shop, headFile, w.note, 0o644)
	if err != nil {
		return nil, err
	}
	// Once the sealed file has its place, the report is sealed. A note that cannot take
	// its own stays as a draft, for it is what shows that this report is the last.
	if err := seal.placeNew(); err != nil && seal.placed {
		return nil, fmt.Errorf("%w: %w", ErrNoCopies, err)
	} else if err != nil {
		note.drop()
		return nil, err
	}
	if err := errors.Join(chain.setAside(r.shop), note.place()); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNoCopies, err)
	}
	for _, d := range copies {
		if err := d.placeNew(); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrNoCopies, err)
		}
	}
	return made, nil
}
