package catalog

// englishTheme is what the templates of a theme say by themselves: labels,
// headings and the names of links. A theme of a shop's own uses the same ones.
var englishTheme = map[string]string{
	"ui.title": "{title} - {shop}",

	// Around every page.
	"ui.skip":         "Skip to the content",
	"ui.site":         "Site",
	"ui.shop":         "Shop log",
	"ui.all-machines": "All machines",
	"ui.words":        "Words of the trade",
	"ui.feed":         "Feed of new entries",
	"ui.way":          "You are here",
	"ui.caution":      "This site tells what the shop wrote in its log. It is no proof that a machine is safe. Read the maker's manual, follow the rules where you live, and ask a licensed technician where you are not sure.",

	// The front page.
	"ui.place":       "Place",
	"ui.contact":     "Contact",
	"ui.kinds":       "Kinds of machine",
	"ui.sheets":      "Pages of this list",
	"ui.no-machines": "There is no machine here yet.",
	"ui.shop-totals": "The shop in figures",
	"ui.of-machine":  "of {machine}",

	// The top of a machine's pages.
	"ui.machine-pages":    "Pages of this machine",
	"ui.story":            "Story",
	"ui.condition-report": "Condition report",
	"ui.listing":          "For sale",
	"ui.read-first":       "Read this first",
	"ui.safety":           "Safety",

	// The story.
	"ui.last-said":    "What the last owner said",
	"ui.missing":      "Gone when it came",
	"ui.totals":       "So far",
	"ui.contents":     "Entries",
	"ui.no-entries":   "There is no entry in the log yet.",
	"ui.by":           "By",
	"ui.hours":        "Work",
	"ui.meter":        "Hour meter",
	"ui.ran":          "Engine ran",
	"ui.trail":        "How it was traced",
	"ui.tried":        "Tried",
	"ui.saw":          "Saw",
	"ui.so":           "So",
	"ui.turns":        "Found and done",
	"ui.measured":     "Measured",
	"ui.checked":      "Checked",
	"ui.parts":        "Parts put in",
	"ui.test":         "Test: {test}",
	"ui.test-where":   "Test: {test}, {where}",
	"ui.test-numbers": "Its numbers",
	"ui.take-care":    "Take care.",
	"ui.charts":       "The numbers drawn",
	"ui.chart-facts":  "The same as text",
	"ui.exchanges":    "Parts between machines",
	"ui.took":         "Parts came from",
	"ui.gave":         "Parts went to",
	"ui.neighbors":    "Other machines",
	"ui.before":       "The machine before",
	"ui.after":        "The machine after",
	"ui.record":       "Record of this machine",
	"ui.record-what":  "Facts as a data file",

	// Tables.
	"ui.limits-from":  "Limits from the {source}",
	"ui.reading":      "What was measured",
	"ui.value":        "Reading",
	"ui.limit":        "Limit",
	"ui.verdict":      "Verdict",
	"ui.point":        "Point",
	"ui.result":       "Result",
	"ui.note":         "Note",
	"ui.part":         "Part",
	"ui.quantity":     "Quantity",
	"ui.number":       "Number",
	"ui.source":       "Source",
	"ui.from-machine": "from {machine}",

	// The condition report.
	"ui.no-longer":    "A sealed report of this machine said this, and the log no longer says it:",
	"ui.front-sheet":  "In a minute",
	"ui.call":         "Call or write:",
	"ui.first":        "First",
	"ui.last":         "Last",
	"ui.worst":        "Outside between:",
	"ui.drawn":        "The readings drawn",
	"ui.entry-number": "Entry {n} of the log",

	// The listing.
	"ui.asking":       "Asking",
	"ui.whole-report": "Read the whole condition report",
	"ui.photos":       "Photos",

	"ui.pairs": "Before and after",

	// Sealed reports, and what is left of a listing.
	"ui.verify":         "Check a sealed report",
	"ui.verify-lead":    "A sealed report is one that the shop printed for a buyer and then could not change unseen. Here you can check yours.",
	"ui.verify-form":    "Check it here",
	"ui.verify-stays":   "The file stays on your computer. Nothing is sent.",
	"ui.verify-file":    "Pick the HTML or PDF file",
	"ui.verify-code":    "Or type the code that is on each page",
	"ui.verify-ask":     "Look it up",
	"ui.verify-answer":  "Answer",
	"ui.verify-proves":  "What a sealed report proves",
	"ui.verify-not":     "What it does not prove",
	"ui.verify-hand":    "How to check by hand",
	"ui.verify-list":    "All sealed reports",
	"ui.verify-none":    "No sealed report is whole.",
	"ui.verify-sealed":  "Sealed on {date}",
	"ui.verify-code-is": "Code {code}",
	"ui.verify-breaks":  "Where the chain does not hold",
	"ui.verify-key":     "The shop's key",
	"ui.verify-get-key": "The public key as a file",
	"ui.verify-data":    "The list as data",

	// The glossary and the page for a wrong address.
	"ui.words-lead": "Words that turn up in the logs, each in plain English. Where a page uses one for the first time, the word links here.",
	"ui.lost":       "No page is at this address. It may have been moved, or it was typed wrong.",
}
