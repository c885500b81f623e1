package desk

import (
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"asleft/generator/benchtest"
	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// turned is a form with what one of its buttons asks for: the clock started or stopped,
// a bench test put in or taken out.
func turned(v url.Values, do, what string, now time.Time) {
	switch do {
	case "start":
		startClock(v, now.Format("15:04"))
	case "stop":
		stopClock(v, now.Format("15:04"))
	case "add-test":
		if kind, ok := benchtest.KindNamed(what); ok {
			v.Set(fieldPrefix+"tests."+strconv.Itoa(freeRow(v, "tests"))+".test", kind.Name)
			v.Del("find")
		}
	case "drop-test":
		for name := range v {
			if strings.HasPrefix(name, what+".") && strings.HasPrefix(name, fieldPrefix+"tests.") && !strings.HasSuffix(name, wasName) {
				v.Del(name)
			}
		}
	}
}

// rowsIn are the numbers of the rows of a list of a form.
func rowsIn(v url.Values, list string) []int {
	b := branchOf(v).in[list]
	if b == nil {
		return nil
	}
	return b.rows()
}

// freeRow is the number of the first row of a list in which nothing stands.
func freeRow(v url.Values, list string) int {
	all := rowsIn(v, list)
	for _, n := range all {
		prefix := fieldPrefix + list + "." + strconv.Itoa(n) + "."
		empty := true
		for name, values := range v {
			empty = empty && (!strings.HasPrefix(name, prefix) || strings.Join(values, "") == "")
		}
		if empty {
			return n
		}
	}
	if len(all) == 0 {
		return 0
	}
	return min(slices.Max(all)+1, mostRows-1)
}

// running is the row of a stretch of work that has begun and not ended; -1 for none.
func running(v url.Values) int {
	for _, n := range rowsIn(v, "hours") {
		at := fieldPrefix + "hours." + strconv.Itoa(n) + "."
		if v.Get(at+"from") != "" && v.Get(at+"to") == "" {
			return n
		}
	}
	return -1
}

func startClock(v url.Values, now string) {
	if running(v) >= 0 {
		return
	}
	row := freeRow(v, "hours")
	for _, n := range rowsIn(v, "hours") {
		if at := fieldPrefix + "hours." + strconv.Itoa(n) + "."; v.Get(at+"from")+v.Get(at+"to") == "" {
			row = n // what it is for may be said already
			break
		}
	}
	v.Set(fieldPrefix+"hours."+strconv.Itoa(row)+".from", now)
}

// stopClock ends a stretch of work; one of less than a minute is none.
func stopClock(v url.Values, now string) {
	n := running(v)
	if n < 0 {
		return
	}
	at := fieldPrefix + "hours." + strconv.Itoa(n) + "."
	if v.Get(at+"from") == now {
		v.Set(at+"from", "")
		return
	}
	v.Set(at+"to", now)
}

// A hint is the bench tests that tell the causes of something apart, or those that a
// text found.
type hint struct {
	For   string
	Tests []benchtest.Trial
}

// hints are the tests that a text found, else those for the open defects that are
// symptoms, the cheapest and safest first.
func hints(find string, report *condition.Report) (all []hint) {
	if find != "" {
		if s, ok := benchtest.SymptomNamed(find); ok {
			return []hint{{s.Name, s.Try}}
		}
		return []hint{{find, benchtest.Trials(find)}}
	}
	if report == nil {
		return nil
	}
	for _, d := range report.Subjects {
		if d.Kind != condition.KindDefect || d.Standing != condition.Wrong && d.Standing != condition.WorkedAround {
			continue
		}
		if s, ok := benchtest.SymptomNamed(d.Name); ok {
			all = append(all, hint{d.Name, s.Try})
		}
	}
	return all
}

// finds are the words that find a test: a symptom, its name, a tool.
func finds() []string {
	var all []string
	for _, s := range benchtest.Symptoms() {
		all = append(all, s.Name)
	}
	for _, k := range benchtest.Kinds() {
		all = append(all, k.Name)
	}
	return append(all, benchtest.Tools()...)
}

// The points of a machine's list have rows of their own in the form of an evening, behind
// those that somebody adds: each says which point it is, and counts once it is answered.
const pointsFrom = 100

var pointName = regexp.MustCompile(`^f\.checks\.[1-4][0-9][0-9]\.`)

// A pointRow is a point of the list that the evening does not answer yet.
type pointRow struct {
	Name, ID       string // f.checks.103
	Item, How, Was string
	Safety         bool
	Choices        []walkChoice
	Wrong          []box // the places for what is wrong in it
}

// pointRows are the points of a machine's list but for those that are answered already,
// first those that can hurt someone and have no answer.
func (f *filling) pointRows(answered map[string]given) []pointRow {
	if f.report == nil || !f.fresh { // an evening of long ago does not ask what is open today
		return nil
	}
	var all []pointRow
	for n, s := range points(f.report) {
		if _, has := answered[s.Name]; has || n >= mostRows-pointsFrom {
			continue
		}
		p := pointRow{Name: fieldPrefix + "checks." + strconv.Itoa(pointsFrom+n), Item: s.Name, Safety: s.Safety != logbook.SafetyNo, Choices: f.d.walkChoices()}
		p.ID = idOf(p.Name)
		if s.Item != nil {
			p.How = s.Item.How
		}
		p.Was = f.d.walkedBefore(s)
		for _, name := range []string{"result", "note"} {
			p.Wrong = append(p.Wrong, box{ID: idOf(p.Name + "." + name), Name: p.Name + "." + name})
		}
		all = append(all, p)
	}
	return all
}
