package press

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"

	"asleft/generator/rooted"

	"github.com/spf13/afero"
)

// rescue moves to the site what is in the old one and not the press's, and did
// not come along: what somebody put there in the moment between the look through
// the folder and the swap. A file that the site has already, but with other
// content, gets a name of its own beside it. The ledger is the old one's; what
// lay there is returned.
func rescue(fsys afero.Fs, old, site string, l ledger) (items []rooted.Mark, err error) {
	items, err = walk(fsys, old)
	if err != nil {
		return nil, fmt.Errorf("cannot look through %s: %w", old, err)
	}
	ours := l.folders()
	for _, it := range items {
		_, listed := l[it.Path]
		if listed || it.Path == ledgerName || it.Mode.IsDir() && ours[it.Path] {
			continue
		}
		if err := rescueItem(fsys, old, site, it); err != nil {
			return nil, fmt.Errorf("cannot carry over %s to %s: %w", path.Join(old, it.Path), site, err)
		}
	}
	return items, nil
}

func rescueItem(fsys afero.Fs, old, site string, it rooted.Mark) error {
	from, to := path.Join(old, it.Path), path.Join(site, it.Path)
	if it.Mode.IsDir() {
		return fsys.MkdirAll(to, it.Mode.Perm())
	}
	if came, err := cameAlong(fsys, from, site, it); err != nil || came {
		return err
	}
	to, err := freeName(fsys, to)
	if err != nil {
		return err
	}
	if err := fsys.MkdirAll(path.Dir(to), 0o755); err != nil {
		return err
	}
	return fsys.Rename(from, to)
}

// cameAlong says whether the site has an item of the old one: the same, or one
// that its owner wrote later.
func cameAlong(fsys afero.Fs, from, site string, it rooted.Mark) (bool, error) {
	to := path.Join(site, it.Path)
	same, err := sameFile(fsys, from, to)
	if err != nil || same {
		return same, err
	}
	info, err := lstat(fsys, to)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil || !info.ModTime().After(writtenAt(it)) {
		return false, err
	}
	l, err := readLedger(fsys, site)
	_, listed := l[it.Path]
	return !listed, err
}

// freeName is the name itself if nothing has it, or one made from it.
func freeName(fsys afero.Fs, name string) (string, error) {
	for try, n := name, 1; ; n++ {
		if _, err := lstat(fsys, try); errors.Is(err, fs.ErrNotExist) {
			return try, nil
		} else if err != nil {
			return "", err
		}
		try = fmt.Sprintf("%s.kept-%d", name, n)
	}
}

// sameFile says whether two names are of one file, or of two that are alike.
func sameFile(fsys afero.Fs, a, b string) (bool, error) {
	infoA, err := lstat(fsys, a)
	if err != nil {
		return false, err
	}
	infoB, err := lstat(fsys, b)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil || os.SameFile(infoA, infoB) {
		return err == nil, err
	}
	if infoA.Mode().Type() != infoB.Mode().Type() {
		return false, nil
	}
	if infoA.Mode()&fs.ModeSymlink != 0 {
		return sameTarget(fsys, a, b)
	}
	return infoA.Mode().IsRegular() && infoA.Size() == infoB.Size() && sameBytes(fsys, a, b), nil
}

func sameTarget(fsys afero.Fs, a, b string) (bool, error) {
	links, ok := fsys.(afero.LinkReader)
	if !ok {
		return false, nil
	}
	targetA, err := links.ReadlinkIfPossible(a)
	if err != nil {
		return false, err
	}
	targetB, err := links.ReadlinkIfPossible(b)
	return targetA == targetB, err
}

// sameBytes compares two files of one size; one that cannot be read is not the
// same as anything.
func sameBytes(fsys afero.Fs, a, b string) bool {
	fileA, err := fsys.Open(a)
	if err != nil {
		return false
	}
	defer func() { _ = fileA.Close() }() // only read
	fileB, err := fsys.Open(b)
	if err != nil {
		return false
	}
	defer func() { _ = fileB.Close() }() // only read
	bufA, bufB := make([]byte, 32<<10), make([]byte, 32<<10)
	for {
		n, errA := io.ReadFull(fileA, bufA)
		m, errB := io.ReadFull(fileB, bufB)
		if !bytes.Equal(bufA[:n], bufB[:m]) {
			return false
		}
		if errA != nil || errB != nil {
			return isEnd(errA) && isEnd(errB)
		}
	}
}

func isEnd(err error) bool { return errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) }

// clearOld removes an old site, its ledger last: while anything of the press's
// is left there, a later run can tell it from what is not. (Doing it on several
// cores was tried on 13,000 files and gained nothing: the disk takes them in turn.)
func clearOld(fsys afero.Fs, old string) error {
	names, err := list(fsys, old)
	if err != nil {
		return fmt.Errorf("cannot look into %s: %w", old, err)
	}
	for _, name := range names {
		if name == ledgerName {
			continue
		}
		if err := removeTree(fsys, path.Join(old, name)); err != nil {
			return err
		}
	}
	return removeTree(fsys, old)
}

// removeTree removes a file or a folder with all in it. Somebody's folder that
// may not be written to, which came over with its mode, is opened up first.
func removeTree(fsys afero.Fs, name string) error {
	err := fsys.RemoveAll(name)
	if errors.Is(err, fs.ErrPermission) && openUp(fsys, name) == nil {
		err = fsys.RemoveAll(name)
	}
	if err != nil {
		return fmt.Errorf("cannot remove %s: %w", name, err)
	}
	return nil
}

// openUp lets the owner into a folder and all those below it. It goes down as it
// opens them, for one that is shut cannot be looked into.
func openUp(fsys afero.Fs, dir string) error {
	info, err := lstat(fsys, dir)
	if err != nil || !info.IsDir() {
		return err
	}
	if err := fsys.Chmod(dir, info.Mode().Perm()|0o700); err != nil {
		return err
	}
	names, err := list(fsys, dir)
	for _, name := range names {
		err = errors.Join(err, openUp(fsys, path.Join(dir, name)))
	}
	return err
}
