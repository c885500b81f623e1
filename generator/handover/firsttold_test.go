package handover

import (
	"testing"

	"asleft/generator/record"
)

// firstTale is what a report of schema 1 said, as its JSON, and what the log says today.
func firstTale(t *testing.T, facts string, now func(*Facts), want ...string) tale {
	t.Helper()
	first := readFirst([]byte(`{"facts":{"format":"asleft condition report 1",` + facts + `}}`))
	if first == nil {
		t.Fatalf("this cannot be read: %s", facts)
	}
	return tale{func(f *Facts) { f.AsOf, f.first = "2026-03-10", first }, now, want}
}

// A report of schema 1 said less: what it had no place for is neither gone nor new, and
// what it said is held against the log of today.
func TestSinceAReportOfSchema1(t *testing.T) {
	defects := func(one string) string { return `"record":{"defects":[` + one + `]}` }
	checks := func(one string) string { return `"record":{"checks":[` + one + `]}` }
	const leak = `{"defect":"leaks","key":"k","safety":false,"state":"repaired, not proven","found":"2026-03-02","back":null,"closed":"2026-03-04"}`
	const around = `{"defect":"leaks","key":"k","safety":true,"state":"worked around","found":"2026-03-02","back":null,"closed":"2026-03-04"}`
	const back = `{"defect":"leaks","key":"k","safety":false,"state":"still there","found":"2026-03-02","back":"2026-03-05","closed":null}`
	state := func(s string) string {
		return `{"defect":"leaks","key":"k","safety":false,"state":"` + s + `","found":"2026-03-02","back":null,"closed":null}`
	}
	leaks := func(is string, said ...string) func(*Facts) {
		return subjects(standing(keyed(defect("leaks", append([]string{"02 found: leaks"}, said...)...), "k"), is))
	}
	const lost = "-The log does not say this any more on March 4, 2026 of “leaks”: "
	for name, tc := range map[string]tale{
		"repaired, as it was":       firstTale(t, defects(leak), leaks("not proven", "04 repaired: new seal")),
		"proved is repaired":        firstTale(t, defects(leak), leaks("in order", "04 proved: dry")),
		"repaired no more":          firstTale(t, defects(leak), leaks("not proven"), lost+"repaired."),
		"worked around is another":  firstTale(t, defects(leak), leaks("not proven", "04 worked around: a pan"), lost+"repaired."),
		"worked around, as it was":  firstTale(t, defects(around), safe(leaks("worked around", "04 worked around: a pan"), "yes")),
		"a proof is no work-around": firstTale(t, defects(around), safe(leaks("worked around", "04 proved: dry"), "yes"), lost+"worked around."),
		"safety no more":            firstTale(t, defects(around), safe(leaks("worked around", "04 worked around: a pan"), "no"), "-It was a matter of safety, and the log does not say so now: leaks."),
		"no safety was nothing":     firstTale(t, defects(leak), safe(leaks("not proven", "04 repaired: new seal"), "yes")),
		"back again":                firstTale(t, defects(back), leaks("wrong", "05 found again: leaks")),
		"back no more":              firstTale(t, defects(back), leaks("wrong"), "-The log does not say this any more on March 5, 2026 of “leaks”: found."),
		"kinder by other rules":     firstTale(t, defects(state("still there")), leaks("in order")),
		"worse by any rules":        firstTale(t, defects(state("repaired and proven")), leaks("wrong"), "Then in order; now wrong: leaks."),
		"worse than worked around":  firstTale(t, defects(state("worked around")), leaks("wrong"), "Then worked around; now wrong: leaks."),
		"worse than not proven":     firstTale(t, defects(state("repaired, not proven")), leaks("wrong"), "Then repaired, not proven; now wrong: leaks."),
		"as wrong as it was":        firstTale(t, defects(state("still there")), leaks("wrong")),
		"more of those days":        firstTale(t, defects(leak), leaks("not proven", "04 repaired: new seal", "04 proved: dry", "10 effect: drips")),
		"more since": firstTale(t, defects(leak), leaks("not proven", "04 repaired: new seal", "11 effect: drips"),
			"The log says more of this on March 11, 2026: leaks. It says: drips."),
		"a defect that is gone": firstTale(t, defects(leak), nil, "-The log does not list this defect any more: leaks."),

		"a point that works":           firstTale(t, checks(`{"item":"it","safety":true,"result":"works","date":"2026-03-02"}`), safe(subjects(point("it", "02 works: by hand")), "yes")),
		"a point that works no more":   firstTale(t, checks(`{"item":"it","safety":true,"result":"works","date":"2026-03-02"}`), safe(subjects(point("it", "02 fails")), "yes"), "-What the log said on March 2, 2026 of “it” reads otherwise now. It was: works. It is: fails."),
		"a point that failed":          firstTale(t, checks(`{"item":"it","result":"fails","date":"2026-03-02"}`), subjects(point("it", "02 fails"))),
		"a point with any answer":      firstTale(t, checks(`{"item":"it","result":"out of date","date":"2026-03-02"}`), subjects(point("it", "02 not checked"))),
		"a point without its answer":   firstTale(t, checks(`{"item":"it","result":"out of date","date":"2026-03-02"}`), subjects(point("it", "02 service: oil")), "-The log does not say this any more on March 2, 2026 of “it”: answered."),
		"a point that nobody answered": firstTale(t, checks(`{"item":"it","result":"not checked","date":null}`), nil),
		"a point that works, undated":  firstTale(t, checks(`{"item":"it","result":"works","date":null}`), nil),
		"an answered point is gone":    firstTale(t, checks(`{"item":"it","result":"works","date":"2026-03-02"}`), nil, "-The list does not have this point any more: it."),
		"a point of today's list":      firstTale(t, checks(``), subjects(point("it"))),
		"an answer of today's list":    firstTale(t, checks(``), subjects(point("it", "10 works"))),
		"an answer since":              firstTale(t, checks(``), subjects(point("it", "10 works", "11 fails")), "As it should be on March 10, 2026: it.", "Not so on March 11, 2026: it."),

		"a reading, found and left": firstTale(t, `"record":{"readings":[{"what":"bore","where":"top","state":"cold","as_found":{"value":"1 in","date":"2026-03-02"},"as_left":{"value":"2 in","date":"2026-03-04"},"limit":">= 1 in","source":"x"}]}`,
			subjects(with(measurement("bore (top, cold)", "02 read: 1 in", "03 read: 3 in"), func(s *record.Subject) { s.Limits = []record.Limit{{Limit: "<= 2 in"}} })),
			"-The log does not say this any more on March 4, 2026 of “bore top cold”: 2 in.", "-It is not held against this limit any more: bore top cold, 1 in or more."),
		"one reading": firstTale(t, `"record":{"readings":[{"what":"bore","where":"","state":"","as_found":{"value":"1 in","date":"2026-03-02"},"as_left":{"value":"1 in","date":"2026-03-02"},"limit":null,"source":""}]}`,
			subjects(measurement("bore", "02 read: 1 in"))),
		"one reading that is gone": firstTale(t, `"record":{"readings":[{"what":"bore","where":"","state":"","as_found":{"value":"1 in","date":"2026-03-02"},"as_left":{"value":"1 in","date":"2026-03-02"},"limit":null,"source":""}]}`,
			subjects(measurement("bore")), "-The log does not say this any more on March 2, 2026 of “bore”: 1 in."),

		"a change":               firstTale(t, `"record":{"changes":[{"what":"switch moved","system":"","date":"2026-03-02"}]}`, subjects(subjectOf("change", "switch moved", []string{"02 changed: switch moved"}))),
		"a change that is gone":  firstTale(t, `"record":{"changes":[{"what":"switch moved","system":"","date":"2026-03-02"}]}`, nil, "-The log does not list this change any more: switch moved."),
		"a missing part, put in": firstTale(t, `"record":{"missing":[{"part":"cap","fitted":"2026-03-02"}]}`, subjects(subjectOf("missing part", "cap", []string{"02 replaced: a new one"}))),
		"a missing part, put in no more": firstTale(t, `"record":{"missing":[{"part":"cap","fitted":"2026-03-02"}]}`, subjects(subjectOf("missing part", "cap", nil)),
			"-The log does not say this any more on March 2, 2026 of “cap”: replaced."),
		"a missing part, still": firstTale(t, `"record":{"missing":[{"part":"cap","fitted":null}]}`, subjects(subjectOf("missing part", "cap", []string{"01 missing"}))),

		"a test": firstTale(t, `"record":{"tests":[{"test":"leak-down","where":"cylinder 1","date":"2026-03-02"}]}`, func(f *Facts) {
			f.Record.Tests = []record.Test{{Test: "leak-down", Where: "cylinder 1", Date: "2026-03-02", Entry: "machines/pump/a.md"}}
		}),
		"a test of another place": firstTale(t, `"record":{"tests":[{"test":"leak-down","where":"cylinder 1","date":"2026-03-02"}]}`, nil, "-The log does not hold this test any more on March 2, 2026: leak-down."),
		"a part": firstTale(t, `"record":{"parts":[{"part":"seal","source":"new","from":"shelf","date":"2026-03-02"}]}`, func(f *Facts) {
			f.Record.Parts = []record.Part{{Part: "seal", Source: "new", From: "shelf", Date: "2026-03-02", Entry: "machines/pump/a.md"}}
		}),
		"a part from elsewhere": firstTale(t, `"record":{"parts":[{"part":"seal","source":"new","from":"shelf","date":"2026-03-02"}]}`, nil, "-The log does not list this part any more on March 2, 2026: seal."),
		"service, of then and since": firstTale(t, `"record":{}`, func(f *Facts) {
			f.Record.Service = []record.Service{{What: "oil", Date: "2026-03-10"}, {What: "grease", Date: "2026-03-11"}}
		}, "Service on March 11, 2026: grease."),
		"entries of then and since": firstTale(t, `"record":{}`, entries(Evidence{"machines/pump/a.md", "2026-03-10", "A"}, Evidence{"machines/pump/b.md", "2026-03-11", "B"}), "A new entry of March 11, 2026: B."),
		"entries that statements rest on": firstTale(t, `"sections":[{"statements":[{"evidence":[{"file":"machines/pump/a.md","date":"2026-03-02","title":"A"},{"file":"machines/pump/machine.md","date":"2026-03-01","title":"Pump"}]}]},
			{"statements":[{"evidence":[{"file":"machines/pump/a.md","date":"2026-03-02","title":"A"}]}]}]`, nil, "-An entry is gone. It was of March 2, 2026: A."),
		"a limit of today": firstTale(t, `"record":{"readings":[{"what":"bore","as_found":{"value":"1 in","date":"2026-03-02"},"as_left":{"value":"1 in","date":"2026-03-02"}}]}`,
			subjects(with(measurement("bore", "02 read: 1 in"), func(s *record.Subject) { s.Limits = []record.Limit{{Limit: "<= 2 in"}} }))),
		"a redated entry takes its claims along": firstTale(t, `"record":{"defects":[`+state("still there")+`]},"sections":[{"statements":[{"evidence":[{"file":"machines/pump/a.md","date":"2026-03-02","title":"A"}]}]}]`,
			func(f *Facts) {
				entries(Evidence{"machines/pump/a.md", "2026-03-05", "A"})(f)
				subjects(standing(keyed(defect("leaks", "05 found: leaks"), "k"), "wrong"))(f)
			}, "-An entry has another date: A. It was March 2, 2026. It is March 5, 2026."),
	} {
		t.Run(name, func(t *testing.T) { tc.check(t) })
	}
}

// safe is facts of which all subjects have that said of safety.
func safe(of func(*Facts), is string) func(*Facts) {
	return func(f *Facts) {
		of(f)
		for i := range f.Record.Subjects {
			f.Record.Subjects[i].Safety = is
		}
	}
}

// How long it ran was counted by other rules under schema 1; how long it was worked on
// was not.
func TestHoursOfAReportOfSchema1(t *testing.T) {
	set := func(minutes int) func(*Facts) {
		return func(f *Facts) { f.Record.Hours.WorkMinutes, f.Record.Hours.RunMinutes = &minutes, &minutes }
	}
	tc := firstTale(t, `"record":{}`, set(40), "-The log has less work in it than it had: 40 min now, 1 h then.")
	was := tc.was
	tc.was = func(f *Facts) { was(f); set(60)(f) }
	tc.check(t)
}

// What is not of schema 1 is not read as if it were.
func TestOnlySchema1IsReadAsSchema1(t *testing.T) {
	for text, first := range map[string]bool{
		`{"facts":{"format":"asleft condition report 1"}}`: true, `{"facts":{"format":"asleft condition report 2"}}`: false,
		`{"facts":{}}`: false, `[]`: false, ``: false, `{"facts":{"format":"asleft condition report 1","record":[]}}`: false,
	} {
		if got := readFirst([]byte(text)); (got != nil) != first {
			t.Errorf("%s: %+v", text, got)
		}
	}
}
