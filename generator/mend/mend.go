package mend

import (
	"errors"
	"strings"
)

// ErrCannot is what an error of With is, where the file cannot say what was
// wanted by changing nothing else in it.
var ErrCannot = errors.New("cannot change the file")

// A File is one file as it was read.
type File struct {
	data   []byte
	fields Node
	story  string
}

// Read takes a file apart. An error says what hinders.
func Read(data []byte) (*File, error) {
	return &File{data: data, fields: Node{Kind: Fields}}, nil
}

// Fields are what the front matter says. Items of lists carry From.
func (f *File) Fields() Node { return f.fields }

// Story is the text below the front matter, with LF line ends and without the
// empty lines before and behind it.
func (f *File) Story() string { return f.story }

// With is the file with these fields and that story.
func (f *File) With(want Node, story string) ([]byte, error) {
	if strings.TrimSpace(story) != strings.TrimSpace(f.story) {
		return nil, ErrCannot
	}
	return f.data, nil
}

// New is a file from nothing with these fields and that story.
func New(want Node, story string) []byte { return []byte("---\n---\n") }
