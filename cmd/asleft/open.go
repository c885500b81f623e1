package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator/entry"
	"asleft/generator/logbook"
	"asleft/generator/rooted"
)

func newOpen(s streams) *cobra.Command {
	o := &opening{}
	c := &cobra.Command{
		Use:     "open KEY",
		Short:   words.Say("help.open"),
		Long:    words.Say("help.open.long"),
		Example: words.Say("help.open.example"),
		Args:    exactly(1, "command.name-folder"),
		RunE: func(c *cobra.Command, args []string) error {
			folder, dir, err := openShop(c)
			if err != nil {
				return err
			}
			defer folder.Close()
			o.folder, o.dir, o.key, o.ask = folder, dir, args[0], newAsker(s)
			return o.run(s)
		},
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := c.Flags()
	f.StringVar(&o.machine.Name, "name", "", words.Say("help.flag.name"))
	f.StringVar(&o.machine.Kind, "kind", "", words.Say("help.flag.kind"))
	f.StringVar(&o.machine.From, "from", "", words.Say("help.flag.from"))
	f.StringVar(&o.machine.Paid, "paid", "", words.Say("help.flag.paid"))
	f.StringVar(&o.machine.Owner, "owner", "", words.Say("help.flag.owner"))
	f.StringVar(&o.meter, "meter", "", words.Say("help.flag.meter"))
	f.StringVar(&o.machine.Arrived, "arrived", "", words.Say("help.flag.arrived"))
	f.StringVar(&o.machine.Maker, "maker", "", words.Say("help.flag.maker"))
	f.StringVar(&o.machine.Model, "model", "", words.Say("help.flag.model"))
	f.StringVar(&o.machine.Serial, "serial", "", words.Say("help.flag.serial"))
	complete(c, "kind", func(folder afero.Fs) []string {
		shop, _, err := logbook.Read(folder, logbook.Options{})
		if err != nil {
			return nil
		}
		return kindsOf(shop)
	})
	return c
}

// An opening is the start of a machine's folder.
type opening struct {
	folder  afero.Fs
	dir     string // the shop folder's path, for messages
	key     string
	machine entry.Machine
	meter   string
	ask     *asker
	kept    openingAnswers // what was kept of the answers
}

func (o *opening) run(s streams) error {
	if !entry.GoodKey(o.key) {
		return wrongUsage(errors.New(words.Say("command.bad-key", "key", o.key)))
	}
	begun, err := o.begun()
	if err != nil {
		return &outcome{fault, err}
	}
	if begun != nil && (len(begun) > 1 || o.machine.Name == "" && o.answered().Name == "") {
		return o.there()
	}
	if o.machine.Arrived == "" {
		o.machine.Arrived = string(today())
	}
	if o.machine.Owner != "" {
		o.machine.Stage = logbook.Customers
	}
	if o.machine.Name != "" {
		if err := o.wrongFlags(s); err != nil {
			return err
		}
	} else {
		if !o.ask.interactive {
			return wrongUsage(errors.New(words.Say("command.open-needs-name")))
		}
		if err := o.questions(); err != nil {
			return err
		}
	}
	err = o.write(s, begun != nil)
	if names, e := o.begun(); err == nil || e == nil && len(names) > 1 {
		return errors.Join(err, o.forget())
	}
	if o.ask.before != nil {
		fmt.Fprintln(s.err, printable(words.Say("command.opening-kept", "key", o.key)))
	}
	return err
}

// answersDir holds what somebody answered of a machine that is not opened yet.
const answersDir = ".asleft/opening"

// openingAnswers are the answers to the questions of open.
type openingAnswers struct{ Name, Kind, From, Paid, Meter string }

func (o *opening) answersFile() string { return path.Join(answersDir, o.key+".json") }

// keep keeps the answers on the disk before each question, so that a terminal that is
// closed, or Ctrl-C, takes nothing with it. A disk that takes nothing is told of by
// what is written in the end.
func (o *opening) keep() {
	now := openingAnswers{o.machine.Name, o.machine.Kind, o.machine.From, o.machine.Paid, o.meter}
	if now == o.kept {
		return
	}
	o.kept = now
	if data, err := json.Marshal(now); err == nil && o.folder.MkdirAll(answersDir, 0o700) == nil {
		_ = entry.KeepDraft(o.folder, o.answersFile(), data)
	}
}

func (o *opening) forget() error {
	if err := o.folder.Remove(o.answersFile()); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// answered are the answers of a try that was broken off. Answers that cannot be read
// are asked for again.
func (o *opening) answered() (was openingAnswers) {
	data, err := rooted.ReadFile(o.folder, o.answersFile(), rooted.MostText)
	if err != nil || json.Unmarshal(data, &was) != nil {
		return openingAnswers{}
	}
	return was
}

// goOn offers the answers of a try that was broken off.
func (o *opening) goOn() {
	was := o.answered()
	if was.Name == "" {
		return
	}
	fmt.Fprintln(o.ask.out, printable(words.Say("command.opening-there", "key", o.key)))
	for _, answer := range []string{was.Name, was.Kind, was.From, was.Paid, was.Meter} {
		if answer != "" {
			fmt.Fprintln(o.ask.out, oneLine("  | "+answer))
		}
	}
	if answer := strings.ToLower(o.ask.ask(words.Say("command.ask-opening"))); answer == "n" || answer == "no" {
		return
	}
	m := &o.machine
	m.Name, m.Kind, m.From, m.Paid, o.meter = was.Name, cmp.Or(m.Kind, was.Kind), cmp.Or(m.From, was.From), cmp.Or(m.Paid, was.Paid), cmp.Or(o.meter, was.Meter)
}

// begun are the names in the machine's folder where its file is there, nil where it is
// not. An empty file is nothing: a killed run may have taken the name with it.
func (o *opening) begun() (names []string, err error) {
	file := entry.MachineFile(o.key)
	infos, err := afero.ReadDir(o.folder, path.Dir(file))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	for _, i := range infos {
		if !strings.HasPrefix(i.Name(), ".") && (i.IsDir() || i.Size() > 0) {
			names = append(names, i.Name())
		}
	}
	if !slices.Contains(names, path.Base(file)) {
		return nil, nil
	}
	return names, nil
}

func (o *opening) there() error {
	return wrongUsage(errors.New(words.Say("command.machine-there", "key", o.key, "file", entry.MachineFile(o.key))))
}

// try is what the shop would say of the machine as it is so far.
func (o *opening) try() (*logbook.Machine, []logbook.Problem, error) {
	shop, wrong, err := entry.Try(o.folder, map[string][]byte{
		entry.MachineFile(o.key):                 o.machine.Markdown(),
		"machines/" + o.key + "/" + arrivalProbe: entry.Entry{Date: o.machine.Arrived, Title: o.key, Meter: hours(o.meter)}.Markdown(),
	}, today(), words)
	if err != nil {
		return nil, nil, status(err)
	}
	i := slices.IndexFunc(shop.Machines, func(m *logbook.Machine) bool { return m.Key == o.key })
	return shop.Machines[i], wrong, nil
}

// wrongFlags tells what is wrong with a machine that flags make, before anything is
// written: what is there once is not opened again, and a wrong day is in a file's name.
func (o *opening) wrongFlags(s streams) error {
	_, wrong, err := o.try()
	wrong = slices.DeleteFunc(wrong, func(p logbook.Problem) bool { return p.Field == "" }) // of the folder, as it is
	if err != nil || len(wrong) == 0 {
		return err
	}
	for n, p := range wrong {
		if slices.ContainsFunc(wrong[:n], func(o logbook.Problem) bool { return o.Says == p.Says }) {
			continue // the day it came is in both files
		}
		tellFlag(s.err, p, "")
	}
	fmt.Fprintln(s.err, words.Say("command.flags-again"))
	return &outcome{status: problems}
}

// arrivalProbe is the name under which the entry of the arrival is tried.
const arrivalProbe = "arrived.md"

func (o *opening) questions() error {
	shop, _, err := logbook.Read(o.folder, logbook.Options{Today: today(), Words: words})
	if err != nil {
		return status(err)
	}
	check := func(field string) func() []logbook.Problem {
		return func() []logbook.Problem {
			_, wrong, err := o.try()
			if err != nil {
				return nil // the same error comes up again when it is written
			}
			return within(wrong, field)
		}
	}
	m, a := &o.machine, o.ask
	o.goOn()
	a.before = o.keep
	if m.Name == "" {
		m.Name = a.needed(words.Say("command.ask-name"))
	}
	if m.Name == "" {
		return wrongUsage(errors.New(words.Say("command.nothing-written")))
	}
	if m.Kind == "" {
		o.askKind(kindsOf(shop))
	}
	if m.From == "" && m.Owner == "" {
		m.From = a.ask(words.Say("command.ask-from"))
	}
	if m.Paid == "" && m.Owner == "" {
		a.checked(words.Say("command.ask-paid", "currency", shop.Currency), func(s string) { m.Paid = s }, check("bought"))
	}
	if o.meter == "" {
		a.checked(words.Say("command.ask-first-meter"), func(s string) { o.meter = hours(s) }, check("meter"))
	}
	return nil
}

// askKind offers the kinds that there are sheets for. Any other will do: one
// that may be a slip is asked for once more, and taken if it comes again.
func (o *opening) askKind(kinds []string) {
	o.ask.list(kinds)
	for before := ""; ; before = o.machine.Kind {
		o.machine.Kind = o.ask.ask(words.Say("command.ask-kind"))
		if n, err := strconv.Atoi(o.machine.Kind); err == nil && n >= 1 && n <= len(kinds) {
			o.machine.Kind = kinds[n-1]
		}
		m, _, err := o.try()
		if err != nil || m.Kind == "" || m.Kind == before || len(m.KindNear) == 0 {
			return // an error comes up again when it is written
		}
		fmt.Fprintln(o.ask.out, printable("    "+noSheet(m)))
	}
}

// noSheet says that no sheet is for a machine's kind, and which one may be
// meant.
func noSheet(m *logbook.Machine) string {
	key := "command.no-sheet"
	if len(m.KindNear) > 0 {
		key = "command.no-sheet-near"
	}
	return words.Say(key, "kind", m.Kind, "near", strings.Join(m.KindNear, ", "))
}

// kindsOf are the kinds that there are sheets for.
func kindsOf(shop *logbook.Shop) []string {
	var kinds []string
	for _, s := range shop.Sheets {
		if s.Kind != "" && !s.General {
			kinds = append(kinds, s.Kind)
		}
	}
	slices.Sort(kinds)
	return kinds
}

// hours is a meter's reading with its unit, where only the number was given.
func hours(s string) string {
	if s != "" && strings.Trim(s, "0123456789.") == "" {
		return s + " h"
	}
	return s
}

// write sets down the machine and, where there is a sheet or a meter, the entry
// of its arrival with the sheet's points ready to answer. Where a run that was killed
// has written the machine in the same words and nothing else, this one goes on from there.
func (o *opening) write(s streams, begun bool) error {
	m, _, err := o.try()
	if err != nil {
		return err
	}
	var points []entry.Item
	offer := entry.MachineOffer{Engine: m.Sheet == nil, Meter: strings.ContainsAny(o.meter, "0123456789")}
	if m.Sheet != nil {
		for _, i := range m.Sheet.Items {
			points = append(points, entry.Item{Item: i.Item, How: i.How})
			offer.Engine = offer.Engine || i.System == "engine"
			if i.OnlyIf != "" && !logbook.Known(i.OnlyIf, offer.Depends) {
				offer.Depends = append(offer.Depends, i.OnlyIf)
			}
		}
	}
	file := entry.MachineFile(o.key)
	form, arrives := o.machine.Form(offer, words), len(points) > 0 || o.meter != ""
	if begun {
		was, err := afero.ReadFile(o.folder, file)
		if err != nil {
			return &outcome{fault, err}
		}
		if !bytes.Equal(was, form) || !arrives {
			return o.there()
		}
	} else if err := entry.New(o.folder, file, form); err != nil {
		return unwritten(err)
	}
	fmt.Fprintln(s.out, words.Say("command.wrote", "file", file))
	files := []string{file}
	if arrives {
		e := entry.Entry{Date: o.machine.Arrived, Title: words.Say("entry.arrived"), Meter: hours(o.meter)}
		if e.Date == string(today()) {
			e.Time = time.Now().Format("15:04")
		}
		name, err := entry.NewEntry(o.folder, o.key, e.Stem(), e.Sheet(points, words))
		if err != nil {
			return unwritten(err)
		}
		fmt.Fprintln(s.out, words.Say("command.wrote", "file", name))
		files = append(files, name)
	}
	if m.Kind != "" && !m.Listed && !o.ask.interactive {
		fmt.Fprintln(s.err, printable(noSheet(m)))
	}
	found, err := problemsIn(o.folder, files)
	if err != nil {
		return err
	}
	if len(found) > 0 {
		printFound(s.err, found)
		return &outcome{status: problems}
	}
	fmt.Fprintln(s.out, words.Say("command.opened", "key", o.key))
	return nil
}
