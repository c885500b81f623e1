package logbook

import (
	"slices"
	"strings"
)

// leftAlone are fields that mean nothing here, in small letters: those that
// programs for blogs use, in a file that was written for such a one or is still read
// by it. They are left alone, which the mechanic is told.
var leftAlone = []string{
	"layout", "tags", "tag", "categories", "category", "slug", "permalink", "aliases", "author", "authors", "description", "excerpt", "image",
	"comments", "published", "draft", "updated", "lastmod", "last_modified_at", "toc", "keywords", "redirect_from",
}

// asides takes note of the fields of a whole file that are left alone. Whether
// something is to be published at all is a different matter: a file that says that
// it is not must not be published, and must not be passed over in silence either.
func (f *mapping) asides() (left []Place) {
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
				f.report(name, "problem.draft")
			}
		default:
			left = append(left, f.at(name))
		}
	}
	return left
}

func yesNo(s string) bool {
	return slices.Contains([]string{"yes", "no", "true", "false"}, strings.ToLower(s))
}
