package logbook

import (
	"cmp"
	"errors"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"sync"

	"github.com/spf13/afero"
	"golang.org/x/sync/errgroup"

	"asleft/generator/catalog"
	"asleft/generator/portable"
)

// ErrNoShop says that the folder holds no shop.md.
var ErrNoShop = errors.New("no shop.md in this folder")

// Options are what reading a shop folder depends on besides the folder.
type Options struct {
	// Today is the day after which a date is in the future; empty: any date goes.
	Today Date
	// Words is the catalog that problems are told in; nil means English.
	Words *catalog.Catalog
	// Only are the keys of the machines to read; nil for all. Of the others only
	// the names are told, which Names has to give, by key.
	Only  map[string]bool
	Names map[string]string
	// LeaveBodies has the text of the entries left in their files: in a large
	// shop it is a third of all that there is to remember.
	LeaveBodies bool
}

// Read reads a shop folder whole. The problems are all that a person can mend
// in the files, sorted; the facts of a file with problems are as many as could
// be read. The error is what no editing mends: no shop.md (ErrNoShop), or
// files that the system would not let be read, all of them named.
func Read(folder afero.Fs, o Options) (*Shop, []Problem, error) {
	if o.Words == nil {
		o.Words = catalog.English
	}
	r := &reader{
		fs:     folder,
		rules:  rules{words: o.Words, today: o.Today, digits: -1, systems: Systems, leave: o.LeaveBodies},
		unread: map[string]bool{},
	}
	r.finder = &finder{rules: &r.rules, fs: folder}
	var shop *Shop
	if !r.read("shop.md", nil, func(s *source, data []byte) { shop = readShop(s, data) }) {
		if len(r.faults) > 0 && !errors.Is(r.faults[0], fs.ErrNotExist) {
			return nil, nil, r.faults[0]
		}
		return nil, nil, ErrNoShop
	}
	shop.Sheets = r.sheets()
	shop.Machines = r.machines(o.Only)
	shop.Hidden = slices.Concat(r.hiddenIn("machines"), r.hiddenIn("sheets"))
	shop.name(o.Names)
	r.resolve(shop)
	shop.finder = r.finder
	slices.SortFunc(r.faults, func(a, b error) int { return cmp.Compare(a.Error(), b.Error()) })
	return shop, Sort(r.problems), errors.Join(r.faults...)
}

// A reader is one reading of one folder.
type reader struct {
	fs      afero.Fs
	rules   rules
	finder  *finder
	folders []string // the keys of all folders of machines, read or not

	mu       sync.Mutex
	problems []Problem
	faults   []error
	hidden   []string        // files of which only a dot in front keeps the reader away
	unread   map[string]bool // files whose front matter could not be read
}

func (r *reader) keep(s *source) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.problems = append(r.problems, s.problems...)
	if s.unread {
		r.unread[s.path] = true
	}
}

// report notes a problem that shows only when the files are held against each
// other.
func (r *reader) report(at Place, key string, pairs ...any) {
	p := r.rules.problem(at.on(r.finder), key, pairs...)
	r.mu.Lock()
	defer r.mu.Unlock()
	r.problems = append(r.problems, p)
}

func (r *reader) fault(err error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.faults = append(r.faults, err)
}

// machines reads the folders below machines/, several at a time: all of them,
// or only those.
func (r *reader) machines(only map[string]bool) []*Machine {
	var keys []string
	infos := r.list("machines")
	r.stray("machines", infos)
	for _, i := range infos {
		at := Place{File: "machines/" + i.Name()}
		switch {
		case !i.IsDir() && !i.Mode().IsRegular(): // a link is not followed; its machine must not just be missing
			r.report(at, "problem.not-a-folder")
		case !i.IsDir():
			if markdownFile(i) {
				r.report(at, "problem.stray-file")
			}
		case !portable.IsSlug(i.Name()) || portable.Device(i.Name()):
			r.report(at, "problem.machine-key", "read", i.Name())
		default:
			keys = append(keys, i.Name())
		}
	}
	r.folders = keys
	if only != nil {
		keys = slices.DeleteFunc(slices.Clone(keys), func(key string) bool { return !only[key] })
	}
	machines := make([]*Machine, len(keys))
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for n, key := range keys {
		work.Go(func() error {
			machines[n] = r.machine(key)
			return nil
		})
	}
	_ = work.Wait() // what goes wrong is among the problems and the faults
	machines = slices.DeleteFunc(machines, func(m *Machine) bool { return m == nil })
	slices.SortFunc(machines, func(a, b *Machine) int { return cmp.Compare(a.Key, b.Key) })
	return machines
}

func (r *reader) machine(key string) *Machine {
	dir := "machines/" + key
	infos := r.list(dir)
	if infos == nil {
		return nil
	}
	r.stray(dir, infos)
	r.names(dir, infos)
	r.tooDeep(dir, infos)
	own := slices.IndexFunc(infos, func(i fs.FileInfo) bool { return i.Name() == "machine.md" })
	if own < 0 {
		r.report(Place{File: dir}, "problem.no-machine-md")
		return nil
	}
	var m *Machine
	if !r.read(dir+"/machine.md", infos[own], func(s *source, data []byte) { m = readMachine(s, key, data) }) {
		return nil
	}
	for _, i := range infos {
		name := dir + "/" + i.Name()
		if !markdownFile(i) || i.Name() == "machine.md" {
			continue
		}
		r.read(name, i, func(s *source, data []byte) { m.Entries = append(m.Entries, readEntry(s, m, data)) })
	}
	slices.SortFunc(m.Entries, func(a, b *Entry) int {
		return cmp.Or(a.Date.Compare(b.Date), cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.File, b.File))
	})
	r.photos(m, dir, infos)
	m.Hidden = r.hiddenIn(dir)
	return m
}

// tooDeep reports the entries that lie in a folder of their own, where nobody
// reads them.
func (r *reader) tooDeep(dir string, infos []fs.FileInfo) {
	for _, i := range infos {
		if !i.IsDir() {
			continue
		}
		for _, inner := range r.list(dir + "/" + i.Name()) {
			if markdownFile(inner) {
				r.report(Place{File: path.Join(dir, i.Name(), inner.Name())}, "problem.file-too-deep")
			}
		}
	}
}
