package farend

import (
	"errors"
	"io/fs"
	"syscall"

	"asleft/generator/publish"
)

func isNotFolder(err error) bool { return errors.Is(err, syscall.ENOTDIR) }

// folderFault words what a file system said. What is not there, or there already, is
// left as it is: the caller asks for it.
func folderFault(err error, name string) error {
	var fault *publish.Fault
	switch {
	case errors.As(err, &fault):
		return fault
	case err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrExist):
		return err
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return publish.NewFault(err, "publish.disk-full")
	case errors.Is(err, syscall.EROFS):
		return publish.NewFault(err, "publish.read-only")
	case errors.Is(err, fs.ErrPermission):
		return publish.NewFault(err, "publish.no-right", "file", name)
	case isNotFolder(err), errors.Is(err, syscall.EISDIR):
		return publish.NewFault(err, "publish.in-the-way", "file", name)
	}
	return publish.NewFault(err, "publish.failed", "file", name, "said", err)
}
