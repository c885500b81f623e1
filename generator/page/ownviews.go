package page

import "html/template"

// These views are handed to the program's own templates (themes/shared) alone. A
// theme gets what they make as one piece, to put into its frame.

// Report is what the program's own templates are handed of a machine. No theme
// gets it.
type Report struct {
	Front    FrontSheet
	Sections []Section
	Sign     []string // lines to sign on, of a machine for sale or sold
	Sealed   string   // whole sentence about a sealed report, or empty
	Gone     []string // whole sentences: what sealed reports said and the log no longer says
	Verify   string   // address of the page about sealed reports, or empty
	Record   string   // address of record.json
}

// FrontSheet is the report in a minute.
type FrontSheet struct {
	AsOf    string   // whole sentence: from the log up to that day
	Contact *Contact // who to call, where a buyer is spoken to
	Parts   []FrontPart
}

// Contact is who to call or write to. To dials or writes; empty where the shop's
// text holds neither a number nor an address.
type Contact struct {
	To   template.URL
	Text string
}

// FrontPart is one question of the front sheet. Each line names what it is
// about, and links to where it is told in full.
type FrontPart struct {
	ID, Title string
	Lines     []Link
	Empty     string // whole sentence where there is no line
}

// Section is one part of the report.
type Section struct {
	ID, Title  string
	Notes      []string
	Statements []Statement
	Rows       []MeasuredRow // of what was measured
	Source     string        // of all their limits, where that is one; it does not stand in the rows
	Unlimited  []MeasuredRow // those held against no limit, folded: nothing rests on them
	Tests      []TestSays    // and what each test points to
	TestsApart []TestSays    // tests that were done again since, or found all inside its limit, folded
	Parts      []Statement   // the parts of each evening, folded
	Log        []LogRow      // the entries, numbered from 1
}

// Statement is what a part of the report says, with the numbers of the entries
// that it rests on.
type Statement struct {
	ID     string        // of the subject that it is about, for links
	Text   template.HTML // words of the trade are linked
	Safety bool
	Items  []Item        // the points that the text is about, each told by itself
	Notes  template.HTML // the numbers, each a link to the entry in the list
	Photos []Picture
	Fold   bool // its items are folded away
}

// Item is one of several points that are told together.
type Item struct {
	ID    string
	Text  string
	Notes template.HTML
}

// Dated is a value of a day.
type Dated struct {
	Value, Date string
	Notes       template.HTML
}

// MeasuredRow is a measured thing: every number of it stands here.
type MeasuredRow struct {
	ID, Name           string
	First, Worst, Last Dated         // First is empty where it was measured once, Worst where no other was outside
	Gauge              string        // "± 0.001 in", or empty
	Limits             []Fact        // each limit with its source
	Standing           string        // in words
	After              string        // the work that came after a reading which was good before it, else empty
	AfterNotes         template.HTML // the number of the entry of that work
	Mark               string        // inside, outside, close, stale or none
	Chart              template.HTML // inline SVG, or empty

	loose bool // it is held against no limit, and nothing is open for it
}

// TestSays is what a bench test points to.
type TestSays struct {
	Name string
	Says []string
}

// LogRow is an entry in the list at the end of a report.
type LogRow struct{ ID, To, Text string }

// Offer is what the program's own templates are handed of a machine for sale.
// No theme gets it.
type Offer struct {
	Price    string
	Contact  *Contact // who to call or write to
	Report   string
	Front    FrontSheet
	Repaired []Statement
	Photos   []Picture
}
