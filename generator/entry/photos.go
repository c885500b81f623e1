package entry

import (
	"bytes"
	"fmt"
	"path"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/photo"
)

// A Shot is a photo on its way into a machine's folder.
type Shot struct {
	Source string // the file that it came from, without its folder
	Data   []byte
	Taken  time.Time // by the clock of the shop
	Ending string    // ".jpg" or ".png"
}

// Look takes in a photo's bytes as they are. Its time is when it was taken: a
// moment of a known zone goes by the shop's clock, and a camera without one is
// taken to show the shop's clock; without any time in the photo it is when the
// file was written. A nil zone means that the shop has not said where it is:
// then the camera's own clock counts. The error is photo.Look's.
func Look(source string, data []byte, written time.Time, zone *time.Location) (Shot, error) {
	info, err := photo.Look(data)
	if err != nil {
		return Shot{}, err
	}
	s := Shot{Source: source, Data: data, Taken: takenAt(info, written, zone), Ending: ".jpg"}
	if info.Format == "png" {
		s.Ending = ".png"
	}
	return s, nil
}

func takenAt(info photo.Info, written time.Time, zone *time.Location) time.Time {
	at := info.Taken
	switch {
	case at.IsZero():
		at = written
	case !info.HasOffset && zone != nil:
		return time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Second(), 0, zone)
	}
	if zone != nil {
		at = at.In(zone)
	}
	return at
}

// Stem is the photo's name without its ending: 2026-03-02-183012.
func (s Shot) Stem() string { return s.Taken.Format("2006-01-02-150405") }

// KeepPhoto puts a photo into the machine's photos folder under its time, or
// the next free name. Where a file of the machine has the same bytes, that one
// is it, and nothing is written: there is true. The name is as an entry has it.
func KeepPhoto(folder afero.Fs, key string, s Shot) (name string, there bool, err error) {
	dir := photosOf(key)
	err = locked(folder, func() error {
		clearAside(folder, dirOf(key), photosOf(key))
		for _, d := range []string{dir, dirOf(key)} {
			if name, err = sameBytes(folder, d, s.Data); err != nil || name != "" {
				there = name != ""
				return err
			}
		}
		if err := makeDir(folder, dir); err != nil {
			return err
		}
		name, err = nextFree(folder, dir, s.Stem(), s.Ending, s.Data)
		name = path.Base(name)
		return err
	})
	return name, there, err
}

// sameBytes is the file of a folder that holds exactly these bytes.
func sameBytes(folder afero.Fs, dir string, data []byte) (string, error) {
	infos, err := afero.ReadDir(folder, dir)
	if err != nil {
		if exists, e := afero.DirExists(folder, dir); e == nil && !exists {
			return "", nil
		}
		return "", fmt.Errorf("cannot read the folder %s: %w", dir, err)
	}
	for _, i := range infos {
		if !i.Mode().IsRegular() || i.Size() != int64(len(data)) || strings.HasPrefix(i.Name(), ".") {
			continue
		}
		same, err := holds(folder, path.Join(dir, i.Name()), data)
		if err != nil {
			return "", err
		}
		if same {
			return i.Name(), nil
		}
	}
	return "", nil
}

func holds(folder afero.Fs, name string, data []byte) (bool, error) {
	there, err := afero.ReadFile(folder, name)
	if err != nil {
		return false, fmt.Errorf("cannot read %s: %w", name, err)
	}
	return bytes.Equal(there, data), nil
}
