package output

import (
	"io/fs"
	"syscall"
)

// more adds what only the system tells of a file.
func (s *Stat) more(info fs.FileInfo) {
	if told, ok := info.Sys().(*syscall.Stat_t); ok {
		s.Changed, s.Inode = told.Ctimespec.Nano(), told.Ino
	}
}
