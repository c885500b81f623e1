//go:build !linux && !darwin

package rooted

import "io/fs"

// StatOf is what the system tells of a file in what it was described by.
func StatOf(path string, info fs.FileInfo) Stat {
	return Stat{Path: path, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano()}
}
