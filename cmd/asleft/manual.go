package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func newManual(s streams) *cobra.Command {
	c := &cobra.Command{
		Use:     "manual",
		Short:   words.Say("help.manual"),
		Long:    words.Say("help.manual.long"),
		Example: words.Say("help.manual.example"),
		Args:    oneOfThose,
		RunE: func(c *cobra.Command, _ []string) error {
			if _, err := s.out.Write(manual(c.Root())); err != nil {
				return &outcome{fault, err}
			}
			return nil
		},
	}
	c.AddCommand(newLicenses(s), newHosting(s))
	return c
}

// manual is the man page of the whole program in roff, from the texts of its
// help: man(7), the macros that every system has.
func manual(root *cobra.Command) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, ".TH %s 1\n.SH NAME\n%s \\- %s\n", strings.ToUpper(root.Name()), root.Name(), roff(root.Short))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n.B %s\n.I command\n[options]\n.SH DESCRIPTION\n%s", root.Name(), paragraphs(root.Long))
	fmt.Fprintf(&b, ".SH OPTIONS\n%s.SH COMMANDS\n", options(root.PersistentFlags()))
	section(&b, root.Commands())
	var fields bytes.Buffer
	listFields(&fields)
	fmt.Fprintf(&b, ".SH FIELDS\n%s.PP\n.nf\n%s\n.fi\n", paragraphs(words.Say("help.fields.long")), roff(fields.String()))
	return b.Bytes()
}

func section(b *bytes.Buffer, commands []*cobra.Command) {
	for _, c := range commands {
		if !c.IsAvailableCommand() || c.Name() == "help" {
			continue
		}
		long := c.Long
		if long == "" {
			long = c.Short
		}
		fmt.Fprintf(b, ".SS %s\n%s", roff(strings.TrimSuffix(c.UseLine(), " [flags]")), paragraphs(long))
		b.WriteString(options(c.NonInheritedFlags()))
		if c.Example != "" {
			fmt.Fprintf(b, ".PP\n.nf\n%s\n.fi\n", roff(c.Example))
		}
		if c.Name() != "completion" { // its shells have the library's own long help
			section(b, c.Commands())
		}
	}
}

// options lists the flags, but for the help that every command has.
func options(flags *pflag.FlagSet) string {
	var b strings.Builder
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" {
			return
		}
		what, usage := pflag.UnquoteUsage(f)
		fmt.Fprintf(&b, ".TP\n.B %s\n%s\n", roff(strings.TrimSpace("--"+f.Name+" "+what)), roff(usage))
	})
	return b.String()
}

func paragraphs(text string) string {
	return ".PP\n" + strings.ReplaceAll(roff(strings.TrimSpace(text)), "\n\n", "\n.PP\n") + "\n"
}

// roff keeps a text from meaning something to roff: backslashes, hyphens that
// are to be copied as they are, and lines that begin like a request.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}
