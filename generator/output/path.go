package output

import (
	"io/fs"
	"path"
	"strings"
	"unicode"

	"asleft/generator/portable"
)

// PortablePath says what is wrong with a path that is to be a file's on every system
// that a site may be written on or copied to, as a *Refusal.
func PortablePath(p string) error {
	if !fs.ValidPath(p) || p == "." {
		return refuse(sayPath, p, "it has to be a path below the site's folder, with / between its parts")
	}
	for part := range strings.SplitSeq(p, "/") {
		if why := unportable(part); why != "" {
			return refuse(sayPath, p, why)
		}
	}
	if portable.Fold(p) == portable.Fold(earlierName) {
		return refuse(sayPath, p, "this program kept its list of files there")
	}
	return nil
}

// unportable says why one name would be refused by some system, or is "". The
// rules are those of Microsoft's "Naming Files, Paths, and Namespaces", and 255
// bytes is what a name may have on Linux (from memory).
func unportable(part string) string {
	if strings.IndexFunc(part, unicode.IsControl) >= 0 {
		return "it holds a character that cannot be seen"
	}
	if i := strings.IndexAny(part, `<>:"\|?*`); i >= 0 {
		return "Windows does not allow " + part[i:i+1] + " in a name"
	}
	if strings.HasSuffix(part, ".") || strings.HasSuffix(part, " ") {
		return "Windows does not allow a name to end in a period or a space"
	}
	if portable.Device(part) {
		return "Windows keeps that name for a device"
	}
	if len(part) > 255 {
		return "one of its parts is too long"
	}
	return ""
}

// above are the folders of a path, the nearest first, without the top.
func above(p string) []string {
	var dirs []string
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		dirs = append(dirs, dir)
	}
	return dirs
}
