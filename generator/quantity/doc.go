// Package quantity holds measured values: a number with a unit, the limit it
// has to meet, the accuracy of the gauge that read it, and the verdict.
//
// Start with [ParseReading], [ParseLimit] and [ParseGauge], which read what a
// mechanic writes ("0.011 in", "about 60 psi", ">= 60 psi", "0.001 in"), and
// [JudgeReading], which compares them; [Parse] and [Judge] do the same for a
// single value, and the forms ending in As for a field that takes only some
// dimensions. A value remembers how it was written, so "0.010 in" prints as
// "0.010 in" and not as "0.01 in", and "1-3/8 in" stays a fraction.
//
// Every value, conversion and judgement is an exact fraction; nothing passes
// through floating point ([Quantity.Float] exists for drawings only). Factors
// are exact where the definition of the unit is exact.
//
// Differences of temperatures are kept apart from temperatures: 60 degF less
// 50 degF is a difference of 10 degF, and converts to 5.6 degC, not -12.2 degC.
//
// Left out on purpose: products of units, absolute against gauge pressure,
// full-scale accuracies, and tolerances that differ above and below.
//
// The types are plain values, safe to copy and to share between goroutines. Compare them
// with their Equal methods, not with ==.
package quantity
