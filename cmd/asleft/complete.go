package main

import (
	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator/entry"
	"asleft/generator/rooted"
)

// complete has the shell complete a flag from what is in the shop's folder.
func complete(c *cobra.Command, flag string, names func(afero.Fs) []string) {
	err := c.RegisterFlagCompletionFunc(flag, func(c *cobra.Command, _ []string, _ string) ([]string, cobra.ShellCompDirective) {
		return inShop(c, names), cobra.ShellCompDirectiveNoFileComp
	})
	if err != nil {
		panic(err) // a flag that is not there: a slip in this program
	}
}

// inShop asks the shop's folder for names, if there is one.
func inShop(c *cobra.Command, names func(afero.Fs) []string) []string {
	dir, err := shopDir(c)
	if err != nil {
		return nil
	}
	folder, err := rooted.Open(dir)
	if err != nil {
		return nil
	}
	defer folder.Close()
	return names(folder)
}

// machineThen has the shell complete a machine's key, and after it what else there is.
func machineThen(rest cobra.ShellCompDirective) cobra.CompletionFunc {
	return func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, rest
		}
		return inShop(c, machineKeys), cobra.ShellCompDirectiveNoFileComp
	}
}

// machineKeys are the machines of a shop, for the shell to complete.
func machineKeys(folder afero.Fs) []string {
	infos, err := afero.ReadDir(folder, "machines")
	if err != nil {
		return nil
	}
	var keys []string
	for _, i := range infos {
		if i.IsDir() && entry.GoodKey(i.Name()) {
			keys = append(keys, i.Name())
		}
	}
	return keys
}
