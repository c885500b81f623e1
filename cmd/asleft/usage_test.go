package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// library is how cobra and pflag would say it.
var library = regexp.MustCompile(`accepts|arg\(s\)|received|unknown (command|flag|shorthand)|flag needs|if any flags|invalid argument|bad flag|strconv|requires at least|goroutine`)

// told runs a command line that is wrong and returns what it is told.
func told(t *testing.T, args ...string) string {
	t.Helper()
	var out, wrong bytes.Buffer
	status := run(args, streams{strings.NewReader(""), &out, &wrong})
	first, _, _ := strings.Cut(wrong.String(), "\n")
	if status != usage || out.Len() > 0 || !strings.HasPrefix(first, "asleft: ") || library.MatchString(wrong.String()) {
		t.Errorf("asleft %q: exit %d, out %q, says %q", args, status, out.String(), wrong.String())
	}
	return first
}

// Each command with too much behind it, with none where it wants some, with a flag
// that it has not got and one without its value, says what to write in our words.
func TestEveryCommandSaysHowItIsWritten(t *testing.T) {
	shop := t.TempDir()
	plainShop(t, shop, "harrow")
	commands := 0
	var each func(c *cobra.Command, path []string)
	each = func(c *cobra.Command, path []string) {
		for _, sub := range c.Commands() {
			each(sub, append(append([]string{}, path...), sub.Name()))
		}
		if c.Name() == "fields" || !c.Runnable() {
			return // a topic of the help
		}
		commands++
		in := func(more ...string) []string {
			return append(append(append([]string{}, path...), more...), "--shop", shop)
		}
		told(t, in("--frobnicate")...)
		told(t, in("-z")...)
		told(t, in("--help=maybe")...)
		told(t, append(append([]string{}, path...), "--shop")...)
		switch c.Name() {
		case "log": // photos may follow
			told(t, in("harrow", "nosuch.jpg", "--title", "x")...)
		case "help":
			told(t, in("frobnicate")...)
		default:
			told(t, in("one", "two", "three")...)
		}
		if strings.Contains(c.Use, " ") && !strings.Contains(c.Use, "[") {
			told(t, in()...)
		}
	}
	each(newRoot(streams{strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{}}), nil)
	if commands < 18 {
		t.Errorf("only %d commands were tried", commands)
	}
}

func TestWrongUsage(t *testing.T) {
	shop := t.TempDir()
	plainShop(t, shop, "harrow")
	for line, want := range map[string]string{
		"writup":                                "asleft has no command writup; write asleft writeup if that is what was meant",
		"theme cpy":                             "asleft theme has no command cpy; write asleft theme copy if that is what was meant",
		"manual pages":                          "asleft manual has no command pages; it has licenses",
		"help theme cpy":                        "asleft theme has no command cpy; write asleft theme copy if that is what was meant",
		"writeup harrow":                        "harrow stands where nothing is expected; write asleft writeup alone, or with options such as --shop",
		"tally --bogus":                         "asleft tally has no option --bogus; it has --by, --csv, --help, --json and --shop",
		"tally --jsn":                           "asleft tally has no option --jsn; write --json if that is what was meant",
		"tally -json":                           "asleft tally has no option -json; write --json if that is what was meant",
		"tally --json=perhaps":                  "--json stands alone; leave out =perhaps",
		"desk --port abc":                       "--port is a whole number, and abc is none",
		"desk --=1":                             "--=1 is no option; one has a name behind two hyphens, as in --shop",
		"writeup --out":                         "--out says nothing; write what it is to be behind it, as in --out folder",
		"tally --csv --json":                    "--json and --csv do not go together; give one of them",
		"log harrow --photos a --from-photos b": "--photos and --from-photos do not go together; give one of them",
		"log harrow --hours 2 --from-photos b":  "--hours and --from-photos do not go together; give one of them",
		"handover a b":                          "name one machine, as in asleft handover harrow; one or more with --tag; or give --make-key alone",
		"inspect battery":                       "inspect looks at the whole shop and takes no battery; write asleft inspect alone, or asleft inspect --tests battery for the bench tests",
	} {
		if got := told(t, append([]string{"--shop=" + shop}, strings.Fields(line)...)...); got != "asleft: "+want {
			t.Errorf("asleft %s: %s\nwant %s", line, got, want)
		}
	}
}
