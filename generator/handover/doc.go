// Package handover freezes the condition report of a moment, prints it for a
// buyer, and tells later whether a report is one that the shop froze.
//
// Prepare gathers a machine's report and Report.Seal seals it. ReadChain reads
// what the shop has sealed; Chain.VouchFile and Chain.VouchCode say what is
// known of a report, Since what the logs say today that it did not and what they no
// longer say, and Chain.Public what the site may tell of it.
//
// # Nothing vanishes between seals
//
// Facts.Gone of a new report lists what earlier reports of the same machine said and
// the log no longer says: taken out, reworded, redated, retitled, or kinder without a
// new word. Histories and standings are compared, never the report's sentences, which
// change with the program. Facts.Beside holds what no history does: who wrote an entry,
// the odometer, the search for a fault, gauges, terms, and what a change is said to add.
// A report from before that list is held against what it has. Values and limits are the
// same only to the sign. A folder that was renamed says was: in machine.md; a report
// whose machine is nowhere is a problem (Chain.Orphans). Reports of schema 1 said
// less, and are compared by that (see firstFacts). "The log has not changed" is said
// only where Facts.Log, the digest of all its texts, is the same.
//
// # Files
//
// All JSON is in the canonical form of RFC 8785, digests are SHA-256 (FIPS
// 180-4) in lower-case hexadecimal digits.
//
//	handovers/KEY-DATE-DIGITS.json   a sealed file, see Seal
//	handovers/last-sealed.json       number and digest of the last one, signed if it is
//	handovers/last-sealed-1.kept     a note that was damaged, set aside by the next
//	handovers/shop-key.pub           public part of the shop's key, PEM, if it has one
//
// The buyer gets KEY-DATE-DIGITS.html, one file with its photos inside, and
// KEY-DATE-DIGITS.pdf. Both hold the facts as JSON: the HTML in the element
// asleft-facts (canonical but for "<", which is written as an escape), the PDF
// as the attached file facts.json (canonical to the byte).
//
// # What a digest covers
//
// facts_digest is of the facts: every word of the report, the day of sealing,
// the shop, the record, the digest of the log and those of the photos. DIGITS are its
// first sixteen, and the code on paper its first twelve; both are ten under the first
// form, whose files stay valid. digest is of the whole sealed file in canonical form but for digest
// and signature: the number, the digest of the file before, the key, the facts
// and the digests of the HTML and of the PDF on each paper. The signature, if
// there is a key, is Ed25519 (RFC 8032) of the same bytes that digest is of. A
// sealed file has to be canonical to the byte, and its name has to be the one
// that follows from it, so there is no byte that nothing covers.
//
// # What the chain proves, and what not
//
// Each sealed file names the digest of the one before, so none but the last can
// be changed, taken out, put in, renumbered or given another day without a
// break at the next one; dates never run backward, but after one that is said to be
// from the future. The last one is named by last-sealed.json, which shows that it was
// lost or changed, and which only the key can write anew where the last one is signed.
// Where both are gone, Chain.Missed looks for what else in the shop's folder still
// names it: the list of the site that was made last, and buyers' copies. An old backup
// that was put back holds by itself; Chain.Forgotten asks what this computer sealed, in the
// same folder on the disk: of another computer, or a folder elsewhere, it knows nothing.
//
// A file that is another one to the byte is a sync program's copy, and left out.
//
// The chain is no notary. Who holds the shop's folder can write the last sealed
// file, or all of them from some point on, and last-sealed.json anew; only what
// left the folder (a buyer's report, a printed code, the list on the site)
// shows that then. With the shop's key, nobody who has only the folder can make
// a sealed file that the key verifies; who has the key can. The day of sealing
// is what the computer's clock said. A code finds a report and tells
// it from an honest other one. It is too short to withstand somebody who searches for
// two texts with the same code, so all that have it are listed, and a report is proven
// by its file.
//
// # When the machine stops
//
// All files of a report are written beside their places and put on the disk
// first. Then each takes its place in one step, the sealed file before all
// others and the note of it next. Ended before that step, there is no report: nothing has its name.
// Ended after it, the report is sealed, and the buyer's files that are there
// are whole; running the same again on the same day makes those that are not,
// byte for byte. The next run, of whatever machine, puts a note that was
// written and not yet in its place there, and clears away what was left beside the places.
package handover
