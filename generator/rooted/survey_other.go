//go:build !linux && !darwin

package rooted

import (
	"errors"
	"io"
	"io/fs"
	"path/filepath"
)

// held is nothing here: every folder is opened by its whole path.
type held struct{}

// start makes sure that there is a folder to be surveyed.
func (s *survey) start(_ *folder, dir string) error {
	opened, err := s.fs.root.Open(dir)
	if err != nil {
		return err
	}
	_, err = opened.Readdirnames(1)
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return errors.Join(err, opened.Close())
}

func (f *folder) leave() {}

// visit notes what is in a folder. One that went meanwhile is empty.
func (s *survey) visit(f *folder, _ []byte) error {
	infos, err := s.read(filepath.Clean(filepath.FromSlash(f.prefix)))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, info := range infos {
		path := f.prefix + info.Name()
		if info.IsDir() {
			if s.skip(path) {
				continue
			}
			f.below = append(f.below, &folder{above: f, prefix: path + "/"})
		}
		f.marks = append(f.marks, Mark{
			Path: path, Mode: info.Mode(), Size: info.Size(), Written: info.ModTime().UnixNano(),
		})
	}
	s.add(f.below)
	return nil
}

func (s *survey) read(dir string) (infos []fs.FileInfo, err error) {
	opened, err := s.fs.root.Open(dir)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, opened.Close()) }()
	return opened.Readdir(-1)
}
