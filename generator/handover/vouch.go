package handover

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"path"
	"regexp"
	"slices"
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
var codeForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[0-9a-f]{10}$`) })

// AsCode is what was typed in as a code, false if it is none. Capitals, spaces
// and hyphens do not matter.
func AsCode(typed string) (string, bool) {
	code := strings.ToLower(strings.NewReplacer(" ", "", "-", "").Replace(typed))
	return code, codeForm().MatchString(code)
}

// VouchCode says what is known of a printed code.
func (c *Chain) VouchCode(code string) Verdict {
	for _, l := range c.Links {
		if l.Seal != nil && l.Seal.Code == code || strings.HasSuffix(l.File, "-"+code+".json") {
			if l.flaw != noFlaw {
				return Verdict{Answer: NoProof, Link: l}
			}
			return Verdict{Answer: Unaltered, Link: l}
		}
	}
	return Verdict{Answer: NotOurs}
}

// VouchFile says what is known of a file: a report's HTML or PDF, or a sealed
// file. The name only helps to find what an altered file was.
func (c *Chain) VouchFile(name string, data []byte) Verdict {
	digest := digestOf(data)
	for _, l := range c.Links {
		if l.Seal == nil {
			continue
		}
		copies := l.Seal.Copies
		if bytes.Equal(data, l.data) || digest == copies.HTML || digest == copies.Letter || digest == copies.A4 {
			if l.flaw != noFlaw {
				return Verdict{Answer: NoProof, Link: l}
			}
			return Verdict{Answer: Unaltered, Link: l}
		}
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

// differs holds what a file holds against the link: a whole sealed file, or
// only the facts.
func (l *Link) differs(held any, sealed bool) []Difference {
	if held == nil {
		return nil
	}
	own, err := jcs.Parse(l.data)
	if err != nil {
		return nil
	}
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
		func(l *Link) bool { return says(l.Seal.Code) },
		func(l *Link) bool { return strings.Contains(name, l.Seal.Code) },
		func(l *Link) bool { return about != nil && l.sameDay(about) },
	} {
		i := slices.IndexFunc(c.Links, func(l *Link) bool { return l.Seal != nil && so(l) })
		if i >= 0 {
			return c.Links[i]
		}
	}
	return nil
}

// sameDay tells whether facts are about the machine and the day of a link.
func (l *Link) sameDay(facts map[string]any) bool {
	text, err := json.Marshal(facts)
	if err != nil {
		return false
	}
	var f Facts
	if json.Unmarshal(text, &f) != nil {
		return false
	}
	return f.Sealed == l.Seal.Facts.Sealed && f.Record.Machine.Key == l.Seal.Facts.Record.Machine.Key && f.Sealed != ""
}

// utf16Hex is a text of plain letters and digits as a PDF's texts hold it.
func utf16Hex(s string) string {
	var b strings.Builder
	for i := range len(s) {
		b.WriteString("00" + hex.EncodeToString([]byte{s[i]}))
	}
	return strings.ToUpper(b.String())
}
