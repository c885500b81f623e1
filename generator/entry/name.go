package entry

import (
	"fmt"
	"strings"

	"asleft/generator/frontmatter/yamlvalue"
	"asleft/generator/portable"
)

// longestSlug is how long a file's name may be, past its date, in letters.
const longestSlug = 60

// Slug is a text as a file name has it; empty where the text holds no letter of
// one.
func Slug(s string) string { return portable.ShortSlug(yamlvalue.Tidy(s), longestSlug) }

// keyWords is how many words a key has: a person types it again.
const keyWords = 4

// FreeKey is a key for a defect or a change, made of the first words of what it
// is, that none of the machine has yet; otherwise is for a text without a letter
// of one.
func FreeKey(what, otherwise string, taken func(key string) bool) string {
	words := strings.Split(Slug(what), "-")
	base := strings.Join(words[:min(len(words), keyWords)], "-")
	if base == "" {
		base = otherwise
	}
	key := base
	for n := 2; taken(key); n++ {
		key = fmt.Sprintf("%s-%d", base, n)
	}
	return key
}

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
