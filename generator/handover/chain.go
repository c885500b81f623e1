package handover

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/catalog"
	"asleft/generator/handover/jcs"
)

// folderName is where the sealed files are in the shop folder; headFile says
// which is the last of them.
const (
	folderName = "handovers"
	headFile   = folderName + "/last-sealed.json"
	headFormat = "asleft last sealed report 1"
)

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

	words *catalog.Catalog
	head  *head
	key   string
}

// head is the note of the last sealed file.
type head struct {
	Format string `json:"format"`
	Number int    `json:"number"`
	Digest string `json:"digest"`
}

// ReadChain reads all the sealed files of a shop and checks that they hold
// together. An error is of the disk; what is wrong with the files is in Breaks.
func ReadChain(shop afero.Fs, words *catalog.Catalog) (*Chain, error) {
	c := &Chain{words: words}
	infos, err := afero.ReadDir(shop, folderName)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading %s: %w", folderName, err)
	}
	for _, info := range infos {
		name := path.Join(folderName, info.Name())
		if info.IsDir() || !strings.HasSuffix(name, ".json") || name == headFile {
			continue
		}
		data, err := readFile(shop, name)
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", name, err)
		}
		c.Links = append(c.Links, linked(name, data))
	}
	slices.SortStableFunc(c.Links, func(a, b *Link) int {
		return cmp.Or(cmp.Compare(a.number(), b.number()), strings.Compare(a.File, b.File))
	})
	if err := c.readHead(shop); err != nil {
		return nil, err
	}
	if c.key, err = publicKey(shop); errors.Is(err, ErrKeyForm) {
		c.broken(KeyFile, "chain.key-file")
	} else if err != nil {
		return nil, err
	}
	c.check()
	return c, nil
}

// errNoFile says that something else stands where a file should.
var errNoFile = errors.New("this is a pipe or a device and not a file; take it out of the folder")

// readFile reads a file of the folder of sealed reports. A pipe would keep it
// waiting for ever, so it looks before it opens.
func readFile(shop afero.Fs, name string) ([]byte, error) {
	info, err := shop.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNoFile
	}
	return afero.ReadFile(shop, name)
}

// number is a link's place; one that cannot be read goes last.
func (l *Link) number() int {
	if l.Seal == nil {
		return int(^uint(0) >> 1)
	}
	return l.Seal.Number
}

func (c *Chain) readHead(shop afero.Fs) error {
	data, err := readFile(shop, headFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("reading %s: %w", headFile, err)
	}
	c.head = c.headOf(data)
	return nil
}

// headOf reads the note of the last report. It has to be as it is written, to
// the byte: encoding/json would let a name pass in capitals.
func (c *Chain) headOf(data []byte) *head {
	h := &head{}
	if json.Unmarshal(data, h) == nil && h.Format == headFormat {
		if again, err := h.bytes(); err == nil && string(again) == string(data) {
			return h
		}
	}
	c.broken(headFile, string(changedFile))
	return nil
}

func (h *head) bytes() ([]byte, error) {
	data, err := jcs.Marshal(h)
	if err != nil {
		return nil, fmt.Errorf("the note of the last report: %w", err)
	}
	return data, nil
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
	l := &Link{File: name, data: data}
	l.Seal, l.flaw, _ = opened(data) // why it cannot be read helps nobody
	if l.flaw == noFlaw && path.Base(name) != l.Seal.name()+".json" {
		l.flaw = badName
	}
	return l
}

// check walks the chain. What a flaw of one file explains is not reported of
// its neighbor as well.
func (c *Chain) check() {
	slices.SortStableFunc(c.Links, func(a, b *Link) int {
		return cmp.Or(cmp.Compare(a.number(), b.number()), strings.Compare(a.File, b.File))
	})
	var before *Link
	for _, l := range c.Links {
		if l.flaw != noFlaw {
			c.broken(l.File, string(l.flaw))
		}
		if l.Seal == nil {
			continue
		}
		c.joined(before, l)
		c.keyed(before, l)
		before = l
	}
	c.headed(before)
}

// joined checks that a link follows the one before.
func (c *Chain) joined(before, l *Link) {
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
	case before != nil && l.Seal.Facts.Sealed < before.Seal.Facts.Sealed:
		c.broken(l.File, "chain.dates", "before", before.File)
	}
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

// headed checks that the file that was the last is still there. The note may be
// one behind: a run that was killed had no time to write it.
func (c *Chain) headed(last *Link) {
	switch {
	case c.head == nil && last != nil && last.Seal.Number > 1 && !c.breaksAt(headFile):
		c.broken(headFile, "chain.no-head")
	case c.head == nil:
	case last == nil || c.head.Number > last.Seal.Number:
		c.broken(headFile, "chain.last-gone", "number", c.head.Number)
	case c.head.Number < last.Seal.Number-1:
		c.broken(headFile, "chain.head-behind", "number", c.head.Number)
	default:
		for _, l := range c.Links {
			if l.Seal != nil && l.Seal.Number == c.head.Number && l.Seal.Digest == c.head.Digest {
				return
			}
		}
		c.broken(headFile, "chain.head-other", "number", c.head.Number)
	}
}

func (c *Chain) breaksAt(file string) bool {
	return slices.ContainsFunc(c.Breaks, func(b Break) bool { return b.File == file })
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
