package output

import (
	"crypto/sha256"
	"errors"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/afero"
)

// A File is one file of a site that stands, as the manifest has it.
type File struct {
	Path string
	Size int64
	Sum  [sha256.Size]byte
}

// ErrNoSite says that there is no site there, or one that a run did not finish.
var ErrNoSite = errors.New("no whole site stands there")

// Files are the files of a site that this program made, sorted by path. What
// somebody else put into the folder is not among them.
func Files(parent afero.Fs, name string) ([]File, error) {
	m, head, err := readManifest(parent, placesOf(name).manifest)
	if err != nil {
		return nil, err
	}
	if head != manifestHead {
		return nil, ErrNoSite
	}
	files := make([]File, 0, len(m))
	for _, p := range slices.Sorted(maps.Keys(m)) {
		files = append(files, File{p, m[p].size, m[p].sum})
	}
	return files, nil
}

// NamedByContent tells whether a file of the site has its content in its name, so
// that it never changes and may be kept by a browser for ever.
func NamedByContent(p string) bool {
	top, _, below := strings.Cut(p, "/")
	return below && (top == "photos" || top == "assets")
}

// FrontPage is put in place last: all that can be reached is reached from it.
const FrontPage = "index.html"

// Turns is how many there are of them, see Turn.
const Turns = 4

// Turn says when a file is put in place, on this disk or at a far end, where there tells
// whether an older one stands. Whatever another may refer to comes before it: photos and
// assets, which are named by their content; then pages that were not there; then those
// that were, for these are referred to by new and by old ones alike; the front page last.
func Turn(p string, there bool) int {
	switch {
	case NamedByContent(p):
		return 0
	case p == FrontPage:
		return Turns - 1
	case there:
		return 2
	}
	return 1
}
