// Package logbook reads a shop folder into typed facts.
//
// A shop folder is plain Markdown with YAML front matter, written by hand at
// the end of an evening: shop.md, sheets/NAME.md, machines/KEY/machine.md and
// the log entries beside it. Read reads all of it, strictly, and returns the
// facts as a Shop together with every problem found, each with file, line,
// field and how to mend it. Nothing here judges a machine: what the facts mean
// is for the packages above (quantity, benchtest, tally, condition).
//
// What is promised: any bytes in the folder end in facts or in problems, never
// in a panic; a file is never changed; a value is kept as it was written (1.10
// keeps its zero, a part number 0123 stays 0123). What is not read: HTML in a
// body (it is text, and a comment is left out), fields of blogs (they are noted), anchors, aliases and tags of YAML, files that are not
// Markdown, and hidden files.
package logbook
