package page

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"asleft/generator/logbook"
	"asleft/generator/record"
)

// A Sealed is what the public may know of a sealed report: never who has it.
// Digests are SHA-256 in lower-case hexadecimal digits; what a report does not
// have is empty.
type Sealed struct {
	Machine string // the key that its folder had
	Now     string // the key that it has today, empty where the machine is gone
	Name    string // as the report has it
	Date    logbook.Date
	Format  string // of the sealed file
	Report  string // the name of the buyer's files, without the ending
	Number  int
	Code    string // any beginning of FactsDigest of ten digits or more finds it
	// FactsDigest is of the facts; HTML, Letter and A4 are of the buyer's files,
	// File of the sealed file.
	FactsDigest            string
	HTML, Letter, A4, File string
	// Digest is of the sealed file but for itself and Signature, Previous that
	// of the report before.
	Previous, Digest string
	Key, Signature   string
	Since            Since
}

// A Since is what the logs say today of a machine that a report was sealed of.
type Since struct {
	// Changed tells whether the logs say of the machine's condition today what the
	// report did not, or no longer what it did. A sale alone is no change, and Sale tells of
	// one. Same tells that no byte of the log that the report draws on has changed.
	Changed, Same, Sale bool
	// Gone are what the report said and the log no longer says, in whole sentences.
	Gone []string
}

const (
	verifyPath = "verify/index.html"
	keyPath    = "shop-key.pub"
	sealedPath = "sealed.json"
)

// listFormat names the form of sealed.json.
const listFormat = "asleft list of sealed reports 1"

// largestReport is the most bytes that the page reads of a file: a report is a
// few megabytes, and the browser holds all of it in memory.
const largestReport = 100 << 20

// verifyScript runs on that one page; the page is of use without it.
//
//go:embed verify.js
var verifyFile string

// verifyScript is without the line break at the end, over which the HTML
// checker and a browser come to different digests.
var verifyScript = strings.TrimSpace(verifyFile)

// hasSealed tells whether there is anything to tell of sealed reports.
func (s *Site) hasSealed() bool { return len(s.Sealed) > 0 || len(s.SealBreaks) > 0 }

// verifies tells whether the site has the page about them.
func (s *Site) verifies() bool { return s.hasSealed() && s.Theme.has("verify.html") }

// sealedSays is what a machine's condition page says of its last sealed report,
// and what its reports said that the log no longer says, each once. Where only an older
// report said more, the log may be as the last one held it, and was another before.
func (s *Site) sealedSays(machine string) (says string, gone []string) {
	var last *Sealed
	for _, r := range slices.Backward(s.Sealed) {
		if r.Now != machine {
			continue
		}
		if last == nil {
			last = &r
		}
		for _, text := range r.Since.Gone {
			if !slices.Contains(gone, text) {
				gone = append(gone, text)
			}
		}
	}
	if last == nil {
		return "", nil
	}
	key, _ := last.Since.said()
	if len(gone) > 0 && !last.Since.Changed {
		key = "page.sealed-older"
	}
	return s.say(key, "date", s.date(last.Date), "code", GroupedCode(last.Code)), gone
}

// GroupedCode is a code as people read it: twelve digits in groups of four. One of
// ten stays as it was printed.
func GroupedCode(code string) string {
	const grouped = 12
	if len(code) != grouped {
		return code
	}
	return code[:4] + " " + code[4:8] + " " + code[8:]
}

// said are the keys of what a condition page and the page about sealed reports say
// of the log since.
func (s Since) said() (condition, verify string) {
	switch {
	case s.Same:
		return "page.sealed", "page.verify-sealed"
	case s.Changed:
		return "page.sealed-changed", "page.verify-sealed-changed"
	case s.Sale:
		return "page.sealed-sale", "page.verify-sealed-sale"
	}
	return "page.sealed-same", "page.verify-sealed-same"
}

// verify makes what a buyer needs to check a report without the shop's folder:
// the page, the list as data, and the shop's public key.
func (s *Site) verify(put Put) error {
	if !s.hasSealed() {
		return nil
	}
	if err := s.sealedList(put); err != nil {
		return err
	}
	if len(s.ShopKey) > 0 {
		if err := put(keyPath, s.ShopKey); err != nil {
			return err
		}
	}
	if !s.verifies() {
		return nil
	}
	v, err := s.verifyView()
	if err != nil {
		return err
	}
	return s.Theme.fill(put, verifyPath, "verify.html", v)
}

func (s *Site) verifyView() (Verify, error) {
	sh := s.composer(verifyPath)
	v := Verify{
		Page:   sh.page("verify", s.say("page.verify-title"), s.say("page.verify-description")),
		Proves: s.sayAll("page.verify-file", "page.verify-chain"),
		Not:    s.sayAll("page.verify-not-true", "page.verify-not-witness", "page.verify-not-clock", "page.verify-not-code", "page.verify-not-site"),
		ByHand: s.sayAll("page.verify-hand", "page.verify-hand-compare", "page.verify-hand-other"),
		Breaks: s.SealBreaks, List: sh.to(sealedPath), Script: template.JS(verifyScript), //nolint:gosec // the program's own
	}
	v.Trail = []Link{{To: sh.to("index.html"), Text: s.Shop.Name}, {Text: s.say("page.verify-title")}}
	if len(s.ShopKey) > 0 {
		v.Key, v.KeySays = sh.to(keyPath), s.sayAll("page.verify-key", "page.verify-key-keep")
	}
	for _, r := range slices.Backward(s.Sealed) {
		v.Reports = append(v.Reports, sh.sealedRow(r))
	}
	v.Commands = s.commands()
	var err error
	if v.ScriptData, err = s.scriptData(); err != nil {
		return v, err
	}
	v.Policy += scriptPolicy(verifyScript, string(v.ScriptData))
	return v, nil
}

func (s *Site) sayAll(keys ...string) []string {
	var all []string
	for _, key := range keys {
		all = append(all, s.say(key))
	}
	return all
}

// commands work out a file's digest on each system, with the name of the last
// report's file to be changed for one's own.
func (s *Site) commands() []Fact {
	file := `"report.html"`
	if len(s.Sealed) > 0 {
		last := s.Sealed[len(s.Sealed)-1]
		file = `"` + last.Report + `.html"`
	}
	return []Fact{
		{Label: s.say("page.verify-windows"), Value: "certutil -hashfile " + file + " SHA256"},
		{Label: s.say("page.verify-mac"), Value: "shasum -a 256 " + file},
		{Label: s.say("page.verify-linux"), Value: "sha256sum " + file},
	}
}

func (s *composer) sealedRow(r Sealed) SealedRow {
	_, since := r.Since.said()
	row := SealedRow{
		ID: "sealed-" + r.Code, Machine: Link{Text: r.Name}, Date: s.date(r.Date), Code: GroupedCode(r.Code), Changed: s.say(since),
		Digests: []Fact{
			{Label: s.say("page.verify-html"), Value: r.HTML},
			{Label: s.say("page.verify-letter"), Value: r.Letter},
			{Label: s.say("page.verify-a4"), Value: r.A4},
			{Label: s.say("page.verify-facts"), Value: r.FactsDigest},
		},
	}
	if r.Signature != "" {
		row.Signed = s.say("page.verify-signed")
	}
	if r.Now != "" {
		row.Machine.To = s.to(conditionPath(r.Now))
	}
	return row
}

// scriptReport is a report as the page's script knows it, with all that it can
// have to say of it.
type scriptReport struct {
	Code      string   `json:"code"`
	Facts     string   `json:"facts"`
	Copies    []string `json:"copies"`
	Unaltered string   `json:"unaltered"`
	Altered   string   `json:"altered"`
	Digest    string   `json:"digest"`
	CodeKnown string   `json:"code_known"`
}

// scriptData is the list and the words of the page's script.
func (s *Site) scriptData() (template.JS, error) {
	reports := []scriptReport{}
	for _, r := range s.Sealed {
		say := func(key string) string {
			return s.say(key, "name", r.Name, "date", s.date(r.Date), "code", GroupedCode(r.Code))
		}
		reports = append(reports, scriptReport{
			r.Code, r.FactsDigest, []string{r.HTML, r.Letter, r.A4, r.File},
			say("page.verify-says-unaltered"), say("page.verify-says-altered"), say("page.verify-says-digest"), say("page.verify-says-code"),
		})
	}
	says := map[string]string{
		"reading": s.say("page.verify-says-reading"), "unlisted": s.say("page.verify-says-unlisted"),
		"unknown": s.say("page.verify-says-unknown"), "miswritten": s.say("page.verify-says-miswritten"),
		"large": s.say("page.verify-says-large"), "unreadable": s.say("page.verify-says-unreadable"), "cannot": s.say("page.verify-says-cannot"),
	}
	text, err := json.Marshal(map[string]any{"says": says, "reports": reports, "largest": largestReport}) // escapes <, > and &
	if err != nil {
		return "", fmt.Errorf("the list of sealed reports: %w", err)
	}
	return template.JS(text), nil //nolint:gosec // JSON with <, > and & escaped
}

// listed is a sealed report in sealed.json.
type listed struct {
	Format      string       `json:"format"`
	Number      int          `json:"number"`
	Machine     string       `json:"machine"`
	Name        string       `json:"name"`
	Date        string       `json:"date"`
	Code        string       `json:"code"`
	FactsDigest string       `json:"facts_digest"`
	Copies      listedCopies `json:"copies"`
	Previous    *string      `json:"previous"`
	Key         *string      `json:"key"`
	Digest      string       `json:"digest"`
	SealedFile  string       `json:"sealed_file"`
	Signature   *string      `json:"signature"`
	Changed     bool         `json:"changed_since"`
}

type listedCopies struct {
	HTML   string `json:"html"`
	Letter string `json:"pdf_letter"`
	A4     string `json:"pdf_a4"`
}

// sealedList writes the list as data: enough to check the signature of a report
// that one has, since the report holds the facts.
func (s *Site) sealedList(put Put) error {
	list := struct {
		Format  string   `json:"format"`
		Shop    string   `json:"shop"`
		Reports []listed `json:"reports"`
		Breaks  []string `json:"breaks"`
	}{listFormat, s.Shop.Name, []listed{}, append([]string{}, s.SealBreaks...)}
	for _, r := range s.Sealed {
		list.Reports = append(list.Reports, listed{
			r.Format, r.Number, r.Machine, r.Name, string(r.Date), r.Code, r.FactsDigest, listedCopies{r.HTML, r.Letter, r.A4},
			record.OrNull(r.Previous), record.OrNull(r.Key), r.Digest, r.File, record.OrNull(r.Signature), r.Since.Changed,
		})
	}
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(list); err != nil {
		return fmt.Errorf("the list of sealed reports: %w", err)
	}
	return put(sealedPath, []byte(b.String()))
}
