package rooted

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"golang.org/x/sys/windows"
)

// patience is how long a file that another program has open is waited for: scanners
// and sync programs let go in a second or two, a person does not.
const patience = 4 * time.Second

// insist does something with files again while another program has one of them open.
func (f *FS) insist(do func() error, names ...string) error {
	err := do()
	if err == nil {
		return nil
	}
	for until, pause := time.Now().Add(patience), time.Millisecond; time.Now().Before(until); pause = min(2*pause, 100*time.Millisecond) {
		why := f.why(err, names)
		if !errors.Is(why, ErrHeld) {
			return why
		}
		time.Sleep(pause)
		if err = do(); err == nil {
			return nil
		}
	}
	return f.why(err, names)
}

// why adds to an error what stands in the way, if that can be told. Windows says
// "access is denied" of a file that somebody has open as of one that is marked or
// not the user's, so the files are looked at.
func (f *FS) why(err error, names []string) error {
	switch {
	case errors.Is(err, windows.ERROR_SHARING_VIOLATION), errors.Is(err, windows.ERROR_LOCK_VIOLATION), errors.Is(err, windows.ERROR_USER_MAPPED_FILE):
		return fmt.Errorf("%w: %w", ErrHeld, err)
	case len(names) == 0 && errors.Is(err, windows.ERROR_DIR_NOT_EMPTY): // a file in it that is removed is there until it is let go
		return fmt.Errorf("%w: %w", ErrHeld, err)
	case !errors.Is(err, fs.ErrPermission):
		return err
	}
	for _, name := range names {
		if f.isHeld(name) {
			return fmt.Errorf("%w: %w", ErrHeld, err)
		}
	}
	for _, name := range names {
		if info, e := f.root.Lstat(name); e == nil && info.Mode().IsRegular() && info.Mode().Perm()&0o200 == 0 {
			return fmt.Errorf("%w: %w", ErrReadOnly, err)
		}
	}
	return err
}

// isHeld asks for a file as the only one to have it, which is refused while anybody
// has it open. It opens by path, follows no link and does nothing with the file.
func (f *FS) isHeld(name string) bool {
	path, err := windows.UTF16PtrFromString(filepath.Join(f.dir, name))
	if err != nil {
		return false
	}
	handle, err := windows.CreateFile(path, windows.GENERIC_READ, 0, nil, windows.OPEN_EXISTING, windows.FILE_FLAG_OPEN_REPARSE_POINT, 0)
	if err == nil {
		_ = windows.CloseHandle(handle)
	}
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION)
}

// taken tells that a lock cannot be had because another is at it just now: its file
// is open in a way that lets nobody else in, or is going to be removed.
func taken(err error) bool {
	return errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, fs.ErrPermission)
}

// breathe lets the last holder of a lock be done with its file.
func breathe() { time.Sleep(2 * time.Millisecond) }

// A stamped is a FileInfo that knows what Go does not tell of a file here.
type stamped struct {
	fs.FileInfo
	changed int64
	number  uint64
}

func (s stamped) Stamp() (changed int64, number uint64) { return s.changed, s.number }

// Describe is Describer's.
func (f *FS) Describe(name string) (os.FileInfo, error) {
	name = local(name)
	info, err := f.lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return info, err
	}
	infos, err := f.List(filepath.Dir(name))
	if err != nil {
		return info, nil //nolint:nilerr // it is there, and less is told of it
	}
	for _, told := range infos {
		if told.Name() == info.Name() {
			return told, nil
		}
	}
	return info, nil
}

// tellMore adds to what lies in a folder when each file was last changed in any way,
// and its number on the disk: by them a file that has the size and date of another is
// known for another. Where the disk does not tell, nothing is added.
func tellMore(dir *os.File, infos []os.FileInfo) {
	told := map[string]stamped{}
	buffer := make([]byte, 64<<10) // the most that older disks take
	for class := uint32(windows.FileIdBothDirectoryRestartInfo); ; class = windows.FileIdBothDirectoryInfo {
		if err := windows.GetFileInformationByHandleEx(windows.Handle(dir.Fd()), class, &buffer[0], uint32(len(buffer))); err != nil {
			break // there is no more, or no telling
		}
		for entry := buffer; ; {
			next := binary.LittleEndian.Uint32(entry)
			name := make([]uint16, binary.LittleEndian.Uint32(entry[entryNameLength:])/2)
			for i := range name {
				name[i] = binary.LittleEndian.Uint16(entry[entryName+2*i:])
			}
			changed := windows.Filetime{LowDateTime: binary.LittleEndian.Uint32(entry[entryChanged:]), HighDateTime: binary.LittleEndian.Uint32(entry[entryChanged+4:])}
			told[windows.UTF16ToString(name)] = stamped{changed: changed.Nanoseconds(), number: binary.LittleEndian.Uint64(entry[entryNumber:])}
			if next == 0 {
				break
			}
			entry = entry[next:]
		}
	}
	for i, info := range infos {
		if s, ok := told[info.Name()]; ok && s.number != 0 {
			s.FileInfo = info
			infos[i] = s
		}
	}
}

// Where things stand in a FILE_ID_BOTH_DIR_INFO, in bytes.
const (
	entryChanged    = 32
	entryNameLength = 60
	entryNumber     = 96
	entryName       = 104
)
