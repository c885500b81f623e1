// Package publish brings a site to the place where the world reads it.
//
// Bring does all of it: it looks at what stands at the far end, makes a plan, and
// carries it out through a FarEnd, which is a folder, or a server that package
// farend speaks to. Package visit then reads the site as a visitor would.
//
// # What changed
//
// A manifest at the far end, in a folder of ours (Folder), lists each file that this
// program brought, with its size and SHA-256. What it lists is held against the site
// and, where that is cheap, against what is really there. Where it is lost or torn,
// all is listed: a file of the same name and size is taken for ours if its name says
// its content or the server knows its digest, and is sent again otherwise. What no
// manifest lists is somebody else's: it is never removed, and replaced only when told.
//
// # In which order
//
// Make first sorts the work into stages, and each is in place before the next begins to
// be: where a far end can hold files back, all of them go over the line without a pause,
// under names of their own, and the order is in their renames alone (see Drafter):
// files named by their content, pages that were not there, pages that were, the front
// page, the manifest, and then the removal of what is gone. So wherever a run stops,
// every page that can be reached from the front page is whole, old or new, and all
// that it refers to is there. What the site has no more stays for a day, for visitors
// who have an old page open.
//
// Before the first file, the manifest is written with all that is to come, marked
// so; every few seconds it is written again. A run that was killed has lost those
// seconds, and the next goes on. Where only the line broke, the run opens it again by
// itself, a few times.
//
// # One at a time
//
// A lock file at the far end names who is at work and is renewed while he is. Whoever
// waits watches whether it changes, by the clock of his own computer alone; how long
// something is gone is told by the far end's clock alone. No two clocks are compared.
//
// # Errors
//
// What goes wrong is a *Fault: a sentence of the catalog, with what to do about it.
package publish
