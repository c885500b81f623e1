package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"asleft/generator/logbook"
)

func newListing(s streams) *cobra.Command {
	short := false
	c := &cobra.Command{
		Use:     "listing KEY",
		Short:   words.Say("help.listing"),
		Long:    words.Say("help.listing.long"),
		Example: words.Say("help.listing.example"),
		Args:    exactly(1, "command.name-machine", "command", "listing"),
		RunE: func(c *cobra.Command, args []string) error {
			return listing(c, s, args[0], short)
		},
		ValidArgsFunction: machineThen(cobra.ShellCompDirectiveNoFileComp),
	}
	c.Flags().BoolVar(&short, "short", false, words.Say("help.flag.short"))
	return c
}

// listing prints the text about a machine to paste elsewhere. Logs with problems
// say less than they should, so nothing is printed of them.
func listing(c *cobra.Command, s streams, key string, short bool) error {
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	r, n, _, err := readMachine(folder, key)
	if err != nil {
		return err
	}
	if len(r.Problems) > 0 {
		return problemsFirst(s, r.Problems, "command.not-listed")
	}
	if m := r.Shop.Machines[n]; m.Stage != logbook.ForSale {
		fmt.Fprintln(s.err, printable(words.Say("command.listing-stage", "name", m.Name, "stage", m.Stage)))
	}
	fmt.Fprint(s.out, r.Site().OfferText(n, short))
	return nil
}
