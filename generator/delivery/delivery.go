// Package delivery is a run of publish without its terminal and without its page: it makes
// the site, finds the place that it goes to, and words what came of it. Asking and telling
// is for its callers, the command and the desk.
package delivery

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/afero"

	"asleft/generator"
	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/output"
	"asleft/generator/publish"
	"asleft/generator/publish/farend"
	"asleft/generator/rooted"
)

// WaitForOther is how long a run waits for another publisher.
const WaitForOther = 10 * time.Minute

// A Site is one that stands in a folder.
type Site struct {
	Shop   *logbook.Shop
	Files  []output.File
	parent afero.Fs
	name   string
}

// Make makes the site of a shop's folder under a name in another folder. Where the logs have
// problems, these are returned and no site.
func Make(folder, parent afero.Fs, name string, o generator.Options) (Site, []logbook.Problem, error) {
	_, r, err := generator.Writeup(folder, parent, name, o)
	if err != nil {
		return Site{}, nil, err
	}
	if len(r.Problems) > 0 {
		return Site{}, r.Problems, nil
	}
	s, err := Standing(folder, parent, name, o.Words)
	return s, nil, err
}

// Standing is the site as it stands there; output.ErrNoSite where there is none.
func Standing(folder, parent afero.Fs, name string, words *catalog.Catalog) (Site, error) {
	s := Site{parent: parent, name: name}
	// Of the shop only shop.md matters here; a run that made nothing new has read none.
	var err error
	if s.Shop, _, err = logbook.Read(folder, logbook.Options{Words: words, Only: map[string]bool{}}); s.Shop == nil {
		return s, err
	}
	s.Files, err = output.Files(parent, name)
	return s, err
}

// ToBring is the site as publish brings it.
func (s Site) ToBring() publish.Site {
	return publish.Site{
		Owner: publish.Owner{Shop: s.Shop.Name, Web: s.Shop.Web},
		Files: s.Files,
		Read:  func(p string) ([]byte, error) { return afero.ReadFile(s.parent, path.Join(s.name, p)) },
	}
}

// Destination is where shop.md says that the site goes. A folder is said from where shop.md
// lies.
func Destination(shop *logbook.Shop, dir string) logbook.Destination {
	to := shop.Publish.To
	if to.Folder != "" && !filepath.IsAbs(to.Folder) {
		to.Folder = filepath.Join(dir, to.Folder)
	}
	return to
}

// FarEnd is how shop.md says that the far end is reached, besides what o says already.
func FarEnd(shop *logbook.Shop, o farend.Options) farend.Options {
	given := shop.Publish
	o.KeyFile, o.Fingerprint, o.Region, o.HostStyle, o.Plain = given.Key, given.Fingerprint, given.Region, given.HostStyle, given.Plain
	return o
}

// OpenFolder opens a folder that the site goes to; site is where it stands. The last part
// of its path is made, but for a run that is to change nothing.
func OpenFolder(name, dir, site string, dry bool) (publish.FarEnd, error) {
	if err := output.CheckPlace(dir, name); err != nil {
		return nil, err
	}
	// A path of Windows would be one long name elsewhere.
	if filepath.Separator != '\\' && strings.Contains(name, `\`) {
		return nil, publish.NewFault(nil, "publish.no-own-folder", "dir", name)
	}
	here, err := os.Stat(site)
	if err != nil {
		return nil, err
	}
	for at := filepath.Clean(name); ; at = filepath.Dir(at) {
		if there, err := os.Stat(at); err == nil && os.SameFile(here, there) {
			return nil, publish.NewFault(nil, "publish.onto-itself", "dir", name)
		}
		if filepath.Dir(at) == at {
			break
		}
	}
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) && dry {
		if _, err := os.Stat(filepath.Dir(filepath.Clean(name))); err == nil {
			return farend.Folder(afero.NewMemMapFs(), nil), nil // as empty as it would be
		}
	}
	if err := os.Mkdir(name, 0o755); err != nil && !errors.Is(err, fs.ErrExist) { //nolint:gosec // a site is for all
		if errors.Is(err, fs.ErrNotExist) {
			return nil, publish.NewFault(err, "publish.no-own-folder", "dir", name)
		}
		return nil, err
	}
	disk, err := rooted.Open(name)
	if err != nil {
		return nil, publish.NewFault(err, "publish.cannot-open", "dir", name, "said", err)
	}
	return farend.Folder(disk, disk.Close), nil
}

// Who names this run for another that has to wait for it.
func Who(words *catalog.Catalog) string {
	name, host := "?", "?"
	if u, err := user.Current(); err == nil {
		name = u.Username
	}
	if h, err := os.Hostname(); err == nil {
		host = h
	}
	return words.Say("publish.who", "name", name, "computer", host)
}

// Strangers says what stands at the far end and is not this shop's.
func Strangers(plan *publish.Plan, words *catalog.Catalog) (lines []string) {
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

// Size is a number of bytes as people read it.
func Size(bytes int64, words *catalog.Catalog) string {
	switch {
	case bytes < 1000*1000:
		return words.Say("publish.kilobytes", "n", (bytes+999)/1000)
	case bytes < 100*1000*1000:
		return words.Say("publish.megabytes", "n", fmt.Sprintf("%.1f", float64(bytes)/1e6))
	}
	return words.Say("publish.megabytes", "n", (bytes+500*1000)/(1000*1000))
}

// Left is how long it takes still, by the bytes and the files that are done.
func Left(p publish.Progress, spent time.Duration, words *catalog.Catalog) string {
	// A file costs about as much as so many bytes, whatever is in it.
	const file = 20_000
	done, all := p.Bytes+int64(p.Files)*file, p.OfBytes+int64(p.OfFiles)*file
	if done == 0 || spent < time.Second {
		return words.Say("publish.left-unknown")
	}
	left := time.Duration(float64(spent) * float64(all-done) / float64(done))
	if left < time.Minute {
		return words.Count("publish.seconds", int(left.Seconds())+1)
	}
	return words.Count("publish.minutes", int(left.Minutes())+1)
}
