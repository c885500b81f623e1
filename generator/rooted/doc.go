// Package rooted is an afero.Fs over os.Root: a folder and what lies below it,
// and nothing else. No "..", no absolute name and no symbolic link leads out,
// for reading as for writing; the system itself walks the path and refuses.
// (afero's own BasePathFs only looks at the spelling of a name and follows
// links wherever they point.)
//
// Open gives an FS. Names are relative to its folder, with or without a leading
// slash, and are cleaned; on Windows both slashes separate.
//
// An FS also has what afero has no words for, each as an interface that a
// caller can ask any file system for: HardLinker, Locker, Flusher, DirSyncer,
// Lister and Describer. Where the system under it cannot do the thing, the method
// returns an error that is errors.ErrUnsupported.
//
// Windows replaces and removes no file that somebody has open. There an FS tries
// again for some seconds, and then says so: ErrHeld.
//
// What is not promised: an FS does not stop at mount points, and the Name of an
// open file is its path on this machine, which belongs in an error for the
// mechanic and never on a page.
package rooted
