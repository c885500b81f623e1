package handover

import (
	"encoding/json"
	"fmt"
	"path"
	"slices"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
	"asleft/generator/rooted"
)

// memoryFolder is where a computer keeps which report it sealed last in each shop's
// folder, below the user's own settings. An old backup of a shop's folder that is put
// back is whole, with its note and its key; only what is elsewhere can miss what came
// after it.
const memoryFolder = "asleft/sealed"

const memoryFormat = "asleft sealed here 1"

// memory is which report was sealed last.
type memory struct {
	Format string `json:"format"`
	Number int    `json:"number"`
	Digest string `json:"digest"`
}

// A placed file system knows where on the computer its folder is.
type placed interface{ Dir() string }

// started is which first reports this computer has seen sealed in a folder. A backup from
// before the first of them has no report to find its memory by; the folder has.
type started struct {
	Format string   `json:"format"`
	Firsts []string `json:"firsts"` // their digests, the newest last
}

const startedFormat = "asleft sealed here from 1"

// mostStarted is more than anybody begins anew in one folder.
const mostStarted = 100

// memoryIn is the file of a folder's memory of what a key stands for, empty where it can
// have none.
func memoryIn(shop afero.Fs, key string) string {
	where, ok := shop.(placed)
	if !ok {
		return ""
	}
	return path.Join(memoryFolder, digestOf([]byte(where.Dir() + "\n" + key))[:32]+".json")
}

// memoryOf is the file of a shop's memory, empty where it can have none. A copy of the
// folder is another shop, and so may be one whose first report is another.
func memoryOf(shop afero.Fs, first *Link) string {
	if first == nil {
		return ""
	}
	return memoryIn(shop, first.Seal.Digest)
}

// first is the first report of the chain, nil where it is not here.
func (c *Chain) first() *Link {
	for _, l := range c.Links {
		if l.flaw == noFlaw && l.Seal.Number == 1 {
			return l
		}
	}
	return nil
}

// firstsIn are the digests of the first reports that were sealed in a folder.
func firstsIn(shop, settings afero.Fs) []string {
	var b started
	name := memoryIn(shop, "")
	if name == "" {
		return nil
	}
	data, err := rooted.ReadFile(settings, name, largestNote)
	if err != nil || json.Unmarshal(data, &b) != nil || b.Format != startedFormat {
		return nil
	}
	return b.Firsts
}

// Remember keeps that a report is the last that this computer sealed in a shop's
// folder. That it cannot be kept is no fault of the report, so nothing says so.
func (m *Made) Remember(shop, settings afero.Fs, c *Chain) {
	first := c.first()
	if first == nil && m.Seal.Number == 1 {
		first = &Link{Seal: m.Seal}
	}
	name := memoryOf(shop, first)
	if name == "" {
		return
	}
	of := m.Seal
	if last := c.last(); m.Again && last != nil { // a run that was killed may have had no time for it
		of = last.Seal
	}
	if keep(settings, name, memory{memoryFormat, of.Number, of.Digest}) != nil {
		return
	}
	if firsts := firstsIn(shop, settings); !slices.Contains(firsts, first.Seal.Digest) {
		firsts = append(firsts, first.Seal.Digest)
		_ = keep(settings, memoryIn(shop, ""), started{startedFormat, firsts[max(0, len(firsts)-mostStarted):]})
	}
}

// keep writes a memory.
func keep(settings afero.Fs, name string, what any) error {
	data, err := jcs.Marshal(what)
	if err == nil {
		err = settings.MkdirAll(memoryFolder, 0o700)
	}
	if err != nil {
		return fmt.Errorf("keeping what was sealed here: %w", err)
	}
	(&draft{fs: settings, part: partOf(name)}).drop() // of a run that was killed
	return put(settings, name, data, 0o600)
}

// Forgotten is what this computer sealed in a shop's folder and the folder has not got
// any more. Who took it away, and why, nobody can say: an old backup that was put back
// looks so too. Of reports that began with another first one, none of which is here,
// the folder may be an old backup from before the first seal, or the shop another one
// than was in the folder then. Those are before, and no break of the chain.
func (c *Chain) Forgotten(shop, settings afero.Fs) (gone, before []Break) {
	firsts := firstsIn(shop, settings)
	own := ""
	if first := c.first(); first != nil {
		if own = first.Seal.Digest; !slices.Contains(firsts, own) {
			firsts = append(firsts, own)
		}
	}
	for _, first := range firsts {
		m := remembered(shop, settings, first)
		if m == nil || slices.ContainsFunc(c.Links, func(l *Link) bool {
			return l.Seal != nil && l.Seal.Number == m.Number && l.Seal.Digest == m.Digest
		}) {
			continue
		}
		says := func(key string) Break { return Break{headFile, c.words.Say(key, "number", m.Number)} }
		switch last := c.last(); {
		case len(c.Links) == 0 || own != "" && first != own:
			before = append(before, says("chain.forgotten-all"))
		case last != nil && last.Seal.Number >= m.Number:
			gone = append(gone, says("chain.forgotten-other"))
		default:
			gone = append(gone, says("chain.forgotten"))
		}
	}
	return gone, before
}

// remembered is what is kept of the reports that began with that one, nil if nothing is.
func remembered(shop, settings afero.Fs, first string) *memory {
	name := memoryIn(shop, first)
	if name == "" || first == "" {
		return nil
	}
	data, err := rooted.ReadFile(settings, name, largestNote)
	var m memory
	if err != nil || json.Unmarshal(data, &m) != nil || m.Format != memoryFormat {
		return nil
	}
	return &m
}
