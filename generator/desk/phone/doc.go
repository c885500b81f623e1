// Package phone is the desk on a phone at the bench: the desk's own pages (package
// desk) over the shop's network, and what a phone needs besides.
//
// A script of ours adds what a form cannot: what is typed in a new evening is kept on the
// phone, a photo goes up in pieces and goes on where it was cut off, and what cannot be
// sent waits on the phone until it can. Without the script the forms work as at the desk.
//
// What a phone could not send it keeps: each evening has an id from the moment it is begun,
// and under one id one entry is written. What comes late and does not pass the checks is
// a draft on the phone and at the desk, and in no log.
//
// A phone is let in by a code of six digits that only the shop's computer shows (see
// pairing), and stays in for a month. Package access stands in front of all of it. No path
// of a request is ever a path on the disk: a machine is looked up by its key in the list of
// the shop's machines, and the names of files are made by the desk and by entry.
//
// What is not done here: secrecy on the way. A shop's network has no name that a
// certificate could be made out to, so the pages go over it in the clear. And sealing: that
// is decided at the shop's own computer.
package phone
