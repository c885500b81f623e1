// Package entry writes the Markdown of a shop folder: the machine.md and the log
// entries that a person would have written, from what was typed on a terminal,
// given as flags or tapped on a phone.
//
// Entry and Machine are what goes in, texts as they were written (a reading is
// "0.011 in", an amount "14.25"); Markdown gives the bytes of the file, Form
// the same with help and offers in comments, for an editor. What is written is
// read back by package logbook as the same facts: every text is put in quotes
// wherever some YAML reader could take it for something else.
//
// New, NewEntry and KeepPhoto put files in the folder: whole (written aside,
// on the disk, then given their name), under a lock, and never in place of a
// file that is there. Try tells what the reader would say of a file before it
// is written.
//
// What is not done: changing a file that is there. That is package frontmatter's, and it
// changes only what was asked for.
package entry
