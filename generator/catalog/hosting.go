package catalog

import _ "embed"

// Hosting is the page for somebody who has never put a site on the web.
//
//go:embed hosting-en.md
var Hosting string
