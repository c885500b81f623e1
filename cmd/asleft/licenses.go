package main

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"
)

// licenses are the notices of everything that the program is built from. Their
// licenses ask that a copy goes along with the program, so it carries them. A
// test writes the file and holds it against the modules themselves.
//
//go:embed licenses.txt
var licenses string

func newLicenses(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "licenses",
		Short:   words.Say("help.manual-licenses"),
		Long:    words.Say("help.manual-licenses.long"),
		Example: words.Say("help.manual-licenses.example"),
		Args:    none,
		RunE:    printing(s, licenses),
	}
}

// printing is a command that prints a text of the program, and no more.
func printing(s streams, text string) func(*cobra.Command, []string) error {
	return func(*cobra.Command, []string) error {
		if _, err := io.WriteString(s.out, text); err != nil {
			return &outcome{fault, err}
		}
		return nil
	}
}
