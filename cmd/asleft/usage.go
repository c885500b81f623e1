package main

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"asleft/generator/spelling"
)

// What is wrong with a command line is said in our own words and with what to
// write; cobra's are for programmers.

// none wants nothing behind a command.
func none(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return errors.New(words.Say("command.stray", "read", args[0], "command", c.CommandPath()))
}

// atMostOne wants one argument or none, and says what it is.
func atMostOne(sentence string, pairs ...any) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) > 1 {
			return errors.New(words.Say(sentence, pairs...))
		}
		return nil
	}
}

// oneOfThose wants nothing behind a command that has commands of its own.
func oneOfThose(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return noCommand(c, args[0])
}

// noCommand says that a command has no such command, and which it has.
func noCommand(c *cobra.Command, read string) error {
	var names []string
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() || sub.Name() == "help" || sub.Name() == "fields" {
			names = append(names, sub.Name())
		}
	}
	if near := spelling.Nearest(read, names); near != "" {
		return errors.New(words.Say("command.no-command-near", "command", c.CommandPath(), "read", read, "near", near))
	}
	return errors.New(words.Say("command.no-command", "command", c.CommandPath(), "read", read, "names", words.List(names)))
}

// flagError words what is wrong with a flag.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var empty *pflag.ValueRequiredError
	var bad *pflag.InvalidValueError
	var form *pflag.InvalidSyntaxError
	switch {
	case errors.As(err, &unknown):
		return unknownFlag(c, unknown)
	case errors.As(err, &empty):
		takes, _ := pflag.UnquoteUsage(empty.GetFlag())
		return errors.New(words.Say("command.flag-empty", "flag", empty.GetFlag().Name, "takes", takes))
	case errors.As(err, &bad) && bad.GetFlag().Value.Type() == "bool":
		return errors.New(words.Say("command.flag-alone", "flag", bad.GetFlag().Name, "read", bad.GetValue()))
	case errors.As(err, &bad):
		return errors.New(words.Say("command.flag-number", "flag", bad.GetFlag().Name, "read", bad.GetValue()))
	case errors.As(err, &form):
		return errors.New(words.Say("command.flag-form", "read", form.GetSpecifiedFlag()))
	}
	return err
}

// unknownFlag says which flags a command has. One that was written with one hyphen
// is read as letters, of which there are none but h.
func unknownFlag(c *cobra.Command, e *pflag.NotExistError) error {
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			names = append(names, f.Name)
		}
	})
	read, name := "--"+e.GetSpecifiedName(), e.GetSpecifiedName()
	if letters := e.GetSpecifiedShortnames(); letters != "" {
		name, _, _ = strings.Cut(letters, "=")
		read = "-" + letters
	}
	if near := spelling.Nearest(name, names); near != "" {
		return errors.New(words.Say("command.no-flag-near", "command", c.CommandPath(), "read", read, "near", near))
	}
	for i, n := range names {
		names[i] = "--" + n
	}
	return errors.New(words.Say("command.no-flag", "command", c.CommandPath(), "read", read, "names", words.List(names)))
}

// exclusive is the mark that cobra leaves on flags that go without each other.
const exclusive = "cobra_annotation_mutually_exclusive"

// apart refuses flags that go without each other, before cobra does.
func apart(c *cobra.Command, _ []string) error {
	var given []string
	groups := map[string]bool{}
	c.Flags().Visit(func(f *pflag.Flag) {
		given = append(given, f.Name)
		for _, g := range f.Annotations[exclusive] {
			groups[g] = true
		}
	})
	for _, g := range slices.Sorted(maps.Keys(groups)) {
		both := slices.DeleteFunc(strings.Fields(g), func(name string) bool { return !slices.Contains(given, name) })
		if len(both) > 1 {
			return wrongUsage(errors.New(words.Say("command.flags-apart", "one", both[0], "other", both[1])))
		}
	}
	return nil
}

// newHelp is asleft help, which says so where there is no such command.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: words.Say("help.help"),
		Long:  words.Say("help.help.long"),
		RunE: func(c *cobra.Command, args []string) error {
			about := c.Root()
			for _, name := range args {
				subs := about.Commands()
				i := slices.IndexFunc(subs, func(sub *cobra.Command) bool { return sub.Name() == name })
				if i < 0 && !about.HasSubCommands() {
					return wrongUsage(none(about, []string{name}))
				}
				if i < 0 {
					return wrongUsage(noCommand(about, name))
				}
				about = subs[i]
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) (names []string, d cobra.ShellCompDirective) {
			if len(args) == 0 {
				for _, sub := range c.Root().Commands() {
					names = append(names, sub.Name())
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	}
}

// tellCompletion gives the completion command, which is cobra's, our words.
func tellCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Args = oneOfThose
		c.RunE = func(c *cobra.Command, _ []string) error { return c.Help() }
		for _, shell := range c.Commands() {
			shell.Args = none
		}
	}
}
