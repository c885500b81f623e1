package rooted

import (
	"io/fs"
	"syscall"
)

// StatOf is what the system tells of a file in what it was described by.
func StatOf(path string, info fs.FileInfo) Stat {
	s := Stat{Path: path, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano()}
	if more, ok := info.Sys().(*syscall.Stat_t); ok {
		s.Changed, s.Inode = more.Ctim.Nano(), more.Ino
	}
	return s
}
