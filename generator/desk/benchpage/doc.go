// Package benchpage is the page for a phone at the bench: pick the machine,
// write what was done, take photos, tap off the sheet, start and stop the
// clock. What it writes is the Markdown entry that a person would have written,
// by package entry, in a file of its own.
//
// The page is plain HTML forms, and works as such. A script of ours adds what a
// form cannot: a photo goes up in pieces and goes on where it was cut off, and
// what cannot be sent is kept on the phone until it can.
//
// What a phone could not send it keeps: each entry has an id from the moment it is begun,
// and under one id one entry is written. What comes late and does not pass the checks is
// a draft on the phone and on this computer, and in no log.
//
// A phone is let in by a code of six digits that only the shop's computer shows
// (see pairing). Package access stands in front of all of it. No path of a request
// is ever a path on the disk: a machine is looked up by its key in the list of
// the shop's machines, and the names of files are made here and by entry.
//
// What is not done here: secrecy on the way. A shop's network has no name that
// a certificate could be made out to, so the pages go over it in the clear.
package benchpage
