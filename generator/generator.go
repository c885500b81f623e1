// Package generator is the conductor: it has a shop folder read, judged,
// composed into pages and set down as a site, by the packages below it.
//
// Read is the first half (facts, totals, reports and every problem), Set the
// second, and Writeup is both, onto a disk. None changes anything in the shop's
// logs.
package generator

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/benchtest"
	"asleft/generator/catalog"
	"asleft/generator/condition"
	"asleft/generator/handover"
	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/page"
	"asleft/generator/rooted"
	"asleft/generator/tally"
	"asleft/themes"
)

// Options are what a run depends on besides the shop folder. The zero value
// works.
type Options struct {
	// Today is the day after which a date is in the future; empty: any date goes.
	Today logbook.Date
	// Words is the catalog; nil means English.
	Words *catalog.Catalog
	// Theme is the theme's folder; nil means the one that shop.md names, and
	// where it names none, the built-in one.
	Theme fs.FS
	// ThemeDir is where Theme stands, for messages.
	ThemeDir string
	// Progress is told how many of the photos are done; nil for nobody.
	Progress func(done, of int)
	// Album remembers the photos from one Read to the next, for whoever reads
	// the same folder again and again; nil for a single time.
	Album *Album
	// Program names this very build of the program, such as the time and size
	// of its file. Writeup then leaves a build cache beside the site, and the next
	// run of the same build does over only what has changed. Empty: it does not.
	Program string
	// Site is where the site stands in the shop folder, with slashes; empty
	// where it stands elsewhere.
	Site string
	// Timings is told how long each stage of a run took; nil for nobody.
	Timings func(Stage, time.Duration)

	watch   *stopwatch
	partial *partialRun       // which machines to read; nil for all
	one     string            // the one machine to read; empty for all
	names   map[string]string // with one: those of all machines, by key
	lean    bool              // the reports are made when they are needed, and no gaps are told
}

// builtInTheme is the theme of a shop that names none.
const builtInTheme = "jobcard"

// A Reading is a shop folder read and judged.
type Reading struct {
	Shop    *logbook.Shop
	Count   *tally.Shop
	Reports []*condition.Report // one for each of Shop.Machines
	// Words is the catalog with dates as the shop's language writes them.
	Words *catalog.Catalog
	// Problems have to be mended before a site can be made; sorted.
	Problems []logbook.Problem
	// Gaps are what the logs leave open.
	Gaps []logbook.Problem
	// Photos are the photos that the site shows, by their paths in the folder.
	Photos map[string]page.Photo
	// Chain are the reports that the shop has sealed.
	Chain *handover.Chain

	lean   bool                          // it tells no gaps
	judge  func(n int) *condition.Report // of the n-th of Shop.Machines
	others []page.Outline                // of the machines that were not read
	site   *page.Site                    // what was set down last
}

// Read reads and judges a shop folder. The error is what no editing of the
// logs mends (see logbook.Read); where some files could be read all the same,
// the Reading is what they say, with their problems.
func Read(folder afero.Fs, o Options) (*Reading, error) {
	words := o.words()
	from := logbook.Options{Today: o.Today, Words: words, LeaveBodies: o.lean}
	r := &Reading{}
	if o.partial != nil {
		r.others = o.partial.others()
		from.Only, from.Names = o.partial.read, o.partial.otherNames()
	}
	if o.one != "" {
		from.Only, from.Names = map[string]bool{o.one: true}, o.names
	}
	shop, problems, err := logbook.Read(folder, from)
	o.watch.lap(StageRead)
	if shop == nil {
		return nil, fmt.Errorf("reading the shop: %w", err)
	}
	words = words.In(shop.Language)
	r.Shop, r.Problems, r.Words = shop, problems, words
	count, wrong := tally.Count(shop, words)
	r.Count = count
	r.judge = func(n int) *condition.Report {
		tests, _ := judgeTests(shop, shop.Machines[n], words)
		return condition.Judge(shop, shop.Machines[n], count.Machines[n], tests, words)
	}
	wrong = append(wrong, wrongTests(shop, words)...)
	if !o.lean {
		r.keepReports()
	}
	o.watch.lap(StageJudge)
	photos, unseen, photoErr := lookAtPhotos(folder, shop, o.Album, words)
	o.watch.lap(StagePhotos)
	r.Photos = photos
	themeless, themeErr := noTheme(folder, shop, o)
	r.lean = o.lean
	var sealedErr error
	wrong = slices.Concat(wrong, unseen, themeless)
	if o.one == "" {
		wrong = append(wrong, r.oldNames()...)
		sealedErr = r.readChain(folder, words, o.Today)
	}
	if sealedErr == nil && r.Chain != nil {
		wrong = append(wrong, r.Chain.Orphans(r.has, words)...)
	}
	shop.Pinpoint(wrong)
	r.Problems = logbook.Sort(append(r.Problems, wrong...))
	r.Gaps = logbook.Sort(r.Gaps)
	if err := errors.Join(err, photoErr, themeErr, sealedErr); err != nil {
		return r, fmt.Errorf("reading the shop: %w", err)
	}
	return r, nil
}

// readChain reads the sealed reports. Where their chain does not hold is a gap:
// no editing of the logs mends it, so it must not stop the shop for good.
func (r *Reading) readChain(folder afero.Fs, words *catalog.Catalog, today logbook.Date) (err error) {
	if r.Chain, err = handover.ReadChain(folder, words, today); err != nil {
		return fmt.Errorf("the sealed reports: %w", err)
	}
	listed, copied, err := r.missed(folder)
	if err != nil {
		return fmt.Errorf("the sealed reports: %w", err)
	}
	gaps := func(breaks []handover.Break, mend string) {
		for _, b := range breaks {
			r.Gaps = append(r.Gaps, logbook.Problem{Place: logbook.Place{File: b.File}, Says: b.Says, Mend: words.Say(mend)})
		}
	}
	gaps(slices.Concat(r.Chain.Breaks, listed), "chain.mend")
	gaps(copied, "missed.copy.mend")
	return nil
}

// missed are the sealed files that are gone and that only a site or a copy still
// shows. What a site is made of cannot depend on the site before, so a run that
// makes one and tells no gaps does not ask.
func (r *Reading) missed(folder afero.Fs) (listed, copied []handover.Break, err error) {
	if r.lean {
		return nil, nil, nil
	}
	return r.Chain.Missed(folder)
}

// has tells whether the shop has a machine whose folder is called that, or was.
func (r *Reading) has(key string) bool {
	return slices.ContainsFunc(r.Shop.Machines, func(m *logbook.Machine) bool { return m.Key == key || slices.Contains(m.Was, key) }) ||
		slices.ContainsFunc(r.others, func(o page.Outline) bool { return o.Key == key || slices.Contains(o.Was, key) })
}

// oldNames are what the folders of machines were called, where that is the name of
// another one: what was sealed of the one would be held against the other.
func (r *Reading) oldNames() []logbook.Problem {
	all := slices.Clone(r.others)
	for _, m := range r.Shop.Machines {
		all = append(all, page.Outline{Key: m.Key, Was: m.Was})
	}
	slices.SortFunc(all, func(a, b page.Outline) int { return strings.Compare(a.Key, b.Key) })
	is, was := map[string]bool{}, map[string]string{}
	for _, o := range all {
		is[o.Key] = true
	}
	var wrong []logbook.Problem
	for _, o := range all {
		for n, name := range o.Was {
			at := logbook.Place{File: "machines/" + o.Key + "/machine.md", Line: 1, Field: fmt.Sprintf("was[%d]", n)}
			say := func(key string, pairs ...any) {
				wrong = append(wrong, logbook.ProblemAt(r.Words, at, key, pairs...))
			}
			switch other, taken := was[name]; {
			case is[name]:
				say("problem.was-there", "key", name)
			case taken:
				say("problem.was-taken", "key", name, "other", other)
			default:
				was[name] = o.Key
			}
		}
	}
	return wrong
}

// sealed tells the site of the sealed reports.
func (r *Reading) sealed(site *page.Site, today logbook.Date) (err error) {
	site.Sealed = r.Chain.Public(site, today)
	for _, b := range r.Chain.Breaks {
		site.SealBreaks = append(site.SealBreaks, b.Says)
	}
	site.ShopKey, err = r.Chain.PublicKey()
	return err
}

// keepReports judges every machine and keeps what comes of it.
func (r *Reading) keepReports() {
	r.Reports = make([]*condition.Report, len(r.Shop.Machines))
	_ = each(len(r.Reports), func(n int) error { // none can fail
		r.Reports[n] = r.judge(n)
		return nil
	})
	gaps := append(condition.ShopGaps(r.Shop, r.Words), tally.Gaps(r.Shop, r.Words)...)
	r.Shop.Pinpoint(gaps)
	r.Gaps = append(r.Gaps, gaps...)
	for _, report := range r.Reports {
		r.Gaps = append(r.Gaps, condition.Gaps(r.Shop, report, r.Words)...)
	}
}

// wrongTests are the problems of all bench tests. What comes of the tests is not
// kept, because that of a large shop is a fifth as large as its logs; it is
// worked out again with each report.
func wrongTests(shop *logbook.Shop, words *catalog.Catalog) []logbook.Problem {
	wrong := make([][]logbook.Problem, len(shop.Machines))
	_ = each(len(wrong), func(n int) error { // none can fail
		_, wrong[n] = judgeTests(shop, shop.Machines[n], words)
		return nil
	})
	return slices.Concat(wrong...)
}

// judgeTests works out the bench tests of a machine.
func judgeTests(shop *logbook.Shop, m *logbook.Machine, words *catalog.Catalog) (tests []*benchtest.Outcome, wrong []logbook.Problem) {
	for _, e := range m.Entries {
		outcomes, found := benchtest.JudgeEntry(shop, m, e, words)
		tests, wrong = append(tests, outcomes...), append(wrong, found...)
	}
	return tests, append(wrong, condition.LeftOutMeasured(m, tests, words)...)
}

func (o Options) words() *catalog.Catalog {
	if o.Words == nil {
		return catalog.English
	}
	return o.Words
}

// Inspect is Read for whoever wants to be told all that is to be mended: it decodes
// the photos too, except for those that the last run that made a site there
// (Options.Site, in the folder) has decoded. It leaves nothing behind.
func Inspect(folder afero.Fs, o Options) (*Reading, error) {
	past := newPrevious(folder, folder, o.Site, o)
	o.Album = &Album{whole: past.photos()}
	r, err := Read(folder, o)
	if err != nil {
		return r, err
	}
	if _, err := r.tryPhotos(folder, o); err != nil {
		return r, fmt.Errorf("reading the shop: %w", err)
	}
	return r, nil
}

// Made is what a run made.
type Made struct {
	output.Result
	Machines, Entries, Photos int
}

// Writeup makes the site of a shop: in the folder parent, under that name. If
// the logs have problems, they are in the Reading and nothing is made; the
// site that was there before stays as it was, as it does after an error. Where
// everything is as the last run left it, nothing is read and the Reading is
// empty. The Reading of a Writeup has neither Reports nor Gaps.
func Writeup(folder, parent afero.Fs, name string, o Options) (made Made, r *Reading, err error) {
	o.watch, o.lean = newStopwatch(o.Timings), true
	past := newPrevious(folder, parent, name, o)
	made, same := past.unchanged()
	o.watch.lap(StageLook)
	if same {
		return made, &Reading{}, nil
	}
	if o.Album == nil {
		o.Album = &Album{whole: past.photos()}
	}
	r, partly := past.readPart(folder, o)
	if !partly {
		r, err = Read(folder, o)
	}
	if err == nil && len(r.Problems) > 0 {
		var whole []string
		if whole, err = r.tryPhotos(folder, o); err == nil {
			past.saveWhole(r, whole)
		}
	}
	if err != nil || len(r.Problems) > 0 {
		return made, r, past.blame(err)
	}
	w, err := output.Open(parent, name, patience)
	if err != nil {
		return made, r, fmt.Errorf("writing the site: %w", err)
	}
	defer func() {
		if e := w.Abort(); err == nil && e != nil {
			err = fmt.Errorf("clearing up: %w", e)
		}
	}()
	site, intact := past.lookAtSite()
	if intact {
		w.AssumeIntact()
	}
	if partly && !(intact && r.keep(w)) { // somebody has been at the site: all of it is made anew
		if r, err = Read(folder, o); err != nil || len(r.Problems) > 0 {
			return made, r, past.blame(err)
		}
	}
	if err := r.Compose(folder, w, o); err != nil || len(r.Problems) > 0 {
		return made, r, past.blame(err)
	}
	if err := past.moved(r); err != nil {
		return made, r, err
	}
	if made.Result, err = w.Commit(); err != nil {
		return made, r, fmt.Errorf("writing the site: %w", err)
	}
	made.count(r)
	o.watch.lap(StageSet)
	past.save(made, r, site, w.Changed())
	o.watch.lap(StageRemember)
	return made, r, nil
}

// patience is how long a run waits for another that has the site in hand: longer
// than any takes.
const patience = 30 * time.Minute

// count takes over from a reading what the site tells of.
func (m *Made) count(r *Reading) {
	all := r.site.Outlines()
	m.Machines, m.Photos = len(all), len(r.site.AllPhotos())
	for _, o := range all {
		m.Entries += len(o.Evenings)
	}
}

// An Output takes the files of a site. Put takes a finished one, whose data is
// lent to it and may be written over after it returns; Keep is asked for a photo
// before it is made, and keeps the one that is there, if it is. Both may be called
// from many goroutines at once.
type Output interface {
	Put(path string, data []byte) error
	Keep(path string) bool
}

// Compose composes the site of a reading without problems, photos first. A photo that
// only now turns out to be broken is added to the reading's problems, and then the
// pages are not composed.
func (r *Reading) Compose(folder afero.Fs, to Output, o Options) error {
	theme, err := r.Theme(folder, o)
	if err != nil {
		return err
	}
	if err := r.setPhotos(folder, to, o); err != nil || len(r.Problems) > 0 {
		return err
	}
	o.watch.lap(StageResize)
	glossary, err := catalog.Words()
	if err != nil {
		return fmt.Errorf("reading the glossary: %w", err)
	}
	glossary = benchtest.Glossary(glossary, catalog.English)
	site := r.Site()
	site.Glossary, site.Theme = glossary, theme
	site.Outline()
	if err := r.sealed(site, o.Today); err != nil {
		return fmt.Errorf("the sealed reports: %w", err)
	}
	if err := site.Compose(to.Put); err != nil {
		return fmt.Errorf("composing the site: %w", err)
	}
	o.watch.lap(StageCompose)
	r.site = site
	return nil
}

// Site is as much of a site as is known once the shop is read: what the facts of its
// machines and the texts about them are taken from.
func (r *Reading) Site() *page.Site {
	site := &page.Site{Shop: r.Shop, Others: r.others, Count: r.Count, Reports: r.Reports, Photos: r.Photos, Words: r.Words}
	if r.Reports == nil {
		site.Judge = r.judge
	}
	return site
}

// findTheme finds the theme and reads its files: the caller's, the one of that name
// in the program or in the shop's folder themes/, or a folder of the shop. It is nil
// where there is none; dir is where it stands, for messages.
func findTheme(folder afero.Fs, name string, o Options) (theme afero.Fs, dir string, err error) {
	words := o.words()
	if o.Theme != nil {
		theme, err = readTheme(o.Theme, words)
		return theme, o.ThemeDir, err
	}
	if !themeNamed(name) {
		return nil, "", &themeFault{".", words.Say("problem.theme-name", "read", name), words.Say("problem.theme-name.mend")}
	}
	if built := themes.Named(name); built != nil {
		theme, err = readTheme(built, words)
		return theme, "", err
	}
	for _, dir := range []string{path.Join("themes", name), name} {
		if at := linked(folder, dir); at != "" {
			return nil, at, &themeFault{".", words.Say("problem.theme-link"), words.Say("problem.theme-link.mend")}
		}
		if _, err := rooted.Lstat(folder, path.Join(dir, "style.css")); err == nil {
			theme, err = readTheme(newThemeFolder(folder, dir), words)
			return theme, dir, err
		}
	}
	return nil, "", nil
}

// themeNamed tells whether a theme's name stays inside of the shop's folder.
func themeNamed(name string) bool {
	return fs.ValidPath(name) && name != "." && !strings.ContainsAny(name, `\:`)
}

// themeName is the theme that shop.md names, else the built-in one.
func themeName(shop *logbook.Shop) string {
	if shop.Theme == "" {
		return builtInTheme
	}
	return shop.Theme
}

// noTheme is the problem of a theme that is nowhere, or of what stands in its folder.
func noTheme(folder afero.Fs, shop *logbook.Shop, o Options) ([]logbook.Problem, error) {
	name, words := themeName(shop), o.words()
	from, dir, err := findTheme(folder, name, o)
	wrong, mendable := themeProblem(shop.In("theme"), dir, err)
	switch {
	case mendable:
	case err != nil:
		return nil, fmt.Errorf("the theme %s: %w", name, err)
	case from != nil:
		return nil, nil
	default:
		wrong = logbook.Problem{Place: shop.In("theme"), Says: words.Say("problem.theme", "read", name), Mend: words.Say("problem.theme.mend")}
	}
	at := []logbook.Problem{wrong}
	shop.Pinpoint(at)
	return at, nil
}

// Theme is the theme that the shop's site is made with.
func (r *Reading) Theme(folder afero.Fs, o Options) (*page.Theme, error) {
	from, _, err := findTheme(folder, themeName(r.Shop), o)
	if err == nil && from == nil {
		err = fs.ErrNotExist
	}
	if err != nil {
		return nil, fmt.Errorf("the theme %s: %w", themeName(r.Shop), err)
	}
	theme, err := page.LoadTheme(afero.NewIOFS(from), r.Words)
	if err != nil {
		return nil, fmt.Errorf("loading the theme: %w", err)
	}
	return theme, nil
}
