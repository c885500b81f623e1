package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// ownFolders are the shop's own folders; a site in one of them would be taken
// for work, or work for the site.
var ownFolders = []string{"machines", "sheets", "handovers", "themes"}

// CheckPlace says whether a site may go to outDir: not into the shop folder
// itself or one of its own folders, not into a folder that holds the shop, not
// over a file, a whole disk or a home folder. Links are followed first, and
// folders are told apart by what they are, not by how they are spelled. outDir
// need not exist. What may not be is a *Refusal.
func CheckPlace(shopDir, outDir string) error {
	shop, err := realPath(shopDir)
	if err != nil {
		return err
	}
	if info, err := os.Stat(shop); err != nil || !info.IsDir() {
		return &Refusal{Says: fmt.Sprintf(sayNoShop, shopDir), Cause: err}
	}
	parent, name, err := Place(outDir)
	if err != nil {
		return err
	}
	out := filepath.Join(parent, name)
	switch home := homeFolder(); {
	case home != "" && within(home, out):
		return refuse(sayHome, outDir)
	case within(out, shop) && within(shop, out):
		return refuse(sayShop, outDir)
	case within(shop, out):
		return refuse(sayHolds, outDir, shopDir)
	}
	return checkOwn(shop, out, outDir)
}

// Place is where a site is to be written: the real path of the folder above it,
// which may not exist yet, and the name in it. Open wants a file system rooted
// at that folder, and that name.
func Place(outDir string) (parent, name string, err error) {
	out, err := realPath(outDir)
	if err != nil {
		return "", "", err
	}
	if parent = filepath.Dir(out); parent == out {
		return "", "", refuse(sayRoot, outDir)
	}
	if info, err := os.Stat(out); err == nil && !info.IsDir() {
		return "", "", refuse(sayFile, outDir)
	}
	return parent, filepath.Base(out), nil
}

// checkOwn refuses a shop's own folder, what lies in it, and, should it be a
// link to elsewhere, what holds it.
func checkOwn(shop, out, outDir string) error {
	first := firstBelow(out, shop)
	for _, own := range ownFolders {
		dir := filepath.Join(shop, own)
		held := within(out, dir)
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			held = held || within(real, out)
		}
		if held || strings.EqualFold(first, own) {
			return refuse(sayOwn, outDir, dir)
		}
	}
	return nil
}

// realPath is an absolute path with its links followed, as far as it exists.
func realPath(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("cannot make out where %s is: %w", path, err)
	}
	real, err := filepath.EvalSymlinks(abs)
	switch {
	case err == nil:
		return real, nil
	case isFileAbove(abs):
		return "", &Refusal{Says: fmt.Sprintf(sayFile, filepath.Dir(abs)), Cause: err}
	case !errors.Is(err, fs.ErrNotExist):
		return "", fmt.Errorf("cannot follow %s: %w", path, err)
	}
	if _, err := os.Lstat(abs); err == nil {
		return "", refuse(sayDangling, path)
	}
	above, err := realPath(filepath.Dir(abs))
	if err != nil {
		return "", err
	}
	return filepath.Join(above, filepath.Base(abs)), nil
}

// isFileAbove says whether what should be the folder of a path is a file.
func isFileAbove(abs string) bool {
	info, err := os.Stat(filepath.Dir(abs))
	return err == nil && !info.IsDir()
}

// within says whether a real path is a folder or lies somewhere below it.
func within(path, folder string) bool {
	for {
		if isSame(path, folder) {
			return true
		}
		above := filepath.Dir(path)
		if above == path {
			return false
		}
		path = above
	}
}

// isSame says whether two real paths lead to one folder, which may be mounted twice.
func isSame(one, other string) bool {
	if one == other {
		return true
	}
	have, _ := os.Stat(one) // what is not there is the same as nothing
	want, _ := os.Stat(other)
	return os.SameFile(have, want)
}

// firstBelow is the first name on the way from a folder down to a path, or ""
// when the path does not lie below the folder.
func firstBelow(path, folder string) string {
	for {
		above := filepath.Dir(path)
		if above == path {
			return ""
		}
		if isSame(above, folder) {
			return filepath.Base(path)
		}
		path = above
	}
}

// homeFolder is the real path of the home folder, or "" when there is none.
func homeFolder() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	real, _ := filepath.EvalSymlinks(home) // "" where it is not there
	return real
}
