// Package portable says which names mean the same file on every system. A shop
// folder and a site are copied between Linux, Windows, a Mac and whatever a web
// host runs: a name that one of them refuses, or that two files share there, is
// work lost on the way.
//
// Device tells a name that Windows keeps for itself, Fold brings together the
// names that some system takes for one, Slug makes a name of any text, and
// IsSlug tells what can be the name of a machine's folder.
package portable

import (
	"regexp"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Device tells whether Windows takes a name, whatever its ending, for a device.
// The names are those of Microsoft's "Naming Files, Paths, and Namespaces"; that
// spaces before the ending do not count, and CONIN$ and CONOUT$, are from memory.
func Device(name string) bool {
	stem, _, _ := strings.Cut(name, ".")
	stem = strings.ToUpper(strings.TrimSpace(stem))
	switch stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	number, ok := strings.CutPrefix(stem, "COM")
	if !ok {
		number, ok = strings.CutPrefix(stem, "LPT")
	}
	return ok && len([]rune(number)) == 1 && strings.Contains("0123456789¹²³", number)
}

// Fold is what two names have in common that Windows or a Mac would take for the
// same: case does not count, nor how an accented letter is put together.
func Fold(name string) string {
	for i := range len(name) {
		if name[i] >= 0x80 {
			return norm.NFC.String(strings.Map(firstOfCase, norm.NFC.String(name)))
		}
	}
	return strings.ToLower(name)
}

// firstOfCase is the same rune for all that differ only in case.
func firstOfCase(r rune) rune {
	first := r
	for other := unicode.SimpleFold(r); other != r; other = unicode.SimpleFold(other) {
		first = min(first, other)
	}
	return unicode.ToLower(first)
}

// undivided are letters that do not come apart into one of a to z and an accent.
var undivided = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "ł", "l", "đ", "d", "ð", "d", "þ", "th", "ı", "i")

// Slug is a text as a name has it: small letters a to z, digits, and one hyphen
// between words. It is empty where the text holds nothing of the kind, and as long
// as the text is. What it makes of "CON" is a device still: see Device.
func Slug(text string) string {
	var b strings.Builder
	apart := false
	for _, r := range norm.NFKD.String(undivided.Replace(strings.ToLower(text))) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			if apart && b.Len() > 0 {
				b.WriteByte('-')
			}
			apart = false
			b.WriteRune(r)
		case r != '\'' && r != '\u2019' && !unicode.IsMark(r):
			apart = true
		}
	}
	return b.String()
}

// ShortSlug is a Slug of that length at most, cut between two words where it can be.
func ShortSlug(text string, longest int) string {
	slug := Slug(text)
	if len(slug) <= longest {
		return slug
	}
	if at := strings.LastIndexByte(slug[:longest+1], '-'); at > 0 {
		return slug[:at]
	}
	return slug[:longest]
}

var slugForm = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`) })

// IsSlug tells whether a name has the form that Slug gives.
func IsSlug(name string) bool { return slugForm().MatchString(name) }
