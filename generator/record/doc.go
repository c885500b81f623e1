// Package record is a machine's public facts as data: what record.json holds,
// and the heart of what a seal holds. Of makes them of a judged machine; Schema
// is the JSON Schema that they follow. Nothing private is in them.
//
// It stands beside the pages, not in them, so that a change of a page cannot
// change what a seal holds.
package record
