package entry

import "asleft/generator/portable"

// longestSlug is how long a file's name may be, past its date, in letters.
const longestSlug = 60

// Slug is a text as a file name has it; empty where the text holds no letter of
// one.
func Slug(s string) string { return portable.ShortSlug(tidy(s), longestSlug) }

// untitled stands in the file name of an entry whose title has no letter of a
// file name.
const untitled = "entry"

// Stem is an entry's file name without its ending: DATE-slug-of-title.
func (e Entry) Stem() string {
	slug := Slug(e.Title)
	if slug == "" {
		slug = untitled
	}
	if date := Slug(e.Date); date != "" {
		return date + "-" + slug
	}
	return slug
}

// longestKey keeps the paths of a shop folder short enough for every system.
const longestKey = 60

// GoodKey tells whether a machine's folder can have this name.
func GoodKey(key string) bool {
	return portable.IsSlug(key) && !portable.Device(key) && len(key) <= longestKey
}

// dirOf is a machine's folder in the shop folder.
func dirOf(key string) string { return "machines/" + key }

// photosOf is the folder in it that photos are put into.
func photosOf(key string) string { return dirOf(key) + "/photos" }
