package entry

import "strings"

// Tidy is a text as a file can hold it: LF line ends, valid UTF-8, and without
// the characters that no reader of the folder takes.
func Tidy(s string) string { return tidy(s) }

// Written is the value of any field on one line: yes, no, numbers and dates bare,
// other texts plain where every reader takes them for this very text, in double
// quotes everywhere else.
func Written(s string) string { return entered(tidy(s)) }

// Quoted is a text in double quotes.
func Quoted(s string) string { return quoted(strings.TrimSpace(tidy(s))) }

// LikeText tells whether no reader of YAML takes a plain text for a number, a
// date or a word that means something.
func LikeText(s string) bool {
	return !unlikeText().MatchString(s) && !yamlWords[strings.ToLower(s)]
}
