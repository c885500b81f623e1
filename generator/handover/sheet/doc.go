// Package sheet sets a printed sheet: titles, facts, statements, photos and
// lines to sign on, flowed over pages and written as one PDF.
//
// New begins a sheet of a paper, its methods add to it from top to bottom, and
// PDF writes it. What is added in one call stays on one page, unless it is
// higher than a page; a heading stays with what follows it. Lengths are points
// (1/72 inch), y grows downward.
//
// The same calls give the same bytes. The text can be selected and searched,
// the headings are bookmarks, the language and the title are set, and a file
// can be attached. The PDF is not tagged (the library underneath cannot): a
// reader who needs structure needs the HTML report, and the sheet says so.
//
// The fonts are the Go fonts (Latin, Greek, Cyrillic). A sign that they lack is
// set as the replacement sign, U+FFFD, and Missing tells so; text is set from
// left to right without shaping.
package sheet
