package output

import (
	"io/fs"

	"asleft/generator/rooted"
)

// more adds what only the system tells of a file.
func (s *Stat) more(info fs.FileInfo) {
	if told, ok := info.(rooted.Stamped); ok {
		s.Changed, s.Inode = told.Stamp()
	}
}
