// Package output writes a site in place, and remembers what a run saw.
//
// CheckPlace and Place look at where the site is to go. Open starts a run, Put
// hands it a file, Keep keeps one that is there, and Commit makes the site what
// was put and kept; Abort drops the run:
//
//	w, err := output.Open(parent, "site", time.Minute)
//	if err != nil { ... }
//	defer w.Abort()
//	err = w.Put("index.html", page)
//	result, err := w.Commit()
//
// # How a site is written
//
// Put writes a file under a temporary name, in a hidden folder beside the site.
// Commit renames the files into place in this order: those named by their content
// (photos, assets), pages that were not there, pages that were, and the front page
// last. Then what is gone is removed. So at any moment, killed or not, every page
// that can be reached from the front page is whole, old or new, and all that it
// refers to is there; the next run finishes what a killed one began. A set of
// files that is the one already there changes nothing on the disk.
//
// # Whose file is it
//
// The manifest, a text file beside the site, lists each file of the site with its
// size and SHA-256. What it lists is the program's own, to be replaced or removed,
// whoever edited it since; what it does not list is somebody else's, such as a
// CNAME file, and is never touched. It is written before the first file is put in
// place, when it names what is new and what is to go, and again when all is done.
// A folder with files but no manifest is refused, and so is one that holds none of
// the files that its manifest lists.
//
// # What a run remembers
//
// A Snapshot is what a folder looked like, seen without reading its files: size,
// times and number on the disk, as far as those are old enough to tell every later
// write. A Cache keeps the digests of snapshots and what was made of them, for the
// next run to do over only what has changed. It holds nothing that the site does
// not tell, and may be lost, damaged or deleted: the next run is then slower and
// makes the same site.
//
// # What is not promised
//
// A visitor who opens two pages while a site is written may see one old and one
// new. The temporary files must be on the site's disk: a site that is a mount
// point of its own cannot be written.
package output
