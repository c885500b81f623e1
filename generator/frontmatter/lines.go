package frontmatter

import (
	"cmp"
	"errors"
	"slices"
	"sort"
	"strings"
)

// lines are a file's text with LF line ends, and the ends that the file has in
// their place.
type lines struct {
	mark string // the byte-order mark, or nothing
	text string
	ends []string // of each line that has one
	at   []int    // where in the text each of them stands
	end  string   // that of a new line
}

func split(data string) lines {
	var l lines
	if strings.HasPrefix(data, byteOrderMark) {
		l.mark, data = byteOrderMark, data[len(byteOrderMark):]
	}
	var text strings.Builder
	count := map[string]int{}
	for data != "" {
		i := strings.IndexAny(data, "\r\n")
		if i < 0 {
			text.WriteString(data)
			break
		}
		end := data[i : i+1]
		if strings.HasPrefix(data[i:], "\r\n") {
			end = "\r\n"
		}
		text.WriteString(data[:i])
		l.ends, l.at = append(l.ends, end), append(l.at, text.Len())
		text.WriteByte('\n')
		data = data[i+len(end):]
		count[end]++
	}
	l.text = text.String()
	l.end = "\n"
	for _, end := range []string{"\r\n", "\r"} {
		if count[end] > count[l.end] {
			l.end = end
		}
	}
	return l
}

// line is the number of the line of a place in the text, counted from 1.
func (l lines) line(at int) int { return sort.SearchInts(l.at, at) + 1 }

// An edit puts other text in the place of a part of it.
type edit struct {
	span
	text string
	path string // of the field that it is for
}

var errOverlap = errors.New("two changes of one place")

// spliced is the file with the edits done. Its own line ends stay.
func (l lines) spliced(edits []edit) ([]byte, error) {
	edits = slices.Clone(edits)
	// What is put in at a place stands before what is taken out there; of two that
	// are put in at one place the first stays the first.
	slices.SortStableFunc(edits, func(a, b edit) int {
		return cmp.Or(cmp.Compare(a.start, b.start), cmp.Compare(min(a.end-a.start, 1), min(b.end-b.start, 1)))
	})
	out := []byte(l.mark)
	done := 0
	for _, e := range edits {
		if e.start < done || e.end < e.start || e.end > len(l.text) {
			return nil, errOverlap
		}
		e = e.smallest(l.text)
		out = l.kept(out, done, e.start)
		out = append(out, strings.ReplaceAll(e.text, "\n", l.end)...)
		done = e.end
	}
	return l.kept(out, done, len(l.text)), nil
}

// smallest is the edit without what it would leave as it was at both sides.
func (e edit) smallest(text string) edit {
	old := text[e.start:e.end]
	n := 0
	for n < len(old) && n < len(e.text) && old[n] == e.text[n] {
		n++
	}
	e.start, e.text, old = e.start+n, e.text[n:], old[n:]
	for old != "" && e.text != "" && old[len(old)-1] == e.text[len(e.text)-1] {
		e.end, e.text, old = e.end-1, e.text[:len(e.text)-1], old[:len(old)-1]
	}
	return e
}

// kept adds a part of the text to the file, with its line ends.
func (l lines) kept(out []byte, from, to int) []byte {
	for i := sort.SearchInts(l.at, from); i < len(l.at) && l.at[i] < to; i++ {
		out = append(append(out, l.text[from:l.at[i]]...), l.ends[i]...)
		from = l.at[i] + 1
	}
	return append(out, l.text[from:to]...)
}
