package handover

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"asleft/generator/catalog"
	"asleft/generator/record"
)

// A tale is what a sealed report said, and what the log says today. Each test of this
// file changes one or both of them and holds all that is told of it against what it
// should be, in order: a minus stands before what the log no longer says.
type tale struct {
	was, now func(*Facts)
	want     []string
}

func (tc tale) check(t *testing.T) {
	t.Helper()
	was, now := &Facts{}, &Facts{}
	for f, change := range map[*Facts]func(*Facts){was: tc.was, now: tc.now} {
		f.Record.Machine = record.Machine{Key: "pump", Name: "Pump", Arrived: "2026-03-01"}
		if change != nil {
			change(f)
		}
	}
	if diff := cmp.Diff(tc.want, toldOf(Since(was, now, catalog.English))); diff != "" {
		t.Errorf("(-want, +got):\n%s", diff)
	}
}

func checkTales(t *testing.T, all map[string]tale) {
	for name, tc := range all {
		t.Run(name, func(t *testing.T) { tc.check(t) })
	}
}

func toldOf(changes []Change) (all []string) {
	for _, c := range changes {
		if c.Gone {
			c.Text = "-" + c.Text
		}
		all = append(all, c.Text)
	}
	return all
}

// subjects are facts with these subjects.
func subjects(all ...record.Subject) func(*Facts) {
	return func(f *Facts) { f.Record.Subjects = all }
}

// defect, point and reading are subjects with a history of claims: the day of March,
// then what was said.
func defect(name string, said ...string) record.Subject { return subjectOf("defect", name, said) }

func point(name string, said ...string) record.Subject { return subjectOf("point", name, said) }

func measurement(name string, said ...string) record.Subject {
	return subjectOf("measurement", name, said)
}

func subjectOf(kind, name string, said []string) record.Subject {
	s := record.Subject{Kind: kind, Name: name}
	for _, one := range said {
		s.History = append(s.History, record.Event{Date: "2026-03-" + one[:2], Entry: "machines/pump/2026-03-" + one[:2] + ".md", Said: one[3:]})
	}
	return s
}

// with changes a subject.
func with(s record.Subject, change func(*record.Subject)) record.Subject {
	change(&s)
	return s
}

func keyed(s record.Subject, key string) record.Subject {
	return with(s, func(s *record.Subject) { s.Key = key })
}

func standing(s record.Subject, is string) record.Subject {
	return with(s, func(s *record.Subject) { s.Standing = is })
}

func safety(s record.Subject, is string) record.Subject {
	return with(s, func(s *record.Subject) { s.Safety = is })
}

func entries(all ...Evidence) func(*Facts) {
	return func(f *Facts) { f.Entries = all }
}

// Each kind of claim that is new has its sentence, with and without words of its own.
func TestSinceHasASentenceForEachKindOfClaim(t *testing.T) {
	tales := map[string]tale{}
	for said, want := range map[string][2]string{
		"found":           {"Found on March 2, 2026: it.", "Found on March 2, 2026: it, in these words: so."},
		"found again":     {"Found again on March 2, 2026: it.", "Found again on March 2, 2026: it, in these words: so."},
		"repaired":        {"Repaired on March 2, 2026: it.", "Repaired on March 2, 2026: it. How: so."},
		"proved":          {"Proof on March 2, 2026: it.", "Proof on March 2, 2026: it. What showed it: so."},
		"worked around":   {"Worked around on March 2, 2026, not repaired: it.", "Worked around on March 2, 2026, not repaired: it. How: so."},
		"gone":            {"It left the machine on March 2, 2026 with its part: it.", "It left the machine on March 2, 2026 with its part: it. For this: so."},
		"works":           {"As it should be on March 2, 2026: it.", "As it should be on March 2, 2026: it. Note: so."},
		"fails":           {"Not so on March 2, 2026: it.", "Not so on March 2, 2026: it. Note: so."},
		"not checked":     {"Written as not checked on March 2, 2026: it.", "Written as not checked on March 2, 2026: it. Note: so."},
		"does not apply":  {"Written as not there on March 2, 2026: it.", "Written as not there on March 2, 2026: it. Reason: so."},
		"service":         {"Service on March 2, 2026 that speaks to this: it.", "Service on March 2, 2026 that speaks to this: it. What was done: so."},
		"read":            {"Measured on March 2, 2026: it.", "Measured on March 2, 2026: it, so."},
		"changed":         {"Changed from how the maker built it, on March 2, 2026: it.", "Changed from how the maker built it, on March 2, 2026: so."},
		"put back":        {"Put back on March 2, 2026: it.", "Put back on March 2, 2026: it. How: so."},
		"replaced":        {"Put in on March 2, 2026, after it was gone: it.", "Put in on March 2, 2026, after it was gone: it. What was put in: so."},
		"effect":          {"The log says more of this on March 2, 2026: it. It says: effect.", "The log says more of this on March 2, 2026: it. It says: so."},
		"caution":         {"The log says more of this on March 2, 2026: it. It says: caution.", "The log says more of this on March 2, 2026: it. It says: so."},
		"meter":           {"The hour meter was written down on March 2, 2026: meter.", "The hour meter was written down on March 2, 2026: so."},
		"missing":         {"The log says now that this was gone when the machine came: it.", "The log says now that this was gone when the machine came: it."},
		"left out":        {"Taken off the list of points: left out.", "Taken off the list of points: so."},
		"shop says":       {"Does the hour meter read right? The shop says now: shop says.", "Does the hour meter read right? The shop says now: so."},
		"meter replaced":  {"The hour meter was replaced on March 2, 2026: meter replaced.", "The hour meter was replaced on March 2, 2026: so."},
		"taken out again": {"The log says more of this on March 2, 2026: it. It says: taken out again.", "The log says more of this on March 2, 2026: it. It says: so."},
	} {
		tales[said] = tale{nil, subjects(defect("it", "02 "+said)), []string{want[0]}}
		tales[said+" with words"] = tale{nil, subjects(defect("it", "02 "+said+": so")), []string{want[1]}}
		if want[0][:5] != "The l" && said != "left out" && said != "shop says" && said != "meter" && said != "meter replaced" {
			tales[said+" in the words of its name"] = tale{nil, subjects(defect("it", "02 "+said+": IT.")), []string{want[0]}}
		}
	}
	checkTales(t, tales)
}

// What became of a claim that is not there as it was: the same day in other words, the
// same words on another day, or nothing. Two kinds of answer are one kind.
func TestSinceTellsWhatBecameOfAClaim(t *testing.T) {
	checkTales(t, map[string]tale{
		"nothing": {subjects(defect("it", "02 found: it")), subjects(defect("it", "02 found: it")), nil},
		"its limit is compared by itself": {
			subjects(defect("it", "02 found: it", "02 limit: 70 psi")), subjects(defect("it", "02 found: it", "02 limit: 60 psi")), nil,
		},
		"case and punctuation": {subjects(defect("it", "02 found: it", "02 effect: Drips, much")), subjects(defect("it", "02 found: it", "02 effect: drips much.")), nil},
		"found again is found": {subjects(defect("it", "02 found again: it")), subjects(defect("it", "02 found: it")), nil},
		"other words": {subjects(defect("it", "02 effect: drips.")), subjects(defect("it", "02 effect:  runs ; ")), []string{
			"-What the log said on March 2, 2026 of “it” reads otherwise now. It was: drips. It is: runs.",
		}},
		"another day": {subjects(defect("it", "02 effect: drips")), subjects(defect("it", "03 effect: drips")), []string{
			"-What the log said on March 2, 2026 of “it” has another date, on March 3, 2026. It says: drips.",
		}},
		"other words of that day before the same words of another": {
			subjects(defect("it", "02 effect: drips")), subjects(defect("it", "03 effect: drips", "02 effect: runs")), []string{
				"-What the log said on March 2, 2026 of “it” reads otherwise now. It was: drips. It is: runs.",
				"The log says more of this on March 3, 2026: it. It says: drips.",
			},
		},
		"taken out": {subjects(defect("it", "02 found: it", "02 effect: drips")), subjects(defect("it", "02 found: it")), []string{
			"-The log does not say this any more on March 2, 2026 of “it”: drips.",
		}},
		"another kind of that day": {subjects(defect("it", "02 effect: drips")), subjects(defect("it", "02 caution: drips")), []string{
			"-The log does not say this any more on March 2, 2026 of “it”: drips.",
			"The log says more of this on March 2, 2026: it. It says: drips.",
		}},
		"one of two that are alike": {subjects(defect("it", "02 effect: drips", "02 effect: drips")), subjects(defect("it", "02 effect: drips")), []string{
			"-The log does not say this any more on March 2, 2026 of “it”: drips.",
		}},
		"one of two is taken up once": {subjects(defect("it", "02 effect: drips", "02 effect: pours")), subjects(defect("it", "02 effect: runs")), []string{
			"-What the log said on March 2, 2026 of “it” reads otherwise now. It was: drips. It is: runs.",
			"-The log does not say this any more on March 2, 2026 of “it”: pours.",
		}},
		"one of two days is taken up once": {subjects(defect("it", "02 effect: drips", "03 effect: drips")), subjects(defect("it", "04 effect: drips")), []string{
			"-What the log said on March 2, 2026 of “it” has another date, on March 4, 2026. It says: drips.",
			"-The log does not say this any more on March 3, 2026 of “it”: drips.",
		}},
		"an answer of another kind, with its note": {subjects(point("it", "02 works: by hand")), subjects(point("it", "02 does not apply: none fitted")), []string{
			"-What the log said on March 2, 2026 of “it” reads otherwise now. It was: works (by hand). It is: does not apply (none fitted).",
		}},
		"an answer and a service": {subjects(point("it", "02 not checked")), subjects(point("it", "02 service: oil")), []string{
			"-The log does not say this any more on March 2, 2026 of “it”: not checked.",
			"Service on March 2, 2026 that speaks to this: it. What was done: oil.",
		}},
		"a service and an answer": {subjects(point("it", "02 service: oil")), subjects(point("it", "02 fails")), []string{
			"-The log does not say this any more on March 2, 2026 of “it”: oil.",
			"Not so on March 2, 2026: it.",
		}},
		"a reading": {subjects(measurement("bore", "02 read: 1 in")), subjects(measurement("bore", "02 read: 2 in")), []string{
			"-What the log said on March 2, 2026 of “bore” reads otherwise now. It was: 1 in. It is: 2 in.",
		}},
	})
}

// Which subject of today a sealed one is: by key and name, by its key, by its name; and
// never one of another kind. Two are never the same one.
func TestSinceFindsTheSubjectAgain(t *testing.T) {
	checkTales(t, map[string]tale{
		"in another order": {
			subjects(defect("one", "02 found: one"), defect("two", "02 found: two")), subjects(defect("two", "02 found: two"), defect("one", "02 found: one")), nil,
		},
		"renamed, by its key": {subjects(keyed(defect("one", "02 found: one"), "k")), subjects(keyed(defect("two", "02 found: one"), "k")), nil},
		"renamed, without a key": {subjects(defect("one", "02 found: one")), subjects(defect("two", "02 found: one")), []string{
			"-The log does not list this defect any more: one.", "Found on March 2, 2026: two, in these words: one.",
		}},
		"another key, by its name": {subjects(keyed(defect("one", "02 found: one"), "k")), subjects(keyed(defect("one", "02 found: one"), "m")), nil},
		"key and name before the key alone": {
			subjects(keyed(defect("one", "02 found: one"), "k"), keyed(defect("two", "02 found: two"), "k")),
			subjects(keyed(defect("two", "02 found: two"), "k"), keyed(defect("one", "02 found: one"), "k")), nil,
		},
		"two of one name": {subjects(defect("one", "02 found: one"), defect("one", "03 found: one")), subjects(defect("one", "02 found: one")), []string{
			"-The log does not list this defect any more: one.",
		}},
		"one more of a name": {subjects(defect("one", "02 found: one")), subjects(defect("one", "02 found: one"), defect("one", "03 found: one")), []string{
			"Found on March 3, 2026: one.",
		}},
		"of another kind": {subjects(defect("one", "02 found: one")), subjects(point("one")), []string{
			"-The log does not list this defect any more: one.", "New on the list, with no check in the log: one.",
		}},
		"the list, by another name":  {subjects(subjectOf("list", "small engine", nil)), subjects(subjectOf("list", "water pump", nil)), nil},
		"the meter, by another name": {subjects(subjectOf("meter", "hours", nil)), subjects(subjectOf("meter", "engine hours", nil)), nil},
		"each kind that is gone": {
			subjects(defect("a"), point("b"), measurement("c"), subjectOf("change", "d", nil), subjectOf("missing part", "e", nil)), nil, []string{
				"-The log does not list this defect any more: a.", "-The list does not have this point any more: b.",
				"-The log does not hold this reading any more: c.", "-The log does not list this change any more: d.",
				"-The log does not say any more that this was gone when the machine came: e.",
			},
		},
		"a new measurement": {nil, subjects(standing(measurement("bore", "02 read: 1 in"), "too close to call")), []string{
			"Measured on March 2, 2026: bore, 1 in.", "Where this stands by its readings: bore, too close to call.",
		}},
	})
}

// Of safety each step is told: the kinder ones are gone, the graver ones are new.
func TestSinceTellsOfSafety(t *testing.T) {
	const safer, unsaid = "-It was a matter of safety, and the log does not say so now: it.", "-The log said if this can hurt someone, and does not say it now: it."
	const is, no = "The log has it as a matter of safety now: it.", "The shop says now that it cannot hurt someone: it."
	for steps, want := range map[[2]string][]string{
		{"yes", "yes"}: nil, {"yes", "no"}: {safer}, {"yes", "not said"}: {safer},
		{"no", "yes"}: {is}, {"no", "no"}: nil, {"no", "not said"}: {unsaid},
		{"not said", "yes"}: {is}, {"not said", "no"}: {no}, {"not said", "not said"}: nil,
	} {
		t.Run(steps[0]+" to "+steps[1], func(t *testing.T) {
			tale{subjects(safety(defect("it"), steps[0])), subjects(safety(defect("it"), steps[1])), want}.check(t)
		})
	}
}

// A subject that stands otherwise: told as gone where it stands kinder without a new
// word, not at all where what was taken out tells it, and else as what is so now.
func TestSinceTellsOfStandings(t *testing.T) {
	stand := func(is string, said ...string) func(*Facts) { return subjects(standing(defect("it", said...), is)) }
	answered := func(is string, said ...string) func(*Facts) {
		return subjects(with(standing(point("it", said...), is), func(s *record.Subject) { s.AnsweredBy = []string{"compression"} }))
	}
	plainly := func(is string, said ...string) func(*Facts) { return subjects(standing(point("it", said...), is)) }
	const lost = "-The log does not say this any more on March 2, 2026 of “it”: drips."
	const proved = "Proof on March 2, 2026: it. What showed it: hot."
	checkTales(t, map[string]tale{
		"as it stood":           {stand("wrong"), stand("wrong"), nil},
		"kinder":                {stand("wrong"), stand("in order"), []string{"-Then wrong; now in order, with nothing new said of it that makes it better: it."}},
		"worse":                 {stand("in order"), stand("wrong"), []string{"Then in order; now wrong: it."}},
		"worse, with a loss":    {stand("in order", "02 effect: drips"), stand("wrong"), []string{lost, "Then in order; now wrong: it."}},
		"kinder, by a loss":     {stand("wrong", "02 effect: drips"), stand("in order"), []string{lost}},
		"kinder, by a new word": {stand("wrong"), stand("in order", "02 proved: hot"), []string{proved, "Then wrong; now in order: it."}},
		"kinder, by both":       {stand("wrong", "02 effect: drips"), stand("in order", "02 proved: hot"), []string{lost, proved, "Then wrong; now in order: it."}},
		"kinder, by bad news": {stand("wrong"), stand("in order", "02 caution: hot"), []string{
			"The log says more of this on March 2, 2026: it. It says: hot.", "-Then wrong; now in order, with nothing new said of it that makes it better: it.",
		}},
		"nothing was said":                {stand(""), stand("wrong"), nil},
		"in words of several":             {stand("in order"), stand("too close to call"), []string{"Then in order; now too close to call: it."}},
		"by its measurement":              {answered("wrong"), answered("in order"), nil},
		"by its measurement then":         {answered("wrong"), plainly("in order"), nil},
		"by its measurement now":          {plainly("wrong"), answered("in order"), nil},
		"by its measurement, and a claim": {answered("in order"), answered("wrong", "02 fails"), []string{"Not so on March 2, 2026: it.", "Then in order; now wrong: it."}},
		"by its measurement, and a loss":  {answered("in order", "02 works"), answered("wrong"), []string{"-The log does not say this any more on March 2, 2026 of “it”: works.", "Then in order; now wrong: it."}},
	})
}

// Which entry of today a sealed one is: the surest way first, and each entry once.
func TestSinceFindsTheEntryAgain(t *testing.T) {
	at := func(file, day, title string) Evidence {
		return Evidence{"machines/pump/" + file + ".md", "2026-03-" + day, title}
	}
	checkTales(t, map[string]tale{
		"in another folder":        {entries(Evidence{"machines/old/a.md", "2026-03-02", "A"}), entries(at("a", "02", "A")), nil},
		"renamed":                  {entries(at("a", "02", "A")), entries(at("b", "02", "a.")), nil},
		"renamed, in another turn": {entries(at("a", "02", "A"), at("b", "02", "B")), entries(at("c", "02", "B"), at("d", "02", "A")), nil},
		"retitled":                 {entries(at("a", "02", "A")), entries(at("a", "02", "B.")), []string{"-The entry of March 2, 2026 has another title. It was: A. It is: B."}},
		"redated":                  {entries(at("a", "02", "A")), entries(at("a", "03", "A")), []string{"-An entry has another date: A. It was March 2, 2026. It is March 3, 2026."}},
		"both": {entries(at("a", "02", "A")), entries(at("a", "03", "B")), []string{
			"-The entry of March 2, 2026 has another title. It was: A. It is: B.", "-An entry has another date: A. It was March 2, 2026. It is March 3, 2026.",
		}},
		"renamed and redated":  {entries(at("a", "02", "A")), entries(at("b", "03", "A")), []string{"-An entry has another date: A. It was March 2, 2026. It is March 3, 2026."}},
		"renamed and retitled": {entries(at("a", "02", "A")), entries(at("b", "02", "B")), []string{"-The entry of March 2, 2026 has another title. It was: A. It is: B."}},
		"another":              {entries(at("a", "02", "A")), entries(at("b", "03", "B")), []string{"-An entry is gone. It was of March 2, 2026: A.", "A new entry of March 3, 2026: B."}},
		"the file before the day and the title": {
			entries(at("a", "02", "A")), entries(at("b", "02", "A"), at("a", "03", "A")), []string{
				"-An entry has another date: A. It was March 2, 2026. It is March 3, 2026.", "A new entry of March 2, 2026: A.",
			},
		},
		"the title before the day": {
			entries(at("a", "02", "A")), entries(at("b", "02", "B"), at("c", "03", "A")), []string{
				"-An entry has another date: A. It was March 2, 2026. It is March 3, 2026.", "A new entry of March 2, 2026: B.",
			},
		},
		"one of two that are alike": {entries(at("a", "02", "A"), at("b", "02", "A")), entries(at("c", "02", "A")), []string{"-An entry is gone. It was of March 2, 2026: A."}},
	})
}

// Another date of an entry is told once: what the entry said is as it was, and what
// others said is not moved with it.
func TestSinceMovesWhatARedatedEntrySaid(t *testing.T) {
	said := func(entry, day string) func(*Facts) {
		return func(f *Facts) {
			f.Entries = []Evidence{{entry, day, "A"}, {"machines/pump/b.md", "2026-03-02", "B"}}
			at := func(file, day, said string) record.Event { return record.Event{Date: day, Entry: file, Said: said} }
			f.Record.Subjects = []record.Subject{{Kind: "defect", Name: "it", History: []record.Event{at(entry, day, "found: it"), at("machines/pump/b.md", "2026-03-02", "effect: drips")}}}
			f.Record.Tests = []record.Test{{Test: "leak-down", Date: day, Entry: entry}}
			f.Record.Parts = []record.Part{{Part: "seal", Date: day, Entry: entry}}
			f.Record.Service = []record.Service{{What: "oil", Date: day, Entry: entry}}
		}
	}
	saidIn := func(file, a, b string) func(*Facts) {
		return func(f *Facts) {
			f.Entries = []Evidence{{"machines/pump/a.md", "2026-03-" + a, "A"}, {"machines/pump/b.md", "2026-03-" + b, "B"}}
			f.Record.Subjects = []record.Subject{with(defect("it", "02 found: it"), func(s *record.Subject) { s.History[0].Entry = file })}
		}
	}
	const moved = "-An entry has another date: A. It was March 2, 2026. It is March 5, 2026."
	checkTales(t, map[string]tale{
		"redated":                    {said("machines/pump/a.md", "2026-03-02"), said("machines/pump/a.md", "2026-03-05"), []string{moved}},
		"redated, in another folder": {said("machines/old/a.md", "2026-03-02"), said("machines/pump/a.md", "2026-03-05"), []string{moved}},
		"said in another entry of its day": {
			saidIn("machines/pump/a.md", "02", "05"), saidIn("machines/pump/b.md", "05", "02"),
			[]string{moved, "-An entry has another date: B. It was March 5, 2026. It is March 2, 2026."},
		},
		"what the machine's own file says": {
			func(f *Facts) {
				f.Record.Subjects = []record.Subject{{Kind: "missing part", Name: "cap", History: []record.Event{{Date: "2026-03-01", Entry: "machines/pump/machine.md", Said: "missing"}}}}
			},
			func(f *Facts) {
				f.Record.Machine.Arrived = "2026-02-01"
				f.Record.Subjects = []record.Subject{{Kind: "missing part", Name: "cap", History: []record.Event{{Date: "2026-02-01", Entry: "machines/pump/machine.md", Said: "missing"}}}}
			},
			[]string{"-Came: February 1, 2026 now, March 1, 2026 then."},
		},
	})
}

// Tests, parts and service are lists: a line that stands twice counts twice.
func TestSinceComparesLists(t *testing.T) {
	tests := func(where, day string, says ...string) func(*Facts) {
		return func(f *Facts) {
			f.Record.Tests = []record.Test{{Test: "leak-down", Where: where, Date: day, Says: says}}
		}
	}
	parts := func(n int, source, from string) func(*Facts) {
		return func(f *Facts) {
			f.Record.Parts = slices.Repeat([]record.Part{{Part: "seal", Source: source, From: from, Date: "2026-03-02"}}, n)
		}
	}
	service := func(system string) func(*Facts) {
		return func(f *Facts) { f.Record.Service = []record.Service{{What: "oil", System: system, Date: "2026-03-02"}} }
	}
	const part, partGone = "A part in the log on March 2, 2026: seal.", "-The log does not list this part any more on March 2, 2026: seal."
	checkTales(t, map[string]tale{
		"a new test":                   {nil, tests("cylinder 1", "2026-03-02", "The ring", "is worn."), []string{"Test on March 2, 2026: leak-down. The ring is worn."}},
		"a test that is gone":          {tests("", "2026-03-02"), nil, []string{"-The log does not hold this test any more on March 2, 2026: leak-down."}},
		"a test of another place":      {tests("cylinder 1", "2026-03-02"), tests("cylinder 2", "2026-03-02"), []string{"Test on March 2, 2026: leak-down.", "-The log does not hold this test any more on March 2, 2026: leak-down."}},
		"a test of another day":        {tests("", "2026-03-02"), tests("", "2026-03-03"), []string{"Test on March 3, 2026: leak-down.", "-The log does not hold this test any more on March 2, 2026: leak-down."}},
		"what a test says is no claim": {tests("", "2026-03-02", "All well."), tests("", "2026-03-02", "Not well."), nil},
		"a part more":                  {parts(1, "new", ""), parts(2, "new", ""), []string{part}},
		"two parts less":               {parts(3, "new", ""), parts(1, "new", ""), []string{partGone, partGone}},
		"as many parts":                {parts(2, "new", ""), parts(2, "New", ""), nil},
		"a part of another source":     {parts(1, "new", ""), parts(1, "used", ""), []string{part, partGone}},
		"a part from elsewhere":        {parts(1, "new", "a"), parts(1, "new", "b"), []string{part, partGone}},
		"service of another system": {service("engine"), service("drive"), []string{
			"Service on March 2, 2026: oil.", "-The log does not list this service any more on March 2, 2026: oil.",
		}},
	})
}

// Less time than there was is gone; the same is nothing.
func TestSinceComparesHours(t *testing.T) {
	hours := func(work, run int) func(*Facts) {
		return func(f *Facts) {
			for to, n := range map[**int]int{&f.Record.Hours.WorkMinutes: work, &f.Record.Hours.RunMinutes: run} {
				if n >= 0 {
					*to = &n
				}
			}
		}
	}
	checkTales(t, map[string]tale{
		"the same":         {hours(60, 20), hours(60, 20), nil},
		"more":             {hours(60, 20), hours(61, 21), []string{"Work put into it: 1 h 1 min now, 1 h then.", "The engine ran 21 min by now, 20 min then."}},
		"less":             {hours(60, 20), hours(59, 19), []string{"-The log has less work in it than it had: 59 min now, 1 h then.", "-The log has the engine run less than it had: 19 min now, 20 min then."}},
		"none any more":    {hours(60, 20), hours(-1, -1), []string{"-The shop no longer says how much work it put in.", "-The log has the engine run less than it had: 0 min now, 20 min then."}},
		"none before":      {hours(-1, -1), hours(60, 20), []string{"Work put into it: 1 h now, 0 min then.", "The engine ran 20 min by now, 0 min then."}},
		"never any":        {hours(-1, -1), hours(-1, -1), nil},
		"none is not zero": {hours(-1, -1), hours(0, 0), []string{"Work put into it: 0 min now, 0 min then.", "The engine ran 0 min by now, 0 min then."}},
	})
}

// What a machine is known by, and its sale.
func TestSinceComparesTheMachine(t *testing.T) {
	price := func(amount string) func(*Facts) {
		return func(f *Facts) {
			if amount != "" {
				f.Record.Machine.Asking, f.Price = &amount, "$"+amount
			}
		}
	}
	tales := map[string]tale{
		"another price": {price("40.00"), price("50.00"), []string{"The price is $50.00 now."}},
		"the price":     {price("40.00"), price("40.00"), nil},
		"a price":       {price(""), price("40.00"), []string{"The price is $40.00 now."}},
		"no price":      {price("40.00"), price(""), nil},
		"another stage": {
			func(f *Facts) { f.Record.Machine.Stage = "in the shop" }, func(f *Facts) { f.Record.Machine.Stage = "for sale" },
			[]string{"The machine's stage is now: for sale."},
		},
	}
	for label, field := range map[string]func(*record.Machine) *string{
		"Kind": func(m *record.Machine) *string { return &m.Kind }, "Maker": func(m *record.Machine) *string { return &m.Maker },
		"Model": func(m *record.Machine) *string { return &m.Model }, "Serial number": func(m *record.Machine) *string { return &m.Serial },
		"Year": func(m *record.Machine) *string { return &m.Year }, "Name": func(m *record.Machine) *string { return &m.Name },
	} {
		says := func(text string) func(*Facts) { return func(f *Facts) { *field(&f.Record.Machine) = text } }
		tales[label+" new"] = tale{says(""), says("B 1."), []string{fmt.Sprintf("The log says now what it did not. %s: B 1.", label)}}
		tales[label+" gone"] = tale{says("A 1."), says(""), []string{fmt.Sprintf("-%s: A 1 then, nothing now.", label)}}
		tales[label+" other"] = tale{says("A 1."), says("B 1."), []string{fmt.Sprintf("-%s: B 1 now, A 1 then.", label)}}
		tales[label+" the same"] = tale{says("a-1."), says("A 1"), nil}
	}
	checkTales(t, tales)
}

// Limits are held against each other by what they say; a source is none of it.
func TestSinceComparesLimits(t *testing.T) {
	limits := func(all ...record.Limit) func(*Facts) {
		return subjects(with(measurement("bore", "02 read: 1 in"), func(s *record.Subject) { s.Limits = all }))
	}
	a, b := record.Limit{Limit: ">= 1 in", Source: "the sheet"}, record.Limit{Limit: "<= 2 in"}
	const gone, is = "-It is not held against this limit any more: bore, 1 in or more.", "It is held against another limit now: bore, 2 in or less."
	checkTales(t, map[string]tale{
		"the same": {limits(a, b), limits(b, a), nil},
		"no source": {limits(a), limits(record.Limit{Limit: ">= 1 in"}), []string{
			"-The source of the limit 1 in or more of “bore”: the log does not say it any more. It was: the sheet.",
		}},
		"a second source": {limits(a), limits(record.Limit{Limit: ">= 1 in"}, a), nil},
		"one more":        {limits(a), limits(a, b), []string{is}},
		"one less":        {limits(a, b), limits(b), []string{gone}},
		"another":         {limits(a), limits(b), []string{gone, is}},
	})
}
