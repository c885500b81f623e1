// Package sight sees whether a folder is still as it was, without reading its
// files: Look takes a Sight of it, and a Memory keeps what the last run saw and
// made of it.
//
// A file is taken for unchanged when its size, its times and its number on the
// disk are what they were, and when those times were old enough, as the folder
// was looked at, to tell every later write from the earlier ones (see Settled).
// On Linux and macOS no program can set the time of the last change, so a file
// that was put back with its old date is found out too.
//
// A Memory holds digests and what its owner notes: for a site, nothing that the
// site does not tell, since it lies beside it. It may be lost, damaged or
// deleted at any time; the next run is then slower and makes the same site.
package sight
