package logbook

import (
	"slices"
	"strings"
)

// An Aside is a field of a file that means nothing here: one that programs for
// blogs use, in a file that was written for such a one or is still read by it. It
// is left alone, which the mechanic is told.
type Aside struct {
	Place
	Field string
}

// leftAlone are the fields that are left alone, in small letters.
var leftAlone = []string{
	"layout", "tags", "tag", "categories", "category", "slug", "permalink", "aliases", "author", "authors", "description", "excerpt", "image",
	"comments", "published", "draft", "updated", "lastmod", "last_modified_at", "toc", "keywords", "redirect_from",
}

// asides takes note of the fields of a whole file that are left alone. Whether
// something is to be published at all is a different matter: a file that says that
// it is not must not be published, and must not be passed over in silence either.
func (f *form) asides() (left []Aside) {
	for _, name := range f.names() {
		if slices.Contains(f.asked, name) {
			continue // it means something here
		}
		key := strings.ToLower(strings.ReplaceAll(name, "-", "_"))
		if !slices.Contains(leftAlone, key) {
			continue
		}
		f.left = append(f.left, name)
		switch n := f.find(name); {
		case isNull(n): // it says nothing
		case key == "draft", key == "published" && yesNo(n.Value):
			if f.yes(name, key == "published") == (key == "draft") {
				f.report(name, "problem.draft", "field", name)
			}
		default:
			left = append(left, Aside{f.at(name), name})
		}
	}
	return left
}

func yesNo(s string) bool {
	return slices.Contains([]string{"yes", "no", "true", "false"}, strings.ToLower(s))
}
