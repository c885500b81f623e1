package entry

import (
	"errors"
	"fmt"
	"os"
	"path"
	"strconv"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// Drafts is the folder for entries that somebody began and that are in no log yet.
// Its name begins with a dot, so no reader of the shop folder looks into it.
const Drafts = ".asleft/drafts"

// mostDrafts is how many drafts one machine may have.
const mostDrafts = 100

// NewDraft begins a draft of a machine's entry in a folder for drafts, under the first
// free name: KEY.md, KEY-2.md.
func NewDraft(folder afero.Fs, dir, key string, data []byte) (name string, err error) {
	if err := folder.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	for n := 1; n <= mostDrafts; n++ {
		name := key + ".md"
		if n > 1 {
			name = key + "-" + strconv.Itoa(n) + ".md"
		}
		name = path.Join(dir, name)
		f, err := folder.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.Write(data)
		if err = errors.Join(err, f.Close()); err != nil {
			return "", errors.Join(err, folder.Remove(name))
		}
		return name, nil
	}
	return "", fmt.Errorf("%s: %w", dir, os.ErrExist)
}

// KeepDraft replaces what a draft says, all or nothing.
func KeepDraft(folder afero.Fs, name string, data []byte) error {
	aside := name + ".new"
	f, err := folder.OpenFile(aside, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	if err = rooted.WriteSynced(f, data); err == nil {
		err = folder.Rename(aside, name)
	}
	if err != nil {
		_ = folder.Remove(aside) // what is left of it is of no use
	}
	return err
}
