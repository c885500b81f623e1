// Package record holds the public facts of one machine as data: what record.json
// of the site says, and what a sealed report holds. Its form is schema 2, which
// the JSON Schema beside it fixes.
//
// Of makes a record of a judged machine and nothing else. No page and no theme
// has a hand in it, so a change of how something looks cannot change what a seal
// holds.
package record
