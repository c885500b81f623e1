package logbook

import (
	"bytes"
	"sync"

	"github.com/spf13/afero"
	"go.yaml.in/yaml/v4"
)

// A finder finds the line on which a field stands by reading its file once
// more. That is for the few files with something wrong in them; to remember the
// lines of all the others would take more room than the facts themselves.
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
	info, err := lstat(f.fs, file)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	var data bytes.Buffer
	if err := load(f.fs, file, &data); err != nil {
		return nil
	}
	s := &source{rules: f.rules, path: file} // what is wrong in it is told already
	lines := map[string]int{}
	if top, _ := s.split(data.Bytes()); top != nil {
		note(lines, top, "")
	}
	return lines
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
