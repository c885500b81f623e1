package testenv

import (
	"errors"
	"io/fs"

	"github.com/spf13/afero"
)

// Piped says of one file that it is a pipe. To open that is an error here, since a
// test would wait for ever; Opened tells whether anybody tried.
type Piped struct {
	afero.Fs
	Pipe   string
	Opened bool
}

// Stat is afero.Fs's.
func (p *Piped) Stat(name string) (fs.FileInfo, error) {
	info, err := p.Fs.Stat(name)
	if name == p.Pipe && err == nil {
		return pipe{info}, nil
	}
	return info, err
}

// Open is afero.Fs's.
func (p *Piped) Open(name string) (afero.File, error) {
	if name == p.Pipe {
		p.Opened = true
		return nil, errors.New("a pipe was opened")
	}
	return p.Fs.Open(name)
}

type pipe struct{ fs.FileInfo }

func (pipe) Mode() fs.FileMode { return fs.ModeNamedPipe }
