package main

import (
	"io"
	"unicode/utf8"
)

// A cleaned writer is what every command prints through, so that nothing which a
// name, a flag, a file or the system's own message holds can command the terminal
// or the log that it ends in: see printable. What is to be one line is made so
// where it is printed (oneLine), for here a line's end may be the program's own.
type cleaned struct {
	w    io.Writer
	rest []byte // the beginning of a character whose end has not come yet
}

func clean(s streams) streams {
	return streams{s.in, &cleaned{w: s.out}, &cleaned{w: s.err}}
}

// Write writes all whole characters there are.
func (c *cleaned) Write(data []byte) (int, error) {
	all := append(c.rest, data...)
	whole := len(all)
	for back := 1; back < utf8.UTFMax && back <= len(all); back++ {
		if at := len(all) - back; utf8.RuneStart(all[at]) {
			if !utf8.FullRune(all[at:]) {
				whole = at
			}
			break
		}
	}
	text := printable(string(all[:whole]))
	c.rest = append([]byte(nil), all[whole:]...)
	if _, err := io.WriteString(c.w, text); err != nil {
		return 0, err
	}
	return len(data), nil
}

// flush writes what was left over: half a character, which is none.
func (c *cleaned) flush() {
	if len(c.rest) > 0 {
		c.rest = nil
		_, _ = io.WriteString(c.w, string(utf8.RuneError)) // there is nobody left to tell
	}
}

// terminalOf is what a writer writes to in the end: for the bar, which goes back
// on its own line, and for an editor, which has the terminal to itself.
func terminalOf(w io.Writer) io.Writer {
	if c, ok := w.(*cleaned); ok {
		return c.w
	}
	return w
}
