package page

import "html/template"

// The views are what templates are handed: texts ready to print and addresses
// ready to link. A template chooses what to show and where; it computes
// nothing. Words of the program itself come from the catalog, through the
// template function say.
//
// Addresses are relative, so that a site works from any host and from a folder
// opened as a file.

// Page is what every page has.
type Page struct {
	Lang        string
	Kind        string // front, story, condition, listing, gone, verify, words or lost
	Title       string // of the page alone; the shop's name is in Shop
	Description string
	Root        string       // the way to the site's root: "", "../../" ...
	Style       string       // address of the style sheet
	Icon        string       // address of the icon, empty when the theme has none
	StyleText   template.CSS // the style itself, only for a page that may be served from any address (lost)
	Canonical   string       // absolute address, empty when the shop has no web address
	Preview     string       // absolute address of a picture for link previews, or empty
	Policy      string       // Content-Security-Policy
	Data        template.JS  // schema.org JSON-LD, or empty
	Shop        Shop
	Trail       []Link // from the front page down to this one, this one last (no address)
}

// policy is what a browser is told to hold the page to.
func (p Page) policy() string { return p.Policy }

// Shop is the shop as every page shows it.
type Shop struct {
	Name, Place, Contact string
	Home, Words, Feed    string // addresses
	Verify               string // address of the page about sealed reports, or empty
}

// Link is an address with its text. An empty To is plain text.
type Link struct{ To, Text string }

// Fact is a label and a value.
type Fact struct {
	Label, Value string
	Note         string // small print, or empty
}

// Picture is a photo in its widths.
type Picture struct {
	Src           string // the middle width
	SrcSet        string
	Large         string // the widest, to open
	Width, Height int    // of Src
	Alt           string
	Caption       string
	Credit        *Link // the entry that it is from, where it is shown elsewhere
	Portrait      bool
	Side          string // before or after the work, of a photo of a subject
	SideSays      string // the same in words
}

// Front is the shop's front page.
type Front struct {
	Page
	Intro  template.HTML
	Groups []Group // by stage: in the shop, for sale, gone
	Totals []Fact
	Kinds  []Link // filters by kind, each a page of its own; the present one has no address
	Sheets []Link // pages of a long list, the present one has no address
}

// Group is a titled list of machines.
type Group struct {
	ID, Title string
	Machines  []Card
}

// Card is a machine in a list.
type Card struct {
	Name, Kind, Maker string
	Stage             string
	To                string // its story
	Condition         string // its condition report
	Listing           string // its listing, or empty
	Cover             *Picture
	Line              string // one sentence: came when, how far
	Price             string // asking, or empty
	Warning           string // whole sentence that names what may hurt someone, or empty
}

// Head is the machine at the top of its pages.
type Head struct {
	Key, Name, Kind  string
	What             string // kind, maker, model, year and serial number in a row
	Facts            []Fact // maker, model, serial, year, engine, arrived
	Stage            string
	Price            string
	Cover            *Picture
	Story, Condition string // addresses
	Listing          string // or empty
	Record           string // address of record.json
	Warning          string // whole sentence that names what may hurt a buyer, or empty
	WarningTo        string // where it is told
}

// Story is a machine's page.
type Story struct {
	Page
	Head          Head
	LastSaid      string // what the last owner said
	Opening       template.HTML
	Totals        []Fact
	Contents      []Link // the entries
	Entries       []Entry
	Charts        []Chart
	Gave          []Link // machines that took parts from this one
	Took          []Link // donors
	Pairs         []Pair // defects with a photo from before and one from after
	Missing       []string
	Before, After Link // neighboring machines; empty To: none
}

// Pair is a defect as it was found and as it was left.
type Pair struct {
	What           string
	Broken, Mended Picture // each with its entry as Credit
}

// Entry is one evening.
type Entry struct {
	ID, Date, DateISO, Title string
	By, Hours, Meter, Ran    string // empty when not logged or not shown
	Odometer                 string
	Steps                    []Step
	Body                     template.HTML
	Photos                   []Picture // those that the body does not show itself
	Checks                   []CheckRow
	Readings                 []ReadingRow
	Tests                    []Test
	Turns                    []Turn // defects found, repaired, worked around; changes
	Parts                    []PartRow
	Service                  []ServiceRow
}

// Step is one of a diagnosis trail; each text may be empty.
type Step struct{ Tried, Saw, So, System string }

// Turn is something found, repaired, worked around or changed.
type Turn struct {
	Kind   string // found, again, repaired, proven, proof, around, gone, changed or back
	Label  string // in words
	What   string
	Lines  []Fact // effect, how, proof, what is left, why, caution ...
	Safety bool
	ID     string // of the defect or the change in the condition report
}

// CheckRow is an answer to a point of the sheet.
type CheckRow struct {
	Item, Result, Note string
	Mark               string // works, fails, unchecked or stale: for a pattern, never the only sign
	Safety             bool
}

// ReadingRow is one value of one evening against its limits.
type ReadingRow struct {
	Name, Value string
	Gauge       string // "± 0.001 in", or empty
	Limits      []Fact // each limit with its source
	Verdict     string // in words
	Mark        string // inside, outside, close or none
}

// Test is a bench test.
type Test struct {
	Name, Where, Date string
	Given             []Fact
	Results           []ReadingRow
	Says              []string
	Caution           string
	Drawing           template.HTML // inline SVG with its text alternative, or empty
}

// PartRow is a part put in.
type PartRow struct {
	Part, Qty, Number, Source, Date string
	Fate                            string // what became of it, where it is not in the machine
	From                            *Link  // the donor
	Vendor, Warranty                string // empty when not logged; Vendor is also the owner who brought it
}

// ServiceRow is a service that was done; each but What may be empty.
type ServiceRow struct{ What, Amount, Grade, Every string }

// Chart is a drawing with a title and the same facts as a table.
type Chart struct {
	Title   string
	Drawing template.HTML
	Facts   []Fact
}

// Condition is the condition report. Its text is filled in by the program's own
// templates: a theme has {{.Body}} in its condition.html once, and gives the
// frame.
type Condition struct {
	Page
	Head Head
	Body template.HTML // the whole report, from the front sheet to the list of entries
}

// Listing is the page of a machine for sale. Like the report it is filled in by
// the program's own templates, and stands in the theme's frame as {{.Body}}.
type Listing struct {
	Page
	Head Head
	Body template.HTML
}

// Gone is what is left at the address of a listing when the machine is gone.
// A theme may have no template for it.
type Gone struct {
	Page
	Says             string // whole sentence
	Story, Condition Link
}

// Words is the glossary.
type Words struct {
	Page
	Terms []Term
}

// Term is a word of the trade.
type Term struct{ ID, Term, Means string }

// Verify is the page that tells how to check a sealed report. A theme may have
// no template for it. Its script looks for elements with these ids, and takes
// the attribute hidden off the first: verify-form (a form), verify-file (an
// input for a file), verify-code (an input for text), verify-answer (an output)
// and verify-list (a script of type application/json that holds ScriptData).
type Verify struct {
	Page
	Proves, Not []string // whole sentences: what a sealed report proves, and what not
	ByHand      []string // whole sentences: how to check one by hand
	Commands    []Fact   // a command for each system
	Reports     []SealedRow
	Breaks      []string    // whole sentences: where the chain of reports does not hold
	List        string      // address of the list as data
	Key         string      // address of the shop's public key, or empty
	KeySays     []string    // whole sentences about it
	Script      template.JS // to stand after the form
	ScriptData  template.JS
}

// SealedRow is a sealed report in the list.
type SealedRow struct {
	ID      string
	Machine Link // its condition report; no address for a machine that is not there any more
	Date    string
	Code    string
	Digests []Fact // of the buyer's files and of the facts
	Changed string // whole sentence: whether the log has changed since
	Signed  string // whole sentence, or empty
}

// Lost is the page for an address that leads nowhere.
type Lost struct{ Page }
