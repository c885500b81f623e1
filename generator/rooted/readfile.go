package rooted

import (
	"errors"
	"io"

	"github.com/spf13/afero"
)

// MostText is more than any text of a shop takes, in bytes: an entry, a draft, a form.
const MostText = 64 << 20

// ErrNoFile says that something else stands where a file should.
var ErrNoFile = errors.New("this is a pipe or a device and not a file; take it out of the folder")

// ErrTooLarge says that a file is larger than one of its kind can be.
var ErrTooLarge = errors.New("this file is too large for what it should be; take it out of the folder")

// ReadFile reads a file that may have come along with somebody else's folder, of so many
// bytes at most. A pipe would keep it waiting for ever, so it looks before it opens; a huge
// file would fill the memory, so it reads no more than one byte too much.
func ReadFile(fsys afero.Fs, name string, most int64) (data []byte, err error) {
	info, err := fsys.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, ErrNoFile
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	data, err = io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = ErrTooLarge
	}
	return data, err
}
