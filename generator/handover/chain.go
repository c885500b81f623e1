package handover

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

// folderName is where the sealed files are in the shop folder.
const folderName = "handovers"

// A Link is one sealed file as it was found. Seal is nil where it cannot be
// read at all.
type Link struct {
	File string // in the shop folder
	Seal *Seal
	data []byte
	flaw flaw
}

// A Break is a place where the chain does not hold.
type Break struct {
	File string
	Says string // whole sentence
}

// A Chain is the shop's sealed files by number, and what is wrong with them.
type Chain struct {
	Links  []*Link
	Breaks []Break

	// Lost tells that sealed files, or the note of the last one, are gone.
	Lost bool

	words      *catalog.Catalog
	today      logbook.Date
	head       *head
	drafted    bool // the head is what a killed run left of it
	flawedNote bool // the note cannot be relied on
	key        string
}

// ReadChain reads all the sealed files of a shop and checks that they hold
// together. Today is the day after which a date is in the future; empty: any date
// goes. An error is of the disk; what is wrong with the files is in Breaks.
func ReadChain(shop afero.Fs, words *catalog.Catalog, today logbook.Date) (*Chain, error) {
	c := &Chain{words: words, today: today}
	notes := map[string]*head{}
	infos, err := afero.ReadDir(shop, folderName)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading %s: %w", folderName, err)
	}
	for _, info := range infos {
		name := path.Join(folderName, info.Name())
		if info.IsDir() || !strings.HasSuffix(name, ".json") || name == headFile {
			continue
		}
		data, err := rooted.ReadFile(shop, name, largestSealed)
		if errors.Is(err, rooted.ErrTooLarge) {
			c.Links = append(c.Links, &Link{File: name, flaw: tooLarge})
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", name, err)
		}
		if h := headOf(data); h != nil {
			notes[name] = h
			continue
		}
		c.Links = append(c.Links, linked(name, data))
	}
	c.dropCopies()
	if err := c.readHead(shop); err != nil {
		return nil, err
	}
	if c.key, err = publicKey(shop); errors.Is(err, ErrKeyForm) {
		c.broken(KeyFile, "chain.key-file")
	} else if err != nil {
		return nil, err
	}
	c.check()
	c.otherNotes(notes)
	return c, nil
}

// dropCopies sorts the links, and leaves out those that are another one to the byte,
// as a sync program leaves them under a name of its own. The one with the right name
// stays.
func (c *Chain) dropCopies() {
	slices.SortStableFunc(c.Links, func(a, b *Link) int {
		return cmp.Or(cmp.Compare(a.number(), b.number()), whole(a, b), strings.Compare(a.File, b.File))
	})
	known := map[string]bool{}
	c.Links = slices.DeleteFunc(c.Links, func(l *Link) bool {
		if l.Seal == nil {
			return false
		}
		copied := known[string(l.data)]
		known[string(l.data)] = true
		return copied
	})
}

// whole puts a link without a flaw before one that has one.
func whole(a, b *Link) int {
	switch {
	case a.flaw == noFlaw && b.flaw != noFlaw:
		return -1
	case a.flaw != noFlaw && b.flaw == noFlaw:
		return 1
	}
	return 0
}

// number is a link's place; one that cannot be read goes last.
func (l *Link) number() int {
	if l.Seal == nil {
		return int(^uint(0) >> 1)
	}
	return l.Seal.Number
}

func (c *Chain) broken(file, key string, pairs ...any) {
	switch key {
	case "chain.gone-one", "chain.gone", "chain.last-gone", "chain.no-head":
		c.Lost = true
	}
	c.Breaks = append(c.Breaks, Break{file, c.words.Say(key, append([]any{"file", file}, pairs...)...)})
}

// linked opens a sealed file.
func linked(name string, data []byte) *Link {
	l := &Link{File: name}
	l.Seal, l.flaw, _ = opened(data) // why it cannot be read helps nobody
	if l.Seal != nil {
		l.data = data
	}
	if l.flaw == noFlaw && path.Base(name) != l.Seal.name()+".json" {
		l.flaw = badName
	}
	return l
}

// check walks the chain. What a flaw of one file explains is not reported of
// its neighbor as well.
func (c *Chain) check() {
	var before, dated *Link // dated is the last one before with a day that has come
	for _, l := range c.Links {
		if l.flaw != noFlaw {
			c.broken(l.File, string(l.flaw))
		}
		if l.Seal == nil {
			continue
		}
		if !c.joined(before, l) {
			c.dates(dated, l)
		}
		c.keyed(before, l)
		before = l
		if !c.inFuture(l) {
			dated = l
		}
	}
	c.headed(before)
}

// joined checks that a link follows the one before, and tells whether it broke there.
func (c *Chain) joined(before, l *Link) bool {
	number, previous := 1, (*string)(nil)
	if before != nil {
		number, previous = before.Seal.Number+1, &before.Seal.Digest
	}
	switch {
	case l.Seal.Number < number:
		c.broken(l.File, "chain.twice", "number", l.Seal.Number)
	case l.Seal.Number == number+1:
		c.broken(l.File, "chain.gone-one", "number", number)
	case l.Seal.Number > number:
		c.broken(l.File, "chain.gone", "from", number, "to", l.Seal.Number-1)
	case !same(previous, l.Seal.Previous):
		c.broken(l.File, "chain.not-joined", "number", l.Seal.Number)
	default:
		return false
	}
	return true
}

// dates checks that the day of a link has come, and is no earlier than that of those
// before it.
func (c *Chain) dates(dated, l *Link) {
	switch {
	case c.inFuture(l):
		c.broken(l.File, "chain.future", "date", date(c.words, l.Seal.Facts.Sealed), "today", date(c.words, string(c.today)))
	case dated != nil && l.Seal.Facts.Sealed < dated.Seal.Facts.Sealed:
		c.broken(l.File, "chain.dates", "before", dated.File)
	}
}

// inFuture tells whether the day of a link has come nowhere on earth yet: it can be
// one day later than here at most.
func (c *Chain) inFuture(l *Link) bool {
	_, err := time.Parse(time.DateOnly, l.Seal.Facts.Sealed)
	return err == nil && c.today != "" && l.Seal.Facts.Sealed > c.today.Time().AddDate(0, 0, 1).Format(time.DateOnly)
}

func same(a, b *string) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }

// keyed checks that a link is signed with the shop's key, if those before are.
func (c *Chain) keyed(before, l *Link) {
	switch {
	case l.Seal.Key != nil && *l.Seal.Key != c.key:
		c.broken(l.File, "chain.other-key")
	case l.Seal.Key == nil && before != nil && before.Seal.Key != nil:
		c.broken(l.File, "chain.unsigned")
	}
}

// last is the last link that can be read, nil where there is none.
func (c *Chain) last() *Link {
	for _, l := range slices.Backward(c.Links) {
		if l.Seal != nil {
			return l
		}
	}
	return nil
}
