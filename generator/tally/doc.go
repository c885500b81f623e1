// Package tally counts a shop's hours, hour meters and money, exactly.
//
// Count is the one way in: it takes the facts of the logbook and returns the
// figures of each machine and of the whole shop, together with what the hours
// and meters say against themselves. Only narrows the answer to one machine;
// WriteJSON, WriteCSV and WriteText set it down for a program, a spreadsheet
// and a terminal. All of it is the shop's own business: what was paid, the
// price and the margin are private, and no page may show them.
//
// Gaps are what is worth a second look and may well be right. A session counts
// what its two times are apart on the clock, less its break, even where the clocks
// of the shop's timezone were set forward or back in it: nobody but the shop knows
// if the clock on its wall was set, so Gaps says what the length would be and
// leaves the figure to the log.
//
// Hours are whole minutes, meters exact fractions, money decimals of the
// currency's minor unit; nothing passes through floating point. The rules:
//
//   - A line is quantity x price each, rounded half up to the minor unit. Tax
//     is a per cent of that rounded line, rounded half up again. Sums are of
//     rounded lines, so they never need rounding. (An amount below nothing, such
//     as a loss for each hour, rounds its half away from zero.)
//   - What was not written is not counted as nothing paid: a figure that does
//     not exist is not Set, and a sum takes what there is.
//   - A salvaged part's value goes from the donor's cash to the receiver's.
//     Over the whole shop nothing appears or vanishes.
//
// Left out on purpose: other currencies than the shop's, rounding to coins, and
// what a machine might fetch.
package tally
