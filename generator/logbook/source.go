package logbook

import (
	"bufio"
	"bytes"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"github.com/adrg/frontmatter"
	"go.yaml.in/yaml/v4"

	"asleft/generator/catalog"
)

// What a file of the shop folder may weigh. An evening's entry is a few
// kilobytes; a file past these is not a log entry, and reading it whole would
// cost more than it is worth.
const (
	maxFile  = 2 << 20   // bytes of a file
	maxFront = 64 << 10  // bytes of its front matter
	maxBody  = 256 << 10 // bytes of the text below it
	maxDepth = 12        // levels of lists and mappings in the front matter
)

// rules are what every file of a shop is read by.
type rules struct {
	words    *catalog.Catalog
	today    Date // later dates are problems; empty: no limit
	currency string
	digits   int            // decimals of money; -1 where the currency is not known
	zone     *time.Location // nil where shop.md does not name it
	systems  []string       // nil where shop.md could not be read: any goes
	leave    bool           // whether the bodies of entries are left in their files
}

// A source is one file while it is read: it gathers the file's problems.
type source struct {
	rules    *rules
	path     string
	problems []Problem
	unread   bool // its front matter could not be read at all
}

// report notes a problem by its catalog key.
func (s *source) report(at Place, key string, pairs ...any) {
	s.problems = append(s.problems, s.rules.problem(at, key, pairs...))
}

// problem words a problem. What was read goes into it on one line and cut
// short, for a problem is one line on the screen.
func (r *rules) problem(at Place, key string, pairs ...any) Problem {
	for i := 1; i < len(pairs); i += 2 {
		if text, ok := pairs[i].(string); ok && quotes[pairs[i-1].(string)] {
			pairs[i] = clip(text)
		}
	}
	return ProblemAt(r.words, at, key, pairs...)
}

// quotes are the places of the sentences that hold what somebody wrote.
var quotes = map[string]bool{"read": true, "field": true, "item": true, "key": true, "tag": true, "what": true}

// longest is how much of a text a message quotes, in letters.
const longest = 60

func clip(text string) string {
	if len(text) <= longest && !strings.ContainsFunc(text, odd) {
		return text
	}
	text = strings.Join(strings.Fields(text), " ")
	text = strings.Map(func(r rune) rune {
		if unseen(r) {
			return utf8.RuneError
		}
		return r
	}, text)
	if runes := []rune(text); len(runes) > longest {
		return string(runes[:longest]) + "..."
	}
	return text
}

// odd tells whether clip may have to change a letter of what a problem quotes.
func odd(r rune) bool { return r <= ' ' || r > '~' }

func (s *source) at(line int, field string) Place {
	return Place{File: s.path, Line: line, Field: shared(field)}
}

// read takes a file apart into the mapping of its front matter and its body, which
// still is part of the data. The mapping is nil where the front matter cannot be
// read; what is wrong with it is then among the source's problems.
func (s *source) read(data []byte) (*mapping, Body) {
	top, body := s.split(data)
	if top == nil {
		s.unread = true
		return nil, Body{}
	}
	return s.mapping(top, ""), s.sound(body)
}

// split gives the front matter, nil where it cannot be read, and the body. Of
// the data it keeps only the body.
func (s *source) split(data []byte) (*yaml.Node, Body) {
	text, ok := s.clean(data)
	if !ok {
		return nil, Body{}
	}
	closing, end, ok := s.delimiters(text)
	if !ok {
		return nil, Body{}
	}
	var root yaml.Node
	// The library is not shown the body, for it would copy it, and is lent a
	// reader, for it would make one.
	reader := readers.Get().(*bufio.Reader)
	defer readers.Put(reader)
	reader.Reset(bytes.NewReader(text[:end]))
	_, err := frontmatter.MustParse(reader, &root, format(closing))
	hidden := s.reportLost(text[:end], closing, err)
	if err != nil {
		if !hidden {
			s.reportYAML(err, front(text, closing))
		}
		return nil, Body{}
	}
	top := &root
	if root.Kind == yaml.DocumentNode && len(root.Content) == 1 {
		top = root.Content[0]
	}
	if !s.plain(top, "", 0) {
		return nil, Body{}
	}
	return top, bodyFrom(text, end)
}

// readers are of the size from which on the library does not make its own.
var readers = sync.Pool{New: func() any { return bufio.NewReader(nil) }}

var nl = []byte("\n")

// format is YAML between two lines of three hyphens, and nothing else. The
// library hands over the block alone, so the lines above it are put back as
// empty ones: the line numbers in every message are then the file's own.
func format(closing int) *frontmatter.Format {
	return frontmatter.NewFormat("---", "---", func(block []byte, into any) error {
		above := closing - bytes.Count(block, nl) - 1
		padded := slices.Concat(bytes.Repeat(nl, above), block)
		err := yaml.Load(padded, into)
		if err != nil && onlyComments(block) {
			return nil // an empty block is a mapping with nothing filled in
		}
		return err
	})
}

func onlyComments(block []byte) bool {
	for line := range bytes.Lines(block) {
		line = bytes.TrimSpace(line)
		if len(line) > 0 && line[0] != '#' {
			return false
		}
	}
	return true
}

// clean strips a byte-order mark, makes all line ends LF and refuses what no
// text file holds.
func (s *source) clean(data []byte) ([]byte, bool) {
	if len(data) > maxFile {
		s.report(s.at(0, ""), "problem.file-too-big", "max", "2 MB")
		return nil, false
	}
	text := bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(text, '\r') >= 0 {
		text = bytes.ReplaceAll(text, []byte("\r\n"), nl)
		text = bytes.ReplaceAll(text, []byte("\r"), nl)
	}
	line := 1
	for rest := text; len(rest) > 0; {
		if c := rest[0]; c >= ' ' && c <= '~' {
			rest = rest[1:]
			continue
		}
		r, size := utf8.DecodeRune(rest)
		switch {
		case r == utf8.RuneError && size == 1:
			s.report(s.at(line, ""), "problem.not-utf8")
			return nil, false
		case r == '\n':
			line++
		case unseen(r):
			s.report(s.at(line, ""), "problem.control-character", "code", codePoint(r))
			return nil, false
		}
		rest = rest[size:]
	}
	return text, true
}

// unseen tells whether a character is one that no text needs and that YAML,
// XML or a terminal takes for something else than text, or that has the text
// around it shown in another order than it was written in (the bidirectional
// embeddings, overrides and isolates of Unicode Standard Annex 9). Text of
// right-to-left scripts needs none of these.
func unseen(r rune) bool {
	switch {
	case r == '\n', r == '\t':
		return false
	case r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
		return true
	case r < ' ', r >= 0x7f && r < 0xa0, r == 0x2028, r == 0x2029, r == 0xfeff, r == 0xfffe, r == 0xffff:
		return true
	}
	return false
}

// delimiters finds the closing line of the front matter and refuses the two
// mistakes that the splitter would pass over in silence: a block that is never
// closed, and an indented --- that would end it early. The splitter trims
// every kind of space off a line, so the trimming here is the same.
// The body begins at end.
func (s *source) delimiters(text []byte) (closing, end int, ok bool) {
	opening, line, size := 0, 0, 0
	for raw := range bytes.Lines(text) {
		line++
		end += len(raw)
		trimmed := bytes.TrimSpace(raw)
		empty, rule := len(trimmed) == 0, string(trimmed) == "---"
		flush := bytes.HasPrefix(raw, []byte("---"))
		switch {
		case opening == 0 && empty:
		case opening == 0 && rule && flush:
			opening = line
		case opening == 0 && string(trimmed) == "+++":
			s.report(s.at(line, ""), "problem.toml")
			return 0, 0, false
		case opening == 0:
			s.report(s.at(line, ""), "problem.no-front-matter")
			return 0, 0, false
		case rule && !flush:
			s.report(s.at(line, ""), "problem.indented-rule")
			return 0, 0, false
		case rule && size > maxFront:
			s.report(s.at(opening, ""), "problem.front-matter-too-big", "max", "64 kB")
			return 0, 0, false
		case rule:
			return line, end, true
		default:
			size += len(raw)
		}
	}
	if opening == 0 {
		s.report(s.at(1, ""), "problem.no-front-matter")
	} else {
		s.report(s.at(opening, ""), "problem.unclosed-front-matter")
	}
	return 0, 0, false
}

// plain refuses what a shop folder has no use for and a hostile file may
// carry: anchors and aliases, tags, merge keys, nesting past any field, and
// characters that only an escape can bring in.
func (s *source) plain(n *yaml.Node, path string, depth int) bool {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		s.report(s.at(n.Line, path), "problem.alias")
		return false
	case n.Style&yaml.TaggedStyle != 0 || n.Tag == "!":
		s.report(s.at(n.Line, path), "problem.tag", "tag", n.Tag)
		return false
	case depth > maxDepth:
		s.report(s.at(n.Line, path), "problem.too-deep")
		return false
	}
	if i := strings.IndexFunc(n.Value, unseen); i >= 0 {
		r, _ := utf8.DecodeRuneInString(n.Value[i:])
		s.report(s.at(n.Line, path), "problem.control-character", "code", codePoint(r))
		return false
	}
	for _, c := range n.Content {
		if !s.plain(c, path, depth+1) {
			return false
		}
	}
	return true
}
