package handover

import (
	"encoding/json"
	"path"

	"github.com/spf13/afero"

	"asleft/generator/handover/jcs"
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

// memoryOf is the file of a shop's memory, empty where it can have none. A copy of the
// folder is another shop, and so is one whose first report is another: what was
// sealed in either is nothing that the other one lost.
func memoryOf(shop afero.Fs, first *Link) string {
	where, ok := shop.(placed)
	if !ok || first == nil {
		return ""
	}
	return path.Join(memoryFolder, digestOf([]byte(where.Dir() + "\n" + first.Seal.Digest))[:32]+".json")
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
	data, err := jcs.Marshal(memory{memoryFormat, of.Number, of.Digest})
	if err != nil || settings.MkdirAll(memoryFolder, 0o700) != nil {
		return
	}
	(&draft{fs: settings, part: partOf(name)}).drop() // of a run that was killed
	_ = put(settings, name, data, 0o600)
}

// Forgotten is what this computer sealed in a shop's folder and the folder has not got
// any more. Who took it away, and why, nobody can say: an old backup that was put back
// looks so too.
func (c *Chain) Forgotten(shop, settings afero.Fs) []Break {
	name := memoryOf(shop, c.first())
	if name == "" {
		return nil
	}
	data, err := readFile(settings, name, largestNote)
	var m memory
	if err != nil || json.Unmarshal(data, &m) != nil || m.Format != memoryFormat {
		return nil
	}
	for _, l := range c.Links {
		if l.Seal != nil && l.Seal.Number == m.Number && l.Seal.Digest == m.Digest {
			return nil
		}
	}
	key := "chain.forgotten"
	if last := c.last(); last != nil && last.Seal.Number >= m.Number {
		key = "chain.forgotten-other"
	}
	return []Break{{headFile, c.words.Say(key, "number", m.Number)}}
}
