package output

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// The first line of a manifest; the number changes with the format. One that says
// unfinished was written before the first file was put in place, and names what is
// new and what is to go.
const (
	manifestHead   = "asleft manifest 1"
	unfinishedHead = "asleft manifest 1 unfinished"
)

// Earlier versions kept the same list in the site's folder.
const (
	earlierName = ".asleft-ledger"
	earlierHead = "asleft ledger 1"
)

// maxManifest bounds what is read as a manifest: room for two million files.
const maxManifest = 256 << 20

// A fingerprint is what the manifest knows of one file.
type fingerprint struct {
	size int64 // bytes
	sum  [sha256.Size]byte
}

func fingerprintOf(data []byte) fingerprint {
	return fingerprint{int64(len(data)), sha256.Sum256(data)}
}

// A manifest lists the files that the program wrote, by path.
//
// As text it has a head line; for each file a line with the SHA-256 in
// lower-case hex, the size in bytes and the path, sorted by path; and a last
// line with their number, so that a manifest cut short is not taken for whole. It
// holds no times: the same files give the same bytes.
type manifest map[string]fingerprint

func (m manifest) text(head string) []byte {
	var b bytes.Buffer
	fmt.Fprintln(&b, head)
	for _, p := range slices.Sorted(maps.Keys(m)) {
		fmt.Fprintf(&b, "%x %d %s\n", m[p].sum, m[p].size, p)
	}
	fmt.Fprintf(&b, "end %d\n", len(m))
	return b.Bytes()
}

// parseManifest reads a manifest's text. Any departure from what text writes is
// an error that names the line.
func parseManifest(text []byte) (m manifest, head string, err error) {
	head, rest, _ := strings.Cut(string(text), "\n")
	if head != manifestHead && head != unfinishedHead && head != earlierHead {
		return nil, "", fmt.Errorf("line 1: %q was expected", manifestHead)
	}
	m, last := manifest{}, ""
	for n := 2; ; n++ {
		line, more, ok := strings.Cut(rest, "\n")
		if !ok {
			return nil, "", fmt.Errorf("line %d: the end is missing", n)
		}
		if rest = more; strings.HasPrefix(line, "end ") {
			if line != "end "+strconv.Itoa(len(m)) || rest != "" {
				return nil, "", fmt.Errorf("line %d: this is not the end that belongs to %d files", n, len(m))
			}
			return m, head, nil
		}
		p, f, err := parseLine(line)
		if err != nil {
			return nil, "", fmt.Errorf("line %d: %w", n, err)
		}
		if p <= last {
			return nil, "", fmt.Errorf("line %d: %q is out of order", n, p)
		}
		m[p], last = f, p
	}
}

var errLine = errors.New("a SHA-256, a size and a path were expected")

func parseLine(line string) (string, fingerprint, error) {
	var e fingerprint
	sum, rest, _ := strings.Cut(line, " ")
	size, p, ok := strings.Cut(rest, " ")
	if len(sum) != 2*len(e.sum) || sum != strings.ToLower(sum) || !ok {
		return "", e, errLine
	}
	if _, err := hex.Decode(e.sum[:], []byte(sum)); err != nil {
		return "", e, errLine
	}
	e.size, _ = strconv.ParseInt(size, 10, 64) // what is no number is not the same when written again
	if e.size < 0 || strconv.FormatInt(e.size, 10) != size {
		return "", e, fmt.Errorf("%q is not a size in bytes", size)
	}
	return p, e, PortablePath(p)
}

// readManifest reads a manifest; where there is none it is nil.
func readManifest(fsys afero.Fs, name string) (m manifest, head string, err error) {
	text, err := readBounded(fsys, name, maxManifest)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, "", nil
	case err != nil:
		return nil, "", fmt.Errorf("cannot read %s: %w", name, err)
	}
	if m, head, err = parseManifest(text); err != nil {
		return nil, "", &Refusal{Says: fmt.Sprintf(sayBadManifest, name, err), Cause: err}
	}
	return m, head, nil
}

// readBounded reads a plain file of so many bytes at most, and follows no link to one.
func readBounded(fsys afero.Fs, name string, most int64) ([]byte, error) {
	info, err := rooted.Lstat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > most {
		return nil, errors.New("it is no plain file, or too large")
	}
	return rooted.ReadFile(fsys, name, most)
}

// replaceFile writes a file under a temporary name and renames it over the old.
func replaceFile(fsys afero.Fs, name string, data []byte, mode fs.FileMode) error {
	draft := name + temporary
	if err := fsys.Remove(draft); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	err := writeNew(fsys, draft, data, mode, true)
	if err == nil {
		err = fsys.Rename(draft, name)
	}
	if err != nil {
		_ = fsys.Remove(draft) // what failed first is what is told
	}
	return err
}

// writeNew writes a file that must not be there yet and, if asked, waits until the
// disk has it.
func writeNew(fsys afero.Fs, name string, data []byte, mode fs.FileMode, sync bool) error {
	f, err := fsys.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil && sync {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}
