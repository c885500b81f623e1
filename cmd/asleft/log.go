package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/condition"
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

// logFlags are what the flags of asleft log say.
type logFlags struct {
	entry                                                             entry.Entry
	textFile                                                          string
	checks, measured, parts, costs, defects, repaired, proofs, around []string
	gone, changed, putBack, workedOn, service, tests, diagnosis       []string
	safety                                                            string
	photos, alts                                                      []string
	fromPhotos                                                        string
	edit                                                              bool
}

func newLog(s streams) *cobra.Command {
	l := &logFlags{}
	c := &cobra.Command{
		Use:     "log KEY [PHOTO...]",
		Short:   words.Say("help.log"),
		Long:    words.Say("help.log.long"),
		Example: words.Say("help.log.example"),
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New(words.Say("command.name-machine", "command", "log"))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			folder, dir, err := openShop(c)
			if err != nil {
				return err
			}
			defer folder.Close()
			if len(args) > 1 && l.fromPhotos != "" {
				return wrongUsage(errors.New(words.Say("command.stray-photos", "read", args[1])))
			}
			l.photos = append(l.photos, args[1:]...)
			return logEntry(folder, dir, args[0], l, s, newAsker(s))
		},
		ValidArgsFunction: machineThen(cobra.ShellCompDirectiveDefault), // photos
	}
	l.flags(c)
	return c
}

func (l *logFlags) flags(c *cobra.Command) {
	f, e := c.Flags(), &l.entry
	f.StringVar(&e.Date, "date", "", words.Say("help.flag.date"))
	f.StringVar(&e.Time, "time", "", words.Say("help.flag.time"))
	f.StringVar(&e.Title, "title", "", words.Say("help.flag.title"))
	f.StringVar(&e.By, "by", "", words.Say("help.flag.by"))
	f.StringVar(&e.Hours, "hours", "", words.Say("help.flag.hours"))
	f.StringVar(&e.Meter, "meter", "", words.Say("help.flag.meter"))
	f.StringVar(&e.Odometer, "odometer", "", words.Say("help.flag.odometer"))
	f.StringVar(&e.Ran, "ran", "", words.Say("help.flag.ran"))
	f.StringVar(&e.Body, "text", "", words.Say("help.flag.text"))
	f.StringVar(&l.textFile, "text-file", "", words.Say("help.flag.text-file"))
	f.StringArrayVar(&l.checks, "check", nil, words.Say("help.flag.check"))
	f.StringArrayVar(&l.measured, "measured", nil, words.Say("help.flag.measured"))
	f.StringArrayVar(&l.diagnosis, "diagnosis", nil, words.Say("help.flag.diagnosis"))
	f.StringArrayVar(&l.tests, "test", nil, words.Say("help.flag.test"))
	f.StringArrayVar(&l.parts, "part", nil, words.Say("help.flag.part"))
	f.StringArrayVar(&l.costs, "cost", nil, words.Say("help.flag.cost"))
	f.StringArrayVar(&l.defects, "defect", nil, words.Say("help.flag.defect"))
	f.StringArrayVar(&l.repaired, "repaired", nil, words.Say("help.flag.repaired"))
	f.StringArrayVar(&l.proofs, "proof", nil, words.Say("help.flag.proof"))
	f.StringArrayVar(&l.around, "worked-around", nil, words.Say("help.flag.worked-around"))
	f.StringArrayVar(&l.gone, "gone", nil, words.Say("help.flag.gone"))
	f.StringArrayVar(&l.changed, "changed", nil, words.Say("help.flag.changed"))
	f.StringArrayVar(&l.putBack, "put-back", nil, words.Say("help.flag.put-back"))
	f.StringArrayVar(&l.workedOn, "worked-on", nil, words.Say("help.flag.worked-on"))
	f.StringArrayVar(&l.service, "service", nil, words.Say("help.flag.service"))
	f.StringVar(&l.safety, "safety", "", words.Say("help.flag.safety"))
	f.StringArrayVar(&l.photos, "photos", nil, words.Say("help.flag.photos"))
	f.StringVar(&l.fromPhotos, "from-photos", "", words.Say("help.flag.from-photos"))
	f.StringArrayVar(&l.alts, "alt", nil, words.Say("help.flag.alt"))
	f.BoolVar(&l.edit, "edit", false, words.Say("help.flag.edit"))
	c.MarkFlagsMutuallyExclusive("text", "text-file")
	c.MarkFlagsMutuallyExclusive("photos", "from-photos")
	// What was done cannot be said of several days at once: it would count twice.
	for _, name := range []string{"date", "time", "hours", "meter", "odometer", "ran", "text", "text-file", "check", "measured", "diagnosis", "test", "part", "cost", "defect", "repaired", "proof", "worked-around", "gone", "changed", "put-back", "worked-on", "service", "safety", "edit"} {
		c.MarkFlagsMutuallyExclusive(name, "from-photos")
	}
}

// given tells whether the flags say something of what was done, so that nobody
// needs to be asked.
func (l *logFlags) given() bool {
	e := &l.entry
	lists := [][]string{l.checks, l.measured, l.parts, l.costs, l.defects, l.repaired, l.proofs, l.around, l.gone, l.changed, l.putBack, l.workedOn, l.service, l.tests, l.diagnosis}
	return len(slices.Concat(lists...)) > 0 || e.Title+e.Hours+e.Meter+e.Odometer+e.Ran+e.Body != ""
}

// A logging is one entry on its way into a machine's log.
type logging struct {
	folder  afero.Fs
	dir     string // the shop folder's path, for the editor and for messages
	key     string
	shop    *logbook.Shop
	machine *logbook.Machine
	report  *condition.Report
	entry   entry.Entry
	ask     *asker
	saved   bool                   // the entry is in the log
	kept    atomic.Pointer[string] // the file of the draft
	streams
}

func logEntry(folder afero.Fs, dir, key string, flags *logFlags, s streams, ask *asker) error {
	l, err := newLogging(folder, dir, key, s, ask)
	if err != nil {
		return err
	}
	if err := flags.readText(s.in); err != nil {
		return err
	}
	l.entry = flags.entry
	l.entry.Meter = hours(l.entry.Meter)
	if err := flags.add(&l.entry); err != nil {
		return err
	}
	if flags.fromPhotos != "" {
		return l.shootingDays(flags)
	}
	if l.entry.Date == "" {
		l.entry.Date = string(today())
	}
	l.stamp()
	asks := !flags.edit && !flags.given()
	if asks && !ask.interactive && len(flags.photos) == 0 {
		return wrongUsage(errors.New(words.Say("command.nothing-to-log")))
	}
	if flags.given() && !flags.edit && l.entry.Title == "" {
		return wrongUsage(errors.New(words.Say("command.no-title")))
	}
	alts, err := flags.altTexts()
	if err != nil {
		return err
	}
	if (asks || flags.edit) && ask.interactive {
		if taken, err := l.offerDrafts(); taken || err != nil {
			return err
		}
	}
	if flags.given() && !flags.edit {
		if err := l.wrongFlags(); err != nil {
			return err
		}
	}
	left, err := l.bringIn(flags.photos, alts)
	if err != nil {
		return err
	}
	switch {
	case flags.edit:
		err = l.edit()
	case asks && ask.interactive:
		done := l.follow()
		err = l.questions()
		err = errors.Join(err, done(l.saved))
	default:
		if l.entry.Title == "" {
			if len(l.entry.Photos) == 0 {
				return &outcome{problems, errors.New(words.Say("command.no-photos"))}
			}
			l.entry.Title = words.Count("entry.photos", len(l.entry.Photos))
		}
		l.askUnsaid()
		err = l.write()
		if err != nil && !l.saved && flags.textFile == "-" {
			l.setAside() // what was typed stands nowhere else
		}
	}
	if err == nil && left > 0 {
		return &outcome{status: problems}
	}
	return err
}

// setAside keeps an entry that the log did not take as a draft, or prints it.
func (l *logging) setAside() {
	data := l.entry.Markdown()
	if d := l.keepIn(nil, data); d != nil {
		fmt.Fprintln(l.err, words.Say("command.draft-kept", "file", d.file, "key", l.key))
		return
	}
	fmt.Fprintln(l.err, words.Say("command.draft-here"))
	fmt.Fprintln(l.err, string(data))
}

// stamp writes the time of an entry of today, where nobody gave one: which of
// two entries of a day came first decides what a check still says. Of an earlier
// day the program does not know it.
func (l *logging) stamp() {
	if l.entry.Time == "" && l.entry.Date == string(today()) {
		l.entry.Time = time.Now().Format("15:04")
	}
}

// askUnsaid asks of each thing in the entry whether it can hurt someone, where
// the flags do not say. Where nobody can answer, it stays unsaid and is told.
func (l *logging) askUnsaid() {
	ask := func(what, system string, safety *string) {
		switch {
		case *safety != "" || l.shop.AlwaysSafety(system):
		case l.ask.interactive:
			*safety = l.ask.safety(words.Say("command.ask-safety-of", "what", what))
		default:
			fmt.Fprintln(l.err, printable(words.Say("command.safety-unsaid", "what", what)))
		}
	}
	for i := range l.entry.Defects {
		d := &l.entry.Defects[i]
		ask(d.Defect, d.System, &d.Safety)
	}
	for i := range l.entry.Changed {
		c := &l.entry.Changed[i]
		ask(c.What, c.System, &c.Safety)
	}
}

func newLogging(folder afero.Fs, dir, key string, s streams, ask *asker) (*logging, error) {
	r, err := generator.Read(folder, generator.Options{Today: today(), Words: words})
	if err != nil {
		return nil, status(err)
	}
	n := slices.IndexFunc(r.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == key })
	if n < 0 {
		return nil, noMachine(r.Shop, "command.no-machine-open", key)
	}
	return &logging{folder: folder, dir: dir, key: key, shop: r.Shop, machine: r.Shop.Machines[n], report: r.Reports[n], ask: ask, streams: s}, nil
}

// mostText is more than any story may have, in bytes.
const mostText = 1 << 20

// readText reads the story from a file, or from the input where the file is -.
func (l *logFlags) readText(in io.Reader) error {
	switch l.textFile {
	case "":
		return nil
	case "-":
	default:
		f, err := os.Open(l.textFile)
		if err != nil {
			return wrongUsage(err)
		}
		defer f.Close()
		in = f
	}
	data, err := io.ReadAll(io.LimitReader(in, mostText))
	if err != nil {
		return &outcome{fault, err}
	}
	text, err := utf8Text(data)
	if err != nil {
		return wrongUsage(err)
	}
	l.entry.Body = text
	return nil
}

// utf8Text is a text that may come in UTF-16 with its mark, as Windows' shell writes
// files. One in another code page is refused, for nobody can tell which, and letters
// that are lost are not noticed until a buyer reads them.
func utf8Text(data []byte) (string, error) {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = binary.BigEndian
	case !utf8.Valid(data):
		n := 1
		for line := range bytes.Lines(data) {
			if !utf8.Valid(line) {
				break
			}
			n++
		}
		return "", errors.New(words.Say("command.text-not-utf8", "line", strconv.Itoa(n)))
	default:
		return string(data), nil
	}
	units := make([]uint16, len(data)/2-1)
	for i := range units {
		units[i] = order.Uint16(data[2*i+2:])
	}
	return string(utf16.Decode(units)), nil
}

// wrongFlags tells what is wrong with an entry that flags make, before anything is
// written: a second try would write a second entry. Its photos are not in it yet.
func (l *logging) wrongFlags() error {
	l.entry.Know()
	any, err := l.tellWrong(l.entry.Markdown())
	if err != nil || !any {
		return err
	}
	fmt.Fprintln(l.err, words.Say("command.flags-again"))
	return &outcome{status: problems}
}

// tellWrong tells what is wrong with an entry that is in no log yet, field by field.
func (l *logging) tellWrong(data []byte) (any bool, err error) {
	name := "machines/" + l.key + "/" + l.entry.Stem() + "-try.md"
	_, found, err := entry.Try(l.folder, map[string][]byte{name: data}, today(), words)
	if err != nil {
		return false, status(err)
	}
	lines := strings.Split(string(data), "\n")
	for _, p := range found {
		line := ""
		if p.Line >= 1 && p.Line <= len(lines) {
			line = "  | " + lines[p.Line-1]
		}
		tellFlag(l.err, p, line)
	}
	return len(found) > 0, nil
}

// tellFlag tells what is wrong with what a flag said, with the line that it made, if any.
func tellFlag(w io.Writer, p logbook.Problem, line string) {
	fmt.Fprintln(w, oneLine(words.Say("command.wrong-flag", "field", p.Field, "says", p.Says)))
	if line != "" {
		fmt.Fprintln(w, oneLine(line))
	}
	fmt.Fprintln(w, oneLine("    "+p.Mend))
}

// write sets down the entry and tells at once what is wrong with it.
func (l *logging) write() error {
	l.entry.Know()
	name, err := l.save(l.entry.Stem(), l.entry.Markdown())
	if err != nil {
		return err
	}
	return l.tell(name)
}

func (l *logging) save(stem string, data []byte) (string, error) {
	name, err := entry.NewEntry(l.folder, l.key, stem, data)
	if err != nil {
		return "", unwritten(err)
	}
	l.saved = true
	fmt.Fprintln(l.out, words.Say("command.wrote", "file", name))
	return name, nil
}

// tell lists the problems of a file that was just written.
func (l *logging) tell(name string) error {
	found, err := problemsIn(l.folder, []string{name})
	if err != nil {
		return err
	}
	if len(found) == 0 {
		return nil
	}
	printFoundIn(l.err, l.folder, found)
	return &outcome{status: problems}
}
