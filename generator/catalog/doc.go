// Package catalog holds every sentence that the program can write for a
// reader or a mechanic, whole, each under a key.
//
// A sentence is never glued together from fragments: other languages order
// words otherwise, and a sentence that stands in one piece can be read, graded
// and argued about. What varies inside one is a named place in braces, as in
// "{defect} was found on {date}." A second language is a second Catalog.
//
// Keys are written out where they are used (never computed from parts that a
// search would not find, save for the closed sets that All lists), so a test
// can check that every key in use exists and that every sentence is used.
package catalog
