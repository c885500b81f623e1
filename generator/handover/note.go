package handover

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/rooted"
)

// headFile says which sealed file is the last. It is the one file among them that is
// ever written anew, and only by one that follows on it: a damaged one is set aside.
const headFile = folderName + "/last-sealed.json"

// headDraft is what a run that was killed leaves of the note that it was about to
// put in its place.
const headDraft = folderName + "/.last-sealed.json.part"

// The forms of the note. The first was never signed.
const (
	headFormat      = "asleft last sealed report 2"
	firstHeadFormat = "asleft last sealed report 1"
)

// largestNote is more than a note takes, in bytes.
const largestNote = 64 << 10

// head is the note of the last sealed file.
type head struct {
	Format string `json:"format"`
	Number int    `json:"number"`
	Digest string `json:"digest"`
	// Key and Signature are as in a sealed file; the signature is of the note without
	// it.
	Key       *string `json:"key"`
	Signature *string `json:"signature"`
}

// firstHead is the note under the first form.
type firstHead struct {
	Format string `json:"format"`
	Number int    `json:"number"`
	Digest string `json:"digest"`
}

// noteOf says that a report is the last, signed with the shop's key where it has one.
func noteOf(s *Seal, key *ShopKey) []byte {
	h := &head{Format: headFormat, Number: s.Number, Digest: s.Digest}
	if key == nil {
		return h.bytes()
	}
	h.Key = &key.Public
	signature := key.sign(h.bytes())
	h.Signature = &signature
	return h.bytes()
}

func (h *head) bytes() []byte {
	var note any = h
	if h.Format == firstHeadFormat {
		note = firstHead{h.Format, h.Number, h.Digest}
	}
	data, _ := jcs.Marshal(note) // a number and texts
	return data
}

// headOf reads a note, nil where it is none. It has to be as it is written, to the
// byte: encoding/json would let a name pass in capitals.
func headOf(data []byte) *head {
	h := &head{}
	if json.Unmarshal(data, h) != nil || h.Format != headFormat && h.Format != firstHeadFormat {
		return nil
	}
	if string(h.bytes()) != string(data) {
		return nil
	}
	return h
}

// signedRight tells whether a note is signed with the key that it names, or names none.
func (h *head) signedRight() bool {
	if h.Key == nil || h.Signature == nil {
		return h.Key == nil && h.Signature == nil
	}
	bare := *h
	bare.Signature = nil
	return verified(*h.Key, *h.Signature, bare.bytes())
}

// names tells whether a note is of that sealed file.
func (h *head) names(l *Link) bool {
	return l != nil && l.Seal != nil && h.Number == l.Seal.Number && h.Digest == l.Seal.Digest
}

// readHead reads the note of the last report, or what a killed run left of it.
func (c *Chain) readHead(shop afero.Fs) error {
	data, err := rooted.ReadFile(shop, headFile, largestNote)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case errors.Is(err, rooted.ErrTooLarge):
		c.noteFlawed("chain.too-large")
		return nil
	case err != nil:
		return fmt.Errorf("reading %s: %w", headFile, err)
	default:
		if c.head = headOf(data); c.head == nil {
			c.noteFlawed(string(changedFile))
			return nil
		}
	}
	c.readDraft(shop)
	return nil
}

// readDraft takes the draft of the note for the note, where it names the last sealed
// file and the note does not: a run was killed after it had put the one in its place
// and before the other. A draft that names anything else was never of use.
func (c *Chain) readDraft(shop afero.Fs) {
	last := c.last()
	if last == nil || c.head != nil && c.head.names(last) {
		return
	}
	data, err := rooted.ReadFile(shop, headDraft, largestNote)
	if err != nil {
		return
	}
	if h := headOf(data); h != nil && h.names(last) {
		c.head, c.drafted = h, true
	}
}

// noteFlawed is a break at the note which says that the note itself cannot be relied
// on, so that it is set aside before another takes its place.
func (c *Chain) noteFlawed(key string, pairs ...any) {
	c.flawedNote = true
	c.Breaks = append(c.Breaks, Break{headFile, c.words.Say(key, append([]any{"file", headFile}, pairs...)...)})
}

// headed checks that the file that was the last is still there. Under the first form
// the note could be one behind, or wanting after the first report: a run that was
// killed had no time to write it.
func (c *Chain) headed(last *Link) {
	first := last != nil && last.Seal.Format == firstFormat
	if h := c.head; h != nil && !h.signedRight() {
		c.noteFlawed(string(badSignature))
		c.head = nil
	} else if h != nil && last != nil && !first && last.Seal.Key != nil && !same(h.Key, last.Seal.Key) {
		c.noteFlawed("chain.note-unsigned")
		c.head = nil
	}
	switch h := c.head; {
	case h == nil && (last == nil || c.flawedNote || first && last.Seal.Number == 1):
	case h == nil:
		c.broken(headFile, "chain.no-head")
	case last == nil || h.Number > last.Seal.Number:
		c.broken(headFile, "chain.last-gone", "number", h.Number)
	case h.Number < last.Seal.Number && !(first && h.Number == last.Seal.Number-1):
		c.noteFlawed("chain.head-behind", "number", h.Number)
	case !slices.ContainsFunc(c.Links, h.names):
		c.noteFlawed("chain.head-other", "number", h.Number)
	}
}

// otherNotes looks at what lies beside the note and is in its form, as a sync program
// leaves it where two computers wrote. One that names a sealed file that is here says
// nothing new; one that names a later one says that this is gone.
func (c *Chain) otherNotes(notes map[string]*head) {
	for _, name := range slices.Sorted(maps.Keys(notes)) {
		if h := notes[name]; !slices.ContainsFunc(c.Links, h.names) {
			c.broken(name, "chain.last-gone", "number", h.Number)
		}
	}
}

// settleNote ends what a killed run began: its draft of the note takes its place if
// it is that of the last report, and else is cleared away.
func (c *Chain) settleNote(shop afero.Fs) error {
	d := &draft{fs: shop, part: headDraft, name: headFile}
	if c.drafted && !c.flawedNote {
		return d.place()
	}
	if there, err := exists(shop, headDraft); err != nil || !there {
		return err
	}
	d.drop()
	return nil
}

// setAside keeps a note that cannot be relied on under a name that is free.
func (c *Chain) setAside(shop afero.Fs) error {
	there, err := exists(shop, headFile)
	if err != nil || !there || !c.flawedNote {
		return err
	}
	for n := 1; ; n++ {
		aside := path.Join(folderName, fmt.Sprintf("last-sealed-%d.kept", n))
		d := &draft{fs: shop, part: headFile, name: aside}
		var taken *InTheWay
		if err := d.placeNew(); !errors.As(err, &taken) {
			return err
		}
	}
}
