package main

import (
	"fmt"
	"io"

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
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if tests {
				listTests(s.out)
				return nil
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
	r, err := generator.Read(folder, generator.Options{Today: today()})
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

// listTests lists the bench tests that an entry can hold, with an example of
// each to paste.
func listTests(w io.Writer) {
	for _, k := range benchtest.Kinds() {
		fmt.Fprintf(w, "%s\n    %s\n", k.Name, k.About)
		for _, in := range k.Inputs {
			need := words.Say("command.test-input")
			if in.Needed {
				need = words.Say("command.test-input-needed")
			}
			fmt.Fprintf(w, "    %-18s %s; %s\n    %-18s %s\n", in.Name+":", in.Takes, need, "", in.Help)
		}
		fmt.Fprintf(w, "    %s\n    - %s\n", words.Say("command.test-example"), k.Example)
		fmt.Fprintf(w, "    %s\n", words.Say("command.test-source", "source", k.Source))
		fmt.Fprintf(w, "    %s\n\n", k.Caution)
	}
}
