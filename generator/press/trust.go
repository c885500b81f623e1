package press

import (
	"io/fs"
	"time"

	"asleft/generator/rooted"
	"asleft/generator/sight"
)

// Trust tells the run that the present site, as that sight shows it, is file
// for file what an earlier run left there: what is to stay need not be read to
// make sure. Call it before the first Put.
func (r *Run) Trust(site sight.Sight) {
	r.trusted = map[string]rooted.Mark{}
	for _, m := range site.Marks() {
		if m.Mode.IsRegular() {
			r.trusted[m.Path] = m
		}
	}
}

// trusts says when a trusted file of that size was written.
func (r *Run) trusts(p string, size int64) (written time.Time, ok bool) {
	m, ok := r.trusted[p]
	return writtenAt(m), ok && m.Size == size
}

// Left tells, after Finish, whether a sight of the site shows every file as the
// run left it, with the time it was written at, and none missing.
func (r *Run) Left(site sight.Sight) bool {
	r.use.Lock()
	defer r.use.Unlock()
	there := 0
	for _, m := range site.Marks() {
		f, ours := r.files[m.Path]
		if !ours {
			continue
		}
		if m.Mode&fs.ModeType != 0 || m.Size != f.size || m.Written != f.written.UnixNano() {
			return false
		}
		there++
	}
	return there == len(r.files)
}
