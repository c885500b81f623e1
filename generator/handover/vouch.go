package handover

import (
	"bytes"
	"encoding/hex"
	"path"
	"regexp"
	"strings"
	"sync"

	"asleft/generator/handover/jcs"
	"asleft/generator/handover/sheet"
)

// Answers about a report.
const (
	// Unaltered: the shop sealed it, and it is so to the byte.
	Unaltered = "unaltered"
	// Altered: the shop sealed it, and it is not what was sealed.
	Altered = "altered"
	// NotOurs: nothing in it leads to a report that the shop sealed.
	NotOurs = "not ours"
	// NoProof: it leads to a sealed file of the shop which was itself changed,
	// so nothing can be said of the report.
	NoProof = "no proof"
)

// A Verdict is what can be said of a report.
type Verdict struct {
	Answer string
	// Link is the sealed file that it leads to, nil for NotOurs.
	Link *Link
	// Differs are the facts that differ, as far as it holds any.
	Differs []Difference
	// Held tells whether an altered file holds facts that can be read.
	Held bool
}

// codeForm is a code as somebody types it in.
var codeForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9a-f]{10,64}$`) })

// AsCode is what was typed in as a code, false if it is none: any beginning of the
// digest of the facts, of ten digits or more. Capitals, spaces and hyphens do not
// matter.
func AsCode(typed string) (string, bool) {
	code := strings.ToLower(strings.NewReplacer(" ", "", "\u00a0", "", "-", "").Replace(typed))
	return code, codeForm().MatchString(code)
}

// VouchCode says what is known of a printed code, of each sealed report that has it;
// none has a code that is not ours.
func (c *Chain) VouchCode(code string) []Verdict {
	var all []Verdict
	for _, l := range c.Links {
		if l.hasCode(code) {
			all = append(all, Verdict{Answer: l.known(), Link: l})
		}
	}
	return all
}

// hasCode tells whether a code is the beginning of a link's digest of facts, or of
// what its name says of it.
func (l *Link) hasCode(code string) bool {
	if l.Seal != nil && strings.HasPrefix(l.Seal.FactsDigest, code) {
		return true
	}
	name := strings.TrimSuffix(path.Base(l.File), ".json")
	digits := name[strings.LastIndex(name, "-")+1:]
	return len(digits) >= firstLength && (strings.HasPrefix(digits, code) || l.flaw != noFlaw && strings.HasPrefix(code, digits))
}

// known is what can be said of what leads to a link alone.
func (l *Link) known() string {
	if l.flaw != noFlaw {
		return NoProof
	}
	return Unaltered
}

// VouchFile says what is known of a file: a report's HTML or PDF, or a sealed
// file. The name only helps to find what an altered file was.
func (c *Chain) VouchFile(name string, data []byte) Verdict {
	digest := digestOf(data)
	own := c.find(func(l *Link) bool {
		copies := l.Seal.Copies
		return bytes.Equal(data, l.data) || digest == copies.HTML || digest == copies.Letter || digest == copies.A4
	})
	if own != nil {
		return Verdict{Answer: own.known(), Link: own}
	}
	held, sealed := inside(data)
	l := c.leads(path.Base(name), data, held)
	if l == nil {
		return Verdict{Answer: NotOurs}
	}
	if l.flaw != noFlaw {
		return Verdict{Answer: NoProof, Link: l}
	}
	return Verdict{Answer: Altered, Link: l, Differs: l.differs(held, sealed), Held: held != nil}
}

// find is the first link that is so, one without a flaw before those that have one:
// what lies beside a sealed file and says the same takes nothing from it.
func (c *Chain) find(so func(*Link) bool) *Link {
	var flawed *Link
	for _, l := range c.Links {
		switch {
		case l.Seal == nil || !so(l):
		case l.flaw == noFlaw:
			return l
		case flawed == nil:
			flawed = l
		}
	}
	return flawed
}

// differs holds what a file holds against the link: a whole sealed file, or
// only the facts.
func (l *Link) differs(held any, sealed bool) []Difference {
	if held == nil {
		return nil
	}
	own, _ := jcs.Parse(l.data) // it is whole
	if sealed {
		return differences("", own, held)
	}
	tree, _ := own.(map[string]any)
	return differences("facts", tree["facts"], held)
}

// inside reads the facts that a report holds, or the whole of a sealed file;
// nil where there are none to be read.
func inside(data []byte) (held any, sealed bool) {
	text := data
	switch {
	case bytes.HasPrefix(data, []byte("%PDF")):
		attached, ok := sheet.Attachment(data)
		if !ok {
			return nil, false
		}
		text = attached
	case !bytes.HasPrefix(bytes.TrimSpace(data), []byte("{")):
		_, rest, ok := bytes.Cut(data, []byte(openElement))
		if !ok {
			return nil, false
		}
		text, _, _ = bytes.Cut(rest, []byte(closeElement))
	default:
		sealed = true
	}
	v, err := jcs.Parse(text)
	if err != nil {
		return nil, sealed
	}
	return v, sealed
}

// leads finds the link that an altered file was, by what it still says: the
// digest of the facts, the code, its name, or the machine and the day.
func (c *Chain) leads(name string, data []byte, held any) *Link {
	says := func(s string) bool {
		return s != "" && (bytes.Contains(data, []byte(s)) || bytes.Contains(data, []byte(utf16Hex(s))))
	}
	about, _ := held.(map[string]any)
	if facts, ok := about["facts"].(map[string]any); ok {
		about = facts
	}
	for _, so := range []func(*Link) bool{
		func(l *Link) bool { return says(l.Seal.FactsDigest) },
		func(l *Link) bool { return says(l.Seal.Code) || says(GroupedCode(l.Seal.Code)) },
		func(l *Link) bool { return l.Seal.Code != "" && strings.Contains(name, l.Seal.Code) },
		func(l *Link) bool { return l.sameDay(about) },
	} {
		if l := c.find(so); l != nil {
			return l
		}
	}
	return nil
}

// sameDay tells whether facts are about the machine and the day of a link.
func (l *Link) sameDay(facts map[string]any) bool {
	record, _ := facts["record"].(map[string]any)
	machine, _ := record["machine"].(map[string]any)
	own := &l.Seal.Facts
	return own.Sealed != "" && facts["sealed"] == own.Sealed && machine["key"] == own.Record.Machine.Key
}

// utf16Hex is a text of plain letters and digits as a PDF's texts hold it.
func utf16Hex(s string) string {
	var b strings.Builder
	for i := range len(s) {
		b.WriteString("00" + hex.EncodeToString([]byte{s[i]}))
	}
	return strings.ToUpper(b.String())
}
