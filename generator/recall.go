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
	"asleft/generator/page"
	"asleft/generator/photo"
	"asleft/generator/press"
	"asleft/generator/sight"
)

// ErrMoved is in the error of a run during which the shop folder changed: the
// facts may be from before and from after, and no site is made of such.
var ErrMoved = errors.New("changed while the shop was being read; run this again")

// The facts of a run's memory.
const (
	factRun  = "run"  // what it depended on besides the two folders
	factShop = "shop" // the shop folder's digest
	factRest = "rest" // that of all in it but the machines' folders
	factSite = "site" // the site's
	factMade = "made" // what it made
)

// A recall is what a run knows of the one before, and what it leaves to the
// next: a hidden file beside the site. Without Options.Program it knows nothing
// and leaves nothing.
type recall struct {
	folder, parent afero.Fs
	site           string // the site's name in parent
	run            string // factRun of this run; "" for one that is not remembered
	own            func(name string) bool
	seen           bool                   // whether the shop folder could be looked at as the run began
	shop           sight.Sight            // what it looked like
	machines       map[string]sight.Sight // the machines' folders in it, by key
	rest           sight.Sight            // all else in it
	past           sight.Memory
}

func newRecall(folder, parent afero.Fs, site string, o Options) *recall {
	c := &recall{folder: folder, parent: parent, site: site, own: notTheShops(folder, o.Site)}
	if run, err := runOf(o); err == nil { // a theme that cannot be read is told of by whoever needs it
		c.run = run
	}
	if c.run != "" {
		c.past = sight.Load(parent, c.file())
	}
	shop, err := sight.Look(folder, ".", c.own)
	c.shop, c.seen = shop, err == nil // what cannot be looked at is told of by the reading
	c.machines = shop.Folders(machinesFolder)
	c.rest = shop.Part(func(name string) bool { return !strings.HasPrefix(name, machinesFolder+"/") || c.stray(name) })
	return c
}

// machinesFolder holds a folder for each machine.
const machinesFolder = "machines"

// stray tells whether a path directly below the machines' folder is none of
// theirs.
func (c *recall) stray(name string) bool {
	key, _, _ := strings.Cut(strings.TrimPrefix(name, machinesFolder+"/"), "/")
	_, is := c.machines[key]
	return !is
}

func (c *recall) file() string { return press.Beside(c.site, "seen") }

// notTheShops tells what in the shop folder is never read by a run: its sites,
// with what stands beside them, and what a keeper of versions has there.
func notTheShops(folder afero.Fs, site string) func(name string) bool {
	return func(name string) bool {
		dir, base := path.Split(name)
		return name == site || name == ".git" || press.IsBeside(base) || dir == "" && press.IsSite(folder, name)
	}
}

// overlooks tells whether a theme of the shop's own lies where nobody looks for
// changes.
func (c *recall) overlooks(theme string) bool {
	for _, at := range []string{theme, path.Join("themes", theme)} {
		for at = path.Clean(at); at != "." && at != "/"; at = path.Dir(at) {
			if c.own(at) {
				return true
			}
		}
	}
	return false
}

// runOf is one value for all that a run depends on besides the shop folder and
// the present site; "" where there is no telling.
func runOf(o Options) (string, error) {
	if o.Program == "" || o.Words != nil {
		return "", nil
	}
	h := sha256.New()
	fmt.Fprintf(h, "%q %q\n", o.Program, o.Today)
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

// textSize is how much text the shop's logs hold, in bytes.
func (c *recall) textSize() (size int64) {
	for _, m := range c.shop.Marks() {
		if strings.HasSuffix(m.Path, ".md") {
			size += m.Size
		}
	}
	return size
}

// unchanged is what the last run made, if everything is still as it was then:
// the shop, the site, the program and the day.
func (c *recall) unchanged() (Made, bool) {
	f := c.past.Facts
	if !c.seen || c.run == "" || f[factRun] != c.run || f[factShop] == "" || f[factShop] != c.shop.Digest() ||
		!press.Idle(c.parent, c.site) {
		return Made{}, false
	}
	if _, ok := c.siteAsLeft(); !ok {
		return Made{}, false
	}
	var m Made
	if _, err := fmt.Sscan(f[factMade], &m.Machines, &m.Entries, &m.Photos, &m.Files, &m.Bytes); err != nil {
		return Made{}, false
	}
	m.Kept = m.Files
	return m, true
}

// siteAsLeft is the site as it is, if nobody has touched it since the last run.
func (c *recall) siteAsLeft() (sight.Sight, bool) {
	if c.run == "" || c.past.Facts[factSite] == "" {
		return sight.Sight{}, false
	}
	s, err := sight.Look(c.parent, c.site, nil)
	return s, err == nil && s.Digest() == c.past.Facts[factSite]
}

// photo is what a photo of the shop is, if its file is the one that an earlier
// run of this program looked at.
func (c *recall) photo(name string) (page.Photo, bool) {
	note, known := c.past.Notes[c.shop.State(name)]
	if !known || c.run == "" {
		return page.Photo{}, false
	}
	ph, err := parsePhoto(note)
	return ph, err == nil
}

// photoNote is a photo on one line, such as "5f0c 1600x1200 800x600".
func photoNote(ph page.Photo) string {
	note := ph.Key
	for _, s := range ph.Sizes {
		note += fmt.Sprintf(" %dx%d", s.Width, s.Height)
	}
	return note
}

func parsePhoto(note string) (page.Photo, error) {
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

// moved is an error where the shop folder is not as it was when the run began.
func (c *recall) moved() error {
	if !c.seen {
		return nil
	}
	now, err := sight.Look(c.folder, ".", c.own)
	if err != nil {
		return fmt.Errorf("looking at the shop folder again: %w", err)
	}
	moved := now.Moved(c.shop, func(name string) bool { return logbook.Passing(path.Base(name)) })
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
func (c *recall) blame(err error) error {
	if moved := c.moved(); moved != nil {
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
func (c *recall) saveWhole(r *Reading, whole []string) {
	if c.run == "" || !c.seen || len(whole) == 0 {
		return
	}
	next := sight.Memory{Facts: c.past.Facts, Notes: map[string]string{}}
	maps.Copy(next.Notes, c.past.Notes)
	for _, name := range whole {
		if state := c.shop.State(name); state != "" {
			next.Notes[state] = photoNote(r.Photos[name])
		}
	}
	_ = next.Save(c.parent, c.file()) // it costs the next run time and nothing else
}

// save leaves this run to the next. That it cannot be saved costs the next run
// time and nothing else.
func (c *recall) save(made Made, r *Reading, run *press.Run) {
	done := time.Now()
	if c.run == "" || !c.seen || c.overlooks(r.Shop.Theme) {
		return
	}
	next := sight.Memory{Notes: map[string]string{}, Facts: map[string]string{
		factRun: c.run, factShop: c.shop.Digest(), factRest: c.rest.Digest(),
		factMade: fmt.Sprint(made.Machines, made.Entries, made.Photos, made.Files, made.Bytes),
	}}
	for name, ph := range r.site.AllPhotos() {
		if state := c.shop.State(name); state != "" {
			next.Notes[state] = photoNote(ph)
		}
	}
	c.noteMachines(next.Notes, r)
	if made.Written+made.Removed > 0 {
		time.Sleep(time.Until(done.Add(tick)))
	}
	if s, err := sight.Look(c.parent, c.site, nil); err == nil && run.Left(s) {
		next.Facts[factSite] = s.Digest()
	}
	_ = next.Save(c.parent, c.file())
}
