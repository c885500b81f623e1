package sight

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"

	"github.com/spf13/afero"
)

// A Memory is what a run leaves to the next. All of it is the run's own to make
// out but for the form: a value holds no line break.
type Memory struct {
	// Facts are the run's own, by name.
	Facts map[string]string
	// Notes are what is known of a file in one state, by Sight.State.
	Notes map[string]string
}

// memoryHead is a memory's first line; its number changes with the format.
const memoryHead = "asleft memory 1"

// maxMemory bounds what is read as a memory, in bytes: room for half a million
// photos.
const maxMemory = 64 << 20

// text is a head line, a line for each fact and each note, sorted, and the
// SHA-256 of all that, so that a damaged memory is not believed.
func (m Memory) text() []byte {
	var b bytes.Buffer
	b.WriteString(memoryHead + "\n")
	for _, name := range slices.Sorted(maps.Keys(m.Facts)) {
		fmt.Fprintf(&b, "fact %s %s\n", name, m.Facts[name])
	}
	for _, state := range slices.Sorted(maps.Keys(m.Notes)) {
		fmt.Fprintf(&b, "note %s %s\n", state, m.Notes[state])
	}
	fmt.Fprintf(&b, "sum %x\n", sha256.Sum256(b.Bytes()))
	return b.Bytes()
}

var errDamaged = errors.New("this is not a memory that was written whole")

func parseMemory(text []byte) (Memory, error) {
	m := Memory{map[string]string{}, map[string]string{}}
	at := bytes.LastIndex(text, []byte("sum "))
	if at < 0 || string(text[at:]) != fmt.Sprintf("sum %x\n", sha256.Sum256(text[:at])) {
		return m, errDamaged
	}
	head, body, _ := strings.Cut(string(text[:at]), "\n")
	if head != memoryHead {
		return m, errDamaged
	}
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
	return m, nil
}

// Load reads a memory. Where there is none, and where it is not one that was
// written whole, the memory is empty: there is nothing that a person could mend.
func Load(fsys afero.Fs, name string) Memory {
	text, err := readMemory(fsys, name)
	if err != nil {
		return Memory{}
	}
	m, err := parseMemory(text)
	if err != nil {
		return Memory{}
	}
	return m
}

func readMemory(fsys afero.Fs, name string) (text []byte, err error) {
	info, err := fsys.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > maxMemory {
		return nil, errDamaged
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	return io.ReadAll(io.LimitReader(f, maxMemory+1))
}

// Draft is where Save writes a memory before it takes the place of the old one.
// One that is lying about is from a run that was killed there.
func Draft(name string) string { return name + "-new" }

// Save writes a memory in place of the one before, in one step.
func (m Memory) Save(fsys afero.Fs, name string) (err error) {
	draft := Draft(name)
	if err := fsys.Remove(draft); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := fsys.OpenFile(draft, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(m.text())
	if err = errors.Join(err, f.Close()); err == nil {
		err = fsys.Rename(draft, name)
	}
	if err != nil {
		return errors.Join(err, fsys.Remove(draft))
	}
	return nil
}
