package logbook

import (
	"bytes"
	"path"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// spacedImages reads images whose file names have spaces in them, as phones and
// cameras write them: ![a seal](oil seal (1).jpg "torn"). CommonMark wants angle
// brackets around such a name and takes it for plain text without them; the page
// would then show marks instead of the photo. What CommonMark reads is left to it.
type spacedImages struct{}

func (spacedImages) Trigger() []byte { return []byte{'!'} }

func (spacedImages) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	_, start := block.Position()
	alt, ok := imageLabel(block)
	if !ok {
		return nil
	}
	line, _ := block.PeekLine()
	name, title, size := spacedName(line[1:])
	if size == 0 {
		return nil
	}
	block.Advance(1 + size)
	link := ast.NewLink()
	link.Destination, link.Title = name, title
	img := ast.NewImage(link)
	img.SetPos(start.Start)
	img.AppendChild(img, ast.NewString([]byte(strings.Join(strings.Fields(plain(withoutComments(alt))), " "))))
	return img
}

// longestLabel is how long the text of an image may be (CommonMark 0.31.2, 6.3).
const longestLabel = 999

// imageLabel goes from ![ to the bracket that stands before the file's name, and
// gives the text in between.
func imageLabel(block text.Reader) (label []byte, ok bool) {
	line, _ := block.PeekLine()
	if !bytes.HasPrefix(line, []byte("![")) {
		return nil, false
	}
	block.Advance(2)
	for deep := 1; len(label) <= longestLabel; {
		line, _ := block.PeekLine()
		if line == nil {
			return nil, false
		}
		for i := 0; i < len(line); i++ {
			switch line[i] {
			case '\\':
				i++
			case '[':
				deep++
			case ']':
				deep--
			}
			if deep == 0 {
				if i+1 >= len(line) || line[i+1] != '(' {
					return nil, false
				}
				block.Advance(i + 1)
				label = append(label, line[:i]...)
				return label, len(label) <= longestLabel
			}
		}
		label = append(label, line...)
		block.AdvanceLine()
	}
	return nil, false
}

// What is looked at behind the bracket: longer names no system takes, and more
// brackets than that no name has.
const (
	longestTarget = 600
	mostClosing   = 8
)

// spacedName takes a file's name with spaces, and the title behind it if there is
// one, from the text behind the opening bracket. The size is what they take up
// with the closing bracket; 0 where it is not such a name. A name ends where a
// photo's ending is followed by the bracket; one without such an ending, where the
// brackets in it are even.
func spacedName(rest []byte) (name, title []byte, size int) {
	line, _, _ := bytes.Cut(rest, nl)
	line = line[:min(len(line), longestTarget)]
	even, tries, deep := 0, 0, 0
	for i := 0; i < len(line) && tries < mostClosing; i++ {
		switch line[i] {
		case '\\':
			i++
		case '(':
			deep++
		case ')':
			tries++
			deep--
			if deep < 0 && even == 0 {
				even = i + 1
			}
			name, title := nameAndTitle(line[:i])
			if PhotoEnding(string(name)) {
				if !hasSpace(name) {
					return nil, nil, 0
				}
				return name, title, i + 1
			}
		}
	}
	if even == 0 {
		return nil, nil, 0
	}
	name, title = nameAndTitle(line[:even-1])
	if !hasSpace(name) || inBrackets(name) {
		return nil, nil, 0
	}
	return name, title, even
}

func hasSpace(name []byte) bool { return bytes.ContainsAny(name, " \t") && name[0] != '<' }

// inBrackets tells whether it is a name without spaces and a title in brackets,
// which CommonMark reads.
func inBrackets(target []byte) bool {
	_, title, _ := bytes.Cut(target, []byte(" "))
	title = bytes.TrimSpace(title)
	return len(title) > 1 && title[0] == '(' && title[len(title)-1] == ')'
}

// nameAndTitle takes a title in quotes off the end of an image's target.
func nameAndTitle(target []byte) (name, title []byte) {
	target = bytes.TrimSpace(target)
	if len(target) == 0 {
		return nil, nil
	}
	quote := target[len(target)-1]
	if quote != '"' && quote != '\'' {
		return target, nil
	}
	at := bytes.Index(target, []byte{' ', quote})
	if at < 0 || at+2 >= len(target) {
		return target, nil
	}
	return bytes.TrimSpace(target[:at]), target[at+2 : len(target)-1]
}

// photoEndings are those of the files that cameras, phones and scanners write.
var photoEndings = []string{".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".heic", ".heif", ".webp", ".gif", ".tif", ".tiff", ".bmp", ".avif", ".dng"}

// PhotoEnding tells whether a file's name ends as a photo's does, whether this
// program reads that kind or not.
func PhotoEnding(name string) bool {
	return slices.Contains(photoEndings, strings.ToLower(path.Ext(name)))
}
