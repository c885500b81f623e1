package logbook

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"asleft/generator/portable"
	"asleft/generator/spelling"
)

// An album is the files that a photo's name may mean: those in the photos
// folder, and those beside the entry.
type album struct {
	dir   string            // of the machine; empty for the shop's own
	files map[string]string // names below dir by sameName
	names []string          // the same names, sorted
	known []string          // without photos/
	twins map[string]string // by portable.Fold: names that only some systems tell apart
}

// sameName is one form for a name that systems write in two: one keeps a
// letter and its accent apart, the other joins them.
func sameName(name string) string { return norm.NFC.String(name) }

func (r *reader) album(dir string, beside []fs.FileInfo) *album {
	a := &album{dir: dir, files: map[string]string{}, twins: map[string]string{}}
	a.add("", beside)
	a.add("photos/", r.list(path.Join(dir, "photos")))
	slices.Sort(a.names)
	first := map[string]string{}
	for _, name := range a.names {
		if other, twice := first[portable.Fold(name)]; twice {
			a.twins[portable.Fold(name)] = other
		}
		first[portable.Fold(name)] = name
		a.known = append(a.known, sameFile(name))
	}
	return a
}

func (a *album) add(folder string, infos []fs.FileInfo) {
	for _, i := range infos {
		if i.IsDir() || markdownFile(i) {
			continue
		}
		name := folder + i.Name()
		a.files[sameName(name)] = name
		a.names = append(a.names, name)
	}
}

// photos finds the file of each photo that the machine names.
func (r *reader) photos(m *Machine, dir string, beside []fs.FileInfo) {
	a := r.album(dir, beside)
	r.find(m.Photos, a)
	for _, e := range m.Entries {
		r.find(e.Photos, a)
		r.photoRefs(e)
	}
	m.Unnamed = a.unnamed(m)
}

// unnamed are the files of the photos folder, and the photos beside the entries,
// that nothing in the machine's log names.
func (a *album) unnamed(m *Machine) []string {
	named := map[string]bool{}
	for _, p := range m.Photos {
		named[p.Path] = true
	}
	for _, e := range m.Entries {
		for _, p := range e.Photos {
			named[p.Path] = true
		}
	}
	var all []string
	for _, name := range a.names {
		if file := path.Join(a.dir, name); (strings.HasPrefix(name, "photos/") || PhotoEnding(name)) && !named[file] && !leftBySystem(name) {
			all = append(all, file)
		}
	}
	return all
}

// leftBySystem tells whether a file is what Windows leaves in a folder of photos.
func leftBySystem(name string) bool {
	base := strings.ToLower(path.Base(name))
	return base == "thumbs.db" || base == "desktop.ini"
}

// shopPhotos finds the images of shop.md.
func (r *reader) shopPhotos(shop *Shop) {
	if len(shop.Photos) > 0 {
		r.find(shop.Photos, r.album("", r.list(".")))
	}
}

func (r *reader) find(photos []Photo, a *album) {
	for i := range photos {
		p := &photos[i]
		if name, ok := a.file(p.File); ok {
			p.Path = path.Join(a.dir, name)
			r.twin(p, name, a)
		} else {
			r.noPhoto(p, a)
		}
	}
}

// twin reports a photo whose name some system takes for that of another file.
func (r *reader) twin(p *Photo, name string, a *album) {
	if other, ok := a.twins[portable.Fold(name)]; ok {
		at := p.Place
		if p.Listed {
			at = at.In("file")
		}
		if other == name {
			for _, n := range a.names {
				if n != name && portable.Fold(n) == portable.Fold(name) {
					other = n
				}
			}
		}
		r.report(at, "problem.names-alike", "read", p.File, "there", sameFile(other))
	}
}

// file is the file that a photo's name means; the photos folder comes first.
func (a *album) file(named string) (string, bool) {
	for _, name := range []string{"photos/" + named, named} {
		if file, ok := a.files[sameName(name)]; ok {
			return file, true
		}
	}
	return "", false
}

func (r *reader) noPhoto(p *Photo, a *album) {
	at := p.Place
	if p.Listed {
		at = at.In("file")
	}
	for _, name := range a.names {
		if strings.EqualFold(sameFile(name), sameFile(p.File)) {
			r.report(at, "problem.photo-case", "read", p.File, "there", sameFile(name))
			return
		}
	}
	if near := nearPhoto(p.File, a.known); near != "" {
		r.report(at, "problem.photo-missing-near", "read", p.File, "near", near)
	} else {
		r.report(at, "problem.photo-missing", "read", p.File, "folder", path.Join(a.dir, "photos"))
	}
}

// nearPhoto is the photo that a name most likely means, or "" where none is sure
// to be it: the same name with another ending, other spaces or another slip of the
// finger in its letters. Digits have to be the same, for a camera's numbers are
// different pictures, and a wrong photo beside a sentence is worse than none.
func nearPhoto(name string, known []string) string {
	letters, digits := photoName(name)
	best, most := "", 1+min(2, len([]rune(letters))/4)
	for _, k := range known {
		if !PhotoEnding(k) {
			continue
		}
		l, d := photoName(k)
		if d != digits {
			continue
		}
		if n := spelling.Slips(letters, l); n < most {
			best, most = k, n
		}
	}
	return best
}

// photoName is a photo's name without its ending and what stands between words: its
// letters in small, and its numbers.
func photoName(name string) (letters, digits string) {
	name = sameFile(sameName(name))
	if ending := path.Ext(name); len(ending) <= len(".jpeg") {
		name = strings.TrimSuffix(name, ending)
	}
	letters = strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return -1
		}
		return r
	}, joined(name))
	return letters, strings.Join(strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsDigit(r) }), " ")
}

// photoRefs holds the photos that defects and repairs point to against the
// entry's own.
func (r *reader) photoRefs(e *Entry) {
	own := map[string]bool{}
	for _, p := range e.Photos {
		own[sameFile(p.File)] = true
	}
	check := func(at Place, file string) {
		if file != "" && !own[sameFile(file)] {
			r.report(at.In("photo"), "problem.photo-not-listed", "read", file)
		}
	}
	for _, d := range e.Defects {
		check(d.Place, d.Photo)
	}
	for _, d := range e.Repaired {
		check(d.Place, d.Photo)
	}
	for _, d := range e.WorkedAround {
		check(d.Place, d.Photo)
	}
}
