package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"os/user"
	"path"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/afero"
	"github.com/spf13/cobra"

	"asleft/generator"
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

// waitForOther is how long to wait for another publisher.
const waitForOther = 10 * time.Minute

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
	to, err := p.destination(site.shop, dir)
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
	result, err := publish.Bring(ctx, far, site.toBring(), options)
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
	for _, key := range []string{"publish.stranger", "publish.stranger-replaced", "publish.other-shop", "publish.no-such-way"} {
		if publish.Says(err, key) {
			return wrongUsage(err)
		}
	}
	var o *outcome
	if errors.As(err, &o) {
		return err
	}
	return &outcome{fault, err}
}

// A madeSite is the site that stands in a folder.
type madeSite struct {
	shop   *logbook.Shop
	parent *rooted.FS
	name   string
	files  []output.File
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
	if !p.check {
		o := generator.Options{Today: today(), Program: program(), Site: inside(folder, made.parent, made.name), Words: words}
		bar := newBar(s.err)
		if !p.json {
			o.Progress = bar.show
		}
		_, r, err := generator.Writeup(folder, made.parent, made.name, o)
		bar.clear()
		if err != nil {
			return made, placed(err)
		}
		if len(r.Problems) > 0 {
			return made, p.problems(r.Problems, s)
		}
	}
	// Of the shop only shop.md matters here; a run that made nothing new has read none.
	if made.shop, _, err = logbook.Read(folder, logbook.Options{Words: words, Only: map[string]bool{}}); made.shop == nil {
		return made, status(err)
	}
	if made.files, err = output.Files(made.parent, made.name); errors.Is(err, output.ErrNoSite) {
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

func (m madeSite) toBring() publish.Site {
	return publish.Site{
		Owner: publish.Owner{Shop: m.shop.Name, Web: m.shop.Web},
		Files: m.files,
		Read:  func(p string) ([]byte, error) { return afero.ReadFile(m.parent, path.Join(m.name, p)) },
	}
}

// destination is where the site goes: what the command line says, or shop.md.
func (p publishing) destination(shop *logbook.Shop, dir string) (logbook.Destination, error) {
	to := shop.Publish.To
	if p.to != "" {
		var wrong string
		if to, wrong = logbook.ParseDestination(p.to); wrong != "" {
			return to, wrongUsage(errors.New(words.Say("publish.bad-to", "wrong", words.Say(wrong, "read", p.to), "mend", words.Say(wrong+".mend"))))
		}
	} else if to.Folder != "" && !filepath.IsAbs(to.Folder) {
		to.Folder = filepath.Join(dir, to.Folder) // what shop.md says is said from where it lies
	}
	if to.None() {
		return to, wrongUsage(errors.New(words.Say("publish.nowhere")))
	}
	return to, nil
}

// opener connects to the far end, as often as a run has to.
func (p publishing) opener(to logbook.Destination, site madeSite, dir string, s streams) func(context.Context) (publish.FarEnd, error) {
	if to.URL == nil {
		return func(context.Context) (publish.FarEnd, error) { return p.openFolder(to.Folder, site, dir) }
	}
	given := site.shop.Publish
	asked := newSecrets(s)
	o := farend.Options{
		Secret: asked.get, KeyFile: given.Key, Fingerprint: given.Fingerprint, Region: given.Region, HostStyle: given.HostStyle, Plain: given.Plain,
	}
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

// openFolder opens a folder that the site goes to. The last part of its path is made.
func (p publishing) openFolder(name string, site madeSite, dir string) (publish.FarEnd, error) {
	if err := output.CheckPlace(dir, name); err != nil {
		return nil, placed(err)
	}
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) && p.dryRun {
		if _, err := os.Stat(filepath.Dir(filepath.Clean(name))); err == nil {
			return farend.Folder(afero.NewMemMapFs(), nil), nil // as empty as it would be
		}
	}
	if err := os.Mkdir(name, 0o755); err != nil && !errors.Is(err, fs.ErrExist) { //nolint:gosec // a site is for all
		if errors.Is(err, fs.ErrNotExist) {
			return nil, publish.NewFault(err, "publish.no-folder", "dir", name)
		}
		return nil, err
	}
	here, err := os.Stat(filepath.Join(site.parent.Dir(), site.name))
	if err != nil {
		return nil, err
	}
	for at := filepath.Clean(name); ; at = filepath.Dir(at) {
		if there, err := os.Stat(at); err == nil && os.SameFile(here, there) {
			return nil, wrongUsage(errors.New(words.Say("publish.onto-itself", "dir", name)))
		}
		if filepath.Dir(at) == at {
			break
		}
	}
	disk, err := rooted.Open(name)
	if err != nil {
		return nil, &outcome{fault, fmt.Errorf("%s: %w", words.Say("command.cannot-open", "dir", name), err)}
	}
	return farend.Folder(disk, disk.Close), nil
}

func (p publishing) options(to logbook.Destination, say *publishTalk) publish.Options {
	o := publish.Options{DryRun: p.dryRun, MoveIn: p.moveIn, AtOnce: p.atOnce, Thorough: p.thorough, Who: whoIsThis(), Wait: waitForOther}
	ask := newAsker(say.s)
	if ask.interactive && !p.json {
		o.Ask = func(plan *publish.Plan) bool {
			for _, line := range strangerLines(plan) {
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

func strangerLines(plan *publish.Plan) (lines []string) {
	if plan.Other != nil {
		lines = append(lines, words.Say("publish.ask-other", "shop", plan.Other.Shop, "web", plan.Other.Web))
	}
	if len(plan.Replaced) > 0 {
		lines = append(lines, words.Say("publish.ask-replaced", "files", publish.Several(plan.Replaced)))
	}
	if len(plan.Left) > 0 {
		lines = append(lines, words.Say("publish.ask-left", "files", publish.Several(plan.Left)))
	}
	return lines
}

// whoIsThis names this run for another that has to wait for it.
func whoIsThis() string {
	name, host := "?", "?"
	if u, err := user.Current(); err == nil {
		name = u.Username
	}
	if h, err := os.Hostname(); err == nil {
		host = h
	}
	return words.Say("publish.who", "name", name, "computer", host)
}

// look reads the site as the world does.
func (p publishing) look(ctx context.Context, site madeSite, changed []string, say *publishTalk) error {
	if site.shop.Web == "" {
		say.hint(words.Say("publish.no-web"))
		return say.end()
	}
	wait := 5 * time.Second // some hosts take a moment
	if p.check {
		wait = 0
		for _, f := range site.files {
			changed = append(changed, f.Path)
		}
		slices.Sort(changed)
	}
	report, err := visit.Visit{Web: site.shop.Web, Files: site.files, Changed: changed, Wait: wait}.Look(ctx)
	if err != nil {
		return &outcome{fault, publish.NewFault(err, "publish.stopped")}
	}
	say.world(site.shop.Web, report)
	return say.end()
}
