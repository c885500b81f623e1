package logbook

import (
	"strings"
	"testing"
	"testing/quick"
	"unicode"
)

// plainlyFolded says what a folded text is, in steps that can be followed with a
// finger; Folded and Same go through it letter by letter.
func plainlyFolded(text string) string {
	signs := map[rune]string{'+': "+", '<': "<", '>': ">", '\u00b1': "+", '\u2264': "<", '\u2265': ">", '\u2212': "-"}
	var b strings.Builder
	runes := []rune(text)
	for n, r := range runes {
		alone := n == 0 || n+1 < len(runes) && inWord(runes[n+1]) && (unicode.IsSpace(runes[n-1]) || runes[n-1] == '(')
		switch {
		case signs[r] != "":
			b.WriteString(" " + signs[r] + " ")
		case r == '-' && alone:
			b.WriteString(" - ")
		case inWord(r):
			b.WriteRune(unicode.ToLower(r))
		default:
			b.WriteString(" ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// A sign makes another thing of a name and of a value.
func TestSignsAreWords(t *testing.T) {
	for _, c := range []struct {
		one, other string
		same       bool
	}{
		{"+ cable", "- cable", false},
		{"+ cable", "+cable", true},
		{"\u2212 cable", "-cable", true},
		{"< 1500 rpm", "> 1500 rpm", false},
		{">= 60 s", "\u2265 60 s", true},
		{">= 60 s", "<= 60 s", false},
		{"½ throttle holds", "¼ throttle holds", false},
		{"charge -5 A", "charge 5 A", false},
		{"e-clip", "e clip", true},
		{"front - left", "front, left", true},
		{"\u0915\u093e", "\u0915\u093f", false}, // two vowels of Devanagari
	} {
		if got := Same(c.one, c.other); got != c.same {
			t.Errorf("Same(%q, %q) is %v", c.one, c.other, got)
		}
	}
}

func TestSame(t *testing.T) {
	texts := []string{
		"", " ", "-", "a", "ab", "a b", "Blade brake", "blade-brake", " blade  brake. ", "blade brake 2", "bladebrake",
		"ÉTÉ", "été", "e\u0301te\u0301", "İ", "i", "ß", "SS", "\xff", "a\xffb", "a\u200bb", "½", "Ⅷ", "12", "1 2",
		"+a", "+ a", "a -b", "a-b", "a - b", "- a", "-", "--", "< 1", ">1", "\xff-", "a+b", "a +- b",
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
	letters := []rune("aAbBéÉ\u0301 -.1½\u200b\ufffd+<\u2212(")
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
