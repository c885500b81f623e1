package pen

import (
	"regexp"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// longestSlug is how long a file's name may be, past its date, in letters.
const longestSlug = 60

// whole are letters that do not come apart into one of a to z and an accent.
var whole = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "ł", "l", "đ", "d", "ð", "d", "þ", "th", "ı", "i")

// Slug is a text as a file name has it: lower-case letters a to z, digits and
// hyphens, so that it means the same file on every system. Empty where the text
// holds nothing of the kind.
func Slug(s string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(whole.Replace(strings.ToLower(tidy(s)))) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case r == '\'', r == '\u2019', unicode.IsMark(r):
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	slug := strings.Trim(b.String(), "-")
	if len(slug) > longestSlug {
		cut := slug[:longestSlug+1]
		if at := strings.LastIndexByte(cut, '-'); at > 0 {
			cut = cut[:at]
		}
		slug = cut[:min(len(cut), longestSlug)]
	}
	return slug
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

var keyForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`) })

// devices are the names that Windows keeps for itself.
var devices = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`) })

// longestKey keeps the paths of a shop folder short enough for every system.
const longestKey = 60

// GoodKey tells whether a machine's folder can have this name.
func GoodKey(key string) bool {
	return keyForm().MatchString(key) && !devices().MatchString(key) && len(key) <= longestKey
}

// dirOf is a machine's folder in the shop folder.
func dirOf(key string) string { return "machines/" + key }

// photosOf is the folder in it that photos are put into.
func photosOf(key string) string { return dirOf(key) + "/photos" }
