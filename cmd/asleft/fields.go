package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"asleft/generator/logbook"
)

// newFields is a topic of the help: every field of every file of a shop.
func newFields(s streams) *cobra.Command {
	c := &cobra.Command{Use: "fields", Short: words.Say("help.fields"), Long: words.Say("help.fields.long")}
	c.SetHelpFunc(func(c *cobra.Command, _ []string) {
		fmt.Fprintln(s.out, c.Long)
		listFields(s.out)
	})
	return c
}

// fileWords are the words of the files in the keys of the catalog.
var fileWords = map[string]string{logbook.FileShop: "shop", logbook.FileMachine: "machine", logbook.FileEntry: "entry", logbook.FileSheet: "sheet"}

// listFields prints the fields, each with an example and what it is for, those that
// stand in another below it.
func listFields(w io.Writer) {
	file := ""
	for _, f := range logbook.Fields {
		if f.File != file {
			file = f.File
			fmt.Fprintf(w, "\n%s\n", words.Say("fields.file."+file))
		}
		depth := strings.Count(f.Path, "/")
		in, name := strings.Repeat("    ", depth+1), f.Path[strings.LastIndex(f.Path, "/")+1:]
		fmt.Fprintf(w, "%s%s: %s\n%s    %s\n", in, name, f.Example, in, words.Say("field."+fileWords[f.File]+"."+strings.ReplaceAll(f.Path, "/", ".")))
	}
	fmt.Fprintf(w, "\n%s\n", words.Say("fields.below"))
}
