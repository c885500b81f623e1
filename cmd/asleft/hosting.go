package main

import (
	"github.com/spf13/cobra"

	"asleft/generator/catalog"
)

func newHosting(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "hosting",
		Short:   words.Say("help.manual-hosting"),
		Long:    words.Say("help.manual-hosting.long"),
		Example: words.Say("help.manual-hosting.example"),
		Args:    none,
		RunE:    printing(s, catalog.Hosting),
	}
}
