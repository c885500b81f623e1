// Package page turns a shop's facts and the statements about them into the
// pages of its site, through a theme.
//
// Site.Compose writes every page through a put function and keeps nothing, so
// the whole site is never in memory at once. Beside the pages of a theme
// (front, story, condition, listing, words, lost) it writes the record of each
// machine as JSON, the feed, the sitemap and what goes with them.
//
// What is private never gets into a view: what was paid and to whom, the price
// and the buyer of a sale, private texts and private photos are left out here
// for every page at once, and a theme has no way to ask for them.
package page
