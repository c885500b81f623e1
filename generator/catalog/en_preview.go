package catalog

// englishPreview is what the preview says in the browser and on the terminal.
var englishPreview = map[string]string{
	"preview.title":          "Preview",
	"preview.reading":        "The logs are being read.",
	"preview.nothing-yet":    "There is no page to show until this is mended.",
	"preview.as-before":      "The page below is as it was before. It follows once this is mended.",
	"preview.gone":           "The preview has stopped. What you see is the last page that it sent.",
	"preview.problems.one":   "{n} problem to mend",
	"preview.problems.other": "{n} problems to mend",

	"help.preview":         "See the site while you write",
	"help.preview.long":    "preview shows the site of a shop in a browser on this computer and follows\nevery save of a log, a photo or the theme. Where the logs have problems, it\nshows them over the last good page, each with its line. It writes nothing.\nPress Ctrl-C to stop it.\n\nWith --bench there is also a page for a phone on the shop's own network, to\nwrite entries from the bench. A phone has to be paired once with the code that\nis shown here.",
	"help.preview.example": "  asleft preview\n  asleft preview --port 8080\n  asleft preview --bench",
	"help.flag.port":       "the `port` to listen on; 0 takes any that is free",
	"help.flag.bench":      "a page for phones too, on the shop's own network",

	"command.preview-at":      "See the site at {address} (Ctrl-C stops it).",
	"command.preview-mended":  "All mended.",
	"command.preview-stopped": "Stopped.",
	"command.preview-port":    "the port {port} is taken by another program; choose another with --port, or 0 for any that is free",
}
