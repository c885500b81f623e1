package main

import (
	"fmt"
	"slices"
	"strings"

	"asleft/generator/benchtest"
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// askDiagnosis asks for a step of the search for what is wrong.
func (l *logging) askDiagnosis() {
	tried := l.ask.ask(words.Say("command.ask-tried"))
	if tried == "" {
		return
	}
	l.entry.Diagnosis = append(l.entry.Diagnosis, entry.Step{Tried: tried})
	s := &l.entry.Diagnosis[len(l.entry.Diagnosis)-1]
	s.Saw = l.ask.ask(words.Say("command.ask-saw"))
	s.So = l.ask.ask(words.Say("command.ask-so"))
}

// askTest asks for a bench test by its name, or finds it by a symptom, a tool or a
// system, and tells at once what it points to.
func (l *logging) askTest() {
	kind, ok := l.askKind()
	if !ok {
		return
	}
	fmt.Fprintln(l.ask.out, "    "+kind.Caution)
	typed := map[string]string{"where": l.ask.ask(words.Say("command.ask-where"))}
	l.entry.Tests = append(l.entry.Tests, entry.NewTest(kind, typed))
	last, at := &l.entry.Tests[len(l.entry.Tests)-1], fmt.Sprintf("tests[%d]", len(l.entry.Tests)-1)
	put := func(in benchtest.InputHelp) {
		l.ask.checked(words.Say("command.ask-input", "input", strings.ReplaceAll(in.Name, "_", " "), "takes", in.Takes),
			func(s string) { typed[in.Name] = s; *last = entry.NewTest(kind, typed) }, l.check(at+"."+in.Name))
	}
	for _, in := range kind.Inputs {
		if in.Needed {
			fmt.Fprintln(l.ask.out, "    "+in.Help)
			put(in)
		}
	}
	l.askMore(kind, put)
	if len(last.Inputs) == 0 {
		l.entry.Tests = l.entry.Tests[:len(l.entry.Tests)-1]
		return
	}
	l.sayTest(len(l.entry.Tests) - 1)
}

// askMore asks for the inputs that a test can do without, by their numbers.
func (l *logging) askMore(kind benchtest.Kind, put func(benchtest.InputHelp)) {
	rest := slices.DeleteFunc(slices.Clone(kind.Inputs), func(in benchtest.InputHelp) bool { return in.Needed })
	var lines []string
	for _, in := range rest {
		lines = append(lines, strings.ReplaceAll(in.Name, "_", " ")+": "+in.Help)
	}
	l.ask.several(words.Say("command.ask-more-inputs"), lines, func(n int) { put(rest[n]) })
}

// askKind asks which test, until there is one or nothing more is typed. For a
// symptom it lists those that tell its causes apart, in the order in which to try
// them.
func (l *logging) askKind() (benchtest.Kind, bool) {
	for !l.ask.over {
		typed := l.ask.ask(words.Say("command.ask-test"))
		if typed == "" {
			break
		}
		if kind, ok := benchtest.KindNamed(typed); ok {
			return kind, true
		}
		found := benchtest.Trials(typed)
		if len(found) == 0 {
			fmt.Fprintln(l.ask.out, "    "+noTest(typed))
			continue
		}
		var lines []string
		for _, t := range found {
			lines = append(lines, t.Kind.Name+": "+t.Splits)
		}
		if n, _ := l.ask.pick(words.Say("command.ask-which-test"), lines); n >= 0 {
			return found[n].Kind, true
		}
	}
	return benchtest.Kind{}, false
}

// noTest says that no test goes by a text, and what tests do go by.
func noTest(text string) string {
	var known []string
	for _, s := range benchtest.Symptoms() {
		known = append(known, s.Name)
	}
	return words.Say("command.no-test", "read", text, "symptoms", strings.Join(known, ", "), "tools", strings.Join(benchtest.Tools(), ", "))
}

// sayTest says what a test of the entry points to, or what is wrong with it.
func (l *logging) sayTest(n int) {
	file := "machines/" + l.key + "/" + l.entry.Stem() + "-try.md"
	shop, wrong, err := entry.Try(l.folder, map[string][]byte{file: l.entry.Markdown()}, today(), words)
	if err != nil {
		return // the same error comes up again when it is written
	}
	for _, p := range within(wrong, fmt.Sprintf("tests[%d]", n)) {
		fmt.Fprintln(l.ask.out, printable("    "+p.Says+"; "+p.Mend))
	}
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			if e.File != file || n >= len(e.Tests) {
				continue
			}
			if o, _ := benchtest.Judge(shop, m, e, e.Tests[n], words); o != nil {
				for _, says := range o.Says {
					fmt.Fprintln(l.ask.out, printable("    "+says))
				}
			}
		}
	}
}

// sayTests names the tests that tell the causes of a defect apart, where it is a
// symptom that they are known for.
func (l *logging) sayTests(d entry.Defect) {
	s, ok := benchtest.SymptomNamed(d.Defect)
	if !ok {
		return
	}
	var names []string
	for _, t := range s.Try {
		if !slices.ContainsFunc(l.machine.Entries, func(e *logbook.Entry) bool {
			return slices.ContainsFunc(e.Tests, func(done logbook.Test) bool { return logbook.Same(done.Test, t.Kind.Name) })
		}) {
			names = append(names, t.Kind.Name)
		}
	}
	if len(names) > 0 {
		fmt.Fprintln(l.ask.out, "    "+words.Say("command.try-tests", "tests", strings.Join(names, ", "), "symptom", s.Name))
	}
}
