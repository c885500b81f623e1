// Package condition judges a machine by its log. It goes through the log once
// and makes a list of subjects: each defect, each point of the list, each thing
// measured, each change, each missing part, the list itself and the hour meter.
// A subject has a history, which is all that the log ever said of it and is
// never overwritten, and a standing, which is worked out from the history
// alone. One table (sectionOfStanding, sectionOfKind) says in which part of the
// report a subject is told, and the front sheet names the same subjects.
//
// Judge is the one way in. Two promises hold it: the report cannot flatter,
// for whatever bad the log holds is a subject and is told; and it does not
// accuse, for it says what the log shows and what it does not show. Where the
// log leaves the order of two things open, evidence is out of date, failures
// stand, and the worse reading is the last.
//
// What was done comes before what was seen in one evening, unless the evidence
// says that it is as found (order.go). Work makes the evidence of its systems
// out of date (work.go).
package condition
