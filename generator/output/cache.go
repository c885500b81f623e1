package output

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/afero"
)

// A Cache is what a run leaves to the next. All of it is the run's own to make
// out but for the form: a value holds no line break.
type Cache struct {
	// Facts are the run's own, by name.
	Facts map[string]string
	// Notes are what is known of a file in one state, by Snapshot.Key.
	Notes map[string]string
}

// cacheHead is a cache's first line; its number changes with the format.
const cacheHead = "asleft cache 1"

// maxCache bounds what is read as a cache, in bytes: room for half a million
// photos.
const maxCache = 64 << 20

// text is a head line, a line for each fact and each note, sorted, and the
// SHA-256 of all that, so that a damaged cache is not believed.
func (c Cache) text() []byte {
	var b bytes.Buffer
	b.WriteString(cacheHead + "\n")
	for _, name := range slices.Sorted(maps.Keys(c.Facts)) {
		fmt.Fprintf(&b, "fact %s %s\n", name, c.Facts[name])
	}
	for _, state := range slices.Sorted(maps.Keys(c.Notes)) {
		fmt.Fprintf(&b, "note %s %s\n", state, c.Notes[state])
	}
	fmt.Fprintf(&b, "sum %x\n", sha256.Sum256(b.Bytes()))
	return b.Bytes()
}

// parseCache reads a cache's text. One that was not written whole is empty: there
// is nothing that a person could mend.
func parseCache(text []byte) Cache {
	at := max(bytes.LastIndex(text, []byte("sum ")), 0)
	if string(text[at:]) != fmt.Sprintf("sum %x\n", sha256.Sum256(text[:at])) {
		return Cache{}
	}
	head, body, _ := strings.Cut(string(text[:at]), "\n")
	if head != cacheHead {
		return Cache{}
	}
	m := Cache{map[string]string{}, map[string]string{}}
	for line := range strings.Lines(body) {
		kind, rest, _ := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		name, value, _ := strings.Cut(rest, " ")
		switch kind {
		case "fact":
			m.Facts[name] = value
		case "note":
			m.Notes[name] = value
		}
	}
	return m
}

// LoadCache reads a cache. It is empty where there is none, or none that was
// written whole.
func LoadCache(fsys afero.Fs, name string) Cache {
	text, _ := readBounded(fsys, name, maxCache) // what was not read is not whole either
	return parseCache(text)
}

// Save writes a cache in place of the one before, in one step.
func (c Cache) Save(fsys afero.Fs, name string) error {
	return replaceFile(fsys, name, c.text(), 0o600)
}
