package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
)

// tagJSON is what handover --tag --json answers.
type tagJSON struct {
	File string `json:"file"`
}

// printTags prints the tags of machines. Logs with problems say less than they should, so
// nothing is printed of them.
func printTags(c *cobra.Command, s streams, keys []string, f handoverFlags) error {
	if !c.Flags().Changed("paper") {
		f.paper = sheet.CardPaper.Name
	}
	paper, err := paperNamed(f.paper, "command.tag-paper", sheet.CardPaper, sheet.Letter, sheet.A4)
	if err != nil {
		return err
	}
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	to, err := openBuyer(f.buyerCopy)
	if err != nil {
		return err
	}
	defer to.Close()
	r, day, err := readShop(folder)
	if err != nil {
		return err
	}
	if len(r.Problems) > 0 {
		return problemsFirst(s, r.Problems, "command.not-tagged")
	}
	var machines []int
	for _, key := range keys {
		n, err := machineOf(r.Shop, key)
		if err != nil {
			return err
		}
		machines = append(machines, n)
	}
	tag, err := handover.Tags(folder, r.Site(), machines, day, paper)
	if err == nil {
		err = tag.Put(to)
	}
	if err != nil {
		return &outcome{fault, err}
	}
	if !tag.Web {
		fmt.Fprintln(s.err, words.Say("command.tag-no-web"))
	}
	if tag.Missing {
		fmt.Fprintln(s.err, words.Say("command.tag-missing"))
	}
	file := filepath.Join(f.buyerCopy, tag.Name)
	if f.asJSON {
		return writeJSON(s.out, tagJSON{file})
	}
	fmt.Fprintln(s.out, words.Say("command.tagged", "file", file))
	return nil
}
