package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"asleft/generator"
	"asleft/generator/delivery"
	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/publish/visit"
	"asleft/generator/rooted"
)

// publishing is the command's flags.
type publishing struct {
	to, out, fingerprint     string
	dryRun, check, json      bool
	moveIn, atOnce, thorough bool
}

func newPublish(s streams) *cobra.Command {
	var p publishing
	c := &cobra.Command{
		Use:     "publish",
		Short:   words.Say("help.publish"),
		Long:    words.Say("help.publish.long"),
		Example: words.Say("help.publish.example"),
		Args:    none,
		RunE:    func(c *cobra.Command, _ []string) error { return p.run(c, s) },
	}
	f := c.Flags()
	f.StringVar(&p.to, "to", "", words.Say("help.flag.to"))
	f.StringVar(&p.out, "out", "", words.Say("help.flag.out"))
	f.StringVar(&p.fingerprint, "fingerprint", "", words.Say("help.flag.fingerprint"))
	f.BoolVar(&p.dryRun, "dry-run", false, words.Say("help.flag.dry-run"))
	f.BoolVar(&p.check, "check", false, words.Say("help.flag.check-web"))
	f.BoolVar(&p.moveIn, "move-in", false, words.Say("help.flag.move-in"))
	f.BoolVar(&p.atOnce, "at-once", false, words.Say("help.flag.at-once"))
	f.BoolVar(&p.thorough, "thorough", false, words.Say("help.flag.thorough"))
	f.BoolVar(&p.json, "json", false, words.Say("help.flag.json"))
	c.MarkFlagsMutuallyExclusive("dry-run", "check")
	return c
}

func (p publishing) run(c *cobra.Command, s streams) error {
	folder, dir, err := openShop(c)
	if err != nil {
		return err
	}
	defer folder.Close()
	if p.out == "" {
		p.out = filepath.Join(dir, defaultSite)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	site, err := p.site(folder, dir, s)
	if err != nil {
		return err
	}
	defer site.parent.Close()
	say := &publishTalk{s: s, json: p.json}
	if p.check {
		return p.look(ctx, site, nil, say)
	}
	to, err := p.destination(site.Shop, dir)
	if err != nil {
		return err
	}
	open := p.opener(to, site, dir, s)
	far, err := open(ctx)
	if err != nil {
		return published(err)
	}
	options := p.options(to, say)
	if to.URL != nil {
		options.Again = open
	}
	result, err := publish.Bring(ctx, far, site.ToBring(), options)
	say.bar.clear()
	if traits := far.Traits(); err == nil && traits.NoReplace && len(result.Brought) > 0 {
		say.hint(words.Say("publish.no-replace"))
	}
	if e := far.Close(); err == nil {
		err = e
	}
	if err != nil {
		if errors.Is(err, context.Canceled) {
			err = publish.NewFault(err, "publish.stopped")
		}
		return published(err)
	}
	say.result(to, result, p.dryRun)
	if p.dryRun || to.URL == nil {
		return say.end()
	}
	return p.look(ctx, site, result.Brought, say)
}

// published is the outcome of a fault. What only needs another word on the command
// line is wrong usage.
func published(err error) error {
	for _, key := range []string{"publish.stranger", "publish.stranger-replaced", "publish.other-shop", "publish.no-such-way", "publish.onto-itself"} {
		if publish.IsFault(err, key) {
			return wrongUsage(err)
		}
	}
	var refused *output.Refusal
	if errors.As(err, &refused) {
		return wrongUsage(err)
	}
	var o *outcome
	if errors.As(err, &o) {
		return err
	}
	return &outcome{fault, err}
}

// A madeSite is the site that stands in a folder.
type madeSite struct {
	delivery.Site
	parent *rooted.FS
	name   string
}

// site makes the site, or takes the one that stands there where it is only looked at.
func (p publishing) site(folder *rooted.FS, dir string, s streams) (made madeSite, err error) {
	if made.parent, made.name, err = openPlace(dir, p.out); err != nil {
		return made, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, made.parent.Close())
		}
	}()
	if p.check {
		made.Site, err = delivery.Standing(folder, made.parent, made.name, words)
	} else {
		o := generator.Options{Today: today(), Program: program(), Site: inside(folder, made.parent, made.name), Words: words}
		bar := newBar(s.err)
		if !p.json {
			o.Progress = bar.show
		}
		var found []logbook.Problem
		made.Site, found, err = delivery.Make(folder, made.parent, made.name, o)
		bar.clear()
		if len(found) > 0 {
			return made, p.problems(found, s)
		}
	}
	if errors.Is(err, output.ErrNoSite) {
		return made, wrongUsage(errors.New(words.Say("publish.no-site", "out", p.out)))
	} else if err != nil {
		return made, placed(err)
	}
	return made, nil
}

func (p publishing) problems(found []logbook.Problem, s streams) error {
	if !p.json {
		return problemsFirst(s, found, "command.not-made")
	}
	if err := writeJSON(s.out, publishJSON{Problems: toJSON(found)}); err != nil {
		return err
	}
	return &outcome{status: problems}
}

// destination is where the site goes: what the command line says, or shop.md.
func (p publishing) destination(shop *logbook.Shop, dir string) (logbook.Destination, error) {
	to := delivery.Destination(shop, dir)
	if p.to != "" {
		var wrong string
		if to, wrong = logbook.ParseDestination(p.to); wrong != "" {
			return to, wrongUsage(errors.New(words.Say("publish.bad-to", "wrong", words.Say(wrong, "read", p.to), "mend", words.Say(wrong+".mend"))))
		}
	}
	if to.None() {
		return to, wrongUsage(errors.New(words.Say("publish.nowhere")))
	}
	return to, nil
}

// opener connects to the far end, as often as a run has to.
func (p publishing) opener(to logbook.Destination, site madeSite, dir string, s streams) func(context.Context) (publish.FarEnd, error) {
	if to.URL == nil {
		return func(context.Context) (publish.FarEnd, error) {
			return delivery.OpenFolder(to.Folder, dir, filepath.Join(site.parent.Dir(), site.name), p.dryRun)
		}
	}
	asked := newSecrets(s)
	o := delivery.FarEnd(site.Shop, farend.Options{Secret: asked.get})
	if p.fingerprint != "" {
		o.Fingerprint = p.fingerprint
	}
	if asked.ask.interactive {
		o.Trust = func(host, kind, fingerprint string) bool {
			fmt.Fprintln(s.err, printable(words.Say("publish.trust", "host", host, "kind", kind, "fingerprint", fingerprint)))
			return asked.ask.yes(words.Say("publish.trust-ask"))
		}
	}
	return func(ctx context.Context) (publish.FarEnd, error) {
		far, err := farend.Open(ctx, to.URL, o)
		if err == nil {
			asked.keep()
		}
		return far, err
	}
}

func (p publishing) options(to logbook.Destination, say *publishTalk) publish.Options {
	o := publish.Options{DryRun: p.dryRun, MoveIn: p.moveIn, AtOnce: p.atOnce, Thorough: p.thorough, Who: delivery.Who(words), Wait: delivery.WaitForOther}
	ask := newAsker(say.s)
	if ask.interactive && !p.json {
		o.Ask = func(plan *publish.Plan) bool {
			for _, line := range delivery.Strangers(plan, words) {
				fmt.Fprintln(say.s.err, oneLine(line))
			}
			return ask.yes(words.Say("publish.move-in-ask", "to", to))
		}
	}
	o.Broken = func(_ error, pause time.Duration) {
		say.hint(words.Count("publish.again", int(pause.Seconds())))
	}
	o.Waiting = func(who string) { say.hint(words.Say("publish.waiting", "who", who)) }
	if !p.json {
		say.bar = newTransfer(say.s.err)
		o.Progress = say.bar.show
	}
	return o
}

// look reads the site as the world does.
func (p publishing) look(ctx context.Context, site madeSite, changed []string, say *publishTalk) error {
	if site.Shop.Web == "" {
		say.hint(words.Say("publish.no-web"))
		return say.end()
	}
	wait := 5 * time.Second // some hosts take a moment
	if p.check {
		wait = 0
		for _, f := range site.Files {
			changed = append(changed, f.Path)
		}
		slices.Sort(changed)
	}
	report, err := visit.Visit{Web: site.Shop.Web, Files: site.Files, Changed: changed, Wait: wait}.Look(ctx)
	if err != nil {
		return &outcome{fault, publish.NewFault(err, "publish.stopped")}
	}
	say.world(site.Shop.Web, report)
	return say.end()
}
