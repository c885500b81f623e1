package generator

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/page"
	"asleft/generator/photo"
)

// ErrMoved is in the error of a run during which the shop folder changed: the
// facts may be from before and from after, and no site is made of such.
var ErrMoved = errors.New("changed while the shop was being read; run this again")

// The facts of a build cache.
const (
	factRun  = "run"  // what the run depended on besides the two folders and the day
	factDay  = "day"  // a day that no date of the shop lies after
	factShop = "shop" // the shop folder's digest
	factRest = "rest" // that of all in it but the machines' folders
	factSite = "site" // the site's
	factMade = "made" // what it made
)

// A previous is what a run knows of the one before, and what it leaves to the
// next: the build cache, a hidden file beside the site. Without Options.Program it
// knows nothing and leaves nothing.
type previous struct {
	folder, parent afero.Fs
	site           string // the site's name in parent
	run            string // factRun of this run; "" for one that is not remembered
	today          logbook.Date
	own            func(name string) bool
	seen           bool                       // whether the shop folder could be looked at as the run began
	shop           output.Snapshot            // what it looked like
	machines       map[string]output.Snapshot // the machines' folders in it, by key
	rest           output.Snapshot            // all else in it
	cache          output.Cache
}

func newPrevious(folder, parent afero.Fs, site string, o Options) *previous {
	c := &previous{folder: folder, parent: parent, site: site, today: o.Today, own: notTheShops(folder, o.Site)}
	if run, err := runOf(o); err == nil { // a theme that cannot be read is told of by whoever needs it
		c.run = run
	}
	if c.run != "" {
		c.cache = output.LoadCache(parent, c.file())
	}
	shop, err := output.TakeSnapshot(folder, ".", c.own)
	c.shop, c.seen = shop, err == nil // what cannot be looked at is told of by the reading
	c.machines = shop.Folders(machinesFolder)
	c.rest = shop.Part(func(name string) bool { return !strings.HasPrefix(name, machinesFolder+"/") || c.stray(name) })
	return c
}

// machinesFolder holds a folder for each machine.
const machinesFolder = "machines"

// stray tells whether a path directly below the machines' folder is none of
// theirs.
func (c *previous) stray(name string) bool {
	key, _, _ := strings.Cut(strings.TrimPrefix(name, machinesFolder+"/"), "/")
	_, is := c.machines[key]
	return !is
}

func (c *previous) file() string { return output.Beside(c.site, "cache") }

// notTheShops tells what in the shop folder is never read by a run: its sites,
// with what stands beside them, and what a keeper of versions has there.
func notTheShops(folder afero.Fs, site string) func(name string) bool {
	return func(name string) bool {
		dir, base := path.Split(name)
		return name == site || name == ".git" || output.IsBeside(base) || dir == "" && output.IsSite(folder, name)
	}
}

// overlooks tells whether a theme of the shop's own lies where nobody looks for
// changes.
func (c *previous) overlooks(theme string) bool {
	for _, at := range []string{theme, path.Join("themes", theme)} {
		for at = path.Clean(at); at != "." && at != "/"; at = path.Dir(at) {
			if c.own(at) {
				return true
			}
		}
	}
	return false
}

// dayHolds tells whether the day of this run makes no difference to what is known.
// All that the day decides is whether a date lies in the future, and there was none
// after factDay; so there is none after a later day either.
func (c *previous) dayHolds() bool {
	day := logbook.Date(c.cache.Facts[factDay])
	return c.today == "" || day != "" && !c.today.Before(day)
}

// runOf is one value for all that a run depends on besides the shop folder, the
// present site and the day; "" where there is no telling.
func runOf(o Options) (string, error) {
	if o.Program == "" || o.Words != nil {
		return "", nil
	}
	h := sha256.New()
	fmt.Fprintf(h, "%q\n", o.Program)
	if o.Theme == nil {
		return hex.EncodeToString(h.Sum(nil)), nil
	}
	theme, err := readTheme(o.Theme, o.words())
	if err != nil {
		return "", err
	}
	err = afero.Walk(theme, ".", func(name string, info fs.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		data, err := afero.ReadFile(theme, name)
		fmt.Fprintf(h, "%q %x\n", name, sha256.Sum256(data))
		return err
	})
	return hex.EncodeToString(h.Sum(nil)), err
}

// unchanged is what the last run made, if everything is still as it was then:
// the shop, the site and the program.
func (c *previous) unchanged() (Made, bool) {
	f := c.cache.Facts
	if !c.seen || c.run == "" || f[factRun] != c.run || !c.dayHolds() || f[factShop] == "" || f[factShop] != c.shop.Digest() ||
		!output.Idle(c.parent, c.site) {
		return Made{}, false
	}
	if _, ok := c.lookAtSite(); !ok {
		return Made{}, false
	}
	var m Made
	if _, err := fmt.Sscan(f[factMade], &m.Machines, &m.Entries, &m.Photos, &m.Files, &m.Bytes); err != nil {
		return Made{}, false
	}
	m.Kept = m.Files
	return m, true
}

// lookAtSite is what the site looks like, and whether nobody has touched it since
// the last run.
func (c *previous) lookAtSite() (s output.Snapshot, intact bool) {
	if c.run == "" {
		return s, false
	}
	s, err := output.TakeSnapshot(c.parent, c.site, nil)
	return s, err == nil && c.cache.Facts[factSite] != "" && s.Digest() == c.cache.Facts[factSite]
}

// photos are the photos that earlier runs of this program have decoded, by the key
// of their files.
func (c *previous) photos() map[string]page.Photo {
	all := map[string]page.Photo{}
	for key, note := range c.cache.Notes {
		if strings.HasPrefix(note, "{") {
			continue // of a machine
		}
		if ph, err := parsePhotoNote(note); err == nil {
			all[key] = ph
		}
	}
	return all
}

// photoNote is a photo on one line, such as "5f0c 1600x1200 800x600".
func photoNote(ph page.Photo) string {
	note := ph.Key
	for _, s := range ph.Sizes {
		note += fmt.Sprintf(" %dx%d", s.Width, s.Height)
	}
	return note
}

func parsePhotoNote(note string) (page.Photo, error) {
	words := strings.Fields(note)
	if len(words) < 2 {
		return page.Photo{}, errors.New("a key and sizes were expected")
	}
	ph := page.Photo{Key: words[0]}
	for _, word := range words[1:] {
		width, height, _ := strings.Cut(word, "x")
		w, errW := strconv.Atoi(width)
		h, errH := strconv.Atoi(height)
		if err := errors.Join(errW, errH); err != nil {
			return ph, err
		}
		ph.Sizes = append(ph.Sizes, photo.Size{Width: w, Height: h})
	}
	return ph, nil
}

// moved is an error where the shop folder is not as it was when the run began, as
// far as the reading read it; nil is a reading of all of it.
func (c *previous) moved(r *Reading) error {
	if !c.seen {
		return nil
	}
	skip := c.own
	if r != nil && len(r.others) > 0 {
		unread := map[string]bool{}
		for _, o := range r.others {
			unread[machinesFolder+"/"+o.Key] = true
		}
		skip = func(name string) bool { return unread[name] || c.own(name) }
	}
	now, err := output.TakeSnapshot(c.folder, ".", skip)
	if err != nil {
		return fmt.Errorf("looking at the shop folder again: %w", err)
	}
	was := c.shop.Part(func(name string) bool {
		key, below, _ := strings.Cut(strings.TrimPrefix(name, machinesFolder+"/"), "/")
		return !skip(name) && !(below != "" && skip(machinesFolder+"/"+key))
	})
	moved := now.Changed(was, func(name string) bool { return logbook.Passing(path.Base(name)) })
	if len(moved) == 0 {
		return nil
	}
	if len(moved) > 3 {
		moved = append(moved[:3], "and more")
	}
	return fmt.Errorf("%s %w", strings.Join(moved, ", "), ErrMoved)
}

// blame is the error of a run that came to nothing: where the shop folder
// changed meanwhile, that, for a file that was read half written has problems
// that are none.
func (c *previous) blame(err error) error {
	if moved := c.moved(nil); moved != nil {
		return moved
	}
	return err
}

// tick is how long to wait for a disk's clock to go on, so that what is written
// later shows a later time.
const tick = 25 * time.Millisecond

// saveWhole leaves to the next run which photos were decoded by one that made no
// site, beside all that was known before: to mend a word must not cost the decoding
// of all photos again.
func (c *previous) saveWhole(r *Reading, whole []string) {
	if c.run == "" || !c.seen || len(whole) == 0 {
		return
	}
	next := output.Cache{Facts: c.cache.Facts, Notes: map[string]string{}}
	maps.Copy(next.Notes, c.cache.Notes)
	for _, name := range whole {
		if state := c.shop.Key(name); state != "" {
			next.Notes[state] = photoNote(r.Photos[name])
		}
	}
	_ = next.Save(c.parent, c.file()) // it costs the next run time and nothing else
}

// save leaves this run to the next: what the site looked like before it, and the
// files that it changed there. That it cannot be saved costs the next run time and
// nothing else.
func (c *previous) save(made Made, r *Reading, site output.Snapshot, changed []string) {
	done := time.Now()
	if c.run == "" || !c.seen || c.overlooks(r.Shop.Theme) {
		return
	}
	next := output.Cache{Notes: map[string]string{}, Facts: map[string]string{
		factRun: c.run, factDay: string(c.today), factShop: c.shop.Digest(), factRest: c.rest.Digest(),
		factMade: fmt.Sprint(made.Machines, made.Entries, made.Photos, made.Files, made.Bytes),
	}}
	for name, ph := range r.site.AllPhotos() {
		if key := c.shop.Key(name); key != "" {
			next.Notes[key] = photoNote(ph)
		}
	}
	c.noteMachines(next.Notes, r)
	if len(changed) > 0 {
		time.Sleep(time.Until(done.Add(tick)))
	}
	if after, err := site.After(c.parent, c.site, changed, done); err == nil {
		next.Facts[factSite] = after.Digest()
	}
	_ = next.Save(c.parent, c.file())
}
