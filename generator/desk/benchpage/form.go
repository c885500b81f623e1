package benchpage

import (
	"cmp"
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// The fields of the form. Those of a list stand several times, in the order of
// its rows; a check is numbered, for a choice that nobody made is not sent.
//
//	date by title body ran meter
//	from to less task               a stretch of work
//	time                            of the day, where somebody wrote one
//	item-N result-N note-N          a point of the sheet
//	as-found-N                      it was looked at before the work
//	what where value gauge state    a reading
//	reading-found reading-system
//	tried saw so step-system        a step of the search for what is wrong
//	find                            what finds bench tests
//	test-N                          a bench test by its name, test-N-where,
//	                                test-N-found, test-N-in-INPUT
//	part number qty each source part-system wears
//	defect effect defect-system; safety-N of the N-th of them
//	service amount every service-system
//	mend how proof                  an open defect that was put right
//	photo-id photo-alt              a photo that is held; photo-private its id
//	id                              of the entry: sent twice, it is saved once
//	late                            it comes from what a phone has kept

// mostRows bounds each list of a form.
const mostRows = 200

// A row is one row of a list: field to value; and as n, where it stands in the list.
type row map[string]string

func (r row) empty() bool {
	for f, v := range r {
		if v != "" && f != "n" {
			return false
		}
	}
	return true
}

// rows are the rows of a list, those left empty too.
func rows(v url.Values, fields ...string) []row {
	n := 0
	for _, f := range fields {
		n = max(n, len(v[f]))
	}
	var all []row
	for i := range min(n, mostRows) {
		r := row{"n": strconv.Itoa(i)}
		for _, f := range fields {
			if i < len(v[f]) {
				r[f] = strings.TrimSpace(v[f][i])
			}
		}
		all = append(all, r)
	}
	return all
}

// filled are the rows that have something in a field other than those that have
// a value by themselves.
func filled(all []row, chosen ...string) []row {
	return slices.DeleteFunc(all, func(r row) bool {
		bare := row{}
		for f, v := range r {
			if !slices.Contains(chosen, f) {
				bare[f] = v
			}
		}
		return bare.empty()
	})
}

var (
	workFields    = []string{"from", "to", "less", "task"}
	readingFields = []string{"what", "where", "value", "gauge", "state", "reading-found", "reading-system"}
	partFields    = []string{"part", "number", "qty", "each", "source", "part-system", "wears"}
	defectFields  = []string{"defect", "effect", "defect-system"}
	serviceFields = []string{"service", "amount", "every", "service-system"}
	stepFields    = []string{"tried", "saw", "so", "step-system"}
	mendFields    = []string{"mend", "how", "proof"}
	photoFields   = []string{"photo-id", "photo-alt"}
)

// The rows of each list that an entry is made of.
func workRows(v url.Values) []row { return filled(rows(v, workFields...), "task") }
func readingRows(v url.Values) []row {
	return filled(rows(v, readingFields...), "state", "reading-found", "reading-system")
}
func stepRows(v url.Values) []row { return filled(rows(v, stepFields...), "step-system") }
func partRows(v url.Values) []row {
	return filled(rows(v, partFields...), "source", "part-system", "qty", "wears")
}
func mendRows(v url.Values) []row    { return filled(rows(v, mendFields...), "mend") }
func foundRows(v url.Values) []row   { return filled(defectRows(v), "defect-system", "safety") }
func serviceRows(v url.Values) []row { return filled(rows(v, serviceFields...), "service-system") }

// listRows are, for each list of an entry, its rows in the form, and what the form
// calls its fields where it has another name for them.
var listRows = map[string]struct {
	rows  func(url.Values) []row
	first string // the field that stands for the row as a whole
	names map[string]string
}{
	"hours":     {workRows, "from", map[string]string{"by": ""}},
	"measured":  {readingRows, "value", map[string]string{"as_found": "reading-found", "system": "reading-system"}},
	"diagnosis": {stepRows, "tried", map[string]string{"system": "step-system"}},
	"parts":     {partRows, "part", map[string]string{"system": "part-system", "consumable": "wears"}},
	"repaired":  {mendRows, "how", map[string]string{"key": "how"}},
	"defects":   {foundRows, "defect", map[string]string{"key": "defect", "system": "defect-system"}},
	"service":   {serviceRows, "service", map[string]string{"what": "service", "system": "service-system"}},
}

// pathForm is a field of an entry, as measured[1].value.
var pathForm = regexp.MustCompile(`^([a-z_]+)(?:\[(\d+)\])?(?:\.([a-z_]+))?`)

// fieldOf is where the form has a field of the entry that is made of it: the name
// there, and the how manieth of that name. No name: nowhere.
func fieldOf(v url.Values, path string) (name string, at int) {
	p := pathForm.FindStringSubmatch(path)
	if p == nil {
		return "", 0
	}
	n, _ := strconv.Atoi(p[2]) // it is a number, or there is none
	field := p[3]
	switch p[1] {
	case "date", "time", "by", "title", "ran", "meter":
		return p[1], 0
	case "checks":
		if all := answers(v); n < len(all) {
			name = map[string]string{"note": "note-", "as_found": "as-found-"}[field]
			return cmp.Or(name, "result-") + strconv.Itoa(all[n].n), 0
		}
	case "tests":
		return testField(v, n, field), 0
	case "photos":
		return "photo-alt", n
	}
	list, ok := listRows[p[1]]
	if !ok {
		return "", 0
	}
	all := list.rows(v)
	if n >= len(all) {
		return "", 0
	}
	at, _ = strconv.Atoi(all[n]["n"]) // rows wrote it
	other, named := list.names[field]
	switch {
	case p[1] == "defects" && field == "safety":
		return "safety-" + strconv.Itoa(at), 0
	case named:
		return cmp.Or(other, list.first), at
	case slices.Contains(slices.Collect(maps.Keys(all[n])), field):
		return field, at
	}
	return list.first, at
}

// An answer is the answer to a point of the sheet.
type answer struct {
	n                  int
	item, result, note string
	asFound            bool
}

// answers are the points that were answered.
func answers(v url.Values) []answer {
	var all []answer
	for n := range mostRows {
		i := strconv.Itoa(n)
		if result := v.Get("result-" + i); result != "" {
			all = append(all, answer{n, v.Get("item-" + i), result, v.Get("note-" + i), v.Get("as-found-"+i) != ""})
		}
	}
	return all
}

// entryOf is the form as an entry, without photos. Values are as they were typed;
// it is for the reader of the shop folder to judge them.
func entryOf(v url.Values, report *condition.Report, shop *logbook.Shop) entry.Entry {
	e := entry.Entry{
		Date: v.Get("date"), Time: v.Get("time"), By: v.Get("by"), Title: strings.TrimSpace(v.Get("title")),
		Ran: v.Get("ran"), Meter: v.Get("meter"), Body: v.Get("body"),
	}
	for _, r := range workRows(v) {
		e.Sessions = append(e.Sessions, entry.Session{From: r["from"], To: r["to"], Less: r["less"], Task: r["task"], By: e.By})
	}
	for _, a := range answers(v) {
		e.Checks = append(e.Checks, entry.Check{Item: a.item, Result: a.result, Note: a.note, AsFound: a.asFound})
	}
	for _, r := range readingRows(v) {
		e.Measured = append(e.Measured, entry.Reading{What: r["what"], Where: r["where"], Value: r["value"], Gauge: r["gauge"], State: r["state"], AsFound: r["reading-found"] == "yes", System: r["reading-system"]})
	}
	for _, r := range stepRows(v) {
		e.Diagnosis = append(e.Diagnosis, entry.Step{Tried: r["tried"], Saw: r["saw"], So: r["so"], System: r["step-system"]})
	}
	for _, r := range testRows(v) {
		if t, ok := r.entry(); ok {
			e.Tests = append(e.Tests, t)
		}
	}
	for _, r := range partRows(v) {
		e.Parts = append(e.Parts, entry.Part{Part: r["part"], Number: r["number"], Qty: r["qty"], Each: r["each"], Source: r["source"], System: r["part-system"], Consumable: r["wears"] == "yes"})
	}
	for _, r := range mendRows(v) {
		e.Repaired = append(e.Repaired, entry.Repair{Key: r["mend"], How: r["how"], Proof: r["proof"]})
	}
	taken := map[string]bool{}
	for _, s := range report.Subjects {
		taken[s.Key] = true
	}
	for _, r := range foundRows(v) {
		key := entry.FreeKey(r["defect"], "defect", func(key string) bool { return taken[key] })
		taken[key] = true
		d := entry.Defect{Key: key, Defect: r["defect"], Effect: r["effect"], System: r["defect-system"]}
		if d.Safety, _ = entry.SaysSafety(r["safety"]); shop.AlwaysSafety(d.System) {
			d.Safety = string(logbook.SafetyYes)
		}
		e.Defects = append(e.Defects, d)
	}
	for _, r := range serviceRows(v) {
		e.Service = append(e.Service, entry.Service{What: r["service"], Amount: r["amount"], Every: r["every"], System: r["service-system"]})
	}
	e.Know()
	return e
}

// defectRows are the rows of defects. Whether each can hurt someone has no
// answer by itself, and a choice that nobody made is not sent, so it is numbered.
func defectRows(v url.Values) []row {
	all := rows(v, defectFields...)
	for n, r := range all {
		r["safety"] = v.Get("safety-" + strconv.Itoa(n))
	}
	return all
}

// unsaid are the defects of which the form does not say if they can hurt
// someone.
func unsaid(e entry.Entry) []string {
	var all []string
	for _, d := range e.Defects {
		if d.Safety == "" {
			all = append(all, d.Defect)
		}
	}
	return all
}

// nothing tells whether a form has nothing in it to be kept.
func nothing(e entry.Entry, photos int) bool {
	return photos == 0 && e.Title == "" && strings.TrimSpace(e.Body) == "" && e.Ran == "" && e.Meter == "" &&
		len(e.Sessions)+len(e.Checks)+len(e.Measured)+len(e.Diagnosis)+len(e.Tests)+len(e.Parts)+len(e.Defects)+len(e.Repaired)+len(e.Service) == 0
}

// titleWords is how many words of the story stand for a title that nobody wrote.
const titleWords = 7

// titleOf is the beginning of the story, up to the end of its first sentence.
func titleOf(body string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(body), "\n")
	words := strings.Fields(line)
	for i, w := range words {
		if i == titleWords-1 || strings.ContainsAny(w[len(w)-1:], ".!?:;") {
			return strings.TrimRight(strings.Join(words[:i+1], " "), ".!?:;,")
		}
	}
	return strings.Join(words, " ")
}

// open are the defects of a machine that are not repaired.
func open(report *condition.Report) []*condition.Subject {
	return slices.DeleteFunc(slices.Clone(report.Subjects), func(s *condition.Subject) bool {
		return s.Kind != condition.KindDefect || s.Standing != condition.Wrong && s.Standing != condition.WorkedAround
	})
}

// unanswered tells whether a point of the sheet has no answer that holds now.
func unanswered(s *condition.Subject) bool {
	return s.Standing != condition.InOrder && s.Standing != condition.DoesNotApply && (s.Standing != condition.Wrong || s.Touched != nil)
}

// results are the answers that a point can have.
var results = []string{logbook.Works, logbook.Fails, logbook.DoesNotApply, logbook.NotChecked}
