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
		Args: func(c *cobra.Command, args []string) error {
			if tests {
				return nil // the words to look for
			}
			return cobra.NoArgs(c, args)
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

// findTests lists the bench tests that a text is about: all without one. Those for a
// symptom come in the order in which to try them, each with what it tells apart.
func findTests(w io.Writer, text string) error {
	if text == "" {
		listTests(w, benchtest.Kinds())
		return nil
	}
	if found, ok := benchtest.SymptomNamed(text); ok {
		fmt.Fprintln(w, words.Say("command.symptom", "symptom", found.Name))
		for i, t := range found.Try {
			fmt.Fprintf(w, "%d. %s\n   %s\n   %s\n", i+1, t.Kind.Name, t.Splits, t.Kind.Caution)
		}
		return nil
	}
	found := benchtest.Find(text)
	if len(found) == 0 {
		return &outcome{usage, errors.New(noTest(text))}
	}
	listTests(w, found)
	return nil
}

// listTests lists bench tests that an entry can hold, with an example of each to
// paste.
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
