package catalog

import (
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
)

func TestSayFillsEachPlaceOnce(t *testing.T) {
	c := &Catalog{Form: English.Form, Sentences: map[string]string{
		"a": "{x} before {y}, {x} after", "b.one": "{n} part", "b.other": "{n} parts", "open": "a { brace",
	}}
	for _, tc := range []struct{ got, want string }{
		{c.Say("a", "x", 1, "y", "two"), "1 before two, 1 after"},
		{c.Say("a", "x", "{y}", "y", "z"), "{y} before z, {y} after"}, // a value is never a place
		{c.Say("a", "x", "only"), "only before {y}, only after"},
		{c.Say("open"), "a { brace"},
		{c.Say("nowhere"), "[nowhere]"},
		{c.Count("b", 1), "1 part"},
		{c.Count("b", 0), "0 parts"},
	} {
		if tc.got != tc.want {
			t.Errorf("got %q, want %q", tc.got, tc.want)
		}
	}
}

// Long dates as CLDR writes them in these locales (from memory).
func TestDatesOfRegions(t *testing.T) {
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	for tag, want := range map[string]string{
		"en-US": "March 2, 2026", "en-CA": "March 2, 2026", "en": "March 2, 2026",
		"en-GB": "2 March 2026", "en-AU": "2 March 2026", "de-CH": "2 March 2026",
	} {
		if got := English.In(tag).Date(day); got != want {
			t.Errorf("%s: %q, want %q", tag, got, want)
		}
	}
	if got := English.Date(day); got != "March 2, 2026" {
		t.Errorf("by itself: %q", got)
	}
}

func TestNoKeyStandsInTwoFiles(t *testing.T) {
	seen := 0
	for _, part := range englishParts {
		seen += len(part)
	}
	if seen != len(English.Sentences) {
		t.Errorf("%d sentences in the files, %d in the catalog: a key stands in two of them", seen, len(English.Sentences))
	}
}

var keyForm = regexp.MustCompile(`"([a-z0-9]+(?:[.-][a-z0-9-]+)*\.[a-z0-9-]+)"`)

// leadForm is the beginning of keys that the sources put together with where
// something stands, such as "defect." and a standing.
var leadForm = regexp.MustCompile(`"((?:[a-z]+[.-])+)" ?\+`)
var sayForm = regexp.MustCompile(`say "([a-z0-9.-]+)"`)

// used are the keys written out in the program's sources and themes.
func used(t *testing.T) map[string]bool {
	t.Helper()
	keys := map[string]bool{}
	files := 0
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." && d.Name() != "../.." || d.Name() == "testdata" || d.Name() == "content-example" || d.Name() == "site") {
			return filepath.SkipDir
		}
		form := keyForm
		switch {
		case strings.HasSuffix(path, ".html"):
			form = sayForm
		case !strings.HasSuffix(path, ".go"), strings.HasSuffix(path, "_test.go"), strings.Contains(filepath.ToSlash(path), "catalog/en_"):
			return nil
		}
		files++
		text, err := os.ReadFile(path)
		for _, m := range form.FindAllStringSubmatch(string(text), -1) {
			keys[m[1]] = true
		}
		for _, m := range leadForm.FindAllStringSubmatch(string(text), -1) {
			keys[m[1]] = true
		}
		return err
	})
	if err != nil || files < 20 {
		t.Fatalf("walking the sources: %d files, %v", files, err)
	}
	return keys
}

// computed are the keys that the sources do not write out: those with a plural
// form or a way to mend, and the months.
func (c *Catalog) base(key string) string {
	for _, end := range []string{".one", ".other", ".mend", "-day-first", "-near", "-same"} {
		if strings.HasSuffix(key, end) {
			return strings.TrimSuffix(key, end)
		}
	}
	return key
}

func TestEverySentenceIsUsed(t *testing.T) {
	keys := used(t)
	for _, key := range English.Keys() {
		if !keys[key] && !keys[English.base(key)] && !keys[English.base(English.base(key))] && !strings.HasPrefix(key, "month.") && !led(keys, key) {
			t.Errorf("nothing says %q", key)
		}
	}
}

// led tells whether the sources put a key together from one of its beginnings.
func led(keys map[string]bool, key string) bool {
	for i := range key {
		if (key[i] == '.' || key[i] == '-') && keys[key[:i+1]] {
			return true
		}
	}
	return false
}

func TestEveryKeyInUseIsThere(t *testing.T) {
	prefixes := map[string]bool{}
	for _, key := range English.Keys() {
		first, _, _ := strings.Cut(key, ".")
		prefixes[first] = true
	}
	for key := range used(t) {
		first, _, _ := strings.Cut(key, ".")
		if !prefixes[first] || strings.HasSuffix(key, ".") || strings.HasSuffix(key, "-") || strings.HasSuffix(key, ".md") || strings.HasSuffix(key, ".html") || strings.HasSuffix(key, ".css") || strings.HasSuffix(key, ".js") || strings.HasSuffix(key, ".json") {
			continue
		}
		if !English.Has(key) && !English.Has(key+".one") {
			t.Errorf("the catalog has no %q", key)
		}
	}
	for _, key := range English.Keys() {
		if strings.HasSuffix(key, ".one") && !English.Has(strings.TrimSuffix(key, ".one")+".other") {
			t.Errorf("%q has no .other", key)
		}
		if strings.HasPrefix(key, "problem.") && !strings.HasSuffix(key, ".mend") && !English.Has(key+".mend") {
			t.Errorf("%q does not say how to mend it", key)
		}
	}
}

// praise is what the program never says of a machine by itself.
var praise = []string{"excellent", "great", "perfect", "pristine", "flawless", "superb", "runs good", "runs well", "like new", "mint", "reliable", "trusty", "quality", "beautiful", "amazing", "best"}

func TestNoPraise(t *testing.T) {
	for _, key := range English.Keys() {
		text := strings.ToLower(English.Sentences[key])
		for _, word := range praise {
			if regexp.MustCompile(`\b` + word + `\b`).MatchString(text) {
				t.Errorf("%s praises (%q): %s", key, word, text)
			}
		}
	}
}

// The Flesch-Kincaid grade is 0.39 (words/sentences) + 11.8 (syllables/words)
// - 15.59 (Kincaid and others, Derivation of New Readability Formulas, Naval
// Technical Training Command Research Branch Report 8-75, 1975).
func grade(words, sentences, syllables float64) float64 {
	return 0.39*words/sentences + 11.8*syllables/words - 15.59
}

// The published values that the formula is held against: a sentence of 13
// words and 24 syllables is grade 11.3; a book of 5.7 words a sentence and
// 1.02 syllables a word is grade -1.3; one word of one syllable is -3.40.
func TestGradeAgainstPublishedValues(t *testing.T) {
	for _, tc := range []struct{ words, sentences, syllables, want, within float64 }{
		{13, 1, 24, 11.3, 0.05},
		{570, 100, 581.4, -1.3, 0.05},
		{1, 1, 1, -3.40, 0.001},
	} {
		if got := grade(tc.words, tc.sentences, tc.syllables); math.Abs(got-tc.want) > tc.within {
			t.Errorf("grade of %v words, %v sentences, %v syllables: got %.3f, want %.2f", tc.words, tc.sentences, tc.syllables, got, tc.want)
		}
	}
}

// syllables counts the groups of vowels, less a silent e at the end.
func syllables(word string) float64 {
	word = strings.ToLower(word)
	n, last := 0, false
	for _, r := range word {
		vowel := strings.ContainsRune("aeiouy", r)
		if vowel && !last {
			n++
		}
		last = vowel
	}
	if strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") && n > 1 {
		n--
	}
	if strings.HasSuffix(word, "ed") && n > 1 && !strings.HasSuffix(word, "ted") && !strings.HasSuffix(word, "ded") {
		n--
	}
	return float64(max(n, 1))
}

// graded is the grade of a text of the catalog, each place taken for a short
// word.
func graded(text string) float64 {
	text = regexp.MustCompile(`\{[^}]*\}`).ReplaceAllString(text, "part")
	var words, sentences, sounds float64
	for _, sentence := range regexp.MustCompile(`[.!?:;]+(\s|$)`).Split(text, -1) {
		fields := strings.FieldsFunc(sentence, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && !unicode.IsDigit(r) })
		if len(fields) == 0 {
			continue
		}
		sentences++
		for _, f := range fields {
			words++
			sounds += syllables(f)
		}
	}
	if words == 0 {
		return 0
	}
	return grade(words, sentences, sounds)
}

func TestSentencesForReadersAreAtGrade8OrBelow(t *testing.T) {
	checked := 0
	for _, key := range English.Keys() {
		text := English.Sentences[key]
		// Labels and names are no sentences; what a mechanic is told about his
		// files has words in it that no shorter ones can stand for.
		if !strings.ContainsAny(text, ".?!") || strings.HasPrefix(key, "problem.") || strings.HasPrefix(key, "gap.") || strings.HasPrefix(key, "help.") || strings.HasPrefix(key, "command.") {
			continue
		}
		checked++
		if g := graded(text); g > 8 {
			t.Errorf("%s is at grade %.1f: %s", key, g, text)
		}
	}
	if checked < 60 {
		t.Fatalf("only %d sentences were graded", checked)
	}
}

func TestGlossary(t *testing.T) {
	terms, err := Words()
	if err != nil || len(terms) < 60 {
		t.Fatalf("%d terms, %v", len(terms), err)
	}
	forms := map[string]string{}
	for _, term := range terms {
		for _, f := range append([]string{term.Term}, term.Also...) {
			if other := forms[strings.ToLower(f)]; other != "" {
				t.Errorf("%q stands for %q and %q", f, other, term.Term)
			}
			forms[strings.ToLower(f)] = term.Term
		}
		if g := graded(term.Means); g > 8 {
			t.Errorf("%s is at grade %.1f: %s", term.Term, g, term.Means)
		}
	}
	sorted := slices.IsSortedFunc(terms, func(a, b Term) int {
		return strings.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term))
	})
	if !sorted {
		t.Error("the terms are not in the order of the alphabet")
	}
}

// A value that runs from right to left is kept apart from the sentence (Unicode
// Standard Annex 9: X5c and X6a, FSI and PDI), any other stays as it is, and no
// value can end the isolate that it stands in.
func TestRightToLeftValuesAreIsolated(t *testing.T) {
	c := &Catalog{Sentences: map[string]string{"a": "{x}: 12 V"}}
	for value, want := range map[string]string{
		"belt ± 5 “x” \U0001f527":  "belt ± 5 “x” \U0001f527: 12 V",
		"\u05d0\u05d1":             "\u2068\u05d0\u05d1\u2069: 12 V",
		"belt \u0627":              "\u2068belt \u0627\u2069: 12 V",
		"belt\u200f":               "\u2068belt\u200f\u2069: 12 V",
		"belt\u061c":               "\u2068belt\u061c\u2069: 12 V",
		"\u0665":                   "\u2068\u0665\u2069: 12 V",
		"\u2068\u05d0\u2069, belt": "\u2068\u2068\u05d0\u2069, belt\u2069: 12 V",
		"a\u2069\u05d0":            "\u2068a\ufffd\u05d0\u2069: 12 V",
		"a\u2069\u05d0\u2068":      "\u2068a\ufffd\u05d0\ufffd\u2069: 12 V",
		"a\u2067":                  "a\ufffd: 12 V",
	} {
		if got := c.Say("a", "x", value); got != want {
			t.Errorf("%q: %q, want %q", value, got, want)
		} else if !Balanced(got) {
			t.Errorf("%q is not balanced", got)
		}
	}
}
