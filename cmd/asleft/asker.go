package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"golang.org/x/term"

	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// An asker puts questions on a terminal, one line of answer to each. Once the
// input has ended, every answer is empty.
type asker struct {
	in          *bufio.Reader
	out         io.Writer
	interactive bool // somebody is there to answer
	over        bool // the input has ended
	// before is called before each question, nil for nothing; typed is as much of a
	// text of several lines as there is by then.
	before func()
	typed  string
}

func newAsker(s streams) *asker {
	f, ok := s.in.(*os.File)
	return &asker{in: bufio.NewReader(s.in), out: s.out, interactive: ok && term.IsTerminal(int(f.Fd()))}
}

// ask returns the answer without the spaces around it.
func (a *asker) ask(question string) string {
	return strings.TrimSpace(a.line(question + ": "))
}

func (a *asker) line(prompt string) string {
	if a.over {
		return ""
	}
	if a.before != nil {
		a.before()
	}
	fmt.Fprint(a.out, printable(prompt))
	text, err := a.in.ReadString('\n')
	if err != nil {
		a.over = true
		fmt.Fprintln(a.out)
	}
	return strings.TrimRight(text, "\r\n")
}

// checked asks until the answer is one that check has nothing against; what it
// has is printed. An empty answer passes, and leaves the field empty.
func (a *asker) checked(question string, set func(string), check func() []logbook.Problem) string {
	for {
		answer := a.ask(question)
		set(answer)
		if answer == "" {
			return ""
		}
		wrong := check()
		if len(wrong) == 0 {
			return answer
		}
		for _, p := range wrong {
			fmt.Fprintln(a.out, printable("    "+p.Says+"; "+p.Mend))
		}
		set("")
	}
}

// needed asks until there is an answer, or the input is over.
func (a *asker) needed(question string) string {
	for {
		if answer := a.ask(question); answer != "" || a.over {
			return answer
		}
	}
}

// pick lists things to choose from by number and returns the index of the one
// chosen, or -1 with what was typed instead.
func (a *asker) pick(question string, things []string) (int, string) {
	a.list(things)
	return a.number(question, len(things))
}

func (a *asker) list(things []string) {
	for n, thing := range things {
		fmt.Fprintln(a.out, printable(fmt.Sprintf("  %2d  %s", n+1, thing)))
	}
}

// number asks for one of 1 to n, as an index from 0; -1 with what was typed
// where it is none of them.
func (a *asker) number(question string, n int) (int, string) {
	answer := a.ask(question)
	if i, err := strconv.Atoi(answer); err == nil && i >= 1 && i <= n {
		return i - 1, ""
	}
	return -1, answer
}

// several lists things and takes those chosen by number, one after another, until
// nothing more is typed.
func (a *asker) several(question string, things []string, take func(n int)) {
	a.list(things)
	for !a.over {
		n, typed := a.number(question, len(things))
		switch {
		case n >= 0:
			take(n)
		case typed == "":
			return
		default:
			fmt.Fprintln(a.out, words.Say("command.not-a-number", "n", len(things)))
		}
	}
}

// yes asks a question that is no unless it is answered with yes.
func (a *asker) yes(question string) bool {
	answer := strings.ToLower(a.ask(question))
	return answer == "y" || answer == "yes"
}

// safety asks whether something can hurt someone, until the answer is yes or no.
// It is empty where the input is over.
func (a *asker) safety(question string) string {
	for !a.over {
		if answer, ok := entry.SaysSafety(a.ask(question)); ok {
			return answer
		}
	}
	return ""
}

// telling asks for a text that says something to a buyer, until it does or is
// left out. What is wrong with it is printed.
func (a *asker) telling(question, why string) string {
	for {
		answer := a.ask(question)
		if answer == "" || logbook.Telling(answer) {
			return answer
		}
		fmt.Fprintln(a.out, words.Say(why))
	}
}

// text asks for a text of several lines, which a line with a period alone, or
// the end of the input, ends.
func (a *asker) text(question string) string {
	fmt.Fprintln(a.out, question)
	var lines []string
	for !a.over {
		line := a.line("")
		if strings.TrimSpace(line) == "." {
			break
		}
		lines = append(lines, line)
		a.typed = strings.TrimRight(strings.Join(lines, "\n"), " \t\n")
	}
	a.typed = ""
	return strings.TrimRight(strings.Join(lines, "\n"), " \t\n")
}

// within are the problems that stand in a field of a file, or below it.
func within(all []logbook.Problem, field string) []logbook.Problem {
	var found []logbook.Problem
	for _, p := range all {
		if rest, ok := strings.CutPrefix(p.Field, field); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			found = append(found, p)
		}
	}
	return found
}
