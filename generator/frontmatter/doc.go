// Package frontmatter changes what a file of a shop folder says and leaves every other
// byte as it was: comments, the order of fields, quotes, indentation, line ends.
//
// Read takes a file apart, Fields and Story are what it says, With is the file
// that says something else, New a file from nothing. Where a value stands is
// known from the nodes of the YAML reader; what is written is spliced in there,
// by the rules of package yamlvalue. What With gives has been read back and said
// what was wanted; what cannot be done so is refused and nothing is given.
//
// Texts are taken as the readers of a folder take them: white space around one
// says nothing, nor do the characters that no reader of the folder takes.
//
// What is not done: telling which fields mean something. That is logbook's.
package frontmatter
