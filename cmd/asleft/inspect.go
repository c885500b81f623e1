package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/benchtest"
)

func newInspect(s streams) *cobra.Command {
	var asJSON, tests bool
	c := &cobra.Command{
		Use:     "inspect",
		Short:   words.Say("help.inspect"),
		Long:    words.Say("help.inspect.long"),
		Example: words.Say("help.inspect.example"),
		Args: func(_ *cobra.Command, args []string) error {
			if tests {
				return nil // the words to look for
			}
			if len(args) > 0 {
				return errors.New(words.Say("command.inspect-stray", "read", args[0]))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if tests {
				return findTests(s.out, strings.Join(args, " "))
			}
			return inspect(c, s, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("help.flag.json"))
	c.Flags().BoolVar(&tests, "tests", false, words.Say("help.flag.tests"))
	return c
}

func inspect(c *cobra.Command, s streams, asJSON bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	o := generator.Options{Today: today(), Program: program(), Site: defaultSite}
	bar := newBar(s.err)
	if !asJSON {
		o.Progress = bar.show
	}
	r, err := generator.Inspect(folder, o)
	bar.clear()
	if err != nil {
		return status(err)
	}
	if asJSON {
		if err := writeJSON(s.out, map[string]any{"problems": toJSON(r.Problems), "gaps": toJSON(r.Gaps)}); err != nil {
			return err
		}
	} else {
		printFound(s.out, r.Problems)
		if len(r.Gaps) > 0 {
			fmt.Fprintln(s.out, words.Say("command.gaps"))
			printFound(s.out, r.Gaps)
		}
		fmt.Fprintln(s.out, words.Say("command.inspected", "problems", words.Count("command.problems", len(r.Problems)), "gaps", words.Count("command.gap-count", len(r.Gaps))))
	}
	if len(r.Problems) > 0 {
		return &outcome{status: problems}
	}
	return nil
}

// findTests lists the bench tests that a text is about, all without one, a line
// each; one alone, or called by its name, in full. Those for a symptom come in the
// order in which to try them, each with what it tells apart.
func findTests(w io.Writer, text string) error {
	if k, ok := benchtest.KindNamed(text); ok {
		listTests(w, []benchtest.Kind{k})
		return nil
	}
	if found, ok := benchtest.SymptomNamed(text); ok {
		fmt.Fprintln(w, words.Say("command.symptom", "symptom", found.Name))
		for i, t := range found.Try {
			fmt.Fprintf(w, "%d. %s\n   %s\n   %s\n", i+1, t.Kind.Name, t.Splits, t.Kind.Caution)
		}
		fmt.Fprintln(w, words.Say("command.test-in-full", "test", found.Try[0].Kind.Name))
		return nil
	}
	found := benchtest.Find(text)
	if text == "" {
		found = benchtest.Kinds()
	}
	switch len(found) {
	case 0:
		return &outcome{usage, errors.New(noTest(text))}
	case 1:
		listTests(w, found)
		return nil
	}
	nameTests(w, found)
	fmt.Fprintln(w, words.Say("command.test-in-full", "test", found[0].Name))
	if text == "" {
		fmt.Fprintln(w, words.Say("command.tests-fewer"))
	}
	return nil
}

// nameTests lists bench tests, a line each.
func nameTests(w io.Writer, kinds []benchtest.Kind) {
	widest := 0
	for _, k := range kinds {
		widest = max(widest, len(k.Name))
	}
	for _, k := range kinds {
		fmt.Fprintf(w, "%-*s  %s\n", widest, k.Name, k.About)
	}
}

// listTests lists bench tests in full, with an example of each to paste into an
// entry.
func listTests(w io.Writer, kinds []benchtest.Kind) {
	for _, k := range kinds {
		fmt.Fprintf(w, "%s\n    %s\n", k.Name, k.About)
		for _, in := range k.Inputs {
			need := words.Say("command.test-input")
			if in.Needed {
				need = words.Say("command.test-input-needed")
			}
			fmt.Fprintf(w, "    %-18s %s; %s\n    %-18s %s\n", in.Name+":", in.Takes, need, "", in.Help)
		}
		fmt.Fprintf(w, "    %s\n    - %s\n", words.Say("command.test-example"), k.Example)
		if len(k.Tools) > 0 {
			fmt.Fprintf(w, "    %s\n", words.Say("command.test-tools", "tools", strings.Join(k.Tools, ", ")))
		}
		fmt.Fprintf(w, "    %s\n", words.Say("command.test-source", "source", k.Source))
		fmt.Fprintf(w, "    %s\n\n", k.Caution)
	}
}
