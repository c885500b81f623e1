package benchpage

import (
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"asleft/generator/condition"
	"asleft/generator/logbook"
)

// frame is what every page has.
type frame struct {
	Lang, Shop string
}

func (b *Bench) frame() frame {
	f := frame{Lang: b.words.Lang}
	if r := b.o.Reading(); r != nil {
		f.Shop = r.Shop.Name
	}
	return f
}

type pairView struct {
	frame
	Note string
}

func (b *Bench) pairView(key string) pairView {
	v := pairView{frame: frame{Lang: b.words.Lang}} // a stranger is told nothing, not even whose shop it is
	if key != "" {
		v.Note = b.words.Say(key)
	}
	return v
}

// frontView is the list of machines, those being worked on first.
type frontView struct {
	frame
	Said   []note
	Groups []group
}

type group struct {
	Title    string
	Machines []card
}

type card struct{ Key, Name, Kind, Last string }

func (b *Bench) frontView(s *session) frontView {
	v := frontView{frame: b.frame(), Said: s.told()}
	r := b.o.Reading()
	if r == nil {
		return v
	}
	now := group{Title: b.words.Say("phone.in-the-shop")}
	rest := group{Title: b.words.Say("phone.others")}
	for _, m := range r.Shop.Machines {
		c := card{Key: m.Key, Name: m.Name, Kind: m.Kind}
		if n := len(m.Entries); n > 0 && m.Entries[n-1].Date != "" {
			c.Last = b.words.Say("phone.last", "date", b.words.Day(m.Entries[n-1].Date.Day()))
		}
		if m.Stage == logbook.Sold || m.Stage == logbook.PartedOut {
			rest.Machines = append(rest.Machines, c)
		} else {
			now.Machines = append(now.Machines, c)
		}
	}
	for _, g := range []group{now, rest} {
		if len(g.Machines) > 0 {
			v.Groups = append(v.Groups, g)
		}
	}
	return v
}

// formView is the form of a machine.
type formView struct {
	frame
	Key, Name string
	Was       string // its earlier keys, with spaces between
	ID        string // of the entry
	Notes     []string
	Found     []finding
	FoundSay  string

	Date, Time, By, Title, Body, Ran, Meter string

	People   []string // who has written before
	Engine   bool
	Running  bool // a stretch of work has begun and not ended
	Work     []row
	Tasks    []string
	Checks   []checkRow
	CheckSay string
	Readings []row
	Whats    []string
	Steps    []row
	Find     string
	Finds    []string
	Hints    []hint
	Tests    []testRow
	Parts    []row
	Sources  []string
	Systems  []string
	Defects  []row
	Service  []row
	Open     []openRow
	Photos   []photoRow
}

type checkRow struct {
	N                      int
	Item, How, Note, Prior string
	Safety, Answered       bool
	AsFound                bool
	Choices                []choice
}

type choice struct {
	ID, Value string
	Chosen    bool
}

type openRow struct{ Key, Defect, How, Proof string }

type photoRow struct {
	ID, Name, Alt string
	Private       bool
}

func (b *Bench) formView(s *session, m *logbook.Machine, report *condition.Report, shop *logbook.Shop, v url.Values) formView {
	_, by := s.draft(m.Key)
	f := formView{
		frame: b.frame(), Key: m.Key, Name: m.Name, Was: strings.Join(m.Was, " "), ID: v.Get("id"),
		Date: string(b.today(shop)), By: by, Title: v.Get("title"), Body: v.Get("body"), Ran: v.Get("ran"), Meter: v.Get("meter"),
		Engine: hasEngine(m), Work: atLeastOne(rows(v, workFields...)), Readings: atLeastOne(rows(v, readingFields...)),
		Parts: atLeastOne(rows(v, partFields...)), Defects: atLeastOne(defectRows(v)), Service: atLeastOne(rows(v, serviceFields...)),
		Steps: atLeastOne(rows(v, stepFields...)), Find: v.Get("find"), Finds: finds(), Hints: hints(v.Get("find"), report), Tests: testRows(v),
		Sources: logbook.Sources, Systems: shop.Systems,
	}
	if v != nil {
		f.Date, f.Time, f.By = v.Get("date"), v.Get("time"), v.Get("by")
	}
	if !idForm.MatchString(f.ID) {
		f.ID = newID()
	}
	last := f.Work[len(f.Work)-1]
	f.Running = last["from"] != "" && last["to"] == ""
	f.People, f.Tasks = shop.Usual()
	for _, l := range m.Limits {
		if !slices.Contains(f.Whats, l.What) {
			f.Whats = append(f.Whats, l.What)
		}
	}
	f.Checks = b.checkRows(report, v)
	if n := unansweredOf(f.Checks); n > 0 {
		f.CheckSay = b.words.Count("phone.unanswered", n)
	}
	mended := map[string]row{}
	for _, r := range rows(v, mendFields...) {
		mended[r["mend"]] = r
	}
	for _, d := range open(report) {
		f.Open = append(f.Open, openRow{d.Key, d.Name, mended[d.Key]["how"], mended[d.Key]["proof"]})
	}
	for _, r := range rows(v, photoFields...) {
		if h := b.uploads.of(s, r["photo-id"]); h != nil && h.whole() != nil {
			f.Photos = append(f.Photos, photoRow{h.id, h.name, r["photo-alt"], slices.Contains(v["photo-private"], h.id)})
		}
	}
	return f
}

func atLeastOne(all []row) []row {
	if len(all) == 0 {
		return []row{{"n": "0"}} // one that holds nothing
	}
	return all
}

// checkRows are the points of the machine's sheet, those without an answer
// first.
func (b *Bench) checkRows(report *condition.Report, v url.Values) []checkRow {
	given := map[string]answer{}
	for _, a := range answers(v) {
		given[a.item] = a
	}
	var first, rest []checkRow
	for _, c := range report.Subjects {
		if c.Kind != condition.KindPoint {
			continue
		}
		row := checkRow{Item: c.Name, Safety: c.Safety != logbook.SafetyNo, Note: given[c.Name].note, AsFound: given[c.Name].asFound, Answered: !unanswered(c)}
		if c.Item != nil {
			row.How = c.Item.How
		}
		if n := len(c.History); n > 0 {
			row.Prior = b.words.Say("phone.answered", "result", b.words.Say("standing."+condition.Word(c.Standing)), "date", b.words.Day(c.History[n-1].Entry.Date.Day()))
		}
		if row.Answered {
			rest = append(rest, row)
		} else {
			first = append(first, row)
		}
	}
	all := append(first, rest...)
	for n := range all {
		all[n].N = n
		for i, r := range results {
			all[n].Choices = append(all[n].Choices, choice{"c" + strconv.Itoa(n) + "-" + strconv.Itoa(i), r, given[all[n].Item].result == r})
		}
	}
	return all
}

func unansweredOf(all []checkRow) int {
	n := 0
	for _, c := range all {
		if !c.Answered {
			n++
		}
	}
	return n
}

// hasEngine tells whether a machine may have run on an engine of its own.
func hasEngine(m *logbook.Machine) bool {
	if m.Engine != nil || m.Sheet == nil {
		return true
	}
	return slices.ContainsFunc(m.Sheet.Items, func(i logbook.Item) bool { return i.System == "engine" })
}

// lists are the lists of the form that can have one more row.
var lists = map[string][]string{"work": workFields, "readings": readingFields, "steps": stepFields, "parts": partFields, "defects": defectFields, "service": serviceFields}

// again is a form with what its button asked for: the clock started or stopped,
// one more row, a photo taken out.
func again(v url.Values, do string, now time.Time) url.Values {
	clock := now.Format("15:04")
	even(v, workFields, 0)
	all := rows(v, workFields...)
	last := len(all) - 1
	running := last >= 0 && all[last]["from"] != "" && all[last]["to"] == ""
	switch {
	case do == "start" && !running:
		if last < 0 || !all[last].empty() {
			longer(v, "work")
			last = min(last+1, mostRows-1)
		}
		v["from"][last] = clock
	case do == "stop" && running && v["from"][last] == clock:
		v["from"][last] = "" // less than a minute is no work
	case do == "stop" && running:
		v["to"][last] = clock
	case strings.HasPrefix(do, "more-"):
		longer(v, strings.TrimPrefix(do, "more-"))
	case strings.HasPrefix(do, "add-test-"):
		addTest(v, strings.TrimPrefix(do, "add-test-"))
	case strings.HasPrefix(do, "drop-test-"):
		dropTest(v, strings.TrimPrefix(do, "drop-test-"))
	case strings.HasPrefix(do, "drop-"):
		drop(v, strings.TrimPrefix(do, "drop-"))
	}
	return v
}

// longer gives a list one more row.
func longer(v url.Values, list string) { even(v, lists[list], 1) }

// even gives all fields of a list as many values, and some more than the
// longest has.
func even(v url.Values, fields []string, more int) {
	n := more
	for _, f := range fields {
		n = max(n, len(v[f])+more)
	}
	for _, f := range fields {
		for len(v[f]) < min(n, mostRows) {
			v[f] = append(v[f], "")
		}
	}
}

// drop takes a photo out of a form.
func drop(v url.Values, id string) {
	for i, have := range v["photo-id"] {
		if have == id {
			v["photo-id"] = slices.Delete(v["photo-id"], i, i+1)
			if i < len(v["photo-alt"]) {
				v["photo-alt"] = slices.Delete(v["photo-alt"], i, i+1)
			}
			return
		}
	}
}
