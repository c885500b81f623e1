// Package benchtest is the named bench tests of the trade: what each takes,
// the sums that a handbook does with it, the verdict against the limit, and
// one or two plain sentences on what it points to.
//
// Judge is the one way in; Kinds lists the tests with their help, and Find and
// Symptoms find one. A new test is one file that adds a kind (inputs, keys of the
// catalog, a function that runs it), its sentences in the catalog, and its checks.
//
// How the numbers are kept. Readings are exact fractions (see quantity), and so
// are sums, differences, ratios and verdicts. A formula with a power or pi in
// it uses floating point inside itself only, always from base units, so that
// the unit in which a reading was written changes no result. A published limit
// is used where the machine has none of its own, and names its source; figures
// on which sources differ are never limits.
//
// How a test ends. What is wrong with the readings is all reported before the sums
// begin. The sums themselves end at the first thing that they cannot be done with
// (refuse, need, proceed), so that nothing after it has to ask again.
//
// How a gauge is carried over. The result is computed again with each reading
// at both ends of what its tool allows, and the widest departure is the
// accuracy of the result: errors are added, not taken for independent, for
// they mostly come from one and the same tool.
package benchtest
