package main

import (
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/tally"
)

func newTally(s streams) *cobra.Command {
	var asJSON, asCSV bool
	var by string
	c := &cobra.Command{
		Use:     "tally [KEY]",
		Short:   words.Say("help.tally"),
		Long:    words.Say("help.tally.long"),
		Example: words.Say("help.tally.example"),
		Args:    atMostOne("command.name-one-machine", "command", "tally"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case !slices.Contains(tally.Rows, by):
				return wrongUsage(errors.New(words.Say("command.tally-by", "read", by, "rows", words.List(tally.Rows))))
			case c.Flags().Changed("by") && !asCSV:
				return wrongUsage(errors.New(words.Say("command.tally-by-csv", "by", by)))
			}
			key := ""
			if len(args) == 1 {
				key = args[0]
			}
			return tallyUp(c, s, key, by, asJSON, asCSV)
		},
		ValidArgsFunction: machineThen(cobra.ShellCompDirectiveNoFileComp),
	}
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("help.flag.json"))
	c.Flags().BoolVar(&asCSV, "csv", false, words.Say("help.flag.csv"))
	c.Flags().StringVar(&by, "by", tally.ByMachine, words.Say("help.flag.by-rows"))
	c.MarkFlagsMutuallyExclusive("json", "csv")
	_ = c.RegisterFlagCompletionFunc("by", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return tally.Rows, cobra.ShellCompDirectiveNoFileComp
	}) // it fails only for a flag that is not there
	return c
}

func tallyUp(c *cobra.Command, s streams, key, by string, asJSON, asCSV bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	r, err := generator.Read(folder, generator.Options{Today: today()})
	if err != nil {
		return status(err)
	}
	if key != "" {
		if _, err := machineOf(r.Shop, key); err != nil {
			return err
		}
	}
	count := r.Count.Only(key)
	switch {
	case asJSON:
		err = count.WriteJSON(s.out)
	case asCSV:
		err = count.WriteCSV(s.out, by)
	default:
		err = count.WriteText(s.out, words)
	}
	if err != nil {
		return &outcome{fault, err}
	}
	if len(r.Problems) > 0 {
		printFound(s.err, r.Problems)
		fmt.Fprintln(s.err, words.Say("command.tally-problems"))
		return &outcome{status: problems}
	}
	return nil
}
