// Package press puts a site onto disk, all or nothing.
//
// CheckPlace and Place look at where the site is to go. Begin starts a run, Put
// hands it a file, Carry keeps a file of the present site, and Finish puts the
// whole in place; Abandon drops it. Until Finish the present site is not
// touched, and Finish changes it in one step:
//
//	run, err := press.Begin(parent, "site")
//	if err != nil { ... }
//	defer run.Abandon()
//	err = run.Put("index.html", page)
//	result, err := run.Finish()
//
// # How it keeps the site whole
//
// New files are written to a hidden folder beside the site (.site-asleft-new).
// Finish joins to them, by a second name for the same file where the disk can do
// that, what stays as it was, writes the ledger, has the system put it all on
// the disk, and only then swaps the two folders: on Linux in one step, elsewhere
// by renaming the old one away (.site-asleft-old) and the new one in. The names
// tell the next run how far a killed one came: with no site, the old folder is
// put back; with a site, what is left of the others is cleared away.
//
// A set of files that is the one already there changes nothing on the disk.
//
// A large site has a spare beside it (.site-asleft-spare): the site once more,
// by second names of the same files. The next run need then name only what has
// changed before the two can be swapped. It may be deleted at any time.
//
// # Whose file is it
//
// The ledger, a text file in the site's folder, lists each file that the press
// wrote, with its size and SHA-256. What it lists is the press's own, to be
// replaced or removed, whoever edited it since. What it does not list is
// somebody else's, such as a CNAME file, and is never changed or removed: the
// new folder gets it too. A folder with files but no ledger is refused.
//
// # What is not promised
//
// Outside Linux there is a moment in Finish when there is no site at its name.
// A process that holds the site's folder itself open (a web server that does not
// look up the name again) keeps seeing the old one. The owner of the folder is
// not carried over, its mode is.
package press
