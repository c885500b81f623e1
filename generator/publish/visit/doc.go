// Package visit reads a site over the web as a visitor would, and says what the world
// sees: whether the pages that were brought are the ones that it gets, whether they
// come with the right type, whether a browser is told to ask again, and what is wrong
// with the address or its certificate.
//
// Look fetches the front page, some of the pages that changed and a photo of each, and
// compares them with the site, byte for byte by their digests. It reads a few files
// and no more, with a bound on each, and follows the way that a browser would.
package visit
