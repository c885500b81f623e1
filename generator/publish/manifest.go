package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"asleft/generator/output"
)

// maxManifest bounds what is read as a manifest: room for half a million files.
const maxManifest = 64 << 20

// A Print is the size and the digest of a file.
type Print struct {
	Size int64
	Sum  [sha256.Size]byte
}

// PrintOf is the print of these bytes.
func PrintOf(data []byte) Print { return Print{int64(len(data)), sha256.Sum256(data)} }

// A State says what the manifest knows of a file at the far end.
type State string

const (
	There  State = "there"  // as the print has it
	Coming State = "coming" // being brought: the old one, the new one, or none
	Gone   State = "gone"   // no part of the site any more, kept for visitors
)

// A Listed is a file that this program brought, or was about to bring.
type Listed struct {
	State State
	Print Print
	Since time.Time // when it went, by the far end's clock; only of one that is gone
}

// An Owner says whose site it is: two shops that are sent to one place by mistake
// are told apart by it.
type Owner struct {
	Shop string
	Web  string
}

// strange tells whether two owners are two shops: one may change its name or its address.
func (o Owner) strange(other Owner) bool {
	return o.Shop != other.Shop && (o.Web != other.Web || o.Web == "")
}

// A Manifest lists what this program brought to a far end, by path.
//
// As text it has a head line and two lines for the owner; for each file a line with
// its state, SHA-256, size, the second since 1970 in which it went (0 for none), and
// its path, sorted by path; and a last line with their number, so that one that is
// cut short is not taken for whole.
type Manifest struct {
	Owner Owner
	Files map[string]Listed
}

const manifestHead = "asleft publish manifest 1"

// Text is the manifest as it stands at the far end.
func (m Manifest) Text() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s\nshop %s\nweb %s\n", manifestHead, inLine(m.Owner.Shop), inLine(m.Owner.Web))
	for _, p := range slices.Sorted(maps.Keys(m.Files)) {
		f := m.Files[p]
		since := int64(0)
		if f.State == Gone {
			since = f.Since.Unix()
		}
		fmt.Fprintf(&b, "%s %x %d %d %s\n", f.State, f.Print.Sum, f.Print.Size, since, p)
	}
	fmt.Fprintf(&b, "end %d\n", len(m.Files))
	return b.Bytes()
}

// inLine is a text as it can stand in one line.
func inLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// ParseManifest reads the text of a manifest. Any departure from what Text writes is
// an error: it came from elsewhere, and what it lists may be removed.
func ParseManifest(text []byte) (Manifest, error) {
	lines := strings.Split(string(text), "\n")
	if len(lines) < 5 || lines[0] != manifestHead || lines[len(lines)-1] != "" {
		return Manifest{}, fmt.Errorf("line 1: %q was expected, and an end", manifestHead)
	}
	shop, isShop := strings.CutPrefix(lines[1], "shop ")
	web, isWeb := strings.CutPrefix(lines[2], "web ")
	if !isShop || !isWeb {
		return Manifest{}, errors.New("line 2: the shop and its address were expected")
	}
	m := Manifest{Owner{shop, web}, map[string]Listed{}}
	files, last := lines[3:len(lines)-2], ""
	for n, line := range files {
		p, f, err := parseListed(line)
		if err == nil && p <= last {
			err = fmt.Errorf("%q is out of order", p)
		}
		if err != nil {
			return Manifest{}, fmt.Errorf("line %d: %w", n+4, err)
		}
		m.Files[p], last = f, p
	}
	if end := lines[len(lines)-2]; end != "end "+strconv.Itoa(len(files)) {
		return Manifest{}, fmt.Errorf("the end that belongs to %d files was expected, not %q", len(files), end)
	}
	return m, nil
}

func parseListed(line string) (p string, f Listed, err error) {
	parts := strings.SplitN(line, " ", 5)
	if len(parts) != 5 {
		return "", f, errors.New("a state, a SHA-256, a size, a time and a path were expected")
	}
	f.State = State(parts[0])
	if f.State != There && f.State != Coming && f.State != Gone {
		return "", f, fmt.Errorf("%q is no state of a file", parts[0])
	}
	if len(parts[1]) != 2*len(f.Print.Sum) || parts[1] != strings.ToLower(parts[1]) {
		return "", f, errors.New("a SHA-256 was expected")
	}
	if _, err := hex.Decode(f.Print.Sum[:], []byte(parts[1])); err != nil {
		return "", f, err
	}
	if f.Print.Size, err = number(parts[2]); err != nil {
		return "", f, err
	}
	since, err := number(parts[3])
	if err != nil || (since != 0) != (f.State == Gone) {
		return "", f, fmt.Errorf("%q is not when it went", parts[3])
	}
	if since != 0 {
		f.Since = time.Unix(since, 0)
	}
	p = parts[4]
	if p == Folder || strings.HasPrefix(p, Folder+"/") {
		return "", f, fmt.Errorf("%q is no file of a site", p)
	}
	return p, f, output.PortablePath(p)
}

// number is a whole number of at least 0, written as Text writes it.
func number(s string) (int64, error) {
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil || n < 0 || strconv.FormatInt(n, 10) != s {
		return 0, fmt.Errorf("%q is no number", s)
	}
	return n, nil
}
