package frontmatter

import (
	"errors"
	"sort"

	"go.yaml.in/yaml/v4"
)

// A File is one file as it was read.
type File struct {
	data  []byte
	lines lines
	front span   // between the two lines of hyphens, in the text of the lines
	body  int    // where the text below begins
	top   *value // of kind Fields
}

// Read takes a file apart. The error is a *Hindrance, and says what hinders.
func Read(data []byte) (*File, error) {
	text, err := sound(data)
	if err != nil {
		return nil, err
	}
	f := &File{data: data, lines: text}
	if f.front, f.body, err = delimited(text.text); err != nil {
		return nil, err
	}
	block := text.text[f.front.start:f.front.end]
	var root yaml.Node
	if err := yaml.Load([]byte(block), &root); err != nil && !onlyComments(block) {
		return nil, hinders(text.line(f.front.start)+gaveUp(err), "problem.yaml")
	}
	l := locator{text: text.text[:f.front.end], first: text.line(f.front.start)}
	if f.top, err = l.document(&root, f.front.start); err != nil {
		return nil, err
	}
	return f, nil
}

// Fields are what the front matter says. Items of lists carry From.
func (f *File) Fields() Node { return f.top.node() }

// Story is the text below the front matter, with LF line ends and without the
// empty lines before and behind it.
func (f *File) Story() string { return storyOf(f.lines.text[f.body:]) }

// With is the file with these fields and that story. What is the same stays byte
// for byte. A field that is not wanted is removed, with its own line's comment,
// and so is one whose text is empty; comment lines above it stay. A new one goes
// to the end of its mapping, in the style of its neighbors. An item with From
// keeps its place, those whose From is missing are removed, and new ones come
// after the last.
//
// What is given has been read back, and says what was wanted. Where that cannot
// be, the error is a *Cannot and nothing is given.
func (f *File) With(want Node, story string) ([]byte, error) {
	if at, bad := impossible(want, f.top, ""); bad || want.Kind != Fields {
		return nil, &Cannot{Field: at}
	}
	var refused error
	for _, always := range []bool{false, true} {
		c := changer{text: f.lines.text, bottom: f.front.end, writer: yamlWriter{always, f.step()}}
		c.fields(f.top, want, "")
		c.story(f.body, story)
		if len(c.edits) == 0 {
			return f.data, nil
		}
		changed, err := f.lines.spliced(c.edits)
		if err == nil {
			err = says(changed, want, story)
		}
		if err == nil {
			return changed, nil
		}
		refused = f.culprit(c.edits, err)
	}
	return nil, refused
}

// says tells what a file that was changed does not say as it was wanted.
func says(changed []byte, want Node, story string) error {
	f, err := Read(changed)
	if err != nil {
		return err
	}
	if at, differ := differs(f.Fields(), want, ""); differ {
		return &Cannot{Field: at}
	}
	if f.Story() != storyOf(story) {
		return &Cannot{}
	}
	return nil
}

// culprit names the field whose change made the file one that cannot be read.
func (f *File) culprit(edits []edit, err error) error {
	var known *Cannot
	if errors.As(err, &known) {
		return known
	}
	// The first changes up to the one that hinders: those before it can be read.
	n := sort.Search(len(edits)-1, func(n int) bool {
		changed, err := f.lines.spliced(edits[:n+1])
		if err == nil {
			_, err = Read(changed)
		}
		return err != nil
	})
	return &Cannot{Field: edits[n].path, Cause: err}
}

// step is by how much the file indents the items of its lists.
func (f *File) step() int {
	text := f.lines.text
	for _, c := range f.top.children {
		if v := c.value; v.kind == List && !v.flow && len(v.children) > 0 {
			return v.start - lineStart(text, v.start) - (c.start - lineStart(text, c.start))
		}
	}
	return usualStep
}
