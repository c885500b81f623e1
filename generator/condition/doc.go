// Package condition judges a machine by its log: the life of each defect, the
// answers to the inspection sheet, readings as found and as left, evidence
// that later work has made stale. It says what it finds as statements, each
// with the entries that it rests on, in the eleven sections of a condition
// report.
//
// Judge is the one way in. The report cannot flatter: every open defect,
// failed or unanswered point, reading outside its limit and departure from the
// maker's design in the log is in it, no setting leaves one out, and where the
// log is silent the report says so. Where a rule could be read two ways, the
// one that promises the buyer less is taken, and said so beside it.
package condition
