package entry

import (
	"bytes"
	"regexp"
	"strings"
	"sync"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/frontmatter/yamlvalue"
)

// An Offer is what the form of an entry holds ready, in comments, because it
// matters for this machine.
type Offer struct {
	Engine   bool     // it has an engine, so it can have run
	Meter    bool     // it has an hour meter
	Odometer bool     // it has an odometer
	Systems  []string // the parts of a machine that the shop files work under
	// Open are the defects that are not repaired.
	Open []Defect
	// Changes are those that were not put back, by their keys.
	Changes []Change
	// Items are the points of the sheet that nobody has answered, or not since
	// the last work; How tells how to look.
	Items []Item
	// Readings are what there are limits for: What and Where.
	Readings []Reading
}

// An Item is a point of an inspection sheet.
type Item struct{ Item, How string }

// Form is the entry as a file to be filled in: what is known of it, and for the
// rest the fields that matter for this machine, empty or as comments that count
// once the # in front is taken away. The form is a sound file as it stands but
// for what the entry itself lacks. Settle takes away again what was not used.
func (e Entry) Form(o Offer, words *catalog.Catalog) []byte {
	return e.form(offers(o), words)
}

// Sheet is the entry with the points of an inspection sheet ready in comments,
// and nothing else offered: the file of a machine's arrival.
func (e Entry) Sheet(points []Item, words *catalog.Catalog) []byte {
	if len(points) == 0 {
		return e.Markdown()
	}
	return e.form(map[string]offered{"checks": {help: "entry.help-checks", lines: checkLines(points)}}, words)
}

func (e Entry) form(offers map[string]offered, words *catalog.Catalog) []byte {
	var f logFile
	f.line("---")
	f.comment(words.Say("entry.help-form"))
	for _, r := range e.rows() {
		offer, asked := offers[r.name]
		if r.written != "" || !asked {
			f.row(r)
			continue
		}
		if offer.help != "" {
			f.comment(words.Say(offer.help, offer.pairs...))
		}
		f.line(r.name + ":")
		for _, i := range r.items {
			f.line("  - " + i)
		}
		for _, line := range offer.lines {
			f.line("#" + line)
		}
	}
	f.comment(words.Say("entry.help-body"))
	return f.close(e.Body)
}

// offered is what a form says of a field, and the lines it holds ready.
type offered struct {
	help  string // key of the sentence, empty for none
	pairs []any
	lines []string
}

func offers(o Offer) map[string]offered {
	offers := map[string]offered{
		"title":     {},
		"by":        {},
		"hours":     {help: "entry.help-hours"},
		"parts":     {help: "entry.help-parts", lines: []string{"  - {part: , number: , qty: 1, each: , source: new, system: }"}},
		"costs":     {lines: []string{"  - {for: , amount: }"}},
		"defects":   {help: "entry.help-defects", pairs: []any{"systems", strings.Join(o.Systems, ", ")}, lines: []string{"  - {key: , defect: , effect: , system: , safety: }"}},
		"changed":   {help: "entry.help-changed", lines: []string{"  - {what: , why: , system: , safety: }"}},
		"worked_on": {help: "entry.help-worked-on"},
		"service":   {help: "entry.help-service", lines: []string{"  - {what: , amount: , grade: , system: , every: }"}},
	}
	if o.Meter {
		offers["meter"] = offered{help: "entry.help-meter"}
	}
	if o.Odometer {
		offers["odometer"] = offered{help: "entry.help-odometer"}
	}
	if o.Engine {
		offers["ran"] = offered{help: "entry.help-ran"}
	}
	if lines := checkLines(o.Items); len(lines) > 0 {
		offers["checks"] = offered{help: "entry.help-checks", lines: lines}
	}
	offers["measured"] = offered{help: "entry.help-measured", lines: readingLines(o.Readings)}
	offers["diagnosis"] = offered{help: "entry.help-diagnosis", lines: []string{"  - {tried: , saw: , so: }"}}
	offers["tests"] = offered{help: "entry.help-tests", lines: testLines(o.Open)}
	if len(o.Open) > 0 {
		var repaired, around, gone []string
		for _, d := range o.Open {
			what := "    # " + oneLine(d.Defect)
			repaired = append(repaired, "  - {key: "+text(d.Key)+", how: , proof: }"+what)
			around = append(around, "  - {key: "+text(d.Key)+", how: , left: }"+what)
			gone = append(gone, "  - {key: "+text(d.Key)+", with: }"+what)
		}
		offers["repaired"] = offered{help: "entry.help-repaired", lines: repaired}
		offers["worked_around"] = offered{help: "entry.help-worked-around", lines: around}
		offers["gone"] = offered{help: "entry.help-gone", lines: gone}
	}
	if len(o.Changes) > 0 {
		var back []string
		for _, c := range o.Changes {
			back = append(back, "  - {key: "+text(c.Key)+", how: }    # "+oneLine(c.What))
		}
		offers["put_back"] = offered{help: "entry.help-put-back", lines: back}
	}
	return offers
}

func checkLines(all []Item) []string {
	var lines []string
	for _, i := range all {
		if how := oneLine(i.How); how != "" {
			lines = append(lines, "  # "+how)
		}
		lines = append(lines, "  - {item: "+text(i.Item)+", result: }")
	}
	return lines
}

func readingLines(all []Reading) []string {
	var lines []string
	for _, r := range all {
		where := text(r.Where)
		if where != "" {
			where = ", where: " + where
		}
		lines = append(lines, "  - {what: "+text(r.What)+where+", value: , gauge: }")
	}
	return append(lines, "  - {what: , where: , value: , gauge: , system: }")
}

// testLines are the bench tests that tell the causes of an open defect apart, where
// it is a symptom that the tests know, with what has to be filled in.
func testLines(open []Defect) []string {
	var lines []string
	for _, d := range open {
		symptom, ok := benchtest.SymptomNamed(d.Defect)
		if !ok {
			continue
		}
		lines = append(lines, "  # "+oneLine(d.Defect)+":")
		for _, t := range symptom.Try {
			line := "  - {test: " + t.Kind.Name
			for _, in := range t.Kind.Inputs {
				if in.Needed {
					line += ", " + in.Name + ": "
				}
			}
			lines = append(lines, line+"}    # "+oneLine(t.Splits))
		}
	}
	return lines
}

func oneLine(s string) string { return strings.Join(strings.Fields(yamlvalue.Tidy(s)), " ") }

// emptyField is a field with nothing in it, and looseItem an item of a list
// that lost or kept a space when its # was taken away.
var (
	emptyField = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z_]+:\s*$`) })
	looseItem  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^ {0,4}- \{`) })
)

// Settle is a form as a person left it, without the comments and the empty
// fields of the form that were not used. What the person wrote stays, comments
// too. It is empty where nothing was filled in.
func Settle(edited, form []byte) []byte {
	edited = bytes.TrimPrefix(edited, []byte("\xef\xbb\xbf"))
	edited = bytes.ReplaceAll(edited, []byte("\r\n"), []byte("\n"))
	if len(bytes.TrimSpace(edited)) == 0 || bytes.Equal(bytes.TrimSpace(edited), bytes.TrimSpace(form)) {
		return nil
	}
	ours := map[string]bool{}
	for _, line := range strings.Split(string(form), "\n") {
		if strings.HasPrefix(line, "#") || emptyField().MatchString(line) {
			ours[strings.TrimRight(line, " \t")] = true
		}
	}
	head, rest := cutFront(string(edited))
	var kept []string
	for _, line := range head {
		bare := strings.TrimRight(line, " \t")
		switch {
		case strings.HasPrefix(bare, "#") && ours[bare]:
		case looseItem().MatchString(bare):
			kept = append(kept, "  "+strings.TrimLeft(bare, " "))
		default:
			kept = append(kept, line)
		}
	}
	return []byte(strings.Join(append(dropEmpty(kept, ours), rest...), "\n"))
}

// cutFront parts the lines of the front matter, with the opening line of
// hyphens, from the rest, which begins with the closing one.
func cutFront(s string) (head, rest []string) {
	lines := strings.Split(s, "\n")
	for n, line := range lines {
		if n > 0 && strings.TrimSpace(line) == "---" {
			return lines[:n], lines[n:]
		}
	}
	return lines, nil
}

// dropEmpty takes out the fields of the form that nothing was put into.
func dropEmpty(lines []string, ours map[string]bool) []string {
	var kept []string
	for n, line := range lines {
		filled := n+1 < len(lines) && (strings.HasPrefix(lines[n+1], " ") || strings.HasPrefix(lines[n+1], "-") && lines[n+1] != "---" || strings.HasPrefix(lines[n+1], "#"))
		if emptyField().MatchString(line) && ours[strings.TrimRight(line, " \t")] && !filled {
			continue
		}
		kept = append(kept, line)
	}
	return kept
}
