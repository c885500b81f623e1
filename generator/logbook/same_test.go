package logbook

import (
	"strings"
	"testing"
	"testing/quick"
	"unicode"
)

// plainlyFolded says what a folded text is in the standard library's own steps;
// Folded and Same go through it letter by letter.
func plainlyFolded(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r)
	}), " ")
}

func TestSame(t *testing.T) {
	texts := []string{
		"", " ", "-", "a", "ab", "a b", "Blade brake", "blade-brake", " blade  brake. ", "blade brake 2", "bladebrake",
		"ÉTÉ", "été", "e\u0301te\u0301", "İ", "i", "ß", "SS", "\xff", "a\xffb", "a\u200bb", "½", "Ⅷ", "12", "1 2",
	}
	for _, one := range texts {
		for _, other := range texts {
			if got, want := Same(one, other), plainlyFolded(one) == plainlyFolded(other); got != want {
				t.Errorf("Same(%q, %q) is %v, want %v", one, other, got, want)
			}
		}
	}
}

func TestFolded(t *testing.T) {
	// Words out of few letters, so that gaps, cases and repeats meet often.
	letters := []rune("aAbBéÉ\u0301 -.1½\u200b\ufffd")
	err := quick.Check(func(picks []uint8) bool {
		var b strings.Builder
		for _, p := range picks {
			b.WriteRune(letters[int(p)%len(letters)])
		}
		return Folded(b.String()) == plainlyFolded(b.String())
	}, &quick.Config{MaxCount: 5000})
	if err != nil {
		t.Error(err)
	}
}
