package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/logbook"
)

func newTally(s streams) *cobra.Command {
	var asJSON, asCSV bool
	c := &cobra.Command{
		Use:     "tally [KEY]",
		Short:   words.Say("help.tally"),
		Long:    words.Say("help.tally.long"),
		Example: words.Say("help.tally.example"),
		Args:    cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			key := ""
			if len(args) == 1 {
				key = args[0]
			}
			return tallyUp(c, s, key, asJSON, asCSV)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, words.Say("help.flag.json"))
	c.Flags().BoolVar(&asCSV, "csv", false, words.Say("help.flag.csv"))
	c.MarkFlagsMutuallyExclusive("json", "csv")
	return c
}

func tallyUp(c *cobra.Command, s streams, key string, asJSON, asCSV bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	r, err := generator.Read(folder, generator.Options{Today: today()})
	if err != nil {
		return status(err)
	}
	if key != "" && !slices.ContainsFunc(r.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == key }) {
		return noMachine(r.Shop, "command.no-machine", key)
	}
	count := r.Count.Only(key)
	switch {
	case asJSON:
		err = count.WriteJSON(s.out)
	case asCSV:
		err = count.WriteCSV(s.out)
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
