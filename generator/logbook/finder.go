package logbook

import (
	"errors"
	"fmt"
	"sync"

	"github.com/spf13/afero"
	"go.yaml.in/yaml/v4"
)

// A finder finds what was not remembered of a file by reading it once more: the
// lines on which fields stand, which are asked for only of the few files with
// something wrong in them and would take more room than the facts themselves,
// and bodies that were left.
type finder struct {
	rules *rules
	fs    afero.Fs

	mu    sync.Mutex
	lines map[string]map[string]int // of each field of each file that was asked for
}

// line is 0 where it is not known: the file has no such field, or is gone.
func (f *finder) line(file, field string) int {
	if f == nil {
		return 0 // of a shop that was not read but made
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	lines, there := f.lines[file]
	if !there {
		lines = f.read(file)
		if f.lines == nil {
			f.lines = map[string]map[string]int{}
		}
		f.lines[file] = lines
	}
	return lines[field]
}

func (f *finder) read(file string) map[string]int {
	lines := map[string]int{}
	err := f.load(file, func(s *source, data []byte) error {
		if top, _ := s.split(data); top != nil {
			note(lines, top, "")
		}
		return nil
	})
	if err != nil {
		return nil
	}
	return lines
}

func (f *finder) body(file string) (b Body, err error) {
	err = f.load(file, func(s *source, data []byte) error {
		text, sound := s.clean(data)
		if !sound {
			return errChanged
		}
		_, end, whole := s.delimiters(text)
		if !whole {
			return errChanged
		}
		if b = s.sound(bodyFrom(text, end)).kept(); len(s.problems) > 0 {
			return errChanged
		}
		return nil
	})
	if err != nil {
		return b, fmt.Errorf("cannot read %s again: %w", file, err)
	}
	return b, nil
}

var errChanged = errors.New("it has changed; run this again")

// load lends a file's data to as. What is wrong in it has been told already.
func (f *finder) load(file string, as func(s *source, data []byte) error) error {
	info, err := lstat(f.fs, file)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errChanged
	}
	var wrong error
	err = lend(f.fs, file, func(data []byte) { wrong = as(&source{rules: f.rules, path: file}, data) })
	return errors.Join(err, wrong)
}

// note notes the lines of all that is below a node.
func note(lines map[string]int, n *yaml.Node, path string) {
	add := func(path string, below *yaml.Node) {
		if _, twice := lines[path]; !twice {
			lines[path] = below.Line
			note(lines, below, path)
		}
	}
	switch n.Kind {
	case yaml.SequenceNode:
		for i, c := range n.Content {
			add(numbered(path, i), c)
		}
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if key := n.Content[i]; key.Kind == yaml.ScalarNode && !isNull(key) {
				add(join(path, clip(key.Value)), n.Content[i+1])
			}
		}
	}
}
