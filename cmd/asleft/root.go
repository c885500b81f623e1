package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Exit statuses.
const (
	fine     = 0
	problems = 1 // the logs have problems
	usage    = 2 // wrong usage
	fault    = 3 // disk, permission, port
)

// An outcome is an error that knows its exit status. A nil cause means that
// all there was to say has been said.
type outcome struct {
	status int
	cause  error
}

func (o *outcome) Error() string {
	if o.cause == nil {
		return ""
	}
	return o.cause.Error()
}

func (o *outcome) Unwrap() error { return o.cause }

func wrongUsage(err error) error { return &outcome{usage, err} }

var words = catalog.English

// run runs one command line and returns its exit status.
func run(args []string, s streams) int {
	s = clean(s)
	defer s.out.(*cleaned).flush()
	defer s.err.(*cleaned).flush()
	root := newRoot(s)
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return fine
	}
	// What cobra itself refuses (an unknown command, a bad flag) is wrong usage;
	// everything of ours comes as an outcome.
	status := usage
	var o *outcome
	if errors.As(err, &o) {
		status = o.status
	}
	if text := onOneLine(err.Error(), args); text != "" {
		fmt.Fprintln(s.err, printable(words.Say("command.error", "what", text)))
		if status == usage {
			fmt.Fprintln(s.err, words.Say("command.see-help"))
		}
		if key := remedy(err); status == fault && key != "" {
			fmt.Fprintln(s.err, words.Say(key))
		}
	}
	return status
}

// onOneLine is a text in which what was typed, or came from a list of files, begins no
// line of its own.
func onOneLine(text string, args []string) string {
	for _, arg := range args {
		_, value, _ := strings.Cut(arg, "=")
		for _, typed := range []string{arg, value, strings.TrimSpace(value)} {
			if strings.ContainsAny(typed, "\r\n") {
				text = strings.ReplaceAll(text, typed, oneLine(typed))
			}
		}
	}
	return text
}

func newRoot(s streams) *cobra.Command {
	root := &cobra.Command{
		Use:           "asleft",
		Short:         words.Say("help.asleft"),
		Long:          words.Say("help.asleft.long"),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          oneOfThose,
		Version:       fullVersion(),
		// The flags that go without each other are asked about before cobra does.
		PersistentPreRunE: apart,
		RunE: func(c *cobra.Command, _ []string) error {
			if clicked() {
				return runClicked(s, deskFlags{port: usualPort})
			}
			return c.Help()
		},
	}
	cobra.MousetrapHelpText = "" // a double click is welcome
	root.SetVersionTemplate("{{.Version}}\n")
	root.SetIn(s.in)
	root.SetOut(s.out)
	root.SetErr(s.err)
	root.Flags().Bool("version", false, words.Say("help.flag.version"))
	root.PersistentFlags().String("shop", "", words.Say("help.flag.shop"))
	root.AddCommand(newOpen(s), newLog(s), newManual(s), newWriteup(s), newPublish(s), newDesk(s), newInspect(s), newTally(s), newTheme(s), newListing(s), newHandover(s), newVouch(s), newFields(s))
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(newHelp())
	tellCompletion(root)
	return root
}

// today is the day by this computer's clock.
func today() logbook.Date { return logbook.Date(time.Now().Format(time.DateOnly)) }

// printable takes out what would make a terminal do things, lines and paragraphs
// that end where nobody sees it, and what turns a text around. The isolates that
// keep a right-to-left name apart from its sentence stay, where each has an end.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x2028 && r <= 0x202e || r == 0x2066 || r == 0x2067 {
			return '?'
		}
		return r
	}, s)
	if catalog.Balanced(s) {
		return s
	}
	return strings.NewReplacer("\u2068", "?", "\u2069", "?").Replace(s)
}
