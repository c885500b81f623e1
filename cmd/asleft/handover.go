package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/condition"
	"asleft/generator/handover"
	"asleft/generator/handover/sheet"
	"asleft/generator/logbook"
	"asleft/generator/record"
	"asleft/generator/rooted"
)

// handoverFlags are what handover was asked for.
type handoverFlags struct {
	buyerCopy, paper                string
	yes, tellBuyer, asJSON, makeKey bool
	tag                             bool
}

func newHandover(s streams) *cobra.Command {
	var f handoverFlags
	c := &cobra.Command{
		Use:     "handover KEY...",
		Short:   words.Say("help.handover"),
		Long:    words.Say("help.handover.long"),
		Example: words.Say("help.handover.example"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case f.makeKey && !f.tag && len(args) == 0:
				return makeKey(c, s, f.asJSON)
			case f.tag && !f.makeKey && len(args) > 0:
				return printTags(c, s, args, f)
			case f.makeKey || f.tag || len(args) != 1:
				return wrongUsage(errors.New(words.Say("command.handover-args")))
			}
			return handOver(c, s, args[0], f)
		},
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 && !f.tag {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return inShop(c, machineKeys), cobra.ShellCompDirectiveNoFileComp
		},
	}
	c.Flags().StringVar(&f.buyerCopy, "buyer-copy", ".", words.Say("help.flag.buyer-copy"))
	c.Flags().StringVar(&f.paper, "paper", sheet.Letter.Name, words.Say("help.flag.paper"))
	c.Flags().BoolVar(&f.yes, "yes", false, words.Say("help.flag.yes"))
	c.Flags().BoolVar(&f.tellBuyer, "tell-buyer", false, words.Say("help.flag.tell-buyer"))
	c.Flags().BoolVar(&f.tag, "tag", false, words.Say("help.flag.tag"))
	c.Flags().BoolVar(&f.makeKey, "make-key", false, words.Say("help.flag.make-key"))
	c.Flags().BoolVar(&f.asJSON, "json", false, words.Say("help.flag.json"))
	return c
}

func handOver(c *cobra.Command, s streams, key string, f handoverFlags) error {
	paper, err := paperNamed(f.paper, "command.handover-paper", sheet.Letter, sheet.A4)
	if err != nil {
		return err
	}
	folder, _, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	buyer, err := openBuyer(f.buyerCopy)
	if err != nil {
		return err
	}
	defer buyer.Close()
	r, n, day, err := readMachine(folder, key)
	if err != nil {
		return err
	}
	if len(r.Problems) > 0 {
		return problemsFirst(s, r.Problems, "command.not-sealed")
	}
	report, err := handover.Prepare(folder, r.Site(), n, day)
	if err != nil {
		return sealing(s, err, day)
	}
	report.Program = version()
	settings, err := anySettings()
	if err != nil {
		return err
	}
	gone, before := report.Chain.Forgotten(folder, settings)
	report.Breaks, report.Missed = append(report.Breaks, gone...), append(report.Missed, before...)
	if err := agreed(s, condition.Gaps(r.Shop, r.Reports[n], r.Words), report, f); err != nil {
		return err
	}
	made, err := report.Seal(buyer, settings, paper)
	if err != nil {
		return sealing(s, err, day)
	}
	made.Remember(folder, settings, report.Chain)
	return handedOver(s, made, f)
}

// paperNamed is the paper of a name among those that there are.
func paperNamed(name, sentence string, papers ...sheet.Paper) (sheet.Paper, error) {
	if i := slices.IndexFunc(papers, func(p sheet.Paper) bool { return p.Name == name }); i >= 0 {
		return papers[i], nil
	}
	return sheet.Paper{}, wrongUsage(errors.New(words.Say(sentence, "paper", name)))
}

// openBuyer opens the folder for the buyer's files.
func openBuyer(dir string) (*rooted.FS, error) {
	if info, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) || err == nil && !info.IsDir() {
		return nil, wrongUsage(errors.New(words.Say("command.handover-no-folder", "dir", dir)))
	}
	buyer, err := rooted.Open(dir)
	if err != nil {
		return nil, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.cannot-open", "dir", dir), err)}
	}
	return buyer, nil
}

// readShop reads the shop as it is on the day that it is there now. The zone of the
// shop is known only when it is read.
func readShop(folder *rooted.FS) (*generator.Reading, logbook.Date, error) {
	day := today()
	r, err := generator.Read(folder, generator.Options{Today: day})
	if err == nil && dayIn(r.Shop) != day {
		day = dayIn(r.Shop)
		r, err = generator.Read(folder, generator.Options{Today: day})
	}
	if err != nil {
		return nil, "", status(err)
	}
	return r, day, nil
}

// dayIn is the day in a shop: by its own zone, or by this computer's where it names
// none.
func dayIn(shop *logbook.Shop) logbook.Date {
	if shop.Zone == nil || shop.Zone == time.UTC {
		return today()
	}
	return logbook.Date(time.Now().In(shop.Zone).Format(time.DateOnly))
}

// readMachine reads the shop and finds a machine in it.
func readMachine(folder *rooted.FS, key string) (*generator.Reading, int, logbook.Date, error) {
	r, day, err := readShop(folder)
	if err != nil {
		return nil, 0, "", err
	}
	n, err := machineOf(r.Shop, key)
	if err != nil && len(r.Problems) == 0 {
		return nil, 0, "", err
	}
	return r, n, day, nil
}

// problemsFirst lists the problems of the logs, for which nothing was made.
func problemsFirst(s streams, found []logbook.Problem, sentence string) error {
	printFound(s.err, found)
	fmt.Fprintln(s.err, words.Count(sentence, len(found)))
	return &outcome{status: problems}
}

// agreed shows what the report will have to admit and asks whether to seal it.
// What is open or wrong wants --tell-buyer, with or without a terminal, at whatever
// stage the machine is.
func agreed(s streams, gaps []logbook.Problem, report *handover.Report, f handoverFlags) error {
	if report.Facts.TellBuyer() && !f.tellBuyer {
		untold(s, report)
		return &outcome{status: problems}
	}
	for _, b := range slices.Concat(report.Missed, report.Breaks) {
		fmt.Fprintln(s.err, oneLine(b.Says))
	}
	if len(report.Breaks) > 0 {
		fmt.Fprintln(s.err, words.Say("command.handover-breaks"))
	}
	if gone := report.Facts.Gone; len(gone) > 0 {
		fmt.Fprintln(s.err, words.Say("command.handover-gone"))
		for _, g := range gone {
			fmt.Fprintln(s.err, printable(words.Say("command.handover-item", "text", g.Text)))
		}
	}
	if len(gaps) > 0 {
		fmt.Fprintln(s.err, words.Say("command.gaps"))
		printFound(s.err, gaps)
	}
	if f.yes {
		return nil
	}
	return asked(s, words.Say("command.handover-ask", "name", report.Facts.Record.Machine.Name))
}

// untold names every subject that the buyer has to be told of: all that is open,
// all else that is wrong, and those of which nobody said if they can hurt someone.
func untold(s streams, report *handover.Report) {
	list := func(key string, subjects []record.Subject) {
		if len(subjects) == 0 {
			return
		}
		fmt.Fprintln(s.err, words.Say(key))
		for _, of := range subjects {
			standing := words.Say("standing." + condition.Standing(of.Standing).Key())
			fmt.Fprintln(s.err, printable(words.Say("command.handover-subject", "name", of.Name, "standing", standing)))
		}
	}
	list("command.handover-open", report.Facts.Open())
	list("command.handover-wrong", report.Facts.Wrong())
	list("command.handover-not-said", report.Facts.NotSaid())
	fmt.Fprintln(s.err, words.Say("command.handover-tell"))
}

// asked asks on a terminal; anything but yes ends the command. Where nobody can
// answer, that is wrong usage.
func asked(s streams, question string) error {
	a := newAsker(streams{s.in, s.err, s.err})
	switch {
	case !a.interactive:
		return wrongUsage(errors.New(words.Say("command.handover-no-terminal")))
	case !a.yes(question):
		fmt.Fprintln(s.err, words.Say("command.handover-not-sealed"))
		return &outcome{status: problems}
	}
	return nil
}

// sealing words what can go wrong with sealing.
func sealing(s streams, err error, day logbook.Date) error {
	var bad *handover.BadPhoto
	var way *handover.InTheWay
	switch {
	case errors.As(err, &bad):
		at := logbook.Place{File: bad.File, Line: 1}
		return problemsFirst(s, []logbook.Problem{{Place: at, Says: words.Say("problem.photo", "file", bad.File, "why", bad.Cause), Mend: words.Say("problem.photo.mend")}}, "command.not-sealed")
	case errors.Is(err, handover.ErrClock):
		return &outcome{fault, fmt.Errorf("%s (%w)", words.Say("command.handover-clock", "today", day), err)}
	case errors.Is(err, handover.ErrLarge):
		return &outcome{problems, errors.New(words.Say("command.handover-large"))}
	case errors.Is(err, handover.ErrUnreadable):
		return &outcome{problems, fmt.Errorf("%s (%w)", words.Say("command.handover-unreadable"), err)}
	case errors.Is(err, handover.ErrAtWork):
		return &outcome{fault, fmt.Errorf("%s (%w)", words.Say("command.handover-at-work"), err)}
	case errors.Is(err, handover.ErrOtherCopies):
		return &outcome{problems, fmt.Errorf("%s (%w)", words.Say("command.handover-other-copies"), err)}
	case errors.Is(err, handover.ErrNoCopies):
		return &outcome{fault, fmt.Errorf("%s (%w)", words.Say("command.handover-no-copies"), err)}
	case errors.As(err, &way): // after those that say that the report is sealed
		return &outcome{problems, errors.New(words.Say("command.handover-in-the-way", "file", way.File))}
	case errors.Is(err, handover.ErrKeyElsewhere), errors.Is(err, handover.ErrKeyOpen), errors.Is(err, handover.ErrKeyForm):
		return &outcome{fault, fmt.Errorf("%s (%w)", words.Say("command.handover-key"), err)}
	}
	return &outcome{fault, err}
}

// handoverJSON is what handover --json answers.
type handoverJSON struct {
	Code   string `json:"code"`
	Number int    `json:"number"`
	Sealed string `json:"sealed"`
	Digest string `json:"digest"`
	File   string `json:"file"`
	HTML   string `json:"html"`
	PDF    string `json:"pdf"`
	Signed bool   `json:"signed"`
	Again  bool   `json:"again"`
}

func handedOver(s streams, made *handover.Made, f handoverFlags) error {
	html, pdf := filepath.Join(f.buyerCopy, made.HTML), filepath.Join(f.buyerCopy, made.PDF)
	if f.asJSON {
		return writeJSON(s.out, handoverJSON{
			Code: made.Seal.Code, Number: made.Seal.Number, Sealed: made.Seal.Facts.Sealed, Digest: made.Seal.Digest,
			File: made.File, HTML: html, PDF: pdf, Signed: made.Seal.Signature != nil, Again: made.Again,
		})
	}
	key := "command.handover-made"
	if made.Again {
		key = "command.handover-again"
	}
	fmt.Fprintln(s.out, printable(words.Say(key, "name", made.Seal.Facts.Record.Machine.Name, "code", handover.GroupedCode(made.Seal.Code), "number", made.Seal.Number)))
	for _, file := range []string{html, pdf} {
		fmt.Fprintln(s.out, words.Say("command.handover-buyer", "file", file))
	}
	fmt.Fprintln(s.out, words.Say("command.handover-keep", "file", made.File))
	return nil
}
