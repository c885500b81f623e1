package logbook

import (
	"strings"
	"testing"
)

// Each is a slip of the pen in the fields of an entry; the first of them is on
// line 4. What the library says of it is in the comments of yaml.go.
func TestSlipsOfThePen(t *testing.T) {
	for _, c := range []struct{ name, fields, says string }{
		{"quote never closed", "by: \"A\ncosts:\n  - {for: x, amount: 1}", "4:=yaml-quote"},
		{"quote closed by the next one", "private: A\nby: \"A\nran: 1\nmeter: \"12 h\"", "5:=yaml-quote"},
		{"quote in a list", "costs:\n  - for: a\n    amount: 1\n  - for: \"b\n    amount: 2", "7:=yaml-quote"},
		{"quote in braces", "costs:\n  - {for: \"a, amount: 1}\n  - {for: b, amount: 1}", "5:=yaml-quote"},
		{"single quote", "by: 'A\nran: 1", "4:=yaml-quote"},
		{"single quote closed by an apostrophe", "by: 'A\nprivate: it's dead", "4:=yaml-quote"},
		{"quoted name", "\"by: A\nran: 1", "4:=yaml-quote"},
		{"quote over two lines is fine", "private: \"A\n  B\"\nby A\nran: 1", "6:=yaml-no-colon"},
		{"quotes in a block of text are fine", "private: |\n  he said: \"go\n  and went\nby A\nran: 1", "7:=yaml-no-colon"},
		{"quotes in a comment are fine", "# note: \"x\nby A\nran: 1", "5:=yaml-no-colon"},
		{"inch marks are fine", "private: 5\" blade\nby A\nran: 1", "5:=yaml-no-colon"},
		{"apostrophe", "by: 'it's'", "4:=yaml-after-quote"},
		{"text after a quote", "private: \"3/8\" bolt\nby: A", "4:=yaml-after-quote"},
		{"bracket never closed", "changed: [{what: a}\nby: A", "4:=yaml-bracket"},
		{"wrong bracket", "changed:\n  - {what: a, affects: [b, c}\nby: A", "5:=yaml-bracket"},
		{"brace never closed", "changed:\n  - {what: a\n  - {what: b}", "5:=yaml-bracket"},
		{"comma missing", "changed:\n  - {what: \"a\" \"b\"}", "5:=yaml-bracket"},
		{"brackets in text are fine", "private: see [1\nby A\nran: 1", "5:=yaml-no-colon"},
		{"two colons", "by: A\nprivate: Note: do not", "5:=yaml-colon"},
		{"indented too far", "by: A\n  ran: 1", "5:=yaml-colon"},
		{"no space", "by:A\nran: 1", "4:=yaml-no-space"},
		{"no space, empty line below", "by:A\n\nran: 1", "4:=yaml-no-space"},
		{"no space at the end", "ran: 1\nby:A", "5:=yaml-no-space"},
		{"no space in an item", "costs:\n  - for:a\n    amount: 1", "5:=yaml-no-space"},
		{"no colon", "ran: 1\nby A\nmeter: 1 h", "5:=yaml-no-colon"},
		{"no colon at the end", "ran: 1\nby", "5:=yaml-no-colon"},
		{"tab before an item", "costs:\n\t- {for: x, amount: 1}", "5:=yaml-tab"},
		{"tab before a field", "costs:\n  - for: x\n\tamount: 1", "6:=yaml-tab"},
		{"at sign", "by: @A", "4:=yaml-start"},
		{"backtick", "by: `A`", "4:=yaml-start"},
		{"per cent sign", "by: %A", "4:=yaml-start"},
		{"greater than", "measured:\n  - {what: a, value: 1 V}\n  - what: b\n    value: > 3 V", "7:=yaml-start"},
		{"backslash", `by: "C:\photos"`, "4:=yaml-escape"},
		{"backslash x", `by: "\xzz"`, "4:=yaml-escape"},
		{"half a character", `by: "\uD800"`, "4:=yaml-escape"},
		{"out of line", "costs:\n  - for: x\n    amount: 1\n   tax: 2", "7:=yaml-indent"},
		{"out of line to the left", "costs:\n  - for: x\n  amount: 1", "6:=yaml-indent"},
		{"field after a list", "costs:\n- {for: a, amount: 1}\n- {for: b, amount: 1}\n by: A", "7:=yaml-indent"},
		{"dots", "by: A\n...\nran: 1", "5:=yaml-end"},
		{"hyphens with more", "by: A\n--- ran: 1\nmeter: 1 h", "5:=yaml-end"},
		{"per cent line", "by: A\n%YAML 1.2\nran: 1", "5:=yaml-end"},
		{"the first of two", "by: A\n  ran: 1\nmeter: \"1 h", "5:=yaml-colon"},
		{"nothing between commas", "changed: [, ]", "4:=yaml"},
	} {
		_, says := entry(t, c.fields, "")
		if got := strings.Join(says, " "); got != c.says {
			t.Errorf("%s: got %s, want %s", c.name, got, c.says)
		}
	}
}

func TestUnclosed(t *testing.T) {
	for _, c := range []struct {
		text string
		line int
		key  string
	}{
		{"a: 1\nb: [1, {c: 2}, \"]\"] # [\nd: '}'\n", 0, ""},
		{"a: {b: [1,\n  2], c: '''}'}\n", 0, ""},
		{"a: \"x\\\"\"\nb: \"y\n", 2, "problem.yaml-quote"},
		{"a: 'x''\nb: 1\n", 1, "problem.yaml-quote"},
		{"a: [1, 2\nb: [3]\n", 1, "problem.yaml-bracket"},
		{"a: [1, (2}]\n", 1, "problem.yaml-bracket"},
		{"a: >-\n  [ \"\n\n  {\nb: [\n", 5, "problem.yaml-bracket"},
		{"- - \"x\n", 1, "problem.yaml-quote"},
		{"", 0, ""},
	} {
		if got := unclosed(strings.Split(c.text, "\n")); got.line != c.line || got.key != c.key {
			t.Errorf("%q: got line %d, %s", c.text, got.line, got.key)
		}
	}
}
