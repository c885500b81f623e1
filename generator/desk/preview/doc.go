// Package preview shows the site of a shop while it is being written: it reads
// the folder again at every save, composes the site in memory and has the open
// pages follow. Nothing is written anywhere.
//
// New makes a Preview of a folder, Follow keeps it up to date and Handler
// serves it. Where the logs have problems, the last good site stays and the
// problems are shown over it, each with its line; they go as they are mended.
//
// The pages are those of writeup, byte for byte, but for two things that only
// the answer to the browser has: the script that follows, and the leave to load
// it in the page's content policy. Photos are made when they are first asked
// for, and all of them in the background, where the broken ones show.
package preview
