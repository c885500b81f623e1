// Package desk is the shop in a browser on the shop's own computer: every field of
// every file has its place in a form, and the files stay plain Markdown that an editor
// may change at the same time. What somebody types is kept as a draft within a second;
// only what they keep goes into a file, there as little as possible is changed (package
// mend), and each file that is replaced can be had back.
//
// A form is made of the list of all fields (logbook.Fields), so none can be forgotten.
// Nothing is judged here: the report beside a form is the one that the site would have.
package desk
