package press

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/afero"
)

// ledgerName is the ledger's name in the site's folder.
const ledgerName = ".asleft-ledger"

// ledgerHead is the ledger's first line; its number changes with the format.
const ledgerHead = "asleft ledger 1"

// maxLedger bounds what is read as a ledger: room for two million files.
const maxLedger = 256 << 20

// An entry is what the ledger knows of one file.
type entry struct {
	size int64 // bytes
	sum  [sha256.Size]byte
}

func entryOf(data []byte) entry { return entry{int64(len(data)), sha256.Sum256(data)} }

// A ledger lists the files that the press wrote, by path.
//
// As text it has a head line; for each file a line with the SHA-256 in
// lower-case hex, the size in bytes and the path, sorted by path; and a last
// line with their number, so that a ledger cut short is not taken for whole. It
// holds no times: the same files give the same bytes.
type ledger map[string]entry

func (l ledger) text() []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, ledgerHead)
	for _, p := range slices.Sorted(maps.Keys(l)) {
		fmt.Fprintf(&b, "%x %d %s\n", l[p].sum, l[p].size, p)
	}
	fmt.Fprintf(&b, "end %d\n", len(l))
	return b.Bytes()
}

// parseLedger reads a ledger's text. Any departure from what text writes is an
// error that names the line.
func parseLedger(text []byte) (ledger, error) {
	rest, ok := strings.CutPrefix(string(text), ledgerHead+"\n")
	if !ok {
		return nil, fmt.Errorf("line 1: %q was expected", ledgerHead)
	}
	l, last := ledger{}, ""
	for n := 2; ; n++ {
		line, more, ok := strings.Cut(rest, "\n")
		if !ok {
			return nil, fmt.Errorf("line %d: the end is missing", n)
		}
		if rest = more; strings.HasPrefix(line, "end ") {
			if line != "end "+strconv.Itoa(len(l)) || rest != "" {
				return nil, fmt.Errorf("line %d: this is not the end that belongs to %d files", n, len(l))
			}
			return l, nil
		}
		p, e, err := parseEntry(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		if p <= last {
			return nil, fmt.Errorf("line %d: %q is out of order", n, p)
		}
		l[p], last = e, p
	}
}

var errLine = errors.New("a SHA-256, a size and a path were expected")

func parseEntry(line string) (string, entry, error) {
	var e entry
	sum, rest, _ := strings.Cut(line, " ")
	size, p, ok := strings.Cut(rest, " ")
	if len(sum) != 2*len(e.sum) || sum != strings.ToLower(sum) || !ok {
		return "", e, errLine
	}
	if _, err := hex.Decode(e.sum[:], []byte(sum)); err != nil {
		return "", e, errLine
	}
	var err error
	e.size, err = strconv.ParseInt(size, 10, 64)
	if err != nil || e.size < 0 || strconv.FormatInt(e.size, 10) != size {
		return "", e, fmt.Errorf("%q is not a size in bytes", size)
	}
	return p, e, checkPath(p)
}

// readLedger reads the ledger of a site's folder; a folder without one gives a
// nil ledger.
func readLedger(fsys afero.Fs, dir string) (l ledger, err error) {
	name := path.Join(dir, ledgerName)
	if info, err := lstat(fsys, name); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	} else if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	} else if !info.Mode().IsRegular() {
		return nil, refuse(sayBadLedger, name, "it is not a plain file")
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	text, err := io.ReadAll(io.LimitReader(f, maxLedger+1))
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	}
	if len(text) > maxLedger {
		return nil, refuse(sayBadLedger, name, "it is too long")
	}
	if l, err = parseLedger(text); err != nil {
		return nil, &Refusal{Says: fmt.Sprintf(sayBadLedger, name, err), Cause: err}
	}
	return l, nil
}

// folders are all folders that the ledger's files lie in.
func (l ledger) folders() map[string]bool {
	dirs := map[string]bool{}
	for p := range l {
		for _, dir := range above(p) {
			dirs[dir] = true
		}
	}
	return dirs
}
